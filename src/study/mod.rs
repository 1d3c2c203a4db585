//! What a builder asks: estimate, check, sweep, size, lap, compare, exits; everything at once.

pub mod advice;
pub mod budget;
pub mod changes;
pub mod check;
pub mod compare;
pub mod deciding;
pub mod describe;
pub mod doubt;
pub mod estimate;
pub mod everything;
pub mod everywhere;
pub mod exits;
mod joints;
pub mod lap;
pub mod look;
pub mod model;

pub mod offers;
pub mod opening;
pub mod openings;
pub mod operation;
pub mod ram_over_fan;
pub mod result;
mod shut_in;
pub mod size;
pub mod stand_off;
pub mod steps;
pub mod sudden;
pub mod summary;
pub mod sweep;
pub mod templates;
pub mod unwritten;
pub mod warnings;
pub mod way;
pub mod why;

pub use model::Model;
pub use operation::{Gearing, Operation, Runner};
