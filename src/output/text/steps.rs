//! Cutting in steps: one page to take to the car.

use super::doubt::how_often;
use super::frame;
use super::layout::{MISSED, PLAIN, QUIET, STRONG, heading, item, paragraph, styled};
use super::words;
use crate::study::document::Report;
use crate::study::steps::result::{Cut, Expected, Likely, Step, Steps, Stop, Trap};
use std::fmt::Write;

/// Traps told in full.
const TRAPS: usize = 2;
/// Readings told beside the one that says stop.
const READINGS: usize = 4;

/// The order, the traps, the steps one after another, and what a millimetre does.
pub fn steps(report: &Report, steps: &Steps) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    frame::verdict(&mut out, &verdict(steps), !steps.can_be_done);
    paragraph(
        &mut out,
        PLAIN,
        &format!(
            "At each step: {}. Exits first: one that is too large can be taped, an inlet too large spills.",
            words::list(&steps.order)
        ),
    );
    for trap in steps.traps.iter().take(TRAPS) {
        paragraph(&mut out, MISSED, &trap_in_words(trap));
    }
    for (index, step) in steps.steps.iter().enumerate() {
        let next = steps.steps.get(index + 1).map(|step| step.line);
        self::step(&mut out, index + 1, step, next);
    }
    millimetre(&mut out, steps);
    out.push('\n');
    paragraph(
        &mut out,
        QUIET,
        "Sheets to cut by: slowcorner templates. Bands hold 9 in 10 of what the guesses may turn out to be. An estimate: gauges, the engine \
         maker's limits and your rule book come first; never drive on with a part over its limit.",
    );
    out
}

fn verdict(steps: &Steps) -> String {
    let stops: Vec<&str> =
        steps.steps.iter().filter(|step| step.jumped.is_none()).map(|step| step.line).collect();
    let lines = words::list(&stops);
    if steps.can_be_done {
        format!("Cut and measure at {lines}; stop as soon as a reading says so.")
    } else {
        format!(
            "No sizes reach all margins with the values taken: cut and measure at {lines}, and change something else if no reading says stop."
        )
    }
}

fn trap_in_words(trap: &Trap) -> String {
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

fn step(out: &mut String, number: usize, step: &Step, next: Option<&str>) {
    let cuts: Vec<String> = step.cuts.iter().map(cut).collect();
    out.push('\n');
    let _ = writeln!(out, "{}", styled(STRONG, &format!("{number}  {}", step.line)));
    item(out, 3, "", &format!("{}.", words::sentence(&cuts.join("; "))));
    item(out, 3, "", &costs(step));
    if let Some(why) = &step.jumped {
        item(out, 3, "", &format!("Do not stop here: {why}."));
        return;
    }
    if let Some(where_to) = driven(step) {
        item(out, 3, "", &where_to);
    }
    if !step.readings.is_empty() {
        item(out, 3, "", &expected(step));
    }
    item(out, 3, "", &rule(step, next));
}

/// "2 × heads 76 × 39 mm".
fn cut(cut: &Cut) -> String {
    let often = if cut.pieces > 1 { format!("{} × ", cut.pieces) } else { String::new() };
    let millimetres = |metres: f64| words::whole(1e3 * metres);
    format!(
        "{often}{} {} × {} mm, {} cm²",
        cut.opening,
        millimetres(cut.hole_width_m),
        millimetres(cut.hole_height_m),
        words::square_centimetres(cut.area_m2)
    )
}

fn costs(step: &Step) -> String {
    let least = match (step.least_K, &step.part, &step.condition) {
        (Some(kelvin), Some(part), Some(condition)) => {
            format!("With the values taken {part} {} in {}", words::margin(kelvin), words::name(condition))
        }
        _ => "With the values taken not every condition has a steady state".to_string(),
    };
    let holds = step.all_hold.map_or(String::new(), |share| format!("; all cool {}", how_often(share)));
    let mut bought = Vec::new();
    if let Some(area) = step.more_area_m2 {
        bought.push(format!("{} cm²", words::square_centimetres(area)));
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

fn driven(step: &Step) -> Option<String> {
    if step.driven.is_empty() && step.kept_from.is_empty() {
        return None;
    }
    let names = |list: &[Likely]| {
        let names: Vec<&str> = list.iter().map(|likely| likely.moment.as_str()).collect();
        words::list(&names)
    };
    Some(match (step.driven.is_empty(), step.kept_from.is_empty()) {
        (true, _) => format!("Not to be driven for long anywhere ({}).", names(&step.kept_from)),
        (_, true) => format!("May be driven: {}.", names(&step.driven)),
        _ => format!("May be driven: {}. Not yet: {}.", names(&step.driven), names(&step.kept_from)),
    })
}

fn unit(kind: &str) -> &'static str {
    if kind == "pressure" { "Pa" } else { "°C" }
}

fn expected(step: &Step) -> String {
    let shown = |expected: &Expected| {
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
    format!("Expected after ten minutes, {when}: {}.", readings.join("; "))
}

fn rule(step: &Step, next: Option<&str>) -> String {
    let stop = match &step.stop {
        Some(stop) => format!("Stop if {}", stop_in_words(stop)),
        None if step.all_hold.is_some_and(|share| share >= 0.95) => {
            return "Stop here: all stays cool in 19 of 20.".to_string();
        }
        None => "No single reading says stop here".to_string(),
    };
    let beyond = "outside what is expected: measure before you cut (slowcorner doubt)";
    match next {
        Some(next) => format!("{stop}; else cut to {next}; {beyond}."),
        None => format!("{stop}; else cut no more, change fan, cooler or limit; {beyond}."),
    }
}

fn stop_in_words(stop: &Stop) -> String {
    let side = if stop.below { "or less" } else { "or more" };
    format!(
        "{} shows {} {} {side} ({}; so in {}, and then all stays cool in 19 of 20)",
        stop.reading,
        words::whole(stop.at),
        unit(stop.kind),
        stop.moment,
        how_often(stop.share)
    )
}

fn millimetre(out: &mut String, steps: &Steps) {
    let cuts = steps.hand_cut.iter().filter_map(|cut| {
        let moves = cut.larger_K?.abs().max(cut.smaller_K?.abs());
        let kelvin = if moves < 0.5 { "less than 1 K".to_string() } else { words::kelvins(moves) };
        Some(format!("{} {} cm², {kelvin}", cut.opening, words::fixed(1e4 * cut.area_m2, 1)))
    });
    let cuts: Vec<String> = cuts.collect();
    if !cuts.is_empty() {
        heading(out, "1 mm further out all round, near FINAL");
        item(out, 2, "", &format!("{}.", cuts.join("; ")));
    }
}
