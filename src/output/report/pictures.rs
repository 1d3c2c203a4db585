//! Charts, as SVG in the page.

use crate::output::charts::{AirPicture, BandChart, ChartError, LineChart, Picture, StairChart};
use crate::output::text::words;
use crate::output::{air, course, curves, stairs};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::everything::Everything;
use crate::study::lap::result::Stint;
use maud::{Markup, PreEscaped, html};
use rayon::prelude::*;

/// Pictures wider than this get a page of their own, turned on its side (px).
const WIDE: f64 = 820.0;
/// Pictures taller than this by their width may fill a page.
const TALL: f64 = 0.9;

/// A picture to be drawn, and what to say under it.
enum PictureWanted<'e> {
    Margin(&'e Report, &'static str),
    Stairs(&'e Report),
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
        wanted.push(PictureWanted::Margin(report, words));
    }
    if let Some(drawn) = all.drawn.as_ref().filter(|drawn| drawn.sweep.is_some()) {
        wanted.push(PictureWanted::Margin(drawn, "The same with the openings as drawn."));
    }
    if report.sweep.is_some() {
        wanted.push(PictureWanted::Stairs(report));
        wanted.push(PictureWanted::Pressure(report));
    }
    let words = if report.sizes.is_some() { "with the openings of sheet 1" } else { "" };
    wanted.extend(report.conditions.iter().map(|condition| PictureWanted::Air(report, condition, words)));
    if let Some(drawn) = &all.drawn {
        // as drawn only where air runs back that does not in the openings to be cut
        let turned = drawn.conditions.iter().filter(|condition| {
            let now = report.conditions.iter().find(|other| other.name == condition.name);
            let back = |c: &Condition| c.passages.iter().filter(|p| p.reversed).count();
            back(condition) > now.map_or(0, back)
        });
        wanted.extend(turned.map(|condition| PictureWanted::Air(drawn, condition, "as drawn")));
    }
    wanted.extend((0..report.stints.len()).map(|stint| PictureWanted::Course(report, stint)));
    let notes = match report.conditions.first() {
        Some(condition) => air::picture(report, condition, &[]).footnotes,
        None => Vec::new(),
    };
    let figures = wanted.par_iter().map(PictureWanted::figure).collect::<Vec<Markup>>();
    html! {
        @if figures.is_empty() { p { "Nothing to draw." } }
        @for note in &notes { p.note { (note) } }
        @for figure in &figures { (figure) }
    }
}

/// Width of a picture for a page in the hand (points): its type is nearly as large as that of the text there.
const IN_THE_HAND: f64 = 380.0;
/// Of the points of a sweep one in so many is drawn there: as close as its pixels can show.
const IN_THE_HAND_EVERY: usize = 3;

/// A picture as it is drawn for a desk and for paper, and, where it can be, for the hand.
pub(super) struct PictureSizes {
    wide: Result<String, ChartError>,
    narrow: Option<Result<String, ChartError>>,
}

impl PictureSizes {
    /// Both, from what draws it: at its usual width where none is given.
    pub(super) fn of(draw: impl Fn(Option<f64>) -> Result<String, ChartError>) -> PictureSizes {
        PictureSizes { wide: draw(None), narrow: Some(draw(Some(IN_THE_HAND))) }
    }
}

/// A chart of lines made narrow, as high as it was.
pub(super) fn narrow(chart: LineChart, width: Option<f64>) -> LineChart {
    let Some(width) = width else { return chart };
    let height = chart.size.map_or(560.0, |(_, height)| height);
    LineChart { size: Some((width, height)), ..chart }
}

/// Margin against road speed.
pub(super) fn margin(report: &Report, words: &str) -> Markup {
    let Some(sweep) = &report.sweep else { return html! {} };
    let chart = PictureSizes::of(|width| narrow(curves::margins(report, sweep), width).svg_without_font());
    figure(chart, false, words)
}

