//! What a study finds, in the shape in which `--json` gives it: SI units, the unit in the key.

use crate::case::Warning;
use serde::Serialize;
use std::collections::BTreeMap;

/// Everything that one run has to say of a case.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// Grammar of the case file.
    pub format: u32,
    /// Title of the case.
    pub title: Option<String>,
    /// State of the design.
    pub revision: Option<String>,
    /// Date, author and remarks of the case.
    pub date: Option<String>,
    /// Who wrote the case.
    pub author: Option<String>,
    /// SHA-256 of the case file's bytes.
    pub case_sha256: String,
    /// The program.
    pub program: Program,
    /// What was set on the command line.
    pub set: Vec<Setting>,
    /// Warnings.
    pub warnings: Vec<Warning>,
    /// Defaults that were used.
    pub defaults: Vec<DefaultUsed>,
    /// Solved conditions.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub conditions: Vec<Condition>,
    /// How much of the answer rests on guesses.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<super::doubt::result::Doubt>,
    /// What each guess is worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shares: Vec<super::doubt::shares::Worth>,
    /// What could be read off the car, and what that is worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<super::doubt::worth::ReadingWorth>,
    /// The next best reading, and the next best two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next: Option<super::doubt::worth::Next>,
    /// By which margin guesses and readings are ranked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ranked: Option<super::doubt::shares::Ranked>,
    /// What is usual, nobody wrote down, and would cost kelvins.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unwritten: Vec<super::offers::Offer>,
    /// For each fan, the road speed from which the ram before it pushes more than it does.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ram_over_fan: Vec<super::ram_over_fan::RamOverFan>,
    /// What ten millimetres more between skin and inlet are worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stand_off: Vec<super::stand_off::StandOff>,
    /// The dearest sudden changes of area that nobody wrote, and what would help.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sudden_changes: Vec<super::sudden::SuddenChange>,
    /// Worst condition of each part.
    #[serde(skip_serializing_if = "Named::is_empty")]
    pub worst: Named<Worst>,
    /// Worst point of each part over speed, gear, load, clear air and day.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub everywhere: Vec<super::everywhere::result::WorstPoint>,
    /// How much of that rests on guesses: the same cars at all of these points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub everywhere_doubt: Option<super::doubt::result::Doubt>,
    /// What was searched for them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub everywhere_within: Option<super::everywhere::result::Within>,
    /// Stints that were run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stints: Vec<super::lap::result::Stint>,
    /// Sizes found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sizes: Option<Sizes>,
    /// Margin against speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sweep: Option<Sweep>,
    /// Where a number came from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<super::why::result::Why>,
    /// The trade behind an exit size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exits: Option<super::exits::result::Exits>,
}

/// Name and version of the program.
#[derive(Clone, Debug, Serialize)]
pub struct Program {
    /// Name.
    pub name: &'static str,
    /// Version.
    pub version: &'static str,
}

/// An address set on the command line.
#[derive(Clone, Debug, Serialize)]
pub struct Setting {
    /// The address.
    pub address: String,
    /// The text of its value.
    pub value: String,
}

/// A default that was used.
#[derive(Clone, Debug, Serialize)]
pub struct DefaultUsed {
    /// Its address.
    pub key: String,
    /// The value taken.
    pub value: String,
    /// Low end of the probable band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Where both are from.
    pub source: String,
    /// What it stands for and how to measure it.
    pub measure: &'static str,
}

/// Things by name, in the order of the case.
#[derive(Clone, Debug, Default)]
pub struct Named<T>(pub Vec<(String, T)>);

impl<T> Named<T> {
    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The one of a name.
    pub fn get(&self, name: &str) -> Option<&T> {
        self.0.iter().find(|(known, _)| known == name).map(|(_, value)| value)
    }

    /// All, with their names.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &T)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }
}

impl<T: Serialize> Serialize for Named<T> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, value)| (name, value)))
    }
}

