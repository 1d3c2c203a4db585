//! The case with some of its addresses set.
#![expect(clippy::result_large_err, reason = "a fault is made once and shown, never passed on in a loop")]

use super::diagnostic::{Diagnostic, FaultPlace, did_you_mean};
use super::document::{Node, TableEntry, Tree, read_value};
use super::read::element_segments;
use super::tables::{PASSAGE, SECTIONS, TOP, TableForm};
use crate::keys::{Rule, rules};

/// Splits `ADDRESS=VALUE`.
pub fn split(text: &str) -> Result<(String, String), Diagnostic> {
    match text.split_once('=') {
        Some((address, value)) if !address.trim().is_empty() => {
            Ok((address.trim().to_string(), value.trim().to_string()))
        }
        _ => Err(Diagnostic::new(
            "set-unreadable",
            format!("{text:?} is not ADDRESS=VALUE"),
            FaultPlace::Address { address: text.to_string(), text: String::new(), part: 0..text.len() },
            "write for example --set \"condition/hairpin/speed=43 km/h\"",
        )),
    }
}

/// Sets an address to a value given as text: TOML where it is TOML, else the text itself.
pub fn set(document: &mut Node, address: &str, text: &str) -> Result<(), Diagnostic> {
    let mut value = match read_value(text) {
        Some(node) if !matches!(node.tree, Tree::Other) => node,
        _ => Node { span: 0..0, set: None, tree: Tree::Text(text.to_string()) },
    };
    value.mark(address, text);
    let place = FaultPlace::Override { address: address.to_string(), text: text.to_string() };
    set_node(document, address, value, place)
}

/// Sets an address to a node that is written elsewhere in the file.
pub fn set_node(
    document: &mut Node,
    address: &str,
    value: Node,
    place: FaultPlace,
) -> Result<(), Diagnostic> {
    let segments: Vec<&str> = address.split('/').map(str::trim).collect();
    let way = AddressPath { address, place: &place };
    let first = segments[0];
    if segments.len() == 1 && TOP.iter().any(|key| key.name == first) {
        return way.put(document, first, value);
    }
    let Some(section) = SECTIONS.iter().find(|section| section.name == first) else {
        let top = TOP.iter().map(|key| key.name);
        let known = SECTIONS.iter().map(|section| section.name).chain(top).map(str::to_string);
        return Err(way.lost(first, known.collect()));
    };
    let Some(name) = segments.get(1).copied() else { return Err(way.too_short()) };
    let chambers = if section.name == "chamber" { chamber_names(document) } else { Vec::new() };
    // a chamber exists by being named, so that it may have no table yet
    let create = section.form == TableForm::One || chambers.iter().any(|known| known == name);
    if section.name == "chamber" && !create {
        return Err(way.lost(name, chambers));
    }
    let table = way.child(document, first, create).ok_or_else(|| way.lost(first, Vec::new()))?;
    match section.form {
        TableForm::One => way.descend(table, &segments[1..], false, value),
        TableForm::Named => {
            let known = table.entries().iter().map(|entry| entry.key.clone()).collect();
            let node = way.child(table, name, create).ok_or_else(|| way.lost(name, known))?;
            way.descend(node, &segments[2..], false, value)
        }
        TableForm::List => {
            let has = |m: &Node| m.get("name").and_then(Node::text) == Some(name);
            let names = |m: &Node| m.get("name").and_then(Node::text).map(str::to_string);
            let known = table.members().iter().filter_map(names).collect();
            let node = members(table).iter_mut().find(|m| has(m)).ok_or_else(|| way.lost(name, known))?;
            way.descend(node, &segments[2..], section.name == "passage", value)
        }
    }
}

/// The chambers that have a table or an end of a passage.
fn chamber_names(document: &Node) -> Vec<String> {
    let tables = document.get("chamber").map_or(&[][..], Node::entries).iter().map(|entry| &entry.key[..]);
    let passages = document.get("passage").map_or(&[][..], Node::members).iter();
    let ends = passages.flat_map(|p| ["from", "to"].map(|key| p.get(key).and_then(Node::text))).flatten();
    let mut names: Vec<String> = Vec::new();
    for name in tables.chain(ends.filter(|name| !matches!(*name, "outside" | "engine"))) {
        if !names.iter().any(|known| known == name) {
            names.push(name.to_string());
        }
    }
    names
}

/// What is carried along on the way down an address.
struct AddressPath<'a> {
    address: &'a str,
    place: &'a FaultPlace,
}

