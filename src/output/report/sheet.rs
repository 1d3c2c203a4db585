//! The first page, to hand on: what to cut, how sure that is, and why not smaller.

use super::decisions;
use super::parts::{
    Align, address, area_as, area_of_one, blank, cell, clear_size, hit, identity, place, table,
};
use crate::output::text::way::{PressureBudget, in_words, passages_of, what_runs_back};
use crate::output::text::words::area;
use crate::output::text::{between, beyond, doubt as told, limits, margins, size, words};
use crate::point::margins::LeastMargin;
use crate::point::result::OpeningRole;
use crate::study::check::openings::OpeningFacts;
use crate::study::check::sensitivity::Assumption;
use crate::study::everything::Everything;
use crate::study::size::result::SizeBound;
use maud::{Markup, html};

/// So many assumptions stand on the first page.
const DECIDE: usize = 5;
/// A move of the least margin below this is not worth a line on the first page (K).
const MOVES: f64 = 0.5;

pub(super) fn sheet(all: &Everything) -> Markup {
    let report = &all.report;
    let (verdict, missed) = margins::verdict(report);
    let engine = all.openings.iter().filter(|opening| opening.to == "engine").count();
    html! {
        section.sheet id="sheet" aria-labelledby="title" {
            p.kind { "Cooling openings: sheet 1, to hand on" }
            h1 id="title" { (report.title.as_deref().unwrap_or("Case without a title")) }
            (identity(report))
            @if let Some(sizes) = &report.sizes {
                p.verdict { strong { (size::verdict(report, sizes)) } }
            }
            p.verdict {
                @if report.sizes.is_some() { "At these sizes: " }
                @if missed { strong { (verdict) } } @else { (verdict) }
            }
            @if let Some(found) = &report.between {
                @let (text, over) = between::between(found, &report.conditions);
                p.verdict { @if over { strong { (text) } } @else { (text) } }
            }
            @if let Some(against) = &all.against {
                p.verdict { (decisions::since(against)) }
            }
            @if let Some(drawn) = &all.drawn {
                p.note { "The case as drawn, before anything is cut: " (margins::verdict(drawn).0) }
            }
            h2 { "What to cut" }
            (openings(all))
            p.note {
                "Clear size, square to the flow at the narrowest, without lip or flange"
                @if engine > 0 { "; the engine's own intake included" }
                ". Cut exits before inlets, and stop short of the line: an exit too large can be taped, an inlet too large spills."
            }
            h2 { "Worst case of each part" }
            (worst(all))
            h2 { "How sure, and what decides it" }
            (deciding(all))
            (cautions(all))
            p.sign { "Checked by " (blank("name")) " date " (blank("date")) }
        }
    }
}

fn openings(all: &Everything) -> Markup {
    let sized = all.report.sizes.is_some();
    let rows = all.openings.iter().map(|opening| {
        let mut row = vec![
            html! { (opening.name) span.where { (if opening.role == OpeningRole::Exit { "out" } else { "in" }) "; " (place(opening)) } },
            html! { strong { (opening.pieces) " × " (area_of_one(opening)) } span.where { (clear_size(opening)) } },
        ];
        if sized {
            row.push(drawn(opening));
        }
        row.push(cell(&opening.edge));
        row.push(cell(bounds(opening)));
        row.push(smaller(all, opening));
        row
    });
    let mut heads = vec![(Align::Text, "opening, and where"), (Align::Text, "how many × area of one")];
    if sized {
        heads.push((Align::Text, "as drawn"));
    }
    heads.extend([
        (Align::Text, "edge"),
        (Align::Text, "limits of one"),
        (Align::Text, "10 % smaller costs"),
    ]);
    table(if sized { "Openings as sized" } else { "Openings as drawn" }, &heads, rows.collect())
}

fn drawn(opening: &OpeningFacts) -> Markup {
    if !opening.free {
        return cell("kept");
    }
    let by = opening.area_m2 / opening.drawn_m2 - 1.0;
    let way = match (by * 100.0).round() {
        0.0 => "the same".to_string(),
        more if more > 0.0 => format!("larger by {more:.0}\u{a0}%"),
        less => format!("smaller by {:.0}\u{a0}%", -less),
    };
    html! { (area_as(opening, opening.drawn_m2)) span.where { (way) } }
}

/// Bounds that the case sets, and which of them was met.
fn bounds(opening: &OpeningFacts) -> String {
    let range = |of: f64| match (opening.least_m2.map(|m2| of * m2), opening.most_m2.map(|m2| of * m2)) {
        (Some(least), Some(most)) => {
            format!("{} to {}", words::square_centimetres(least), area(most))
        }
        (Some(least), None) => format!("from {}", area(least)),
        (None, Some(most)) => format!("up to {}", area(most)),
        (None, None) => "none given".to_string(),
    };
    let is_bound = opening.least_m2.is_some() || opening.most_m2.is_some();
    let mut text = match opening.louvres.filter(|open| *open < 1.0 && is_bound) {
        Some(open) => format!("field {}, of it open {}", range(1.0), range(open)),
        None => range(1.0),
    };
    if !opening.free {
        text = "not free".to_string();
    }
    if let Some(cut) = opening.cut_m2 {
        text.push_str(&format!("; {} are cut", area_as(opening, cut)));
    }
    if let Some(bound) = opening.at_bound {
        text.push_str(&format!("; {}", size::bound_in_words(bound)));
    }
    text
}

/// What a tenth less of its area does: of the parts that lose by it, the one with the fewest kelvins left.
fn smaller(all: &Everything, opening: &OpeningFacts) -> Markup {
    let step = all.deciding.smaller.iter().find(|step| step.opening == opening.name);
    let Some(step) = step else { return cell("") };
    match &step.hits {
        _ if !step.solved => cell("no steady state"),
        Some(hit) => self::hit(hit),
        None if opening.at_bound == Some(SizeBound::Least) => cell("at its least; no part needs more"),
        None => cell("no part loses 1 K"),
    }
}

