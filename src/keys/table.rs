//! The tables of keys: what a table of the case file may hold.
//!
//! A [`Key`] says everything there is to say about one entry: its name, its shape and kind of
//! quantity, whether it is needed, its default with range and source, its accepted range and a
//! line of help. Whatever reads, lists, documents or checks case files walks these tables.

use super::kind::Kind;
use super::rule::Rule;

/// One entry of a table of the case file.
#[derive(Debug)]
pub struct Key {
    /// The key as written in the file.
    pub name: &'static str,
    /// What it is found by among the values of a table ([`id_of`]).
    pub id: u32,
    /// What may stand behind it.
    pub shape: ValueShape,
    /// Whether it must be given, and what is taken when it is not.
    pub need: Need,
    /// The accepted range of a number, in the canonical unit of its kind.
    pub range: Range,
    /// Words that may stand instead of a number, for what is usual.
    pub words: &'static [Usual],
    /// Other defaults: of a part that an element of a kind cools.
    pub cooled_by: &'static [(&'static str, Assumed)],
    /// What builders write first when they mean it.
    pub also: &'static [&'static str],
    /// What holds between it and other keys of its table.
    pub rules: &'static [Rule],
    /// One line of help: what it stands for and how to measure it.
    pub help: &'static str,
}

/// What may stand behind a key.
#[derive(Debug)]
pub enum ValueShape {
    /// One number of a kind of quantity.
    Number(Kind),
    /// One number of one of several kinds, which its unit tells apart; an empty text is one that is still to come.
    Either(&'static [Kind]),
    /// A list of numbers.
    Numbers(Kind),
    /// A list of pairs, as a curve is given.
    Pairs(Kind, Kind),
    /// A number of the second kind, or a list of pairs of both.
    NumberOrPairs(Kind, Kind),
    /// Free text.
    Text,
    /// `true` or `false`.
    Flag,
    /// One of a few words.
    Word(&'static [&'static str]),
    /// The name of something else in the file.
    Name(ReferenceTarget),
    /// A list of such names.
    Names(ReferenceTarget),
    /// A list whose members are names, lists of names, or `{ passage, element }` tables.
    Groups,
    /// A table with keys of its own.
    Table(&'static [Key]),
    /// A list of such tables; one table alone may stand for a list of one.
    Tables(&'static [Key]),
    /// A table from names to numbers.
    Map(Kind, ReferenceTarget),
    /// A table from names to lists of words.
    NameLists(ReferenceTarget),
    /// One number for all, or a table from names to numbers; two kinds may be told apart by unit.
    NumberOrMap(Kind, Option<Kind>, ReferenceTarget),
    /// A table from addresses to values of any kind (a what-if).
    Settings,
    /// What fans do: `off` or `as set` for all, or a table by passage of these words and speeds.
    Fans,
    /// A list of elements.
    Elements,
}

/// What a name in the case file refers to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReferenceTarget {
    PartOrChamber,
    Part,
    /// A chamber, or the word `outside`.
    ChamberOrOutside,
    /// A place on the body.
    Place,
    Passage,
    /// A passage, or the word `other` for all that are not named.
    PassageOrOther,
    Condition,
    /// A condition, or the word `sweep` for every point of the sweep.
    ConditionOrSweep,
    /// The address of a number; held against the numbers once all are read.
    Address,
}

/// Whether a key must be given.
#[derive(Clone, Copy, Debug)]
pub enum Need {
    /// Its absence is a fault.
    Required,
    /// It may be left out; nothing is taken in its place.
    Optional,
    /// It may be left out, and this is taken instead and listed in the result.
    Default(Assumed),
}

/// A default: the value taken, the band in which the truth probably lies, and where both are from.
#[derive(Clone, Copy, Debug)]
pub struct Assumed {
    /// The value taken, canonical unit.
    pub value: f64,
    /// Low end of the probable band.
    pub low: f64,
    /// High end of the probable band.
    pub high: f64,
    /// Where the value and its band come from.
    pub source: &'static str,
}

/// A word that stands for what is usual where nobody has measured: a value with its band, always
/// listed as assumed.
#[derive(Clone, Copy, Debug)]
pub struct Usual {
    /// The word as written in the file.
    pub word: &'static str,
    /// The working value, its band and where both come from.
    pub assumed: Assumed,
}

impl Usual {
    /// A word for a `value` that probably lies within `band`.
    pub const fn new(word: &'static str, (value, low, high): (f64, f64, f64), source: &'static str) -> Usual {
        Usual { word, assumed: Assumed { value, low, high, source } }
    }
}

/// An accepted range of numbers, both ends included unless open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// Whether the low end itself is left out (a length must be more than nothing).
    pub open_below: bool,
}

