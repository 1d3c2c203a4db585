//! A copy of the case with what readings say: comments kept, the old value and its band beside each line that changed, and
//! what is left of the guesses together.

use super::seal;
use super::written::{digits, ending_as, put};
use crate::case::fitted::{FittedReading, texts};
use crate::case::tables as t;
use crate::case::{Case, load};
use crate::keys::{Kind, Origin, SourceLocation};
use crate::study::fit::{FittedLeft, NumberSet};
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value};

/// Where the readings are from.
pub(super) struct Source<'s> {
    pub readings: &'s str,
    pub digest: &'s str,
    pub case_sha256: &'s str,
    pub kept: &'s [FittedReading],
}

/// The text of the fitted case.
pub(super) fn fitted_copy(
    source: &str,
    case: &Case,
    left: &FittedLeft,
    from: &Source,
) -> Result<String, String> {
    let mut document: DocumentMut =
        seal::without(source).parse().map_err(|error| format!("the case cannot be written back: {error}"))?;
    for set in &left.numbers {
        put(&mut document, &set.address, value(kind(case, set), set.now))
            .ok_or_else(|| format!("the value of {} has no place in the case file", set.address))?;
    }
    document.remove("fitted");
    document.insert("fitted", Item::Table(table(case, left, from)));
    let text = noted(&document.to_string(), case, left, from)?;
    Ok(ending_as(source, text))
}

/// The text with a note at the end of each line that changed: what stood there, and which readings it was.
fn noted(text: &str, case: &Case, left: &FittedLeft, from: &Source) -> Result<String, String> {
    let loaded =
        load(text, &[]).map_err(|faults| format!("the fitted case cannot be read back: {faults}"))?;
    let mut notes: Vec<(usize, String)> = Vec::new();
    for set in &left.numbers {
        let Some(id) = loaded.case.numbers.find(&set.address) else { continue };
        let Origin::Written(SourceLocation::File(span)) = &loaded.case.numbers.fact(id).origin else {
            continue;
        };
        let line = text[..span.start].matches('\n').count();
        let kind = kind(case, set);
        let key = set.address.rsplit('/').next().unwrap_or_default();
        let left_out = if set.stated { "" } else { "left out, " };
        let [was, low, high] = set.was.map(|value| shown(kind, value));
        let note = format!("{key} was {left_out}{was}, {low} to {high}");
        match notes.iter_mut().find(|known| known.0 == line) {
            // several of one line, each told once
            Some((_, known)) if known.contains(&note) => {}
            Some((_, known)) => *known = format!("{known}; {note}"),
            None => notes.push((line, note)),
        }
    }
    let mut out = String::new();
    for (number, line) in text.split_inclusive('\n').enumerate() {
        let Some((_, note)) = notes.iter().find(|known| known.0 == number) else {
            out.push_str(line);
            continue;
        };
        let body = line.trim_end_matches(['\n', '\r']);
        let end = &line[body.len()..];
        out.push_str(&format!("{body}  # {}: {note}{end}", from.readings));
    }
    Ok(out)
}

fn kind(case: &Case, set: &NumberSet) -> Kind {
    case.numbers.find(&set.address).map_or(Kind::Ratio, |id| case.numbers.fact(id).kind)
}

