//! The case as one of its layouts has it: passages taken away, added or replaced, addresses set.

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace};
use super::document::{Node, Tree};
use super::overrides::set_node;
use crate::element::kind;

/// The document of a layout.
///
/// With a passage that is taken away goes what is said of it elsewhere: its tape, its bounds and
/// freedom in sizing, the warm air drawn in from it, and the table of a chamber that nothing
/// joins or names any more; with a fan what conditions and steps tell it.
///
/// # Errors
/// A layout that is not there, and addresses that cannot be set.
pub fn layout(document: &Node, name: &str) -> Result<Node, Diagnostics> {
    let mut faults = Diagnostics::new();
    let mut changed = document.clone();
    let layouts = document.get("layout").map_or(&[][..], Node::members);
    let Some(layout) = layouts.iter().find(|m| name_of(m) == Some(name)) else {
        faults.push(Diagnostic::new(
            "unknown-name",
            format!("no layout is called {name:?}"),
            FaultPlace::Whole,
            "see the [[layout]] tables of the case",
        ));
        return Err(faults);
    };
    remove(&mut changed, "layout");
    let added = layout.get("passage").map_or(&[][..], Node::members);
    let removed = layout.get("remove").map_or(&[][..], Node::members).iter().filter_map(Node::text);
    let removed: Vec<&str> = removed.collect();
    if let Some(passages) = entry(&mut changed, "passage").and_then(list) {
        passages.retain(|p| name_of(p).is_none_or(|name| !removed.contains(&name)));
    }
    let again = |name: &&str| added.iter().any(|passage| name_of(passage) == Some(*name));
    let gone: Vec<&str> = removed.iter().copied().filter(|name| !again(name)).collect();
    forget(&mut changed, &gone);
    if let Some(passages) = entry(&mut changed, "passage").and_then(list) {
        for passage in added {
            let name = name_of(passage);
            match passages.iter_mut().find(|p| name.is_some() && name_of(p) == name) {
                Some(old) => *old = passage.clone(),
                None => passages.push(passage.clone()),
            }
        }
    }
    for setting in layout.get("set").map_or(&[][..], Node::entries) {
        if let Err(fault) = set_node(&mut changed, &setting.key, setting.value.clone(), setting.key_place()) {
            faults.push(fault);
        }
    }
    forget_fans(&mut changed);
    forget_chambers(&mut changed);
    faults.unless_faulty(changed)
}

/// The document with some passages taken away, as a layout that removes them has it.
pub fn without(document: &Node, passages: &[&str]) -> Node {
    let mut changed = document.clone();
    remove(&mut changed, "layout");
    if let Some(list) = entry(&mut changed, "passage").and_then(list) {
        list.retain(|p| name_of(p).is_none_or(|name| !passages.contains(&name)));
    }
    forget(&mut changed, passages);
    forget_chambers(&mut changed);
    changed
}

pub(super) fn name_of(node: &Node) -> Option<&str> {
    node.get("name").and_then(Node::text)
}

pub(super) fn entry<'n>(node: &'n mut Node, key: &str) -> Option<&'n mut Node> {
    let Tree::Table(entries) = &mut node.tree else { return None };
    entries.iter_mut().find(|entry| entry.key == key).map(|entry| &mut entry.value)
}

fn remove(node: &mut Node, key: &str) {
    if let Tree::Table(entries) = &mut node.tree {
        entries.retain(|entry| entry.key != key);
    }
}

/// The members of a list; one alone becomes a list of one.
pub(super) fn list(node: &mut Node) -> Option<&mut Vec<Node>> {
    if matches!(node.tree, Tree::Table(_)) {
        let alone = node.clone();
        node.tree = Tree::List(vec![alone]);
    }
    match &mut node.tree {
        Tree::List(members) => Some(members),
        _ => None,
    }
}

