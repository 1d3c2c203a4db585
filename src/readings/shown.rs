//! What a reading shows, and with which instrument.

use super::drives::is_unknown;
use super::errors::ToolErrors;
use super::file::{Begun, File};
use super::operator::{GaugeEnd, Quantity, Reading, ReadingKind};
use super::runs::is_in_time;
use super::tables as r;
use super::taken::{InstrumentUsed, RunMoment, Shown, TakenReading, Test, TestedCase};
use super::target;
use crate::case::document::Node;
use crate::case::{Case, FaultPlace, diagnostic};
use crate::keys::{Fact, Key, Kind, SourceLocation, Values, View};
use crate::point::Model;
use crate::point::counted::{Blown, Counted};

/// So many times the lag of an instrument a test is held: less than a hundredth of the way is then left.
const LAGS: f64 = 5.0;

/// Keys that say of what a reading is one.
const OF_WHAT: [&Key; 6] = [&r::PART, &r::STRIP, &r::AIR, &r::BEHIND, &r::BETWEEN, &r::HOLE];

impl File<'_> {
    /// A test with its readings.
    pub(super) fn test(&mut self, begun: &Begun, scene: &TestedCase) -> Option<Test> {
        let Begun { values, bench, .. } = begun;
        let run = if is_in_time(values) { Some(self.test_run(begun, &scene.case)?) } else { None };
        // what is read of a run is read at no moment that stands
        let condition = if run.is_some() { 0 } else { scene.case.condition(&begun.condition)? };
        let model = Model::new(&scene.case).map_err(|faults| self.faults.extend(faults)).ok()?;
        let view = View { values, numbers: &self.numbers };
        let held = view.number(&r::HELD);
        let steady = |condition: usize| scene.case.view(&scene.case.conditions[condition].values);
        let speed = if run.is_some() { 0.0 } else { steady(condition).required(&crate::case::tables::SPEED) };
        if *bench && speed > 0.0 {
            let way_out = "write on = \"track\", or leave the speed out";
            let message = format!("{} is on the bench and has a speed", values.address);
            self.fault("bench-moves", message, values.place_of(&r::SPEED).into(), way_out);
        }
        let in_time = run.is_some();
        let at = target::ReadingScene {
            case: &scene.case,
            model: &model,
            moves: speed > 0.0,
            bench: *bench,
            in_time,
        };
        let tables = values.tables(&r::READING).to_vec();
        let mut readings = Vec::new();
        for table in &tables {
            let what = target::what(&mut self.reader(&scene.case.names), table, &at);
            let Some(what) = what else {
                // of what nobody says, no instrument is the wrong one
                if !OF_WHAT.iter().any(|key| table.written(key)) {
                    continue;
                }
                self.instrument(table, &r::WITH, is_pressure(table), held, in_time);
                continue;
            };
            let when = if in_time { Some(self.run_moment(table)) } else { None };
            let Some((shown, tool, instrument)) = self.shown(table, what, (held, in_time), &scene.case)
            else {
                continue;
            };
            // faulted, as what it shows may be too
            let when = match when {
                Some(None) => continue,
                Some(when) => when,
                None => None,
            };
            let lag = instrument.map_or(0.0, |index: usize| self.instruments[index].lag);
            let span = match &table.place {
                SourceLocation::File(span) => span.clone(),
                SourceLocation::Override { .. } => 0..0,
            };
            readings.push(TakenReading {
                reading: Reading { what, moment: condition },
                shown,
                tool,
                text: written(begun.node, table),
                instrument,
                when,
                lag: if when == Some(RunMoment::Hottest) { 0.0 } else { lag },
                note: table.text(&r::NOTE).map(str::to_string),
                span,
            });
        }
        self.alone(begun, &scene.case, &readings);
        Some(Test {
            name: values.text(&r::NAME)?.to_string(),
            date: values.text(&r::DATE).map(str::to_string),
            bench: *bench,
            scene: begun.scene,
            at: begun.at,
            run,
            held,
            readings,
        })
    }

    /// Faults one pressure alone beside a blower of which nobody says what it gives.
    fn alone(&mut self, begun: &Begun, case: &Case, readings: &[TakenReading]) {
        let Counted::Blown(Blown { number: Some(id), .. }) = begun.at else { return };
        // leaks are told by two pressures at one setting
        let mut gauges = readings.iter().filter(|taken| taken.reading.kind() != ReadingKind::Ratio);
        let Some(first) = gauges.next().filter(|_| is_unknown(case.numbers.fact(id))) else { return };
        if readings.iter().all(|other| other.reading.what == first.reading.what) {
            let place = begun.values.place_of(&r::BLOWER).into();
            let message = format!(
                "{} has one pressure alone beside a blower of which nobody says what it gives: that tells nothing",
                begun.values.address
            );
            let way_out = "read a second pressure at the same setting: their ratio tells; or write flow = \"0.1 kg/s ± 10 %\", or meter = { throat, shows }";
            self.fault("blower-unknown-alone", message, place, way_out);
        }
    }

    /// What a reading shows; none where it is blank, or faulted.
    fn shown(
        &mut self,
        table: &Values,
        what: Quantity,
        (held, in_time): (Option<f64>, bool),
        case: &Case,
    ) -> Option<(Shown, ToolErrors, Option<usize>)> {
        let pressure = is_pressure(table);
        let instrument = self.instrument(table, &r::WITH, pressure, held, in_time)?;
        let own = instrument.map(|index| self.instruments[index].clone());
        if table.has(&r::HOLE) {
            let (shown, tool) = self.left_beside(table, own.as_ref(), case)?;
            return Some((shown, tool, instrument));
        }
        let usual = what.tool(case).within;
        let within = own.as_ref().and_then(|own| own.within).unwrap_or(usual);
        let (zero, scale) = own.as_ref().map_or((0.0, 0.0), |own| (own.zero, own.scale));
        let tool = ToolErrors { within, zero, scale };
        if table.has(&r::STRIP) {
            return self.fields(table, within).map(|shown| (shown, tool, instrument));
        }
        for key in [&r::TURNED, &r::UNTURNED] {
            if table.written(key) {
                let message = format!("{} is no strip, and has no field that turns", table.address);
                let way_out = "write shows, or name the part behind strip instead of part";
                self.fault("no-strip", message, table.place_of(key).into(), way_out);
                return None;
            }
        }
        if !table.has(&r::SHOWS) {
            self.blank += 1;
            return None;
        }
        let (value, stated) = self.value(table, &r::SHOWS, pressure, own.as_ref())?;
        let within = stated.unwrap_or(within);
        Some((Shown::Value { value, within }, ToolErrors { within, ..tool }, instrument))
    }

    /// A number as an instrument shows it (K or Pa), and within what it is where that is said; none where it was faulted.
    fn value(
        &mut self,
        table: &Values,
        key: &Key,
        pressure: bool,
        own: Option<&InstrumentUsed>,
    ) -> Option<(f64, Option<f64>)> {
        let fact = self.numbers.fact(table.id(key)?).clone();
        let Some(factor) = factor(&fact, pressure, own) else {
            let wanted = if pressure { "a pressure" } else { "a temperature" };
            let message = format!("{} shows {}; {wanted} is wanted", table.address, fact.kind.name());
            let way_out = match (pressure, fact.kind) {
                (true, Kind::Length) => {
                    "write mmH2O or inH2O; a length along a tube needs with = \"…\", an instrument with its fluid"
                }
                (true, _) => "write it in Pa, mbar, mmH2O or inH2O",
                (false, _) => "write it in degC or degF",
            };
            self.fault("unit-of-other-kind", message, table.place_of(key).into(), way_out);
            return None;
        };
        let stated = fact.band().map(|(low, high)| 0.5 * (high - low) * factor);
        Some((fact.value * factor, stated))
    }

    /// The share of the pressure that is left beside a hole in the tape, and how well the gauge tells it; none where a pressure
    /// is blank, or faulted.
    ///
    /// ```text
    ///   r = p₁/p₀,   Δr = r √((Δp₀/p₀)² + (Δp₁/p₁)²)
    /// ```
    fn left_beside(
        &mut self,
        table: &Values,
        own: Option<&InstrumentUsed>,
        case: &Case,
    ) -> Option<(Shown, ToolErrors)> {
        if !table.has(&r::SHUT) || !table.has(&r::BESIDE) {
            self.blank += 1;
            return None;
        }
        let (shut, shut_within) = self.value(table, &r::SHUT, true, own)?;
        let (beside, beside_within) = self.value(table, &r::BESIDE, true, own)?;
        if !(0.0 < beside && beside < shut) {
            let message = format!(
                "{}: the pressure beside the hole, {beside:.0} Pa, does not lie between nought and that with everything shut, {shut:.0} Pa",
                table.address
            );
            let way_out = "shut is read first, with everything taped; beside, lower, once the hole is open: see whether they, or the taps, are swapped";
            self.fault("hole-out-of-order", message, table.place_of(&r::BESIDE).into(), way_out);
            return None;
        }
        let gauge = Quantity::Difference { of: GaugeEnd::StillAir, over: GaugeEnd::StillAir }.tool(case);
        let usual = own.and_then(|own| own.within).unwrap_or(gauge.within);
        let off = |value: f64, within: Option<f64>| within.unwrap_or(usual) / value;
        let left = beside / shut;
        let within = left * off(shut, shut_within).hypot(off(beside, beside_within));
        Some((Shown::Value { value: left, within }, ToolErrors { within, ..ToolErrors::default() }))
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

    /// The instrument of a reading, or of the columns of a run; none of it where it was faulted. In a run in time its lag is
    /// reckoned with.
    pub(super) fn instrument(
        &mut self,
        table: &Values,
        key: &Key,
        pressure: bool,
        held: Option<f64>,
        in_time: bool,
    ) -> Option<Option<usize>> {
        let Some(name) = table.text(key) else { return Some(None) };
        let place: FaultPlace = table.place_of(key).into();
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
        if !in_time && lag > 0.0 && held.is_none_or(|held| held < LAGS * lag) {
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

/// Whether it is read with a gauge of pressures.
fn is_pressure(table: &Values) -> bool {
    table.has(&r::BETWEEN) || table.has(&r::HOLE)
}

/// What turns the number of a reading into kelvins or pascals; none where it is of another kind.
fn factor(fact: &Fact, pressure: bool, instrument: Option<&InstrumentUsed>) -> Option<f64> {
    match (fact.kind, pressure) {
        (Kind::Temperature, false) | (Kind::Pressure, true) => Some(1.0),
        (Kind::Length, true) => instrument.and_then(|own| own.per_metre),
        _ => None,
    }
}

/// A reading as it was written.
fn written(test: &Node, table: &Values) -> String {
    let SourceLocation::File(span) = &table.place else { return String::new() };
    let members = test.get("reading").map_or(&[][..], Node::members);
    let Some(node) = members.iter().find(|member| member.span == *span) else { return String::new() };
    let text = |key: &Key| node.get(key.name).and_then(Node::text);
    if let (Some(shut), Some(beside)) = (text(&r::SHUT), text(&r::BESIDE)) {
        return format!("{} of {}", beside.trim(), shut.trim());
    }
    match (text(&r::SHOWS), text(&r::TURNED), text(&r::UNTURNED)) {
        (Some(shows), ..) => shows.trim().to_string(),
        (None, Some(turned), Some(unturned)) => format!("{} turned, {} not", turned.trim(), unturned.trim()),
        (None, Some(turned), None) => format!("{} turned, the highest", turned.trim()),
        (None, None, Some(unturned)) => format!("{} not turned, the lowest", unturned.trim()),
        (None, None, None) => String::new(),
    }
}
