//! The case file: a document read by walking the tables of keys into a validated case.

pub mod checks;
pub mod diagnostic;
pub mod document;
pub mod fitted;
pub mod instruments;
pub mod layouts;
pub mod limits;
pub mod names;
pub mod overrides;
pub mod read;
pub mod render;
pub mod schema;
mod sections;
pub mod substitute;
pub mod syntax;
mod syntax_line;
pub mod tables;
pub mod ties;
pub mod words;

pub use diagnostic::{Diagnostic, Diagnostics, FaultPlace};
pub use layouts::without;
pub use names::Names;

use crate::element::{self, ElementKind};
use crate::keys::{Numbers, Values, View};
use document::Node;
use read::CaseReader;
use sections::{absent, list, named, one, read_body, read_passages, read_top, take_defaults_by_cooling};
use tables as t;

/// A warning: it never stops a run and travels with the result.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Warning {
    /// A code in words.
    pub code: &'static str,
    /// What was seen, with the number that shows it, and what to do about it.
    pub message: String,
    /// The address it belongs to.
    #[serde(rename = "where")]
    pub place: Option<String>,
}

/// A passage as written.
#[derive(Clone, Debug)]
pub struct PassageTable {
    pub name: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// Its own keys.
    pub values: Values,
    pub elements: Vec<Values>,
    /// Whether all that is written was read as elements; an unknown kind is left out of them.
    pub whole: bool,
    /// Area of its inlets, untaped, all pieces (m²), as the case was read: seams that are a share of the inlets stay
    /// what they are where openings change.
    pub inlets_as_drawn: f64,
}

impl PassageTable {
    /// The kind of an element.
    pub fn kind(&self, element: usize) -> Option<&'static ElementKind> {
        self.elements[element].text(&element::size::KIND).and_then(element::kind)
    }

    /// The index of the element of a role that comes first.
    pub fn first_of(&self, role: element::Role) -> Option<usize> {
        (0..self.elements.len()).find(|i| self.kind(*i).is_some_and(|kind| kind.role == role))
    }

    /// The element behind a segment of an address: `core`, `bend 2`.
    pub fn element(&self, segment: &str) -> Option<usize> {
        (0..self.elements.len())
            .find(|i| self.segment(*i) == segment || format!("{} 1", self.segment(*i)) == segment)
    }

    /// The segment by which addresses know an element.
    pub fn segment(&self, element: usize) -> &str {
        let address = &self.elements[element].address;
        address.strip_prefix(&format!("{}/", self.values.address)).unwrap_or(address)
    }

    /// Whether it brings outside air into a chamber before that air has cooled anything: what leaks there is lost to the parts.
    pub fn fills_a_space(&self) -> bool {
        let cools = |values: &Values| values.text(&element::fins::PART).is_some();
        self.from == "outside"
            && !matches!(self.to.as_str(), "outside" | "engine")
            && !self.elements.iter().any(cools)
    }

    /// The opening that sizes and tape refer to: the first inlet, else the exit.
    pub fn opening(&self) -> Option<usize> {
        self.first_of(element::Role::Inlet).or_else(|| self.first_of(element::Role::Exit))
    }
}

/// A table that has a name.
#[derive(Clone, Debug)]
pub struct Named {
    pub name: String,
    /// What it says.
    pub values: Values,
}

