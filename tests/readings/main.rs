//! The readings file: what it says, what it is refused for, and that a blank one reads back.

mod faults;
mod file;
mod slips;
mod support;
