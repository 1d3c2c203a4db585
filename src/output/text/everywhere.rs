//! The worst point of each part, wherever it lies, and what makes it worst.

use super::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::short::Depth;
use super::words::{self, is_missed};
use super::{doubt, lap};
use crate::study::document::Report;
use crate::study::everywhere::result::{Within, WorstPoint};

/// Reasons that are told; smaller ones follow in the JSON.
const TOLD: usize = 4;

/// The worst points, what makes each worst, and what was searched.
pub(super) fn write(out: &mut String, report: &Report, depth: Depth) {
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
    if depth == Depth::Short {
        points.iter().for_each(|point| item(out, 2, &format!("{}: ", point.part), &why_in_short(point)));
        paragraph(
            out,
            QUIET,
            "Margins of the conditions: check without --everywhere. What would make each colder, and what was searched: --detail",
        );
        return;
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
        (TextColumn::Wrapped, "part"),
        (TextColumn::Right, "km/h"),
        (TextColumn::Right, "gear"),
        (TextColumn::Right, "load"),
        (TextColumn::Right, "ram"),
        (TextColumn::Right, "day"),
        (TextColumn::Right, "margin"),
        (TextColumn::Left, "9 in 10"),
        (TextColumn::Left, "air"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for point in points {
        let style = if is_missed(point.flow_margin, point.margin_is) { MISSED } else { PLAIN };
        table.row(vec![
            TextCell::new(STRONG, &point.part),
            words::fixed(point.speed_m_s * 3.6, 1).into(),
            point.gear.to_string().into(),
            words::share(point.load).into(),
            words::share(point.clear_air).into(),
            words::celsius(point.air_temperature_C).into(),
            TextCell::new(style, words::margin(point.temperature_margin_K)),
            point.margin_band_K.map_or(String::new(), |band| doubt::span(&band)).into(),
            TextCell::new(style, words::air(point.flow_margin, point.margin_is)),
        ]);
    }
    table.write(out);
}

/// What makes it worst, and how long it may be held.
fn why_in_short(point: &WorstPoint) -> String {
    let here: Vec<&str> = point.because.iter().map(|reason| reason.here.as_str()).collect();
    let worst = match here.is_empty() {
        true => "nothing within the bounds would make it colder".to_string(),
        false => format!("worst for {}", here.join(", ")),
    };
    words::sentence(&format!(
        "{}.",
        [Some(worst), held(point)].into_iter().flatten().collect::<Vec<_>>().join("; ")
    ))
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
                format!("held there for good, it stays below its limit up to {} load", words::share(load))
            }
            None => "held there for good, no load is small enough".to_string(),
        });
        sentences.extend(held(point));
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

/// "held there for good 118 K over; coming from straight the limit is reached after 50 s".
fn held(point: &WorstPoint) -> Option<String> {
    let (after, from) = (point.limit_after_s?, point.limit_from.as_ref()?);
    let over = words::kelvins(-point.temperature_margin_K);
    let after = lap::time(after);
    Some(format!(
        "held for good {over} over; coming from {} the limit is reached after {after}",
        words::name(from)
    ))
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
