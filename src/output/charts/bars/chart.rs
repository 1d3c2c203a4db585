//! Bar charts: named bars one above the other, each with where it may end.

use crate::output::charts::axis::Axis;

/// A bar chart as plain data.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BarChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// The horizontal axis; it begins at nought.
    pub x: Axis,
    /// The bars, from the top down.
    pub bars: Vec<Bar>,
    /// A place along the axis to compare with, drawn as an upright line and named.
    pub against: Option<(f64, String)>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width of the picture in points; 900 if absent. It is as high as its bars need.
    pub width: Option<f64>,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bar {
    /// What it stands for.
    pub name: String,
    /// Its length.
    pub value: f64,
    /// Between which lengths it may be.
    pub between: Option<(f64, f64)>,
    /// What stands at its end.
    pub label: String,
    /// Filled with lines in place of a plain ground: of another kind than the others.
    pub hatched: bool,
}
