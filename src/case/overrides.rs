//! The case with some of its addresses set: what-ifs and layouts.

use super::diagnostic::{Diagnostic, Diagnostics, Place, did_you_mean};
use super::document::{Entry, Node, Tree, read_value};
use super::read::element_segments;
use super::tables::{Form, SECTIONS, TOP};

/// Splits `ADDRESS=VALUE`.
pub fn split(text: &str) -> Result<(String, String), Diagnostic> {
    match text.split_once('=') {
        Some((address, value)) if !address.trim().is_empty() => {
            Ok((address.trim().to_string(), value.trim().to_string()))
        }
        _ => Err(Diagnostic::new(
            "set-unreadable",
            format!("{text:?} is not ADDRESS=VALUE"),
            Place::Override { address: text.to_string(), text: String::new() },
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
    let place = Place::Override { address: address.to_string(), text: text.to_string() };
    set_node(document, address, value, place)
}

/// Sets an address to a node that is written elsewhere in the file.
pub fn set_node(document: &mut Node, address: &str, value: Node, place: Place) -> Result<(), Diagnostic> {
    let segments: Vec<&str> = address.split('/').map(str::trim).collect();
    let way = Way { address, place: &place };
    let first = segments[0];
    if segments.len() == 1 && TOP.iter().any(|key| key.name == first) {
        put(document, first, value);
        return Ok(());
    }
    let Some(section) = SECTIONS.iter().find(|section| section.name == first) else {
        return Err(way.lost(first, SECTIONS.iter().map(|section| section.name.to_string()).collect()));
    };
    let name = segments.get(1).copied().unwrap_or_default();
    // a chamber exists by being named, so that it may have no table yet
    let create = section.form == Form::One || section.name == "chamber";
    let table = child(document, first, create).ok_or_else(|| way.lost(first, Vec::new()))?;
    match section.form {
        Form::One => way.descend(table, &segments[1..], false, value),
        Form::Named => {
            let known = table.entries().iter().map(|entry| entry.key.clone()).collect();
            let node = child(table, name, create).ok_or_else(|| way.lost(name, known))?;
            way.descend(node, &segments[2.min(segments.len())..], false, value)
        }
        Form::List => {
            let has = |m: &Node| m.get("name").and_then(Node::text) == Some(name);
            let names = |m: &Node| m.get("name").and_then(Node::text).map(str::to_string);
            let known = table.members().iter().filter_map(names).collect();
            let node = members(table).iter_mut().find(|m| has(m)).ok_or_else(|| way.lost(name, known))?;
            way.descend(node, &segments[2.min(segments.len())..], section.name == "passage", value)
        }
    }
}

/// What is carried along on the way down an address.
struct Way<'a> {
    address: &'a str,
    place: &'a Place,
}

impl Way<'_> {
    fn lost(&self, at: &str, known: Vec<String>) -> Diagnostic {
        let way_out = match did_you_mean(at, known.iter().map(String::as_str)) {
            Some(meant) => format!("did you mean {meant}?"),
            None if known.is_empty() => "see the names in the file".to_string(),
            None => format!("known there: {}", known.join(", ")),
        };
        let message = format!("the case has no {}: nothing is called {at:?}", self.address);
        Diagnostic::new("address-unknown", message, self.place.clone(), way_out)
    }

    fn descend(&self, node: &mut Node, rest: &[&str], passage: bool, value: Node) -> Result<(), Diagnostic> {
        let Some((segment, rest)) = rest.split_first() else {
            let message = format!("{} is a whole table; an address goes down to one value", self.address);
            let way_out = "add the key, as in condition/hairpin/speed or passage/oil cooler/core/conductance";
            return Err(Diagnostic::new("address-too-short", message, self.place.clone(), way_out));
        };
        if passage && !super::tables::PASSAGE.iter().any(|key| key.name == *segment) {
            let list = child(node, "element", false).ok_or_else(|| self.lost(segment, Vec::new()))?;
            let segments = element_segments(list.members());
            let found = segments.iter().position(|s| s == segment || format!("{s} 1") == *segment);
            let index = found.ok_or_else(|| self.lost(segment, segments))?;
            return self.descend(&mut members(list)[index], rest, false, value);
        }
        if let (Tree::List(list), Ok(index)) = (&mut node.tree, segment.parse::<usize>()) {
            let count = list.len();
            let Some(member) = index.checked_sub(1).and_then(|i| list.get_mut(i)) else {
                return Err(self.lost(segment, vec![format!("1 to {count}")]));
            };
            if rest.is_empty() {
                *member = value;
                return Ok(());
            }
            return self.descend(member, rest, false, value);
        }
        if rest.is_empty() {
            put(node, segment, value);
            return Ok(());
        }
        let known = node.entries().iter().map(|entry| entry.key.clone()).collect();
        let next = child(node, segment, true).ok_or_else(|| self.lost(segment, known))?;
        self.descend(next, rest, false, value)
    }
}

/// The case as one of its layouts has it.
pub fn layout(document: &Node, name: &str) -> Result<Node, Diagnostics> {
    let mut faults = Diagnostics::new();
    let mut changed = document.clone();
    let layout = document
        .get("layout")
        .and_then(|list| list.members().iter().find(|m| m.get("name").and_then(Node::text) == Some(name)));
    let Some(layout) = layout else {
        faults.push(Diagnostic::new(
            "unknown-name",
            format!("no layout is called {name:?}"),
            Place::Whole,
            "see the [[layout]] tables of the case",
        ));
        return Err(faults);
    };
    if let Some(removed) = layout.get("remove") {
        let names: Vec<&str> = removed.members().iter().filter_map(Node::text).collect();
        if let Some(Node { tree: Tree::List(passages), .. }) = child(&mut changed, "passage", false) {
            passages.retain(|p| p.get("name").and_then(Node::text).is_none_or(|name| !names.contains(&name)));
        }
    }
    for passage in layout.get("passage").map_or(&[][..], Node::members) {
        let name = passage.get("name").and_then(Node::text);
        if let Some(Node { tree: Tree::List(passages), .. }) = child(&mut changed, "passage", false) {
            match passages.iter_mut().find(|p| p.get("name").and_then(Node::text) == name) {
                Some(old) => *old = passage.clone(),
                None => passages.push(passage.clone()),
            }
        }
    }
    for entry in layout.get("set").map_or(&[][..], Node::entries) {
        let place = Place::Span(entry.key_span.clone());
        if let Err(fault) = set_node(&mut changed, &entry.key, entry.value.clone(), place) {
            faults.push(fault);
        }
    }
    if let Tree::Table(entries) = &mut changed.tree {
        entries.retain(|entry| entry.key != "layout");
    }
    faults.unless_faulty(changed)
}

fn child<'n>(node: &'n mut Node, key: &str, create: bool) -> Option<&'n mut Node> {
    let Tree::Table(entries) = &mut node.tree else { return None };
    if let Some(index) = entries.iter().position(|entry| entry.key == key) {
        return Some(&mut entries[index].value);
    }
    if !create {
        return None;
    }
    entries.push(Entry { key: key.to_string(), key_span: 0..0, value: Node::empty_table() });
    entries.last_mut().map(|entry| &mut entry.value)
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

fn put(node: &mut Node, key: &str, value: Node) {
    let Tree::Table(entries) = &mut node.tree else { return };
    // alternatives of the same thing give way to the one that is set
    const ALTERNATIVES: &[&[&str]] = &[
        &["area", "width", "height", "diameter"],
        &["altitude", "pressure"],
        &["gear", "rpm"],
        &["drive_ratio", "pulleys", "speed", "off"],
        &["edge", "edge_radius", "entry_loss"],
    ];
    let pair = |name: &str| name == "width" || name == "height";
    let fan = entries.iter().any(|entry| entry.key == "curve");
    for group in ALTERNATIVES {
        if !group.contains(&key) || (group.contains(&"speed") && !fan) {
            continue;
        }
        entries.retain(|e| e.key == key || !group.contains(&e.key.as_str()) || (pair(key) && pair(&e.key)));
    }
    match entries.iter_mut().find(|entry| entry.key == key) {
        Some(entry) => entry.value = value,
        None => entries.push(Entry { key: key.to_string(), key_span: 0..0, value }),
    }
}
