//! What to read on the bench and on the road.

use super::parts::{Align, cell, table};
use super::pictures::{PictureSizes, figure};
use crate::case::fitted::FittedReading;
use crate::output::charts::{Picture, ReadChart};
use crate::output::fitted;
use crate::output::text::testcard as told;
use crate::output::text::words;
use crate::study::document::Report;
use crate::study::testcard::result::{Card, Planned};
use maud::{Markup, html};

/// What was read of a fitted case, against what was reckoned.
pub(super) fn readings(report: &Report, readings: &[FittedReading]) -> Markup {
    let chart =
        PictureSizes::of(|width| ReadChart { width, ..fitted::chart(report, readings) }.svg_without_font());
    figure(chart, true, "What was read, and what was expected of it before and after.")
}

/// The card in short: what is read and what it should show; boxes, taps and cautions stand on the sheet of its own.
pub(super) fn testcard(card: &Card) -> Markup {
    let heads = [
        (Align::Text, "run"),
        (Align::Text, "read"),
        (Align::Text, "should show, 9 in 10"),
        (Align::Figure, "worth"),
        (Align::Text, "outside it suspect first"),
    ];
    let rows = card.runs.iter().flat_map(|run| {
        let one = |planned: &Planned| {
            vec![
                cell(told::head(run)),
                cell(&planned.what),
                cell(told::expected(planned)),
                cell(words::kelvins(planned.adds_K)),
                cell(told::suspects(&planned.suspects)),
            ]
        };
        run.readings.iter().map(one).collect::<Vec<_>>()
    });
    html! {
        p { strong { (told::verdict(card)) } }
        @for text in told::lost(card) { p { (text) } }
        (table("Readings, the least harmful run first", &heads, rows.collect()))
        p { (told::with(card)) }
        @for coarse in &card.coarse { p { (told::too_coarse(coarse)) } }
        p.note { (told::SIGNS) " A sheet with boxes, taps, tufts, stop values and cautions, and a file for what was read: " code { "slowcorner testcard" } "." }
    }
}
