//! The trade behind an exit size.

use super::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::{beyond, frame, warnings, words};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::exits::result::{ExitOutcome, ExitPoint, Exits, Hole, WhatIf};

/// Rows of the table beside those that have a name.
const ROWS: usize = 12;

/// Why the exits should be as large as that: verdict, table over exit area, reasons, the pressure there,
/// one exit blocked or blown into, and the files written.
pub(super) fn exits(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    let Some(exits) = &report.exits else {
        frame::verdict(&mut out, "No exits were studied.", true);
        return out;
    };
    frame::verdict(&mut out, &verdict(exits), !exits.as_drawn.reached_as_drawn);
    paragraph(&mut out, PLAIN, &what_changes(exits));
    out.push('\n');
    trade(&mut out, exits, ROWS, &report.conditions);
    chances(&mut out, exits);
    heading(&mut out, "Why");
    for (name, area, reason) in sizes(exits) {
        let area = area.map_or("none".to_string(), |area| format!("{} cm²", cm2(area)));
        item(&mut out, 2, "", &format!("{}, {area}: {reason}.", words::sentence(name)));
    }
    if let Some(area) = exits.smallest_safe_as_drawn_m2 {
        let text = format!(
            "With the inlets as drawn the margins asked for are reached from {} cm² of exits on.",
            cm2(area)
        );
        item(&mut out, 2, "", &text);
    }
    if !exits.remarks.is_empty() {
        heading(&mut out, "Along the way");
        for remark in &exits.remarks {
            let remark = beyond::told(&report.conditions, remark);
            item(&mut out, 2, "", &format!("{}.", words::sentence(&remark)));
        }
    }
    heading(&mut out, "To the aerodynamicist");
    for place in &exits.pressure {
        item(&mut out, 2, "", &format!("{}.", place.sentence));
    }
    what_if(&mut out, &exits.what_if, &report.conditions);
    out.push('\n');
    warnings::of_knee(&mut out, &exits.warnings_at_knee, &report.warnings);
    paragraph(
        &mut out,
        QUIET,
        "Cut exits before inlets, and stop short of the line: an exit too large can be taped, an inlet too large spills.",
    );
    frame::drag_note(&mut out, exits.points.iter().any(|point| point.cooling_drag_N < 0.0));
    frame::written(&mut out, written);
    frame::cautions(&mut out, report.conditions.iter().any(|c| !c.fans.is_empty()));
    out
}

/// The sizes that have a name, and the reason of each.
pub(in crate::output) fn sizes(exits: &Exits) -> impl Iterator<Item = (&'static str, Option<f64>, &String)> {
    let reasons = &exits.reasons;
    [
        ("smallest that will do", exits.smallest_safe_m2, Some(&reasons.smallest_safe)),
        ("knee", exits.knee_m2, Some(&reasons.knee)),
        ("largest that will do", exits.largest_safe_m2, reasons.largest_safe.as_ref()),
        ("nothing gained beyond", exits.pointless_m2, Some(&reasons.pointless)),
    ]
    .into_iter()
    .filter_map(|(name, area, reason)| Some((name, area, reason?)))
}

/// How often the sizes that have a name hold.
pub(super) fn chances(out: &mut String, exits: &Exits) {
    if exits.doubt.is_empty() {
        return;
    }
    heading(out, "How often all parts stay cool");
    for chance in &exits.doubt {
        let inlets = chance.inlet_area_m2.filter(|area| *area > 0.0);
        let inlets = inlets.map_or(String::new(), |area| format!(" with {} cm² of inlets", cm2(area)));
        let band = chance
            .least_K
            .map_or(String::new(), |band| format!("; least margin {}", super::doubt::span(&band)));
        let text = format!(
            "{}, {} cm²{inlets}: {}{band}.",
            words::sentence(chance.size.into()),
            cm2(chance.exit_area_m2),
            super::doubt::how_often(chance.all_hold)
        );
        item(out, 2, "", &text);
    }
    out.push('\n');
}

fn cm2(area: f64) -> String {
    words::square_centimetres(area)
}

