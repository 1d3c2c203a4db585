//! What a line chart shows, in words, for readers who do not see it.

use super::chart::LineChart;
use super::model::Prepared;
use crate::output::charts::axis::{axis_name, from_to};
use crate::output::charts::scale::{span, spoken};

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
    for (from, to, name) in &chart.shaded {
        parts.push(format!("Shaded {}: {name}.", from_to(*from, *to)));
    }
    for (place, name) in &chart.x_marks {
        if place.is_finite() {
            parts.push(format!("Marked at {}: {name}.", spoken(*place)));
        }
    }
    parts.join(" ")
}
