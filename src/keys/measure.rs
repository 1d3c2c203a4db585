//! Numbers as the builder writes them: value, unit, and how sure he is of it.
//!
//! ```text
//! "90 cm2"          a value
//! "0.62 ± 0.05"     within, 9 times in 10 (also +- and +/-)
//! "90 cm2 ± 10 %"   the same, as a share of the value
//! "0.5..1.3"        between these, 9 times in 10; the middle is the working value
//! ```
//!
//! One unit at the end serves both numbers, or each has its own. After ± a per cent of a share is a
//! point, and a degree of a temperature is a difference.

mod refusal;
mod text;

pub use refusal::MeasureError;

use super::kind::Kind;
use super::units;
use refusal::{
    no_clock, no_number, no_spread, no_such_unit, no_unit, quoted, refuse, refuse_decimal_comma,
    refuse_thousands_point,
};
use text::{NumberWithUnit, SpreadMark, split_number, split_spread};

/// No number of a car but 0 is smaller than this, whatever its unit.
const LEAST: f64 = 1e-30;

/// How sure the builder is of a value; canonical units.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// Within this half width on either side of the value, 9 times in 10.
    Within {
        /// Half the width of the band.
        half_width: f64,
    },
    /// Between two ends, 9 times in 10.
    Between {
        /// Low end.
        low: f64,
        /// High end.
        high: f64,
    },
}

impl Spread {
    /// Low end of the band about a value.
    pub fn low(&self, value: f64) -> f64 {
        match self {
            Spread::Within { half_width } => value - half_width,
            Spread::Between { low, .. } => *low,
        }
    }

    /// High end of the band about a value.
    pub fn high(&self, value: f64) -> f64 {
        match self {
            Spread::Within { half_width } => value + half_width,
            Spread::Between { high, .. } => *high,
        }
    }
}

/// A number of the case file, in the canonical unit of its kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// The working value.
    pub value: f64,
    /// How sure the builder is of it, where he says so.
    pub spread: Option<Spread>,
}

impl Measure {
    /// Low end of the band; the value itself where no spread is given.
    pub fn low(&self) -> f64 {
        self.spread.map_or(self.value, |spread| spread.low(self.value))
    }

    /// High end of the band; the value itself where no spread is given.
    pub fn high(&self) -> f64 {
        self.spread.map_or(self.value, |spread| spread.high(self.value))
    }

    #[cfg(test)]
    /// The number as it would be written in a case file, six digits or so.
    pub fn show(&self, kind: Kind) -> String {
        match self.spread {
            None => kind.show(self.value),
            Some(Spread::Within { half_width }) => {
                format!("{} ± {}", kind.show(self.value), kind.difference().show(half_width))
            }
            Some(Spread::Between { low, high }) => {
                format!("{}..{}", kind.show(low), kind.show(high))
            }
        }
    }
}

/// Reads a number that is written as text, with its unit.
///
/// # Errors
/// A number or unit that cannot be read, a unit of another kind, a spread that makes no sense, a
/// number that no quantity of this kind can have.
pub fn parse_text(text: &str, kind: Kind) -> Result<Measure, MeasureError> {
    let text = text.trim();
    refuse_decimal_comma(text)?;
    refuse_thousands_point(text, kind)?;
    if kind == Kind::Time && text.contains(':') {
        let value = clock(text).ok_or_else(|| no_clock(text))?;
        return checked(Measure { value, spread: None }, kind, text);
    }
    let Some((mark, left, right)) = split_spread(text) else {
        let (number, unit) = split_number(text).ok_or_else(|| no_number(text, kind))?;
        let value = convert(number, unit, kind, text)?;
        return checked(Measure { value, spread: None }, kind, text);
    };
    if kind == Kind::Count {
        return Err(refuse(
            "spread-unreadable",
            format!("{} is not one whole number", quoted(text)),
            "Write a count without a ± or a range.".to_string(),
        ));
    }
    if split_spread(left).is_some() || split_spread(right).is_some() || text.contains("...") {
        return Err(no_spread(text, kind));
    }
    let first = split_number(left).ok_or_else(|| no_spread(text, kind))?;
    let second = split_number(right).ok_or_else(|| no_spread(text, kind))?;
    if !first.1.is_empty() && second.1.is_empty() {
        return Err(refuse(
            "spread-unreadable",
            format!("the second number of {} has no unit", quoted(text)),
            "Write one unit at the end for both numbers, or a unit after each.".to_string(),
        ));
    }
    let measure = match mark {
        SpreadMark::PlusMinus => within(first, second, kind, text)?,
        SpreadMark::Range => between(first, second, kind, text)?,
    };
    checked(measure, kind, text)
}

