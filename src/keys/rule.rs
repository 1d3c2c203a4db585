//! Rules between the keys of one table.
//!
//! A rule stands with one of its keys, and counts in every table that knows this key and all that the rule names. The
//! reader, overrides, the schema and the reference walk the same rules.

use super::table::{Key, Shape};

/// What holds between keys of one table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// They say the same thing: one at most may be given.
    OneOf(&'static [&'static str]),
    /// The same, and a check of the table has words of its own for it.
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

/// Whether a table knows every key of these names.
pub fn knows(keys: &[Key], names: &[&str]) -> bool {
    names.iter().all(|name| keys.iter().any(|key| key.name == *name))
}

/// The rules of a table that bind its keys: those whose keys it knows.
pub fn of_table(keys: &[Key]) -> impl Iterator<Item = Rule> {
    keys.iter().flat_map(|key| key.rules).copied().filter(|rule| match rule {
        Rule::OneOf(names) | Rule::Apart(names) | Rule::AtLeastOne(names) | Rule::Together(names) => {
            knows(keys, names)
        }
        Rule::Needs(name, others) => knows(keys, &[name]) && knows(keys, others),
        _ => true,
    })
}

/// A table and every table inside it.
pub fn nested(keys: &'static [Key]) -> Vec<&'static [Key]> {
    let mut found = vec![keys];
    for key in keys {
        if let Shape::Table(inner) | Shape::Tables(inner) = key.shape {
            found.extend(nested(inner));
        }
    }
    found
}

/// The rules of a table in words, those left out that say nothing to whoever writes a case or that another says as well.
pub fn in_words(keys: &[Key]) -> Vec<String> {
    let rules: Vec<Rule> = of_table(keys).collect();
    let ways = |names: &[&str]| {
        let all = |ways: &[&[&str]]| names.iter().all(|name| ways.iter().any(|way| way.contains(name)));
        rules.iter().any(|rule| matches!(rule, Rule::Instead(ways) if all(ways)))
    };
    let said = rules.iter().filter_map(|rule| match rule {
        Rule::OneOf(names) | Rule::Apart(names) => {
            (!ways(names)).then(|| format!("one at most of {}", list(names, "and")))
        }
        Rule::AtLeastOne(names) => Some(format!("one at least of {}", list(names, "and"))),
        Rule::AtLeastOneSet(sets) => {
            let sets: Vec<String> = sets.iter().map(|set| list(set, "and")).collect();
            Some(format!("at least {}", sets.join(", or ")))
        }
        Rule::Together(names) => Some(format!("{} together or not at all", list(names, "and"))),
        Rule::Needs(name, others) => Some(format!("`{name}` only with {}", list(others, "and"))),
        Rule::Instead(ways) => {
            let known = |way: &&&[&str]| way.iter().any(|name| knows(keys, &[name]));
            let known: Vec<String> = ways.iter().filter(known).map(|way| of_way(keys, way)).collect();
            (known.len() > 1).then(|| format!("either {}", known.join(", or ")))
        }
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest => None,
    });
    said.collect()
}

fn of_way(keys: &[Key], way: &[&str]) -> String {
    let known: Vec<&str> = way.iter().copied().filter(|name| knows(keys, &[name])).collect();
    list(&known, "and")
}

fn list(names: &[&str], word: &str) -> String {
    let marked: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match &marked[..] {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} {word} {last}", most.join(", ")),
    }
}
