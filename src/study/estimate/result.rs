//! What an estimate finds, in the shape in which `--json` gives it: SI units, the unit in the key.

use crate::keys::word::words;
use crate::study::document::Program;
use serde::Serialize;

words! {
    /// A kind of part.
    pub enum EstimatePart {
        Heads = "heads",
        Barrels = "barrels",
        Oil = "oil",
        All = "all",
    }
}

words! {
    /// What turns a fan.
    pub enum EstimateFan {
        /// There is none: ram alone.
        None = "none",
        /// The engine.
        Driven = "driven",
        Electric = "electric",
    }
}

words! {
    /// When it is that openings are estimated for.
    pub enum EstimateMomentName {
        /// The slow corner.
        Slow = "slow",
        /// Full power on the straight.
        Fast = "fast",
    }
}

/// A figure as a range. An end that is not finite (null in JSON) means that nothing would do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FigureRange {
    /// Low end.
    pub low: f64,
    /// With every coefficient at its likely value.
    pub likely: f64,
    /// High end.
    pub high: f64,
}

/// A value that the estimate rests on.
#[derive(Clone, Debug, Serialize)]
pub struct Rest {
    /// Its key, as `--set` takes it.
    pub key: &'static str,
    /// What it stands for.
    pub help: &'static str,
    /// The value taken.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Whether it was given.
    pub given: bool,
    /// Where value and band come from.
    pub source: &'static str,
}

/// Heat and air of one kind of part at one moment.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartAir {
    /// Which kind.
    pub part: EstimatePart,
    /// Heat to reject.
    pub heat_W: FigureRange,
    /// Air that takes it.
    pub mass_flow_kg_s: FigureRange,
    /// The same by volume, at the density of the day's air.
    pub volume_flow_m3_s: FigureRange,
    /// How much it warms.
    pub rise_K: FigureRange,
}

/// First openings of one kind of part.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct PartOpenings {
    /// Which kind; all through one inlet and one exit.
    pub part: EstimatePart,
    /// Inlet, square to the flow.
    pub inlet_m2: FigureRange,
    pub exit_m2: FigureRange,
}

/// Why the exit is larger than the inlet: the ratio is the product of the other three.
#[derive(Clone, Debug, Serialize)]
pub struct ExitAgainstInlet {
    /// Exit area over inlet area, all air through one of each.
    pub ratio: FigureRange,
    /// Because warmed air is lighter.
    pub heating: FigureRange,
    /// Because a jet is narrower than its hole: 1/discharge.
    pub discharge: FigureRange,
    /// Speed in the inlet over that of the jet.
    pub speed: FigureRange,
}

/// One way of driving the air, at one moment.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct DrivenBy {
    /// What turns its fan.
    pub fan: EstimateFan,
    /// Pressure of the fan.
    pub fan_Pa: FigureRange,
    /// Pressure between inlet and exit surface, ram and fan together.
    pub available_Pa: FigureRange,
    /// What is left of it for fins, core and ducts.
    pub through_Pa: FigureRange,
    /// What is left of it for the exit.
    pub exit_Pa: FigureRange,
    /// Speed in the inlet.
    pub inlet_speed_m_s: FigureRange,
    /// Speed of the jet behind the exit.
    pub jet_speed_m_s: FigureRange,
    /// What turns the fan; null without one.
    pub fan_power_W: Option<FigureRange>,
    /// First openings.
    pub openings: Vec<PartOpenings>,
    pub exit_against_inlet: ExitAgainstInlet,
}

/// What the same engine would have in an open frame.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct OpenFrame {
    /// Pressure across the fins in the open stream.
    pub over_fins_Pa: FigureRange,
    /// Air through the same fins over that of the closed car on ram alone.
    pub flow_ratio: FigureRange,
    /// Cross-section of the stream that carries the air needed.
    pub stream_m2: FigureRange,
}

/// One moment: the slow corner, or full power on the straight.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct EstimateMoment {
    /// Which it is.
    pub name: EstimateMomentName,
    /// Road speed.
    pub speed_m_s: f64,
    pub brake_power_W: FigureRange,
    /// Heat of the fuel.
    pub fuel_power_W: FigureRange,
    /// Air that the engine breathes.
    pub combustion_air_kg_s: FigureRange,
    /// Air to fuel by mass.
    pub air_fuel_ratio: f64,
    pub dynamic_pressure_Pa: FigureRange,
    /// Heads, barrels, oil, all.
    pub parts: Vec<PartAir>,
    /// Heat of pipes and casings to the bay's air.
    pub rest_heat_W: FigureRange,
    /// What it warms all the air by.
    pub rest_rise_K: FigureRange,
    /// Cooling air for each watt of brake power at full throttle.
    pub air_per_rated_power_kg_s_W: FigureRange,
    /// Ways of driving the air.
    pub ways: Vec<DrivenBy>,
    /// In an open frame.
    pub open_frame: OpenFrame,
}

/// Which guess moves a figure most.
#[derive(Clone, Debug, Serialize)]
pub struct GuessDecides {
    /// The figure, in words.
    pub figure: &'static str,
    /// Keys, the one that moves it most first, with the factors at the ends of their bands.
    pub keys: Vec<KeyMover>,
}

/// How much one key moves a figure.
#[derive(Clone, Debug, Serialize)]
pub struct KeyMover {
    pub key: &'static str,
    /// The figure with the key at the low end of its band, over the likely one.
    pub at_low: f64,
    /// The same at the high end.
    pub at_high: f64,
}

#[derive(Clone, Debug, Serialize)]
pub struct Estimate {
    pub program: Program,
    /// How the ranges were formed.
    pub ranges: &'static str,
    /// Slow corner, then full power.
    pub moments: Vec<EstimateMoment>,
    /// Which guesses decide.
    pub decides: Vec<GuessDecides>,
    /// What looks odd in what was given.
    pub notes: Vec<String>,
    /// Everything it rests on.
    pub rests_on: Vec<Rest>,
}
