//! Numerical tools in plain `f64` that know nothing of air or engines.
//!
//! | module | what it does |
//! | --- | --- |
//! | [`monotone_cubic`] | a curve through measured points that never overshoots them |
//! | [`lu`] | small dense systems of linear equations, solved in place |
//! | [`bessel`] | modified Bessel functions of orders 0 and 1 |
//! | [`contour`] | lines of equal value over a grid |
//! | [`dual`] | numbers that carry their slopes along |
//! | [`root`] | the zero of one function inside a bracket |
//! | [`smooth`] | the one place where laws are made smooth near zero flow |

pub mod bessel;
pub mod constrained;
pub mod contour;
pub mod dual;
pub mod lu;
pub mod monotone_cubic;
pub mod quadratic;
pub mod root;
pub mod smooth;
