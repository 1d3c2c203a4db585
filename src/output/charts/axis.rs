//! Axes and named points, and how they are said.

use super::scale::spoken;

#[derive(Debug, Clone, Default, PartialEq)]
pub struct Axis {
    /// What is measured.
    pub label: String,
    /// Unit, or unit and a remark, set in lighter type after the label.
    pub unit_note: String,
    /// Lowest and highest value shown; found from the data if absent. Lines are cut off where they leave it.
    pub range: Option<(f64, f64)>,
}

/// A named point.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Marker {
    /// Along the horizontal axis.
    pub x: f64,
    /// Up the vertical axis.
    pub y: f64,
    /// What to say about it. If room is short a number stands in the plot and these words in a key under the chart.
    pub label: String,
    /// Which sign to draw.
    pub kind: MarkerKind,
}

/// What a marker stands for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum MarkerKind {
    /// A named condition: a disc.
    #[default]
    Condition,
    /// The lowest point of a curve: a triangle pointing down.
    Lowest,
    /// Anything else worth a note: a square.
    Note,
}

/// The axis in words.
pub(super) fn axis_name(axis: &Axis) -> String {
    match (axis.label.trim(), axis.unit_note.trim()) {
        ("", "") => "values".to_owned(),
        (label, "") => label.to_owned(),
        ("", unit) => unit.to_owned(),
        (label, unit) => format!("{label} ({unit})"),
    }
}

/// A range in words.
pub(super) fn from_to(low: f64, high: f64) -> String {
    format!("from {} to {}", spoken(low), spoken(high))
}
