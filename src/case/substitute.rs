//! One table of a case put in the place of the same table of another.

use super::document::{Node, TableEntry, Tree};
use super::layouts::{entry, list, name_of};

/// A document with one table taken from another: a section (`engine`), or one of its named tables
/// (`place/tail left`, `passage/oil cooler`). What the other does not have is taken out.
pub fn substitute(document: &Node, other: &Node, table: &str) -> Node {
    let mut changed = document.clone();
    let Some((section, name)) = table.split_once('/') else {
        put(&mut changed, table, other.get(table).cloned());
        return changed;
    };
    if changed.get(section).is_none() {
        let empty = Node { tree: Tree::List(Vec::new()), ..Node::empty_table() };
        let named = other.get(section).is_some_and(|node| name_of(node).is_none() && is_named(node));
        put(&mut changed, section, Some(if named { Node::empty_table() } else { empty }));
    }
    let is_list = changed
        .get(section)
        .is_some_and(|node| matches!(node.tree, Tree::List(_)) || name_of(node).is_some());
    let Some(inside) = entry(&mut changed, section) else { return changed };
    if !is_list {
        put(inside, name, other.get(section).and_then(|node| node.get(name)).cloned());
        return changed;
    }
    let new = other.get(section).map_or(&[][..], Node::members).iter().find(|m| name_of(m) == Some(name));
    if let Some(members) = list(inside) {
        match (members.iter().position(|member| name_of(member) == Some(name)), new) {
            (Some(at), Some(new)) => members[at] = new.clone(),
            (Some(at), None) => {
                members.remove(at);
            }
            (None, Some(new)) => members.push(new.clone()),
            (None, None) => {}
        }
    }
    changed
}

/// Whether a node holds tables under their names.
fn is_named(node: &Node) -> bool {
    matches!(node.tree, Tree::Table(_))
}

fn put(node: &mut Node, key: &str, value: Option<Node>) {
    let Tree::Table(entries) = &mut node.tree else { return };
    match (entries.iter().position(|entry| entry.key == key), value) {
        (Some(at), Some(value)) => entries[at].value = value,
        (Some(at), None) => {
            entries.remove(at);
        }
        (None, Some(value)) => entries.push(TableEntry { key: key.to_string(), key_span: 0..0, value }),
        (None, None) => {}
    }
}
