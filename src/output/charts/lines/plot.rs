//! One plot of a line chart: its numbers, and where they lie on the picture.

use super::model::Prepared;
use super::names::CurveName;
use crate::output::charts::frame::Header;
use crate::output::charts::scale::{Scale, Ticks};
use crate::output::scene::geometry::{Point, Rect};

/// Everything known about one plot before it is drawn.
pub(super) struct LinePlot<'a> {
    pub data: Prepared<'a>,
    pub rect: Rect,
    pub x: Scale,
    pub y: Scale,
    pub ticks: Ticks,
    pub header: Header,
    pub names: Vec<CurveName>,
    /// Marked places across, on the picture.
    pub marks: Vec<f64>,
    /// Shaded stretches across, on the picture, with their words.
    pub shaded: Vec<(f64, f64, String)>,
}

/// The part of a plot where curves are drawn: up to the cap, if there is one.
pub(super) fn field(plot: &LinePlot<'_>) -> Rect {
    let top =
        plot.data.cap.map_or(plot.rect.top, |cap| plot.y.at(cap).clamp(plot.rect.top, plot.rect.bottom));
    Rect { top, ..plot.rect }
}

/// The runs of one curve on the picture, not yet cut to the plot.
pub(super) fn on_picture(plot: &LinePlot<'_>, curve: usize) -> Vec<Vec<Point>> {
    let place = |point: &(f64, f64)| (plot.x.at(point.0), plot.y.at(point.1));
    plot.data.runs[curve].iter().map(|run| run.iter().map(place).collect()).collect()
}
