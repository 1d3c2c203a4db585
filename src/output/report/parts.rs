//! What the sheets and sections are built of: tables, blanks, lines that say whose they are.

use crate::output::text::words;
use crate::output::text::words::area;
use crate::study::check::openings::OpeningFacts;
use crate::study::check::sensitivity::Hit;
use crate::study::document::Report;
use maud::{Markup, PreEscaped, html};

/// Digits of the case's checksum that are enough to tell two apart.
const CHECKSUM: usize = 12;

/// How a column stands.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Align {
    Text,
    Figure,
}

/// A table with a caption; the first cell of each row is its head.
pub(super) fn table(caption: &str, heads: &[(Align, &str)], rows: Vec<Vec<Markup>>) -> Markup {
    let class = |column: usize| match heads.get(column) {
        Some((Align::Figure, _)) => Some("figure"),
        _ => None,
    };
    let content = html! {
        table {
            caption { (caption) }
            thead {
                tr {
                    @for (column, (_, head)) in heads.iter().enumerate() {
                        th scope="col" class=[class(column)] { (head) }
                    }
                }
            }
            tbody {
                @for row in &rows {
                    tr {
                        @for (column, cell) in row.iter().enumerate() {
                            @if column == 0 {
                                th scope="row" { (cell) }
                            } @else {
                                td class=[class(column)] data-label=[heads.get(column).map(|(_, head)| head)] { (cell) }
                            }
                        }
                    }
                }
            }
        }
    };
    if heads.len() < 5 {
        return content;
    }
    // wide ones may be pushed sideways on a small screen, by keys too
    html! { div.wide role="region" tabindex="0" aria-label=(caption) { (content) } }
}

/// Plain text as a cell.
pub(super) fn cell(text: impl AsRef<str>) -> Markup {
    html! { (text.as_ref()) }
}

/// An address: where a line is too short for it, it breaks behind a slash.
pub(super) fn address(text: &str) -> Markup {
    let mut pieces = text.split_inclusive('/');
    html! {
        @if let Some(first) = pieces.next() { (first) }
        @for piece in pieces { (PreEscaped("<wbr/>")) (piece) }
    }
}

/// What a change costs the part that it hits.
pub(super) fn hit(hit: &Hit) -> Markup {
    html! {
        strong { (words::margin(hit.before_K)) " → " (words::margin(hit.after_K)) }
        span.where { (hit.part) " in " (words::name(&hit.condition)) }
    }
}

/// A place to write by hand.
pub(super) fn blank(what: &str) -> Markup {
    html! { span.blank role="img" aria-label={ "to be filled in: " (what) } {} }
}

/// What is known, or a place to write it by hand.
pub(super) fn known(text: Option<&str>, what: &str) -> Markup {
    match text.map(str::trim) {
        Some(text) if !text.is_empty() => html! { (text) },
        _ => blank(what),
    }
}

/// A box to tick.
pub(super) fn tick(label: &str) -> Markup {
    html! { span.tick { span.box aria-hidden="true" {} (label) } }
}

/// The checksum of the case, as far as it is shown.
pub(super) fn checksum(report: &Report) -> String {
    report.case_sha256.chars().take(CHECKSUM).collect()
}

/// Whose sheet it is: what is missing is left to be written in.
pub(super) fn identity(report: &Report) -> Markup {
    html! {
        dl.identity {
            div { dt { "Revision" } dd { (known(report.revision.as_deref(), "revision")) } }
            div { dt { "Date" } dd { (known(report.date.as_deref(), "date")) } }
            div { dt { "Author" } dd { (known(report.author.as_deref(), "author")) } }
            div { dt { "Case" } dd.sum { (checksum(report)) } }
            div { dt { "Reckoned by" } dd { (report.program.name) " " (report.program.version) } }
        }
        @if !report.set.is_empty() {
            p.what-if {
                strong { "What if: " }
                @for (place, set) in report.set.iter().enumerate() {
                    @if place > 0 { "; " }
                    (address(&set.address)) " = " (set.value)
                }
                ". The case file says otherwise."
            }
        }
    }
}

/// The same in one line.
pub(super) fn identity_line(report: &Report) -> Markup {
    html! {
        p {
            (report.title.as_deref().unwrap_or("Case without a title"))
            @for word in [&report.revision, &report.date, &report.author].into_iter().flatten() { " · " (word) }
            " · case " (checksum(report)) " · " (report.program.name) " " (report.program.version)
        }
    }
}

/// "89 × 44 mm", "130 mm across", or how far across a round one of that area is.
pub(super) fn clear_size(opening: &OpeningFacts) -> String {
    let millimetres = |key: &str| opening.lengths_m.get(key).map(|metres| words::whole(metres * 1e3));
    match (millimetres("width"), millimetres("height"), millimetres("diameter")) {
        (Some(width), Some(height), _) => format!("{width} × {height} mm"),
        (_, _, Some(diameter)) => format!("{diameter} mm across"),
        _ => {
            let round = (4.0 * opening.area_m2 / std::f64::consts::PI).sqrt();
            format!("any shape; if round, {} mm across", words::whole(round * 1e3))
        }
    }
}

/// Area of one opening; of louvres that of the field and what of it is open.
pub(super) fn area_of_one(opening: &OpeningFacts) -> String {
    area_as(opening, opening.area_m2)
}

/// Another area (m²) of the same opening, told alike.
pub(super) fn area_as(opening: &OpeningFacts, m2: f64) -> String {
    match opening.louvres.filter(|open| *open < 1.0) {
        Some(open) => words::louvred(m2, open),
        None => area(m2),
    }
}

/// Where an opening is; what the case does not say is left to be written in.
pub(super) fn place(opening: &OpeningFacts) -> Markup {
    let height =
        opening.above_ground_m.map(|metres| format!("{} mm above ground", words::whole(metres * 1e3)));
    html! {
        @match (&opening.place, &opening.position) {
            (_, Some(position)) => {
                @if let Some(name) = &opening.place { (name) ": " }
                (position)
            }
            (Some(name), None) => { (name) ", " (blank("where exactly")) }
            (None, None) => { (blank("where")) }
        }
        @if let Some(height) = height { ", " (height) }
    }
}
