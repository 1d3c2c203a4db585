//! A condition as it was solved, in the shape in which `--json` gives it: SI units, the unit in the key.

use crate::element::Role;
use crate::keys::word::words;
use crate::thermal::MarginIs;
use serde::Serialize;

words! {
    /// What an opening does.
    pub enum OpeningRole {
        /// Air goes in.
        Inlet = "inlet",
        /// Air goes out.
        Exit = "exit",
    }
}

impl OpeningRole {
    /// Of what may stand anywhere in a passage, what is an opening.
    pub(crate) fn of(role: Role) -> Option<OpeningRole> {
        match role {
            Role::Inlet => Some(OpeningRole::Inlet),
            Role::Exit => Some(OpeningRole::Exit),
            _ => None,
        }
    }
}

/// Flow below which a passage does not count as running back (kg/s).
pub const STILL: f64 = 1e-6;
/// Where a margin lies: 5 in 100 below `p05`, half below `p50`, 5 in 100 above `p95` (K).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Band {
    /// Low end.
    pub p05: f64,
    /// Middle.
    pub p50: f64,
    /// High end.
    pub p95: f64,
}

/// An address and the text of a value for it.
#[derive(Clone, Debug, Serialize)]
pub struct Setting {
    pub address: String,
    /// The text of its value.
    pub value: String,
}

/// Things by name, in the order of the case.
#[derive(Clone, Debug)]
pub struct ByName<T>(pub Vec<(String, T)>);

impl<T> Default for ByName<T> {
    fn default() -> ByName<T> {
        ByName(Vec::new())
    }
}

impl<T> ByName<T> {
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

impl<T: Serialize> Serialize for ByName<T> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, value)| (name, value)))
    }
}

/// A solved condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Condition {
    pub name: String,
    /// Road speed.
    pub speed_m_s: f64,
    /// Engine speed.
    pub rpm: f64,
    /// Gear, where the condition names one.
    pub gear: Option<usize>,
    pub load: f64,
    pub dynamic_pressure_Pa: f64,
    /// Density of the day's air.
    pub air_density_kg_m3: f64,
    /// Temperature of the day's air.
    pub air_temperature_C: f64,
    /// Power correction factor of the day's air.
    pub air_factor: f64,
    /// Air over fuel by mass.
    pub air_fuel_ratio: Option<f64>,
    pub brake_power_W: f64,
    /// Heat of the fuel.
    pub fuel_power_W: f64,
    /// Heat to each part and chamber, at the temperatures found.
    pub heat_to: ByName<f64>,
    pub passages: Vec<PassageResult>,
    pub chambers: Vec<ChamberResult>,
    pub parts: Vec<PartResult>,
    pub carburettor: Option<Carburettor>,
    pub cooling_drag_N: f64,
    /// Cooling drag over dynamic pressure.
    pub cooling_drag_area_m2: Option<f64>,
    /// Cooling drag times road speed.
    pub cooling_power_W: f64,
    /// Shaft power of all fans.
    pub fan_power_W: f64,
    pub fans: Vec<FanTurning>,
    /// Part temperatures of another steady state of the same moment, where there is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other_state: Option<ByName<f64>>,
    /// Whether lower limits count as missed here.
    pub warm: bool,
    /// Largest relative error of any balance.
    pub residual: f64,
}

impl Condition {
    /// The least that any part keeps under its limit (K); infinite where none has one.
    pub fn least_kelvins(&self) -> f64 {
        self.parts.iter().map(|part| part.temperature_margin_K).fold(f64::INFINITY, f64::min)
    }
}

/// A fan as it turns.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct FanTurning {
    /// The passage it stands in.
    pub passage: String,
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
pub struct PassageResult {
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

impl PassageResult {
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

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct ChamberResult {
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

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartResult {
    pub name: String,
    pub temperature_C: f64,
    /// Working limit; infinite, in JSON null, where it has none.
    pub limit_C: f64,
    /// Limit less temperature; infinite, in JSON null, where there is no limit.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible"; in JSON null where it has no limit.
    #[serde(serialize_with = "or_null")]
    pub margin_is: MarginIs,
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

impl PartResult {
    /// Whether something is asked of it; a store of heat has no limit.
    pub fn has_limit(&self) -> bool {
        self.limit_C.is_finite()
    }
}

/// The word of a margin, null where there is no limit.
pub(crate) fn or_null<S: serde::Serializer>(is: &MarginIs, serializer: S) -> Result<S::Ok, S::Error> {
    (*is != MarginIs::NoLimit).then_some(*is).serialize(serializer)
}

/// The air at the carburettor.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Carburettor {
    pub mass_flow_kg_s: f64,
    /// Total pressure over that of the day.
    pub total_gauge_pressure_Pa: f64,
    pub temperature_C: f64,
    pub density_kg_m3: f64,
    /// Power there over power in the day's air.
    pub power_factor: f64,
}

/// What a part keeps under its limit in a condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct ConditionMargin {
    pub part: String,
    pub condition: String,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}

/// The worst condition of a part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Worst {
    pub condition: String,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: MarginIs,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}
