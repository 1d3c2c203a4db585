//! The picture of the air: a solved condition as a plan of rooms and channels.

use super::charts::{AirPicture, Channel, ChannelEnd, ChartRoom};
use super::curves::{CAUTION, subtitle};
use super::text::way::{labels, what_runs_back};
use super::text::words;
use crate::air::moist::DRY_HEAT_CAPACITY;
use crate::element::{Sign, kind};
use crate::point::result::{ChamberResult, Condition, Element, PassageResult, STILL};
use crate::study::document::Report;

/// Heat below which nothing is said of it (W).
const WORTH_A_WORD: f64 = 50.0;

/// The air of one condition. Widths and lightness are to one scale with the other conditions `among` which it stands.
pub fn picture(report: &Report, condition: &Condition, among: &[Condition]) -> AirPicture {
    let all = || among.iter().chain(std::iter::once(condition));
    let widest_flow =
        all().flat_map(|c| &c.passages).map(|passage| passage.mass_flow_kg_s.abs()).fold(0.0, f64::max);
    let temperatures = all().flat_map(|c| {
        let passages = c.passages.iter().map(|passage| passage.outlet_temperature_C);
        let chambers = c.chambers.iter().map(|chamber| chamber.temperature_C);
        passages.chain(chambers).chain(std::iter::once(c.air_temperature_C))
    });
    let warmth =
        temperatures.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| (low.min(t), high.max(t)));
    let engine = condition.passages.iter().any(|passage| passage.to == "engine");
    let mut rooms: Vec<ChartRoom> = condition.chambers.iter().map(|each| chamber(condition, each)).collect();
    if engine {
        rooms.push(engine_room(condition));
    }
    let end = |name: &str| match condition.chambers.iter().position(|chamber| chamber.name == name) {
        Some(chamber) => ChannelEnd::Room(chamber),
        None if name == "engine" && engine => ChannelEnd::Room(condition.chambers.len()),
        None => ChannelEnd::Outside,
    };
    let channels = condition.passages.iter().map(|passage| {
        let way = PassageAir::of(condition, passage);
        Channel {
            name: passage.name.clone(),
            lines: way.lines(),
            warning: way.warning(),
            from: end(&passage.from),
            to: end(&passage.to),
            pieces: passage.count,
            flow: way.flow(),
            temperatures: if way.back { (way.leaves, way.enters) } else { (way.enters, way.leaves) },
            signs: passage.elements.iter().filter_map(sign).collect(),
        }
    });
    AirPicture {
        title: format!("The air in {}: {}", words::name(&condition.name), title(report)),
        subtitle: subtitle(report),
        outside: outside(condition),
        rooms,
        channels: channels.collect(),
        widest_flow,
        warmth: Some(warmth),
        scale: scale(widest_flow),
        footnotes: vec![
            "Drawn by how the air is led, left to right as the case is written; no map of the car. A channel is as wide as its flow and as dark as its air is warm.".to_string(),
            "Pressures are over that of the day: at an inlet what the stream offers there, at an exit what the body's surface sets against it. g/s are of all alike together; what a room takes up comes from pipes, casings and parts in it.".to_string(),
            CAUTION.to_string(),
        ],
        description: description(condition),
    }
}

fn title(report: &Report) -> &str {
    report.title.as_deref().unwrap_or("untitled case")
}

/// Loss from which a sudden change of area is drawn (Pa).
const SUDDEN: f64 = 5.0;

fn sign(element: &Element) -> Option<Sign> {
    if element.implied {
        return (element.loss_Pa >= SUDDEN).then_some(Sign::Sudden);
    }
    kind(element.kind)?.sign
}

/// A round flow for the key: about a fifth of the widest.
fn scale(widest: f64) -> Option<(f64, String)> {
    let fifth = widest / 5.0;
    if fifth <= 0.0 || !fifth.is_finite() {
        return None;
    }
    let decade = 10.0_f64.powf(fifth.log10().floor());
    let round = [5.0, 2.0, 1.0].into_iter().map(|step| step * decade).find(|flow| *flow <= fifth)?;
    Some((round, format!("this wide: {} g/s", words::grams(round))))
}

