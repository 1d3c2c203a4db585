//! Times as loggers write them.

/// A day (s).
const DAY: f64 = 86_400.0;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Time {
    /// A bare number, whose unit stands elsewhere.
    Number(f64),
    /// A clock or a stopwatch (s); whether it begins anew at midnight.
    Clock { seconds: f64, of_day: bool },
}

/// Reads a time: a number, `1:32.4`, `0:01:32.45`, `2027-05-02T10:01:32.4Z`, `02.05.2027 10:01:32`.
pub(super) fn parse(text: &str) -> Option<Time> {
    let text = text.trim();
    if let Some(value) = super::field::number(text, false) {
        return Some(Time::Number(value));
    }
    let (date, clock) = match text.find(['T', 't', ' ']) {
        Some(at) if text[..at].contains(['-', '.', '/']) && !text[..at].contains(':') => {
            (Some(&text[..at]), text[at + 1..].trim())
        }
        _ => (None, text),
    };
    let days = match date {
        Some(date) => days(date)?,
        None => 0.0,
    };
    let (clock, half) = half_day(clock);
    let (clock, zone) = zone(clock);
    let (seconds, parts) = clock_time(clock)?;
    let seconds = match half {
        Some(true) if seconds < 0.5 * DAY => seconds + 0.5 * DAY,
        Some(false) if seconds >= 0.5 * DAY => seconds - 0.5 * DAY,
        _ => seconds,
    };
    Some(Time::Clock { seconds: DAY * days + seconds - zone, of_day: date.is_none() && parts == 3 })
}

/// `1:32.4` or `0:01:32.4`: seconds, and of how many parts.
fn clock_time(text: &str) -> Option<(f64, usize)> {
    let parts: Vec<&str> = text.split(':').map(str::trim).collect();
    if !(2..=3).contains(&parts.len()) {
        return None;
    }
    let (last, before) = parts.split_last()?;
    let whole = |part: &&str| {
        (1..=4).contains(&part.len()).then_some(())?;
        part.bytes().all(|b| b.is_ascii_digit()).then(|| part.parse::<f64>().ok())?
    };
    let mut seconds = 0.0;
    for part in before {
        seconds = 60.0 * (seconds + whole(part)?);
    }
    let rest = last.replace(',', ".");
    let fine = rest.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && rest.starts_with(|c: char| c.is_ascii_digit());
    let rest = rest.parse::<f64>().ok().filter(|rest| fine && *rest < 60.0)?;
    Some((seconds + rest, parts.len()))
}

/// Before or after noon, where the text says so.
fn half_day(text: &str) -> (&str, Option<bool>) {
    let end = text.len().checked_sub(2).and_then(|at| text.get(at..)).unwrap_or("");
    let half = match end.to_ascii_lowercase().as_str() {
        "am" => Some(false),
        "pm" => Some(true),
        _ => return (text, None),
    };
    (text[..text.len() - 2].trim(), half)
}

/// The time without its zone, and how far that is ahead (s).
fn zone(text: &str) -> (&str, f64) {
    if let Some(rest) = text.strip_suffix(['Z', 'z']) {
        return (rest, 0.0);
    }
    let Some(at) = text.rfind(['+', '-']).filter(|at| *at > 3) else { return (text, 0.0) };
    let digits: String = text[at + 1..].chars().filter(char::is_ascii_digit).collect();
    let (hours, minutes) = match digits.len() {
        2 => (digits.parse::<f64>(), Ok(0.0)),
        4 => (digits[..2].parse::<f64>(), digits[2..].parse::<f64>()),
        _ => return (text, 0.0),
    };
    let ahead = 3600.0 * hours.unwrap_or(0.0) + 60.0 * minutes.unwrap_or(0.0);
    (&text[..at], if text[at..].starts_with('-') { -ahead } else { ahead })
}

/// Days of a date from a day long past: year first with hyphens or slashes, day first with points or slashes.
fn days(text: &str) -> Option<f64> {
    let numbers: Vec<i64> =
        text.split(['-', '.', '/']).map(|part| part.parse().ok()).collect::<Option<Vec<i64>>>()?;
    let [a, b, c] = numbers[..] else { return None };
    let (year, month, day) = match (a > 31, b > 12) {
        (true, _) => (a, b, c),
        (false, true) => (c, a, b),
        (false, false) => (c, b, a),
    };
    let year = if year < 100 { year + 2000 } else { year };
    if !(1..=12).contains(&month) || !(1..=31).contains(&day) {
        return None;
    }
    // the civil calendar, years begun in March, so that the leap day comes last
    let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let leaps = year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
    Some((365 * year + leaps + (153 * month + 2) / 5 + day) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds(text: &str) -> f64 {
        match parse(text) {
            Some(Time::Clock { seconds, .. }) => seconds,
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn numbers_stopwatches_and_clocks() {
        assert_eq!(parse("12.5"), Some(Time::Number(12.5)));
        assert_eq!(parse("12,5"), Some(Time::Number(12.5)));
        assert_eq!(seconds("1:32.4"), 92.4);
        assert_eq!(seconds("1:32,4"), 92.4);
        assert_eq!(seconds("0:01:32.450"), 92.45);
        assert_eq!(seconds("10:01:32 PM") - seconds("10:01:32 AM"), 43_200.0);
        assert_eq!(seconds("12:00:01 AM"), 1.0);
        for text in ["Max", "1:2:3:4", "1:75", "-", "", "1:", "a:10", "2027-13-02T10:00:00"] {
            assert_eq!(parse(text), None, "{text}");
        }
    }

    #[test]
    fn dates_run_through_midnight_and_months() {
        let step = |a: &str, b: &str| seconds(b) - seconds(a);
        assert!((step("2027-05-02T23:59:59.5Z", "2027-05-03T00:00:00.25Z") - 0.75).abs() < 1e-4);
        assert_eq!(step("2028-02-28 12:00:00", "2028-03-01 12:00:00"), 2.0 * DAY);
        assert_eq!(step("2027-02-28 12:00:00", "2027-03-01 12:00:00"), DAY);
        assert_eq!(step("31.12.2027 23:00:00", "01.01.2028 01:00:00"), 7200.0);
        assert_eq!(step("2027-05-02T10:00:00+02:00", "2027-05-02T08:00:30Z"), 30.0);
        assert_eq!(step("02/28/2027 10:00:00", "02/28/2027 10:00:01"), 1.0);
    }
}
