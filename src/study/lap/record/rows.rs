//! The rows of a logger's file.

use super::heading::{ColumnMeaning, HeadingRow, NamedColumns, fields};
use super::time::{self, Time};
use super::{ColumnRead, MeasuredColumn, Record, field, shown, units_of, whole};
use crate::case::{Diagnostic, Diagnostics, FaultPlace};
use crate::keys::Kind;
use crate::keys::figures;
use crate::warnings::words;
use std::ops::Range;

/// Most rows that are read.
const MOST_ROWS: usize = 20_000_000;
/// Faults shown of one sort in one column.
const FAULTS_OF_A_SORT: usize = 3;
/// Rows at the end that may hold words for a time: maxima, means.
const MOST_CLOSING: usize = 6;
/// Half a day (s): a clock that falls by more began anew at midnight.
const HALF_A_DAY: f64 = 43_200.0;

/// Faults of rows, of which no more than a few of a sort are shown.
struct Sorts<'f> {
    faults: &'f mut Diagnostics,
    seen: Vec<(&'static str, usize, usize)>,
    last: Vec<Diagnostic>,
}

impl Sorts<'_> {
    fn push(&mut self, column: usize, fault: Diagnostic) {
        let known = self.seen.iter().position(|(code, at, _)| *code == fault.code && *at == column);
        let index = known.unwrap_or_else(|| {
            self.seen.push((fault.code, column, 0));
            self.last.push(fault.clone());
            self.seen.len() - 1
        });
        self.seen[index].2 += 1;
        match self.seen[index].2 {
            count if count < FAULTS_OF_A_SORT => self.faults.push(fault),
            FAULTS_OF_A_SORT => self.last[index] = fault,
            _ => {}
        }
    }

    /// Puts the last ones shown in their places, with how many more there are.
    fn close(self) {
        for ((_, _, count), mut last) in self.seen.into_iter().zip(self.last) {
            if count >= FAULTS_OF_A_SORT {
                let more = count - FAULTS_OF_A_SORT;
                if more > 0 {
                    last.what_to_do =
                        format!("{}; the same in {}", last.what_to_do, words::count(more, "further row"));
                }
                self.faults.push(last);
            }
        }
    }
}

/// A row as it stands in the file.
struct RecordRow<'r, 't> {
    record: &'r csv::StringRecord,
    text: &'t str,
    /// Byte at which its line begins.
    at: usize,
    delimiter: char,
}

impl RecordRow<'_, '_> {
    fn field(&self, index: usize) -> &str {
        self.record.get(index).unwrap_or("").trim()
    }

    fn span(&self, index: usize) -> Range<usize> {
        let line = self.text[self.at..].lines().next().unwrap_or("");
        fields(line, self.delimiter, self.at).get(index).cloned().unwrap_or(self.at..self.at + line.len())
    }

    fn fault(&self, index: usize, code: &'static str, message: String, what_to_do: String) -> Diagnostic {
        Diagnostic::new(code, message, FaultPlace::Span(self.span(index)), what_to_do)
    }
}

/// The byte at which a row begins that was asked for at a byte: behind empty lines and remarks.
fn begins(text: &str, mut at: usize) -> usize {
    loop {
        let rest = &text[at..];
        let line = rest.split_inclusive('\n').next().unwrap_or("");
        let skipped =
            !line.is_empty() && line.len() < rest.len() && (line.trim().is_empty() || line.starts_with('#'));
        if !skipped {
            return at;
        }
        at += line.len();
    }
}

/// What is gathered while the rows are read.
#[derive(Default)]
struct GatheredRows {
    values: Vec<Vec<f64>>,
    repeated: usize,
    thousands: usize,
    days: f64,
    midnights: usize,
    /// Rows without a time of their own, which may be the closing ones.
    closing: Vec<(Diagnostic, String)>,
    last_time: f64,
}