/// A case file that was read and found to be sound.
#[derive(Clone, Debug)]
pub struct Case {
    /// Every number by its address.
    pub numbers: Numbers,
    /// Everything that has a name.
    pub names: Names,
    /// Title, revision, date, author, remarks.
    pub top: Values,
    /// `[day]`.
    pub day: Values,
    /// `[drive]`.
    pub drive: Option<Values>,
    /// `[engine]`.
    pub engine: Values,
    /// `[part.…]`.
    pub parts: Vec<Named>,
    /// Chambers, in the order in which the file names them.
    pub chambers: Vec<Named>,
    /// `[body]`.
    pub body: Values,
    /// `[place.…]`.
    pub places: Vec<Named>,
    /// `[(passage)]`.
    pub passages: Vec<PassageTable>,
    /// `[(condition)]`.
    pub conditions: Vec<Named>,
    /// `[sweep]`.
    pub sweep: Option<Values>,
    /// `[size]`.
    pub size: Option<Values>,
    /// `[instruments]`.
    pub instruments: Option<Values>,
    /// `[(stint)]`.
    pub stints: Vec<Named>,
    /// `[(tied)]`: guesses that hang together.
    pub tied: Vec<Values>,
    /// `[(layout)]`.
    pub layouts: Vec<Named>,
    /// `[fitted]`, and what of it holds.
    pub fitted: Option<(Values, fitted::FittedRecord)>,
    /// What was seen while it was read.
    pub seen: Vec<Warning>,
}

/// A case with the document it was read from.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The document, overrides applied.
    pub document: Node,
    pub case: Case,
}

/// Reads a case from the text of its file, with some addresses set.
///
/// # Errors
/// All faults of the file and of the overrides at once.
pub fn load(source: &str, overrides: &[(String, String)]) -> Result<Loaded, Diagnostics> {
    let mut faults = Diagnostics::new();
    let mut document = match document::read(source) {
        Ok(document) => document,
        Err(list) => {
            list.into_iter().for_each(|fault| faults.push(fault));
            return Err(faults);
        }
    };
    for (address, text) in overrides {
        if let Err(fault) = overrides::set(&mut document, address, text) {
            faults.push(fault);
        }
    }
    limits::check(&document, &mut faults);
    let case = Case::read_and(&document, &mut faults, checks::check_ties);
    read_layouts(&document, &mut faults);
    match case {
        Some(case) if faults.is_empty() => Ok(Loaded { document, case }),
        _ => Err(faults),
    }
}

/// Reads the case as each of its layouts has it, for the faults that only a layout has.
fn read_layouts(document: &Node, faults: &mut Diagnostics) {
    let layouts = document.get("layout").map_or(&[][..], Node::members);
    for name in layouts.iter().filter_map(|layout| layout.get("name").and_then(Node::text)) {
        let mut found = Diagnostics::new();
        match layouts::layout(document, name) {
            Ok(changed) => {
                Case::read(&changed, &mut found);
            }
            Err(list) => found = list,
        }
        let known = faults.clone();
        for mut fault in found {
            let again = |known: &Diagnostic| {
                known.code == fault.code
                    && known.place == fault.place
                    && known.message.ends_with(&fault.message)
            };
            if !known.list().iter().any(again) {
                fault.message = format!("in the layout {name:?}: {}", fault.message);
                faults.push(fault);
            }
        }
    }
}

impl Case {
    /// Reads the document of a layout, or of another change to a case; none where it has faults. What is tied to
    /// something that the change takes away is tied no more.
    pub fn read(document: &Node, faults: &mut Diagnostics) -> Option<Case> {
        Case::read_and(document, faults, |_, _| {})
    }

