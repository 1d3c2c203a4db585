//! `check` on one screen.

use super::next::{self, NextStepLine};
use super::{Depth, foot, grid, head};
use crate::output::text::layout::{MISSED, STRONG, item, paragraph};
use crate::output::text::margins::{self, PartInCondition};
use crate::output::text::way::{self, PressureBudget};
use crate::output::text::{between, command, doubt, everywhere, side_by_side, words};
use crate::point::result::PassageResult;
use crate::study::document::Report;

/// The answer, the margins, what rules them, what to do next, what may hurt, and what else there is.
pub fn check(report: &Report, file: &str, sizable: bool) -> String {
    let mut out = String::new();
    head(&mut out, report, "as drawn");
    let (text, missed) = verdict(report);
    paragraph(&mut out, if missed { MISSED } else { STRONG }, &text);
    between::write(&mut out, report);
    foot::chambers_over(&mut out, report);
    if report.everywhere.is_empty() {
        doubt::short(&mut out, report);
        out.push('\n');
        grid::write(&mut out, report);
        if let Some(text) = why(report) {
            out.push('\n');
            item(&mut out, 0, "Why   ", &text);
        }
    } else {
        // the conditions have their own screen
        everywhere::write(&mut out, report, Depth::Short);
    }
    next::write(&mut out, &steps(report, file, sizable));
    if let Some(hazard) = foot::hazard(report) {
        out.push('\n');
        item(&mut out, 0, "Mind  ", &hazard);
    }
    if report.everywhere.is_empty() {
        foot::warnings(&mut out, report);
    }
    foot::estimate(&mut out);
    out
}

/// What is over, worst first and where; else what comes closest to its limit.
fn verdict(report: &Report) -> (String, bool) {
    let parts = margins::parts(report);
    let all: Vec<&PartInCondition> = parts.iter().flatten().collect();
    if all.is_empty() {
        return margins::verdict(report);
    }
    let mut over: Vec<&PartInCondition> = all.iter().copied().filter(|at| at.missed()).collect();
    over.sort_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K));
    if let Some(worst) = over.first() {
        let here: Vec<&PartInCondition> =
            over.iter().copied().filter(|at| at.condition.name == worst.condition.name).collect();
        let lost: Vec<&str> = here
            .iter()
            .filter(|at| grid::beyond_use(at.condition, at.part))
            .map(|at| at.part.name.as_str())
            .collect();
        let mut told: Vec<String> = Vec::new();
        match lost.as_slice() {
            [] => {}
            [one] => told.push(format!("the {one} {} beyond any use", words::is_or_are(one))),
            all => told.push(format!("the {} are beyond any use", words::list(all))),
        }
        for at in here.iter().filter(|at| !grid::beyond_use(at.condition, at.part)) {
            let by = words::kelvins(-at.part.temperature_margin_K);
            told.push(format!("the {} {} {by} over", at.part.name, words::is_or_are(&at.part.name)));
        }
        let mut elsewhere: Vec<String> = Vec::new();
        for condition in &report.conditions {
            let names: Vec<&str> = over
                .iter()
                .filter(|at| at.condition.name == condition.name && at.condition.name != worst.condition.name)
                .map(|at| at.part.name.as_str())
                .collect();
            if !names.is_empty() {
                elsewhere.push(format!("the {} in {}", words::list(&names), words::name(&condition.name)));
            }
        }
        let others = match elsewhere.len() {
            0 => String::new(),
            1..=2 => format!(" Over too: {}.", elsewhere.join("; ")),
            more => format!(" Something is over in {more} more conditions."),
        };
        let text = format!(
            "No. In {} ({}) {}.{others}",
            words::name(&worst.condition.name),
            grid::how(worst.condition),
            words::list(&told)
        );
        return (text, true);
    }
    let (text, missed) = margins::verdict(report);
    (if missed { format!("No. {text}") } else { format!("Yes, with the values taken. {text}") }, missed)
}

