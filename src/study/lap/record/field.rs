//! Numbers and units as they stand in a logger's fields.

use crate::keys::Kind;
use crate::keys::units::{self, Unit};

/// Words for a missing value.
const MISSING: &[&str] =
    &["", "-", "--", "---", "nan", "null", "none", "na", "n/a", "#n/a", "#nv", "invalid", "?"];

/// Whether a field says that it holds no value.
pub(super) fn is_missing(text: &str) -> bool {
    MISSING.iter().any(|word| text.eq_ignore_ascii_case(word))
}

/// A number, with a point or a comma for its decimals; with marks between thousands where both stand in it, where the mark
/// is an apostrophe or a space, or where `thousands` says that a single one is such.
pub(super) fn number(text: &str, thousands: bool) -> Option<f64> {
    let plain = text.parse::<f64>();
    if let (Ok(value), false) = (&plain, thousands) {
        return value.is_finite().then_some(*value);
    }
    let text: String =
        text.chars().filter(|c| !matches!(c, '\'' | '’' | ' ' | '\u{a0}' | '\u{202f}')).collect();
    if !text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.' | ',')) {
        return None;
    }
    let text = match (text.rfind(','), text.rfind('.')) {
        (Some(comma), Some(point)) if comma > point => text.replace('.', "").replace(',', "."),
        (Some(_), Some(_)) => text.replace(',', ""),
        _ if thousands && is_thousands(&text) => text.replace([',', '.'], ""),
        (Some(_), None) if text.matches(',').count() == 1 => text.replace(',', "."),
        _ => text,
    };
    text.parse::<f64>().ok().filter(|value| value.is_finite())
}

/// Whether a number may have a mark between its thousands: `3.450`, `12,600`.
pub(super) fn is_thousands(text: &str) -> bool {
    let mut groups = text.trim_start_matches(['-', '+']).split(['.', ',']);
    let first = groups.next().unwrap_or("");
    let rest: Vec<&str> = groups.collect();
    let digits = |group: &str| group.bytes().all(|b| b.is_ascii_digit());
    (1..=3).contains(&first.len())
        && digits(first)
        && !first.starts_with('0')
        && !rest.is_empty()
        && rest.iter().all(|group| group.len() == 3 && digits(group))
}

/// Units in words that loggers use beside those of the case file.
const WORDS: &[(Kind, &[&str], &str)] = &[
    (Kind::Time, &["sec", "secs", "second", "seconds", "sek", "sekunden", "secondes"], "s"),
    (Kind::Time, &["msec", "millis", "millisec", "millisecond", "milliseconds"], "ms"),
    (Kind::Speed, &["kph", "kmh", "km/u", "km/std", "kmph", "km h"], "km/h"),
    (Kind::Speed, &["m s", "m/sec", "mps"], "m/s"),
    (
        Kind::RotationalSpeed,
        &[
            "u/min", "upm", "umin", "r/min", "rev/min", "1/min", "min-1", "tr/min", "giri/min", "g/min",
            "omw/min", "obr/min", "v/min",
        ],
        "rpm",
    ),
    (Kind::Share, &["percent", "pct", "prozent", "% open"], "%"),
    (Kind::Temperature, &["c", "deg c", "degc", "°c", "celsius", "grad"], "degC"),
    (Kind::Temperature, &["f", "deg f", "degf", "°f", "fahrenheit"], "degF"),
];

/// The unit of a kind behind a spelling.
pub(super) fn unit(text: &str, kind: Kind) -> Option<&'static Unit> {
    let text = text.trim();
    let word = WORDS.iter().find(|(of, words, _)| {
        *of == kind
            && words.iter().any(|word| text.eq_ignore_ascii_case(word) || text.to_lowercase() == *word)
    });
    match word {
        Some((_, _, meant)) => units::find(meant, kind).ok(),
        None if text.is_empty() => None,
        None => units::find(text, kind).ok(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_several_countries() {
        for (text, thousands, value) in [
            ("36.5", false, Some(36.5)),
            ("36,5", false, Some(36.5)),
            ("1,234.5", false, Some(1234.5)),
            ("1.234,5", false, Some(1234.5)),
            ("3'450", false, Some(3450.0)),
            ("3 450", false, Some(3450.0)),
            ("3.450", false, Some(3.45)),
            ("3.450", true, Some(3450.0)),
            ("12,600", true, Some(12_600.0)),
            ("3.45", true, Some(3.45)),
            ("1e3", false, Some(1000.0)),
            ("inf", false, None),
            ("fast", false, None),
            ("1,2,3", false, None),
        ] {
            assert_eq!(number(text, thousands), value, "{text}");
        }
        assert!(is_missing("NaN") && is_missing("N/A") && !is_missing("0"));
    }

    #[test]
    fn units_as_loggers_write_them() {
        let factor = |text: &str, kind: Kind| unit(text, kind).map(|unit| unit.to_canonical(1.0));
        assert_eq!(factor("U/min", Kind::RotationalSpeed), Some(1.0));
        assert_eq!(factor("sec", Kind::Time), Some(1.0));
        assert_eq!(factor("ms", Kind::Time), Some(1e-3));
        assert!(factor("kph", Kind::Speed).is_some_and(|v| (v - 1.0 / 3.6).abs() < 1e-12));
        assert!(factor("°C", Kind::Temperature).is_some_and(|t| (t - 274.15).abs() < 1e-9));
        assert_eq!(factor("furlong", Kind::Speed), None);
    }
}
