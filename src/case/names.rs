//! Everything in a case that has a name.

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace};
use super::document::{Node, TableEntry};
use super::tables::{PASSAGE, SWEEP_WORD as SWEEP};
use crate::keys::ReferenceTarget;

/// The names of a case, each list in the order of the file.
#[derive(Clone, Debug, Default)]
pub struct Names {
    pub parts: Vec<String>,
    /// Chambers, those that come to be by being named included.
    pub chambers: Vec<String>,
    /// Places on the body.
    pub places: Vec<String>,
    pub passages: Vec<String>,
    pub conditions: Vec<String>,
}

impl Names {
    /// Collects the names of a document and faults those used twice, empty, or with a `/`.
    pub fn collect(document: &Node, faults: &mut Diagnostics) -> Names {
        let mut names = Names::default();
        for (section, list) in [("part", &mut names.parts), ("place", &mut names.places)] {
            for entry in document.get(section).map_or(&[][..], Node::entries) {
                check(&entry.key, section, entry.key_place(), faults);
                list.push(entry.key.clone());
            }
        }
        let mut found: Vec<(usize, String)> = Vec::new();
        for entry in document.get("chamber").map_or(&[][..], Node::entries) {
            check(&entry.key, "chamber", entry.key_place(), faults);
            if names.parts.contains(&entry.key) {
                let why = "parts and chambers share one list of names";
                twice(&entry.key, why, entry.key_place(), faults);
            }
            found.push((entry.position(), entry.key.clone()));
        }
        for (section, list) in [("passage", &mut names.passages), ("condition", &mut names.conditions)] {
            for member in document.get(section).map_or(&[][..], Node::members) {
                let Some(node) = member.get("name") else { continue };
                let Some(name) = node.text() else { continue };
                check(name, section, node.place(), faults);
                if list.iter().any(|known| known == name) {
                    twice(name, &format!("another {section} has it"), node.place(), faults);
                } else {
                    list.push(name.to_string());
                }
            }
        }
        for section in ["stint", "layout"] {
            let mut known: Vec<&str> = Vec::new();
            for member in document.get(section).map_or(&[][..], Node::members) {
                let Some(node) = member.get("name") else { continue };
                let Some(name) = node.text() else { continue };
                check(name, section, node.place(), faults);
                if known.contains(&name) {
                    twice(name, &format!("another {section} has it"), node.place(), faults);
                }
                known.push(name);
            }
        }
        for passage in document.get("passage").map_or(&[][..], Node::members) {
            for (key, word) in [("from", "outside"), ("to", "engine")] {
                let Some(node) = passage.get(key) else { continue };
                let Some(name) = node.text() else { continue };
                if name == "outside" || name == word {
                    continue;
                }
                check(name, "chamber", node.place(), faults);
                if names.parts.iter().any(|known| known == name) {
                    twice(
                        name,
                        "a part has it; parts and chambers share one list of names",
                        node.place(),
                        faults,
                    );
                }
                found.push((node.position(), name.to_string()));
            }
        }
        // heat and parts name chambers without making them: they count for which is named first
        let known = |name: &str| found.iter().any(|(_, chamber)| chamber == name);
        let mentioned: Vec<_> = mentions(document).into_iter().filter(|(_, name)| known(name)).collect();
        found.extend(mentioned);
        found.sort_by_key(|(start, _)| *start);
        for (_, name) in found {
            if !names.chambers.contains(&name) {
                names.chambers.push(name);
            }
        }
        names
    }

    /// Whether a name is known as a thing.
    pub fn knows(&self, name: &str, thing: ReferenceTarget) -> bool {
        let has = |list: &[String]| list.iter().any(|known| known == name);
        match thing {
            ReferenceTarget::PartOrChamber => has(&self.parts) || has(&self.chambers),
            ReferenceTarget::Part => has(&self.parts),
            ReferenceTarget::ChamberOrOutside => name == "outside" || has(&self.chambers),
            ReferenceTarget::Place => has(&self.places),
            ReferenceTarget::Passage => has(&self.passages),
            ReferenceTarget::PassageOrOther => name == "other" || has(&self.passages),
            ReferenceTarget::Condition => has(&self.conditions),
            ReferenceTarget::Address => true,
            ReferenceTarget::ConditionOrSweep => name == SWEEP || has(&self.conditions),
        }
    }

