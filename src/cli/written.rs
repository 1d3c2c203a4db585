//! A copy of the case file with sizes set and everything else, comments too, left as it was.

use super::seal;
use crate::case::read::element_segments;
use crate::case::tables::LEAKS;
use crate::case::{PassageTable, document};
use crate::element::Role;
use crate::element::leak::SHARE_OF_INLETS;
use crate::keys::kind::significant;
use crate::keys::{Kind, NumberId};
use crate::point::opening::Opening;
use crate::study::size::Sized;
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// How sizes are rounded for the file: whole mm and cm² are what can be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rounding {
    /// To the nearest whole one.
    Whole,
    /// To the next larger whole one.
    Up,
    /// To the nearest tenth.
    Tenths,
    /// Hardly at all.
    Exact,
}

impl Rounding {
    /// From the roundest on.
    pub const ALL: [Rounding; 4] = [Rounding::Whole, Rounding::Up, Rounding::Tenths, Rounding::Exact];

    fn digits(self, value: f64) -> String {
        // what is whole but for the search's last digit stays so; a slit of some millimetres is no matter of whole ones
        let whole = value.round();
        match self {
            _ if (value - whole).abs() < 1e-4 && whole > 0.0 => format!("{whole:.0}"),
            Rounding::Whole if value >= 10.0 => format!("{whole:.0}"),
            Rounding::Up if value >= 10.0 => format!("{:.0}", value.ceil()),
            Rounding::Whole | Rounding::Up | Rounding::Tenths => {
                digits((value * 10.0).round().max(1.0) / 10.0)
            }
            Rounding::Exact => digits(value),
        }
    }
}

/// The case's text with the sizes found, and with what was set on the command line.
pub(super) fn sized_copy(
    source: &str,
    set: &[(String, String)],
    sized: &Sized,
    rounding: Rounding,
) -> Result<String, String> {
    let mut document: DocumentMut =
        seal::without(source).parse().map_err(|error| format!("the case cannot be written back: {error}"))?;
    for (address, text) in set {
        let value = text.parse::<Value>().unwrap_or_else(|_| Value::from(text.as_str()));
        put(&mut document, address, value).ok_or_else(|| {
            format!("the sized case cannot hold --set {address}={text}: write the value into the case file and size it again")
        })?;
    }
    for (opening, area) in &sized.openings {
        let passage = &sized.case.passages[opening.passage];
        let address = &passage.elements[opening.element].address;
        let own = opening.numbers(&sized.case, *area).into_iter();
        let own = own.map(|(key, value, kind)| (format!("{address}/{key}"), value, kind));
        // what goes with an opening is written beside it
        for (place, value, kind) in own.chain(opening.followers_at(&sized.case, *area)) {
            let text = match kind {
                Kind::Area => format!("{} cm2", rounding.digits(value * 1e4)),
                _ => format!("{} mm", rounding.digits(value * 1e3)),
            };
            put(&mut document, &place, Value::from(text))
                .ok_or_else(|| format!("the size of {} has no place in the case file", opening.name))?;
        }
    }
    keep_seams(&mut document, sized, rounding);
    Ok(ending_as(source, document.to_string()))
}

/// A text whose lines end as those of another do.
pub(super) fn ending_as(source: &str, text: String) -> String {
    if source.contains("\r\n") { text.replace("\r\n", "\n").replace('\n', "\r\n") } else { text }
}

/// Seams that are a share of the inlets keep the area that they were sized with: of other inlets it is another share.
fn keep_seams(document: &mut DocumentMut, sized: &Sized, rounding: Rounding) -> Option<()> {
    let case = &sized.case;
    let written = |opening: &Opening, area: f64| {
        let numbers = opening.numbers(case, area);
        // one length stands for two: a diameter
        let power = if numbers.len() == 1 && numbers[0].2 != Kind::Area { 2 } else { 1 };
        let share = numbers.iter().map(|(_, value, kind)| {
            let scale = if *kind == Kind::Area { 1e4 } else { 1e3 };
            rounding.digits(value * scale).parse().unwrap_or(value * scale) / (value * scale)
        });
        area * share.product::<f64>().powi(power)
    };
    // what inlets as drawn are of those written, all of them or those of some passages
    let shrinks = |counts: &dyn Fn(&PassageTable) -> bool| {
        let passages = case.passages.iter().filter(|passage| counts(passage));
        let drawn: f64 = passages.map(|passage| passage.inlets_as_drawn).sum();
        let inlets = sized.openings.iter().filter(|(opening, _)| {
            opening.role(case) == Some(Role::Inlet) && counts(&case.passages[opening.passage])
        });
        let grown: f64 =
            inlets.map(|(opening, area)| opening.pieces * (written(opening, *area) - opening.area())).sum();
        (grown != 0.0 && drawn > 0.0).then(|| drawn / (drawn + grown))
    };
    let share = |id: NumberId, times: f64| {
        let fact = case.numbers.fact(id);
        let percent = |share: f64| significant(100.0 * share * times, 5);
        match fact.band() {
            Some((low, high)) => {
                // nobody knows a band to more than three digits
                let half = significant(50.0 * (high - low) * times, 3);
                Value::from(format!("{} % ± {half} %", percent(fact.value)))
            }
            None => Value::from(format!("{} %", percent(fact.value))),
        }
    };
    if let Some(times) = shrinks(&|_| true) {
        for values in case.passages.iter().flat_map(|passage| &passage.elements) {
            if let Some(id) = values.id(&SHARE_OF_INLETS) {
                put(document, &values.address_of(&SHARE_OF_INLETS), share(id, times))?;
            }
        }
    }
    let says = document.get("body").and_then(|body| body.get(LEAKS.name)).is_some();
    // seams of the body are a share of what feeds them
    if let Some(times) = shrinks(&PassageTable::fills_a_space).filter(|_| says) {
        put(document, &case.body.address_of(&LEAKS), share(case.body.id(&LEAKS)?, times))?;
    }
    Some(())
}

