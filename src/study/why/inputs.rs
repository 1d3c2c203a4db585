//! Values that go into a formula, with where they are from.

use super::result::{FormulaInput, ValueOrigin};
use crate::case::Case;
use crate::keys::{Key, NumberId, Origin, Slot, Values};

/// A number of the case.
pub(super) fn of_id(case: &Case, id: NumberId) -> FormulaInput {
    let fact = case.numbers.fact(id);
    let (origin, source) = match fact.origin {
        Origin::Written(_) => (ValueOrigin::Written, None),
        Origin::Assumed(source) => (ValueOrigin::Assumed, Some(source)),
    };
    let band = fact.spread.as_ref().map(|spread| (spread.low(fact.value), spread.high(fact.value)));
    let band = band.filter(|(low, high)| low < high);
    FormulaInput {
        name: fact.address.clone(),
        value: fact.kind.show(fact.value),
        origin,
        band: band.map(|(low, high)| (fact.kind.show(low), fact.kind.show(high))),
        source,
    }
}

/// The numbers behind some keys of a table, those that are there.
pub(super) fn of_keys(case: &Case, values: &Values, keys: &[&Key]) -> Vec<FormulaInput> {
    keys.iter().filter_map(|key| values.id(key)).map(|id| of_id(case, id)).collect()
}

/// Every number of a table and of the tables in it.
pub(super) fn of_table(case: &Case, values: &Values) -> Vec<FormulaInput> {
    let mut list = Vec::new();
    for (_, slot) in values.slots() {
        match slot {
            Slot::Number(id) => list.push(of_id(case, *id)),
            Slot::Numbers(ids) => list.extend(ids.iter().map(|id| of_id(case, *id))),
            Slot::Pairs(pairs) => list.extend(pairs.iter().map(|(x, y)| pair(case, *x, *y))),
            Slot::Table(table) => list.extend(of_table(case, table)),
            Slot::Tables(tables) => list.extend(tables.iter().flat_map(|table| of_table(case, table))),
            _ => {}
        }
    }
    list
}

/// A point of a curve, by the address of its second value's point.
fn pair(case: &Case, x: NumberId, y: NumberId) -> FormulaInput {
    let (x, mut point) = (of_id(case, x), of_id(case, y));
    point.name = point.name.strip_suffix("/2").unwrap_or(&point.name).to_string();
    point.value = format!("{}: {}", x.value, point.value);
    point
}

/// A value that was found on the way.
pub(super) fn found(name: impl Into<String>, value: impl Into<String>) -> FormulaInput {
    FormulaInput {
        name: name.into(),
        value: value.into(),
        origin: ValueOrigin::Found,
        band: None,
        source: None,
    }
}
