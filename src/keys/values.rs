//! The values that a case gives for its tables of keys.
//!
//! Every number of a case stands once in [`Numbers`], under one address. A table's [`Values`]
//! only point there, so that a what-if, a layout, a sizing step or a spread is "the same case with
//! these numbers set", whoever asks.

use super::kind::Kind;
use super::measure::Spread;
use super::table::{Assumed, Key, Range as Accepted};
use std::ops::Range;

/// Index of a number in [`Numbers`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct NumberId(pub usize);

/// Where something is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SourceLocation {
    /// In the case file, at these bytes.
    File(Range<usize>),
    /// In an override on the command line.
    Override {
        /// The address that was set.
        address: String,
        /// The text it was set to.
        text: String,
    },
}

/// How a number came to be.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// It is written here.
    Written(SourceLocation),
    /// It was left out; the default's source.
    Assumed(&'static str),
}

/// What is known of a number beside its value.
#[derive(Clone, Debug)]
pub struct Fact {
    /// The address, `/`-separated.
    pub address: String,
    /// Kind of quantity.
    pub kind: Kind,
    /// The value as read, canonical unit.
    pub value: f64,
    /// How sure the builder is, where he said so; of a default its band.
    pub spread: Option<Spread>,
    /// Of a number that was fitted to readings, the value taken before and both ends of its band then.
    pub before: Option<[f64; 3]>,
    /// Its accepted range, canonical unit.
    pub range: Accepted,
    /// How it came to be.
    pub origin: Origin,
    /// What it stands for and how to measure it: the help of its key.
    pub help: &'static str,
}

impl Fact {
    /// Both ends of the band in which it probably lies, where it has one of some width.
    pub fn band(&self) -> Option<(f64, f64)> {
        let spread = self.spread?;
        let (low, high) = (spread.low(self.value), spread.high(self.value));
        (low < high).then_some((low, high))
    }
}

/// Every number of a case, with its address.
#[derive(Clone, Debug, Default)]
pub struct Numbers {
    facts: Vec<Fact>,
}

impl Numbers {
    /// Adds a number.
    pub fn add(&mut self, fact: Fact) -> NumberId {
        self.facts.push(fact);
        NumberId(self.facts.len() - 1)
    }

    /// What is known of a number.
    pub fn fact(&self, id: NumberId) -> &Fact {
        &self.facts[id.0]
    }

    /// All numbers in the order in which they were read.
    pub fn facts(&self) -> &[Fact] {
        &self.facts
    }

    /// The number at an address.
    pub fn find(&self, address: &str) -> Option<NumberId> {
        self.facts.iter().position(|f| f.address == address).map(NumberId)
    }

    /// Sets a number; the address, spread and origin stay.
    pub fn set(&mut self, id: NumberId, value: f64) {
        self.facts[id.0].value = value;
    }

    /// Takes another default for a number that was left out.
    pub fn assume(&mut self, id: NumberId, assumed: &Assumed) {
        let fact = &mut self.facts[id.0];
        fact.value = assumed.value;
        fact.spread = Some(Spread::Between { low: assumed.low, high: assumed.high });
        fact.origin = Origin::Assumed(assumed.source);
    }

    /// Takes the band that readings leave of a number, and the one in which it was guessed before.
    pub fn refit(&mut self, id: NumberId, left: Spread, before: [f64; 3]) {
        let fact = &mut self.facts[id.0];
        fact.spread = Some(left);
        fact.before = Some(before);
    }

    /// The value of a number, canonical unit.
    pub fn value(&self, id: NumberId) -> f64 {
        self.facts[id.0].value
    }
}

/// What stands behind a key.
#[derive(Clone, Debug, Default)]
pub enum Slot {
    /// Nothing was given, and there is no default.
    #[default]
    Absent,
    Number(NumberId),
    /// A list of numbers.
    Numbers(Vec<NumberId>),
    /// A list of pairs.
    Pairs(Vec<(NumberId, NumberId)>),
    /// Text, a word or a name.
    Text(String),
    /// A yes or no.
    Flag(bool),
    /// A list of names.
    Names(Vec<String>),
    /// Groups of names, each with the element where one is named.
    Groups(Vec<Vec<(String, Option<String>)>>),
    Table(Box<Values>),
    /// A list of tables.
    Tables(Vec<Values>),
    /// Names with their numbers.
    Map(Vec<(String, NumberId)>),
    /// Names with lists of words, each word with its place.
    Lists(Vec<(String, Vec<(String, SourceLocation)>)>),
    /// Addresses with the text of their values.
    Settings(Vec<(String, String)>),
}

/// The values of one table.
#[derive(Clone, Debug)]
pub struct Values {
    /// The keys of the table.
    pub keys: &'static [Key],
    /// Address of the table.
    pub address: String,
    /// Where it stands in the file.
    pub place: SourceLocation,
    /// What each key is found by.
    ids: Vec<u32>,
    slots: Vec<Slot>,
    places: Vec<Option<SourceLocation>>,
}