/// "oil in hairpin".
fn who(least: &LeastMargin) -> String {
    format!("{} in {}", least.part, words::name(&least.condition))
}

fn worst(all: &Everything) -> Markup {
    let parts = margins::parts(&all.report);
    let rows = parts.iter().filter_map(|part| {
        let at = margins::worst(part)?;
        let why: Vec<String> = passages_of(at.condition, &at.part.name)
            .into_iter()
            .map(|passage| {
                let back = if passage.reversed {
                    format!("{} flows back; ", what_runs_back(at.condition, passage))
                } else {
                    String::new()
                };
                let through =
                    if passage.name == at.part.name { String::new() } else { format!("{}: ", passage.name) };
                format!("{through}{back}{}", in_words(&PressureBudget::of(at.condition, passage)))
            })
            .collect();
        let air = words::air(at.part.flow_margin, at.part.margin_is);
        let missed = words::is_missed(at.part.flow_margin, at.part.margin_is);
        let margin = beyond::margin(&all.report.conditions, &at.part.name, at.part.temperature_margin_K);
        let limit = at
            .part
            .measured_at
            .as_deref()
            .map_or(String::new(), |spot| format!(" at the {}", spot.trim_start_matches("the ")));
        Some(vec![
            html! { (at.part.name) span.where { "limit " (limits::in_full(&all.report, &at.part.name, at.part.limit_C)) (limit) } },
            cell(&at.condition.name),
            html! { @if missed { strong { (margin) } } @else { (margin) } },
            cell(air),
            cell(if why.is_empty() { "no passage cools it".to_string() } else { why.join("; ") }),
        ])
    });
    let rows: Vec<_> = rows.collect();
    if rows.is_empty() {
        return html! { p { "No condition and no part to check." } };
    }
    let heads = [
        (Align::Text, "part"),
        (Align::Text, "worst in"),
        (Align::Text, "margin"),
        (Align::Text, "air"),
        (Align::Text, "where the pressure goes"),
    ];
    table("The condition in which each part has least air to spare", &heads, rows)
}

/// How often all must hold for nothing to want measuring first.
const SURE: f64 = 0.9;

fn deciding(all: &Everything) -> Markup {
    let deciding = &all.deciding;
    let Some(least) = &deciding.least else {
        return html! { p { "Nothing could be tried: there is no condition with a part in it." } };
    };
    let guesses = deciding.assumptions.len();
    let moving: Vec<&Assumption> = deciding
        .assumptions
        .iter()
        .filter(|each| each.falls_K.max(each.rises_K) >= MOVES)
        .take(DECIDE)
        .collect();
    let names: Vec<String> = deciding.at.iter().map(|name| words::name(name)).collect();
    let sure = match () {
        _ if least.temperature_margin_K < 0.0 => {
            "It is missed already; the list says what to measure before anything is cut."
        }
        _ if deciding.together_falls_K > least.temperature_margin_K => {
            "That is more than there is: do not call it safe before the first of these are measured, and do not cut to the line."
        }
        _ => "Something would be left even then.",
    };
    let rows = moving.iter().map(|each| {
        vec![
            html! { (address(&each.key)) span.where { @if each.source.is_some() { "left out of the case: a default" } @else { "as the case says" } } },
            cell(words::on_paper(&each.value)),
            end(&each.low, &each.at_low),
            end(&each.high, &each.at_high),
        ]
    });
    html! {
        p {
            "Least margin in " (words::list(&names)) ": " strong { (words::margin(least.temperature_margin_K)) ", " (who(least)) }
            ". " (guesses) " numbers are known only within a band. "
            @if let Some(found) = &all.report.doubt {
                @for sentence in told::sentences(&all.report, found) { strong { (sentence) } " " }
                @if found.all_hold < SURE { "What decides wants measuring before anything is cut: see below." }
            } @else {
                "The worst of them alone would take "
                (words::kelvins(deciding.assumptions.first().map_or(0.0, |each| each.falls_K)))
                " off it; all of them, if they are independent, about " (words::kelvins(deciding.together_falls_K)) ". " (sure)
            }
        }
        @if moving.is_empty() {
            p { "No one of them moves it by half a kelvin." }
        } @else {
            (table(
                "The assumptions that decide it: each set to either end of its band, alone",
                &[(Align::Text, "address in the case"), (Align::Text, "taken"), (Align::Text, "least margin if low"), (Align::Text, "least margin if high")],
                rows.collect(),
            ))
        }
    }
}

fn end(value: &str, least: &Option<LeastMargin>) -> Markup {
    let value = words::on_paper(value);
    match least {
        Some(least) => html! {
            (value) ": " strong { (words::margin(least.temperature_margin_K)) } span.where { (who(least)) }
        },
        None => html! { (value) ": cannot be reckoned" },
    }
}

fn cautions(all: &Everything) -> Markup {
    let fans = all.report.conditions.iter().any(|condition| !condition.fans.is_empty());
    html! {
        p.caution {
            strong { "Cautions. " }
            "An estimate: it does not replace temperature gauges, the engine maker's limits, the sporting rules or a competent engineer's judgement. "
            "A closed bay collects fuel and oil: drain, low vent, fuel cut-off in reach, extinguisher nozzle. Seal the bulkhead, fit a carbon monoxide alarm. "
            "Keep exit air off driver, tyres, people who push and the fuel filler. "
            @if fans { "Guard the fan. " }
            "Resin softens in hot air, also after stopping. When you cut: wet, respirator (P3), goggles, carburettor covered, nothing live behind the skin; radius every edge."
        }
    }
}
