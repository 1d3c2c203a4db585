//! Runs in time, in figures.

use super::parts::{Align, cell, table};
use crate::output::text::{doubt, lap, words};
use crate::study::everything::Everything;
use crate::study::lap::result::{Standing, Stint};
use maud::{Markup, html};

pub(super) fn stints(all: &Everything) -> Markup {
    html! {
        @for stint in &all.report.stints { (one(stint)) }
        p.note {
            "Resin softens, fuel boils and hoses age in the heat after stopping as well: look at the soak, not at the run alone. No lap time is meant by any of this."
        }
    }
}

fn one(stint: &Stint) -> Markup {
    let rows = stint.parts.iter().enumerate().map(|(index, (name, part))| {
        let start = stint.start_C.0.get(index).map_or(f64::NAN, |(_, start)| *start);
        let last = stint.steps.last().and_then(|step| step.parts.get(name));
        vec![
            cell(name),
            cell(words::celsius(start)),
            cell(words::celsius(part.peak_C)),
            cell(words::celsius(part.limit_C)),
            cell(words::margin(part.temperature_margin_K)),
            cell(part.margin_band_K.map_or(String::new(), |band| doubt::span(&band))),
            html! { (lap::time(part.peak_at_s)) (lap::place(stint, part.peak_step)) },
            cell(if part.over_limit_s > 0.0 { lap::time(part.over_limit_s) } else { "never".to_string() }),
            cell(last.map_or(String::new(), |last| words::celsius(last.temperature_C))),
        ]
    });
    let heads = [
        (Align::Text, "part"),
        (Align::Figure, "start"),
        (Align::Figure, "hottest"),
        (Align::Figure, "limit"),
        (Align::Figure, "margin"),
        (Align::Figure, "9 in 10"),
        (Align::Text, "when"),
        (Align::Figure, "over limit"),
        (Align::Figure, "at the end"),
    ];
    let name = words::sentence(&stint.name);
    html! {
        h3 { (name) }
        p { (lap::verdict(stint)) }
        @if let Some(assumed) = lap::assumed(stint) { p { (assumed) } }
        @if let Some(share) = stint.likelihood {
            p { "All parts stay cool all the way: " (doubt::how_often(share)) "." }
        }
        (table(&format!("{name}: parts"), &heads, rows.collect()))
        (chambers(stint, &name))
        @if let Some(repeats) = &stint.repeats { p { (lap::laps(repeats)) } }
        @for measured in lap::measured(stint) { p { (measured) } }
        @for warm in &stint.warm_up { p { (lap::warm_up(warm)) } }
        @if !stint.standing.is_empty() {
            ul { @for stands in &stint.standing { li { (standing(stint, stands)) } } }
        }
        @if !stint.notes.is_empty() {
            ul { @for note in &stint.notes { li { (words::sentence(note)) } } }
        }
    }
}

fn chambers(stint: &Stint, name: &str) -> Markup {
    if stint.chambers.is_empty() {
        return html! {};
    }
    let rows = stint.chambers.iter().map(|(chamber, over)| {
        let limit = over.limit_C.map_or(String::new(), |limit| {
            let what = over.limit_for.as_deref().map_or(String::new(), |what| format!(", {what}"));
            format!("{}{what}", words::celsius(limit))
        });
        let long = match over.limit_C {
            Some(_) if over.over_limit_s > 0.0 => lap::time(over.over_limit_s),
            Some(_) => "never".to_string(),
            None => String::new(),
        };
        vec![
            cell(chamber),
            cell(words::celsius(over.hottest.peak_C)),
            cell(lap::time(over.hottest.peak_at_s)),
            cell(limit),
            cell(long),
        ]
    });
    let heads = [
        (Align::Text, "air in"),
        (Align::Figure, "hottest"),
        (Align::Figure, "at"),
        (Align::Text, "limit"),
        (Align::Figure, "over it for"),
    ];
    table(&format!("{name}: air in chambers"), &heads, rows.collect())
}

fn standing(stint: &Stint, stands: &Standing) -> String {
    let begin = match (stands.in_step, stands.from_s) {
        (Some(_), Some(from)) => {
            format!("in {} from {} on, were it to last", words::name(&stands.condition), lap::time(from))
        }
        _ if stands.engine_off => format!("engine stopped at the end ({})", words::name(&stands.condition)),
        _ => format!("left standing at the end as in {}", words::name(&stands.condition)),
    };
    let begun = words::sentence(&format!("{begin}: {}.", lap::outcome(stint, stands)));
    lap::fans_off(stands).map_or(begun.clone(), |off| format!("{begun} {off}"))
}