    /// Reads a document, and looks at it once more where it is the case as written.
    fn read_and(
        document: &Node,
        faults: &mut Diagnostics,
        look: fn(&Case, &mut Diagnostics),
    ) -> Option<Case> {
        let before = faults.len();
        let names = Names::collect(document, faults);
        let mut numbers = Numbers::default();
        let mut reader = CaseReader { faults, numbers: &mut numbers, names: &names };
        let sections: Vec<&str> = t::SECTIONS.iter().map(|section| section.name).collect();
        let mut top = read_top(&mut reader, document, &sections);
        top.address.clear();

        let day = one(&mut reader, document, "day", t::DAY, true).unwrap_or_else(|| absent(t::DAY, "day"));
        let drive = one(&mut reader, document, "drive", crate::engine::tables::DRIVE, false);
        let engine = one(&mut reader, document, "engine", crate::engine::tables::ENGINE, false);
        let parts = named(&mut reader, document, "part", t::PART);
        let chamber_tables = named(&mut reader, document, "chamber", t::CHAMBER_KEYS);
        let chambers = names
            .chambers
            .iter()
            .map(|name| {
                let written = chamber_tables.iter().find(|table| table.name == *name).cloned();
                written.unwrap_or_else(|| {
                    let mut values = absent(t::CHAMBER_KEYS, &format!("chamber/{name}"));
                    reader.take_defaults(&mut values);
                    Named { name: name.clone(), values }
                })
            })
            .collect();
        let places = named(&mut reader, document, "place", t::PLACE);
        let passages = read_passages(&mut reader, document, &places);
        take_defaults_by_cooling(&mut reader, &parts, &passages);
        let body = read_body(&mut reader, document, &passages);
        let conditions = list(&mut reader, document, "condition", t::CONDITION);
        let sweep = one(&mut reader, document, "sweep", t::SWEEP, false);
        let size = one(&mut reader, document, "size", t::SIZE, false);
        let instruments = one(&mut reader, document, "instruments", t::INSTRUMENTS, false);
        let stints = list(&mut reader, document, "stint", t::STINT);
        let tied = list(&mut reader, document, "tied", t::TIED);
        let layouts = list(&mut reader, document, "layout", t::LAYOUT);
        let found = one(&mut reader, document, "fitted", t::FITTED, false);
        let engine = engine.unwrap_or_else(|| {
            reader.fault(
                "table-missing",
                "the case has no [engine]",
                FaultPlace::Whole,
                "write [engine] with displacement and power, and [engine.heat] with the shares of heat",
            );
            absent(crate::engine::tables::ENGINE, "engine")
        });
        let mut seen = Vec::new();
        let fitted = found.map(|values| {
            let (fitted, warnings) = fitted::read(&values, &mut numbers, faults);
            seen = warnings;
            (values, fitted)
        });
        let case = Case {
            fitted,
            seen,
            numbers,
            names,
            top,
            day,
            drive,
            engine,
            parts,
            chambers,
            body,
            places,
            passages,
            conditions,
            sweep,
            size,
            instruments,
            stints,
            tied: tied.into_iter().map(|table| table.values).collect(),
            layouts,
        };
        // what cannot be read is no reason to leave the rest unchecked
        checks::check(&case, faults);
        look(&case, faults);
        (faults.len() == before).then_some(case)
    }

    /// A table together with the case's numbers.
    pub fn view<'a>(&'a self, values: &'a Values) -> View<'a> {
        View { values, numbers: &self.numbers }
    }

    /// Index of a part.
    pub fn part(&self, name: &str) -> Option<usize> {
        self.parts.iter().position(|part| part.name == name)
    }

    /// What the hottest spot of a part, which its gauge finds, stands above its mean (K).
    pub(crate) fn above_mean(&self, part: usize) -> f64 {
        self.view(&self.parts[part].values).number(&tables::HOTTEST_ABOVE_MEAN).unwrap_or(0.0)
    }

    /// Index of a chamber.
    pub fn chamber(&self, name: &str) -> Option<usize> {
        self.chambers.iter().position(|chamber| chamber.name == name)
    }

    /// Index of a passage.
    pub fn passage(&self, name: &str) -> Option<usize> {
        self.passages.iter().position(|passage| passage.name == name)
    }

    /// Index of a condition.
    pub fn condition(&self, name: &str) -> Option<usize> {
        self.conditions.iter().position(|condition| condition.name == name)
    }

    /// The chamber a part stands in; none: outside.
    pub fn chamber_of(&self, part: &Values) -> Option<usize> {
        match part.text(&t::CHAMBER) {
            Some(name) => self.chamber(name),
            None if self.chambers.is_empty() => None,
            None => Some(0),
        }
    }

    /// The title, or a word for a case without one.
    pub fn title(&self) -> &str {
        self.top.text(&t::TITLE).unwrap_or("untitled case")
    }
}
