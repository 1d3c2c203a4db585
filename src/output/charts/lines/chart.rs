//! Line charts: one or several panels of curves over one shared horizontal axis.

use super::spread::RangeBand;
use crate::output::charts::axis::{Axis, Marker};

/// A line chart as plain data.
///
/// Panels stand one under the other and share the horizontal axis. Names stand at the ends of the curves; there is no legend to
/// look things up in. Fields left at their default are left out of the picture.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LineChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// The shared horizontal axis.
    pub x: Axis,
    /// Named places along the horizontal axis, drawn as light upright lines through all panels, named at the top.
    pub x_marks: Vec<(f64, String)>,
    /// Stretches of the horizontal axis that are shaded in every panel, and what to say in them.
    pub shaded: Vec<(f64, f64, String)>,
    /// Whether the horizontal axis counts seconds, told as minutes and seconds.
    pub clock: bool,
    /// The panels, from the top down.
    pub panels: Vec<Panel>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width and least height of the picture in points; 900 × 540 and 200 more for each further panel if absent.
    /// The picture grows downwards where its words need more.
    pub size: Option<(f64, f64)>,
}

/// One plot of a line chart.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Panel {
    /// The vertical axis.
    pub y: Axis,
    /// The curves; colours and line patterns follow this order.
    pub curves: Vec<Curve>,
    /// A limit, drawn heavy and named by this text.
    pub limit: Option<(f64, String)>,
    /// The side of the limit to shade.
    pub bad_side: BadSide,
    /// Points to name.
    pub markers: Vec<Marker>,
    /// Where to stop drawing large values.
    pub cap: Option<Cap>,
    /// Where curves may lie, drawn beneath them.
    pub spreads: Vec<RangeBand>,
}

/// The side of a limit nobody wants to be on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum BadSide {
    /// Values under the limit are bad, as with margins.
    #[default]
    Below,
    /// Values over the limit are bad, as with temperatures.
    Above,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct Curve {
    /// Name, written at the curve's end.
    pub name: String,
    /// Points in drawing order. `None` (and a value that is not finite) breaks the line.
    pub points: Vec<(f64, Option<f64>)>,
    /// Drawn heavier, on top of the others, and named in bold.
    pub emphasis: bool,
}

/// A value above which curves are not drawn.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cap {
    /// The highest value drawn.
    pub value: f64,
    /// What to say of values above it, such as "more than twice".
    pub note: String,
}
