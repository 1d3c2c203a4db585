//! What a builder may ask about: a part, a passage, an opening or another element.

use crate::case::Case;
use crate::case::diagnostic::did_you_mean;
use crate::element::Role;
use crate::point::opening::element_named;
use crate::study::why::result::WhyIs;

/// What is asked about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum WhyTarget {
    Part(usize),
    Passage(usize),
    /// An element of a passage.
    Element(usize, usize),
}

impl WhyTarget {
    /// Everything that goes by a name or an address.
    pub fn all(case: &Case, name: &str) -> Vec<WhyTarget> {
        let mut found = Vec::new();
        let name = name.trim();
        let (parts, passages) = match name.split_once('/') {
            Some(("part", rest)) => (Some(rest), None),
            Some(("passage", rest)) => (None, Some(rest)),
            _ => (Some(name), Some(name)),
        };
        found.extend(parts.and_then(|name| case.part(name)).map(WhyTarget::Part));
        if let Some(name) = passages {
            found.extend(case.passage(name).map(WhyTarget::Passage));
            if let Some((passage, element)) = name.split_once('/')
                && let Some(index) = case.passage(passage)
            {
                let element = element_named(&case.passages[index], element);
                found.extend(element.map(|element| WhyTarget::Element(index, element)));
            }
        }
        found
    }

    pub fn address(self, case: &Case) -> String {
        match self {
            WhyTarget::Part(part) => format!("part/{}", case.parts[part].name),
            WhyTarget::Passage(passage) => case.passages[passage].values.address.clone(),
            WhyTarget::Element(passage, element) => case.passages[passage].elements[element].address.clone(),
        }
    }

    /// What it is, in a word.
    pub fn word(self, case: &Case) -> WhyIs {
        match self {
            WhyTarget::Part(_) => WhyIs::Part,
            WhyTarget::Passage(_) => WhyIs::Passage,
            WhyTarget::Element(passage, element) => {
                match case.passages[passage].kind(element).map(|kind| kind.role) {
                    Some(Role::Inlet | Role::Exit | Role::Leak) => WhyIs::Opening,
                    _ => WhyIs::Element,
                }
            }
        }
    }

    pub fn passage(self) -> Option<usize> {
        match self {
            WhyTarget::Part(_) => None,
            WhyTarget::Passage(passage) | WhyTarget::Element(passage, _) => Some(passage),
        }
    }
}

/// What to write instead of a name that nothing goes by.
pub(super) fn way_out(case: &Case, name: &str) -> String {
    let parts = case.parts.iter().map(|part| part.name.clone());
    let passages = case.passages.iter().map(|passage| passage.name.clone());
    let mut known: Vec<String> = parts.chain(passages).collect();
    known.dedup();
    let elements = case.passages.iter().flat_map(|passage| {
        (0..passage.elements.len()).map(|element| format!("{}/{}", passage.name, passage.segment(element)))
    });
    let all: Vec<String> = known.iter().cloned().chain(elements).collect();
    match did_you_mean(name, all.iter().map(String::as_str)) {
        Some(meant) => format!("did you mean {meant:?}?"),
        None => format!("known: {}; or PASSAGE/ELEMENT", known.join(", ")),
    }
}
