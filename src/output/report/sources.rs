//! What the answer rests on: assumptions with their bands and sources, warnings, what was read, what was not run.

use super::parts::{Align, address, cell, table};
use crate::output::text::defaults::value_and_band;
use crate::output::text::words;
use crate::point::margins::LeastMargin;
use crate::study::check::sensitivity::Assumption;
use crate::study::document::DefaultUsed;
use crate::study::everything::Everything;
use maud::{Markup, html};

pub(super) fn assumptions(all: &Everything) -> Markup {
    let rows = all.deciding.assumptions.iter().map(|each| {
        let (value, band) = value_and_band(&each.value, &each.low, &each.high);
        vec![
            address(&each.key),
            cell(value),
            cell(band),
            cell(moves(each, &all.deciding.least)),
            source(each),
        ]
    });
    let heads = [
        (Align::Text, "address"),
        (Align::Figure, "taken"),
        (Align::Text, "band"),
        (Align::Text, "least margin, low and high end"),
        (Align::Text, "from"),
    ];
    // those without a band have but one value
    let settled: Vec<_> = all.report.defaults.iter().filter(|taken| taken.low == taken.high).collect();
    let rest = gathered(&settled).into_iter().map(|(key, first, places)| {
        vec![
            cell(key),
            cell(words::on_paper(&first.value)),
            cell(words::on_paper(&first.source)),
            address(&places.join(", ")),
        ]
    });
    let one = [(Align::Text, "key"), (Align::Figure, "taken"), (Align::Text, "from"), (Align::Text, "at")];
    html! {
        p {
            "Each number with a band was set to either end of it, alone, and the least margin looked at again. Heaviest first. "
            "What the case says without a band is taken as known."
        }
        (table("Numbers with a band", &heads, rows.collect()))
        @if !settled.is_empty() {
            (table("Left out of the case, and of one value", &one, rest.collect()))
        }
    }
}

/// The same default at several addresses: key, the first, and where.
fn gathered<'r>(settled: &[&'r DefaultUsed]) -> Vec<(&'r str, &'r DefaultUsed, Vec<&'r str>)> {
    let mut all: Vec<(&str, &DefaultUsed, Vec<&str>)> = Vec::new();
    for taken in settled {
        let (place, key) = taken.key.rsplit_once('/').unwrap_or(("", &taken.key));
        let same = all.iter_mut().find(|(known, first, _)| {
            *known == key && (&first.value, &first.source) == (&taken.value, &taken.source)
        });
        match same {
            Some((_, _, places)) => places.push(place),
            None => all.push((key, taken, vec![place])),
        }
    }
    all
}

fn source(each: &Assumption) -> Markup {
    match each.source {
        Some(source) => html! { "default: " (words::on_paper(source)) },
        None => cell("the case"),
    }
}

/// "+6 → −3 K to +9 K", or that nothing moves.
fn moves(each: &Assumption, now: &Option<LeastMargin>) -> String {
    let end = |least: &Option<LeastMargin>| {
        least.as_ref().map_or("not reckoned".to_string(), |least| words::margin(least.temperature_margin_K))
    };
    let still = each.falls_K < 0.05 && each.rises_K < 0.05;
    if now.is_some() && still && each.at_low.is_some() && each.at_high.is_some() {
        return "does not move".to_string();
    }
    format!("{}; {}", end(&each.at_low), end(&each.at_high))
}

pub(super) fn warnings(all: &Everything) -> Markup {
    let rows = all.report.warnings.iter().map(|warning| {
        vec![
            cell(warning.code),
            address(warning.place.as_deref().unwrap_or("the whole case")),
            cell(words::on_paper(&warning.message)),
        ]
    });
    let heads = [(Align::Text, "code"), (Align::Text, "where"), (Align::Text, "what was seen")];
    html! {
        @if all.report.warnings.is_empty() {
            p { "None." }
        } @else {
            (table("Warnings", &heads, rows.collect()))
        }
    }
}

pub(super) fn echoes(all: &Everything) -> Markup {
    html! {
        p { "Lines in which a slip of the pen would show." }
        ul { @for echo in &all.echoes { li { (words::sentence(&words::on_paper(echo))) } } }
    }
}

pub(super) fn skipped(all: &Everything) -> Markup {
    html! {
        ul {
            @for skipped in &all.skipped { li { strong { (words::sentence(&skipped.study)) } ": " (skipped.why) } }
        }
    }
}
