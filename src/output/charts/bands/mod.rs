//! Band charts: stacks up and down from nought.

pub mod chart;

mod labels;
mod layout;
mod ribbon;
pub(super) mod stack;
