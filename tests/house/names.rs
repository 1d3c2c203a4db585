//! No type name stands twice: who reads a name knows which type is meant.

use super::{code, sources};
use std::collections::BTreeMap;

/// Names of types that a piece of code declares. What an `impl` declares has the name that its trait gives it, and is
/// passed over.
fn declared(code: &str) -> Vec<&str> {
    let mut names = Vec::new();
    for line in code.lines() {
        let inside = line.starts_with(' ');
        let words: Vec<&str> = line
            .trim_start()
            .split(|c: char| !c.is_alphanumeric() && c != '_')
            .filter(|word| !word.is_empty())
            .collect();
        let mut words = words.as_slice();
        if let ["pub", "super" | "crate", rest @ ..] | ["pub", rest @ ..] = words {
            words = rest;
        }
        match words {
            ["struct" | "enum" | "trait" | "union", name, ..] => names.push(*name),
            ["type", name, ..] if !inside => names.push(*name),
            _ => {}
        }
    }
    names
}

#[test]
fn no_type_name_stands_twice() {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, text) in sources() {
        for name in declared(&code(&text)) {
            places.entry(name.to_string()).or_default().push(path.display().to_string());
        }
    }
    assert!(places.len() > 500, "the test no longer sees the types: {}", places.len());
    let twice: Vec<_> = places.iter().filter(|(_, places)| places.len() > 1).collect();
    assert!(twice.is_empty(), "{twice:#?}");
}

#[test]
fn names_are_found_where_they_are_declared() {
    let code = "pub(super) struct One;\npub enum Two {}\n    type Item = u8;\ntype Three = u8;\nuse a::Four;\nstruct Five<'a>;\n";
    assert_eq!(declared(code), ["One", "Two", "Three", "Five"]);
}
