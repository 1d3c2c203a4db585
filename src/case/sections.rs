//! Reads the sections of a document: tables that stand once, under names, or in lists.

use super::document::{self, Node};
use super::read::CaseReader;
use super::{FaultPlace, Named, PassageTable, diagnostic, tables as t};
use crate::element;
use crate::keys::{Key, Slot, Values};

pub(super) fn absent(keys: &'static [Key], address: &str) -> Values {
    Values::new(keys, address.to_string(), crate::keys::SourceLocation::File(0..0))
}

pub(super) fn read_top(reader: &mut CaseReader, document: &Node, sections: &[&str]) -> Values {
    let mut shown = document.clone();
    shown.span = 0..0;
    if let document::Tree::Table(entries) = &mut shown.tree {
        // a misspelt section is told apart from a misspelt key
        for entry in entries.iter() {
            let known =
                sections.contains(&entry.key.as_str()) || t::TOP.iter().any(|key| key.name == entry.key);
            if !known && matches!(entry.value.tree, document::Tree::Table(_) | document::Tree::List(_)) {
                let way_out = match diagnostic::did_you_mean(&entry.key, sections.iter().copied()) {
                    Some(meant) => format!("did you mean {meant}?"),
                    None => format!("possible: {}", sections.join(", ")),
                };
                let place = FaultPlace::Span(entry.key_span.clone());
                reader.fault("unknown-table", format!("no table is called {}", entry.key), place, way_out);
            }
        }
        entries.retain(|entry| {
            !sections.contains(&entry.key.as_str())
                && (t::TOP.iter().any(|key| key.name == entry.key)
                    || !matches!(entry.value.tree, document::Tree::Table(_) | document::Tree::List(_)))
        });
    }
    if shown.get("format").is_none() {
        reader.fault(
            "format-missing",
            "the case does not say its format",
            FaultPlace::Whole,
            "write format = 1 in the first line",
        );
        if let document::Tree::Table(entries) = &mut shown.tree {
            entries.push(document::TableEntry {
                key: "format".into(),
                key_span: 0..0,
                value: Node { span: 0..0, set: None, tree: document::Tree::Number(1.0) },
            });
        }
    }
    if let Some(Node { tree: document::Tree::Number(format), .. }) = shown.get("format")
        && *format != 1.0
    {
        let place = shown.get("format").map_or(FaultPlace::Whole, Node::place);
        reader.fault(
            "format-unknown",
            format!("this version reads format 1; the file says {format}"),
            place,
            "write format = 1, or use the version of the program that goes with the file",
        );
        if let document::Tree::Table(entries) = &mut shown.tree {
            entries.retain(|entry| entry.key != "format");
            entries.push(document::TableEntry {
                key: "format".into(),
                key_span: 0..0,
                value: Node { span: 0..0, set: None, tree: document::Tree::Number(1.0) },
            });
        }
    }
    reader.table(&shown, t::TOP, "", &[])
}

pub(super) fn one(
    reader: &mut CaseReader,
    document: &Node,
    name: &str,
    keys: &'static [Key],
    always: bool,
) -> Option<Values> {
    let mut values = match document.get(name) {
        Some(node) => reader.table(node, keys, name, &[]),
        None if always => absent(keys, name),
        None => return None,
    };
    reader.take_defaults(&mut values);
    Some(values)
}

/// `[body]`; a default is taken only of what the case says nothing about.
pub(super) fn read_body(reader: &mut CaseReader, document: &Node, passages: &[PassageTable]) -> Values {
    let mut values = match document.get("body") {
        Some(node) => reader.table(node, t::BODY, "body", &[]),
        None => absent(t::BODY, "body"),
    };
    let leaks = passages.iter().any(|passage| passage.first_of(element::Role::Leak).is_some());
    let recirculates = |values: &Values| values.has(&element::ram_inlet::RECIRCULATION);
    let hot_air = passages.iter().flat_map(|passage| &passage.elements).any(recirculates);
    let ends = |role: element::Role| passages.iter().any(|passage| passage.first_of(role).is_some());
    let open = ends(element::Role::Inlet);
    let fills = passages.iter().any(|p| p.fills_a_space() && p.first_of(element::Role::Inlet).is_some());
    if fills && !leaks {
        reader.take_default(&mut values, &t::LEAKS);
    }
    if open && ends(element::Role::Exit) && !hot_air {
        reader.take_default(&mut values, &t::HOT_AIR_AT_REST);
        reader.take_default(&mut values, &t::HOT_AIR_MOVING);
    }
    values
}

pub(super) fn named(
    reader: &mut CaseReader,
    document: &Node,
    name: &str,
    keys: &'static [Key],
) -> Vec<Named> {
    let Some(node) = document.get(name) else { return Vec::new() };
    if !matches!(node.tree, document::Tree::Table(_)) {
        let message = format!("{name} is {}; tables are wanted here", node.in_words());
        reader.fault("table-wanted", message, node.place(), format!("write [{name}.NAME] for each"));
        return Vec::new();
    }
    node.entries()
        .iter()
        .map(|entry| {
            let mut values = reader.table(&entry.value, keys, &format!("{name}/{}", entry.key), &[]);
            reader.take_defaults(&mut values);
            Named { name: entry.key.clone(), values }
        })
        .collect()
}