/// Reads a bare number, as fits plain numbers, shares and counts only.
///
/// # Errors
/// A number that wants a unit, or is not finite, or is no count where one is wanted.
pub fn parse_number(number: f64, kind: Kind) -> Result<Measure, MeasureError> {
    let text = number.to_string();
    if !kind.is_plain() {
        return Err(no_unit(&text, kind));
    }
    checked(Measure { value: number, spread: None }, kind, &text)
}

/// Minutes and seconds, or hours before them, as a stopwatch shows them (s): `1:32`, `1:32.4`, `1:02:30`.
fn clock(text: &str) -> Option<f64> {
    let parts: Vec<&str> = text.split(':').collect();
    let (last, before) = parts.split_last()?;
    let digits = |part: &str, point: bool| {
        part.starts_with(|c: char| c.is_ascii_digit())
            && part.bytes().all(|byte| byte.is_ascii_digit() || (point && byte == b'.'))
    };
    let whole = before.iter().all(|part| digits(part, false)) && (1..=2).contains(&before.len());
    let below_sixty = |part: &str| part.parse::<f64>().ok().filter(|value| *value < 60.0);
    if !whole || !digits(last, true) || before.iter().skip(1).any(|part| below_sixty(part).is_none()) {
        return None;
    }
    let ahead = before
        .iter()
        .try_fold(0.0, |sum, part| part.parse::<f64>().ok().map(|value| 60.0 * (sum + value)))?;
    Some(ahead + below_sixty(last)?)
}

fn within(
    (number, unit): NumberWithUnit<'_>,
    (half, half_unit): NumberWithUnit<'_>,
    kind: Kind,
    text: &str,
) -> Result<Measure, MeasureError> {
    if half < 0.0 {
        return Err(refuse(
            "spread-negative",
            format!("the number after ± in {} is negative", quoted(text)),
            "Write how far the value may lie off on either side, without a sign.".to_string(),
        ));
    }
    let per_cent = units::find(half_unit, Kind::Share).is_ok();
    if per_cent && kind == Kind::Temperature {
        return Err(refuse(
            "spread-unreadable",
            format!("{} takes a per cent of a temperature", quoted(text)),
            "Write the ± of a temperature as a difference, for example \"35 degC ± 2 K\".".to_string(),
        ));
    }
    // "0.12 ± 3 %": the rule of the unit at the end makes it 0.12 %, the eye 12 %.
    if per_cent && kind == Kind::Share && unit.is_empty() && number.abs() <= 1.0 {
        return Err(refuse(
            "spread-unreadable",
            format!("{} can be read in two ways", quoted(text)),
            "Write % after both numbers (\"12 % ± 3 %\", the ± in points) or after neither \
             (\"0.12 ± 0.03\")."
                .to_string(),
        ));
    }
    if per_cent && kind != Kind::Share {
        let value = convert(number, unit, kind, text)?;
        let half_width = value.abs() * (half / 100.0);
        return Ok(Measure { value, spread: Some(Spread::Within { half_width }) });
    }
    let value = convert(number, if unit.is_empty() { half_unit } else { unit }, kind, text)?;
    let half_width = convert(half, half_unit, kind.difference(), text)?;
    Ok(Measure { value, spread: Some(Spread::Within { half_width }) })
}

fn between(
    (low, low_unit): NumberWithUnit<'_>,
    (high, high_unit): NumberWithUnit<'_>,
    kind: Kind,
    text: &str,
) -> Result<Measure, MeasureError> {
    let low = convert(low, if low_unit.is_empty() { high_unit } else { low_unit }, kind, text)?;
    let high = convert(high, high_unit, kind, text)?;
    if low > high {
        return Err(refuse(
            "spread-upside-down",
            format!("the range {} begins above its end", quoted(text)),
            "Write the lower number first.".to_string(),
        ));
    }
    // Halved before they are added: the sum of two large numbers may overflow.
    let value = low / 2.0 + high / 2.0;
    Ok(Measure { value, spread: Some(Spread::Between { low, high }) })
}

