//! What the study of the exits finds, in the shape in which `--json` gives it.

use crate::case::Warning;
use crate::draws::doubt::PartDecides;
use crate::keys::word::words;
use crate::point::result::{Band, ByName, ConditionMargin};
use serde::Serialize;

words! {
    /// A size of the exits that has a name.
    pub enum ExitSize {
        Drawn = "drawn",
        Smallest = "smallest that will do",
        Knee = "knee",
        Largest = "largest that will do",
        Pointless = "nothing gained beyond",
    }
}

words! {
    /// What may happen to an exit.
    pub enum ExitFailure {
        Blocked = "blocked",
        BlownInto = "blown into",
    }
}

/// The trade behind an exit size.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Exits {
    /// From exits too small to exits larger than is of use, in order of area.
    pub points: Vec<ExitPoint>,
    /// From here on one more cm² of exit saves less than one cm² of inlet.
    pub knee_m2: Option<f64>,
    /// The smallest exits with which the margins asked for can be reached, inlets re-sized.
    pub smallest_safe_m2: Option<f64>,
    /// The largest such; none where larger exits never do harm.
    pub largest_safe_m2: Option<f64>,
    /// The smallest exits with which they are reached, the inlets as drawn.
    pub smallest_safe_as_drawn_m2: Option<f64>,
    /// From here on larger exits gain next to nothing.
    pub pointless_m2: Option<f64>,
    /// Why each of these lies where it does.
    pub reasons: Reasons,
    /// The case as it stands.
    pub as_drawn: ExitPoint,
    /// Area of all inlets that go with the knee.
    pub inlet_area_at_knee_m2: Option<f64>,
    /// Inlets that go with the knee: area of one (m²).
    pub inlets_at_knee_m2: Option<ByName<f64>>,
    /// Warnings of the openings of the knee that the case as drawn does not have.
    pub warnings_at_knee: Vec<Warning>,
    /// Whether several exits change together, each keeping its share.
    pub shares_fixed: bool,
    /// The smallest area of them all that the bounds of each allow.
    pub least_m2: Option<f64>,
    /// The largest.
    pub most_m2: Option<f64>,
    /// The exits that change, their proportions kept.
    pub exits: Vec<Hole>,
    /// Exits that stay as they are.
    pub fixed_exits: Vec<Hole>,
    /// The inlets that are re-sized.
    pub inlets: Vec<Hole>,
    /// Whether `[size]` says which inlets are re-sized, and to what margins; else all of them, to
    /// margins of zero.
    pub inlets_from_size: bool,
    /// The conditions that count.
    pub conditions: Vec<String>,
    /// The condition whose cooling drag is given.
    pub drag_at: String,
    /// The chamber whose pressure and temperature are given: the one most of the exit area leaves.
    pub bay: Option<String>,
    /// Flows that turn round as the exits grow, the inlets as drawn.
    pub turns: Vec<Turn>,
    /// Margins that rise and fall, and what else is to be known, in words.
    pub remarks: Vec<String>,
    /// The same against the pressure coefficient, place by place.
    pub pressure: Vec<PressureTrade>,
    /// One exit blocked or blown into.
    pub what_if: Vec<WhatIf>,
    /// Margin over inlet and exit area.
    pub map: Option<Map>,
    /// How often the sizes that have a name hold, over all that the guesses may turn out to be.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub doubt: Vec<Chance>,
    /// The inlets as drawn, in finer steps, for the chart.
    #[serde(skip)]
    pub course: Vec<CourseStep>,
}

/// Reasons in words.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Reasons {
    pub knee: String,
    /// Of the smallest exits that will do.
    pub smallest_safe: String,
    /// Of the largest exits that will do.
    pub largest_safe: Option<String>,
    /// Of the point beyond which nothing is gained.
    pub pointless: String,
}

/// How often a size that has a name holds.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Chance {
    /// Its name.
    pub size: ExitSize,
    /// Area of all exits that change.
    pub exit_area_m2: f64,
    /// Area of the inlets that go with it; none as drawn.
    pub inlet_area_m2: Option<f64>,
    /// Share of the draws in which every part holds in every condition that counts.
    pub all_hold: f64,
    pub standard_error: f64,
    pub draws: usize,
    /// Where the least margin lies.
    pub least_K: Option<Band>,
    /// What has the least margin, the most frequent first.
    pub decides: Vec<PartDecides>,
}

/// One total exit area.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct ExitPoint {
    /// Area of all exits that change.
    pub exit_area_m2: f64,
    /// Area of the inlets then needed; none where no inlets will do.
    pub inlet_area_m2: Option<f64>,
    /// The least flow margin with the inlets as drawn; −1 where no air would do or all of it stands,
    /// none where no part needs air.
    pub least_margin: Option<f64>,
    /// The least distance to a limit, with the inlets as drawn.
    pub least_temperature_margin_K: f64,
    /// The part of that, and where.
    pub nearest: ConditionMargin,
    /// The part of the least margin.
    pub part: String,
    pub condition: String,
    /// Cooling drag with the inlets as drawn.
    pub cooling_drag_N: f64,
    /// Pressure of the bay in the condition of the least margin, the inlets as drawn.
    pub bay_pressure_Pa: Option<f64>,
    pub bay_temperature_C: Option<f64>,
    /// Whether the margins asked for can be reached by re-sizing the inlets.
    pub feasible: bool,
    /// Whether they are reached with the inlets as drawn.
    pub reached_as_drawn: bool,
    /// The inlets then needed: area of one (m²).
    pub inlets_m2: Option<ByName<f64>>,
}

