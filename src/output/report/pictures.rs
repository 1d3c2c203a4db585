//! Charts, as SVG in the page.

use crate::output::charts::{ChartError, Picture};
use crate::output::text::words;
use crate::output::{air, course, curves};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::everything::Everything;
use crate::study::sweep::result::Sweep;
use maud::{Markup, PreEscaped, html};
use rayon::prelude::*;

/// Pictures wider than this get a page of their own, turned on its side (px).
const WIDE: f64 = 820.0;
/// Pictures taller than this by their width may fill a page.
const TALL: f64 = 0.9;

/// A picture to be drawn, and what to say under it.
enum Wanted<'e> {
    Margin(&'e Report, &'static str),
    Pressure(&'e Report),
    Air(&'e Report, &'e Condition, &'static str),
    Course(&'e Report, usize),
}

pub(super) fn charts(all: &Everything) -> Markup {
    let report = &all.report;
    let mut wanted = Vec::new();
    if report.sweep.is_some() {
        let words = if report.sizes.is_some() {
            "Margin against road speed with the openings of sheet 1."
        } else {
            "Margin against road speed."
        };
        wanted.push(Wanted::Margin(report, words));
    }
    if let Some(drawn) = all.drawn.as_ref().filter(|drawn| drawn.sweep.is_some()) {
        wanted.push(Wanted::Margin(drawn, "The same with the openings as drawn."));
    }
    if report.sweep.is_some() {
        wanted.push(Wanted::Pressure(report));
    }
    let words = if report.sizes.is_some() { "with the openings of sheet 1" } else { "" };
    wanted.extend(report.conditions.iter().map(|condition| Wanted::Air(report, condition, words)));
    if let Some(drawn) = &all.drawn {
        // as drawn only where air runs back that does not in the openings to be cut
        let turned = drawn.conditions.iter().filter(|condition| {
            let now = report.conditions.iter().find(|other| other.name == condition.name);
            let back = |c: &Condition| c.passages.iter().filter(|p| p.reversed).count();
            back(condition) > now.map_or(0, back)
        });
        wanted.extend(turned.map(|condition| Wanted::Air(drawn, condition, "as drawn")));
    }
    wanted.extend((0..report.stints.len()).map(|stint| Wanted::Course(report, stint)));
    let notes = match report.conditions.first() {
        Some(condition) => air::picture(report, condition, &[]).footnotes,
        None => Vec::new(),
    };
    let figures = wanted.par_iter().map(Wanted::figure).collect::<Vec<Markup>>();
    html! {
        @if figures.is_empty() { p { "Nothing to draw." } }
        @for note in &notes { p.note { (note) } }
        @for figure in &figures { (figure) }
    }
}

impl Wanted<'_> {
    fn figure(&self) -> Markup {
        let of_sweep = |report: &Report, svg: &dyn Fn(&Sweep) -> Result<String, ChartError>| {
            report.sweep.as_ref().map_or(Ok(String::new()), svg)
        };
        match self {
            Wanted::Margin(report, words) => {
                let svg = of_sweep(report, &|sweep| curves::margins(report, sweep).svg_without_font());
                figure(svg, false, words)
            }
            Wanted::Pressure(report) => {
                let svg = of_sweep(report, &|sweep| curves::pressures(report, sweep).svg_without_font());
                let words = "What drives the cooling air and what takes the pressure, against road speed.";
                figure(svg, false, words)
            }
            Wanted::Air(report, condition, how) => {
                let how = if how.is_empty() { String::new() } else { format!(", {how}") };
                let words = format!("The air in {}{how}.", words::name(&condition.name));
                let mut picture = air::picture(report, condition, &report.conditions);
                // said once above all of them
                picture.footnotes.clear();
                figure(picture.svg_without_font(), true, &words)
            }
            Wanted::Course(report, stint) => {
                let stint = &report.stints[*stint];
                let words = format!("{} in time.", words::sentence(&stint.name));
                figure(course::temperatures(report, stint).svg_without_font(), false, &words)
            }
        }
    }
}

/// A picture with what to say under it, turned on its side where it may be and is wide. One that cannot be drawn is left out
/// with a note: it is no reason to lose the page.
pub(super) fn figure(svg: Result<String, ChartError>, may_turn: bool, words: &str) -> Markup {
    let svg = match svg {
        Ok(svg) => svg,
        Err(error) => return html! { p.note { (words) " The picture is left out: " (error) "." } },
    };
    let (width, height) = size(&svg);
    let class = match () {
        () if may_turn && width > WIDE => Some("on-its-side"),
        () if height > TALL * width => Some("tall"),
        () => None,
    };
    html! {
        figure class=[class] {
            // drawn here from data whose every text the writer escapes
            (PreEscaped(svg))
            figcaption { (words) }
        }
    }
}

/// The width and height that a picture asks for.
fn size(svg: &str) -> (f64, f64) {
    let number = |start: &str| {
        let text = svg.split_once(start).and_then(|(_, rest)| rest.split('"').next());
        text.and_then(|text| text.parse().ok()).unwrap_or(0.0)
    };
    (number(" width=\""), number(" height=\""))
}