/// A number with the text of its unit, in the canonical unit.
fn convert(number: f64, unit: &str, kind: Kind, text: &str) -> Result<f64, MeasureError> {
    if unit.is_empty() {
        return if kind.is_plain() { Ok(number) } else { Err(no_unit(text, kind)) };
    }
    match units::find(unit, kind) {
        Ok(found) => Ok(found.to_canonical(number)),
        Err(fault) => Err(no_such_unit(unit, fault, kind, text)),
    }
}

/// Passes on what a quantity of this kind can be.
fn checked(measure: Measure, kind: Kind, text: &str) -> Result<Measure, MeasureError> {
    let (low, high) = (measure.low(), measure.high());
    if ![measure.value, low, high].iter().all(|number| number.is_finite()) {
        return Err(refuse(
            "number-not-finite",
            format!("{} is not a finite number", quoted(text)),
            format!("Write {}, for example {}.", kind.name(), kind.example()),
        ));
    }
    // what no quantity of a car is so small as: nothing was meant, or another exponent
    if [measure.value, low, high].iter().any(|number| *number != 0.0 && number.abs() < LEAST) {
        return Err(refuse(
            "number-too-small",
            format!("{} is next to nothing, and not 0", quoted(text)),
            "Write 0 for nothing, or check the exponent and the unit.".to_string(),
        ));
    }
    // 2e1 pieces are no way to count
    let counted = measure.value >= 1.0 && measure.value.fract() == 0.0 && !text.contains(['e', 'E']);
    if kind == Kind::Count && !counted {
        return Err(refuse(
            "count-not-whole",
            format!("{} is not a whole number of one or more", quoted(text)),
            format!("Write a whole number, for example {}.", kind.example()),
        ));
    }
    if kind == Kind::Temperature && low < 0.0 {
        return Err(refuse(
            "below-absolute-zero",
            format!("{} reaches below absolute zero (-273.15 degC)", quoted(text)),
            "Check the sign and the unit.".to_string(),
        ));
    }
    Ok(measure)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str, kind: Kind) -> Measure {
        match parse_text(text, kind) {
            Ok(measure) => measure,
            Err(error) => panic!("{text}: {error}"),
        }
    }

    fn code(text: &str, kind: Kind) -> &'static str {
        match parse_text(text, kind) {
            Ok(measure) => panic!("{text} was read as {measure:?}"),
            Err(error) => error.code,
        }
    }

    fn close(found: f64, wanted: f64) {
        assert!((found - wanted).abs() <= 1e-9 * wanted.abs().max(1e-3), "{found} for {wanted}");
    }

    #[test]
    fn numbers() {
        for (text, value) in [
            ("0.62", 0.62),
            (" -0.12 ", -0.12),
            ("−0.12", -0.12),
            ("+3", 3.0),
            (".5", 0.5),
            ("5.", 5.0),
            ("1e3", 1000.0),
            ("1.5E-3", 0.0015),
            ("2e+2", 200.0),
        ] {
            assert_eq!(read(text, Kind::Ratio).value, value, "{text}");
        }
        close(read("120km/h", Kind::Speed).value, 120.0 / 3.6);
        close(read("3000 1/min", Kind::RotationalSpeed).value, 3000.0);
        close(read("35\u{a0}°C", Kind::Temperature).value, 308.15);
        assert_eq!(read("12 %", Kind::Share).value, 0.12);
        assert_eq!(read("0.12", Kind::Share).value, 0.12);
        assert_eq!(read("4", Kind::Count).value, 4.0);
        assert_eq!(parse_number(0.85, Kind::Share).map(|m| m.value), Ok(0.85));
        assert_eq!(parse_number(4.0, Kind::Count).map(|m| m.value), Ok(4.0));
    }

    /// The rules of the case file for ±.
    #[test]
    fn plus_and_minus() {
        for (text, kind, value, half) in [
            ("0.62 ± 0.05", Kind::Ratio, 0.62, 0.05),
            ("0.62 +- 0.05", Kind::Ratio, 0.62, 0.05),
            ("0.62+/-0.05", Kind::Ratio, 0.62, 0.05),
            ("0.62 ± 10 %", Kind::Ratio, 0.62, 0.062),
            ("-0.12 ± 25 %", Kind::Ratio, -0.12, 0.03),
            ("90 ± 5 cm2", Kind::Area, 0.009, 0.0005),
            ("90 cm2 ± 500 mm2", Kind::Area, 0.009, 0.0005),
            ("90 cm2 ± 10 %", Kind::Area, 0.009, 0.0009),
            ("12 % ± 3 %", Kind::Share, 0.12, 0.03),
            ("12 ± 3 %", Kind::Share, 0.12, 0.03),
            ("0.12 ± 0.03", Kind::Share, 0.12, 0.03),
            ("0.5 % ± 0.2 %", Kind::Share, 0.005, 0.002),
            ("31 degC ± 2 K", Kind::Temperature, 304.15, 2.0),
            ("31 ± 2 degC", Kind::Temperature, 304.15, 2.0),
            ("50 ± 9 degF", Kind::Temperature, 283.15, 5.0),
            ("50 degF ± 5 K", Kind::Temperature, 283.15, 5.0),
            ("20 K ± 10 %", Kind::TemperatureDifference, 20.0, 2.0),
            ("0.6 ± .05", Kind::Ratio, 0.6, 0.05),
            ("20 K ± 0 K", Kind::TemperatureDifference, 20.0, 0.0),
        ] {
            let measure = read(text, kind);
            close(measure.value, value);
            close(measure.high() - measure.value, half);
            close(measure.value - measure.low(), half);
            assert!(matches!(measure.spread, Some(Spread::Within { .. })), "{text}");
        }
    }

    #[test]
    fn ranges() {
        for (text, kind, low, high) in [
            ("0.5..1.3", Kind::Ratio, 0.5, 1.3),
            ("-0.2 .. -0.1", Kind::Ratio, -0.2, -0.1),
            ("5..7", Kind::Ratio, 5.0, 7.0),
            ("10..20 %", Kind::Share, 0.1, 0.2),
            ("0.1..0.2", Kind::Share, 0.1, 0.2),
            ("10 mm..2 cm", Kind::Length, 0.01, 0.02),
            ("20..30 degC", Kind::Temperature, 293.15, 303.15),
            ("68 degF..30 degC", Kind::Temperature, 293.15, 303.15),
            ("3..3 K", Kind::TemperatureDifference, 3.0, 3.0),
        ] {
            let measure = read(text, kind);
            close(measure.low(), low);
            close(measure.high(), high);
            close(measure.value, (low + high) / 2.0);
        }
    }

    #[test]
    fn what_is_refused() {
        for (text, kind, wanted) in [
            ("", Kind::Pressure, "number-unreadable"),
            ("about 5 Pa", Kind::Pressure, "number-unreadable"),
            ("nan", Kind::Ratio, "number-unreadable"),
            ("inf Pa", Kind::Pressure, "number-unreadable"),
            ("1 200 rpm", Kind::RotationalSpeed, "number-unreadable"),
            ("1_200 rpm", Kind::RotationalSpeed, "number-unreadable"),
            ("1.2.3", Kind::Ratio, "number-unreadable"),
            ("0,62", Kind::Ratio, "decimal-comma"),
            ("1,200 rpm", Kind::RotationalSpeed, "decimal-comma"),
            ("0.62 ± 0,05", Kind::Ratio, "decimal-comma"),
            ("260", Kind::Pressure, "unit-missing"),
            ("90 ± 10 %", Kind::Area, "unit-missing"),
            ("0.5..1.3", Kind::Length, "unit-missing"),
            ("5 psl", Kind::Pressure, "unit-unknown"),
            ("5 bananas", Kind::Ratio, "unit-unknown"),
            ("60 mw", Kind::Power, "unit-ambiguous"),
            ("5 km/h", Kind::Pressure, "unit-of-another-kind"),
            ("0.62 mm", Kind::Ratio, "unit-of-another-kind"),
            ("12 %", Kind::Ratio, "unit-of-another-kind"),
            ("1e400 Pa", Kind::Pressure, "number-not-finite"),
            ("1e308 bar", Kind::Pressure, "number-not-finite"),
            ("1.7e308 ± 1e308", Kind::Ratio, "number-not-finite"),
            ("31 degC ± 5 %", Kind::Temperature, "spread-unreadable"),
            ("0.12 ± 3 %", Kind::Share, "spread-unreadable"),
            ("12 % ± 3", Kind::Share, "spread-unreadable"),
            ("10 mm..20", Kind::Length, "spread-unreadable"),
            ("0.5..", Kind::Ratio, "spread-unreadable"),
            ("± 5", Kind::Ratio, "spread-unreadable"),
            ("0.5...1.3", Kind::Ratio, "spread-unreadable"),
            ("0.1...5", Kind::Ratio, "spread-unreadable"),
            ("1..2..3", Kind::Ratio, "spread-unreadable"),
            ("1..2 ± 3", Kind::Ratio, "spread-unreadable"),
            ("1 ± 2 ± 3", Kind::Ratio, "spread-unreadable"),
            ("20 degC - 30 degC", Kind::Temperature, "spread-unreadable"),
            ("20-30 degC", Kind::Temperature, "spread-unreadable"),
            ("20 – 30 degC", Kind::Temperature, "spread-unreadable"),
            ("20 to 30 degC", Kind::Temperature, "spread-unreadable"),
            ("4 ± 1", Kind::Count, "spread-unreadable"),
            ("1.3..0.5", Kind::Ratio, "spread-upside-down"),
            ("0.62 ± -0.05", Kind::Ratio, "spread-negative"),
            ("1.5", Kind::Count, "count-not-whole"),
            ("0", Kind::Count, "count-not-whole"),
            ("1e3", Kind::Count, "count-not-whole"),
            ("-300 degC", Kind::Temperature, "below-absolute-zero"),
        ] {
            assert_eq!(code(text, kind), wanted, "{text}");
        }
        for (number, kind, wanted) in [
            (260.0, Kind::Pressure, "unit-missing"),
            (f64::NAN, Kind::Ratio, "number-not-finite"),
            (f64::INFINITY, Kind::Share, "number-not-finite"),
            (2.5, Kind::Count, "count-not-whole"),
        ] {
            assert_eq!(parse_number(number, kind).map_err(|error| error.code), Err(wanted));
        }
    }

    #[test]
    fn refusals_help() {
        let error = parse_text("5 km/h", Kind::Pressure).unwrap_err();
        assert_eq!(error.message, "`km/h` is a speed; a pressure is wanted here");
        assert!(error.what_to_do.contains("\"260 Pa\""), "{error}");
        let error = parse_text("5 psl", Kind::Pressure).unwrap_err();
        assert!(error.what_to_do.starts_with("Perhaps `psi` is meant."), "{error}");
        assert!(error.what_to_do.contains("inH2O"), "{error}");
        let error = parse_text("60 mw", Kind::Power).unwrap_err();
        assert_eq!(error.message, "`mw` could be MW or mW");
        let error = parse_number(31.0, Kind::Temperature).unwrap_err();
        assert_eq!(error.message, "`31` has no unit; a temperature is wanted here");
        let long = parse_text(&"x".repeat(10_000), Kind::Power).unwrap_err();
        assert!(long.message.len() < 100);
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "\\PC*", index in 0..Kind::ALL.len()) {
            let _ = parse_text(&text, Kind::ALL[index]);
        }

        #[test]
        fn nor_does_text_made_of_its_marks(
            parts in prop::collection::vec(
                prop::sample::select(vec![
                    "1", "0.5", "-", "±", "..", "+-", "+/-", "e", "E9", ".", " ", "%", "degC", "K",
                    "mm", "1/min", ",", "−", "…", "–", "to ", "e400", "\u{0}", "²", "\n",
                ]),
                0..9,
            ),
            index in 0..Kind::ALL.len(),
        ) {
            // What is read at all is finite and in order, and is read again from what is shown.
            let kind = Kind::ALL[index];
            if let Ok(measure) = parse_text(&parts.concat(), kind) {
                prop_assert!(measure.low() <= measure.value && measure.value <= measure.high());
                prop_assert!(measure.low().is_finite() && measure.high().is_finite());
                prop_assert!(parse_text(&measure.show(kind), kind).is_ok(), "{}", measure.show(kind));
            }
        }
    }
}
