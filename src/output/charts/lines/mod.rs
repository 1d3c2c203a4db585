//! Line charts: curves in one or several panels.

pub mod chart;
pub mod spread;

mod curves;
mod description;
mod ground;
mod layout;
mod markers;
mod model;
mod names;
mod plot;