    /// All names of a thing.
    pub fn of(&self, thing: ReferenceTarget) -> Vec<String> {
        let mut list = match thing {
            ReferenceTarget::PartOrChamber => [&self.parts[..], &self.chambers[..]].concat(),
            ReferenceTarget::Part => self.parts.clone(),
            ReferenceTarget::ChamberOrOutside => self.chambers.clone(),
            ReferenceTarget::Place => self.places.clone(),
            ReferenceTarget::Passage | ReferenceTarget::PassageOrOther => self.passages.clone(),
            ReferenceTarget::Condition | ReferenceTarget::ConditionOrSweep => self.conditions.clone(),
            ReferenceTarget::Address => Vec::new(),
        };
        match thing {
            ReferenceTarget::ChamberOrOutside => list.push("outside".to_string()),
            ReferenceTarget::PassageOrOther => list.push("other".to_string()),
            ReferenceTarget::ConditionOrSweep => list.push(SWEEP.to_string()),
            _ => {}
        }
        list
    }

    /// What a thing is called, and how it comes to be.
    pub fn in_words(thing: ReferenceTarget) -> (&'static str, &'static str) {
        match thing {
            ReferenceTarget::PartOrChamber => {
                ("part or chamber", "write a table [part.NAME] for it, or a passage to it")
            }
            ReferenceTarget::Part => ("part", "write a table [part.NAME] for it"),
            ReferenceTarget::ChamberOrOutside => ("chamber", "write a passage from or to it"),
            ReferenceTarget::Place => ("place", "write a table [place.NAME] for it"),
            ReferenceTarget::Passage | ReferenceTarget::PassageOrOther => {
                ("passage", "write a [[passage]] with that name")
            }
            ReferenceTarget::Address => {
                ("number", "name it by its address, as in \"place/tail left/pressure_coefficient\"")
            }
            ReferenceTarget::Condition | ReferenceTarget::ConditionOrSweep => {
                ("condition", "write a [[condition]] with that name")
            }
        }
    }
}

/// Where `[engine.heat]` and the parts name something that may be a chamber.
fn mentions(document: &Node) -> Vec<(usize, String)> {
    let heat = document.get("engine").and_then(|engine| engine.get("heat"));
    let heated = heat.map_or(&[][..], Node::entries).iter();
    // a what-if changes the share, not where its chamber is named
    let position = |entry: &TableEntry| {
        if entry.key_span.is_empty() { entry.position() } else { entry.key_span.start }
    };
    let mut found: Vec<_> = heated.map(|entry| (position(entry), entry.key.clone())).collect();
    for part in document.get("part").map_or(&[][..], Node::entries) {
        let Some(node) = part.value.get("chamber") else { continue };
        found.extend(node.text().map(|name| (node.position(), name.to_string())));
    }
    found
}

/// Faults a name that no address can hold, or that means something else.
pub(super) fn check(name: &str, section: &str, place: FaultPlace, faults: &mut Diagnostics) {
    let reserved = |word: &str| match section {
        "chamber" => word == "outside" || word == "engine",
        "passage" => word == "other",
        "element" => PASSAGE.iter().any(|key| key.name == word),
        _ => false,
    };
    if name.contains('/') {
        faults.push(Diagnostic::new(
            "name-with-slash",
            format!("the name {name:?} holds a /, which separates addresses"),
            place,
            "use a dash or a space instead",
        ));
    } else if name.trim().is_empty() {
        faults.push(Diagnostic::new(
            "name-empty",
            format!("{} has an empty name", with_article(section)),
            place,
            "give it a name",
        ));
    } else if name.trim() != name {
        faults.push(Diagnostic::new(
            "name-with-space-around",
            format!("the name {name:?} begins or ends with a space"),
            place,
            "take the space out; without it the name may be meant to be another's",
        ));
    } else if reserved(name) {
        let way_out = match section {
            "chamber" => {
                "air enters a passage from outside or a chamber, and leaves to a chamber, outside or the engine"
            }
            "passage" => {
                "call it by what it does; `other` stands for all passages that a table does not name"
            }
            _ => "call it by what it is; this word is a key of the passage",
        };
        let message = format!("{name:?} cannot be the name of {} here", with_article(section));
        faults.push(Diagnostic::new("name-reserved", message, place, way_out));
    } else if section == "chamber" {
        // outside with a slip of the pen would be a chamber without a way out
        let written = name.to_lowercase();
        let near = |word: &&str| strsim::damerau_levenshtein(&written, word) <= 1;
        if let Some(word) = ["outside", "engine"].into_iter().find(near) {
            faults.push(Diagnostic::new(
                "name-reserved",
                format!("the chamber's name {name:?} reads like {word}"),
                place,
                format!("write {word} if that is meant, else choose another name"),
            ));
        }
    }
}

fn with_article(section: &str) -> String {
    let article = if section.starts_with('e') { "an" } else { "a" };
    format!("{article} {section}")
}

pub(crate) fn twice(name: &str, why: &str, place: FaultPlace, faults: &mut Diagnostics) {
    faults.push(Diagnostic::new(
        "name-used-twice",
        format!("the name {name:?} is used twice: {why}"),
        place,
        "rename one of them",
    ));
}
