//! Tests as conditions of the case, or of its layouts.

use super::drives::condition_of;
use super::file::{Begun, File};
use super::runs::is_in_time;
use super::tables as r;
use super::taken::TestedCase;
use crate::case::document::{Node, TableEntry, Tree};
use crate::case::{Case, Diagnostics, FaultPlace, diagnostic, layouts, names};
use crate::keys::Values;
use crate::point::counted::Counted;

impl File<'_> {
    /// The cases with the tests among their conditions, and the tests so far as they are read then.
    pub(super) fn scenes<'n>(&mut self, document: &'n Node) -> (Vec<TestedCase>, Vec<Begun<'n>>) {
        let tests = document.get("test").map_or(&[][..], Node::members);
        let mut documents: Vec<(Option<String>, Node)> = Vec::new();
        let mut begun: Vec<Begun> = Vec::new();
        for (place, node) in tests.iter().enumerate() {
            let name = node.get("name").and_then(Node::text).unwrap_or_default();
            if let Some(other) =
                begun.iter().find(|known| known.node.get("name").and_then(Node::text) == Some(name))
                && !other.values.text(&r::NAME).unwrap_or_default().is_empty()
            {
                let at = node.get("name").map_or(node.place(), Node::place);
                names::twice(name, "another test has it", at, &mut self.faults);
            }
            let layout = node.get("layout").and_then(Node::text).map(str::to_string);
            let scene = match documents.iter().position(|(known, _)| *known == layout) {
                Some(scene) => scene,
                None => {
                    let changed = match &layout {
                        None => Ok(self.loaded.document.clone()),
                        Some(name) => layouts::layout(&self.loaded.document, name),
                    };
                    match changed {
                        Ok(changed) => documents.push((layout.clone(), changed)),
                        Err(_) => {
                            let known = self.loaded.case.layouts.iter().map(|known| known.name.as_str());
                            let known: Vec<&str> = known.collect();
                            let name = layout.unwrap_or_default();
                            let way_out = match diagnostic::did_you_mean(&name, known.iter().copied()) {
                                Some(meant) => format!("did you mean {meant}?"),
                                None if known.is_empty() => {
                                    "the case has no [[layout]]; leave it out, or write one".into()
                                }
                                None => format!("known: {}", known.join(", ")),
                            };
                            let at = node.get("layout").map_or(node.place(), Node::place);
                            self.fault("unknown-name", format!("no layout is called {name:?}"), at, &way_out);
                            continue;
                        }
                    }
                    documents.len() - 1
                }
            };
            let names = names::Names::collect(&documents[scene].1, &mut Diagnostics::new());
            let label = if name.is_empty() { format!("{}", place + 1) } else { name.to_string() };
            let values = self.reader(&names).table(node, r::TEST, &format!("test/{label}"), &[]);
            let bench = values.text(&r::ON) == Some("bench");
            let condition = condition_of(place);
            if is_in_time(&values) {
                let Some(nodes) = self.run(node, &values, &documents[scene].1, &condition) else { continue };
                let document = &mut documents[scene].1;
                nodes.conditions.into_iter().for_each(|added| add(document, "condition", added));
                add(document, "stint", nodes.stint);
            } else {
                self.steady_only(&values);
                let added = self.condition(node, &values, bench, &documents[scene].1, &condition);
                add(&mut documents[scene].1, "condition", added);
            }
            begun.push(Begun { node, values, bench, scene, condition, at: Counted::Condition(0) });
        }
        if tests.is_empty() {
            let way_out = "write [[test]] with a name, on = \"track\", a speed and gear, and what was read";
            self.fault(
                "tests-missing",
                "the readings file has no [[test]]".into(),
                FaultPlace::Whole,
                way_out,
            );
        }
        let wanted = documents.len();
        let mut scenes = Vec::new();
        for (layout, changed) in documents {
            let mut found = Diagnostics::new();
            let case = Case::read(&changed, &mut found);
            for mut fault in found {
                // the last first: the name of the first begins that of the tenth
                for test in begun.iter().rev() {
                    for section in ["condition", "stint"] {
                        let own = format!("{section}/{}", test.condition);
                        fault.message = fault.message.replace(&own, &test.values.address);
                    }
                }
                self.faults.push(fault);
            }
            if let Some(case) = case {
                scenes.push(TestedCase { layout, case });
            }
        }
        // where a scene cannot be read, that is the fault, and no test is looked at
        if scenes.len() < wanted {
            begun.clear();
        }
        for test in &mut begun {
            let case = &mut scenes[test.scene].case;
            if let Some(index) = case.condition(&test.condition) {
                test.at = self.moment(test, index, case);
            }
        }
        (scenes, begun)
    }

    /// What a test says, as a condition of the case.
    fn condition(&mut self, test: &Node, values: &Values, bench: bool, case: &Node, name: &str) -> Node {
        let known = case.get("condition").map_or(&[][..], Node::members);
        let base = values.text(&r::CONDITION).and_then(|wanted| {
            known.iter().find(|condition| condition.get("name").and_then(Node::text) == Some(wanted))
        });
        let mut entries: Vec<TableEntry> = base.map_or(Vec::new(), |base| base.entries().to_vec());
        let mut put = |key: &str, value: Node| {
            entries.retain(|entry| {
                entry.key != key
                    && !(matches!(key, "gear" | "rpm") && matches!(&entry.key[..], "gear" | "rpm"))
            });
            entries.push(TableEntry { key: key.to_string(), key_span: value.span.clone(), value });
        };
        for key in r::OF_CONDITIONS {
            if let Some(value) = test.get(key) {
                put(key, value.clone());
            }
        }
        let text =
            |text: &str| Node { span: test.span.clone(), set: None, tree: Tree::Text(text.to_string()) };
        put("name", text(name));
        let says = |entries: &[TableEntry], key: &str| entries.iter().any(|entry| entry.key == key);
        let stands = |key: &str, unit: &str, entries: &mut Vec<TableEntry>| {
            if bench && !says(entries, key) {
                entries.push(TableEntry { key: key.into(), key_span: test.span.clone(), value: text(unit) });
            }
        };
        stands("speed", "0 km/h", &mut entries);
        if !says(&entries, "gear") {
            stands("rpm", "0 rpm", &mut entries);
        }
        if !says(&entries, "speed") {
            entries.push(TableEntry {
                key: "speed".into(),
                key_span: test.span.clone(),
                value: text("0 km/h"),
            });
            let way_out = "write speed and gear, or condition = \"…\" for one of the case; a car that stands has speed = \"0 km/h\"";
            self.fault("speed-missing", format!("{} says no speed", values.address), test.place(), way_out);
        }
        let runs = says(&entries, "gear")
            || entries.iter().any(|entry| {
                entry.key == "rpm" && !entry.value.text().is_some_and(|text| text.trim().starts_with('0'))
            });
        if runs && base.is_none() && !says(&entries, "load") {
            let way_out = "write load = \"34 % ± 8 %\": the share of full-throttle power at that engine speed, which is not pedal travel";
            self.fault(
                "load-missing",
                format!("{} does not say how hard the engine worked", values.address),
                test.place(),
                way_out,
            );
        }
        Node { span: test.span.clone(), set: None, tree: Tree::Table(entries) }
    }
}

/// Adds a condition, or a stint, to a document.
fn add(document: &mut Node, section: &str, added: Node) {
    let Tree::Table(entries) = &mut document.tree else { return };
    match entries.iter_mut().find(|entry| entry.key == section) {
        Some(entry) => match &mut entry.value.tree {
            Tree::List(members) => members.push(added),
            _ => {
                let first = entry.value.clone();
                entry.value.tree = Tree::List(vec![first, added]);
            }
        },
        None => entries.push(TableEntry {
            key: section.into(),
            key_span: 0..0,
            value: Node { span: 0..0, set: None, tree: Tree::List(vec![added]) },
        }),
    }
}
