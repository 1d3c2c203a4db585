//! What settles an argument: why these exits, which layout, what changed.

use super::parts::{Align, cell, table};
use super::pictures::{PictureSizes, figure, narrow};
use crate::output::charts::{CellChart, Picture};
use crate::output::text::words::area;
use crate::output::text::{changes, differences, exits as trade_told, told, words};
use crate::output::{overlay, trade};
use crate::point::result::OpeningRole;
use crate::study::changes::result::Fate;
use crate::study::compare::result::{Comparison, LayoutResult};
use crate::study::document::Report;
use crate::study::everything::OlderCase;
use crate::study::exits::result::{ExitOutcome, Exits, WhatIf};
use maud::{Markup, html};

/// Moves of a margin smaller than this are left out (K).
const TOLD: f64 = 0.5;

/// Inlets and margins against the area of the exits.
pub(super) fn exits_figure(report: &Report, exits: &Exits) -> Markup {
    let chart =
        PictureSizes::of(|width| narrow(trade::against_area(report, exits, false), width).svg_without_font());
    figure(chart, false, "Inlets needed and margins against the area of all exits.")
}

/// The trade behind the exits' size.
pub(super) fn exits(report: &Report, exits: &Exits) -> Markup {
    let reasons = trade_told::sizes(exits).map(|(name, size, reason)| {
        let size = size.map_or("none".to_string(), area);
        vec![cell(name), cell(size), cell(words::sentence(reason))]
    });
    html! {
        p { (trade_told::verdict(exits)) " All areas are of all exits together, each keeping its share." }
        (table("Exit area, and why", &[(Align::Text, "size"), (Align::Figure, "of all exits"), (Align::Text, "why")], reasons.collect()))
        (exits_figure(report, exits))
        @if !exits.remarks.is_empty() {
            h3 { "Along the way" }
            ul { @for remark in &exits.remarks { li { (words::sentence(remark)) "." } } }
        }
        h3 { "The pressure there" }
        ul { @for place in &exits.pressure { li { (place.sentence) "." } } }
        @if !exits.what_if.is_empty() { (one_fails(&exits.what_if)) }
    }
}

fn one_fails(list: &[WhatIf]) -> Markup {
    let margin = |outcome: &ExitOutcome| {
        format!(
            "{} ({} in {})",
            words::margin(outcome.least_temperature_margin_K),
            outcome.part,
            words::name(&outcome.condition)
        )
    };
    let rows = list.iter().map(|entry| {
        let back: Vec<String> = entry
            .turned_round
            .iter()
            .map(|turn| format!("{} in {}", turn.passage, words::name(&turn.condition)))
            .collect();
        vec![
            cell(format!("{} {}", entry.exit, entry.what)),
            cell(margin(&entry.before)),
            cell(entry.then.as_ref().map_or_else(|| entry.why_not.clone().unwrap_or_default(), margin)),
            cell(if back.is_empty() { "nothing new".to_string() } else { back.join(", ") }),
        ]
    });
    let as_drawn = list.iter().all(|entry| entry.sizes_as_drawn);
    let heads = [
        (Align::Text, "exit"),
        (Align::Text, "least margin before"),
        (Align::Text, "least margin then"),
        (Align::Text, "runs back then"),
    ];
    html! {
        h3 { "If one exit fails" }
        (table(if as_drawn { "With the openings as drawn" } else { "With the openings of the knee, or as drawn where those do" }, &heads, rows.collect()))
    }
}

/// Layouts side by side.
pub(super) fn layouts(report: &Report, comparison: &Comparison) -> Markup {
    let comparison = &told(comparison);
    let ranking = &comparison.ranking;
    let chart =
        PictureSizes::of(|width| CellChart { width, ..overlay::bars(report, comparison) }.svg_without_font());
    let heads = [
        (Align::Text, "layout"),
        (Align::Text, "least margin where it counts"),
        (Align::Figure, "openings in"),
        (Align::Figure, "out"),
        (Align::Figure, "most cooling drag, N (air through the car only)"),
        (Align::Figure, "most fan power, W"),
        (Align::Text, "traps"),
    ];
    let rows = comparison.compare.iter().map(|compared| match &compared.answer {
        Some(answer) => {
            let most = |of: fn(&crate::study::compare::result::LayoutInCondition) -> f64| {
                words::whole(answer.conditions.iter().map(of).fold(0.0, f64::max))
            };
            vec![
                cell(&compared.layout),
                cell(least(answer)),
                cell(area(answer.opening_area_in_m2)),
                cell(area(answer.opening_area_out_m2)),
                cell(most(|at| at.cooling_drag_N)),
                cell(most(|at| at.fan_power_W)),
                cell(traps(answer)),
            ]
        }
        None => {
            let mut row =
                vec![cell(&compared.layout), cell(compared.trouble.as_deref().unwrap_or("no answer"))];
            row.resize_with(heads.len(), || cell("–"));
            row
        }
    });
    let rows = rows.collect();
    html! {
        @if let Some(best) = &ranking.best { p { "Best is " strong { (best) } ": " (ranking.best_because) "." } }
        @if let Some(worst) = &ranking.worst { p { "Worst is " strong { (worst) } ": " (ranking.worst_because) "." } }
        (table("Each as drawn", &heads, rows))
        (figure(chart, false, "The least margin of each layout in each condition."))
        h3 { "What differs from the case as drawn" }
        @for compared in comparison.compare.iter().filter(|compared| !compared.base) {
            p { strong { (compared.layout) } ": "
                (words::on_paper(&differences::lines(&compared.differs).join("; "))) "." }
        }
    }
}

