//! What a chart shows, in words, for readers who do not see it.

use super::area_chart::BandChart;
use super::line_chart::{Axis, LineChart};
use super::line_model::Prepared;
use super::map_chart::MapChart;
use super::scale::{span, spoken};
use super::stack::Stack;

fn axis_name(axis: &Axis) -> String {
    match (axis.label.trim(), axis.unit_note.trim()) {
        ("", "") => "values".to_owned(),
        (label, "") => label.to_owned(),
        ("", unit) => unit.to_owned(),
        (label, unit) => format!("{label} ({unit})"),
    }
}

fn from_to(low: f64, high: f64) -> String {
    format!("from {} to {}", spoken(low), spoken(high))
}

pub(super) fn of_lines(chart: &LineChart, panels: &[Prepared<'_>], x: (f64, f64)) -> String {
    let mut parts = vec![format!("Line chart. Across: {}, {}.", axis_name(&chart.x), from_to(x.0, x.1))];
    for panel in panels {
        parts.push(format!("Upwards: {}.", axis_name(&panel.panel.y)));
        for (curve, runs) in panel.panel.curves.iter().zip(&panel.runs) {
            let values = runs.iter().flatten().map(|point| point.1);
            match span(values) {
                Some((low, high)) => parts.push(format!("{}: {}.", curve.name, from_to(low, high))),
                None if curve.name.is_empty() => {}
                None => parts.push(format!("{}: no values.", curve.name)),
            }
        }
        if let Some((value, name)) = &panel.panel.limit {
            let at = if value.is_finite() { spoken(*value) } else { "no value".to_owned() };
            parts.push(format!("Limit at {at}: {name}."));
        }
        for marker in &panel.panel.markers {
            parts.push(format!("Marked: {}.", marker.label));
        }
    }
    for (place, name) in &chart.x_marks {
        if place.is_finite() {
            parts.push(format!("Marked at {}: {name}.", spoken(*place)));
        }
    }
    parts.join(" ")
}

pub(super) fn of_map(chart: &MapChart) -> String {
    let mut parts = vec!["Map with lines of equal value.".to_owned()];
    for (way, axis, values) in [("Across", &chart.x, &chart.xs), ("Upwards", &chart.y, &chart.ys)] {
        if let (Some(first), Some(last)) = (values.first(), values.last()) {
            parts.push(format!("{way}: {}, {}.", axis_name(axis), from_to(*first, *last)));
        }
    }
    if let Some((low, high)) = span(chart.values.iter().flatten().flatten().copied()) {
        parts.push(format!("{}: {}.", chart.what, from_to(low, high)));
    }
    let levels: Vec<&str> = chart.levels.iter().map(|level| level.label.as_str()).collect();
    parts.push(format!("Lines at {}.", levels.join(", ")));
    for marker in &chart.markers {
        parts.push(format!("Marked: {}.", marker.label));
    }
    parts.join(" ")
}

pub(super) fn of_bands(chart: &BandChart, stack: &Stack) -> String {
    let mut parts = vec!["Chart of stacked bands.".to_owned()];
    if let (Some(first), Some(last)) = (stack.places.first(), stack.places.last()) {
        parts.push(format!("Across: {}, {}.", axis_name(&chart.x), from_to(first.x, last.x)));
    }
    parts.push(format!("Upwards and downwards from nought: {}.", axis_name(&chart.y)));
    for slice in &stack.slices {
        let side = if slice.loss { "below" } else { "above" };
        if let Some((low, high)) = span(slice.values.iter().flatten().copied()) {
            parts.push(format!("{side} nought, {}: {}.", slice.name, from_to(low, high)));
        }
    }
    parts.join(" ")
}
