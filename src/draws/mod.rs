//! One car after another, every guess drawn from its band.
//!
//! A band holds 9 in 10, whether the file states it or a default brings it: a normal distribution on each side of
//! the value taken ([`crate::numerics::two_piece`]), cut at what the number can be. One draw is one car, which all
//! conditions see.
//!
//! | module | what it gives |
//! | --- | --- |
//! | [`guesses`] | what is drawn: numbers with bands, defaults that share one draw, ties |
//! | [`joint`] | what readings left of the guesses together |
//! | [`rules`] | what a draw may not break: limits between numbers, the heat of the fuel |
//! | [`car`] | a model changed in place for a draw |
//! | [`lanes`] | what each of many cars says |
//! | [`tally`] | many cars, counted until the ends of the bands stand still |
//! | [`doubt`] | what the count says, as a result shows it |

pub mod car;
pub mod doubt;
pub mod guesses;
pub mod joint;
pub mod lanes;
mod lean;
mod plan;
pub mod rules;
pub mod scramble;
pub mod tally;

pub use car::Car;
pub use guesses::{Guess, Guesses};
pub use tally::{TallyWanted, draws};
