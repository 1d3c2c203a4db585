//! Why a number of the case file is refused, in the builder's terms.

use crate::keys::kind::{Kind, reads_as_thousands};
use crate::keys::units::{self, UnitFault};
use std::fmt;

/// Why a number is refused.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureError {
    /// What kind of fault it is, in words; scripts may rely on it.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// What the builder can do about it.
    pub what_to_do: String,
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}. {}", self.code, self.message, self.what_to_do)
    }
}

impl std::error::Error for MeasureError {}

pub(super) fn refuse(code: &'static str, message: String, what_to_do: String) -> MeasureError {
    MeasureError { code, message, what_to_do }
}

pub(super) fn refuse_decimal_comma(text: &str) -> Result<(), MeasureError> {
    let comma_then_digit =
        text.split(',').skip(1).any(|after| after.starts_with(|c: char| c.is_ascii_digit()));
    if !comma_then_digit {
        return Ok(());
    }
    Err(refuse(
        "decimal-comma",
        format!("{} has a comma in its number", quoted(text)),
        "Write decimals with a point (0.62), and thousands without any mark (1200).".to_string(),
    ))
}

/// A point between thousands, as in `1.200 rpm`.
pub(super) fn refuse_thousands_point(text: &str, kind: Kind) -> Result<(), MeasureError> {
    let number = text.split(|c: char| !(c.is_ascii_digit() || c == '.')).next().unwrap_or("");
    // nobody writes a power of ten behind a mark of thousands
    let has_power = text[number.len()..].starts_with(['e', 'E']);
    match number.split_once('.') {
        Some((whole, part)) if reads_as_thousands(number, kind) && !has_power => Err(refuse(
            "thousands-point",
            format!("{} reads as {whole} turns and a fraction", quoted(text)),
            format!("Write thousands without any mark: {whole}{part}."),
        )),
        _ => Ok(()),
    }
}

pub(super) fn no_clock(text: &str) -> MeasureError {
    refuse(
        "number-unreadable",
        format!("{} is no time of a stopwatch", quoted(text)),
        "Write minutes and seconds, such as \"1:32\" or \"1:32.4\", hours before them, or one number with its unit: \"92 s\".".to_string(),
    )
}

pub(super) fn no_number(text: &str, kind: Kind) -> MeasureError {
    let message = if text.is_empty() {
        format!("nothing is written; {} is wanted here", kind.name())
    } else {
        format!("{} does not begin with a number", quoted(text))
    };
    refuse("number-unreadable", message, wanted(kind))
}

pub(super) fn no_spread(text: &str, kind: Kind) -> MeasureError {
    refuse(
        "spread-unreadable",
        format!("{} is not a value with one ±, or a range with one `..`, between two numbers", quoted(text)),
        format!(
            "Write a value such as {}; how sure it is goes after it as \"0.62 ± 0.05\", or as \
             \"0.5..1.3\" in its place.",
            kind.example()
        ),
    )
}

pub(super) fn no_unit(text: &str, kind: Kind) -> MeasureError {
    refuse(
        "unit-missing",
        format!("{} has no unit; {} is wanted here", quoted(text), kind.name()),
        wanted(kind),
    )
}

pub(super) fn no_such_unit(unit: &str, fault: UnitFault, kind: Kind, text: &str) -> MeasureError {
    match fault {
        UnitFault::OtherKind(kinds) => {
            let kinds: Vec<&str> = kinds.into_iter().map(Kind::name).collect();
            refuse(
                "unit-of-another-kind",
                format!("{} is {}; {} is wanted here", quoted(unit), kinds.join(" or "), kind.name()),
                wanted(kind),
            )
        }
        UnitFault::Ambiguous(units) => refuse(
            "unit-ambiguous",
            format!("{} could be {}", quoted(unit), units.join(" or ")),
            "Write capitals and small letters as they belong to the unit.".to_string(),
        ),
        UnitFault::Unknown { .. } if is_range_in_words(unit) => refuse(
            "spread-unreadable",
            format!("{} looks like a range", quoted(text)),
            "Write a range with two points between its ends, as in \"0.5..1.3\".".to_string(),
        ),
        UnitFault::Unknown { .. } if has_number_left(unit) => refuse(
            "number-unreadable",
            format!("the number in {} cannot be read", quoted(text)),
            "Write the digits in one piece, with one point for decimals and nothing between \
             thousands."
                .to_string(),
        ),
        UnitFault::Unknown { .. } if kind == Kind::Ratio && unit.starts_with([':', '/']) => refuse(
            "number-unreadable",
            format!("{} is two numbers", quoted(text)),
            "Write the quotient alone, for example 4.45: nothing is worked out in the file.".to_string(),
        ),
        UnitFault::Unknown { nearest: Some(near) } => refuse(
            "unit-unknown",
            format!("{} is not known as a unit of {}", quoted(unit), kind.name()),
            format!("Perhaps `{near}` is meant. {}", wanted(kind)),
        ),
        UnitFault::Unknown { nearest: None } => refuse(
            "unit-unknown",
            format!("{} is not known as a unit of {}", quoted(unit), kind.name()),
            wanted(kind),
        ),
    }
}

/// Whether what follows a number says "to" another one: `20 - 30`, `20 to 30`.
fn is_range_in_words(unit: &str) -> bool {
    ["-", "−", "–", "—", "to ", "…"].iter().any(|word| {
        let digit_follows = |end: &str| {
            end.trim_start().trim_start_matches(['-', '−', '.']).starts_with(|c: char| c.is_ascii_digit())
        };
        // Within the text the word must stand apart: min-1 is no range.
        unit.strip_prefix(word).is_some_and(digit_follows)
            || unit.split_once(&format!(" {} ", word.trim())).is_some_and(|(_, end)| digit_follows(end))
    })
}

/// Whether what follows a number goes on with digits, as in `1 200` or `1.2.3` or `1_200`.
fn has_number_left(unit: &str) -> bool {
    let rest = unit.trim_start_matches(['.', '_', '\'', '’', '+', '-', '±']).trim_start();
    rest.starts_with(|c: char| c.is_ascii_digit())
}

/// What may be written for a kind: an example and the units.
fn wanted(kind: Kind) -> String {
    let units: Vec<&str> = units::aliases(kind).iter().map(|unit| unit.written).collect();
    match kind {
        Kind::Ratio | Kind::Count => {
            format!("Write {} without a unit, for example {}.", kind.name(), kind.example())
        }
        Kind::Share => "Write a share as a plain number or in per cent: 0.12 or \"12 %\".".to_string(),
        _ => format!(
            "Write {} with its unit, for example {}. Units: {}.",
            kind.name(),
            kind.example(),
            units.join(", ")
        ),
    }
}

/// The builder's text, cut to what a message can hold.
pub(super) fn quoted(text: &str) -> String {
    const MOST: usize = 40;
    let shown: String =
        text.chars().take(MOST).map(|c| if c.is_control() { '\u{FFFD}' } else { c }).collect();
    let cut = if text.chars().nth(MOST).is_some() { "…" } else { "" };
    format!("`{shown}{cut}`")
}
