//! Cutting in steps: one page to take to the car.

use super::doubt::{how_often, unit};
use super::layout::{MISSED, PLAIN, STRONG, item, paragraph};
use super::said::{Said, as_text};
use super::short::{self, Depth};
use super::templates::CUT_NOTHING;
use super::{frame, words};
use crate::study::document::Report;
use crate::study::steps::result::{
    CutStep, ExpectedShown, Likely, MarginTrough, NextCut, Steps, StopReadings,
};
use crate::study::templates::result::LineName;

/// Traps told in full.
const TRAPS: usize = 2;
/// Readings told beside the one that says stop.
const READINGS: usize = 4;

/// The order, the traps, the steps one after another, and what a millimetre does; on a short screen what is cut, what it
/// buys, and what comes then.
pub fn steps(report: &Report, steps: &Steps, depth: Depth, written: &[String]) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, "cutting in steps", depth);
    if depth == Depth::Short {
        paragraph(&mut out, if steps.can_be_done { STRONG } else { MISSED }, &verdict(steps));
        shortly(&mut out, steps);
        short::end(
            &mut out,
            written,
            "Where it may be driven, what to read there, what 1 mm does: on the page, and --detail",
        );
        return out;
    }
    frame::verdict(&mut out, &verdict(steps), !steps.can_be_done);
    as_text(&mut out, &said(steps));
    frame::written(&mut out, written);
    out
}

/// Each line in a few lines.
fn shortly(out: &mut String, steps: &Steps) {
    if let Some(trap) = steps.traps.first() {
        paragraph(out, PLAIN, &trap_in_words(trap));
    }
    for (index, step) in steps.steps.iter().enumerate() {
        let next = steps.steps.get(index + 1).map(|step| step.line);
        item(out, 0, &format!("{}  {}  ", index + 1, step.line), &cuts(&step.cuts));
        let then = match step.jumped {
            Some(_) => format!(
                "Do not stop here: {}.",
                next.map_or("on".to_string(), |next| format!("on to {next} at once"))
            ),
            None => {
                let (word, text) = rule(step, next);
                format!("{word} {text}")
            }
        };
        item(out, 3, "", &format!("{} {then}", costs(step)));
    }
}

/// The answer in a sentence.
pub(in crate::output) fn verdict(steps: &Steps) -> String {
    let stops: Vec<&str> =
        steps.steps.iter().filter(|step| step.stop.is_some()).map(|step| step.line.into()).collect();
    let lines = match stops[..] {
        [] => "Cut along the lines as below; no reading on the way says stop".to_string(),
        _ => format!("Cut along the lines as below; at {} readings may say stop", words::list(&stops)),
    };
    if steps.hopeless {
        CUT_NOTHING.to_string()
    } else if steps.can_be_done {
        format!("{lines}.")
    } else {
        format!(
            "{lines}. No sizes reach all margins with the values taken: change something else where none does."
        )
    }
}

/// All that is said under it.
pub(in crate::output) fn said(steps: &Steps) -> Vec<Said> {
    let mut said = vec![Said::Plain(format!(
        "At each step: {}. Exits before inlets: an exit too large can be taped, an inlet too large spills; of each kind the largest first. \
         Read something else than is told here, or any part over its limit: cut nothing, measure (slowcorner doubt).",
        words::list(&steps.order)
    ))];
    said.extend(steps.traps.iter().take(TRAPS).map(|trap| Said::Alarm(trap_in_words(trap))));
    for (index, step) in steps.steps.iter().enumerate() {
        let next = steps.steps.get(index + 1).map(|step| step.line);
        self::step(&mut said, index + 1, step, next);
    }
    millimetre(&mut said, steps);
    said.push(Said::Quiet(
        "Sheets to cut by: slowcorner templates. Bands hold 9 in 10 of what the guesses and the gauges may turn out to be. An estimate: \
         gauges, the engine maker's limits and your rule book come first; never drive on with a part over its limit."
            .to_string(),
    ));
    said
}

fn trap_in_words(trap: &MarginTrough) -> String {
    let area = words::square_centimetres;
    format!(
        "Trap: in {} exits from {} to {} cm² in all make {} worse ({} falls to {} at {} cm²). Do not creep: cut to {} at once, and tape back if it is too much.",
        words::name(&trap.condition),
        area(trap.from_exits_m2),
        area(trap.to_exits_m2),
        trap.part,
        words::margin(trap.from_K),
        words::margin(trap.worst_K),
        area(trap.worst_exits_m2),
        trap.line
    )
}

fn step(said: &mut Vec<Said>, number: usize, step: &CutStep, next: Option<LineName>) {
    said.push(Said::Heading(format!("{number}  {}", step.line)));
    said.push(Said::Row("Cut", cuts(&step.cuts)));
    said.push(Said::Row("Buys", costs(step)));
    if let Some(why) = step.jumped {
        said.push(Said::Row("Go on", format!("do not stop here: {why}.")));
        return;
    }
    if let Some(where_to) = driven(step, next.is_none()) {
        said.push(Said::Row("Drive", where_to));
    }
    if !step.readings.is_empty() {
        said.push(Said::Row("Read", expected(step)));
    }
    let (word, text) = rule(step, next);
    said.push(Said::Row(word, text));
}

