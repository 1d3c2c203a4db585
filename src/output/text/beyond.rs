//! Temperatures that only say that a part is lost: told as words, not as figures. The figures stay in `--json`.

use super::words;
use crate::element::kind;
use crate::point::result::Condition;

/// What is said in place of a figure.
pub(in crate::output) const BEYOND: &str = "beyond any use";
/// Temperature above which a part of metal is beyond any use (°C): aluminium heads have lost half their strength by 250 °C
/// (common practice).
pub(in crate::output) const METAL: f64 = 300.0;
/// The same of oil (°C): it breaks down within minutes (common practice).
pub(in crate::output) const OIL: f64 = 160.0;

/// Whether a core cools a part, so that what it holds is oil.
pub(in crate::output) fn holds_oil(conditions: &[Condition], part: &str) -> bool {
    let Some(first) = conditions.first() else {
        // a comparison keeps no passages
        return part.split(' ').any(|word| word == "oil");
    };
    let mut elements = first.passages.iter().flat_map(|passage| &passage.elements);
    elements.any(|element| {
        kind(element.kind).is_some_and(|kind| kind.is_core()) && element.part.as_deref() == Some(part)
    })
}

/// Whether a temperature of a part with a limit (°C) says only that it is lost.
pub(in crate::output) fn is_lost(conditions: &[Condition], part: &str, temperature: f64, limit: f64) -> bool {
    temperature > limit.max(if holds_oil(conditions, part) { OIL } else { METAL })
}

/// The limit of a part (°C), where the conditions tell it.
fn limit_of(conditions: &[Condition], part: &str) -> Option<f64> {
    let parts = conditions.first()?.parts.iter();
    parts.filter(|each| each.has_limit()).find(|each| each.name == part).map(|each| each.limit_C)
}

/// The distance of a part to its limit, in words.
pub(in crate::output) fn margin(conditions: &[Condition], part: &str, kelvin: f64) -> String {
    match limit_of(conditions, part) {
        Some(limit) if is_lost(conditions, part, limit - kelvin, limit) => BEYOND.to_string(),
        _ => words::margin(kelvin),
    }
}

/// So far over its limit (K) a figure still says how near what was tried came.
const NEAR: f64 = 60.0;

/// "41 K over", "beyond any use, 52 K over", or the words alone.
pub(in crate::output) fn over(conditions: &[Condition], part: &str, kelvin: f64) -> String {
    match limit_of(conditions, part) {
        Some(limit) if is_lost(conditions, part, limit - kelvin, limit) && kelvin > -NEAR => {
            format!("{BEYOND}, {} over", words::kelvins(-kelvin))
        }
        Some(limit) if is_lost(conditions, part, limit - kelvin, limit) => BEYOND.to_string(),
        _ => format!("{} over", words::kelvins(-kelvin)),
    }
}

/// A temperature of a part, in words.
pub(in crate::output) fn celsius(conditions: &[Condition], part: &str, temperature: f64) -> String {
    match limit_of(conditions, part) {
        Some(limit) if is_lost(conditions, part, temperature, limit) => BEYOND.to_string(),
        _ => words::celsius(temperature),
    }
}

/// A sentence in which temperatures of a part stand: those that are beyond any use say so. Where all are, and some near, the figures stay:
/// which is the hottest is what it tells.
pub(in crate::output) fn told(conditions: &[Condition], text: &str) -> String {
    let named =
        |part: &str| text.contains(&format!("The {part} ")) || text.contains(&format!("margin of {part} "));
    let parts = conditions.first().map_or(&[][..], |first| first.parts.as_slice());
    let Some(part) = parts.iter().filter(|part| part.has_limit()).find(|part| named(&part.name)) else {
        return text.to_string();
    };
    let words: Vec<&str> = text.split(' ').collect();
    let figures = words.iter().zip(words.iter().skip(1)).filter(|(_, unit)| unit.starts_with("°C"));
    let figures: Vec<f64> = figures.filter_map(|(word, _)| word.parse().ok()).collect();
    let lost = |celsius: &f64| is_lost(conditions, &part.name, *celsius, part.limit_C);
    if figures.iter().all(lost) && figures.iter().any(|celsius| *celsius < part.limit_C + NEAR) {
        return text.to_string();
    }
    let mut out: Vec<String> = Vec::new();
    for (index, word) in words.iter().enumerate() {
        let figure =
            word.parse::<f64>().ok().filter(|_| words.get(index + 1).is_some_and(|u| u.starts_with("°C")));
        match figure {
            Some(celsius) if is_lost(conditions, &part.name, celsius, part.limit_C) => {
                out.push(BEYOND.to_string());
            }
            _ if word.starts_with("°C") && out.last().is_some_and(|last| last == BEYOND) => {
                if let Some(last) = out.last_mut() {
                    last.push_str(word.trim_start_matches("°C"));
                }
            }
            _ => out.push((*word).to_string()),
        }
    }
    out.join(" ")
}
