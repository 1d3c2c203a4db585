//! Band charts: what gives and what takes, stacked up and down from nought.

use crate::output::charts::axis::Axis;

/// A chart of stacked bands as plain data: sources stacked up from nought, losses stacked down.
///
/// At each place the upper stack is the sum of what gives and the lower the sum of what takes, so that a budget which balances
/// shows the same height either way. A band that turns negative changes sides there, and keeps its looks: a source that
/// takes is drawn among the losses.
///
/// Bands smaller than 2 % of the tallest stack everywhere are drawn as one, named "other", and listed under the chart.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BandChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// The horizontal axis.
    pub x: Axis,
    /// The vertical axis; both halves count away from nought. A range asked for must hold nought.
    pub y: Axis,
    /// What gives, from nought upwards.
    pub gives: Vec<ChartBand>,
    /// What takes, from nought downwards; values are positive as they take.
    pub takes: Vec<ChartBand>,
    /// Words for the upper half, in its corner.
    pub gives_note: String,
    /// Words for the lower half, in its corner.
    pub takes_note: String,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width and least height of the picture in points; 900 × 540 if absent. The picture grows downwards where its words
    /// need more.
    pub size: Option<(f64, f64)>,
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct ChartBand {
    /// Name, written at the band's end.
    pub name: String,
    /// Values along the horizontal axis, joined by straight lines; two values at one place are a step. `None` (and a value
    /// that is not finite) leaves a gap in the whole stack, since the sum is not known there. Beyond its first and
    /// last point a band is nought.
    pub points: Vec<(f64, Option<f64>)>,
}
