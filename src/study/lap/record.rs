//! Recorded runs: CSV with units in its headings, as a logger writes it.

use crate::case::render::harmless;
use crate::keys::{Kind, units};
use crate::study::warnings::words;
use std::io::{BufRead, BufReader, Read};

/// Largest file that is read (bytes).
pub const LARGEST: u64 = 200_000_000;
/// Characters shown of what stands in a heading or a field.
const SHOWN: usize = 40;
/// Columns that are named where they are left aside.
const NAMED: usize = 20;
/// Most rows that are read.
const MOST_ROWS: usize = 20_000_000;
/// Size of the piece in which the heading is looked for (bytes).
const HEADING_ROOM: usize = 1 << 16;

/// What some programs put before UTF-8.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// What is wrong with a recorded run.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("{message}")]
pub struct RecordFault {
    /// Stable code in words.
    pub code: &'static str,
    /// The line, from 1, where one is to blame.
    pub line: Option<u64>,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub what_to_do: String,
}

/// A recorded run as it stands in the file, gaps in a row filled from its neighbours.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// Times (s), rising.
    pub time: Vec<f64>,
    /// Road speeds (m/s).
    pub speed: Vec<f64>,
    /// Engine speeds (rev/min).
    pub rpm: Option<Vec<f64>>,
    /// Loads.
    pub load: Option<Vec<f64>>,
    /// Pedal travel, 0..1: no load, but it tells when the throttle is shut.
    pub throttle: Option<Vec<f64>>,
    /// What was done with the file.
    pub notes: Vec<String>,
}

/// What a column may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Time,
    Speed,
    Rpm,
    Load,
    Throttle,
}

const COLUMNS: [(Column, &str, &[&str], Kind, &str); 5] = [
    (Column::Time, "time", &["time", "t"], Kind::Time, "time (s)"),
    (Column::Speed, "speed", &["speed", "road speed", "ground speed"], Kind::Speed, "speed (km/h)"),
    (Column::Rpm, "rpm", &["rpm", "engine speed", "engine rpm"], Kind::RotationalSpeed, "rpm"),
    (Column::Load, "load", &["load", "engine load"], Kind::Share, "load (%)"),
    (
        Column::Throttle,
        "throttle",
        &["throttle", "throttle position", "tps", "pedal"],
        Kind::Share,
        "throttle (%)",
    ),
];

/// A column that is read: where it stands and how a number becomes SI.
struct Found {
    column: Column,
    index: usize,
    unit: Option<&'static units::Unit>,
}

