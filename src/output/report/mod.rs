//! The report: one page of HTML that holds everything, opens from a disk and prints on A4.
//!
//! | file | what it holds |
//! | --- | --- |
//! | `sheet` | the first page, to hand on: openings, worst case, what decides |
//! | `request` | the sheet for whoever does the aerodynamics |
//! | `scrutineer` | the sheet for scrutineering |
//! | `pictures` | charts, pressure, air, runs in time |
//! | `tables` | where the pressure goes, conditions, parts, passages and their elements |
//! | `doubt` | how sure it is, what to measure first |
//! | `decisions` | why the exits are so large, layouts side by side, what changed |
//! | `cut` | every opening as it is cut |
//! | `stints` | runs in time in figures |
//! | `sources` | assumptions, warnings, what was read, what could not be run |
//! | `parts` | what all of them are built of |
//!
//! The page is written so that it is XML as well; nothing in it is fetched, and no script is needed. Whatever stands in the case is
//! escaped. `sections` is the list of what follows the three sheets: a further study joins there.

mod bench;
mod cut;
mod decisions;
mod doubt;
mod parts;
mod pictures;
mod request;
mod scrutineer;
mod sheet;
mod sources;
mod stints;
mod tables;

use super::charts::font_face_css;
use crate::study::everything::Everything;
use maud::{Markup, PreEscaped, html};

/// How the page looks, on a screen and on paper.
const STYLE: &str = include_str!("style.css");

/// A part of the report behind the sheets.
struct ReportSection {
    /// Its anchor.
    id: &'static str,
    heading: &'static str,
    /// What stands under it.
    body: Markup,
}

/// A page of HTML: three sheets and what fits two pages more, or, where `whole`, everything.
pub fn report(all: &Everything, whole: bool) -> String {
    let title = all.report.title.as_deref().unwrap_or("Case without a title");
    let sections = if whole { sections(all) } else { in_short(all) };
    // `font_face_css` and STYLE hold neither "<" nor "&"
    let page = html! {
        html lang="en" xmlns="http://www.w3.org/1999/xhtml" {
            head {
                (PreEscaped("<meta charset=\"utf-8\"/>"))
                (PreEscaped("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>"))
                title { "Cooling openings: " (title) }
                style { (PreEscaped(font_face_css())) (PreEscaped(STYLE)) (PreEscaped(running_foot(all))) }
            }
            body {
                main class=[(!whole).then_some("short")] {
                    (sheet::sheet(all))
                    (request::sheet(all))
                    (scrutineer::sheet(all))
                    @if whole { (contents(&sections)) }
                    @for section in &sections {
                        section id=(section.id) aria-labelledby={ (section.id) "-heading" } {
                            h2 id={ (section.id) "-heading" } { (section.heading) }
                            (section.body)
                        }
                    }
                }
                footer {
                    @if !whole { p { "Every condition, part, passage, assumption and warning: " code { "slowcorner report --all" } "." } }
                    (parts::identity_line(&all.report))
                }
            }
        }
    };
    format!("<!DOCTYPE html>\n{}\n", page.into_string())
}

/// What stands at the foot of every page of paper: whose it is, and which page.
fn running_foot(all: &Everything) -> String {
    let report = &all.report;
    let mut words: Vec<String> = Vec::new();
    words.extend(report.title.clone());
    words.extend(report.revision.clone());
    words.push(format!("case {}", parts::checksum(report)));
    // whatever stands in the case is written as escapes, so that no sign of it is a sign of the style
    let escaped =
        |text: &str| -> String { text.chars().map(|sign| format!("\\{:06x}", u32::from(sign))).collect() };
    format!(
        "@page {{ @bottom-left {{ content: \"{}\"; }} @bottom-right {{ content: \"page \" counter(page) \" of \" counter(pages); }} }}",
        escaped(&words.join(" · "))
    )
}

/// What follows the sheets by default: what fits two pages of A4.
fn in_short(all: &Everything) -> Vec<ReportSection> {
    let report = &all.report;
    let caption = match report.sizes.is_some() {
        true => "Margin against road speed with the openings of sheet 1.",
        false => "Margin against road speed.",
    };
    let body = html! { (pictures::margin(report, caption)) (pictures::pressure(report)) };
    let mut list = vec![ReportSection { id: "charts", heading: "Margin, and where the pressure goes", body }];
    let exits = report.exits.as_ref().map(|exits| decisions::exits_figure(report, exits));
    let ranked = report.ranked.as_ref().map(|by| doubt::ranked_figure(report, by));
    let run = match (&exits, &ranked) {
        (Some(_), Some(_)) => None,
        _ => report.stints.first().map(|stint| pictures::course(report, stint)),
    };
    let body = html! { @for figure in [ranked, exits, run].into_iter().flatten() { (figure) } };
    if !body.0.is_empty() {
        list.push(ReportSection {
            id: "next",
            heading: "What to measure first, and what the exits ask for",
            body,
        });
    }
    if !all.skipped.is_empty() {
        list.push(ReportSection {
            id: "left-out",
            heading: "Not in this report",
            body: sources::skipped(all),
        });
    }
    list
}

/// What follows the sheets, in order. A further study joins here.
fn sections(all: &Everything) -> Vec<ReportSection> {
    let section = |id, heading, body| ReportSection { id, heading, body };
    let mut list = vec![
        section("charts", "Charts", pictures::charts(all)),
        section("pressure", "Where the pressure goes", tables::pressure(all)),
        section("conditions", "Conditions, parts and passages", tables::conditions(all)),
    ];
    if let Some(found) = &all.report.doubt {
        list.insert(
            0,
            section("doubt", "How sure it is, and what to measure first", doubt::doubt(all, found)),
        );
    }
    if let Some(templates) = &all.templates {
        list.push(section("cut", "Openings as they are cut", cut::openings(templates)));
    }
    if let Some(steps) = &all.cutting {
        list.push(section("steps", "Cutting in steps", cut::steps(steps)));
    }
    if let Some(tape) = &all.tape {
        list.push(section("tape", "How much tape", cut::tape(tape)));
    }
    if !all.readings.is_empty() {
        let body = bench::readings(&all.report, &all.readings);
        list.push(section("readings", "What was read, and what was reckoned", body));
    }
    if let Some(card) = &all.testcard {
        list.push(section("testcard", "What to read on bench and road", bench::testcard(card)));
    }
    if let Some(exits) = &all.report.exits {
        let body = decisions::exits(&all.report, exits);
        list.push(section("exits", "Why the exits are as large as that", body));
    }
    if let Some(comparison) = &all.comparison {
        let body = decisions::layouts(&all.report, comparison);
        list.push(section("layouts", "Layouts side by side", body));
    }
    if let Some(against) = &all.against {
        list.push(section("changed", "What changed", decisions::changed(against)));
    }
    if !all.report.stints.is_empty() {
        list.push(section("time", "Runs in time", stints::stints(all)));
    }
    list.push(section("assumptions", "Every assumption", sources::assumptions(all)));
    list.push(section("warnings", "Warnings", sources::warnings(all)));
    list.push(section("read", "As it was read", sources::echoes(all)));
    if !all.skipped.is_empty() {
        list.push(section("left-out", "Not in this report", sources::skipped(all)));
    }
    list
}

fn contents(sections: &[ReportSection]) -> Markup {
    html! {
        nav aria-label="What follows" {
            h2 { "What follows" }
            ol {
                @for section in sections {
                    li { a href={ "#" (section.id) } { (section.heading) } }
                }
            }
        }
    }
}
