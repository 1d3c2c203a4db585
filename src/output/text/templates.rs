//! What was drawn full size, in short.

use super::doubt::how_often;
use super::layout::{PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::{frame, words};
use crate::study::document::Report;
use crate::study::templates::result::{CutLine, HoleShape, LineName, Meaning, Template, Templates};

/// Where no lines keep all parts cool.
pub(super) const CUT_NOTHING: &str = "Cut nothing yet: with none of these lines does all stay cool. Change fan, cooler or limit first, and size again.";

/// The lines of every opening in millimetres, what each keeps, what was taken for granted, and the files written.
pub fn templates(report: &Report, templates: &Templates, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    frame::verdict(&mut out, &verdict(templates), !templates.can_be_done);
    table(&mut out, templates);
    for meaning in &templates.lines {
        item(&mut out, 0, "", &format!("{}: {}.", meaning.line, told(meaning)));
    }
    assumed(&mut out, &templates.openings);
    written_shortly(&mut out, written);
    out.push('\n');
    paragraph(
        &mut out,
        QUIET,
        "Print at 100 %; both bars on each sheet must measure 99.5 to 100.5 mm. Dust: cut wet, P3 mask, carburettor covered, \
         nothing live behind. An estimate: gauges, the engine maker's limits and your rule book come first.",
    );
    out
}

fn verdict(templates: &Templates) -> String {
    let openings = words::count(templates.openings.len(), "opening");
    match (templates.sized, templates.can_be_done, templates.by_draws) {
        (false, _, _) => format!("{openings} as the case has them: without [size] one line each."),
        (true, false, _) if templates.hopeless => CUT_NOTHING.to_string(),
        (true, false, _) => {
            format!("No sizes reach all margins: the lines of {openings} are the best that can be had.")
        }
        (true, true, true) => {
            format!(
                "{openings} with the lines to cut by, in order. Cut the PILOT, measure, go on where that asks for it; what may be driven at each line, and when to stop: slowcorner steps."
            )
        }
        (true, true, false) => {
            format!("{openings} as sized with the values taken; how sure that is was not asked.")
        }
    }
}

fn table(out: &mut String, templates: &Templates) {
    let lines: Vec<LineName> = templates.lines.iter().map(|meaning| meaning.line).collect();
    let mut columns = vec![(TextColumn::Wrapped, "mm of the hole, and cm² of air".to_string())];
    columns.extend(lines.iter().map(|line| (TextColumn::Right, line.to_string())));
    let mut table = TextTable::new(columns);
    for template in &templates.openings {
        let often = words::times(template.pieces as f64);
        let mut row = vec![TextCell::new(STRONG, format!("{often}{}, {}", template.opening, template.shape))];
        row.extend(lines.iter().map(|name| {
            let line = template.lines.iter().find(|line| line.line == *name);
            TextCell::new(PLAIN, line.map_or("–".to_string(), |line| size(line, template)))
        }));
        table.row(row);
    }
    table.write(out);
}

/// "82 × 41, 34"; of a circle "Ø 82, 53", of louvres "297 × 139, field 412, open 144".
fn size(line: &CutLine, template: &Template) -> String {
    let end = if line.ends_at.is_some() { " *" } else { "" };
    let sides = sides(template.shape, line);
    format!("{sides}, {}{end}", words::area_in_a_cell(line.sheet_m2, template.louvres))
}

/// The sides of a hole in whole millimetres, or its diameter: what a sloping skin makes of a circle is none.
pub(in crate::output) fn sides(shape: HoleShape, line: &CutLine) -> String {
    let (width, height) = (words::whole(1e3 * line.hole_width_m), words::whole(1e3 * line.hole_height_m));
    match shape {
        HoleShape::Circle if width == height => format!("Ø {width}"),
        _ => format!("{width} × {height}"),
    }
}

fn told(meaning: &Meaning) -> String {
    let holds =
        meaning.all_hold.map_or(String::new(), |share| format!("; all stay cool {}", how_often(share)));
    let least = match (meaning.least_K, &meaning.part, &meaning.condition) {
        (Some(kelvin), Some(part), Some(condition)) => {
            format!(
                "; with the values taken {} {} in {}",
                part,
                words::margin(kelvin),
                words::name(condition)
            )
        }
        _ => String::new(),
    };
    format!("{}{holds}{least}", meaning.when)
}

/// What was taken where the case does not say, openings of which the same was taken together.
fn assumed(out: &mut String, openings: &[Template]) {
    let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
    for opening in openings {
        for what in &opening.assumed {
            match said.iter_mut().find(|(known, _)| known == what) {
                Some((_, names)) => names.push(&opening.opening),
                None => said.push((what, vec![&opening.opening])),
            }
        }
    }
    if openings.iter().any(|opening| opening.lines.iter().any(|line| line.ends_at.is_some())) {
        paragraph(
            out,
            PLAIN,
            "* ends at a flange or at the land to be kept: measure what the areas then lack.",
        );
    }
    if !said.is_empty() {
        heading(out, "Taken where the case does not say (outline = { … } at the opening)");
        let (all, some): (Vec<_>, Vec<_>) =
            said.into_iter().partition(|(_, names)| names.len() == openings.len());
        let mut lines: Vec<String> = Vec::new();
        if !all.is_empty() {
            lines.push(all.iter().map(|(what, _)| *what).collect::<Vec<_>>().join(", "));
        }
        lines.extend(some.iter().map(|(what, names)| format!("{}: {what}", words::list(names))));
        lines.iter().for_each(|line| item(out, 2, "", line));
    }
}

/// The sheets in full, the files for machines counted.
fn written_shortly(out: &mut String, written: &[String]) {
    let (sheets, machines): (Vec<&String>, Vec<&String>) =
        written.iter().partition(|file| file.ends_with(".pdf"));
    heading(out, "Written");
    for sheet in sheets {
        item(out, 2, "", sheet);
    }
    if let Some(first) = machines.first() {
        item(
            out,
            2,
            "",
            &format!(
                "{first} and {} more: .svg and .dxf of each opening, .dxf of each duct laid flat",
                machines.len() - 1
            ),
        );
    }
}