fn table(case: &Case, left: &FittedLeft, from: &Source) -> Table {
    let before = case.fitted.as_ref().map(|(values, _)| values);
    let list = |key, new: &mut dyn Iterator<Item = String>| {
        let old = before.map_or(&[][..], |values| texts(values, key));
        let mut all = Array::new();
        old.iter().cloned().chain(new).for_each(|text| all.push(text));
        all
    };
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n# What readings made of the guesses, written by slowcorner fit: every command draws from it. Leave it as it is.\n");
    let mut put = |key: &crate::keys::Key, value: Value| {
        table.insert(key.name, Item::Value(value));
    };
    put(&t::READINGS, list(&t::READINGS, &mut std::iter::once(named(case, from))).into());
    put(&t::READINGS_SHA256, list(&t::READINGS_SHA256, &mut std::iter::once(from.digest.to_string())).into());
    put(&t::CASE_SHA256, from.case_sha256.into());
    let mut took = list(&t::TOOK, &mut left.took.iter().cloned());
    took.iter_mut().for_each(|text| text.decor_mut().set_prefix("\n  "));
    took.set_trailing("\n");
    put(&t::TOOK, took.into());
    put(&t::MODEL_ERROR, format!("{} K", digits(left.model_error)).into());
    let mut guesses = ArrayOfTables::new();
    for guess in &left.guesses {
        let mut own = Table::new();
        if let Some(part) = &guess.error_of {
            own.insert(t::ERROR_OF.name, Item::Value(part.as_str().into()));
        } else {
            let mut numbers = InlineTable::new();
            let mut opposite = Array::new();
            for (address, turned) in &guess.addresses {
                let Some(set) = left.numbers.iter().find(|set| set.address == *address) else { continue };
                let kind = kind(case, set);
                let words = set.was.iter().chain([&set.now]).map(|value| shown(kind, *value));
                numbers.insert(address, Value::Array(words.collect()));
                if *turned {
                    opposite.push(address.as_str());
                }
            }
            own.insert(t::NUMBERS.name, Item::Value(numbers.into()));
            if !opposite.is_empty() {
                own.insert(t::OPPOSITE.name, Item::Value(opposite.into()));
            }
        }
        own.insert(t::MEAN.name, Item::Value(score(guess.mean)));
        own.insert(
            t::FACTOR.name,
            Item::Value(Value::Array(guess.factor.iter().map(|x| score(*x)).collect())),
        );
        guesses.push(own);
    }
    table.insert(t::FITTED_GUESS.name, Item::ArrayOfTables(guesses));
    let mut readings = ArrayOfTables::new();
    let earlier = case.fitted.as_ref().map_or(&[][..], |(_, fitted)| &fitted.readings);
    earlier.iter().chain(from.kept).for_each(|one| readings.push(reading(one)));
    if !readings.is_empty() {
        table.insert(t::FITTED_READING.name, Item::ArrayOfTables(readings));
    }
    table
}

/// A reading, in whole tenths; a share in hundredths of that.
fn reading(one: &FittedReading) -> Table {
    let mut own = Table::new();
    let (unit, steps) = match one.unit {
        "°C" => ("degC", 10.0),
        "share" => ("share", 1000.0),
        unit => (unit, 10.0),
    };
    let three = |numbers: &[f64; 3]| -> Value {
        Value::Array(numbers.iter().map(|x| Value::from((steps * x).round() / steps)).collect())
    };
    for (key, value) in [
        (&t::READ_WHAT, one.what.as_str().into()),
        (&t::READ_TEST, one.test.as_str().into()),
        (&t::READ_UNIT, unit.into()),
        (&t::READ_SHOWN, three(&one.read)),
        (&t::READ_BEFORE, three(&one.before)),
        (&t::READ_AFTER, three(&one.after)),
        (&t::READ_SAID, one.said.as_str().into()),
    ] {
        own.insert(key.name, Item::Value(value));
    }
    own
}

/// The readings file by a name that no other has in the case.
fn named(case: &Case, from: &Source) -> String {
    let known = case.fitted.as_ref().map_or(&[][..], |(values, _)| texts(values, &t::READINGS));
    if known.iter().any(|name| name == from.readings) {
        return format!("{} ({})", from.readings, &from.digest[..8]);
    }
    from.readings.to_string()
}

/// A normal score to five places.
fn score(value: f64) -> Value {
    let rounded = (value * 1e5).round() / 1e5;
    // no negative nought
    Value::from(if rounded == 0.0 { 0.0 } else { rounded })
}

/// A value as a case file has it.
fn value(kind: Kind, value: f64) -> Value {
    match kind {
        Kind::Ratio => shown(kind, value).parse::<f64>().map_or(Value::from(value), Value::from),
        _ => Value::from(shown(kind, value)),
    }
}

/// Five digits: more than anybody knows, and fewer than clutter.
fn shown(kind: Kind, value: f64) -> String {
    kind.show_to(value, 5)
}