pub(super) fn read(
    text: &str,
    head: &HeadingRow,
    mut found: Vec<ColumnRead>,
    wanted: &NamedColumns,
    record: &mut Record,
    faults: &mut Diagnostics,
) {
    let body = (head.end + 1).min(text.len());
    let body = if text.as_bytes().get(head.end) == Some(&b'\r') { (body + 1).min(text.len()) } else { body };
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .delimiter(head.delimiter as u8)
        .from_reader(&text.as_bytes()[body..]);
    let time_at = found.iter().position(|f| f.column == ColumnMeaning::Time).unwrap_or(0);
    let mut all = GatheredRows { last_time: f64::NEG_INFINITY, ..GatheredRows::default() };
    all.values = vec![Vec::new(); found.len()];
    let mut sorts = Sorts { faults, seen: Vec::new(), last: Vec::new() };
    let mut row = csv::StringRecord::new();
    let mut first = true;
    while let Ok(true) = reader.read_record(&mut row) {
        if row.iter().all(|field| field.trim().is_empty()) {
            continue;
        }
        let at = begins(text, body + row.position().map_or(0, |position| position.byte() as usize));
        let here = RecordRow { record: &row, text, at, delimiter: head.delimiter };
        if first {
            first = false;
            if units_row(&here, &mut found, &mut sorts) {
                continue;
            }
        }
        take(&here, &found, time_at, &mut all, &mut sorts);
        if all.values[time_at].len() > MOST_ROWS {
            let message = format!("more than {MOST_ROWS} rows");
            sorts.push(
                0,
                here.fault(
                    0,
                    "run-too-long",
                    message,
                    "make several files of it, or log at a lower rate".into(),
                ),
            );
            break;
        }
    }
    if all.closing.len() <= MOST_CLOSING {
        if !all.closing.is_empty() {
            let words = all.closing.iter().map(|(_, text)| text.as_str());
            record.notes.push(format!("closing rows without a time left out: {}", shown(words)));
        }
    } else {
        all.closing.drain(..).for_each(|(fault, _)| sorts.push(time_at, fault));
    }
    sorts.close();
    if !faults.is_empty() {
        return;
    }
    finish(found, wanted, all, record, faults);
}

/// Takes up the units of a row that holds nothing else; false where it is a row like any other.
fn units_row(row: &RecordRow, found: &mut [ColumnRead], sorts: &mut Sorts) -> bool {
    let says_unit =
        |f: &ColumnRead| field::unit(row.field(f.index).trim_matches(['[', ']', '(', ')']), f.kind);
    let number = |f: &ColumnRead| time::parse(row.field(f.index)).is_some();
    let any = found.iter().any(|f| says_unit(f).is_some());
    let words = found.iter().any(|f| f.column == ColumnMeaning::Time && row.field(f.index).is_empty());
    if found.iter().any(number)
        || !(any || words && row.record.iter().any(|field| field.contains(['/', '%', '°'])))
    {
        return false;
    }
    for f in found.iter_mut().filter(|f| f.unit.is_none()) {
        let text = row.field(f.index).trim_matches(['[', ']', '(', ')']);
        f.unit = says_unit(f);
        // dates and clocks have a word for their format there
        if f.unit.is_none() && !text.is_empty() && f.column != ColumnMeaning::Time {
            sorts.push(
                f.index,
                row.fault(
                    f.index,
                    "run-unit",
                    format!("\"{}\" is no unit of {}", shown(std::iter::once(text)), f.word),
                    format!("write one of {}", units_of(f.kind)),
                ),
            );
        }
    }
    true
}

