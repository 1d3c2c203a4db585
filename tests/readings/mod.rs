//! The readings file: what it says, what it is refused for, and that a blank one reads back.

mod faults;
mod file;
pub mod slips;
pub mod support;
