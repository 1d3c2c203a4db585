//! The worst point of each part, wherever it lies, and what makes it worst.

use super::doubt;
use super::layout::{Cell, Column, MISSED, PLAIN, QUIET, STRONG, Table, heading, item, paragraph};
use super::words::{self, is_missed};
use crate::study::document::Report;
use crate::study::everywhere::result::{Within, WorstPoint};

/// Reasons that are told; smaller ones follow in the JSON.
const TOLD: usize = 4;

/// The worst points, what makes each worst, and what was searched.
pub(super) fn write(out: &mut String, report: &Report) {
    let (points, within) = (&report.everywhere, report.everywhere_within.as_ref());
    if points.is_empty() {
        return;
    }
    heading(out, "The worst point of each part, wherever it lies");
    table(out, points);
    if let Some(found) = &report.everywhere_doubt {
        let taken = points.iter().map(|point| point.temperature_margin_K).fold(f64::INFINITY, f64::min);
        out.push('\n');
        doubt::beside_sweep(out, taken, found);
    } else {
        out.push('\n');
    }
    for point in points {
        item(out, 2, &format!("{}: ", point.part), &why(point));
        out.push('\n');
    }
    if let Some(within) = within {
        paragraph(out, QUIET, &searched(within));
    }
}

fn table(out: &mut String, points: &[WorstPoint]) {
    let columns = [
        (Column::Wrapped, "part"),
        (Column::Right, "km/h"),
        (Column::Right, "gear"),
        (Column::Right, "load"),
        (Column::Right, "ram left"),
        (Column::Right, "day"),
        (Column::Right, "margin"),
        (Column::Left, "9 in 10"),
        (Column::Left, "air"),
    ];
    let mut table = Table::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for point in points {
        let style = if is_missed(point.flow_margin, point.margin_is) { MISSED } else { PLAIN };
        table.row(vec![
            Cell::new(STRONG, &point.part),
            words::fixed(point.speed_m_s * 3.6, 1).into(),
            point.gear.to_string().into(),
            words::share(point.load).into(),
            words::share(point.clear_air).into(),
            words::celsius(point.air_temperature_C).into(),
            Cell::new(style, words::margin(point.temperature_margin_K)),
            point.margin_band_K.map_or(String::new(), |band| doubt::span(&band)).into(),
            Cell::new(style, words::air(point.flow_margin, point.margin_is)),
        ]);
    }
    table.write(out);
}

fn why(point: &WorstPoint) -> String {
    let mut sentences = Vec::new();
    if point.because.is_empty() {
        sentences.push("nothing within the bounds would make it colder".to_string());
    } else {
        let here: Vec<&str> = point.because.iter().map(|reason| reason.here.as_str()).collect();
        sentences.push(format!("worst for {}", here.join(", ")));
        let colder: Vec<String> = point
            .because
            .iter()
            .take(TOLD)
            .map(|reason| format!("{} {}", reason.instead, words::kelvins(reason.gain_K)))
            .collect();
        sentences.push(format!("what would make it colder, each on its own: {}", colder.join(", ")));
    }
    if !point.runs_back.is_empty() {
        sentences.push(format!("the air runs back through {} there", words::list(&point.runs_back)));
    }
    if is_missed(point.flow_margin, point.margin_is) {
        sentences.push(match point.met_up_to_load {
            Some(load) => {
                format!("held there for ever, it stays below its limit up to {} load", words::share(load))
            }
            None => "held there for ever, no load is small enough".to_string(),
        });
    }
    if let Some(hot) = &point.fewest_kelvins {
        sentences.push(format!(
            "hottest at {} km/h in gear {} ({} load, {} of the ram left): {}, with more air for what it needs",
            words::fixed(hot.speed_m_s * 3.6, 1),
            hot.gear,
            words::share(hot.load),
            words::share(hot.clear_air),
            words::margin(hot.temperature_margin_K)
        ));
    }
    if let Some(at) = &point.worst_condition {
        let margin = words::margin(at.temperature_margin_K);
        let name = words::name(&at.condition);
        sentences.push(match (at.worse, at.standing) {
            (true, true) => format!("worse still is {name} ({margin}), where the car stands: `lap` says for how long it may"),
            (true, false) => format!("worse still is {name} ({margin}), with what was not searched: wind, tape, or an engine speed out of gear"),
            (false, _) => format!("the worst of the case's own conditions is {name} ({margin})"),
        });
    }
    words::sentence(&format!("{}.", sentences.join("; ")))
}

fn searched(within: &Within) -> String {
    let gears: Vec<String> = within
        .gears
        .iter()
        .map(|gear| {
            format!(
                "{} from {} to {}",
                gear.gear,
                words::whole(gear.from_m_s * 3.6),
                words::speed(gear.to_m_s)
            )
        })
        .collect();
    let range = |[low, high]: [f64; 2]| match (words::share(low), words::share(high)) {
        (low, high) if low == high => low,
        (low, high) => format!("{low} to {high}"),
    };
    let days: Vec<String> = within
        .days
        .iter()
        .map(|day| format!("{} ({})", day.day, words::celsius(day.air_temperature_C)))
        .collect();
    let mut text = format!(
        "Searched, from [drive], [sweep] and the conditions: gear {}; load {}; ram left {}; {}. No wind, nothing \
         taped, not standing. {} points, then from the lowest of them to 0.1 km/h.",
        words::list(&gears),
        range(within.load),
        range(within.clear_air),
        words::list(&days),
        words::count(within.solved, "point").trim_end_matches(" points")
    );
    if within.unsolved > 0 {
        text.push_str(&format!(
            " At {} no steady state was found; they are left out.",
            words::count(within.unsolved, "point")
        ));
    }
    text
}