impl AddressPath<'_> {
    fn fault(&self, code: &'static str, message: String, way_out: impl Into<String>) -> Diagnostic {
        self.fault_at(code, message, None, way_out)
    }

    /// A fault in the address itself, in one of its words or in all of it.
    fn fault_at(
        &self,
        code: &'static str,
        message: String,
        word: Option<&str>,
        way_out: impl Into<String>,
    ) -> Diagnostic {
        let place = match self.place {
            FaultPlace::Override { address, text } => FaultPlace::of_word(address, text, word),
            other => other.clone(),
        };
        Diagnostic::new(code, message, place, way_out)
    }

    fn lost(&self, at: &str, known: Vec<String>) -> Diagnostic {
        let way_out = match did_you_mean(at, known.iter().map(String::as_str)) {
            Some(meant) => format!("did you mean {meant}?"),
            None if known.is_empty() => "see the names in the file".to_string(),
            None => format!("known there: {}", known.join(", ")),
        };
        let message = format!("the case has no {}: nothing is called {at:?}", self.address);
        self.fault_at("address-unknown", message, Some(at), way_out)
    }

    fn too_short(&self) -> Diagnostic {
        let message = format!("{} is a whole table; an address goes down to one value", self.address);
        let way_out = "add the key, as in condition/hairpin/speed or passage/oil cooler/core/conductance";
        self.fault("address-too-short", message, way_out)
    }

    fn too_long(&self, segment: &str) -> Diagnostic {
        let message = format!("{}: nothing lies below one value, so there is no {segment:?}", self.address);
        let way_out = "leave the end of the address out, and set the value itself";
        self.fault_at("address-too-long", message, Some(segment), way_out)
    }

    fn descend(&self, node: &mut Node, rest: &[&str], passage: bool, value: Node) -> Result<(), Diagnostic> {
        let Some((segment, rest)) = rest.split_first() else { return Err(self.too_short()) };
        if passage && !PASSAGE.iter().any(|key| key.name == *segment) {
            let Some(list) = self.child(node, "element", false) else {
                return Err(self.lost(segment, Vec::new()));
            };
            let segments = element_segments(list.members());
            let found = segments.iter().position(|s| s == segment || format!("{s} 1") == *segment);
            let Some(index) = found else {
                let keys = PASSAGE.iter().map(|key| key.name.to_string());
                return Err(self.lost(segment, segments.into_iter().chain(keys).collect()));
            };
            return self.descend(&mut members(list)[index], rest, false, value);
        }
        match &mut node.tree {
            Tree::List(list) => {
                let count = list.len();
                let index = segment.parse::<usize>().ok().and_then(|number| number.checked_sub(1));
                let Some(member) = index.and_then(|i| list.get_mut(i)) else {
                    return Err(self.lost(segment, vec![format!("1 to {count}")]));
                };
                if rest.is_empty() {
                    *member = value;
                    return Ok(());
                }
                self.descend(member, rest, false, value)
            }
            Tree::Table(_) if rest.is_empty() => self.put(node, segment, value),
            Tree::Table(_) => match self.child(node, segment, true) {
                Some(next) => self.descend(next, rest, false, value),
                None => Err(self.lost(segment, Vec::new())),
            },
            _ => Err(self.too_long(segment)),
        }
    }

    /// The value behind a key; an empty table, put there by the same hand, where there is none.
    fn child<'n>(&self, node: &'n mut Node, key: &str, create: bool) -> Option<&'n mut Node> {
        let Tree::Table(entries) = &mut node.tree else { return None };
        let found = entries.iter().position(|entry| entry.key == key);
        if found.is_none() && create {
            let mut table = Node::empty_table();
            match self.place {
                FaultPlace::Override { address, text } => table.mark(address, text),
                FaultPlace::Span(span) => table.span = span.clone(),
                FaultPlace::Address { .. } | FaultPlace::Whole => {}
            }
            entries.push(self.entry(key, table));
        }
        let index = found.or(if create { entries.len().checked_sub(1) } else { None })?;
        Some(&mut entries[index].value)
    }

    fn entry(&self, key: &str, value: Node) -> TableEntry {
        let key_span = match self.place {
            FaultPlace::Span(span) => span.clone(),
            _ => 0..0,
        };
        TableEntry { key: key.to_string(), key_span, value }
    }

    fn put(&self, node: &mut Node, key: &str, value: Node) -> Result<(), Diagnostic> {
        let Tree::Table(entries) = &mut node.tree else { return Err(self.too_long(key)) };
        for group in ways_of(entries) {
            let Some(own) = group.iter().find(|ways| ways.contains(&key)) else { continue };
            entries.retain(|e| {
                own.contains(&e.key.as_str()) || !group.iter().any(|w| w.contains(&e.key.as_str()))
            });
        }
        match entries.iter_mut().find(|entry| entry.key == key) {
            Some(entry) => entry.value = value,
            None => entries.push(self.entry(key, value)),
        }
        Ok(())
    }
}

/// Ways of saying the same thing in a table: for an element those of its kind, else those of any other table.
fn ways_of(entries: &[TableEntry]) -> Vec<&'static [&'static [&'static str]]> {
    let kind = entries.iter().find(|entry| entry.key == "kind").and_then(|entry| entry.value.text());
    let tables = match kind {
        Some(word) => crate::element::kind(word).map_or_else(Vec::new, |kind| vec![kind.keys]),
        None => SECTIONS.iter().flat_map(|section| rules::nested(section.keys)).chain([TOP]).collect(),
    };
    let rules = tables.into_iter().flat_map(rules::of_table);
    let ways = rules.filter_map(|rule| match rule {
        Rule::OneWay(ways) | Rule::Instead(ways) => Some(ways),
        _ => None,
    });
    ways.collect()
}

/// The members of a list, one alone counting as a list of one.
fn members(node: &mut Node) -> &mut [Node] {
    if matches!(node.tree, Tree::List(_)) {
        match &mut node.tree {
            Tree::List(members) => members,
            _ => &mut [],
        }
    } else {
        std::slice::from_mut(node)
    }
}
