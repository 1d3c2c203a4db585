//! What grows and shrinks with a free opening, and the sweep among the conditions that count.

use super::Checking;
use crate::case::diagnostic::did_you_mean;
use crate::case::{PassageTable, tables as t};
use crate::element::{Role, size};
use crate::keys::{Slot, SourceLocation, Values};

impl Checking<'_> {
    pub(super) fn scales(&mut self, size: &Values) {
        let Slot::Lists(lists) = size.slot(&t::SCALE) else { return };
        for (name, words) in lists {
            let Some(index) = self.case.passage(name) else { continue };
            let passage = &self.case.passages[index];
            if !passage.whole {
                continue;
            }
            let free = freed(size, name, passage);
            if free.is_empty() && self.sound(size, &t::FREE) {
                self.fault(
                    "scale-without-opening",
                    format!("{name:?} has no opening that may change, so that nothing can go with it"),
                    size.place_of(&t::SCALE),
                    format!("name {name:?} behind free too, or take it out of scale"),
                );
                continue;
            }
            let mut seen = Vec::new();
            for (word, place) in words {
                self.scaled(name, passage, &free, (word, place), &mut seen);
            }
        }
    }

    /// An element that has an area of its own, is no opening itself, and stands there once.
    fn scaled(
        &mut self,
        name: &str,
        passage: &PassageTable,
        free: &[usize],
        (word, place): (&str, &SourceLocation),
        seen: &mut Vec<usize>,
    ) {
        let Some(found) = passage.element(word) else {
            let segments = (0..passage.elements.len()).map(|i| passage.segment(i));
            let way_out = match did_you_mean(word, segments.clone()) {
                Some(meant) => format!("did you mean {meant}?"),
                None => format!("its elements: {}", segments.collect::<Vec<_>>().join(", ")),
            };
            let message = format!("{name:?} has no element {word:?}");
            return self.fault("unknown-name", message, place.clone(), way_out);
        };
        let values = &passage.elements[found];
        let kind = passage.kind(found);
        if seen.contains(&found) {
            let message = format!("{word:?} of {name:?} stands in scale twice");
            self.fault("name-used-twice", message, place.clone(), "take one of them out");
        } else if free.contains(&found) {
            let message = format!("{word:?} of {name:?} is the free opening itself");
            self.fault(
                "scale-of-opening",
                message,
                place.clone(),
                "name the elements that should go with it",
            );
        } else if kind.is_some_and(|kind| matches!(kind.role, Role::Inlet | Role::Exit)) {
            self.fault(
                "scale-of-opening",
                format!("{word:?} of {name:?} is an opening of its own"),
                place.clone(),
                format!(
                    r#"free it as {{ passage = "{name}", element = "{word}" }}; an inner list keeps areas equal"#
                ),
            );
        } else if kind.is_some_and(|kind| kind.is_measured()) {
            self.fault(
                "scale-of-figures",
                format!("{word:?} of {name:?} holds figures that were found at its size: it cannot grow or shrink with an opening"),
                place.clone(),
                "take it out of scale; a change of area before or behind it is reckoned",
            );
        } else if !has_area(values) {
            self.fault(
                "scale-without-area",
                format!("{word:?} of {name:?} has no area of its own"),
                place.clone(),
                "take it out of scale: what has no area follows its neighbours; or give it one",
            );
        }
        seen.push(found);
    }

    /// The sweep counts: it must be known, and not be a condition's name.
    pub(super) fn sweep_among_conditions(&mut self, size: &Values) {
        let place = size.place_of(&t::AT);
        if self.case.condition(t::SWEEP_WORD).is_some() {
            self.fault(
                "name-reserved",
                "behind at, sweep stands for every point of the sweep, and a condition is called so too"
                    .to_string(),
                place.clone(),
                "call the condition by another name",
            );
        }
        if self.case.drive.is_none() {
            self.fault(
                "drive-missing",
                "the margins should be reached at every point of the sweep, and the case has no [drive]"
                    .to_string(),
                place,
                "write [drive] with tyre_radius, final_drive and gears, or take sweep out of at",
            );
        }
    }
}

/// The elements of a passage that are free.
fn freed(size: &Values, name: &str, passage: &PassageTable) -> Vec<usize> {
    let Slot::Groups(groups) = size.slot(&t::FREE) else { return Vec::new() };
    let members = groups.iter().flatten().filter(|(free, _)| free == name);
    members
        .filter_map(|(_, element)| match element {
            Some(segment) => passage.element(segment),
            None => passage.opening(),
        })
        .collect()
}

/// Whether an element says an area that could be scaled.
fn has_area(values: &Values) -> bool {
    size::SCALED.iter().any(|(key, _)| values.id(key).is_some())
}