/// "Outside: 33 °C, 41 km/h, gear 1, 3900 rpm, load 34 %, dynamic pressure 75 Pa".
fn outside(condition: &Condition) -> String {
    let gear = condition.gear.map_or(String::new(), |gear| format!("gear {gear}, "));
    format!(
        "Outside: {}, {}, {gear}{} rpm, load {}, dynamic pressure {}",
        words::celsius(condition.air_temperature_C),
        words::speed(condition.speed_m_s),
        words::whole(condition.rpm),
        words::share(condition.load),
        words::pascals(condition.dynamic_pressure_Pa)
    )
}

fn find<'c>(condition: &'c Condition, name: &str) -> Option<&'c ChamberResult> {
    condition.chambers.iter().find(|chamber| chamber.name == name)
}

fn chamber(condition: &Condition, chamber: &ChamberResult) -> ChartRoom {
    let mut lines = vec![
        words::pascals(chamber.gauge_pressure_Pa),
        format!("air {}", words::celsius(chamber.temperature_C)),
    ];
    let heat = heat_in(condition, chamber);
    if heat > WORTH_A_WORD {
        lines.push(format!("takes up {} kW", words::kilowatts(heat)));
    } else if heat < -WORTH_A_WORD {
        lines.push(format!("loses {} kW", words::kilowatts(-heat)));
    }
    ChartRoom { name: chamber.name.clone(), lines, temperature: Some(chamber.temperature_C), engine: false }
}

/// What the air takes up in a chamber beside what it brings (W): pipes, casings and the skins of parts, less what its walls lose.
fn heat_in(condition: &Condition, chamber: &ChamberResult) -> f64 {
    let brings = condition.passages.iter().filter(|passage| {
        let end = if passage.mass_flow_kg_s >= 0.0 { &passage.to } else { &passage.from };
        *end == chamber.name
    });
    brings
        .map(|passage| {
            passage.mass_flow_kg_s.abs()
                * DRY_HEAT_CAPACITY
                * (chamber.temperature_C - passage.outlet_temperature_C)
        })
        .sum()
}

fn engine_room(condition: &Condition) -> ChartRoom {
    let mut room = ChartRoom { name: "engine".to_string(), engine: true, ..ChartRoom::default() };
    if let Some(carburettor) = &condition.carburettor {
        if carburettor.mass_flow_kg_s.abs() < STILL {
            room.lines.push("draws no air".to_string());
            return room;
        }
        room.lines.push(format!("draws {} g/s", words::grams(carburettor.mass_flow_kg_s)));
        room.lines.push(words::pascals(carburettor.total_gauge_pressure_Pa));
        room.lines.push(format!("air {}", words::celsius(carburettor.temperature_C)));
        room.temperature = Some(carburettor.temperature_C);
    }
    room
}

/// A passage as its air meets it.
struct PassageAir<'c> {
    condition: &'c Condition,
    passage: &'c PassageResult,
    /// Whether the air runs from `to` to `from`.
    back: bool,
    /// Temperatures of the air where it comes in and where it goes out (°C).
    enters: f64,
    leaves: f64,
}

