//! Where two cases differ, address by address.

use crate::case::{Case, Named, tables as t};
use crate::keys::{NumberId, Origin, Slot, Values};
use serde::Serialize;

/// An address that two cases do not agree on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Difference {
    pub address: String,
    /// What stands there in the first case; nothing where it was added.
    pub before: Option<String>,
    /// What stands there in the second case; nothing where it was taken away.
    pub after: Option<String>,
}

impl Difference {
    /// The table that the address belongs to: `place/tail left`, `engine`.
    pub fn table(&self) -> &str {
        table_of(&self.address)
    }
}

/// The table of an address: the section and the name in it, or the section alone where it has no names.
pub fn table_of(address: &str) -> &str {
    let named = ["part/", "chamber/", "place/", "passage/", "condition/", "stint/", "layout/"];
    let mut slashes = address.match_indices('/').map(|(at, _)| at);
    let end = if named.iter().any(|section| address.starts_with(section)) {
        slashes.nth(1)
    } else {
        slashes.next()
    };
    &address[..end.unwrap_or(address.len())]
}

/// The addresses on which two cases differ: those of the first in its order, then those that only the
/// second has. Left aside are the layouts, what merely describes (title, date), and defaults that stand
/// or fall with the table that has them.
pub fn differences(before: &Case, after: &Case) -> Vec<Difference> {
    let (old, new) = (leaves(before), leaves(after));
    let find = |list: &[Leaf], address: &str| list.iter().position(|leaf| leaf.address == address);
    let mut found = Vec::new();
    for leaf in &old {
        match find(&new, &leaf.address).map(|at| &new[at]) {
            Some(other) if leaf.says_as(other) => {}
            Some(other) => found.push(leaf.against(other)),
            None if leaf.assumed => {}
            None => found.push(Difference {
                address: leaf.address.clone(),
                before: Some(leaf.text.clone()),
                after: None,
            }),
        }
    }
    for leaf in new.iter().filter(|leaf| !leaf.assumed && find(&old, &leaf.address).is_none()) {
        found.push(Difference {
            address: leaf.address.clone(),
            before: None,
            after: Some(leaf.text.clone()),
        });
    }
    found
}

/// One value of a case.
struct Leaf {
    address: String,
    text: String,
    /// Values and bands, where it is made of numbers.
    numbers: Vec<f64>,
    /// Whether it is a default.
    assumed: bool,
}

impl Leaf {
    fn says_as(&self, other: &Leaf) -> bool {
        if self.numbers.is_empty() || other.numbers.is_empty() {
            return self.text == other.text;
        }
        let alike = |(a, b): (&f64, &f64)| a == b || (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        self.numbers.len() == other.numbers.len() && self.numbers.iter().zip(&other.numbers).all(alike)
    }

    fn against(&self, other: &Leaf) -> Difference {
        let text =
            |leaf: &Leaf| if leaf.assumed { format!("{} (default)", leaf.text) } else { leaf.text.clone() };
        Difference { address: self.address.clone(), before: Some(text(self)), after: Some(text(other)) }
    }
}

/// Keys that say whose case it is, and nothing of the car.
const DESCRIBING: &[&str] = &["position", "source", "measured_at", "limit_for"];

fn leaves(case: &Case) -> Vec<Leaf> {
    let mut reader = DifferenceReader { case, leaves: Vec::new() };
    let named = |list: &'_ [Named]| list.iter().map(|named| named.values.clone()).collect::<Vec<_>>();
    let mut tables: Vec<Values> = vec![case.day.clone()];
    tables.extend(case.drive.clone());
    tables.push(case.engine.clone());
    tables.extend(named(&case.parts));
    tables.extend(named(&case.chambers));
    tables.extend(named(&case.places));
    for passage in &case.passages {
        tables.push(passage.values.clone());
        tables.extend(passage.elements.iter().cloned());
    }
    tables.extend(named(&case.conditions));
    tables.extend(case.sweep.clone());
    tables.extend(case.size.clone());
    tables.extend(named(&case.stints));
    tables.iter().for_each(|values| reader.table(values));
    reader.leaves
}

struct DifferenceReader<'c> {
    case: &'c Case,
    leaves: Vec<Leaf>,
}