fn least(answer: &LayoutResult) -> String {
    answer.least.as_ref().map_or("–".to_string(), |least| {
        let margin = words::margin(least.temperature_margin_K);
        format!("{margin}, {} in {}", least.part, words::name(&least.condition))
    })
}

fn traps(answer: &LayoutResult) -> String {
    let mut kinds: Vec<&str> = answer.traps.iter().map(|trap| trap.trap.into()).collect();
    kinds.dedup();
    if kinds.is_empty() { "none".to_string() } else { kinds.join(", ") }
}

/// What changed since an older case, in a sentence.
pub(super) fn since(against: &OlderCase) -> String {
    changes::verdict(&older(against), &against.changes)
}

/// What the older case is called.
fn older(against: &OlderCase) -> String {
    against.revision.as_ref().map_or(against.file.clone(), |r| format!("{r} ({})", against.file))
}

/// What changed since an older case.
pub(super) fn changed(against: &OlderCase) -> Markup {
    let found = &against.changes;
    let size = |size: Option<f64>| size.map_or("–".to_string(), area);
    let pieces =
        |fate: &Fate| if fate.pieces == 1.0 { String::new() } else { format!("{} × ", fate.pieces) };
    let openings = found.openings.iter().map(|fate| {
        vec![
            cell(format!("{} {}", fate.passage, if fate.role == OpeningRole::Exit { "out" } else { "in" })),
            cell(format!("{}{}", pieces(fate), area(fate.before_m2))),
            cell(size(fate.drawn_m2)),
            cell(size(fate.sized_m2)),
            cell(fate.fate.to_string()),
        ]
    });
    let moves = found.margins.iter().filter(|moved| moved.moved_K.abs() >= TOLD).map(|moved| {
        let because: Vec<String> = moved
            .because
            .iter()
            .filter(|mover| mover.moved_K.abs() >= TOLD)
            .map(|mover| format!("{} ({})", mover.table, changes::by(mover.moved_K)))
            .collect();
        vec![
            cell(format!("{} in {}", moved.part, words::name(&moved.condition))),
            cell(words::margin(moved.temperature_margin_before_K)),
            cell(words::margin(moved.temperature_margin_after_K)),
            cell(because.join(", ")),
        ]
    });
    let (openings, moves): (Vec<_>, Vec<_>) = (openings.collect(), moves.collect());
    html! {
        p { (since(against)) }
        @for trouble in &found.trouble { p { strong { (words::sentence(trouble)) "." } } }
        (table(
            "The openings of the older case on the newer body",
            &[(Align::Text, "opening"), (Align::Figure, "was"), (Align::Figure, "drawn now"), (Align::Figure, "sized anew"), (Align::Text, "so")],
            openings,
        ))
        @if moves.is_empty() {
            p { "No margin moved by half a kelvin." }
        } @else {
            (table(
                "Margins that moved, and by what",
                &[(Align::Text, "margin"), (Align::Figure, "was"), (Align::Figure, "is"), (Align::Text, "each on its own")],
                moves,
            ))
        }
        h3 { "Addresses that differ" }
        @if found.differs.is_empty() { p { "None." } }
        ul { @for line in differences::lines(&found.differs) { li { (words::on_paper(&line)) } } }
        @if !found.unmatched.is_empty() {
            ul {
                @for other in &found.unmatched {
                    li { (other.what) " " (other.name) ": " (if other.added { "new" } else { "gone" }) ", not compared" }
                }
            }
        }
    }
}
