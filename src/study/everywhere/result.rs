//! The worst points of a search, as a result shows them.

use crate::keys::word::words;
use crate::point::result::Band;
use crate::thermal::MarginIs;
use serde::Serialize;

words! {
    /// What a point is searched over.
    pub enum PointAxis {
        Speed = "speed",
        Gear = "gear",
        Load = "load",
        ClearAir = "clear air",
        Day = "day",
    }
}

/// The worst point of one part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct WorstPoint {
    pub part: String,
    /// Road speed.
    pub speed_m_s: f64,
    /// Gear, 1 the first.
    pub gear: usize,
    /// Engine speed.
    pub rpm: f64,
    /// Share of full-throttle power.
    pub load: f64,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: MarginIs,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// Temperature of the part.
    pub temperature_C: f64,
    /// Whose day it is: that of `[day]`, or of a condition.
    pub day: String,
    /// The condition, by its index.
    #[serde(skip)]
    pub day_of: Option<usize>,
    /// Temperature of that day's air.
    pub air_temperature_C: f64,
    /// What makes it worst, the largest first: each put right on its own.
    pub because: Vec<Reason>,
    /// Passages of the part's own air that run back there.
    pub runs_back: Vec<String>,
    /// Where the margin is missed: the load up to which it is met there, all else alike; null where
    /// no load would do.
    pub met_up_to_load: Option<f64>,
    /// Where the margin is missed: how long the point may be held until the limit is reached (s), coming from the
    /// condition that keeps most everywhere; null where heat capacities are missing or it takes more than an hour.
    pub limit_after_s: Option<f64>,
    /// That condition.
    pub limit_from: Option<String>,
    /// Where the part is hottest, if that is at another point: a part whose air stands need not be.
    pub fewest_kelvins: Option<HottestPoint>,
    /// The worst of the case's own conditions for that part.
    pub worst_condition: Option<AtCondition>,
}

/// One thing that makes a point worse than it need be.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct Reason {
    /// What it is.
    pub what: PointAxis,
    /// What it is there, in words.
    pub here: String,
    /// The best it can be within the bounds, in words.
    pub instead: String,
    /// By how much the part would be colder with that alone.
    pub gain_K: f64,
}

/// The point at which a part is hottest.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct HottestPoint {
    /// Road speed.
    pub speed_m_s: f64,
    /// Gear, 1 the first.
    pub gear: usize,
    /// Share of full-throttle power.
    pub load: f64,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// Whose day it is.
    pub day: String,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
}

/// How a part fares in a condition of the case.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct AtCondition {
    pub condition: String,
    /// Whether the car stands there.
    pub standing: bool,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
    /// Whether the condition is worse than all that was searched.
    pub worse: bool,
}

/// What was searched.
#[derive(Clone, Debug, Serialize)]
pub struct Within {
    /// Gears with the road speeds at which each was searched.
    pub gears: Vec<GearSearched>,
    /// Least and most load.
    pub load: [f64; 2],
    /// Least and most share of the dynamic pressure left.
    pub clear_air: [f64; 2],
    pub days: Vec<DaySearched>,
    /// Points that were solved.
    pub solved: usize,
    /// Points at which no steady state was found.
    pub unsolved: usize,
}

/// A gear and the speeds at which it was searched.
#[derive(Clone, Debug, Serialize)]
pub struct GearSearched {
    /// Gear, 1 the first.
    pub gear: usize,
    /// Lowest road speed.
    pub from_m_s: f64,
    /// Highest road speed.
    pub to_m_s: f64,
}

/// A day that was searched.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct DaySearched {
    /// Whose day it is.
    pub day: String,
    pub air_temperature_C: f64,
}
