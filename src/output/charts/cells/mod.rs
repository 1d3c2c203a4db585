//! Bars in cells: one value for each row and column, all to one scale.

pub mod chart;

mod layout;
