//! Readings of a real car: what could be read, what an instrument shows in a solved car, and the file of what was read.
//!
//! | module | what it gives |
//! | --- | --- |
//! | `operator` | what an instrument without fault shows in a solved car |
//! | `offered`, `drives` | what could be read, and when; what a drive or a blower itself is not sure of |
//! | `errors` | what a reading may be off by: its own, what it shares with others, the model |
//! | `expected` | where a reading is to be expected before it is taken |
//! | `tables` | the tables of keys of the readings file |
//! | `file` | the file read: tests, instruments, readings, each fault with its place |
//! | `blower` | what a blower on the bench gives |
//! | `leaks` | leaks on the bench: two pressures with everything taped |
//! | `runs` | its tests in time: a stint, or a recorded run |
//! | `taken` | what it holds then |
//! | `blank` | the file before anything is read, from a list of what is to be read |

pub mod blank;
mod blower;
pub(crate) mod drives;
pub mod errors;
pub mod expected;
pub mod file;
pub mod leaks;
pub(crate) mod offered;
pub mod operator;
mod runs;
mod scenes;
pub mod schema;
mod shown;
pub mod tables;
pub mod taken;
mod target;

pub use operator::{GaugeEnd, Quantity, Reading};
