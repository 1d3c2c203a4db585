//! Tests in time: a stint of the case, or a recorded run beside the readings file, as one more stint of the case in which its
//! readings were taken.

use super::file::{Begun, File};
use super::tables as r;
use super::taken::{RunMoment, TestRun};
use crate::case::document::{Node, TableEntry, Tree};
use crate::case::{Case, FaultPlace, diagnostic, tables as t};
use crate::keys::{Values, View};

/// What a test in time adds to a case: its conditions, and its stint.
pub(super) struct RunNodes {
    pub conditions: Vec<Node>,
    pub stint: Node,
}

/// The name of one of the conditions of a test in time, by its place among them.
fn step_of(own: &str, place: usize) -> String {
    format!("{own} step {}", place + 1)
}

/// The name of the condition in which the car stands after its run.
fn standing_of(own: &str) -> String {
    format!("{own} standing")
}

/// Whether a test is one in time.
pub(super) fn is_in_time(values: &Values) -> bool {
    values.written(&r::STINT) || values.written(&r::TRACE)
}

impl File<'_> {
    /// Faults what a steady test has that only a run in time can have.
    pub(super) fn steady_only(&mut self, values: &Values) {
        let at = values.tables(&r::READING).iter().find(|reading| reading.written(&r::AT));
        let written = r::OF_RUNS.iter().find(|key| values.written(key)).map(|key| (key.name, values, *key));
        let Some((key, table, of)) = written.or(at.map(|reading| (r::AT.name, reading, &r::AT))) else {
            return;
        };
        let message = format!("{} has {key}, and hangs on no run in time", table.address);
        let way_out = "write stint = \"…\", a stint of the case, or trace = \"run.csv\", a recorded run; or leave it out";
        self.fault("no-stint", message, table.place_of(of).into(), way_out);
    }

    /// What a test in time adds to the case; none where it was faulted.
    pub(super) fn run(&mut self, test: &Node, values: &Values, case: &Node, own: &str) -> Option<RunNodes> {
        for key in r::OF_STEADY_TESTS.iter().filter(|key| values.written(key)) {
            let message = format!("{} hangs on a run in time, and has {}", values.address, key.name);
            let way_out = "leave it out: the stint says what the car did, step by step; or leave stint and trace out, where it was held";
            self.fault("stint-and-steady", message, values.place_of(key).into(), way_out);
        }
        if values.text(&r::ON) == Some("bench") {
            let message = format!("{} is on the bench, where nothing runs in time", values.address);
            let way_out = "write on = \"track\": a car that is driven, or stands as it does in the queue";
            self.fault("bench-moves", message, values.place_of(&r::ON).into(), way_out);
        }
        let text =
            |text: &str| Node { span: test.span.clone(), set: None, tree: Tree::Text(text.to_string()) };
        let mut entries = match values.text(&r::STINT) {
            Some(name) => self.stint(name, values, case)?,
            None => Vec::new(),
        };
        let mut put = |key: &str, value: Node| put(&mut entries, key, value);
        put("name", text(own));
        for key in [r::TRACE.name, t::COLUMNS.name, t::MEASURED.name, r::START.name] {
            if let Some(value) = test.get(key) {
                put(key, value.clone());
            }
        }
        if let Some(condition) = test.get(r::CONDITION.name) {
            put(t::AS_IN.name, condition.clone());
        }
        let recorded = entries.iter().any(|entry| entry.key == r::TRACE.name);
        for key in [&t::COLUMNS, &t::MEASURED, &r::COLUMNS_WITH] {
            if !recorded && values.written(key) {
                let message =
                    format!("{} has {}, and its stint is no recorded run", values.address, key.name);
                let way_out = "columns are those of a recorded run: trace = \"run.csv\"; a reading of a gauge stands in reading = [ … ], with at = \"…\"";
                self.fault("columns-without-run", message, values.place_of(key).into(), way_out);
            }
        }
        let mut copies = Copies { test, case, own, known: Vec::new(), made: Vec::new() };
        for entry in &mut entries {
            match (entry.key.as_str(), &mut entry.value.tree) {
                ("as_in", _) => copies.turn(&mut entry.value),
                ("step", Tree::List(steps)) => steps.iter_mut().for_each(|step| copies.turn_step(step)),
                ("step", Tree::Table(_)) => copies.turn_step(&mut entry.value),
                _ => {}
            }
        }
        let says = |key: &str| entries.iter().any(|entry| entry.key == key);
        // legs and recorded runs meet the open road where nothing is said
        if !says("step") && !says(t::AS_IN.name) && copies.changed() {
            let road = copies.with_the_engine_off(&step_of(own, copies.made.len()), &[("load", "0 %")], None);
            copies.made.push(road);
            let name = step_of(own, copies.made.len() - 1);
            entries.push(TableEntry { key: t::AS_IN.name.into(), key_span: 0..0, value: text(&name) });
        }
        if values.written(&r::SOAK) {
            let day = copies.made.last().and_then(|node| node.get("day").cloned());
            let standing = copies.with_the_engine_off(&standing_of(own), &[("fans", "off")], day);
            copies.made.push(standing);
        }
        let stint = Node { span: test.span.clone(), set: None, tree: Tree::Table(entries) };
        Some(RunNodes { conditions: copies.made, stint })
    }

    /// What a stint of the case says.
    fn stint(&mut self, name: &str, values: &Values, case: &Node) -> Option<Vec<TableEntry>> {
        let all = case.get("stint").map_or(&[][..], Node::members);
        let named = |node: &&Node| node.get("name").and_then(Node::text) == Some(name);
        if let Some(found) = all.iter().find(named) {
            return Some(found.entries().to_vec());
        }
        let known: Vec<&str> = all.iter().filter_map(|node| node.get("name").and_then(Node::text)).collect();
        let way_out = match diagnostic::did_you_mean(name, known.iter().copied()) {
            Some(meant) => format!("did you mean {meant}?"),
            None if known.is_empty() => "the case has no [[stint]]; write one into it".to_string(),
            None => format!("known: {}", known.join(", ")),
        };
        let message = format!("no stint is called {name:?}");
        self.fault("unknown-name", message, values.place_of(&r::STINT).into(), &way_out);
        None
    }

    /// The run of a test whose case is read.
    pub(super) fn test_run(&mut self, begun: &Begun, case: &Case) -> Option<TestRun> {
        let stint = case.stints.iter().position(|stint| stint.name == begun.condition)?;
        let view = View { values: &begun.values, numbers: &self.numbers };
        let soak = view.number(&r::SOAK).zip(case.condition(&standing_of(&begun.condition)));
        let instrument = self.instrument(&begun.values, &r::COLUMNS_WITH, false, None, true).flatten();
        Some(TestRun {
            stint,
            soak: soak.map(|(time, condition)| (condition, time)),
            beside_readings: begun.values.written(&r::TRACE),
            instrument,
            asked: begun.values.tables(&r::READING).len(),
        })
    }

    /// When in its run a reading was taken.
    pub(super) fn run_moment(&mut self, table: &Values) -> Option<RunMoment> {
        let view = View { values: table, numbers: &self.numbers };
        let at = view.number(&r::AT);
        match (table.has(&r::STRIP), at) {
            (true, None) => Some(RunMoment::Hottest),
            (true, Some(_)) => {
                let place: FaultPlace = table.place_of(&r::AT).into();
                let message = format!(
                    "{} is a strip: it shows the hottest of the whole run, not a moment of it",
                    table.address
                );
                let way_out = "leave at out; a car that stood before the strip was looked at has soak";
                self.fault("strip-shows", message, place, way_out);
                None
            }
            (false, Some(at)) => Some(RunMoment::At(at)),
            (false, None) => Some(RunMoment::End),
        }
    }
}

