//! The numbers of a line chart, made sound: runs of finite points and the ranges that hold them.

use super::chart::{LineChart, Panel};
use super::spread::RangeBand;
use crate::output::charts::scale::{self, Runs, drawable, runs};
use crate::output::scene::font;

/// A panel with its curves cut into runs and its vertical range settled.
#[derive(Debug)]
pub(super) struct Prepared<'a> {
    pub panel: &'a Panel,
    pub runs: Vec<Runs>,
    /// The range to draw; rounded out to ticks only once their number is known.
    pub range: (f64, f64),
    /// Whether the range was asked for, so must not be rounded out.
    pub fixed: bool,
    /// The cap, if any value lies above it.
    pub cap: Option<f64>,
    /// Whether there is any curve point at all.
    pub empty: bool,
}

pub(super) fn prepare(panel: &Panel) -> Prepared<'_> {
    let runs: Vec<Runs> = panel.curves.iter().map(|curve| runs(&curve.points)).collect();
    let cap = panel.cap.as_ref().and_then(|cap| drawable(cap.value));
    let values = || runs.iter().flatten().flatten().map(|point| point.1);
    let empty = values().next().is_none();
    let above = cap.is_some_and(|cap| values().any(|value| value > cap));
    let cap = cap.filter(|_| above);
    let held = |value: f64| cap.map_or(value, |cap| value.min(cap));
    let limit = panel.limit.as_ref().and_then(|(value, _)| drawable(*value));
    let markers = panel.markers.iter().filter_map(|marker| drawable(marker.x).and(drawable(marker.y)));
    let spread = panel.spreads.iter().flat_map(RangeBand::values);
    let all = values().chain(markers).chain(spread).map(held).chain(limit);
    let asked = scale::asked(panel.y.range);
    let range = asked.unwrap_or_else(|| {
        let (low, high) = scale::span(all).unwrap_or((0.0, 1.0));
        let (low, high) = scale::widened(low, high);
        let pad = 0.04 * (high - low);
        // Nought is a floor nobody expects to see beneath.
        let low = if low == 0.0 { 0.0 } else { low - pad };
        match cap {
            Some(cap) => (low, high.max(cap)),
            None => (low, high + pad),
        }
    });
    Prepared { panel, runs, range, fixed: asked.is_some(), cap, empty }
}

/// The shared horizontal range: as asked, or just what the points and markers need.
pub(super) fn x_range(chart: &LineChart, panels: &[Prepared<'_>]) -> (f64, f64) {
    scale::asked(chart.x.range).unwrap_or_else(|| {
        let points =
            panels.iter().flat_map(|panel| panel.runs.iter().flatten().flatten()).map(|point| point.0);
        let markers = panels
            .iter()
            .flat_map(|panel| &panel.panel.markers)
            .filter_map(|marker| drawable(marker.y).and(drawable(marker.x)));
        let (low, high) = scale::span(points.chain(markers)).unwrap_or((0.0, 1.0));
        scale::widened(low, high)
    })
}

/// Remarks the chart owes its reader: curves without values, limits and markers out of sight.
pub(super) fn owed_notes(panels: &[Prepared<'_>], x: (f64, f64)) -> Vec<String> {
    let mut notes = Vec::new();
    let missing: Vec<String> = panels
        .iter()
        .flat_map(|panel| panel.panel.curves.iter().zip(&panel.runs))
        .filter(|(curve, runs)| runs.is_empty() && !curve.name.is_empty())
        .map(|(curve, _)| font::clean(&curve.name))
        .collect();
    if !missing.is_empty() {
        notes.push(format!("No values to draw: {}.", missing.join(", ")));
    }
    for panel in panels {
        if let Some((value, name)) = &panel.panel.limit
            && !(*value >= panel.range.0 && *value <= panel.range.1)
        {
            let name = font::clean(name);
            notes.push(if value.is_finite() {
                format!("Outside the chart: {name} ({}).", scale::spoken(*value))
            } else {
                format!("No value to draw: {name}.")
            });
        }
        let outside: Vec<String> = panel
            .panel
            .markers
            .iter()
            .filter(|marker| !shown(marker.x, marker.y, x, panel))
            .map(|marker| font::clean(&marker.label))
            .filter(|label| !label.is_empty())
            .collect();
        if !outside.is_empty() {
            notes.push(format!("Outside the chart: {}.", outside.join("; ")));
        }
    }
    notes
}

/// Whether a marker can be seen; one above the cap is drawn at the cap.
pub(super) fn shown(x: f64, y: f64, range: (f64, f64), panel: &Prepared<'_>) -> bool {
    let within = |value: f64, range: (f64, f64)| {
        let slack = (range.1 - range.0) * 1e-9;
        value >= range.0 - slack && value <= range.1 + slack
    };
    let at = panel.cap.map_or(y, |cap| y.min(cap));
    x.is_finite() && y.is_finite() && within(x, range) && within(at, panel.range)
}
