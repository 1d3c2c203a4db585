//! Cars of any make: one to three chambers joined in any way, any element anywhere, parts with and
//! without cooling, from standing with the engine off to far too fast.

mod alike;
mod cars;
mod closes;
mod rest;
mod starts;
mod support;