/// Copies of the conditions that a run goes through, with what its test says of all of them.
struct Copies<'c> {
    test: &'c Node,
    case: &'c Node,
    own: &'c str,
    /// Names of the conditions that are copied, in the order of the copies.
    known: Vec<String>,
    made: Vec<Node>,
}

impl Copies<'_> {
    /// Whether the test says anything of the conditions.
    fn changed(&self) -> bool {
        r::OF_CONDITIONS_IN_RUNS.iter().any(|key| self.test.get(key).is_some())
    }

    /// Turns a name to the copy of its condition; what the case does not know is left to the case's reader.
    fn turn(&mut self, name: &mut Node) {
        let Tree::Text(text) = &name.tree else { return };
        if let Some(place) = self.known.iter().position(|known| known == text) {
            name.tree = Tree::Text(step_of(self.own, place));
            return;
        }
        let all = self.case.get("condition").map_or(&[][..], Node::members);
        let found = all.iter().find(|node| node.get("name").and_then(Node::text) == Some(text));
        let Some(found) = found else { return };
        let mut entries = found.entries().to_vec();
        let called = step_of(self.own, self.made.len());
        self.say(&called, &mut entries);
        self.known.push(text.clone());
        self.made.push(Node { span: found.span.clone(), set: None, tree: Tree::Table(entries) });
        name.tree = Tree::Text(called);
    }

    fn turn_step(&mut self, step: &mut Node) {
        let Tree::Table(entries) = &mut step.tree else { return };
        if let Some(entry) = entries.iter_mut().find(|entry| entry.key == t::STEP_CONDITION.name) {
            self.turn(&mut entry.value);
        }
    }

    /// A condition in which the car stands with its engine off.
    fn with_the_engine_off(&self, name: &str, more: &[(&str, &str)], day: Option<Node>) -> Node {
        let text = |text: &str| Node { span: 0..0, set: None, tree: Tree::Text(text.to_string()) };
        let mut entries: Vec<TableEntry> = Vec::new();
        for (key, value) in [("speed", "0 km/h"), ("rpm", "0 rpm")] {
            put(&mut entries, key, text(value));
        }
        if let Some(day) = day {
            put(&mut entries, "day", day);
        }
        self.say(name, &mut entries);
        more.iter().for_each(|(key, value)| put(&mut entries, key, text(value)));
        Node { span: self.test.span.clone(), set: None, tree: Tree::Table(entries) }
    }

    /// Lets a condition say what the test says.
    fn say(&self, name: &str, entries: &mut Vec<TableEntry>) {
        for key in r::OF_CONDITIONS_IN_RUNS {
            if let Some(value) = self.test.get(key) {
                put(entries, key, value.clone());
            }
        }
        let tree = Tree::Text(name.to_string());
        put(entries, "name", Node { span: self.test.span.clone(), set: None, tree });
    }
}

/// Puts a value in the place of what stands there.
pub(super) fn put(entries: &mut Vec<TableEntry>, key: &str, value: Node) {
    entries.retain(|entry| entry.key != key);
    entries.push(TableEntry { key: key.to_string(), key_span: value.span.clone(), value });
}
