//! The readings file, read: tests, instruments and readings, each fault with its place and a way out.
//!
//! Each test becomes one more condition of the case, or of a layout of it, so that what is said of a test is read, checked
//! and drawn as what is said of a condition.

use super::operator::{Reading, What};
use super::tables as r;
use super::target;
use crate::air::standard_atmosphere::FREE_FALL;
use crate::case::document::{self, Entry, Node, Tree};
use crate::case::read::Reader;
use crate::case::{Case, Diagnostic, Diagnostics, Loaded, Place, diagnostic, layouts, limits, names};
use crate::keys::{Fact, Key, Kind, Numbers, Values, View};
use crate::point::Model;
use std::ops::Range;

/// Densities of what is put into tubes (kg/m³): water as gauges are marked; spirit and light gauge oil from memory.
const FLUIDS: [(&str, f64); 3] = [("water", 1000.0), ("alcohol", 790.0), ("oil", 830.0)];
/// So many times the lag of an instrument a test is held: less than a hundredth of the way is then left.
const LAGS: f64 = 5.0;

/// An instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Instrument {
    /// Its name.
    pub name: String,
    /// Whether it reads pressures; else temperatures.
    pub pressure: bool,
    /// How well one reading is taken, 9 times in 10 within (K or Pa), where it is said.
    pub within: Option<f64>,
    /// What all its readings may be off by alike (K or Pa).
    pub zero: f64,
    /// Share of themselves that all may be too large or too small by.
    pub scale: f64,
    /// Time in which it goes two thirds of the way (s).
    pub lag: f64,
    /// Pressure of a metre along a tube (Pa/m).
    per_metre: Option<f64>,
}

/// What the model itself may be off by, 9 times in 10 within.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModelError {
    /// At a part (K).
    pub parts: f64,
    /// Of air (K).
    pub air: f64,
    /// Of a difference of pressure, as a share of it.
    pub pressures: f64,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A value, and within what it is 9 times in 10 (K or Pa).
    Value {
        /// The value.
        value: f64,
        /// Half the width of its band.
        within: f64,
    },
    /// Somewhere between two ends (K), of which one may be open; each field is marked to within so much.
    Between {
        /// It was hotter than this.
        low: f64,
        /// And no hotter than this.
        high: f64,
        /// Half the width of the band of each end.
        within: f64,
    },
}

/// A reading of the file.
#[derive(Clone, Debug)]
pub struct Taken {
    /// What it is a reading of, and the condition of its scene's case in which it was taken.
    pub reading: Reading,
    /// What was read.
    pub shown: Shown,
    /// As it was written.
    pub text: String,
    /// The instrument.
    pub instrument: Option<usize>,
    /// A remark.
    pub note: Option<String>,
    /// Where it stands in the file.
    pub span: Range<usize>,
}

/// A test.
#[derive(Clone, Debug)]
pub struct Test {
    /// Its name.
    pub name: String,
    /// When.
    pub date: Option<String>,
    /// Whether the car stood on the bench.
    pub bench: bool,
    /// In which of the scenes.
    pub scene: usize,
    /// How long all was held (s).
    pub held: Option<f64>,
    /// What was read.
    pub readings: Vec<Taken>,
}

/// The case, or a layout of it, with the tests that were made of it among its conditions.
#[derive(Clone, Debug)]
pub struct Scene {
    /// The layout.
    pub layout: Option<String>,
    /// The case, its own conditions first.
    pub case: Case,
}

/// A readings file.
#[derive(Clone, Debug)]
pub struct Readings {
    /// Its title.
    pub title: Option<String>,
    /// When.
    pub date: Option<String>,
    /// The card that it goes with.
    pub card: Option<String>,
    /// The state of the case that it was planned for.
    pub case_sha256: Option<String>,
    /// What was read with.
    pub instruments: Vec<Instrument>,
    /// What the model may be off by.
    pub model_error: ModelError,
    /// What was done.
    pub tests: Vec<Test>,
    /// The case as the tests found it.
    pub scenes: Vec<Scene>,
    /// Readings that stand in the file and are not filled in.
    pub blank: usize,
}

/// A reader of one table after another.
struct File<'f> {
    loaded: &'f Loaded,
    faults: Diagnostics,
    numbers: Numbers,
    instruments: Vec<Instrument>,
    blank: usize,
}

