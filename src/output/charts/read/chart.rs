//! Readings against what was reckoned: for each what was expected before, what is expected after, and what was read.

use crate::output::charts::axis::Axis;

/// A chart of readings as plain data.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// Readings of one kind together, each with an axis of its own, one under the other.
    pub groups: Vec<ReadGroup>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width of the picture in points; 900 if absent. It is as high as its rows need.
    pub width: Option<f64>,
}

/// Readings that share an axis.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadGroup {
    /// The horizontal axis.
    pub x: Axis,
    /// The readings, from the top down.
    pub rows: Vec<ReadRow>,
}

/// One reading.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadRow {
    /// What it is.
    pub name: String,
    /// Low end, middle and high end of what was expected before.
    pub before: [f64; 3],
    /// The same after.
    pub after: [f64; 3],
    /// What was read.
    pub read: f64,
    /// Between which ends that may lie; an end that is open is absent.
    pub between: [Option<f64>; 2],
    /// What stands at the right.
    pub label: String,
}
