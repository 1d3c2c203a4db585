//! What a builder asks: check, sweep, size.

pub mod check;
pub mod describe;
pub mod model;
pub mod operation;
pub mod result;

pub use model::Model;
pub use operation::{Gearing, Operation, Runner};