/// A test whose conditions are not yet read.
struct Begun<'n> {
    node: &'n Node,
    values: Values,
    bench: bool,
    scene: usize,
    /// The name of its condition.
    condition: String,
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
            Place::Whole,
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
    fn reader<'r>(&'r mut self, names: &'r names::Names) -> Reader<'r> {
        Reader { faults: &mut self.faults, numbers: &mut self.numbers, names }
    }

    fn fault(&mut self, code: &'static str, message: String, place: Place, way_out: &str) {
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
                Place::Whole,
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
                entries.push(Entry { key: "format".into(), key_span: 0..0, value });
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
            let mut instrument = Instrument {
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
    fn size(&mut self, values: &Values, key: &Key, instrument: &Instrument) -> Option<f64> {
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
            parts: view.given(&r::ERROR_OF_PARTS),
            air: view.given(&r::ERROR_OF_AIR),
            pressures: view.given(&r::ERROR_OF_PRESSURES),
        }
    }

    /// The cases with the tests among their conditions, and the tests so far as they are read then.
    fn scenes<'n>(&mut self, document: &'n Node) -> (Vec<Scene>, Vec<Begun<'n>>) {
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
            let condition = format!("read in test {}", place + 1);
            let added = self.condition(node, &values, bench, &documents[scene].1, &condition);
            add(&mut documents[scene].1, added);
            begun.push(Begun { node, values, bench, scene, condition });
        }
        if tests.is_empty() {
            let way_out = "write [[test]] with a name, on = \"track\", a speed and gear, and what was read";
            self.fault("tests-missing", "the readings file has no [[test]]".into(), Place::Whole, way_out);
        }
        let mut scenes = Vec::new();
        for (layout, changed) in documents {
            let mut found = Diagnostics::new();
            let case = Case::read(&changed, &mut found);
            for mut fault in found {
                for test in &begun {
                    let own = format!("condition/{}", test.condition);
                    fault.message = fault.message.replace(&own, &test.values.address);
                }
                self.faults.push(fault);
            }
            if let Some(case) = case {
                scenes.push(Scene { layout, case });
            }
        }
        // a scene that cannot be read is a fault; its tests are not looked at
        (scenes, begun)
    }

    /// What a test says, as a condition of the case.
    fn condition(&mut self, test: &Node, values: &Values, bench: bool, case: &Node, name: &str) -> Node {
        let known = case.get("condition").map_or(&[][..], Node::members);
        let base = values.text(&r::CONDITION).and_then(|wanted| {
            known.iter().find(|condition| condition.get("name").and_then(Node::text) == Some(wanted))
        });
        let mut entries: Vec<Entry> = base.map_or(Vec::new(), |base| base.entries().to_vec());
        let mut put = |key: &str, value: Node| {
            entries.retain(|entry| {
                entry.key != key
                    && !(matches!(key, "gear" | "rpm") && matches!(&entry.key[..], "gear" | "rpm"))
            });
            entries.push(Entry { key: key.to_string(), key_span: value.span.clone(), value });
        };
        for key in r::OF_CONDITIONS {
            if let Some(value) = test.get(key) {
                put(key, value.clone());
            }
        }
        let text =
            |text: &str| Node { span: test.span.clone(), set: None, tree: Tree::Text(text.to_string()) };
        put("name", text(name));
        let says = |entries: &[Entry], key: &str| entries.iter().any(|entry| entry.key == key);
        let stands = |key: &str, unit: &str, entries: &mut Vec<Entry>| {
            if bench && !says(entries, key) {
                entries.push(Entry { key: key.into(), key_span: test.span.clone(), value: text(unit) });
            }
        };
        stands("speed", "0 km/h", &mut entries);
        if !says(&entries, "gear") {
            stands("rpm", "0 rpm", &mut entries);
        }
        if !says(&entries, "speed") {
            entries.push(Entry { key: "speed".into(), key_span: test.span.clone(), value: text("0 km/h") });
            let way_out = "write speed and gear, or condition = \"…\" for one of the case; a car that stands has speed = \"0 km/h\"";
            self.fault("speed-missing", format!("{} says no speed", values.address), test.place(), way_out);
        }
        let runs = says(&entries, "gear")
            || entries.iter().any(|entry| {
                entry.key == "rpm" && !entry.value.text().is_some_and(|text| text.trim().starts_with('0'))
            });
        if runs && !says(&entries, "load") {
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

    fn test(&mut self, begun: &Begun, scene: &Scene) -> Option<Test> {
        let Begun { values, bench, .. } = begun;
        let condition = scene.case.condition(&begun.condition)?;
        let model = Model::new(&scene.case).map_err(|faults| self.faults.extend(faults)).ok()?;
        let view = View { values, numbers: &self.numbers };
        let held = view.number(&r::HELD);
        let speed =
            scene.case.view(&scene.case.conditions[condition].values).given(&crate::case::tables::SPEED);
        if *bench && speed > 0.0 {
            let way_out = "write on = \"track\", or leave the speed out";
            let message = format!("{} is on the bench and has a speed", values.address);
            self.fault("bench-moves", message, values.place_of(&r::SPEED).into(), way_out);
        }
        if values.has(&r::BLOWER) {
            let way_out = "leave it out, and read with the engine or the car's own fan";
            let message = format!("{} has a blower, which this version does not reckon with", values.address);
            self.fault("blower-not-known", message, values.place_of(&r::BLOWER).into(), way_out);
        }
        let at = target::Scene { case: &scene.case, model: &model, moves: speed > 0.0 };
        let tables = values.tables(&r::READING).to_vec();
        let mut readings = Vec::new();
        for table in &tables {
            let what = target::what(&mut self.reader(&scene.case.names), table, &at);
            let Some((shown, instrument)) = self.shown(table, what, held) else { continue };
            let Some(what) = what else { continue };
            let span = match &table.place {
                crate::keys::Where::File(span) => span.clone(),
                crate::keys::Where::Override { .. } => 0..0,
            };
            readings.push(Taken {
                reading: Reading { what, moment: condition },
                shown,
                text: written(begun.node, table),
                instrument,
                note: table.text(&r::NOTE).map(str::to_string),
                span,
            });
        }
        Some(Test {
            name: values.text(&r::NAME)?.to_string(),
            date: values.text(&r::DATE).map(str::to_string),
            bench: *bench,
            scene: begun.scene,
            held,
            readings,
        })
    }

    /// What a reading shows; none where it is blank, or faulted.
    fn shown(
        &mut self,
        table: &Values,
        what: Option<What>,
        held: Option<f64>,
    ) -> Option<(Shown, Option<usize>)> {
        let pressure = table.has(&r::BETWEEN);
        let instrument = self.instrument(table, pressure, held)?;
        let own = instrument.map(|index| self.instruments[index].clone());
        let usual = Reading { what: what?, moment: 0 }.within();
        let within = own.as_ref().and_then(|own| own.within).unwrap_or(usual);
        if table.has(&r::STRIP) {
            return self.fields(table, within).map(|shown| (shown, instrument));
        }
        for key in [&r::TURNED, &r::UNTURNED] {
            if table.written(key) {
                let message = format!("{} is no strip, and has no field that turns", table.address);
                let way_out = "write shows, or name the part behind strip instead of part";
                self.fault("no-strip", message, table.place_of(key).into(), way_out);
                return None;
            }
        }
        let Some(id) = table.id(&r::SHOWS) else {
            self.blank += 1;
            return None;
        };
        let fact = self.numbers.fact(id).clone();
        let Some(factor) = factor(&fact, pressure, own.as_ref()) else {
            let wanted = if pressure { "a pressure" } else { "a temperature" };
            let message = format!("{} shows {}; {wanted} is wanted", table.address, fact.kind.name());
            let way_out = match (pressure, fact.kind) {
                (true, Kind::Length) => {
                    "write mmH2O or inH2O; a length along a tube needs with = \"…\", an instrument with its fluid"
                }
                (true, _) => "write it in Pa, mbar, mmH2O or inH2O",
                (false, _) => "write it in degC or degF",
            };
            self.fault("unit-of-other-kind", message, table.place_of(&r::SHOWS).into(), way_out);
            return None;
        };
        let value = fact.value * factor;
        let stated = fact.band().map(|(low, high)| 0.5 * (high - low) * factor);
        Some((Shown::Value { value, within: stated.unwrap_or(within) }, instrument))
    }

    /// The fields of a strip.
    fn fields(&mut self, table: &Values, within: f64) -> Option<Shown> {
        if table.written(&r::SHOWS) {
            let message = format!("{} is a strip; it shows which fields turned", table.address);
            let way_out =
                "write turned, the highest field that turned, and unturned, the lowest that did not";
            self.fault("strip-shows", message, table.place_of(&r::SHOWS).into(), way_out);
            return None;
        }
        let number = |key: &Key| table.id(key).map(|id| self.numbers.value(id));
        let (low, high) = (number(&r::TURNED), number(&r::UNTURNED));
        if low.is_none() && high.is_none() {
            self.blank += 1;
            return None;
        }
        let (low, high) = (low.unwrap_or(f64::NEG_INFINITY), high.unwrap_or(f64::INFINITY));
        if low >= high {
            let message = format!("{} turned above a field that did not", table.address);
            let way_out = "turned is the highest field that turned, unturned the lowest that did not: see whether they are swapped";
            self.fault("strip-out-of-order", message, table.place_of(&r::TURNED).into(), way_out);
            return None;
        }
        Some(Shown::Between { low, high, within: within.min(3.0) })
    }

    /// The instrument of a reading; none of it where it was faulted.
    fn instrument(&mut self, table: &Values, pressure: bool, held: Option<f64>) -> Option<Option<usize>> {
        let Some(name) = table.text(&r::WITH) else { return Some(None) };
        let place: Place = table.place_of(&r::WITH).into();
        let Some(index) = self.instruments.iter().position(|known| known.name == name) else {
            let known = self.instruments.iter().map(|known| known.name.as_str());
            let way_out = match diagnostic::did_you_mean(name, known.clone()) {
                Some(meant) => format!("did you mean {meant}?"),
                None => format!("write [instrument.{name:?}] with what it reads and how well"),
            };
            self.fault("unknown-name", format!("no instrument is called {name:?}"), place, &way_out);
            return None;
        };
        let own = &self.instruments[index];
        let (reads, lag) = (own.pressure, own.lag);
        if reads != pressure {
            let (is, wanted) =
                if reads { ("pressures", "a temperature") } else { ("temperatures", "a pressure") };
            let message = format!("{name:?} reads {is}, and {} is {wanted}", table.address);
            self.fault("instrument-reads-other", message, place, "name the instrument that it was read with");
            return None;
        }
        if lag > 0.0 && held.is_none_or(|held| held < LAGS * lag) {
            let message = format!(
                "{name:?} goes two thirds of the way in {lag:.0} s, and the test was held {}",
                held.map_or("no one says how long".to_string(), |held| format!("{held:.0} s"))
            );
            let way_out = format!(
                "hold it {:.0} s or more, and write held; a reading taken before is none",
                LAGS * lag
            );
            self.fault("held-too-short", message, place, &way_out);
            return None;
        }
        Some(Some(index))
    }
}

/// What turns the number of a reading into kelvins or pascals; none where it is of another kind.
fn factor(fact: &Fact, pressure: bool, instrument: Option<&Instrument>) -> Option<f64> {
    match (fact.kind, pressure) {
        (Kind::Temperature, false) | (Kind::Pressure, true) => Some(1.0),
        (Kind::Length, true) => instrument.and_then(|own| own.per_metre),
        _ => None,
    }
}

/// A reading as it was written.
fn written(test: &Node, table: &Values) -> String {
    let crate::keys::Where::File(span) = &table.place else { return String::new() };
    let members = test.get("reading").map_or(&[][..], Node::members);
    let Some(node) = members.iter().find(|member| member.span == *span) else { return String::new() };
    let text = |key: &Key| node.get(key.name).and_then(Node::text);
    match (text(&r::SHOWS), text(&r::TURNED), text(&r::UNTURNED)) {
        (Some(shows), ..) => shows.trim().to_string(),
        (None, Some(turned), Some(unturned)) => format!("{} turned, {} not", turned.trim(), unturned.trim()),
        (None, Some(turned), None) => format!("{} turned, the highest", turned.trim()),
        (None, None, Some(unturned)) => format!("{} not turned, the lowest", unturned.trim()),
        (None, None, None) => String::new(),
    }
}

/// Adds a condition to a document.
fn add(document: &mut Node, condition: Node) {
    let Tree::Table(entries) = &mut document.tree else { return };
    match entries.iter_mut().find(|entry| entry.key == "condition") {
        Some(entry) => match &mut entry.value.tree {
            Tree::List(members) => members.push(condition),
            _ => {
                let first = entry.value.clone();
                entry.value.tree = Tree::List(vec![first, condition]);
            }
        },
        None => entries.push(Entry {
            key: "condition".into(),
            key_span: 0..0,
            value: Node { span: 0..0, set: None, tree: Tree::List(vec![condition]) },
        }),
    }
}