/// The tables of a section that is a list.
fn members_of<'n>(reader: &mut CaseReader, document: &'n Node, section: &str) -> &'n [Node] {
    let Some(node) = document.get(section) else { return &[] };
    let entries = node.entries();
    let named = |entry: &document::TableEntry| matches!(entry.value.tree, document::Tree::Table(_));
    if node.get("name").is_none() && !entries.is_empty() && entries.iter().all(named) {
        let message = format!("{section} holds a table under each name; a list of tables is wanted here");
        let name = &entries[0].key;
        let way_out = format!("write [[{section}]] and under it name = {name:?}");
        reader.fault("list-wanted", message, entries[0].key_place(), way_out);
        return &[];
    }
    node.members()
}

pub(super) fn list(
    reader: &mut CaseReader,
    document: &Node,
    section: &str,
    keys: &'static [Key],
) -> Vec<Named> {
    members_of(reader, document, section)
        .iter()
        .enumerate()
        .map(|(i, member)| {
            let name = member.get("name").and_then(Node::text).map_or(format!("{}", i + 1), str::to_string);
            let address = format!("{section}/{name}");
            let elsewhere: &[&str] = if section == "layout" { &["set"] } else { &[] };
            let mut values = reader.table(member, keys, &address, elsewhere);
            reader.take_defaults(&mut values);
            if section == "layout" {
                if let Some(node) =
                    member.get("set").filter(|node| !matches!(node.tree, document::Tree::Table(_)))
                {
                    let message = format!("{address}/set is {}; a table is wanted here", node.in_words());
                    let way_out = r#"write set = { "place/tail left/pressure_coefficient" = -0.05 }"#;
                    reader.fault("table-wanted", message, node.place(), way_out);
                }
                let settings = member.get("set").map_or(&[][..], Node::entries);
                let slot = settings.iter().map(|entry| (entry.key.clone(), String::new())).collect();
                if let Some(set) = values.slot_mut(&t::SET) {
                    *set = Slot::Settings(slot);
                }
            }
            Named { name, values }
        })
        .collect()
}

pub(super) fn read_passages(reader: &mut CaseReader, document: &Node, places: &[Named]) -> Vec<PassageTable> {
    let mut passages = Vec::new();
    for (i, member) in members_of(reader, document, "passage").iter().enumerate() {
        let name = member.get("name").and_then(Node::text).map_or(format!("{}", i + 1), str::to_string);
        let address = format!("passage/{name}");
        let mut values = reader.table(member, t::PASSAGE, &address, &["element"]);
        reader.take_defaults(&mut values);
        let written = member.get("element");
        let mut elements = written.map_or(Vec::new(), |node| reader.elements(node, &address));
        let whole = written.is_some_and(|node| node.members().len() == elements.len());
        let index = t::PASSAGE.iter().position(|key| key.name == t::ELEMENT.name);
        if let (Some(index), Some(node)) = (index, written) {
            values.put(index, Slot::Absent, Some(node.written()));
        }
        for element in &mut elements {
            take_from_place(element, places);
            reader.take_defaults(element);
        }
        for index in 0..elements.len() {
            if element::bend::is_close(&elements, reader.numbers, index) {
                reader.take_default(&mut elements[index], &element::bend::INTERACTION);
            }
        }
        let text = |key: &Key| values.text(key).unwrap_or_default().to_string();
        let copies = crate::keys::View { values: &values, numbers: reader.numbers }.required(&t::COUNT);
        let inlets_as_drawn = copies * inlet_area(&elements, reader.numbers);
        passages.push(PassageTable {
            inlets_as_drawn,
            name,
            from: text(&t::FROM),
            to: text(&t::TO),
            values: values.clone(),
            elements,
            whole,
        });
    }
    passages
}

/// Takes the defaults of parts that hang on what cools them.
pub(super) fn take_defaults_by_cooling(reader: &mut CaseReader, parts: &[Named], passages: &[PassageTable]) {
    for part in parts {
        let cooled = |kind: &str| {
            passages.iter().any(|passage| {
                let elements = passage.elements.iter().enumerate();
                elements.into_iter().any(|(index, values)| {
                    passage.kind(index).is_some_and(|known| known.name == kind)
                        && values.text(&element::fins::PART) == Some(part.name.as_str())
                })
            })
        };
        for key in part.values.keys {
            let Some((_, assumed)) = key.cooled_by.iter().find(|(kind, _)| cooled(kind)) else { continue };
            let Some(id) = part.values.id(key) else { continue };
            if matches!(reader.numbers.fact(id).origin, crate::keys::Origin::Assumed(_)) {
                reader.numbers.assume(id, assumed);
            }
        }
    }
}

/// Area of the inlets among some elements, untaped, of one piece of their passage (m²).
fn inlet_area(elements: &[Values], numbers: &crate::keys::Numbers) -> f64 {
    let area = |values: &Values| {
        let kind = values.text(&element::size::KIND).and_then(element::kind);
        let view = crate::keys::View { values, numbers };
        let size =
            element::PieceSize::read(&view).filter(|_| kind.is_some_and(|k| k.role == element::Role::Inlet));
        size.map_or(0.0, |size| view.number(&element::size::COUNT).unwrap_or(1.0) * size.area)
    };
    elements.iter().map(area).sum()
}

/// Lets an element take from its place what it does not say itself: the same number, so the same
/// address.
fn take_from_place(element: &mut Values, places: &[Named]) {
    let Some(place) = element.text(&element::size::PLACE) else { return };
    let Some(place) = places.iter().find(|p| p.name == place) else { return };
    for (key, slot) in place.values.slots() {
        if matches!(slot, Slot::Absent) || element.has(key) {
            continue;
        }
        if let Some(own) = element.slot_mut(key) {
            *own = slot.clone();
        }
    }
}
