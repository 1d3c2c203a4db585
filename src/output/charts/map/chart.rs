//! Maps: one value over two axes, with lines of equal value.

use crate::output::charts::axis::{Axis, Marker};

/// A map as plain data.
///
/// The ground is shaded from dark (low) to light (high) between the lines; the lines carry their values.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MapChart {
    /// Heading.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// What the lines stand for, with its unit: said in the description.
    pub what: String,
    /// The horizontal axis.
    pub x: Axis,
    /// The vertical axis.
    pub y: Axis,
    /// Rising places across.
    pub xs: Vec<f64>,
    /// Rising places upwards.
    pub ys: Vec<f64>,
    /// For each place upwards a row along the places across; a missing value leaves a hole.
    pub values: Vec<Vec<Option<f64>>>,
    /// The lines to draw, from the lowest up.
    pub levels: Vec<Level>,
    /// Lines of another value over the same places.
    pub overlays: Vec<Overlay>,
    /// Points to name.
    pub markers: Vec<Marker>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width and least height in points; 900 × 600 if absent.
    pub size: Option<(f64, f64)>,
}

/// A line of equal value.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Level {
    pub value: f64,
    /// What stands on the line.
    pub label: String,
    /// Drawn heavy.
    pub emphasis: bool,
}

/// A line of equal value of something else, drawn dashed.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Overlay {
    /// Its values, as in [`MapChart::values`].
    pub values: Vec<Vec<Option<f64>>>,
    /// The value and the name of the line.
    pub level: Level,
}