/// Takes out what is said of passages that are taken away.
fn forget(document: &mut Node, gone: &[&str]) {
    let named = |name: Option<&str>| name.is_some_and(|name| gone.contains(&name));
    let strip = |table: Option<&mut Node>| {
        if let Some(Node { tree: Tree::Table(entries), .. }) = table {
            entries.retain(|entry| !gone.contains(&entry.key.as_str()));
        }
    };
    if let Some(size) = entry(document, "size") {
        for key in ["cut", "least_area", "most_area", "scale"] {
            strip(entry(size, key));
        }
        if let Some(Node { tree: Tree::List(free), .. }) = entry(size, "free") {
            let freed = |node: &Node| named(node.text().or(node.get("passage").and_then(Node::text)));
            let before = free.len();
            for group in free.iter_mut() {
                if let Tree::List(members) = &mut group.tree {
                    members.retain(|member| !freed(member));
                }
            }
            free.retain(|member| !freed(member) && !matches!(&member.tree, Tree::List(m) if m.is_empty()));
            // a layout in which nothing is left to size has no sizes
            if before > 0 && free.is_empty() {
                remove(document, "size");
            }
        }
    }
    for condition in entry(document, "condition").and_then(list).into_iter().flatten() {
        strip(entry(condition, "taped"));
        strip(entry(condition, "fans").filter(|fans| matches!(fans.tree, Tree::Table(_))));
    }
    for stint in entry(document, "stint").and_then(list).into_iter().flatten() {
        for step in entry(stint, "step").and_then(list).into_iter().flatten() {
            strip(entry(step, "fans").filter(|fans| matches!(fans.tree, Tree::Table(_))));
        }
    }
    for passage in entry(document, "passage").and_then(list).into_iter().flatten() {
        for element in entry(passage, "element").and_then(list).into_iter().flatten() {
            let Some(drawn) = entry(element, "recirculation") else { continue };
            let from_gone = |node: &Node| named(node.get("from").and_then(Node::text));
            let empty = match &mut drawn.tree {
                Tree::List(members) => {
                    members.retain(|member| !from_gone(member));
                    members.is_empty()
                }
                _ => from_gone(drawn),
            };
            if empty {
                remove(element, "recirculation");
            }
        }
    }
}

/// Takes out what fans are told that are not there.
fn forget_fans(document: &mut Node) {
    // what cannot be read as a passage without a fan is left to be told
    let is_without = |passage: &Node| {
        let elements = passage.get("element").map_or(&[][..], Node::members);
        let kinds = elements.iter().map(|element| element.get("kind").and_then(Node::text).and_then(kind));
        kinds.into_iter().all(|kind| kind.is_some_and(|kind| !kind.is_fan()))
    };
    let passages = document.get("passage").map_or(&[][..], Node::members);
    let without: Vec<String> =
        passages.iter().filter(|p| is_without(p)).filter_map(name_of).map(str::to_string).collect();
    let none_left = without.len() == passages.len();
    let strip = |told: &mut Node| {
        if none_left {
            remove(told, "fans");
        } else if let Some(Node { tree: Tree::Table(entries), .. }) = entry(told, "fans") {
            entries.retain(|entry| !without.contains(&entry.key));
        }
    };
    entry(document, "condition").and_then(list).into_iter().flatten().for_each(strip);
    for stint in entry(document, "stint").and_then(list).into_iter().flatten() {
        entry(stint, "step").and_then(list).into_iter().flatten().for_each(strip);
    }
}

/// Takes out the tables of chambers that no passage joins, nothing heats and no part stands in.
fn forget_chambers(document: &mut Node) {
    let Some(chambers) = document.get("chamber") else { return };
    let passages = document.get("passage").map_or(&[][..], Node::members);
    let joins = |name: &str| {
        passages
            .iter()
            .any(|p| ["from", "to"].iter().any(|key| p.get(key).and_then(Node::text) == Some(name)))
    };
    let heat = document.get("engine").and_then(|engine| engine.get("heat"));
    let heated = |name: &str| heat.is_some_and(|heat| heat.get(name).is_some());
    let parts = document.get("part").map_or(&[][..], Node::entries);
    let holds =
        |name: &str| parts.iter().any(|part| part.value.get("chamber").and_then(Node::text) == Some(name));
    let idle: Vec<String> = chambers.entries().iter().map(|entry| entry.key.clone()).collect();
    let idle: Vec<String> = idle.into_iter().filter(|n| !joins(n) && !heated(n) && !holds(n)).collect();
    if let Some(Node { tree: Tree::Table(entries), .. }) = entry(document, "chamber") {
        entries.retain(|entry| !idle.contains(&entry.key));
    }
}
