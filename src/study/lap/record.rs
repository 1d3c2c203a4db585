//! Recorded runs: tables as loggers write them.
//!
//! | file | what it does |
//! | --- | --- |
//! | `text` | the text, in whichever encoding it was saved |
//! | `heading` | where the headings stand and what each means |
//! | `time`, `field` | times, numbers and units as they are written |
//! | `rows` | the rows one after another, and what is wrong with them |

mod field;
pub mod heading;
mod rows;
mod text;
mod time;

pub use heading::{COLUMNS, ColumnMeaning, NamedColumns};

use crate::case::diagnostic::did_you_mean;
use crate::case::render::{harmless, line_and_column};
use crate::case::{Diagnostic, Diagnostics, FaultPlace};
use crate::keys::Kind;
use crate::keys::units::{self, Unit};
use heading::HeadingRow;
use std::io::Read;
use std::ops::Range;

/// Largest file that is read (bytes).
pub const LARGEST: u64 = 200_000_000;
/// Characters shown of what stands in a heading or a field.
const SHOWN: usize = 40;
/// Columns that are named where they are left aside.
const NAMED: usize = 20;

/// What is wrong with a recorded run, with its text, for whoever shows it.
#[derive(Clone, Debug, thiserror::Error)]
#[error("{faults}")]
pub struct RecordFaults {
    /// The file's text.
    pub text: String,
    /// The faults, in the order of their places.
    pub faults: Diagnostics,
}

impl RecordFaults {
    /// All faults in one line.
    pub fn in_short(&self) -> String {
        let one = |fault: &Diagnostic| {
            let line = match &fault.place {
                FaultPlace::Span(span) => format!("line {}: ", line_and_column(&self.text, span.start).0),
                _ => String::new(),
            };
            format!("{line}{} ({}); {}", fault.message, fault.code, fault.what_to_do)
        };
        self.faults.list().iter().map(one).collect::<Vec<_>>().join("; ")
    }
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
    pub load: Option<Vec<f64>>,
    /// Pedal travel, 0..1: no load, but it tells when the throttle is shut.
    pub throttle: Option<Vec<f64>>,
    /// Temperatures that were measured.
    pub measured: Vec<MeasuredColumn>,
    /// What was done with the file.
    pub notes: Vec<String>,
}

/// A column of temperatures that were measured.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredColumn {
    /// The part or chamber.
    pub of: String,
    /// The column's heading.
    pub column: String,
    /// Temperatures (K), one a row.
    pub kelvin: Vec<f64>,
}

/// A column that is read: where it stands and how a number becomes SI.
struct ColumnRead {
    column: ColumnMeaning,
    word: String,
    index: usize,
    unit: Option<&'static Unit>,
    kind: Kind,
    /// Bytes of its heading.
    span: Range<usize>,
}

/// Reads a recorded run, as docs/recorded-runs.md says it may be written.
///
/// # Errors
/// [`RecordFaults`], all at once: missing columns, units not known, text for a number, time that runs backwards, fewer than
/// two rows, values no car reaches.
pub fn read(mut input: impl Read, wanted: &NamedColumns) -> Result<Record, Box<RecordFaults>> {
    let mut faults = Diagnostics::new();
    let mut bytes = Vec::new();
    if let Err(error) = input.read_to_end(&mut bytes) {
        faults.push(whole(
            "run-unreadable",
            &format!("it cannot be read: {error}"),
            "check the file and its permissions",
        ));
        return Err(Box::new(RecordFaults { text: String::new(), faults }));
    }
    let (text, saved) = text::decoded(bytes);
    let mut record = Record::default();
    record.notes.extend(saved.map(str::to_string));
    read_text(&text, wanted, &mut record, &mut faults);
    if faults.is_empty() { Ok(record) } else { Err(Box::new(RecordFaults { text, faults })) }
}

fn read_text(text: &str, wanted: &NamedColumns, record: &mut Record, faults: &mut Diagnostics) {
    let first = || text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let Some(first) = first() else {
        faults.push(whole("run-empty", "the file is empty", "give a heading and at least two rows"));
        return;
    };
    let Some(head) = heading::find(text, wanted) else {
        let at = text.find(first).unwrap_or(0);
        let message = format!(
            "none of the first {} lines names the columns; the first is {}",
            heading::MOST_BEFORE + 1,
            shown(std::iter::once(first))
        );
        faults.push(Diagnostic::new(
            "run-column-missing",
            message,
            FaultPlace::Span(at..at + first.len()),
            "the line of headings names at least time and speed, as in time (s),speed (km/h),rpm; or say which columns are meant: columns = { speed = \"…\" } in the stint",
        ));
        return;
    };
    if head.before > 0 {
        record.notes.push(format!(
            "{} before the headings passed over",
            crate::warnings::words::count(head.before, "line")
        ));
    }
    let found = columns(text, &head, wanted, &mut record.notes, faults);
    if !faults.is_empty() {
        return;
    }
    rows::read(text, &head, found, wanted, record, faults);
}

