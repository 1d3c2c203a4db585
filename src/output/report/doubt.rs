//! How sure it is, and what to measure first.

use super::parts::{Align, cell, table};
use super::pictures::{PictureSizes, figure};
use crate::draws::doubt::Doubt;
use crate::output::charts::{BarChart, Picture};
use crate::output::ranking::{self, Ranks, ranked};
use crate::output::text::{doubt as told, words};
use crate::study::document::Report;
use crate::study::doubt::shares::Ranked;
use crate::study::everything::Everything;
use maud::{Markup, html};

/// So many are told how to measure.
const HOW: usize = 5;

/// What to measure first, as bars.
pub(super) fn ranked_figure(report: &Report, by: &Ranked) -> Markup {
    let chart = PictureSizes::of(|width| BarChart { width, ..ranking::chart(report, by) }.svg_without_font());
    figure(chart, false, "What knowing a guess, or taking a reading, would leave of the band.")
}

/// Every margin with its band, and what measuring would leave.
pub(super) fn doubt(all: &Everything, found: &Doubt) -> Markup {
    let report = &all.report;
    let rows = report.conditions.iter().flat_map(|condition| {
        condition.parts.iter().filter(|part| part.has_limit()).map(move |part| {
            vec![
                cell(format!("{} in {}", part.name, words::name(&condition.name))),
                cell(words::margin(part.temperature_margin_K)),
                cell(part.margin_band_K.map_or(String::new(), |band| told::span(&band))),
                cell(part.likelihood.map_or(String::new(), told::how_often)),
            ]
        })
    });
    html! {
        @for sentence in told::sentences(report, found) { p { strong { (sentence) } } }
        p.note {
            "A band holds 9 times in 10, with every number that is guessed drawn from its own band, all conditions of one car together: "
            (found.draws) " cars. How often is what is not known of this one car, not luck from lap to lap. Measure what decides, and it becomes "
            "10 in 10, or 0."
        }
        (table(
            "How sure each margin is",
            &[(Align::Text, "part"), (Align::Figure, "values taken"), (Align::Figure, "9 in 10"), (Align::Figure, "stays cool")],
            rows.collect(),
        ))
        @if let Some(by) = &report.ranked {
            h3 { "What to measure first" }
            (ranked_figure(report, by))
            ul {
                @for (each, _) in ranked(report).iter().take(HOW) {
                    li {
                        strong { (each.name()) } ": "
                        @match each {
                            Ranks::Guess(worth) => { (words::sentence(worth.measure)) ". Takes " (worth.takes) "." }
                            Ranks::Reading(worth) => { (words::sentence(worth.how)) ". Takes " (worth.takes) "." }
                        }
                    }
                }
            }
        }
    }
}
