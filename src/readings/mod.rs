//! Readings of a real car: what could be read, what an instrument shows in a solved car, and the file of what was read.
//!
//! | module | what it gives |
//! | --- | --- |
//! | `operator` | what an instrument without fault shows in a solved car |
//! | `offered` | what could be read, and when |
//! | `tables` | the tables of keys of the readings file |
//! | `file` | the file read: tests, instruments, readings, each fault with its place |
//! | `taken` | what it holds then |
//! | `blank` | the file before anything is read, from a list of what is to be read |

pub mod blank;
pub mod file;
pub(crate) mod offered;
pub mod operator;
mod scenes;
mod shown;
pub mod tables;
pub mod taken;
mod target;

pub use operator::{GaugeEnd, Quantity, Reading};