/// Where the pressure goes on the way to the part that is worst off.
fn why(report: &Report) -> Option<String> {
    let parts = margins::parts(report);
    let at = parts
        .iter()
        .flatten()
        .min_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K))?;
    let passage = way::passages_of(at.condition, &at.part.name).into_iter().next()?;
    if passage.reversed {
        let start = format!("{}: ", passage.name);
        let told = side_by_side::running_back(&report.conditions);
        return told
            .into_iter()
            .find(|text| text.starts_with(&start))
            .map(|text| words::sentence(&text) + ".");
    }
    Some(format!(
        "{} in {}: {}.",
        words::sentence(&at.part.name),
        words::name(&at.condition.name),
        way::in_words(&PressureBudget::of(at.condition, passage))
    ))
}

/// From so many kelvins over a limit, and where no opening gains such a share of them, none is the way out.
const HOT: f64 = 10.0;
const MENDS: f64 = 0.25;

fn steps(report: &Report, file: &str, sizable: bool) -> Vec<NextStepLine> {
    let finds = if sizable { "size" } else { "exits" };
    // of the car that stands on this screen, what was set for it included
    let set: String = report.set.iter().map(|setting| format!(" {}", command::as_set(setting))).collect();
    let file = format!("{}{set}", command::word(file));
    let sizing = format!("slowcorner {finds} {file}");
    let keeps = margins::parts(report).iter().flatten().all(|at| !at.missed());
    let mut steps: Vec<NextStepLine> = match (keeps, sizable) {
        // where all is kept, larger openings are no aim: sizing may well make them smaller
        (true, true) => vec![NextStepLine {
            what: "the smallest openings that reach the margins asked for".to_string(),
            wins: String::new(),
            how: sizing,
        }],
        _ => report.advice.iter().take(2).map(|step| NextStepLine::of(step, &sizing)).collect(),
    };
    let sure = report.doubt.as_ref().is_some_and(|doubt| doubt.all_hold > 0.95);
    if report.doubt.is_some() && !sure {
        let measure = NextStepLine {
            what: "measure what decides before more is cut".to_string(),
            wins: String::new(),
            how: format!("slowcorner doubt {file}"),
        };
        // the smallest openings leave the least to spare: where that is little already, they come last
        steps.insert(if keeps { 0 } else { steps.len() }, measure);
    }
    steps.splice(0..0, standing(report));
    steps
}

/// Where no air passes what cools the part that is furthest over its limit, or the car stands and no opening gains much of
/// what it is over, no opening helps.
fn standing(report: &Report) -> Option<NextStepLine> {
    let parts = margins::parts(report);
    let over = parts.iter().flatten().filter(|at| at.missed());
    let at = over.min_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K))?;
    let stands = at.condition.speed_m_s == 0.0;
    let over = -at.part.temperature_margin_K;
    let gain = report.advice.first().map_or(0.0, |step| step.least_margin_rise_K);
    let hopeless = stands && over > HOT && gain < MENDS * over;
    let passages = way::passages_of(at.condition, &at.part.name);
    let drawn = |passage: &&PassageResult| !way::is_driven(&PressureBudget::of(at.condition, passage));
    let still = passages.iter().copied().find(drawn).filter(|passage| !passage.reversed);
    let passage = still.or_else(|| passages.into_iter().find(|_| hopeless))?;
    let condition = words::name(&at.condition.name);
    let stopped = if stands {
        format!("stop the engine in {condition}, or give")
    } else {
        format!("for {condition} give")
    };
    let why = match still {
        Some(_) => "nothing drives air through it there, whatever its openings".to_string(),
        None => format!("no opening gains much of {}", words::kelvins(over)),
    };
    Some(NextStepLine {
        what: format!("{stopped} {} a fan: {why}", words::name(&passage.name)),
        wins: String::new(),
        how: String::new(),
    })
}
