//! What runs in time find, in the shape in which `--json` gives it: SI units, the unit in the key.

use crate::point::result::{Band, ByName};
use serde::Serialize;

/// A stint that was run.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Stint {
    pub name: String,
    /// What it was run from: "steps", "legs", or the name of a recorded run.
    pub from: String,
    /// Part temperatures at the start.
    pub start_C: ByName<f64>,
    /// Its steps; of a recorded run, and of legs, each lap is one.
    pub steps: Vec<StintStep>,
    /// Each part over the whole stint.
    pub parts: ByName<PartOver>,
    /// Each chamber's air over the whole stint.
    pub chambers: ByName<ChamberOver>,
    /// The hottest air at the carburettor, where there is one.
    pub carburettor: Option<HottestMoment>,
    /// When laps repeat; none where there is but one.
    pub repeats: Option<Repeats>,
    /// Parts with a lower limit: whether they are warm when it counts.
    pub warm_up: Vec<WarmUp>,
    /// What becomes of the parts where the car then stands.
    pub standing: Vec<Standing>,
    /// Parts of whose start nothing was said: they begin as the first moment, held indefinitely, would leave them.
    pub start_assumed: Vec<String>,
    /// Temperatures that were measured in it, beside those found.
    pub measured: Vec<MeasuredBeside>,
    /// What was done with the run as it was given.
    pub notes: Vec<String>,
    /// What in it is hard to believe; these stand among the warnings too.
    #[serde(skip)]
    pub warnings: Vec<crate::case::Warning>,
    /// Operating points solved.
    pub points_solved: usize,
    /// How often every part stays below its limit all the way, of 1, with every guess drawn from its band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// The course of temperatures, for charts and tables.
    #[serde(skip)]
    pub course: TemperatureCourse,
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StintStep {
    /// Its condition; none in a recorded run.
    pub condition: Option<String>,
    /// Which time round it is, from 1.
    pub lap: usize,
    /// Its end, from the stint's start.
    pub until_s: f64,
    pub parts: ByName<StepPart>,
    pub chambers: ByName<StepPart>,
}

/// A part, or a chamber's air, in one step.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StepPart {
    /// Temperature at the step's end.
    pub temperature_C: f64,
    /// Highest in the step, its start included.
    pub peak_C: f64,
    /// Time constant at the step's end, everything else as it is; none where it would not come back, and
    /// for air, which has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub time_constant_s: Option<f64>,
}

/// A part over a whole stint.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartOver {
    /// Working limit.
    pub limit_C: f64,
    /// Highest temperature.
    pub peak_C: f64,
    /// When, from the stint's start.
    pub peak_at_s: f64,
    /// Road speed then.
    pub peak_speed_m_s: f64,
    /// In which step, from 0.
    pub peak_step: usize,
    /// Limit less the highest temperature.
    pub temperature_margin_K: f64,
    /// Where that lies with every guess drawn from its band.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_band_K: Option<Band>,
    /// How often it is 0 K or more then, of 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub likelihood: Option<f64>,
    /// How long it is over its limit, all together.
    pub over_limit_s: f64,
    /// Heat given to it, less what it gave away, over the heat given: what is left over beside what it
    /// stores. A check of the reckoning.
    pub energy_left_over: f64,
}

/// A chamber's air over a whole stint.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct ChamberOver {
    /// Highest temperature.
    #[serde(flatten)]
    pub hottest: HottestMoment,
    /// Its limit, where the case gives one.
    pub limit_C: Option<f64>,
    pub limit_for: Option<String>,
    /// How long it is over its limit.
    pub over_limit_s: f64,
}

/// The hottest moment of air.
#[derive(Clone, Copy, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct HottestMoment {
    /// Highest temperature.
    pub peak_C: f64,
    /// When, from the stint's start.
    pub peak_at_s: f64,
}

/// When a lap begins and ends at the same temperatures.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Repeats {
    /// The first lap that changes no part by a tenth of a kelvin; none within the laps tried.
    pub lap: Option<usize>,
    /// How many laps were tried.
    pub tried: usize,
    /// Limit less the highest temperature of that lap, or of the last.
    pub temperature_margin_K: ByName<f64>,
}

/// Whether a part is warm enough when it counts.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct WarmUp {
    pub part: String,
    /// Its lower limit.
    pub least_C: f64,
    /// When it counts: the beginning of the first step whose condition is warm.
    pub line_s: f64,
    /// Its temperature then.
    pub at_line_C: f64,
    /// When it is warm enough, were the step before the line to go on; none where it never is.
    pub reached_s: Option<f64>,
}

/// What becomes of the parts where the car stands.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Standing {
    /// The condition in which it stands.
    pub condition: String,
    /// The step, from 0, in which it stands, as if that went on; none: after the stint's end.
    pub in_step: Option<usize>,
    /// When that step begins.
    pub from_s: Option<f64>,
    /// Whether the engine stands too.
    pub engine_off: bool,
    /// Passages whose fans turn meanwhile, with their speeds (rpm).
    pub fans_running: ByName<f64>,
    /// Where the engine stands and a fan turns: the parts were every fan off.
    pub with_fans_off: Option<ByName<Stands>>,
    /// How long it was followed.
    pub followed_s: f64,
    pub parts: ByName<Stands>,
    pub chambers: ByName<Stands>,
    /// The hottest air at the carburettor, where there is one.
    pub carburettor: Option<HottestMoment>,
}

/// A part, or a chamber's air, while the car stands.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Stands {
    /// When it reaches its limit; 0 where it is over it from the start, none where it does not get there.
    pub to_limit_s: Option<f64>,
    /// Highest temperature.
    pub peak_C: f64,
    /// When.
    pub peak_at_s: f64,
    /// Temperature at the end.
    pub last_C: f64,
}

/// A temperature that was measured, beside the one found; differences are measured less found.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct MeasuredBeside {
    /// The part or chamber.
    pub of: String,
    /// The column's heading.
    pub column: String,
    /// Mean difference over the run.
    pub mean_difference_K: f64,
    /// The largest difference.
    pub worst_difference_K: f64,
    /// When, from the stint's start.
    pub worst_at_s: f64,
    /// How far what was measured comes behind; none where too little happens to tell.
    pub lag_s: Option<f64>,
    /// Times (s), for the chart.
    #[serde(skip)]
    pub time: Vec<f64>,
    /// Temperatures (°C) at those times.
    #[serde(skip)]
    pub celsius: Vec<f32>,
}

/// Temperatures along a stint.
#[derive(Clone, Debug, Default)]
pub struct TemperatureCourse {
    /// Times (s).
    pub time: Vec<f64>,
    /// Road speeds (m/s).
    pub speed: Vec<f32>,
    /// Temperatures (°C) of each part, all moments of the first, then of the next.
    pub parts: Vec<Vec<f32>>,
    /// Temperatures (°C) of each chamber's air.
    pub chambers: Vec<Vec<f32>>,
}
