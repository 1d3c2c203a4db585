//! Bar charts.

pub mod chart;

mod layout;
