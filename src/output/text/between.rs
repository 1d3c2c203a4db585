//! What lies between the conditions, in a sentence.

use super::beyond;
use super::layout::{MISSED, PLAIN, paragraph};
use super::{margins, words};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::sweep::between::{Between, BetweenPart};

/// Parts that are named.
const NAMED: usize = 3;

/// Writes it, where there is something to tell.
pub(super) fn write(out: &mut String, report: &Report) {
    // without a part that has a limit nothing can be worse
    let is_checked = !margins::parts(report).is_empty();
    if let Some(found) = report.between.as_ref().filter(|_| is_checked) {
        let (text, missed) = between(found, &report.conditions);
        paragraph(out, if missed { MISSED } else { PLAIN }, &text);
    }
}

/// What the sweep finds beside the conditions, and whether a part passes its limit there that keeps it in all of them.
pub(in crate::output) fn between(found: &Between, conditions: &[Condition]) -> (String, bool) {
    let range =
        format!("{} to {}, {}", words::whole(found.from_m_s * 3.6), words::speed(found.to_m_s), load(found));
    let holes: Vec<&BetweenPart> = found.parts.iter().filter(|part| part.is_hole()).collect();
    if !holes.is_empty() {
        let told: Vec<String> = holes.iter().take(NAMED).map(|part| over(part, conditions)).collect();
        let text = format!(
            "But between the conditions {}; something is over at {} of {} speeds ({range}).",
            told.join("; "),
            found.over,
            found.points
        );
        return (text, true);
    }
    let worse: Vec<&BetweenPart> = found.parts.iter().filter(|part| part.is_worse()).collect();
    if worse.is_empty() && found.over > 0 {
        let over = format!("something is over at {} of {} speeds", found.over, found.points);
        return (format!("Between these conditions nothing is worse, yet {over} ({range})."), false);
    }
    if worse.is_empty() {
        return (format!("Between these conditions nothing is worse ({range})."), false);
    }
    let told: Vec<String> = worse
        .iter()
        .take(NAMED)
        .map(|part| match part.temperature_margin_K < 0.0 {
            true => over(part, conditions),
            false => {
                format!("the {} {} at {}", part.part, words::margin(part.temperature_margin_K), place(part))
            }
        })
        .collect();
    // standing it may well be worse still
    let stands = conditions.iter().any(|condition| condition.speed_m_s == 0.0);
    let begin = match stands {
        true => "Driving, it is worse between these conditions than in them",
        false => "Between these conditions it is worse",
    };
    (format!("{begin}: {} ({range}).", told.join("; ")), false)
}

/// "the heads are up to 112 K over, at 54 km/h in gear 2".
fn over(part: &BetweenPart, conditions: &[Condition]) -> String {
    let is = words::is_or_are(&part.part);
    let limit = part.temperature_C + part.temperature_margin_K;
    let how = match beyond::is_lost(conditions, &part.part, part.temperature_C, limit) {
        true => beyond::BEYOND.to_string(),
        false if part.temperature_margin_K > -1.0 => "just over".to_string(),
        false => format!("up to {} over", words::kelvins(-part.temperature_margin_K)),
    };
    format!("the {} {is} {how}, at {}", part.part, place(part))
}

/// "heads over by 112 K at 54 km/h in gear 2, oil +2 K at …": parts that are worse than in every condition, or over
/// here alone.
pub(super) fn worst_parts(found: &Between) -> String {
    let worse = found.parts.iter().filter(|part| part.is_hole() || part.is_worse());
    let told = worse
        .map(|part| format!("{} {} at {}", part.part, words::margin(part.temperature_margin_K), place(part)));
    told.collect::<Vec<_>>().join(", ")
}

fn place(part: &BetweenPart) -> String {
    format!("{} in gear {}", words::speed(part.speed_m_s), part.gear)
}

fn load(found: &Between) -> String {
    let percent = |load: f64| words::fixed(100.0 * load, 0);
    match (found.load, found.load_is) {
        (Some(load), _) if load >= 1.0 => "full load".to_string(),
        (Some(load), _) => format!("{} % load", percent(load)),
        (None, _) => format!("load {} to {} %", percent(found.loads[0]), percent(found.loads[1])),
    }
}