/// A solved condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Condition {
    /// Name.
    pub name: String,
    /// Road speed.
    pub speed_m_s: f64,
    /// Engine speed.
    pub rpm: f64,
    /// Gear, where the condition names one.
    pub gear: Option<usize>,
    /// Load.
    pub load: f64,
    /// Dynamic pressure.
    pub dynamic_pressure_Pa: f64,
    /// Density of the day's air.
    pub air_density_kg_m3: f64,
    /// Temperature of the day's air.
    pub air_temperature_C: f64,
    /// Power correction factor of the day's air.
    pub air_factor: f64,
    /// Air over fuel by mass.
    pub air_fuel_ratio: Option<f64>,
    /// Brake power.
    pub brake_power_W: f64,
    /// Heat of the fuel.
    pub fuel_power_W: f64,
    /// Heat to each part and chamber, at the temperatures found.
    pub heat_to: Named<f64>,
    /// Passages.
    pub passages: Vec<Passage>,
    /// Chambers.
    pub chambers: Vec<Chamber>,
    /// Parts.
    pub parts: Vec<Part>,
    /// The carburettor.
    pub carburettor: Option<Carburettor>,
    /// Cooling drag.
    pub cooling_drag_N: f64,
    /// Cooling drag over dynamic pressure.
    pub cooling_drag_area_m2: Option<f64>,
    /// Cooling drag times road speed.
    pub cooling_power_W: f64,
    /// Shaft power of all fans.
    pub fan_power_W: f64,
    /// Fans.
    pub fans: Vec<FanTurning>,
    /// Part temperatures of another steady state of the same moment, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other_state: Option<Named<f64>>,
    /// Whether lower limits count as missed here.
    pub warm: bool,
    /// Largest relative error of any balance.
    pub residual: f64,
}

/// A fan as it turns.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct FanTurning {
    /// The passage it stands in.
    pub passage: String,
    /// Its address.
    pub address: String,
    /// Its speed.
    pub rpm: f64,
    /// Speed of its blade tips.
    pub tip_speed_m_s: Option<f64>,
    /// Its speed over that of its curve or measured point; none for a wheel's usual curve.
    pub over_reference: Option<f64>,
    /// Volume flow through it at its own density, all pieces together, from the passage's beginning to its end.
    pub flow_m3_s: f64,
    /// Its push; below zero where it stands in the way.
    pub push_Pa: f64,
    /// Power that it gives the air; nothing where it does not push.
    pub air_power_W: f64,
    /// Power at its shaft.
    pub shaft_power_W: f64,
}

/// A passage of a solved condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Passage {
    /// Name.
    pub name: String,
    /// Where it begins.
    pub from: String,
    /// Where it ends.
    pub to: String,
    /// How many alike.
    pub count: usize,
    /// Mass flow of all together.
    pub mass_flow_kg_s: f64,
    /// Whether the air runs back.
    pub reversed: bool,
    /// Temperature of the air that leaves.
    pub outlet_temperature_C: f64,
    /// Elements, in the order of the file.
    pub elements: Vec<Element>,
    /// Velocity head lost where the air leaves.
    pub last_velocity_head_Pa: f64,
}

impl Passage {
    /// The elements that the file writes, in its order: sudden changes of area left aside.
    pub fn written(&self) -> impl DoubleEndedIterator<Item = &Element> {
        self.elements.iter().filter(|element| !element.implied)
    }
}

impl Element {
    /// Its kind in words; a sudden change of area that nobody wrote has a word of its own.
    pub fn word(&self) -> String {
        if self.implied { SUDDEN_CHANGE.to_string() } else { self.kind.replace('-', " ") }
    }
}

/// What a change of area that the file leaves to be charged is called wherever elements are told by kind.
pub const SUDDEN_CHANGE: &str = "sudden change";

/// An element of a passage.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Element {
    /// Kind.
    pub kind: &'static str,
    /// Whether it is a sudden change of area that the file leaves to be charged: a "step" without an address.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub implied: bool,
    /// Of an implied change: whether the air, as it runs, meets a larger area there.
    #[serde(skip)]
    pub widens: Option<bool>,
    /// Its segment of the address, where it has a name of its own.
    pub name: Option<String>,
    /// The part it cools, where it cools one.
    pub part: Option<String>,
    /// How many alike stand side by side in one passage.
    pub count: usize,
    /// Open area of one.
    pub area_m2: Option<f64>,
    /// Speed of the air on that area.
    pub velocity_m_s: Option<f64>,
    /// Loss of total pressure along the motion.
    pub loss_Pa: f64,
    /// What drives the air from the passage's `from` to its `to`.
    pub push_Pa: f64,
    /// Temperature of the air behind it.
    pub outlet_temperature_C: f64,
}