fn take(row: &RecordRow, found: &[ColumnRead], time_at: usize, all: &mut GatheredRows, sorts: &mut Sorts) {
    let column = &found[time_at];
    let text = row.field(column.index);
    let time = match time::parse(text) {
        Some(Time::Number(value)) => match column.unit {
            Some(unit) => unit.to_canonical(value),
            None => {
                sorts.push(
                    usize::MAX,
                    Diagnostic::new(
                        "run-unit",
                        "the column time has no unit",
                        FaultPlace::Span(column.span.clone()),
                        "write it behind the name, as in \"time (s)\" or \"time (ms)\", or in a row of units under the headings",
                    ),
                );
                return;
            }
        },
        Some(Time::Clock { mut seconds, of_day }) => {
            seconds += all.days;
            if of_day && seconds < all.last_time - HALF_A_DAY {
                all.days += 2.0 * HALF_A_DAY;
                all.midnights += 1;
                seconds += 2.0 * HALF_A_DAY;
            }
            seconds
        }
        None => {
            let (message, way_out) = if field::is_missing(text) {
                ("the time is missing".to_string(), "give every row its time, or take the row out")
            } else {
                (
                    format!("\"{}\" is no time", shown(std::iter::once(text))),
                    "write seconds, 1:32.4, 0:01:32.4 or 2027-05-02T10:01:32, or take the row out",
                )
            };
            let fault = row.fault(column.index, "run-number", message, way_out.into());
            all.closing.push((fault, if text.is_empty() { "(none)".into() } else { text.to_string() }));
            return;
        }
    };
    if time < all.last_time {
        let message = format!("time runs backwards: {} s after {} s", short(time), short(all.last_time));
        let fault = row.fault(
            column.index,
            "run-time-backwards",
            message,
            "sort the rows, or make a file of each run where the clock was set back".into(),
        );
        // the row of maxima may say the longest lap, or nothing, for its time
        if is_of_maxima(row, found, time_at, all) {
            all.closing.push((fault, text.to_string()));
        } else {
            all.closing.drain(..).for_each(|(fault, _)| sorts.push(column.index, fault));
            sorts.push(column.index, fault);
        }
        return;
    }
    // what stands above a row like any other closes nothing
    all.closing.drain(..).for_each(|(fault, _)| sorts.push(column.index, fault));
    if time == all.last_time {
        all.repeated += 1;
        return;
    }
    all.last_time = time;
    for (found, values) in found.iter().zip(&mut all.values) {
        let value = if found.column == ColumnMeaning::Time {
            time
        } else {
            match number(row, found, &mut all.thousands) {
                Ok(value) => value,
                Err(fault) => {
                    sorts.push(found.index, *fault);
                    f64::NAN
                }
            }
        };
        values.push(value);
    }
}

/// Whether a row holds the highest of every column.
fn is_of_maxima(row: &RecordRow, found: &[ColumnRead], time_at: usize, all: &GatheredRows) -> bool {
    let mut varies = false;
    let highest = found.iter().zip(&all.values).enumerate().filter(|(index, _)| *index != time_at).all(
        |(_, (found, values))| {
            let known = || values.iter().copied().filter(|value| !value.is_nan());
            let most = known().fold(f64::NEG_INFINITY, f64::max);
            varies |= known().any(|value| value < most);
            let here = number(row, found, &mut 0);
            here.is_ok_and(|value| value.is_nan() || (value - most).abs() <= 1e-3 * most.abs())
        },
    );
    highest && varies
}

/// A field as a number in SI; NaN where it is empty.
fn number(row: &RecordRow, found: &ColumnRead, thousands: &mut usize) -> Result<f64, Box<Diagnostic>> {
    let text = row.field(found.index);
    if field::is_missing(text) {
        return Ok(f64::NAN);
    }
    // nobody logs turns in thousandths
    let marked = found.kind == Kind::RotationalSpeed
        && field::is_thousands(text)
        && text.find(['.', ',']).is_some_and(|at| at <= 2);
    *thousands += usize::from(marked);
    let Some(value) = field::number(text, marked) else {
        return Err(Box::new(row.fault(
            found.index,
            "run-number",
            format!(
                "\"{}\" is not a number (column {}, {})",
                shown(std::iter::once(text)),
                found.index + 1,
                found.word
            ),
            "write a number, or leave the field empty and it is filled from the rows around it".into(),
        )));
    };
    let value = found.unit.map_or(value, |unit| unit.to_canonical(value));
    let (most, words) = match found.column {
        ColumnMeaning::Speed => (150.0, format!("a road speed of {}", figures::speed(value))),
        ColumnMeaning::Rpm => (30_000.0, format!("an engine speed of {value:.0} rpm")),
        ColumnMeaning::Load | ColumnMeaning::Throttle if found.unit.is_some() => {
            (1.5, format!("{} of {:.0} %", found.word, value * 100.0))
        }
        ColumnMeaning::Measured(_) => (1500.0, format!("{}: {:.0} °C", found.word, value - 273.15)),
        _ => return Ok(value),
    };
    if value > most {
        let way_out = "check the unit in the heading; take the row out where the logger slipped";
        return Err(Box::new(row.fault(found.index, "run-out-of-range", words, way_out.into())));
    }
    Ok(value)
}