pub(in crate::output) fn verdict(exits: &Exits) -> String {
    let drawn = &exits.as_drawn;
    let stands = if drawn.reached_as_drawn {
        format!("The {} cm² of exits drawn reach the margins asked for", cm2(drawn.exit_area_m2))
    } else if drawn.feasible {
        format!("The {} cm² of exits drawn would do, with other inlets", cm2(drawn.exit_area_m2))
    } else {
        format!(
            "With the {} cm² of exits drawn no inlets reach the margins asked for",
            cm2(drawn.exit_area_m2)
        )
    };
    let figures = match (exits.smallest_safe_m2, exits.knee_m2) {
        (Some(safe), Some(knee)) => {
            let inlets = exits.inlet_area_at_knee_m2.filter(|area| *area > 0.0);
            let inlets = inlets.map_or(String::new(), |area| format!(" with {} cm² of inlets", cm2(area)));
            format!("smallest that will do {} cm², knee {} cm²{inlets}", cm2(safe), cm2(knee))
        }
        _ if exits.most_m2.is_some() => "no exits within their bounds do".to_string(),
        _ => "no exits do, however large".to_string(),
    };
    let beyond = exits.pointless_m2.filter(|_| exits.knee_m2.is_some());
    let beyond = beyond.map_or(String::new(), |area| format!(", nothing gained beyond {} cm²", cm2(area)));
    let largest = exits
        .largest_safe_m2
        .map_or(String::new(), |area| format!(", largest that will do {} cm²", cm2(area)));
    let share = match exits.shares_fixed {
        true => format!(" Each exit keeps its share: {}.", shares(&exits.exits)),
        false => String::new(),
    };
    format!("{stands}: {figures}{largest}{beyond}.{share}")
}

fn names(holes: &[Hole]) -> String {
    let names: Vec<String> = holes
        .iter()
        .map(
            |hole| {
                if hole.count > 1 { format!("{} × {}", hole.count, hole.name) } else { hole.name.clone() }
            },
        )
        .collect();
    words::list(&names)
}

/// The exits, each with its share of the area of all.
fn shares(holes: &[Hole]) -> String {
    let all: f64 = holes.iter().map(|hole| hole.count as f64 * hole.area_m2).sum();
    let named: Vec<String> = holes
        .iter()
        .map(|hole| {
            let share = 100.0 * hole.count as f64 * hole.area_m2 / all;
            let count = if hole.count > 1 { format!("{} × ", hole.count) } else { String::new() };
            format!("{count}{} {} %", hole.name, words::whole(share))
        })
        .collect();
    words::list(&named)
}

fn what_changes(exits: &Exits) -> String {
    let mut text = match exits.exits.as_slice() {
        [_] => format!("Scaled: {}.", names(&exits.exits)),
        _ => format!("Scaled together, each keeping its share: {}.", shares(&exits.exits)),
    };
    let end = |area: Option<f64>, word: &str| {
        area.map_or(String::new(), |area| format!(" Their bounds allow {word} {} cm².", cm2(area)))
    };
    text.push_str(&match (exits.least_m2, exits.most_m2) {
        (Some(least), Some(most)) => {
            format!(" Their bounds allow {} to {} cm² in all.", cm2(least), cm2(most))
        }
        (least, most) => end(least, "no less than") + &end(most, "no more than"),
    });
    if !exits.fixed_exits.is_empty() {
        text.push_str(&format!(
            " What [size] does not name as free, and a hole behind a fan, stays as it is: {}.",
            names(&exits.fixed_exits)
        ));
    }
    if !exits.inlets.is_empty() {
        text.push_str(&format!(" Re-sized to them: {}.", names(&exits.inlets)));
    }
    let conditions: Vec<String> = exits.conditions.iter().map(|name| words::name(name)).collect();
    text.push_str(&format!(
        " Looked at: {}. Drag in {}.",
        words::list(&conditions),
        words::name(&exits.drag_at)
    ));
    text
}

pub(super) fn trade(out: &mut String, exits: &Exits, most: usize, conditions: &[Condition]) {
    let bay = exits.bay.as_deref().unwrap_or("bay");
    let mut table = TextTable::new(vec![
        (TextColumn::Right, "exits".into()),
        (TextColumn::Right, "inlets".into()),
        (TextColumn::Right, "margin".into()),
        (TextColumn::Right, "air".into()),
        (TextColumn::Wrapped, "worst".into()),
        (TextColumn::Right, bay.into()),
        (TextColumn::Right, "drag".into()),
        (TextColumn::Wrapped, String::new()),
    ]);
    let named = |area: f64| -> Vec<&str> {
        let is = |figure: Option<f64>| figure.is_some_and(|figure| (figure / area - 1.0).abs() < 1e-6);
        let all = [
            (exits.smallest_safe_m2, "smallest"),
            (exits.knee_m2, "knee"),
            (exits.largest_safe_m2, "largest"),
        ];
        all.into_iter().filter(|(figure, _)| is(*figure)).map(|(_, name)| name).collect()
    };
    let drawn = &exits.as_drawn;
    let every = if most == 0 { usize::MAX } else { exits.points.len().div_ceil(most).max(1) };
    let mut rows: Vec<(&ExitPoint, String)> = exits
        .points
        .iter()
        .enumerate()
        .map(|(index, point)| (index, point, named(point.exit_area_m2)))
        .filter(|(index, _, names)| (most > 0 && index % every == 0) || !names.is_empty())
        .filter(|(_, point, names)| {
            !names.is_empty() || (point.exit_area_m2 / drawn.exit_area_m2 - 1.0).abs() > 0.01
        })
        .map(|(_, point, names)| (point, names.join(", ")))
        .collect();
    let at = rows.iter().position(|(p, _)| p.exit_area_m2 > drawn.exit_area_m2).unwrap_or(rows.len());
    rows.insert(at, (drawn, "as drawn".into()));
    for (point, name) in rows {
        table.row(row(point, &name, conditions));
    }
    table.write(out);
    out.push('\n');
    paragraph(
        out,
        QUIET,
        "Areas in cm², drag in N. Inlets: to be cut then; smallest, knee and largest go by these. Else inlets as drawn: margin of the part nearest its limit, air of the one that has least.",
    );
}

