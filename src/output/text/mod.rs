//! A result as text for the terminal: the verdict first, then tables, then what it rests on.
//!
//! Each function gives a text with ANSI styling, at most [`layout::WIDTH`] columns wide; whoever
//! prints it takes the styling away where it is not wanted. Nothing is said by colour alone.
//! Temperatures come first and percentages second; kelvins, square centimetres and millimetres
//! are whole.

pub(in crate::output) use crate::case::words as address;
mod air;
mod asked;
pub(super) mod between;
pub(super) mod beyond;
pub(super) mod changes;
mod check;
mod columns;
pub(crate) mod command;
mod compare;
mod condition;
pub(super) mod defaults;
pub(super) mod differences;
pub(super) mod doubt;
pub(super) mod ducts;
mod estimate;
mod everywhere;
pub(super) mod exits;
mod explain;
mod fit;
mod frame;
pub(super) mod lap;
pub mod layout;
pub(super) mod limits;
pub(super) mod margins;
mod meets;
mod report;
pub(super) mod said;
mod screens;
mod short;
pub(super) mod side_by_side;
pub(super) mod size;
pub(super) mod steps;
mod sudden;
mod sweep;
pub(super) mod tape;
pub(in crate::output) mod templates;
pub(super) mod testcard;
mod warnings;
pub(super) mod way;
mod why;
pub(super) mod words;

#[cfg(test)]
mod tests;

pub use air::air;
pub use asked::fit_asked;
pub use changes::changes;
pub use check::check;
pub use compare::told;
pub use doubt::doubt;
pub use estimate::estimate;
pub use explain::{explain, explained};
pub use fit::fit;
pub use report::report;
pub use screens::{compare, exits, lap, size};
pub use short::Depth;
pub use steps::steps;
pub use sweep::sweep;
pub use tape::tape;
pub use templates::templates;
pub use testcard::{expected as should_show, testcard};
pub use why::why;