fn short(seconds: f64) -> String {
    crate::keys::kind::short_number(seconds)
}

/// Hands over what was read.
fn finish(
    found: Vec<ColumnRead>,
    wanted: &NamedColumns,
    all: GatheredRows,
    record: &mut Record,
    faults: &mut Diagnostics,
) {
    let rows = all.values.first().map_or(0, Vec::len);
    if rows < 2 {
        let message = format!(
            "a run needs at least two moments, and here {}",
            if rows == 0 { "is none" } else { "is one" }
        );
        faults.push(whole("run-too-short", &message, "give the rows of the whole run"));
        return;
    }
    let notes = &mut record.notes;
    if all.repeated > 0 {
        notes.push(format!(
            "the time of the row before is repeated in {}, left out",
            words::count(all.repeated, "row")
        ));
    }
    if all.midnights > 0 {
        notes.push("the clock begins anew at midnight: a day is added".to_string());
    }
    if all.thousands > 0 {
        notes.push(format!(
            "marks between thousands of rpm left aside in {}",
            words::count(all.thousands, "row")
        ));
    }
    for (found, mut values) in found.into_iter().zip(all.values) {
        let name = &found.word;
        let filled = fill(&mut values);
        if values.first().is_some_and(|value| value.is_nan()) {
            faults.push(Diagnostic::new(
                "run-column-empty",
                format!("the column {name} holds no number"),
                FaultPlace::Span(found.span),
                "take the column out, or export it with its values",
            ));
            continue;
        }
        if filled > 0 {
            notes.push(format!(
                "no {name} in {}: drawn straight between the rows around",
                words::count(filled, "row")
            ));
        }
        if found.unit.is_none() && !without_unit(&found, &mut values, notes, faults) {
            continue;
        }
        match found.column {
            ColumnMeaning::Time => record.time = values,
            ColumnMeaning::Speed => record.speed = values,
            ColumnMeaning::Rpm => record.rpm = Some(values),
            ColumnMeaning::Load => record.load = Some(values),
            ColumnMeaning::Throttle => record.throttle = Some(values),
            ColumnMeaning::Measured(place) => {
                if let Some((of, column)) = wanted.measured.get(place) {
                    record.measured.push(MeasuredColumn {
                        of: of.clone(),
                        column: column.clone(),
                        kelvin: values,
                    });
                }
            }
        }
    }
}

/// What a column without a unit is taken as; false where nobody can know.
fn without_unit(
    found: &ColumnRead,
    values: &mut [f64],
    notes: &mut Vec<String>,
    faults: &mut Diagnostics,
) -> bool {
    let most = values.iter().copied().fold(0.0, f64::max);
    match found.column {
        ColumnMeaning::Time | ColumnMeaning::Rpm => true,
        ColumnMeaning::Load | ColumnMeaning::Throttle => {
            let (unit, scale) = if most > 1.5 { ("%", 0.01) } else { ("a share of 1", 1.0) };
            values.iter_mut().for_each(|value| *value *= scale);
            notes.push(format!(
                "the column {} has no unit and reaches {}: taken as {unit}",
                found.word,
                short(most)
            ));
            true
        }
        ColumnMeaning::Measured(_) => {
            values.iter_mut().for_each(|value| *value += 273.15);
            notes.push(format!("{} has no unit: taken as °C", found.word));
            true
        }
        ColumnMeaning::Speed => {
            faults.push(Diagnostic::new(
                "run-unit",
                format!("the column {} has no unit", found.word),
                FaultPlace::Span(found.span.clone()),
                "write it behind the name, as in \"speed (km/h)\", in a row of units under the headings, or in the stint: columns = { speed = \"NAME (km/h)\" }",
            ));
            false
        }
    }
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