/// A chamber.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Chamber {
    /// Name.
    pub name: String,
    /// Static pressure over that of the day.
    pub gauge_pressure_Pa: f64,
    /// The same over the dynamic pressure.
    pub pressure_coefficient: Option<f64>,
    /// Temperature of the mixed air.
    pub temperature_C: f64,
    /// Whether its air stands: less than a milligramme a second passes through.
    pub stands: bool,
    /// Whether it stands, is heated, and its walls take nothing, so that its temperature has no end.
    pub without_end: bool,
}

/// A part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Part {
    /// Name.
    pub name: String,
    /// Temperature.
    pub temperature_C: f64,
    /// Working limit; infinite, in JSON null, where it has none.
    pub limit_C: f64,
    /// Limit less temperature; infinite, in JSON null, where there is no limit.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<super::doubt::result::Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible"; in JSON null where it has no limit.
    #[serde(serialize_with = "or_null")]
    pub margin_is: &'static str,
    /// Air needed.
    pub required_flow_kg_s: Option<f64>,
    /// Air through its elements.
    pub flow_kg_s: f64,
    /// Whether it is colder than its lower limit.
    pub below_least: bool,
    /// Its lower limit.
    pub least_C: Option<f64>,
    /// Where the limit is measured.
    pub measured_at: Option<String>,
}

impl Part {
    /// Whether something is asked of it; a store of heat has no limit.
    pub fn has_limit(&self) -> bool {
        self.limit_C.is_finite()
    }
}

/// The word of a margin, null where there is no limit.
fn or_null<S: serde::Serializer>(word: &&'static str, serializer: S) -> Result<S::Ok, S::Error> {
    (*word != super::describe::NO_LIMIT).then_some(*word).serialize(serializer)
}

/// The air at the carburettor.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Carburettor {
    /// Mass flow.
    pub mass_flow_kg_s: f64,
    /// Total pressure over that of the day.
    pub total_gauge_pressure_Pa: f64,
    /// Temperature.
    pub temperature_C: f64,
    /// Density.
    pub density_kg_m3: f64,
    /// Power there over power in the day's air.
    pub power_factor: f64,
}

/// The worst condition of a part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Worst {
    /// The condition.
    pub condition: String,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: &'static str,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}

pub use super::size::result::{AsGood, LimitedBy, ScaledNumber, SizedOpening, Sizes};

/// Margin against speed.
#[derive(Clone, Debug, Serialize)]
pub struct Sweep {
    /// Load at every speed.
    pub load: f64,
    /// Points in order of speed.
    pub points: Vec<SweepPoint>,
    /// The lowest point of each part.
    pub lowest: Named<Lowest>,
    /// Speeds at which no steady state was found.
    pub unsolved_m_s: Vec<f64>,
}

/// A point of a sweep.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct SweepPoint {
    /// Road speed.
    pub speed_m_s: f64,
    /// Gear.
    pub gear: usize,
    /// Engine speed.
    pub rpm: f64,
    /// Parts.
    pub parts: Named<SweepPart>,
    /// Cooling drag.
    pub cooling_drag_N: f64,
    /// What drives the air (ram, suction, fan), weighted with the flow.
    pub gives_Pa: BTreeMap<&'static str, f64>,
    /// What takes the pressure, by kind of element, weighted with the flow.
    pub takes_Pa: BTreeMap<&'static str, f64>,
}

/// A part at a point of a sweep.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct SweepPart {
    /// Temperature.
    pub temperature_C: f64,
    /// Limit less temperature; infinite, in JSON null, where there is no limit.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band, at some of the speeds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<super::doubt::result::Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible"; in JSON null where it has no limit.
    #[serde(serialize_with = "or_null")]
    pub margin_is: &'static str,
}

/// The lowest point of a part over a sweep.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Lowest {
    /// Road speed.
    pub speed_m_s: f64,
    /// Gear.
    pub gear: usize,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: &'static str,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}