/// An opening.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Hole {
    /// PASSAGE, or PASSAGE/ELEMENT.
    pub name: String,
    /// How many.
    pub count: usize,
    /// Area of one as drawn (m²).
    pub area_m2: f64,
    /// Where its air comes from.
    pub from: String,
    /// Pressure coefficient there, of an exit.
    pub pressure_coefficient: Option<f64>,
}

/// A flow that turns round.
#[derive(Clone, Debug, Serialize)]
pub struct Turn {
    pub passage: String,
    /// The part it cools.
    pub part: Option<String>,
    pub condition: String,
    /// The total exit area at which it stands (m²).
    pub exit_area_m2: f64,
    /// Whether it runs the right way above that area.
    pub forward_above: bool,
}

/// One step of the course with the inlets as drawn.
#[derive(Clone, Debug)]
pub struct CourseStep {
    /// Area of all exits that change (m²).
    pub exit_area: f64,
    /// For each part the least distance to its limit (K).
    pub kelvin: Vec<f64>,
    /// For each condition the bay's pressure (Pa) and temperature (°C).
    pub bay: Vec<Option<(f64, f64)>>,
    /// Cooling drag (N).
    pub drag: f64,
}

/// The trade against the pressure at one place.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PressureTrade {
    /// The address of the coefficient.
    pub address: String,
    /// The exits there.
    pub exits: Vec<String>,
    /// Where on the body, where the case says so.
    pub position: Option<String>,
    /// The coefficient of the case.
    pub pressure_coefficient: f64,
    /// Total exit area that all this is reckoned with, as in `exit_area_m2` of the points.
    pub exit_area_m2: f64,
    /// Of it at this place.
    pub area_here_m2: f64,
    /// Whether these are the openings as drawn; else the knee, its inlets re-sized.
    pub sizes_as_drawn: bool,
    /// The highest coefficient with which these openings reach the margins asked for; none where they
    /// never do, or always.
    pub keep_at_or_below: Option<f64>,
    /// Exit area to add here for 0.05 more, the inlets unchanged; none where no area makes up for it.
    pub exit_for_0_05_more_m2: Option<f64>,
    /// Inlet area to add for 0.05 more, the exits unchanged.
    pub inlet_for_0_05_more_m2: Option<f64>,
    /// The highest coefficient at which inlets re-sized within their bounds still do, the exits
    /// unchanged; none where there is no such end.
    pub possible_up_to: Option<f64>,
    /// The sentence for whoever does the aerodynamics.
    pub sentence: String,
    /// The trade.
    pub points: Vec<PressurePoint>,
}

/// One pressure coefficient.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PressurePoint {
    pub pressure_coefficient: f64,
    /// Area of the inlets then needed; none where no inlets will do.
    pub inlet_area_m2: Option<f64>,
    /// The least flow margin, inlets and exits unchanged.
    pub least_margin: Option<f64>,
    /// The least distance to a limit.
    pub least_temperature_margin_K: f64,
    pub cooling_drag_N: f64,
    /// Pressure of the bay in the condition of the least margin.
    pub bay_pressure_Pa: Option<f64>,
    pub bay_temperature_C: Option<f64>,
    /// Whether the margins asked for can be reached by re-sizing the inlets.
    pub feasible: bool,
}

/// One exit blocked or blown into.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct WhatIf {
    pub exit: String,
    /// What is done to it.
    pub what: ExitFailure,
    /// The coefficient it is blown into with.
    pub pressure_coefficient: Option<f64>,
    /// Whether the openings are those as drawn; else those of the knee.
    pub sizes_as_drawn: bool,
    /// The margins before.
    pub before: ExitOutcome,
    /// The margins then; none where the car cannot be solved so.
    pub then: Option<ExitOutcome>,
    /// Passages whose air then runs back in some condition, and did not before.
    pub turned_round: Vec<PassageRunsBack>,
    /// Why there is no answer.
    pub why_not: Option<String>,
}

/// A passage whose air runs back.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PassageRunsBack {
    pub passage: String,
    pub condition: String,
}

/// Margins in the conditions that count.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct ExitOutcome {
    /// The least flow margin, as in the points.
    pub least_margin: Option<f64>,
    /// The least distance to a limit.
    pub least_temperature_margin_K: f64,
    /// The part of the latter.
    pub part: String,
    pub condition: String,
    /// Whether every margin asked for is reached.
    pub reached: bool,
}

/// Margin over inlet and exit area, both scaled with their proportions kept.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Map {
    /// Inlet areas, all re-sized inlets together.
    pub inlet_area_m2: Vec<f64>,
    /// Exit areas, all that change together.
    pub exit_area_m2: Vec<f64>,
    /// For each inlet area a row along the exit areas: the least distance to a limit; null where no
    /// steady state was found.
    pub least_temperature_margin_K: Vec<Vec<Option<f64>>>,
    /// The same of what is left of the margins asked for: zero where they are just reached.
    #[serde(skip)]
    pub left: Vec<Vec<Option<f64>>>,
    /// The case as it stands: inlet and exit area.
    pub as_drawn_m2: (f64, f64),
}
