//! Readings against what was reckoned: named rows, each with two bands and a mark.

pub mod chart;

mod layout;
