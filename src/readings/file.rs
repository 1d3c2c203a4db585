//! The readings file, read: tests, instruments and readings, each fault with its place and a way out.
//!
//! Each test becomes one more condition of the case, or of a layout of it, so that what is said of a test is read, checked
//! and drawn as what is said of a condition.

use super::tables as r;
use super::taken::{InstrumentUsed, ModelError, Readings};
use crate::air::standard_atmosphere::FREE_FALL;
use crate::case::document::{self, Node, TableEntry, Tree};
use crate::case::read::CaseReader;
use crate::case::{Diagnostic, Diagnostics, FaultPlace, Loaded, diagnostic, limits, names};
use crate::keys::{Key, Kind, Numbers, Values, View};
use crate::point::counted::Counted;

/// Densities of what is put into tubes (kg/m³): water as gauges are marked; spirit and light gauge oil from memory.
const FLUIDS: [(&str, f64); 3] = [("water", 1000.0), ("alcohol", 790.0), ("oil", 830.0)];

/// A reader of one table after another.
pub(super) struct File<'f> {
    pub loaded: &'f Loaded,
    pub faults: Diagnostics,
    pub numbers: Numbers,
    pub instruments: Vec<InstrumentUsed>,
    pub blank: usize,
}

/// A test whose conditions are not yet read.
pub(super) struct Begun<'n> {
    pub node: &'n Node,
    pub values: Values,
    pub bench: bool,
    pub scene: usize,
    /// The name of its condition.
    pub condition: String,
    /// The moment that it is.
    pub at: Counted,
}

/// Reads a readings file against the case that was read.
///
/// # Errors
/// All faults of the file at once.
pub fn load(source: &str, loaded: &Loaded) -> Result<Readings, Diagnostics> {
    if source.trim_start_matches('\u{feff}').trim().is_empty() {
        return Err(Diagnostics::from(Diagnostic::new(
            "readings-empty",
            "the readings file is empty",
            FaultPlace::Whole,
            "begin with format = 1 and a [[test]]; slowcorner testcard writes one to fill in",
        )));
    }
    let document = document::read(source).map_err(|list| {
        let mut faults = Diagnostics::new();
        faults.extend(list);
        faults
    })?;
    let mut file = File {
        loaded,
        faults: Diagnostics::new(),
        numbers: Numbers::default(),
        instruments: Vec::new(),
        blank: 0,
    };
    limits::check(&document, &mut file.faults);
    let top = file.top(&document);
    file.instruments(&document);
    let model_error = file.model_error(&document);
    let (scenes, begun) = file.scenes(&document);
    let tests = begun.iter().filter_map(|test| file.test(test, scenes.get(test.scene)?)).collect();
    let text = |key: &Key| top.text(key).map(str::to_string);
    let readings = Readings {
        title: text(&r::TITLE),
        date: text(&r::DATE),
        card: text(&r::CARD),
        case_sha256: text(&r::CASE_SHA256),
        instruments: file.instruments,
        model_error,
        tests,
        scenes,
        blank: file.blank,
    };
    file.faults.unless_faulty(readings)
}

