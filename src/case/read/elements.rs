//! Reads the elements of a passage: each by the table of keys of its kind.

use super::CaseReader;
use crate::case::diagnostic::did_you_mean;
use crate::case::document::{Node, Tree};
use crate::case::names;
use crate::element;
use crate::keys::Values;

impl CaseReader<'_> {
    /// Reads a passage's chain of elements. The address is that of the passage.
    pub fn elements(&mut self, node: &Node, address: &str) -> Vec<Values> {
        let base = address.strip_suffix("/element").unwrap_or(address);
        let members = match &node.tree {
            Tree::List(members) => &members[..],
            Tree::Table(_) => std::slice::from_ref(node),
            _ => {
                let message = format!("element is {}; a list of tables is wanted", node.in_words());
                self.fault(
                    "list-wanted",
                    message,
                    node.place(),
                    r#"write element = [ { kind = "duct", … }, … ]"#,
                );
                return Vec::new();
            }
        };
        let segments = element_segments(members);
        for (index, (member, segment)) in members.iter().zip(&segments).enumerate() {
            let Some(name) = member.get("name") else { continue };
            let Some(text) = name.text() else { continue };
            names::check(text, "element", name.place(), self.faults);
            let again = segments.iter().enumerate().any(|(other, s)| other != index && s == segment);
            if again || segment != text {
                names::twice(text, "another element of the passage goes by it", name.place(), self.faults);
            }
        }
        let mut elements = Vec::new();
        for (member, segment) in members.iter().zip(segments) {
            let Some(word) = member.get("kind").and_then(Node::text) else {
                let message = format!("an element of {base} does not say its kind");
                let kinds: Vec<&str> = element::KINDS.iter().map(|kind| kind.name).collect();
                self.fault(
                    "kind-missing",
                    message,
                    member.place(),
                    format!("give kind, one of: {}", kinds.join(", ")),
                );
                continue;
            };
            let place = member.get("kind").map_or(member.place(), Node::place);
            let Some(kind) = element::kind(word) else {
                let names = || element::KINDS.iter().map(|kind| kind.name);
                let tried = element::KINDS.iter().find(|kind| kind.is_also(word));
                let way_out = match tried.map(|kind| kind.name).or_else(|| did_you_mean(word, names())) {
                    Some(meant) => format!("did you mean {meant}?"),
                    None => format!("possible: {}", names().collect::<Vec<_>>().join(", ")),
                };
                self.fault("unknown-kind", format!("no kind of element is called {word:?}"), place, way_out);
                continue;
            };
            elements.push(self.table(member, kind.keys, &format!("{base}/{segment}"), &[]));
        }
        elements
    }
}

/// The address segment of each element: its name, else its kind, numbered from the second on.
pub fn element_segments(members: &[Node]) -> Vec<String> {
    let mut segments: Vec<String> = Vec::new();
    for member in members {
        let word = |key: &str| member.get(key).and_then(Node::text);
        let base = word("name").or(word("kind")).unwrap_or("element").to_string();
        let same = members[..segments.len()]
            .iter()
            .filter(|m| {
                m.get("name").and_then(Node::text).or(m.get("kind").and_then(Node::text)) == Some(&base)
            })
            .count();
        segments.push(if same == 0 { base } else { format!("{base} {}", same + 1) });
    }
    segments
}
