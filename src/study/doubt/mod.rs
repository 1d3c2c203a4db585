//! Doubt: what the answer would be with every guess drawn from its band.
//!
//! A band holds 9 in 10, whether the file states it or a default brings it: a normal distribution on each side of
//! the value taken ([`crate::numerics::two_piece`]), cut at what the number can be. One draw is one car, which all
//! conditions see.

pub mod car;
pub mod guesses;
mod plan;
pub mod rules;

pub use car::Car;
pub use guesses::{Guess, Guesses};