/// "2 × heads 76 × 39 mm, 29 cm²", those alike told together.
fn cuts(cuts: &[NextCut]) -> String {
    let mut told: Vec<(Vec<String>, String)> = Vec::new();
    for cut in cuts {
        let often = words::times(cut.pieces as f64);
        let area = match cut.louvres {
            Some(open) => words::louvred(cut.area_m2, open),
            None => words::area(cut.area_m2),
        };
        let size = format!(
            "{} × {} mm, {area}",
            words::millimetres(cut.hole_width_m),
            words::millimetres(cut.hole_height_m)
        );
        let name = format!("{often}{}", cut.opening);
        match told.iter_mut().find(|(_, known)| *known == size) {
            Some((names, _)) => names.push(name),
            None => told.push((vec![name], size)),
        }
    }
    let told = told.iter().map(|(names, size)| {
        let each = if names.len() > 1 { " each" } else { "" };
        format!("{} {size}{each}", words::list(names))
    });
    format!("{}.", told.collect::<Vec<_>>().join("; "))
}

fn costs(step: &CutStep) -> String {
    let least = match (step.least_K, &step.part, &step.condition) {
        (Some(kelvin), Some(part), Some(condition)) => {
            format!("With the values taken {part} {} in {}", words::margin(kelvin), words::name(condition))
        }
        _ => "With the values taken not every condition has a steady state".to_string(),
    };
    let holds = step.all_hold.map_or(String::new(), |share| format!("; all cool {}", how_often(share)));
    let mut bought = Vec::new();
    if let Some(area) = step.more_area_m2 {
        bought.push(words::area(area));
    }
    if let Some(kelvin) = step.more_K {
        bought.push(format!("{} K", plus(kelvin)));
    }
    if let Some(newtons) = step.more_drag_N {
        bought.push(format!("{} N", plus(newtons)));
    }
    let bought =
        if bought.is_empty() { String::new() } else { format!("; the line costs {}", bought.join(", ")) };
    format!("{least}{holds}{bought}.")
}

fn plus(value: f64) -> String {
    let sign = if value >= 0.5 { "+" } else { "" };
    format!("{sign}{}", words::whole(value))
}

fn driven(step: &CutStep, last: bool) -> Option<String> {
    let names = |list: &[Likely]| {
        let names: Vec<&str> = list.iter().map(|likely| likely.moment.as_str()).collect();
        words::list(&names)
    };
    match (step.driven.is_empty(), step.kept_from.is_empty()) {
        (true, true) => None,
        (true, false) => Some(format!("nowhere for long yet ({}).", names(&step.kept_from))),
        (false, true) => Some(format!("{}.", names(&step.driven))),
        // nothing is cut after the last: what is then not sure is driven by the gauges
        (false, false) if last => Some(format!(
            "{}. Less sure than 19 in 20, eyes on the gauges: {}.",
            names(&step.driven),
            names(&step.kept_from)
        )),
        (false, false) => Some(format!("{}. Not yet: {}.", names(&step.driven), names(&step.kept_from))),
    }
}

fn expected(step: &CutStep) -> String {
    let shown = |expected: &ExpectedShown| {
        let band = &expected.shows;
        format!(
            "{} {} to {} {}",
            expected.reading,
            words::whole(band.p05),
            words::whole(band.p95),
            unit(expected.kind)
        )
    };
    let readings: Vec<String> = step.readings.iter().take(READINGS).map(shown).collect();
    let when = step.readings.first().map_or("", |reading| reading.moment.as_str());
    let how_long = match step.settles_s {
        Some(seconds) => format!("after {} min", (seconds / 60.0).ceil().max(1.0)),
        None => "once it no longer climbs".to_string(),
    };
    format!("{when}, {how_long}: {}.", readings.join("; "))
}

fn rule(step: &CutStep, next: Option<LineName>) -> (&'static str, String) {
    let sure = step.all_hold.is_some_and(|share| share >= 0.95);
    let (word, text) = match &step.stop {
        Some(stop) => ("Stop", format!("if {}", stop_in_words(stop))),
        None if sure => return ("Stop", "here: all stays cool in 19 of 20.".to_string()),
        None => {
            return match next {
                Some(LineName::NeverBeyond) => (
                    "Go on",
                    "as far as NEVER BEYOND and no further: no reading that can be had here says stop.".to_string(),
                ),
                Some(next) => ("Go on", format!("to {next}: no reading that can be had here says stop.")),
                None => (
                    "Stop",
                    "here all the same: more buys nothing, and no reading that can be had here says that all stays cool. Change fan, cooler or limit.".to_string(),
                ),
            };
        }
    };
    let els = match next {
        Some(LineName::NeverBeyond) => "Else cut as far as NEVER BEYOND and no further".to_string(),
        Some(next) => format!("Else cut to {next}"),
        None => "Else cut no more: change fan, cooler or limit".to_string(),
    };
    (word, format!("{text}. {els}."))
}

fn stop_in_words(stop: &StopReadings) -> String {
    let limits = stop.limits.iter().map(|at| format!("{} {}", at.part, words::whole(at.most_C)));
    format!(
        "{} °C or less, {} (true of {}; then all stays cool in 19 of 20)",
        words::list(&limits.collect::<Vec<_>>()),
        stop.moment,
        how_often(stop.share)
    )
}

/// What a millimetre does.
fn millimetre(said: &mut Vec<Said>, steps: &Steps) {
    let cuts = steps.hand_cut.iter().filter_map(|cut| {
        let moves = cut.larger_K?.abs().max(cut.smaller_K?.abs());
        let kelvin = if moves < 0.5 { "less than 1 K".to_string() } else { words::kelvins(moves) };
        Some(format!("{} {} cm², {kelvin}", cut.opening, words::fixed(1e4 * cut.area_m2, 1)))
    });
    let cuts: Vec<String> = cuts.collect();
    if !cuts.is_empty() {
        said.push(Said::Heading("1 mm further out all round, near FINAL".to_string()));
        said.push(Said::Row("Moves", format!("{}.", cuts.join("; "))));
    }
}
