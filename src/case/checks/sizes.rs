//! What may be sized, and between which bounds.

use super::Checking;
use crate::case::diagnostic::did_you_mean;
use crate::case::{PassageTable, tables as t};
use crate::element::Role;
use crate::keys::figures::in_a_row;
use crate::keys::{Key, Kind, NumberId, Slot, Values};

/// A free opening: the passage and the element.
type FreeOpening = (usize, usize);

impl Checking<'_> {
    pub(super) fn sizes(&mut self) {
        let case = self.case;
        let Some(size) = &case.size else { return };
        if let Slot::Groups(groups) = size.slot(&t::FREE) {
            let nothing = groups.is_empty() || groups.iter().any(Vec::is_empty);
            if nothing && self.sound(size, &t::FREE) {
                self.fault(
                    "free-empty",
                    "size/free holds nothing that may change".to_string(),
                    size.place_of(&t::FREE),
                    r#"name the passages whose openings may change, as in free = ["oil cooler", "left exit"]"#,
                );
            }
            let mut seen: Vec<FreeOpening> = Vec::new();
            for group in groups {
                for (name, element) in group {
                    self.free(size, name, element.as_deref(), &mut seen);
                }
                let names: Vec<&str> = group.iter().map(|(name, _)| name.as_str()).collect();
                self.bounds(size, &names);
            }
        }
        self.scales(size);
        self.objective(size);
        let names = match size.slot(&t::AT) {
            Slot::Names(names) => Some(names),
            _ => None,
        };
        let sweep = names.is_some_and(|names| names.iter().any(|name| name == t::SWEEP_WORD));
        if sweep {
            self.sweep_among_conditions(size);
        }
        let none_named = names.is_some_and(Vec::is_empty);
        if (case.conditions.is_empty() && !sweep) || none_named {
            self.fault(
                "conditions-missing",
                "the sizes have no condition to be reached at".to_string(),
                size.place_of(&t::AT),
                "write a [[condition]], and name those that count behind at; left out: all",
            );
        }
    }

    /// An opening that is there, and free once.
    fn free(&mut self, size: &Values, name: &str, element: Option<&str>, seen: &mut Vec<FreeOpening>) {
        let case = self.case;
        let Some(index) = case.passage(name) else { return };
        let passage = &case.passages[index];
        if !passage.whole {
            return;
        }
        let place = size.place_of(&t::FREE);
        let opening = match element {
            Some(segment) => match passage.element(segment) {
                Some(found) if is_opening(passage, found) => found,
                Some(_) => {
                    return self.fault(
                        "not-an-opening",
                        format!(
                            "{name:?} has an element {segment:?}, but it is neither an inlet nor an exit"
                        ),
                        place,
                        openings_of(passage),
                    );
                }
                None => {
                    let segments = (0..passage.elements.len()).map(|i| passage.segment(i));
                    let way_out = match did_you_mean(segment, segments) {
                        Some(meant) => format!("did you mean {meant}?"),
                        None => openings_of(passage),
                    };
                    let message = format!("{name:?} has no element {segment:?}");
                    return self.fault("unknown-name", message, place, way_out);
                }
            },
            None => match passage.opening() {
                Some(found) => found,
                None => {
                    return self.fault(
                        "nothing-to-size",
                        format!("{name:?} has neither an inlet nor an exit that could change"),
                        place,
                        "name the passage whose opening it is",
                    );
                }
            },
        };
        if seen.contains(&(index, opening)) {
            self.fault(
                "free-twice",
                format!("{} of {name:?} is free twice", passage.segment(opening)),
                place,
                "name it once, in one group",
            );
        } else {
            seen.push((index, opening));
        }
        if passage.to == "engine" && !size.written(&t::MOST_CARBURETTOR_LOSS) {
            self.fault(
                "carburettor-unbounded",
                format!("{name:?} feeds the engine and may change: the smallest opening would throttle it"),
                size.place_of(&t::FREE),
                r#"give most_carburettor_loss = "500 Pa", or take the passage out of free"#,
            );
        }
    }

    /// Least, most and cut areas of openings that keep equal areas leave something between them.
    fn bounds(&mut self, size: &Values, names: &[&str]) {
        let keys = [&t::LEAST_AREA, &t::CUT, &t::MOST_AREA];
        if !keys.iter().all(|key| self.sound(size, key)) {
            return;
        }
        let case = self.case;
        let bound =
            |key: &'static Key, name: &str| bound(size, key, name).map(|id| (id, case.numbers.value(id)));
        let low = names
            .iter()
            .flat_map(|name| [&t::LEAST_AREA, &t::CUT].map(|key| bound(key, name).map(|b| (key, b))))
            .flatten()
            .reduce(|best, other| if other.1.1 > best.1.1 { other } else { best });
        let high = names
            .iter()
            .filter_map(|name| bound(&t::MOST_AREA, name))
            .reduce(|best, other| if other.1 < best.1 { other } else { best });
        let (Some((key, (id, least))), Some((_, most))) = (low, high) else { return };
        if least > most {
            let quoted: Vec<String> = names.iter().map(|name| format!("{name:?}")).collect();
            let quoted: Vec<&str> = quoted.iter().map(String::as_str).collect();
            let cut = key.name == t::CUT.name;
            let code = if cut { "cut-above-most" } else { "least-above-most" };
            let word = if cut { "already cut to" } else { "at least" };
            let show = |area: f64| Kind::Area.show(area);
            let message =
                format!("{}: {word} {}, and at most {}", in_a_row(&quoted), show(least), show(most));
            let place = self.place_of_number(id, size, key);
            self.fault(code, message, place, "raise most_area, or check the units");
        }
    }

    fn objective(&mut self, size: &Values) {
        if size.text(&t::SMALLEST) == Some("drag") && !size.written(&t::DRAG_AT) {
            self.fault(
                "drag-at-missing",
                "the drag is to be made smallest, and drag_at does not say in which condition".to_string(),
                size.place_of(&t::SMALLEST),
                r#"give drag_at = "straight""#,
            );
        }
    }
}

/// The number that bounds the openings of a passage.
fn bound(size: &Values, key: &Key, name: &str) -> Option<NumberId> {
    if let Some(id) = size.id(key) {
        return Some(id);
    }
    let map = size.map(key);
    let find = |name: &str| map.iter().find(|(named, _)| named == name).map(|(_, id)| *id);
    find(name).or_else(|| find("other"))
}

fn is_opening(passage: &PassageTable, element: usize) -> bool {
    passage.kind(element).is_some_and(|kind| matches!(kind.role, Role::Inlet | Role::Exit))
}

/// The openings that a passage has, as a way out.
fn openings_of(passage: &PassageTable) -> String {
    let openings = (0..passage.elements.len()).filter(|i| is_opening(passage, *i));
    let names: Vec<&str> = openings.map(|i| passage.segment(i)).collect();
    if names.is_empty() {
        "name a passage with an inlet or an exit".to_string()
    } else {
        format!("its openings: {}", names.join(", "))
    }
}