/// Reads a recorded run.
///
/// Columns `time`, `speed`, `rpm`, `load`, in any order, a unit in brackets behind the name; others are
/// left aside with a note. Fields are parted by commas, semicolons or tabs; with the latter two a decimal
/// comma is understood. Empty fields are filled on a straight line between their neighbours.
///
/// # Errors
/// [`RecordFault`] with its line: missing columns, units not known, text for a number, time that runs
/// backwards, fewer than two rows, values no car reaches.
pub fn read(input: impl Read) -> Result<Record, RecordFault> {
    let mut input = BufReader::with_capacity(HEADING_ROOM, input);
    let delimiter = delimiter(&mut input)?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .delimiter(delimiter)
        .trim(csv::Trim::All)
        .from_reader(input);
    let mut row = csv::ByteRecord::new();
    let more = reader.read_byte_record(&mut row).map_err(|error| unreadable(&error))?;
    if !more {
        return Err(fault("run-empty", None, "the file is empty", "give a heading and at least two rows"));
    }
    let heading: Vec<String> =
        row.iter().map(|field| String::from_utf8_lossy(field).trim().to_string()).collect();
    let mut record = Record::default();
    let line = row.position().map(csv::Position::line);
    let found = columns(&heading, line, &mut record.notes)?;
    let mut values: Vec<Vec<f64>> = vec![Vec::new(); found.len()];
    let time_at = found.iter().position(|f| f.column == Column::Time).unwrap_or(0);
    let mut repeated = 0;
    let mut last_time = f64::NEG_INFINITY;
    while reader.read_byte_record(&mut row).map_err(|error| unreadable(&error))? {
        let line = row.position().map(csv::Position::line);
        if row.iter().all(<[u8]>::is_empty) {
            continue;
        }
        let time = number(&row, &found[time_at], line, delimiter)?;
        if time.is_nan() {
            return Err(fault(
                "run-number",
                line,
                "the time is missing",
                "give every row its time, or take the row out",
            ));
        }
        if time < last_time {
            return Err(fault(
                "run-time-backwards",
                line,
                &format!("time runs backwards: {time} s after {last_time} s"),
                "sort the rows, or make a file of each run where the clock was set back",
            ));
        }
        if time == last_time {
            repeated += 1;
            continue;
        }
        last_time = time;
        for (found, values) in found.iter().zip(&mut values) {
            let value =
                if found.column == Column::Time { time } else { number(&row, found, line, delimiter)? };
            check(found, value, line)?;
            values.push(value);
        }
        if values[time_at].len() > MOST_ROWS {
            return Err(fault(
                "run-too-long",
                line,
                &format!("more than {MOST_ROWS} rows"),
                "make several files of it, or log at a lower rate",
            ));
        }
    }
    if values[time_at].len() < 2 {
        return Err(fault(
            "run-too-short",
            None,
            &format!(
                "a run needs at least two moments, and here {}",
                match values[time_at].len() {
                    0 => "is none",
                    _ => "is one",
                }
            ),
            "give the rows of the whole run",
        ));
    }
    if repeated > 0 {
        record.notes.push(format!(
            "the time of the row before is repeated in {}, left out",
            words::count(repeated, "row")
        ));
    }
    for (found, mut values) in found.into_iter().zip(values) {
        let name = COLUMNS.iter().find(|c| c.0 == found.column).map_or("", |c| c.1);
        let filled = fill(&mut values);
        if values.first().is_some_and(|value| value.is_nan()) {
            return Err(fault(
                "run-column-empty",
                None,
                &format!("the column {name} holds no number"),
                "take the column out, or export it with its values",
            ));
        }
        if filled > 0 {
            record.notes.push(format!(
                "no {name} in {}: drawn straight between the rows around",
                words::count(filled, "row")
            ));
        }
        match found.column {
            Column::Time => record.time = values,
            Column::Speed => record.speed = values,
            Column::Rpm => record.rpm = Some(values),
            Column::Load => record.load = Some(values),
            Column::Throttle => record.throttle = Some(values),
        }
    }
    Ok(record)
}

fn fault(code: &'static str, line: Option<u64>, message: &str, what_to_do: &str) -> RecordFault {
    RecordFault { code, line, message: message.to_string(), what_to_do: what_to_do.to_string() }
}

/// Headings or fields as they may be repeated to whoever reads of them.
fn shown<'t>(texts: impl Iterator<Item = &'t str>) -> String {
    let short = |text: &str| {
        let cut = text.chars().nth(SHOWN).map_or("", |_| "…");
        format!("{}{cut}", harmless(&text.chars().take(SHOWN).collect::<String>()))
    };
    let mut all = texts.map(short);
    let named: Vec<String> = all.by_ref().take(NAMED).collect();
    let more = all.count();
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{more}", named.join(", "))
}

fn unreadable(error: &csv::Error) -> RecordFault {
    let line = error.position().map(csv::Position::line);
    fault(
        "run-unreadable",
        line,
        &format!("it cannot be read: {error}"),
        "check the file and its permissions",
    )
}

/// What parts the fields, by the heading.
fn delimiter(input: &mut BufReader<impl Read>) -> Result<u8, RecordFault> {
    let unreadable = |error: std::io::Error| {
        fault(
            "run-unreadable",
            None,
            &format!("it cannot be read: {error}"),
            "check the file and its permissions",
        )
    };
    if input.fill_buf().map_err(unreadable)?.starts_with(BYTE_ORDER_MARK) {
        input.consume(BYTE_ORDER_MARK.len());
    }
    let room = input.fill_buf().map_err(unreadable)?;
    let is_heading =
        |line: &&[u8]| !line.is_empty() && line[0] != b'#' && line.iter().any(|b| !b.is_ascii_whitespace());
    let heading = room.split(|byte| *byte == b'\n').find(is_heading).unwrap_or(&[]);
    let count = |wanted: u8| heading.iter().filter(|byte| **byte == wanted).count();
    Ok([b';', b'\t', b','].into_iter().max_by_key(|d| count(*d)).unwrap_or(b','))
}