/// Seven significant digits, so that the sized case reaches what was asked for.
pub(super) fn digits(value: f64) -> String {
    significant(value, 7)
}

/// Puts a value at an address.
pub(super) fn put(document: &mut DocumentMut, address: &str, value: Value) -> Option<()> {
    let segments: Vec<&str> = address.split('/').map(str::trim).collect();
    let mut table: &mut dyn TableLike = document.as_table_mut();
    let mut index = 0;
    while index + 1 < segments.len() {
        let name = segments[index];
        let passage = index == 0 && name == "passage";
        if index == 0 && ["passage", "condition", "stint", "layout"].contains(&name) {
            table =
                member(table.get_mut(name)?, |t| t.get("name").and_then(Item::as_str) == Some(segments[1]))?;
            index += 2;
            if passage && index + 1 < segments.len() {
                let place = element_place(table, segments[index])?;
                let mut at = 0;
                table = member(table.get_mut("element")?, |_| {
                    at += 1;
                    at == place + 1
                })?;
                index += 1;
            }
            continue;
        }
        if !table.contains_key(name) {
            table.insert(name, Item::Table(toml_edit::Table::new()));
        }
        let item = table.get_mut(name)?;
        if item.is_array() {
            let position: usize = segments[index + 1].parse().ok()?;
            let slot = item.as_array_mut()?.get_mut(position.checked_sub(1)?)?;
            replace(slot, value);
            return (index + 2 == segments.len()).then_some(());
        }
        table = item.as_table_like_mut()?;
        index += 1;
    }
    let key = segments.last()?;
    match table.get_mut(key) {
        Some(Item::Value(old)) => replace(old, value),
        _ => {
            table.insert(key, Item::Value(value));
        }
    }
    Some(())
}

/// Puts a value in the place of another and keeps the space and comments around it.
pub(super) fn replace(old: &mut Value, new: Value) {
    let decor = old.decor().clone();
    *old = new;
    *old.decor_mut() = decor;
}

fn member(item: &mut Item, mut wanted: impl FnMut(&dyn TableLike) -> bool) -> Option<&mut dyn TableLike> {
    match item {
        Item::ArrayOfTables(tables) => {
            let table = tables.iter_mut().find(|table| wanted(*table as &dyn TableLike))?;
            Some(table)
        }
        Item::Value(Value::Array(values)) => {
            let tables = values.iter_mut().filter_map(Value::as_inline_table_mut);
            let mut found = None;
            for table in tables {
                if wanted(table) {
                    found = Some(table);
                    break;
                }
            }
            found.map(|table| table as &mut dyn TableLike)
        }
        Item::Table(table) => Some(table),
        Item::Value(Value::InlineTable(table)) => Some(table),
        _ => None,
    }
}

/// Which element of a passage an address segment names.
fn element_place(passage: &dyn TableLike, segment: &str) -> Option<usize> {
    let text = match passage.get("element")? {
        Item::ArrayOfTables(tables) => {
            let tables: Vec<String> = tables.iter().map(inline).collect();
            format!("[{}]", tables.join(", "))
        }
        item => {
            // a comment behind the list is none of its members
            let mut list = item.as_value()?.clone();
            list.decor_mut().clear();
            list.to_string()
        }
    };
    let list = document::read_value(text.trim())?;
    let segments = element_segments(list.members());
    segments.iter().position(|s| s == segment || format!("{s} 1") == segment)
}

/// The kind and name of an element as an inline table.
fn inline(table: &toml_edit::Table) -> String {
    let words = ["kind", "name"].iter().filter_map(|key| {
        let text = table.get(key).and_then(Item::as_str)?;
        Some(format!("{key} = {}", Value::from(text)))
    });
    format!("{{ {} }}", words.collect::<Vec<_>>().join(", "))
}
