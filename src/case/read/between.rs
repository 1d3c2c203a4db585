//! Holds the keys of a table against the rules between them.

use super::CaseReader;
use crate::case::FaultPlace;
use crate::case::document::{Node, TableEntry};
use crate::keys::broken::{BrokenRule, GivenKeys};
use crate::keys::{Key, SourceLocation, Values};

impl CaseReader<'_> {
    /// Faults the rules that a table breaks, its values being read.
    pub(super) fn hold_to_rules(&mut self, node: &Node, values: &Values, unreadable: &[&str]) {
        let keys = values.keys;
        let known = |name: &str| keys.iter().find(|key| key.name == name);
        let mut entries: Vec<&TableEntry> = node.entries().iter().collect();
        entries.sort_by_key(|entry| entry.position());
        let named = entries.iter().filter_map(|entry| known(&entry.key)).map(|key| key.name);
        let read = named.filter(|name| !unreadable.contains(name)).collect();
        let mut there: Vec<&Key> =
            keys.iter().filter(|key| values.written(key) || node.get(key.name).is_some()).collect();
        there.sort_by_key(|key| match values.place_of(key) {
            SourceLocation::File(span) => Some(span.start),
            SourceLocation::Override { .. } => None,
        });
        let there = there.iter().map(|key| key.name).collect();
        for broken in (GivenKeys { keys, address: &values.address, read, there }).broken() {
            let place = place(node, values, &broken, known);
            self.fault(broken.code, broken.message, place, broken.way_out);
        }
    }
}

/// At its key; what is told at the table, where an override asks for it: at the override.
fn place<'k>(
    node: &Node,
    values: &Values,
    broken: &BrokenRule,
    known: impl Fn(&str) -> Option<&'k Key>,
) -> FaultPlace {
    if let Some(key) = broken.at.and_then(&known) {
        return values.place_of(key).into();
    }
    let given = broken.given.iter().filter_map(|name| known(name)).map(|key| values.place_of(key));
    let set = given.into_iter().find(|place| matches!(place, SourceLocation::Override { .. }));
    set.map_or_else(|| node.place(), FaultPlace::from)
}
