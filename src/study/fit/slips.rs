//! Slips of the pen and of the hose: readings that nothing the guesses allow comes near, and what they may have been.

use super::result::Ask;
use crate::keys::{Kind, units};
use crate::readings::Quantity;
use crate::readings::operator::ReadingKind;
use crate::readings::taken::{Shown, TakenReading};

/// A reading further from what is expected (in spreads) is asked about,
const FAR: f64 = 3.5;
/// where some other way of writing it lies within so many,
const NEAR: f64 = 2.0;
/// and differs by so many times what it is read to.
const TELLS: f64 = 3.0;
/// Units that pressures are written in.
const PRESSURES: [&str; 5] = ["Pa", "mmH2O", "inH2O", "mbar", "cmH2O"];
/// Pressure of the weather, about (Pa).
const WEATHER: std::ops::Range<f64> = 60_000.0..112_000.0;

/// A question about a reading, where it lies far from what is expected, (mean, spread), and some slip would explain that.
pub fn ask(number: usize, taken: &TakenReading, (mean, spread): (f64, f64)) -> Option<Ask> {
    let Shown::Value { value, within } = taken.shown else { return None };
    // of a share neither unit nor sign can be wrong
    if taken.reading.kind() == ReadingKind::Ratio {
        return None;
    }
    let far = (value - mean).abs() / spread;
    if far < FAR && !(pressure(taken) && taken_apart(value, mean, spread)) {
        return None;
    }
    let candidates = if pressure(taken) { pressures(taken, value, mean) } else { temperatures(taken, value) };
    let likely = candidates.into_iter().filter(|(meant, _)| {
        (meant - mean).abs() / spread < NEAR && (meant - value).abs() > TELLS * within.max(1e-9)
    });
    // the first of those that fit about equally well: they stand in the order of how often they happen
    let best = likely.min_by(|a, b| {
        let off = |x: f64| ((x - mean).abs() / spread).max(1.0);
        off(a.0).total_cmp(&off(b.0))
    });
    // a hundred too many or too few is as likely a slip of the pen, beside whatever else would explain it
    let hundred =
        hundreds(taken, value).into_iter().filter(|(meant, _)| (meant - mean).abs() / spread < NEAR);
    let hundred = hundred.map(|(_, question)| question).next().filter(|_| !pressure(taken));
    let question = match (best.map(|(_, question)| question), hundred) {
        (Some(other), Some(hundred)) => format!("{} Or {hundred}", other),
        (Some(other), None) => other,
        (None, Some(hundred)) => format!("lies beyond anything that the guesses allow: {hundred}"),
        (None, None) => return None,
    };
    Some(Ask { number, question: format!("reading {number} ({}) {question}", taken.text) })
}

/// A temperature with its hundreds written one too large or too small.
fn hundreds(taken: &TakenReading, value: f64) -> Vec<(f64, String)> {
    let unit = unit(&taken.text);
    let number = taken.text.trim().split(unit).next().unwrap_or_default().trim();
    let Ok(number) = number.replace('−', "-").parse::<f64>() else { return Vec::new() };
    let kelvins = if unit.to_lowercase().contains('f') { 100.0 / 1.8 } else { 100.0 };
    let meant = [-1.0, 1.0].map(|sign| (value + sign * kelvins, number + sign * 100.0));
    let told = meant.into_iter().filter(|(_, number)| *number >= 0.0);
    told.map(|(value, number)| (value, format!("is its first digit wrong ({number} {unit})?"))).collect()
}

fn pressure(taken: &TakenReading) -> bool {
    matches!(taken.reading.what, Quantity::Difference { .. })
}

/// Whether a pressure and what is expected of it lie surely on either side of nought.
fn taken_apart(value: f64, mean: f64, spread: f64) -> bool {
    value * mean < 0.0 && (value - mean).abs() > 2.5 * spread
}

/// The unit that a number was written in.
fn unit(text: &str) -> &str {
    let text = text.split('±').next().unwrap_or(text).split("+-").next().unwrap_or(text).trim();
    text.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | ' ' | '−')).trim()
}

/// "9.8 times", "a tenth of".
fn times(factor: f64) -> String {
    if factor >= 1.0 { format!("{} times", brief(factor)) } else { format!("1/{} of", brief(1.0 / factor)) }
}

fn brief(factor: f64) -> String {
    if factor < 20.0 && (factor - factor.round()).abs() > 0.05 {
        format!("{factor:.1}")
    } else {
        format!("{factor:.0}")
    }
}

fn pressures(taken: &TakenReading, value: f64, mean: f64) -> Vec<(f64, String)> {
    let written = unit(&taken.text);
    let mut all = Vec::new();
    let is = (value / mean).abs();
    let size = times(is);
    // taps first: the size is right then
    all.push((
        -value,
        "has the other sign than anything that the guesses allow: were the two taps swapped?".to_string(),
    ));
    if let Ok(own) = units::find(written, Kind::Pressure) {
        for name in PRESSURES {
            let Ok(other) = units::find(name, Kind::Pressure) else { continue };
            let factor = other.to_canonical(1.0) / own.to_canonical(1.0);
            if (factor - 1.0).abs() > 0.01 {
                let question = format!("is {size} what the guesses lead to expect: was it {name}?");
                all.push((value * factor, question.clone()));
                all.push((-value * factor, format!("is {size} what the guesses lead to expect, with the other sign: was it {name}, with the taps swapped?")));
            }
        }
    }
    for (factor, what) in [
        (10.0, "was a digit lost, or the slope of the tube counted that was not there?"),
        (0.1, "is there a digit too many, or was the slope of the tube not counted?"),
        (25.4, "was it in inches and taken for millimetres?"),
        (1.0 / 25.4, "was it in millimetres and taken for inches?"),
    ] {
        all.push((value * factor, format!("is {size} what the guesses lead to expect: {what}")));
    }
    if WEATHER.contains(&value.abs()) {
        all.push((mean, "is the pressure of the weather: was it read against nothing (absolute) and not against the other tap?".to_string()));
    }
    all
}