impl Range {
    /// Any finite number.
    pub const ANY: Range = Range::between(f64::NEG_INFINITY, f64::INFINITY);
    /// Above zero.
    pub const POSITIVE: Range = Range { low: 0.0, high: f64::INFINITY, open_below: true };
    /// Zero or above.
    pub const NOT_NEGATIVE: Range = Range::between(0.0, f64::INFINITY);

    /// From `low` to `high`, both included.
    pub const fn between(low: f64, high: f64) -> Range {
        Range { low, high, open_below: false }
    }

    /// Above `low`, up to and including `high`.
    pub const fn above(low: f64, high: f64) -> Range {
        Range { low, high, open_below: true }
    }

    /// Whether `value` is accepted.
    pub fn accepts(&self, value: f64) -> bool {
        value.is_finite()
            && value <= self.high
            && if self.open_below { value > self.low } else { value >= self.low }
    }

    /// The range in words, in the everyday unit of `kind`.
    pub fn in_words(&self, kind: Kind) -> String {
        let low = kind.show(self.low);
        match (self.low.is_finite(), self.high.is_finite(), self.open_below) {
            (false, false, _) => "any number".to_string(),
            (true, false, true) => format!("above {low}"),
            (true, false, false) => format!("{low} or more"),
            (false, true, _) => format!("{} or less", kind.show(self.high)),
            (true, true, true) => format!("above {low}, up to {}", kind.show(self.high)),
            (true, true, false) => format!("{low} to {}", kind.show(self.high)),
        }
    }
}

/// A number that tells a name from all others of a table: draws ask for keys all the time, and texts are slow to compare.
///
/// Fowler, Noll & Vo, FNV-1a of 32 bits (from memory); that no two names share one is held by a test.
pub const fn id_of(name: &str) -> u32 {
    let bytes = name.as_bytes();
    let mut id = 0x811c_9dc5_u32;
    let mut at = 0;
    while at < bytes.len() {
        id = (id ^ bytes[at] as u32).wrapping_mul(0x0100_0193);
        at += 1;
    }
    id
}

impl Key {
    const fn plain(
        name: &'static str,
        shape: ValueShape,
        need: Need,
        range: Range,
        help: &'static str,
    ) -> Key {
        Key {
            name,
            id: id_of(name),
            shape,
            need,
            range,
            words: &[],
            cooled_by: &[],
            also: &[],
            rules: &[],
            help,
        }
    }

    /// A number that must be given.
    pub const fn required(name: &'static str, kind: Kind, range: Range, help: &'static str) -> Key {
        Key::plain(name, ValueShape::Number(kind), Need::Required, range, help)
    }

    /// A number that may be left out.
    pub const fn optional(name: &'static str, kind: Kind, range: Range, help: &'static str) -> Key {
        Key::plain(name, ValueShape::Number(kind), Need::Optional, range, help)
    }

    /// A number with a default `value` that probably lies within `band`.
    pub const fn default(
        name: &'static str,
        kind: Kind,
        (value, low, high): (f64, f64, f64),
        range: Range,
        source: &'static str,
        help: &'static str,
    ) -> Key {
        let need = Need::Default(Assumed { value, low, high, source });
        Key::plain(name, ValueShape::Number(kind), need, range, help)
    }

    /// An entry of any shape that may be left out.
    pub const fn open(name: &'static str, shape: ValueShape, help: &'static str) -> Key {
        Key::plain(name, shape, Need::Optional, Range::ANY, help)
    }

    /// An entry of any shape that must be given.
    pub const fn must(name: &'static str, shape: ValueShape, help: &'static str) -> Key {
        Key::plain(name, shape, Need::Required, Range::ANY, help)
    }

    /// The value that is taken where it is left out; 1 where there is none.
    pub const fn assumed(&self) -> f64 {
        match &self.need {
            Need::Default(assumed) => assumed.value,
            _ => 1.0,
        }
    }

    /// The same key under another name.
    pub const fn named(mut self, name: &'static str) -> Key {
        (self.name, self.id) = (name, id_of(name));
        self
    }

    /// The same key with words that may stand instead of its numbers.
    pub const fn or_word(mut self, words: &'static [Usual]) -> Key {
        self.words = words;
        self
    }

    /// The same key with other defaults for a part that an element of a kind cools; the first that fits is taken.
    pub const fn where_cooled_by(mut self, kinds: &'static [(&'static str, Assumed)]) -> Key {
        self.cooled_by = kinds;
        self
    }

    /// The same key with words that builders write first when they mean it.
    pub const fn also(mut self, words: &'static [&'static str]) -> Key {
        self.also = words;
        self
    }

    /// The same key with what holds between it and others of its table.
    pub const fn rules(mut self, rules: &'static [Rule]) -> Key {
        self.rules = rules;
        self
    }

    /// The same key with an accepted range for its numbers.
    pub const fn within(mut self, range: Range) -> Key {
        self.range = range;
        self
    }
}