impl File<'_> {
    pub(super) fn reader<'r>(&'r mut self, names: &'r names::Names) -> CaseReader<'r> {
        CaseReader { faults: &mut self.faults, numbers: &mut self.numbers, names }
    }

    pub(super) fn fault(&mut self, code: &'static str, message: String, place: FaultPlace, way_out: &str) {
        self.faults.push(Diagnostic::new(code, message, place, way_out));
    }

    /// Keys at the top of the file; a table that nobody knows is told apart from a key.
    fn top(&mut self, document: &Node) -> Values {
        let known: Vec<&str> = r::SECTIONS.iter().map(|section| section.name).collect();
        let mut shown = document.clone();
        if let Tree::Table(entries) = &mut shown.tree {
            entries.retain(|entry| {
                let is_key = r::TOP.iter().any(|key| key.name == entry.key);
                let table = matches!(entry.value.tree, Tree::Table(_) | Tree::List(_));
                if !is_key && table && !known.contains(&entry.key.as_str()) {
                    let way_out = match diagnostic::did_you_mean(&entry.key, known.iter().copied()) {
                        Some(meant) => format!("did you mean {meant}?"),
                        None => format!("possible: {}", known.join(", ")),
                    };
                    let message = format!("a readings file has no table {}", entry.key);
                    self.fault("unknown-table", message, entry.key_place(), &way_out);
                }
                is_key || !table
            });
        }
        shown.span = 0..0;
        match shown.get("format") {
            None => self.fault(
                "format-missing",
                "the readings file does not say its format".to_string(),
                FaultPlace::Whole,
                "write format = 1 in the first line",
            ),
            Some(node @ Node { tree: Tree::Number(format), .. }) if *format != 1.0 => {
                let message = format!("this version reads format 1; the file says {format}");
                let way_out = "write format = 1, or use the version of the program that goes with the file";
                self.fault("format-unknown", message, node.place(), way_out);
            }
            Some(_) => {}
        }
        if let Tree::Table(entries) = &mut shown.tree {
            // its absence, and another format, were told
            entries.retain(|entry| entry.key != "format" || !matches!(entry.value.tree, Tree::Number(_)));
            if !entries.iter().any(|entry| entry.key == "format") {
                let value = Node { span: 0..0, set: None, tree: Tree::Number(1.0) };
                entries.push(TableEntry { key: "format".into(), key_span: 0..0, value });
            }
        }
        let names = names::Names::default();
        self.reader(&names).table(&shown, r::TOP, "", &[])
    }

    fn instruments(&mut self, document: &Node) {
        let Some(node) = document.get("instrument") else { return };
        if !matches!(node.tree, Tree::Table(_)) {
            let message = format!("instrument is {}; tables are wanted here", node.in_words());
            return self.fault("table-wanted", message, node.place(), "write [instrument.NAME] for each");
        }
        let names = names::Names::default();
        for entry in node.entries() {
            let address = format!("instrument/{}", entry.key);
            let values = self.reader(&names).table(&entry.value, r::INSTRUMENT, &address, &[]);
            let pressure = values.text(&r::READS) == Some("pressure");
            let view = View { values: &values, numbers: &self.numbers };
            let slope = view.number(&r::SLOPE).unwrap_or(1.0);
            let fluid = values.text(&r::FLUID);
            let density = FLUIDS.iter().find(|(name, _)| Some(*name) == fluid).map(|(_, density)| *density);
            let lag = view.number(&r::LAG).unwrap_or(0.0);
            let scale = view.number(&r::SCALE).unwrap_or(0.0);
            let tube = values.has(&r::FLUID) || values.has(&r::SLOPE);
            if tube && !pressure && values.has(&r::READS) {
                let place = values.place.clone().into();
                let message = format!("{address} is a tube with a liquid, and reads no temperatures");
                self.fault("instrument-reads-other", message, place, "write reads = \"pressure\"");
            }
            let mut instrument = InstrumentUsed {
                name: entry.key.clone(),
                pressure,
                within: None,
                zero: 0.0,
                scale,
                lag,
                // p = ρ g ℓ/s, ℓ the length along a tube of slope s
                per_metre: tube.then(|| density.unwrap_or(FLUIDS[0].1) * FREE_FALL / slope),
            };
            instrument.within = self.size(&values, &r::WITHIN, &instrument);
            instrument.zero = self.size(&values, &r::ZERO, &instrument).unwrap_or(0.0);
            self.instruments.push(instrument);
        }
    }

    /// A difference that an instrument shows (K or Pa).
    fn size(&mut self, values: &Values, key: &Key, instrument: &InstrumentUsed) -> Option<f64> {
        let fact = self.numbers.fact(values.id(key)?).clone();
        match fact.kind {
            Kind::Length if instrument.per_metre.is_some() => {
                instrument.per_metre.map(|factor| fact.value * factor)
            }
            Kind::Pressure if instrument.pressure => Some(fact.value),
            Kind::TemperatureDifference if !instrument.pressure => Some(fact.value),
            _ => {
                let reads = if instrument.pressure { "pressures" } else { "temperatures" };
                let message =
                    format!("{} is {}, and it reads {reads}", values.address_of(key), fact.kind.name());
                let way_out = if instrument.pressure {
                    "write a pressure, as \"5 Pa\"; of a tube with its fluid also a length along it"
                } else {
                    "write a temperature difference, as \"5 K\""
                };
                self.fault("unit-of-other-kind", message, values.place_of(key).into(), way_out);
                None
            }
        }
    }

    fn model_error(&mut self, document: &Node) -> ModelError {
        let names = names::Names::default();
        let empty = Node::empty_table();
        let node = document.get("model_error").unwrap_or(&empty);
        let mut reader = self.reader(&names);
        let mut values = reader.table(node, r::MODEL_ERROR, "model_error", &[]);
        reader.take_defaults(&mut values);
        let view = View { values: &values, numbers: &self.numbers };
        ModelError {
            parts: view.required(&r::ERROR_OF_PARTS),
            air: view.required(&r::ERROR_OF_AIR),
            pressures: view.required(&r::ERROR_OF_PRESSURES),
        }
    }
}