impl<'c> PassageAir<'c> {
    fn of(condition: &'c Condition, passage: &'c PassageResult) -> PassageAir<'c> {
        let back = passage.reversed;
        let mut run =
            PassageAir { condition, passage, back, enters: f64::NAN, leaves: passage.outlet_temperature_C };
        run.enters = run.before(0);
        if run.stands() {
            run.leaves = run.enters;
        }
        run
    }

    fn stands(&self) -> bool {
        self.passage.mass_flow_kg_s.abs() < STILL
    }

    fn flow(&self) -> f64 {
        if self.stands() { 0.0 } else { self.passage.mass_flow_kg_s }
    }

    /// Elements in the order in which the air meets them.
    fn met(&self) -> Vec<(&'c Element, String)> {
        let mut met: Vec<_> = self.passage.elements.iter().zip(labels(self.passage)).collect();
        if self.back {
            met.reverse();
        }
        met
    }

    /// Temperature of the air that meets an element, counted along its motion.
    fn before(&self, index: usize) -> f64 {
        if let Some(before) = index.checked_sub(1) {
            return self.met()[before].0.outlet_temperature_C;
        }
        let from = if self.back { &self.passage.to } else { &self.passage.from };
        if let Some(chamber) = find(self.condition, from) {
            return chamber.temperature_C;
        }
        // an inlet gives its air no heat: behind it stands what came in, air drawn in again included
        match self.met().first() {
            Some((element, _)) if element.part.is_none() => element.outlet_temperature_C,
            _ => self.condition.air_temperature_C,
        }
    }

    /// Pressure at the end where the air comes in (`first`) or goes out (Pa).
    fn pressure(&self, first: bool) -> f64 {
        let at_begin = first != self.back;
        let name = if at_begin { &self.passage.from } else { &self.passage.to };
        if let Some(chamber) = find(self.condition, name) {
            return chamber.gauge_pressure_Pa;
        }
        let elements = &self.passage.elements;
        if name == "engine" {
            let sum: f64 = elements.iter().map(|e| e.push_Pa - e.loss_Pa).sum();
            let begin = find(self.condition, &self.passage.from).map_or(0.0, |c| c.gauge_pressure_Pa);
            return begin + sum;
        }
        let opening = if at_begin { elements.first() } else { elements.last() };
        match opening {
            Some(element) if !is_fan(element) => {
                if at_begin {
                    element.push_Pa
                } else {
                    -element.push_Pa
                }
            }
            _ => 0.0,
        }
    }

    /// Heat that the parts in it give to the air (W), by part.
    fn heats(&self) -> Vec<(&'c str, f64)> {
        let mut heats: Vec<(&str, f64)> = Vec::new();
        for (index, (element, _)) in self.met().iter().enumerate() {
            let Some(part) = element.part.as_deref() else { continue };
            let heat = self.passage.mass_flow_kg_s.abs()
                * DRY_HEAT_CAPACITY
                * (element.outlet_temperature_C - self.before(index));
            match heats.iter_mut().find(|(name, _)| *name == part) {
                Some((_, sum)) => *sum += heat,
                None => heats.push((part, heat)),
            }
        }
        heats
    }

    fn warning(&self) -> String {
        if self.stands() {
            return String::new();
        }
        match self.back {
            true => format!("Runs backwards: {}", what_runs_back(self.condition, self.passage)),
            false => String::new(),
        }
    }

    fn lines(&self) -> Vec<String> {
        if self.stands() {
            return vec!["the air stands in it".to_string()];
        }
        let flow = words::grams(self.passage.mass_flow_kg_s);
        let (enters, leaves) = (words::whole(self.enters), words::celsius(self.leaves));
        let air = if enters == words::whole(self.leaves) {
            format!("{flow} g/s at {leaves}")
        } else {
            format!("{flow} g/s, {enters} → {leaves}")
        };
        let mut lines = vec![air, self.pressures()];
        for (part, heat) in self.heats() {
            let give = if words::is_plural(part) { "give" } else { "gives" };
            lines.push(format!("{part} {give} {} kW", words::kilowatts(heat)));
        }
        lines
    }

    /// "from 4, fan adds 783, to 69 Pa".
    fn pressures(&self) -> String {
        let direction = if self.back { -1.0 } else { 1.0 };
        let fans: f64 =
            self.passage.elements.iter().filter(|e| is_fan(e)).map(|e| direction * e.push_Pa).sum();
        let fan = match words::whole(fans.abs()) {
            nothing if nothing == "0" => String::new(),
            size if fans > 0.0 => format!(", fan adds {size},"),
            size => format!(", fan takes {size},"),
        };
        let (from, to) = (words::whole(self.pressure(true)), words::pascals(self.pressure(false)));
        format!("from {from}{fan} to {to}")
    }
}

/// Everything in sentences.
fn description(condition: &Condition) -> String {
    let mut parts = vec![format!("Plan of the air. {}.", outside(condition))];
    for chamber in &condition.chambers {
        parts.push(format!(
            "{}: {}, air {}.",
            words::sentence(&chamber.name),
            words::pascals(chamber.gauge_pressure_Pa),
            words::celsius(chamber.temperature_C)
        ));
    }
    for passage in &condition.passages {
        let run = PassageAir::of(condition, passage);
        let warning = match run.warning() {
            none if none.is_empty() => none,
            warning => format!("{}; ", warning.to_lowercase()),
        };
        let count = if passage.count > 1 { format!("{} alike, ", passage.count) } else { String::new() };
        parts.push(format!(
            "{}, {count}from {} to {}: {warning}{}.",
            words::sentence(&passage.name),
            passage.from,
            passage.to,
            run.lines().join("; ")
        ));
    }
    if let Some(carburettor) = &condition.carburettor {
        parts.push(format!("The engine draws {} g/s.", words::grams(carburettor.mass_flow_kg_s)));
    }
    parts.join(" ")
}

fn is_fan(element: &Element) -> bool {
    kind(element.kind).is_some_and(|kind| kind.is_fan())
}
