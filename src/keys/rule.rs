//! Rules between the keys of one table.
//!
//! A rule stands with one of its keys, and counts in every table that knows this key and all that the rule names. The
//! reader, overrides, the schema and the reference walk the same rules: see [`super::rules`].

/// What is said where a rule is broken, in the place of the usual words.
#[derive(Debug, PartialEq, Eq)]
pub struct RuleWords {
    /// Code of the fault.
    pub code: &'static str,
    /// What is wrong, behind the address of the table.
    pub says: &'static str,
    /// What to do.
    pub way_out: &'static str,
}

/// What holds between keys of one table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// They say the same thing: one at most may be given.
    OneOf(&'static [&'static str]),
    /// They do not go together, for a reason of their own.
    Clash(&'static [&'static str], &'static RuleWords),
    /// They say the same thing, and a check of an element's kind tells more of it.
    Apart(&'static [&'static str]),
    /// One at least must be given.
    AtLeastOne(&'static [&'static str]),
    /// Of these sets one at least must be given whole.
    AtLeastOneSet(&'static [&'static [&'static str]]),
    /// They stand together or not at all.
    Together(&'static [&'static str]),
    /// Where the first is given, the others must be.
    Needs(&'static str, &'static [&'static str]),
    /// The key's default is not taken where one of these is given.
    ReplacedBy(&'static [&'static str]),
    /// The key's default is taken only where this one is given.
    OnlyWith(&'static str),
    /// The key's default is taken only where something beside the table asks for it.
    OnRequest,
    /// Ways of saying the same thing: one that is set takes the place of the others.
    Instead(&'static [&'static [&'static str]]),
}