fn whole(code: &'static str, message: &str, what_to_do: &str) -> Diagnostic {
    Diagnostic::new(code, message, FaultPlace::Whole, what_to_do)
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

fn units_of(kind: Kind) -> String {
    units::aliases(kind).iter().map(|unit| unit.written).collect::<Vec<_>>().join(", ")
}

/// The columns that are read.
fn columns(
    text: &str,
    head: &HeadingRow,
    wanted: &NamedColumns,
    notes: &mut Vec<String>,
    faults: &mut Diagnostics,
) -> Vec<ColumnRead> {
    let headings: Vec<&str> = head.fields.iter().map(|field| &text[field.clone()]).collect();
    let mut found: Vec<ColumnRead> = Vec::new();
    for known in &COLUMNS {
        if let Some((_, name)) = wanted.columns.iter().find(|(column, _)| *column == known.column) {
            let word = known.word.to_string();
            found.extend(named((known.column, word, known.kind), name, &headings, head, faults));
            continue;
        }
        let mut fits: Vec<(usize, heading::HeadingFit)> = headings
            .iter()
            .enumerate()
            .filter_map(|(index, text)| Some((index, heading::fit(text, known)?)))
            .collect();
        fits.sort_by_key(|(_, fit)| (fit.rank, fit.unit.is_none()));
        let Some((index, fit)) = fits.first().copied() else { continue };
        let span = head.fields[index].clone();
        if fits.get(1).is_some_and(|(_, second)| second.rank == fit.rank) {
            faults.push(Diagnostic::new(
                "run-column-twice",
                format!("two columns are called {}", known.word),
                FaultPlace::Span(head.fields[fits[1].0].clone()),
                format!("rename the one that is not meant, or name the right one in the stint: columns = {{ {} = \"…\" }}", known.word),
            ));
            continue;
        }
        if fits.len() > 1 {
            let others = fits[1..].iter().map(|(index, _)| headings[*index]);
            notes.push(format!(
                "{} is read from {}; {} may say the same and is left aside (columns = {{ {} = \"…\" }} in the stint chooses)",
                known.word,
                shown(std::iter::once(headings[index])),
                shown(others),
                known.word
            ));
        }
        if let Some(odd) = fit.odd {
            faults.push(Diagnostic::new(
                "run-unit",
                format!("\"{}\" is no unit of {}", shown(std::iter::once(odd)), known.word),
                FaultPlace::Span(span),
                format!("write one of {}, as in {:?}", units_of(known.kind), known.example),
            ));
            continue;
        }
        found.push(ColumnRead {
            column: known.column,
            word: known.word.to_string(),
            index,
            unit: fit.unit,
            kind: known.kind,
            span,
        });
    }
    for (place, (of, name)) in wanted.measured.iter().enumerate() {
        let sort = (ColumnMeaning::Measured(place), format!("{of} as measured"), Kind::Temperature);
        found.extend(named(sort, name, &headings, head, faults));
    }
    for known in &COLUMNS[..2] {
        let asked = wanted.columns.iter().any(|(column, _)| *column == known.column);
        if !asked && !found.iter().any(|f| f.column == known.column) && faults.is_empty() {
            faults.push(Diagnostic::new(
                "run-column-missing",
                format!(
                    "there is no column {}; the headings are {}",
                    known.word,
                    shown(headings.iter().copied())
                ),
                FaultPlace::Span(head.at..head.end),
                format!(
                    "name it {:?}, or say in the stint which one it is: columns = {{ {} = \"…\" }}",
                    known.example, known.word
                ),
            ));
        }
    }
    let left = headings
        .iter()
        .enumerate()
        .filter(|(index, text)| !text.is_empty() && !found.iter().any(|found| found.index == *index));
    let left: Vec<&str> = left.map(|(_, text)| *text).collect();
    if !left.is_empty() {
        notes.push(format!("columns left aside: {}", shown(left.into_iter())));
    }
    found
}

/// A column that the case names itself.
fn named(
    (column, word, kind): (ColumnMeaning, String, Kind),
    name: &str,
    headings: &[&str],
    head: &HeadingRow,
    faults: &mut Diagnostics,
) -> Option<ColumnRead> {
    let fits =
        headings.iter().enumerate().find_map(|(index, text)| Some((index, heading::is_named(text, name)?)));
    let Some((index, unit)) = fits else {
        let plain = heading::bracketed(name).map_or(name, |(name, _)| name);
        let meant = did_you_mean(plain, headings.iter().copied());
        faults.push(Diagnostic::new(
            "run-column-missing",
            format!("there is no column {name:?}, which the stint names for {word}"),
            FaultPlace::Span(head.at..head.end),
            match meant {
                Some(meant) => format!("did you mean {}?", shown(std::iter::once(meant))),
                None => format!("the headings are {}", shown(headings.iter().copied())),
            },
        ));
        return None;
    };
    let span = head.fields[index].clone();
    let unit = match unit.filter(|unit| !unit.is_empty()) {
        None => None,
        Some(text) => match field::unit(text, kind) {
            Some(unit) => Some(unit),
            None => {
                faults.push(Diagnostic::new(
                    "run-unit",
                    format!("\"{}\" is no unit of {word}", shown(std::iter::once(text))),
                    FaultPlace::Span(span),
                    format!("write one of {}", units_of(kind)),
                ));
                return None;
            }
        },
    };
    Some(ColumnRead { column, word, index, unit, kind, span })
}
