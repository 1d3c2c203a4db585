//! Every opening as it is cut.

use super::parts::{Align, cell, table};
use crate::output::text;
use crate::output::text::said::Said;
use crate::output::text::words;
use crate::study::steps::result::Steps;
use crate::study::tape::result::Tape;
use crate::study::templates::result::{LineName, Template, Templates};
use maud::{Markup, html};

/// The hole of every opening in millimetres; the sheets themselves are a file of their own.
pub(super) fn openings(templates: &Templates) -> Markup {
    let heads = [
        (Align::Text, "opening"),
        (Align::Text, "shape"),
        (Align::Figure, "hole, mm"),
        (Align::Figure, "air, cm²"),
        (Align::Figure, "land, mm"),
        (Align::Text, "edge"),
    ];
    html! {
        (table("The hole of each, whole millimetres rounded up", &heads, templates.openings.iter().filter_map(row).collect()))
        p.note {
            "Full size, with what to cut first, what next and what never to go beyond: "
            code { "slowcorner templates" }
            ". Print it at 100 % and measure the bars before you cut. Taken where the case does not say: "
            (assumed(templates)) "."
        }
    }
}

/// The steps in words, as on the page of their own.
pub(super) fn steps(steps: &Steps) -> Markup {
    html! {
        p { strong { (text::steps::verdict(steps)) } }
        (words_of(&text::steps::said(steps)))
        p.note { "One page for the workshop: " code { "slowcorner steps" } "." }
    }
}

/// The tape card: what to lay; what gauges then show stands on the card itself.
pub(super) fn tape(tape: &Tape) -> Markup {
    let mut heads = vec![(Align::Figure, "air, °C")];
    heads.extend(tape.columns.iter().map(|column| (Align::Text, column.column.into())));
    let rows = tape.rows.iter().map(|row| {
        let mut cells = vec![cell(words::whole(row.air_C))];
        cells.extend(row.cells.iter().map(|each| cell(text::tape::order(each))));
        cells
    });
    html! {
        p { strong { (text::tape::verdict(tape)) } }
        (words_of(&text::tape::above(tape)))
        (table("Whole strips on each piece", &heads, rows.collect()))
        (words_of(&text::tape::below(tape)))
        p.note { "A card of A5 with the readings to expect: " code { "slowcorner tape" } "." }
    }
}

/// A page in words.
fn words_of(said: &[Said]) -> Markup {
    html! {
        @for each in said {
            @match each {
                Said::Plain(text) => p { (text) },
                Said::Alarm(text) => p { strong { (text) } },
                Said::Heading(text) => h3 { (text) },
                Said::Row(word, text) => p { strong { (word) } " " (text) },
                Said::Quiet(text) => p.note { (text) },
            }
        }
    }
}

fn row(template: &Template) -> Option<Vec<Markup>> {
    let line = template.lines.iter().find(|line| line.line == LineName::Final)?;
    let pieces = words::times(template.pieces as f64);
    let millimetres = |metres: f64| words::whole(1e3 * metres);
    Some(vec![
        cell(format!("{pieces}{}", template.opening)),
        cell(template.shape.to_string()),
        cell(format!("{} × {}", millimetres(line.hole_width_m), millimetres(line.hole_height_m))),
        cell(words::square_centimetres(line.sheet_m2)),
        cell(millimetres(template.land_m)),
        cell(&template.edge),
    ])
}

fn assumed(templates: &Templates) -> String {
    let mut said: Vec<&str> = Vec::new();
    for what in templates.openings.iter().flat_map(|opening| &opening.assumed) {
        if !said.contains(&what.as_str()) {
            said.push(what);
        }
    }
    if said.is_empty() { "nothing".to_string() } else { said.join(", ") }
}