/// Where the pressure goes in the slow corner.
pub(super) fn pressure(report: &Report) -> Markup {
    let Some(condition) = stairs::slowest(report) else { return html! {} };
    let chart = PictureSizes::of(|width| {
        StairChart { width, ..stairs::pressures(report, condition) }.svg_without_font()
    });
    let words = format!("Where the pressure goes in {}: each way of the air.", words::name(&condition.name));
    figure(chart, false, &words)
}

/// Temperatures of a run.
pub(super) fn course(report: &Report, stint: &Stint) -> Markup {
    let words = format!("{} in time.", words::sentence(&stint.name));
    let chart = PictureSizes::of(|width| course::temperatures(report, stint, width).svg_without_font());
    figure(chart, false, &words)
}

impl PictureWanted<'_> {
    fn figure(&self) -> Markup {
        match self {
            PictureWanted::Margin(report, words) => margin(report, words),
            PictureWanted::Stairs(report) => pressure(report),
            PictureWanted::Pressure(report) => {
                let Some(sweep) = &report.sweep else { return html! {} };
                let last = sweep.points.len().saturating_sub(1);
                let chart = PictureSizes::of(|width| match width {
                    None => curves::pressures(report, sweep).svg_without_font(),
                    Some(width) => {
                        let mut few = sweep.clone();
                        let mut place = 0..;
                        few.points.retain(|_| {
                            place.next().is_some_and(|at| at % IN_THE_HAND_EVERY == 0 || at == last)
                        });
                        let size = Some((width, 540.0));
                        BandChart { size, ..curves::pressures(report, &few) }.svg_without_font()
                    }
                });
                let words = "What drives the cooling air and what takes the pressure, against road speed.";
                figure(chart, false, words)
            }
            PictureWanted::Air(report, condition, how) => {
                let how = if how.is_empty() { String::new() } else { format!(", {how}") };
                let words = format!("The air in {}{how}.", words::name(&condition.name));
                let mut picture = air::picture(report, condition, &report.conditions);
                // said once above all of them
                picture.footnotes.clear();
                let in_the_hand = Some(Ok(in_words(&picture).into_string()));
                figure(PictureSizes { wide: picture.svg_without_font(), narrow: in_the_hand }, true, &words)
            }
            PictureWanted::Course(report, stint) => course(report, &report.stints[*stint]),
        }
    }
}

/// The same in words, for a page too narrow for the picture: what stands in each space and what flows through each passage.
fn in_words(picture: &AirPicture) -> Markup {
    let rooms = picture.rooms.iter().map(|room| (&room.name, "", &room.lines));
    let channels = picture.channels.iter().map(|each| (&each.name, each.warning.as_str(), &each.lines));
    html! {
        ul.in-the-hand {
            @for (name, warning, lines) in rooms.chain(channels) {
                li {
                    strong { (name) } ": "
                    @if !warning.is_empty() { strong { (warning) } "; " }
                    (lines.join("; "))
                }
            }
        }
    }
}

/// A picture with what to say under it, turned on its side where it may be and is wide. One that cannot be drawn is left out
/// with a note: it is no reason to lose the page.
pub(super) fn figure(drawn: PictureSizes, may_turn: bool, words: &str) -> Markup {
    let svg = match drawn.wide {
        Ok(svg) => svg,
        Err(error) => return html! { p.note { (words) " The picture is left out: " (error) "." } },
    };
    let (width, height) = size(&svg);
    let class = match () {
        () if may_turn && width > WIDE => Some("on-its-side"),
        () if height > TALL * width => Some("tall"),
        () => None,
    };
    let of_class = |svg: &str, class: &str| svg.replacen("<svg ", &format!("<svg class=\"{class}\" "), 1);
    html! {
        figure class=[class] {
            // drawn here from data whose every text the writer escapes
            @match drawn.narrow {
                Some(Ok(narrow)) => {
                    (PreEscaped(of_class(&svg, "at-a-desk")))
                    (PreEscaped(of_class(&narrow, "in-the-hand")))
                }
                _ => { (PreEscaped(svg)) }
            }
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
