//! Staircases: one quantity along a way, step after step.

pub mod chart;

mod layout;
