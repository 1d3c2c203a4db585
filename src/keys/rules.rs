//! The rules of a table, found among its keys and told in words.

use super::rule::Rule;
use super::table::{Key, ValueShape};

/// Whether a table knows every key of these names.
pub fn knows(keys: &[Key], names: &[&str]) -> bool {
    names.iter().all(|name| keys.iter().any(|key| key.name == *name))
}

/// The rules of a table that bind its keys: those whose keys it knows.
pub fn of_table(keys: &[Key]) -> impl Iterator<Item = Rule> {
    keys.iter().flat_map(|key| key.rules).copied().filter(|rule| match rule {
        Rule::OneOf(names)
        | Rule::Clash(names, _)
        | Rule::Apart(names)
        | Rule::AtLeastOne(names)
        | Rule::Together(names) => knows(keys, names),
        Rule::Needs(name, others) => knows(keys, &[name]) && knows(keys, others),
        _ => true,
    })
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
    let said = rules.iter().filter_map(|rule| match rule {
        Rule::OneOf(names) | Rule::Clash(names, _) | Rule::Apart(names) => {
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
