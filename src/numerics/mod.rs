//! Numerical tools in plain `f64` that know nothing of air or engines.
//!
//! | module | what it does |
//! | --- | --- |
//! | [`monotone_cubic`] | a curve through measured points that never overshoots them |
//! | [`lu`] | small dense systems of linear equations, solved in place |
//! | [`bessel`] | modified Bessel functions of orders 0 and 1 |
//! | [`cholesky`] | factors of symmetric positive definite matrices |
//! | [`chains`] | whether chains of draws agree, and how many independent draws they are worth |
//! | [`contour`] | lines of equal value over a grid |
//! | [`dual`] | numbers that carry their slopes along |
//! | [`root`] | the zero of one function inside a bracket |
//! | [`normal`] | the normal distribution and its quantiles |
//! | [`two_piece`] | a value with a band that may be wider on one side |
//! | [`sobol`] | points that fill a cube evenly, in independent scrambles |
//! | [`sobol_shares`] | which input a result's variance comes from |
//! | [`quantiles`] | quantiles of many numbers in bounded memory |
//! | [`smooth`] | the one place where laws are made smooth near zero flow |

pub mod bessel;
pub mod chains;
pub mod cholesky;
pub mod conditional;
pub mod constrained;
pub mod contour;
pub mod dual;
pub mod lu;
pub mod monotone_cubic;
pub mod normal;
pub mod quadratic;
pub mod quantiles;
pub mod root;
pub mod smooth;
pub mod sobol;
pub mod sobol_shares;
pub mod two_piece;