fn temperatures(taken: &TakenReading, value: f64) -> Vec<(f64, String)> {
    let celsius = value - crate::air::ZERO_CELSIUS;
    let fahrenheit = celsius * 1.8 + 32.0;
    let written = unit(&taken.text).to_lowercase();
    let kelvin = |celsius: f64| celsius + crate::air::ZERO_CELSIUS;
    let question = |what: &str| format!("lies beyond anything that the guesses allow: {what}");
    let mut all = Vec::new();
    if written.contains('f') {
        all.push((kelvin(fahrenheit), question("was it °C?")));
    } else if written == "k" {
        all.push((kelvin(value), question("was it °C?")));
        all.push((kelvin((value - 32.0) / 1.8), question("was it °F?")));
    } else {
        all.push((kelvin((celsius - 32.0) / 1.8), question("was it °F?")));
        all.push((kelvin(celsius - crate::air::ZERO_CELSIUS), question("was it kelvins?")));
    }
    all.push((kelvin(celsius * 10.0), question("was a digit lost?")));
    all.push((kelvin(celsius * 0.1), question("is there a digit too many?")));
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::readings::{GaugeEnd, Reading};

    fn taken(text: &str, value: f64, pressure: bool) -> TakenReading {
        let what = if pressure {
            Quantity::Difference { of: GaugeEnd::Chamber(0), over: GaugeEnd::StillAir }
        } else {
            Quantity::Part(0)
        };
        TakenReading {
            reading: Reading { what, moment: 0 },
            shown: Shown::Value { value, within: 3.0 },
            text: text.to_string(),
            tool: crate::readings::errors::ToolErrors::default(),
            instrument: None,
            when: None,
            lag: 0.0,
            note: None,
            span: 0..0,
        }
    }

    /// What was meant is 140 Pa ± 25 Pa or 171 °C ± 12 K; each slip of the pen, with the word that it must be asked with.
    #[test]
    fn a_planted_slip_is_found_in_each_unit() {
        let pressures = [
            ("140 mmH2O", 140.0 * 9.80665, "was it Pa?"),
            ("14.3 Pa", 14.3, "mmH2O"),
            ("0.56 mmH2O", 0.56 * 9.80665, "was it inH2O?"),
            ("14.3 inH2O", 14.3 * 249.0889, "was it mmH2O?"),
            ("1.4 Pa", 1.4, "was it mbar?"),
            ("140 mbar", 14_000.0, "was it Pa?"),
            ("-140 Pa", -140.0, "taps swapped"),
            ("1400 Pa", 1400.0, "digit"),
            ("1013 mbar", 101_300.0, "absolute"),
        ];
        for (text, value, word) in pressures {
            let asked = ask(7, &taken(text, value, true), (140.0, 25.0)).unwrap_or_else(|| panic!("{text}"));
            assert!(asked.question.contains(word), "{text}: {}", asked.question);
            assert!(asked.question.starts_with("reading 7 ("));
        }
        let temperatures = [
            ("340 degC", 340.0 + 273.15, "°F"),
            ("171 K", 171.0, "was it °C?"),
            ("171 degF", (171.0 - 32.0) / 1.8 + 273.15, "was it °C?"),
            ("444 degC", 444.0 + 273.15, "kelvins"),
            ("17.1 degC", 17.1 + 273.15, "digit was lost"),
            ("1710 degC", 1710.0 + 273.15, "digit too many"),
        ];
        for (text, value, word) in temperatures {
            let asked = ask(2, &taken(text, value, false), (171.0 + 273.15, 12.0))
                .unwrap_or_else(|| panic!("{text}"));
            let word = word.replace("digit was lost", "a digit lost");
            assert!(asked.question.contains(&word), "{text}: {}", asked.question);
        }
    }

    /// 98 °C ± 10 K was meant: 198 may be °F (92 °C), or have a digit too many before it.
    #[test]
    fn a_hundred_too_many_or_too_few_is_asked_about() {
        let asked = |text: &str, value: f64, mean: f64| {
            let asked = ask(2, &taken(text, value, false), (mean + 273.15, 10.0));
            asked.unwrap_or_else(|| panic!("{text}")).question
        };
        let told = asked("198 degC", 198.0 + 273.15, 98.0);
        assert!(told.contains("was it °F? Or is its first digit wrong (98 degC)?"), "{told}");
        // nothing else explains these
        let told = asked("98 degC", 98.0 + 273.15, 198.0);
        assert!(told.ends_with("allow: is its first digit wrong (198 degC)?"), "{told}");
        let told = asked("308 degF", (308.0 - 32.0) / 1.8 + 273.15, (208.0 - 32.0) / 1.8);
        assert!(told.contains("first digit wrong (208 degF)"), "{told}");
        assert!(ask(2, &taken("150 degC", 150.0 + 273.15, false), (100.0 + 273.15, 10.0)).is_none());
    }

    #[test]
    fn what_is_as_expected_is_not_asked_about() {
        assert!(ask(1, &taken("150 Pa", 150.0, true), (140.0, 25.0)).is_none());
        assert!(
            ask(1, &taken("-10 Pa", -10.0, true), (14.0, 25.0)).is_none(),
            "near nought a sign says nothing"
        );
        // far off, and no slip explains it
        assert!(ask(1, &taken("300 Pa", 300.0, true), (140.0, 25.0)).is_none());
    }
}