impl Values {
    /// A table in which nothing is given yet.
    pub fn new(keys: &'static [Key], address: String, place: SourceLocation) -> Values {
        let ids = keys.iter().map(|key| key.id).collect();
        let (slots, places) = (vec![Slot::Absent; keys.len()], vec![None; keys.len()]);
        Values { keys, address, place, ids, slots, places }
    }

    fn index(&self, key: &Key) -> Option<usize> {
        self.ids.iter().position(|id| *id == key.id)
    }

    /// Puts a value behind the key at `index` of the table.
    pub fn put(&mut self, index: usize, slot: Slot, place: Option<SourceLocation>) {
        self.slots[index] = slot;
        self.places[index] = place;
    }

    /// What stands behind a key.
    pub fn slot(&self, key: &Key) -> &Slot {
        self.index(key).map_or(&Slot::Absent, |i| &self.slots[i])
    }

    /// The slot behind a key, to be filled from elsewhere; none if the table has no such key.
    pub fn slot_mut(&mut self, key: &Key) -> Option<&mut Slot> {
        self.index(key).map(|i| &mut self.slots[i])
    }

    /// All slots in the order of the keys.
    pub fn slots(&self) -> impl Iterator<Item = (&'static Key, &Slot)> {
        self.keys.iter().zip(&self.slots)
    }

    /// Where the value behind a key is written; the table itself where it is not.
    pub fn place_of(&self, key: &Key) -> SourceLocation {
        self.index(key).and_then(|i| self.places[i].clone()).unwrap_or_else(|| self.place.clone())
    }

    /// Whether the file, or an override, says something behind a key, be it readable or not.
    pub fn written(&self, key: &Key) -> bool {
        self.index(key).is_some_and(|i| self.places[i].is_some())
    }

    /// Whether something stands behind a key.
    pub fn has(&self, key: &Key) -> bool {
        !matches!(self.slot(key), Slot::Absent)
    }

    /// Address of a key of this table.
    pub fn address_of(&self, key: &Key) -> String {
        format!("{}/{}", self.address, key.name)
    }

    /// The number behind a key.
    pub fn id(&self, key: &Key) -> Option<NumberId> {
        match self.slot(key) {
            Slot::Number(id) => Some(*id),
            _ => None,
        }
    }

    /// The text, word or name behind a key.
    pub fn text(&self, key: &Key) -> Option<&str> {
        match self.slot(key) {
            Slot::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The yes or no behind a key; no when it is absent.
    pub fn flag(&self, key: &Key) -> bool {
        matches!(self.slot(key), Slot::Flag(true))
    }

    /// The table behind a key.
    pub fn table(&self, key: &Key) -> Option<&Values> {
        match self.slot(key) {
            Slot::Table(table) => Some(table),
            _ => None,
        }
    }

    /// The lists of words by name behind a key.
    pub fn lists(&self, key: &Key) -> &[(String, Vec<(String, SourceLocation)>)] {
        match self.slot(key) {
            Slot::Lists(lists) => lists,
            _ => &[],
        }
    }

    /// The tables behind a key, one alone counting as a list of one.
    pub fn tables(&self, key: &Key) -> &[Values] {
        match self.slot(key) {
            Slot::Tables(tables) => tables,
            Slot::Table(table) => std::slice::from_ref(table),
            _ => &[],
        }
    }

    /// The names and numbers behind a key.
    pub fn map(&self, key: &Key) -> &[(String, NumberId)] {
        match self.slot(key) {
            Slot::Map(map) => map,
            _ => &[],
        }
    }
}

/// A table read together with the numbers it points to.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The table.
    pub values: &'a Values,
    pub numbers: &'a Numbers,
}

impl<'a> View<'a> {
    /// The number behind a key, canonical unit.
    pub fn number(&self, key: &Key) -> Option<f64> {
        self.values.id(key).map(|id| self.numbers.value(id))
    }

    /// The number behind a key that is required or has a default. Reading refuses a table in
    /// which it is missing, so not-a-number here would show a fault of the program.
    pub fn required(&self, key: &Key) -> f64 {
        self.number(key).unwrap_or(f64::NAN)
    }

    /// The list of numbers behind a key.
    pub fn list(&self, key: &Key) -> Vec<f64> {
        match self.values.slot(key) {
            Slot::Numbers(ids) => ids.iter().map(|id| self.numbers.value(*id)).collect(),
            _ => Vec::new(),
        }
    }

    /// The pairs behind a key.
    pub fn pairs(&self, key: &Key) -> Vec<(f64, f64)> {
        match self.values.slot(key) {
            Slot::Pairs(ids) => {
                ids.iter().map(|(x, y)| (self.numbers.value(*x), self.numbers.value(*y))).collect()
            }
            _ => Vec::new(),
        }
    }

    /// The table behind a key.
    pub fn table(&self, key: &Key) -> Option<View<'a>> {
        self.values.table(key).map(|values| View { values, numbers: self.numbers })
    }
}
