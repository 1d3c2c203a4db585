//! The rules of a table, found among its keys and told in words.

use super::rule::Rule;
use super::table::{Key, ValueShape};

/// Whether a table knows every key of these names.
pub fn knows(keys: &[Key], names: &[&str]) -> bool {
    names.iter().all(|name| keys.iter().any(|key| key.name == *name))
}

/// Whether a rule counts in a table: whether this knows what the rule names.
fn counts(keys: &[Key], rule: Rule) -> bool {
    match rule.plain() {
        Rule::OneOf(names) | Rule::AtLeastOne(names) | Rule::Together(names) => knows(keys, names),
        Rule::Without(name, others) | Rule::Needs(name, others) | Rule::NeedsOneOf(name, others) => {
            knows(keys, &[name]) && knows(keys, others)
        }
        Rule::OneWay(_)
        | Rule::AtLeastOneSet(_)
        | Rule::ReplacedBy(_)
        | Rule::OnlyWith(_)
        | Rule::OnRequest
        | Rule::Instead(_)
        | Rule::Told(..) => true,
    }
}

/// The rules of a table that bind its keys, those whose keys it knows, each as it is written.
pub fn as_written(keys: &[Key]) -> impl Iterator<Item = Rule> {
    keys.iter().flat_map(|key| key.rules).copied().filter(|rule| counts(keys, *rule))
}

/// The same without their words.
pub fn of_table(keys: &[Key]) -> impl Iterator<Item = Rule> {
    as_written(keys).map(Rule::plain)
}

/// The keys of some ways that a table knows, way by way.
pub fn known_ways(keys: &[Key], ways: &'static [&'static [&'static str]]) -> Vec<Vec<&'static str>> {
    let known = |way: &&'static [&'static str]| -> Vec<&'static str> {
        way.iter().copied().filter(|name| knows(keys, &[name])).collect()
    };
    ways.iter().map(known).filter(|way| !way.is_empty()).collect()
}

/// Pairs of keys that a table knows and that may not both be given.
pub fn apart(keys: &[Key], rule: Rule) -> Vec<(&'static str, &'static str)> {
    match rule.plain() {
        Rule::OneOf(group) => {
            let behind = |(index, first): (usize, &&'static str)| {
                let first = *first;
                group[index + 1..].iter().map(move |second| (first, *second))
            };
            group.iter().enumerate().flat_map(behind).collect()
        }
        Rule::OneWay(ways) => {
            let ways = known_ways(keys, ways);
            let mut pairs = Vec::new();
            for (index, way) in ways.iter().enumerate() {
                for other in &ways[index + 1..] {
                    pairs.extend(way.iter().flat_map(|one| other.iter().map(|two| (*one, *two))));
                }
            }
            pairs
        }
        Rule::Without(name, others) => others.iter().map(|other| (name, *other)).collect(),
        _ => Vec::new(),
    }
}

/// A table and every table inside it.
pub fn nested(keys: &'static [Key]) -> Vec<&'static [Key]> {
    let mut found = vec![keys];
    for key in keys {
        if let ValueShape::Table(inner) | ValueShape::Tables(inner) = key.shape {
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
    let one_at_most =
        |names: &[&str]| (!ways(names)).then(|| format!("one at most of {}", list(names, "and")));
    let said = rules.iter().filter_map(|rule| match *rule {
        Rule::OneOf(names) => one_at_most(names),
        Rule::Without(name, others) => one_at_most(&[&[name], others].concat()),
        Rule::AtLeastOne(names) => Some(format!("one at least of {}", list(names, "and"))),
        Rule::AtLeastOneSet(sets) => {
            let sets: Vec<String> = sets.iter().map(|set| list(set, "and")).collect();
            Some(format!("at least {}", sets.join(", or ")))
        }
        Rule::Together(names) => Some(format!("{} together or not at all", list(names, "and"))),
        Rule::Needs(name, others) => Some(format!("`{name}` only with {}", list(others, "and"))),
        Rule::NeedsOneOf(name, others) => Some(format!("`{name}` only with {}", list(others, "or"))),
        Rule::OneWay(ways) | Rule::Instead(ways) => {
            let known = known_ways(keys, ways);
            let said: Vec<String> = known.iter().map(|way| list(way, "and")).collect();
            (said.len() > 1).then(|| format!("either {}", said.join(", or ")))
        }
        Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest | Rule::Told(..) => None,
    });
    said.collect()
}

fn list(names: &[&str], word: &str) -> String {
    let marked: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
    match &marked[..] {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} {word} {last}", most.join(", ")),
    }
}
