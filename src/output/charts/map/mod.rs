//! Maps: one value over two axes.

pub mod chart;

mod layout;