/// The columns that are read.
fn columns(
    heading: &[String],
    line: Option<u64>,
    notes: &mut Vec<String>,
) -> Result<Vec<Found>, RecordFault> {
    let mut found: Vec<Found> = Vec::new();
    let mut left = Vec::new();
    for (index, text) in heading.iter().enumerate() {
        let (name, unit) = match text.find(['(', '[']) {
            Some(at) => (text[..at].trim(), Some(text[at + 1..].trim_end_matches([')', ']', ' ']).trim())),
            None => (text.trim(), None),
        };
        let plain = name.to_lowercase().replace('_', " ");
        let Some((column, word, _, kind, example)) =
            COLUMNS.iter().find(|(_, _, names, _, _)| names.contains(&plain.as_str()))
        else {
            if !text.is_empty() {
                left.push(text.as_str());
            }
            continue;
        };
        if found.iter().any(|f| f.column == *column) {
            return Err(fault(
                "run-column-twice",
                line,
                &format!("two columns are called {word}"),
                "rename the one that is not meant",
            ));
        }
        let unit = match unit {
            Some(unit) => Some(units::find(unit, *kind).map_err(|_| {
                let known: Vec<&str> = units::aliases(*kind).iter().map(|unit| unit.written).collect();
                fault(
                    "run-unit",
                    line,
                    &format!("\"{}\" is no unit of {word}", shown(std::iter::once(unit))),
                    &format!("write one of {}, as in {example:?}", known.join(", ")),
                )
            })?),
            None if *column == Column::Rpm => None,
            None => {
                return Err(fault(
                    "run-unit",
                    line,
                    &format!("the column {word} has no unit"),
                    &format!("write it behind the name, as in {example:?}"),
                ));
            }
        };
        found.push(Found { column: *column, index, unit });
    }
    for (column, word, _, _, example) in &COLUMNS[..2] {
        if !found.iter().any(|f| f.column == *column) {
            return Err(fault(
                "run-column-missing",
                line,
                &format!(
                    "there is no column {word}; the headings are {}",
                    shown(heading.iter().map(String::as_str))
                ),
                &format!("the first row that is no comment names the columns; write {example:?}"),
            ));
        }
    }
    if !left.is_empty() {
        notes.push(format!("columns left aside: {}", shown(left.into_iter())));
    }
    Ok(found)
}

/// A field as a number in SI; NaN where it is empty.
fn number(
    row: &csv::ByteRecord,
    found: &Found,
    line: Option<u64>,
    delimiter: u8,
) -> Result<f64, RecordFault> {
    let field = row.get(found.index).unwrap_or(b"");
    if field.is_empty() || field == b"-" || field.eq_ignore_ascii_case(b"nan") {
        return Ok(f64::NAN);
    }
    let text = String::from_utf8_lossy(field);
    let parsed = if delimiter != b',' && text.contains(',') {
        text.replace(',', ".").parse::<f64>()
    } else {
        text.parse::<f64>()
    };
    match parsed {
        Ok(value) if value.is_finite() => Ok(found.unit.map_or(value, |unit| unit.to_canonical(value))),
        _ => Err(fault(
            "run-number",
            line,
            &format!("\"{}\" is no number (column {})", shown(std::iter::once(&*text)), found.index + 1),
            "write a number, or leave the field empty and it is filled from the rows around it",
        )),
    }
}

/// Refuses what no car reaches: most often a wrong unit.
fn check(found: &Found, value: f64, line: Option<u64>) -> Result<(), RecordFault> {
    let most = match found.column {
        Column::Speed => 150.0,
        Column::Rpm => 30_000.0,
        Column::Load | Column::Throttle => 1.5,
        Column::Time => return Ok(()),
    };
    if value > most {
        let words = match found.column {
            Column::Speed => format!("a road speed of {:.0} km/h", value * 3.6),
            Column::Rpm => format!("an engine speed of {value:.0} rpm"),
            _ => format!("a load of {:.0} %", value * 100.0),
        };
        return Err(fault(
            "run-out-of-range",
            line,
            &words,
            "check the unit in the heading; take the row out where the logger slipped",
        ));
    }
    Ok(())
}

/// Fills what is missing on a straight line between its neighbours, at the ends with the nearest. Gives how
/// many were missing.
fn fill(values: &mut [f64]) -> usize {
    let missing = values.iter().filter(|value| value.is_nan()).count();
    if missing == 0 || missing == values.len() {
        return missing;
    }
    let known: Vec<usize> = (0..values.len()).filter(|i| !values[*i].is_nan()).collect();
    for pair in known.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        for i in a + 1..b {
            values[i] = values[a] + (values[b] - values[a]) * (i - a) as f64 / (b - a) as f64;
        }
    }
    let (first, last) = (known[0], known[known.len() - 1]);
    let (first_value, last_value) = (values[first], values[last]);
    values[..first].fill(first_value);
    values[last + 1..].fill(last_value);
    missing
}