impl DifferenceReader<'_> {
    fn table(&mut self, values: &Values) {
        for (key, slot) in values.slots() {
            if DESCRIBING.contains(&key.name) || key.name == t::NAME.name {
                continue;
            }
            self.slot(values.address_of(key), slot);
        }
    }

    fn slot(&mut self, address: String, slot: &Slot) {
        match slot {
            Slot::Settings(told) if address.ends_with("/fans") => {
                let one = |(name, word): &(String, String)| match name.as_str() {
                    "*" => word.clone(),
                    name => format!("{name} {word}"),
                };
                self.text(address, told.iter().map(one).collect::<Vec<_>>().join(", "));
            }
            Slot::Absent | Slot::Settings(_) => {}
            Slot::Number(id) => {
                // what a place gives stands at the place's own address, and is told there
                if self.case.numbers.fact(*id).address == address {
                    self.numbers(address, &[*id], |texts| texts.concat());
                }
            }
            Slot::Numbers(ids) => self.numbers(address, ids, |texts| format!("[{}]", texts.join(", "))),
            Slot::Pairs(pairs) => {
                let ids: Vec<NumberId> = pairs.iter().flat_map(|(x, y)| [*x, *y]).collect();
                self.numbers(address, &ids, |texts| {
                    let pairs: Vec<String> =
                        texts.chunks(2).map(|pair| format!("[{}]", pair.join(", "))).collect();
                    format!("[{}]", pairs.join(", "))
                });
            }
            Slot::Map(map) => {
                for (name, id) in map {
                    self.numbers(format!("{address}/{name}"), &[*id], |texts| texts.concat());
                }
            }
            Slot::Text(text) => self.text(address, text.clone()),
            Slot::Flag(flag) => self.text(address, flag.to_string()),
            Slot::Names(names) => self.text(address, names.join(", ")),
            Slot::Lists(lists) => {
                for (name, words) in lists {
                    let words: Vec<&str> = words.iter().map(|(word, _)| word.as_str()).collect();
                    self.text(format!("{address}/{name}"), words.join(", "));
                }
            }
            Slot::Groups(groups) => {
                let member = |(passage, element): &(String, Option<String>)| match element {
                    Some(element) => format!("{passage}/{element}"),
                    None => passage.clone(),
                };
                let group = |group: &Vec<(String, Option<String>)>| {
                    group.iter().map(member).collect::<Vec<_>>().join(" with ")
                };
                self.text(address, groups.iter().map(group).collect::<Vec<_>>().join(", "));
            }
            Slot::Table(values) => self.table(values),
            Slot::Tables(tables) => tables.iter().for_each(|values| self.table(values)),
        }
    }

    fn text(&mut self, address: String, text: String) {
        self.push(Leaf { address, text, numbers: Vec::new(), assumed: false });
    }

    fn numbers(&mut self, address: String, ids: &[NumberId], join: impl Fn(&[String]) -> String) {
        let facts = ids.iter().map(|id| self.case.numbers.fact(*id));
        let mut texts = Vec::new();
        let mut numbers = Vec::new();
        let mut assumed = true;
        for fact in facts {
            let band = fact.spread.as_ref().map(|spread| (spread.low(fact.value), spread.high(fact.value)));
            assumed &= matches!(fact.origin, Origin::Assumed(_));
            let shown = fact.kind.show(fact.value);
            texts.push(match band.filter(|_| !matches!(fact.origin, Origin::Assumed(_))) {
                Some((low, high)) => {
                    format!("{shown} ({} to {})", fact.kind.show(low), fact.kind.show(high))
                }
                None => shown,
            });
            numbers.push(fact.value);
            // a default and the same value written down differ in nothing that is reckoned
            if !matches!(fact.origin, Origin::Assumed(_)) {
                numbers.extend(band.map(|band| [band.0, band.1]).into_iter().flatten());
            }
        }
        let text = join(&texts);
        self.push(Leaf { address, text, numbers, assumed });
    }

    /// Keeps a value; a table that elements have from their place comes by several ways and is told once.
    fn push(&mut self, leaf: Leaf) {
        if !self.leaves.iter().any(|known| known.address == leaf.address) {
            self.leaves.push(leaf);
        }
    }
}
