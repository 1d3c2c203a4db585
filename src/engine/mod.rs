//! The engine: power, fuel, where the heat goes, and the air it breathes.

pub mod power;
pub mod running;
pub mod tables;

pub use power::Power;
pub use running::{Engine, Running};
