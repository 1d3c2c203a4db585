//! What was read against what was reckoned, as a picture.

use super::charts::{Axis, ReadChart, ReadGroup, ReadRow};
use super::curves::{CAUTION, subtitle};
use super::text::words;
use crate::case::fitted::FittedReading;
use crate::study::document::Report;

/// The readings of a fit: temperatures, pressures, shares.
pub fn chart(report: &Report, readings: &[FittedReading]) -> ReadChart {
    let group = |unit: &str, label: &str| {
        let own = readings.iter().filter(|reading| reading.unit == unit);
        let note = format!("{unit}, 9 times in 10");
        ReadGroup {
            x: Axis { label: label.to_string(), unit_note: note, range: None },
            rows: own.map(row).collect(),
        }
    };
    let groups = [
        group("°C", "Temperature"),
        group("Pa", "Difference of pressure"),
        group("share", "Share of a pressure that is left"),
    ];
    ReadChart {
        title: format!("Read and reckoned: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        groups: groups.into_iter().filter(|group| !group.rows.is_empty()).collect(),
        footnotes: vec![
            "Ring: what was read, between the ends of its ±. Wide and pale: where it was expected before anything was read; narrow and dark: where it would be expected now, were it read again."
                .to_string(),
            "A ring outside the dark band is at odds with the rest; all rings inside prove nothing that the case does not describe."
                .to_string(),
            CAUTION.to_string(),
        ],
        width: None,
    }
}

fn row(reading: &FittedReading) -> ReadRow {
    let [read, low, high] = reading.read;
    let end = |at: f64| (at != read).then_some(at);
    ReadRow {
        name: format!("{}, {}", reading.what, words::name(&reading.test)),
        before: reading.before,
        after: reading.after,
        read,
        // without a ± of its own what is open stands at the reading
        between: [end(low).or(Some(read)), end(high).or(Some(read))],
        label: match reading.unit {
            // of a share the axis says it
            "share" => format!("{}, {}", words::shown(read, reading.unit), reading.said),
            unit => format!("{} {unit}, {}", words::shown(read, unit), reading.said),
        },
    }
}
