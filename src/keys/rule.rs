//! Rules between the keys of one table.
//!
//! A rule stands with one of its keys, once, and counts in every table that knows this key and all that the rule names.
//! The reader, overrides, the schema and the reference walk the same rules: see [`super::rules`], and [`super::broken`]
//! for what is said where one is broken.

/// What is said where a rule is broken, in the place of the usual words.
///
/// In its texts `{table}` stands for the address of the table, `{given}` for the keys that are given and `{first given}`
/// for the first of them, `{other}` for the keys that are missing or in the way and `{first other}` for the first of
/// these, `{help}` for the lines of help of what is missing.
#[derive(Debug, PartialEq, Eq)]
pub struct RuleWords {
    /// Code of the fault.
    pub code: &'static str,
    /// What is wrong.
    pub says: &'static str,
    /// What to do.
    pub way_out: &'static str,
    /// Whether it is told as a required key that is left out: of each key by itself, at the table.
    pub as_missing: bool,
}

impl RuleWords {
    /// Words for a fault that stands at the key concerned; at the table where nothing is given.
    pub const fn new(code: &'static str, says: &'static str, way_out: &'static str) -> RuleWords {
        RuleWords { code, says, way_out, as_missing: false }
    }

    /// The same words, told of each missing key by itself, at the table.
    pub const fn as_missing(mut self) -> RuleWords {
        self.as_missing = true;
        self
    }
}

/// What holds between keys of one table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// They say the same thing, or go together ill: one at most may be given.
    OneOf(&'static [&'static str]),
    /// Ways of saying the same thing, each by one key or by several: one at most may be used, and one that is set takes
    /// the place of the others. What the table knows of them counts.
    OneWay(&'static [&'static [&'static str]]),
    /// The first means nothing where one of the others is given.
    Without(&'static str, &'static [&'static str]),
    /// One at least must be given.
    AtLeastOne(&'static [&'static str]),
    /// Of these sets one at least must be given whole.
    AtLeastOneSet(&'static [&'static [&'static str]]),
    /// They stand together or not at all.
    Together(&'static [&'static str]),
    /// Where the first is given, the others must be.
    Needs(&'static str, &'static [&'static str]),
    /// Where the first is given, one at least of the others must be.
    NeedsOneOf(&'static str, &'static [&'static str]),
    /// The key's default is not taken where one of these is given.
    ReplacedBy(&'static [&'static str]),
    /// The key's default is taken only where this one is given.
    OnlyWith(&'static str),
    /// The key's default is taken only where something beside the table asks for it.
    OnRequest,
    /// Ways of saying the same thing: one that is set takes the place of the others.
    Instead(&'static [&'static [&'static str]]),
    /// A rule with words of its own.
    Told(&'static Rule, &'static RuleWords),
}

impl Rule {
    /// The rule itself, whatever its words.
    pub const fn plain(self) -> Rule {
        match self {
            Rule::Told(rule, _) => rule.plain(),
            rule => rule,
        }
    }

    /// Its own words, where it has any.
    pub const fn own_words(self) -> Option<&'static RuleWords> {
        match self {
            Rule::Told(_, words) => Some(words),
            _ => None,
        }
    }
}