fn row(point: &ExitPoint, name: &str, conditions: &[Condition]) -> Vec<TextCell> {
    let over = point.least_temperature_margin_K < 0.0;
    let air = match point.least_margin {
        None => "needs none".to_string(),
        Some(margin) if margin > 1.0 => "> 100 %".to_string(),
        Some(margin) if margin <= -0.995 => "none".to_string(),
        Some(margin) => format!("{} %", words::whole(100.0 * margin)),
    };
    let bay = point.bay_pressure_Pa.zip(point.bay_temperature_C);
    vec![
        TextCell::new(if name.is_empty() { PLAIN } else { STRONG }, cm2(point.exit_area_m2)),
        match point.inlet_area_m2 {
            Some(0.0) => TextCell::from("will do"),
            Some(area) => TextCell::from(cm2(area)),
            None => TextCell::new(MISSED, "none do"),
        },
        TextCell::new(
            if over { MISSED } else { PLAIN },
            beyond::margin(conditions, &point.nearest.part, point.least_temperature_margin_K),
        ),
        TextCell::from(air),
        TextCell::from(format!("{} in {}", point.nearest.part, words::name(&point.nearest.condition))),
        TextCell::from(bay.map_or(String::new(), |(pressure, temperature)| {
            format!("{}, {}", words::pascals(pressure), words::celsius(temperature))
        })),
        TextCell::from(words::whole(point.cooling_drag_N)),
        TextCell::new(STRONG, name),
    ]
}

/// A table of what follows where one exit is blocked or blown into.
fn what_if(out: &mut String, list: &[WhatIf], conditions: &[Condition]) {
    if list.is_empty() {
        return;
    }
    heading(out, "If one exit fails");
    let mut table = TextTable::new(vec![
        (TextColumn::Wrapped, "exit".into()),
        (TextColumn::Left, "is".into()),
        (TextColumn::Right, "margin".into()),
        (TextColumn::Wrapped, "worst then".into()),
        (TextColumn::Wrapped, "runs back then".into()),
    ]);
    let mut title = None;
    for entry in list {
        if title.replace(entry.sizes_as_drawn) != Some(entry.sizes_as_drawn) {
            let sizes = if entry.sizes_as_drawn { "openings as drawn" } else { "openings of the knee" };
            let before = &entry.before;
            let text = format!(
                "{sizes}: {} before, {}",
                beyond::margin(conditions, &before.part, before.least_temperature_margin_K),
                worst(before)
            );
            table.title(TextCell::new(STRONG, text));
        }
        let turned: Vec<String> = entry
            .turned_round
            .iter()
            .map(|turn| format!("{} in {}", turn.passage, words::name(&turn.condition)))
            .collect();
        let (margin, then) = match &entry.then {
            Some(then) => {
                let style = if then.least_temperature_margin_K < 0.0 { MISSED } else { PLAIN };
                let margin = beyond::margin(conditions, &then.part, then.least_temperature_margin_K);
                (TextCell::new(style, margin), worst(then))
            }
            None => (TextCell::from(""), entry.why_not.clone().unwrap_or_default()),
        };
        table.row(vec![
            TextCell::from(format!("  {}", entry.exit)),
            TextCell::from(entry.what),
            margin,
            TextCell::from(then),
            TextCell::from(words::list(&turned)),
        ]);
    }
    table.write(out);
    if let Some(coefficient) = list.iter().find_map(|entry| entry.pressure_coefficient) {
        let text = format!(
            "Blown into: its pressure coefficient at {coefficient:+.1}, the high end of what body surfaces commonly see (from memory); yaw can do that to one side."
        );
        paragraph(out, QUIET, &text);
    }
}

fn worst(outcome: &ExitOutcome) -> String {
    format!("{} in {}", outcome.part, words::name(&outcome.condition))
}
