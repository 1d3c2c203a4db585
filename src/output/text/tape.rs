//! The tape card.

use super::layout::{PLAIN, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::said::{Said, as_text};
use super::short::{self, Depth};
use super::{frame, words};
use crate::study::document::Report;
use crate::study::tape::result::{Shows, Tape, TapeAim, TapeCell, TapeRow, TapeSays};

/// The card on the terminal; on a short screen without what gauges then show.
pub fn tape(report: &Report, tape: &Tape, depth: Depth, written: &[String]) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, "tape card", depth);
    if depth == Depth::Short {
        paragraph(&mut out, STRONG, &verdict(tape));
        heading(&mut out, "Tape");
        grid(&mut out, tape, &order);
        out.push('\n');
        paragraph(&mut out, PLAIN, &openings_and_dash(tape));
        tape.rules.iter().for_each(|rule| item(&mut out, 2, "", rule));
        item(&mut out, 2, "", &format!("Never tape {}.", words::list(&tape.never)));
        short::end(
            &mut out,
            written,
            "What gauges then show, and which conditions a column is: on the card, and --detail",
        );
        return out;
    }
    frame::verdict(&mut out, &verdict(tape), false);
    as_text(&mut out, &above(tape));
    heading(&mut out, "Tape");
    grid(&mut out, tape, &order);
    for (place, part) in tape.parts.iter().enumerate() {
        heading(&mut out, &format!("{} then shows, °C", part.part));
        grid(&mut out, tape, &|cell| cell.shows.get(place).map_or("–".to_string(), reading));
    }
    as_text(&mut out, &below(tape));
    frame::written(&mut out, written);
    out
}

/// One thing of every cell.
fn grid(out: &mut String, tape: &Tape, what: &dyn Fn(&TapeCell) -> String) {
    let mut heads = vec![(TextColumn::Right, "air, °C".to_string())];
    heads.extend(tape.columns.iter().map(|column| (TextColumn::Right, column.column.to_string())));
    let mut table = TextTable::new(heads);
    for row in &tape.rows {
        let mut cells = vec![TextCell::new(STRONG, format!("{:.0}", row.air_C))];
        cells.extend(row.cells.iter().map(|cell| TextCell::new(PLAIN, what(cell))));
        table.row(cells);
    }
    table.write(out);
}

/// The answer in a sentence.
pub(in crate::output) fn verdict(tape: &Tape) -> String {
    let width = words::whole(1e3 * tape.tape_width_m);
    let openings: Vec<String> = tape
        .openings
        .iter()
        .filter(|opening| {
            tape.rows.iter().flat_map(|row| &row.cells).any(|cell| cell.opening == Some(opening.letter))
        })
        .map(|opening| {
            format!(
                "{} is {} of {}, from {}",
                opening.letter,
                each(opening.pieces),
                opening.passage,
                opening.from_edge
            )
        })
        .collect();
    if openings.is_empty() {
        return format!("No tape helps in any weather of this card (strips of {width} mm).");
    }
    format!("Whole strips of {width} mm: {}.", openings.join("; "))
}

fn each(pieces: usize) -> &'static str {
    if pieces > 1 { "each inlet or exit" } else { "the opening" }
}

/// What is said over the table.
pub(in crate::output) fn above(tape: &Tape) -> Vec<Said> {
    let parts: Vec<String> = tape
        .parts
        .iter()
        .map(|part| match part.least_C {
            Some(least) => format!("{} {least:.0} to {:.0}", part.part, part.limit_C),
            None => format!("{} up to {:.0}", part.part, part.limit_C),
        })
        .collect();
    let aim = match tape.aim {
        TapeAim::KeepWarm => {
            "Fewest strips that keep warm what has a lower limit, every part 10 K under its limit"
        }
        TapeAim::SpareDrag => "The most tape that leaves every part 10 K under its limit",
    };
    vec![Said::Plain(format!(
        "{aim}. Readings: {} in °C with the values taken (9 in 10 lie in the brackets). Allowed: {}.",
        words::list(&tape.parts.iter().map(|part| part.part.as_str()).collect::<Vec<_>>()),
        parts.join(", ")
    ))]
}

/// What is said under it.
pub(in crate::output) fn below(tape: &Tape) -> Vec<Said> {
    let mut said = vec![Said::Heading("If, then".to_string())];
    said.extend(tape.rules.iter().map(|rule| Said::Row("", rule.clone())));
    let columns = tape.columns.iter().map(|column| {
        let taken = column.taken.map_or(String::new(), |taken| format!(" ({taken})"));
        format!("{}: {}{taken}", column.column, words::list(&column.conditions))
    });
    said.push(Said::Heading("Never".to_string()));
    said.push(Said::Row("", format!("tape {}.", words::list(&tape.never))));
    let roll = if tape.tape_width_said { "" } else { " Width of the tape assumed (tape_width in [body])." };
    said.push(Said::Quiet(format!(
        "Columns: {}. {} An estimate: gauges come first.{roll}",
        columns.collect::<Vec<_>>().join("; "),
        openings_and_dash(tape)
    )));
    said
}

/// Of which openings it is the card, in which air its power is less sure, and what a dash stands for, where there is one.
fn openings_and_dash(tape: &Tape) -> String {
    let size = if tape.sized { "as sized, not as drawn" } else { "as the case has them" };
    let cells = || tape.rows.iter().flat_map(|row| &row.cells);
    let dash = if cells().any(|cell| cell.says == TapeSays::Outside) {
        " –: no tape, and eyes on the gauges: there is no answer."
    } else {
        ""
    };
    format!("Openings {size}.{}{dash}", beyond(tape))
}

/// In which air the engine's power is corrected further than its standard accepts, in some column.
fn beyond(tape: &Tape) -> String {
    let is = |row: &&TapeRow| row.cells.iter().any(|cell| cell.power_beyond_correction);
    let all: Vec<String> = tape.rows.iter().filter(is).map(|row| format!("{:.0}", row.air_C)).collect();
    if all.is_empty() {
        return String::new();
    }
    format!(
        " At {} °C the engine's power is less sure (corrected by more than the 7 % of ISO 1585): eyes on the gauges there.",
        words::list(&all)
    )
}

/// "2 × A", "no tape", "too hot", "–".
pub(in crate::output) fn order(cell: &TapeCell) -> String {
    match (cell.says, cell.opening) {
        (TapeSays::Outside, _) => "–".to_string(),
        (TapeSays::Tape, Some(letter)) => format!("{} × {letter}", cell.strips),
        (TapeSays::TooCold, Some(letter)) => format!("{} × {letter}, cold", cell.strips),
        (TapeSays::TooCold, None) => "no tape, cold".to_string(),
        (says, _) => says.to_string(),
    }
}

/// "165 (140 to 190)".
pub(in crate::output) fn reading(shows: &Shows) -> String {
    match (shows.low_C, shows.high_C) {
        (Some(low), Some(high)) => format!("{:.0} ({low:.0} to {high:.0})", shows.taken_C),
        _ => format!("{:.0}", shows.taken_C),
    }
}
