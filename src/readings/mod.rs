//! Readings of a real car.
pub mod blank;
pub(crate) mod offered;
pub mod operator;
pub use operator::{Leg, Reading, What};
