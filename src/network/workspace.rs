//! What a solution works with: the rise along each passage, the slopes, the dense system. Nothing is allocated while it
//! solves.

use super::state::NetworkState;
use super::topology::Network;

/// Largest relative error of any balance in a solution.
pub const TOLERANCE: f64 = 1e-9;
/// Marks a temperature that is not an unknown.
pub(super) const KNOWN: usize = usize::MAX;
/// Conductance that settles the temperature of what has no other (W/K).
pub(super) const TRACE_CONDUCTANCE: f64 = 1e-12;

/// Least slope of a passage's error with its flow (Pa s/kg).
pub(super) const LEAST_SLOPE: f64 = 1e-6;

/// Ways from states that have names; those behind them begin at states scattered about the nearest one met.
pub(super) const NAMED: usize = 14;

/// What a passage as a whole does, with slopes. "start" is where its air enters.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Trace {
    /// Σ push − Σ drop − last head, from `from` to `to` (Pa).
    pub rise: f64,
    pub rise_by_flow: f64,
    pub rise_by_start: f64,
    /// Temperature where the air leaves (K).
    pub outlet: f64,
    pub outlet_by_flow: f64,
    pub outlet_by_start: f64,
    /// Σ|push| + Σ|loss| + head (Pa): what an error is measured against.
    pub scale: f64,
}

/// Slopes with the temperatures of the passage's parts, and the parts' heat.
#[derive(Debug)]
pub(super) struct PartSlopes<'a> {
    pub rise: &'a mut [f64],
    pub outlet: &'a mut [f64],
    /// Heat given up by each part (W).
    pub heat: &'a mut [f64],
    pub heat_by_flow: &'a mut [f64],
    pub heat_by_start: &'a mut [f64],
    /// Row per part that gives heat, column per part whose temperature changes.
    pub heat_by_part: &'a mut [f64],
}

impl<'a> PartSlopes<'a> {
    /// Slopes by `count` parts in a piece of memory.
    pub fn within(room: &'a mut [f64], count: usize) -> PartSlopes<'a> {
        let (rise, room) = room.split_at_mut(count);
        let (outlet, room) = room.split_at_mut(count);
        let (heat, room) = room.split_at_mut(count);
        let (heat_by_flow, room) = room.split_at_mut(count);
        let (heat_by_start, heat_by_part) = room.split_at_mut(count);
        PartSlopes { rise, outlet, heat, heat_by_flow, heat_by_start, heat_by_part }
    }
}

/// The linear form of one passage.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Elimination {
    /// dṁ where nothing else changes.
    pub shift: f64,
    /// dṁ by the pressure in `from` and in `to`.
    pub by_from: f64,
    pub by_to: f64,
    /// dṁ by the temperature of the entering air.
    pub by_start: f64,
    /// Column of that temperature.
    pub start: usize,
    /// dṁ by the temperature at the other end, where the passage stalls.
    pub by_other: f64,
    /// Column of that temperature.
    pub other: usize,
}

/// Slopes of a leg's row beside those that every passage has.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct LegSlopes {
    /// Of the passage's own equation by the other leg's flow (Pa s/kg).
    pub by_partner: f64,
    /// By the joint's temperature (Pa/K).
    pub by_joint: f64,
    /// Column of that temperature.
    pub joint: usize,
}

/// No steady state was found.
#[derive(Clone, Debug, thiserror::Error)]
#[error("no steady state was found: the largest left-over error is {residual:.1e} after {steps} steps")]
pub struct Unsolved {
    /// Largest relative error of the best state.
    pub residual: f64,
    /// Steps taken.
    pub steps: usize,
}

/// How much is tried before a solution counts as not found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Patience {
    /// The way from the state given.
    Near,
    /// A few: for one car of many, where one more or less without a steady state says nothing, and a second for each of
    /// them is an hour for all.
    Brief,
    /// All there are.
    Whole,
}

impl Patience {
    /// Attempts of the slower, safer way.
    pub(super) fn attempts(self) -> usize {
        match self {
            Patience::Near => 1,
            Patience::Brief => NAMED + 40,
            Patience::Whole => NAMED + 1000,
        }
    }
}

/// What is held while steps are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HeldFixed {
    Nothing,
    Flows,
    Temperatures,
}

/// Working space for a network; nothing is allocated while it solves.
#[derive(Clone, Debug)]
pub struct Solver {
    pub(super) matrix: Vec<f64>,
    pub(super) residual: Vec<f64>,
    pub(super) shift: Vec<f64>,
    pub(super) scale: Vec<f64>,
    pub(super) step: Vec<f64>,
    pub(super) traces: Vec<Trace>,
    pub(super) eliminations: Vec<Elimination>,
    pub(super) leg_slopes: Vec<LegSlopes>,
    pub(super) rise_by_part: Vec<f64>,
    pub(super) other_by_part: Vec<f64>,
    pub(super) outlet_by_part: Vec<f64>,
    pub(super) flow_by_part: Vec<f64>,
    pub(super) heat: Vec<f64>,
    pub(super) heat_by_flow: Vec<f64>,
    pub(super) heat_by_start: Vec<f64>,
    pub(super) heat_by_part: Vec<f64>,
    /// Slopes of what each part gives to the air about it, by its own temperature and the air's.
    pub(super) given_slopes: Vec<(f64, f64)>,
    pub(super) best: NetworkState,
    /// Rows of the system being solved.
    pub(super) size: usize,
    pub(super) isothermal: bool,
    /// Whether steps follow a passage that loses less the more air goes through it; else it is held to.
    pub(super) either_slope: bool,
    /// How much is tried.
    pub patience: Patience,
    /// What is held while steps are taken.
    pub(super) held: HeldFixed,
    /// Whether there are plain openings only, in air of one temperature.
    pub(super) plain: bool,
    /// Steps taken by the last solution.
    pub steps: usize,
    /// Work done by all solutions so far, in visits of an element.
    pub work: u64,
}

impl Solver {
    /// Working space for a network.
    pub fn new(network: &Network) -> Solver {
        let size = network.rows();
        let local = network.local_parts.len();
        let state = NetworkState {
            flow: vec![0.0; network.passages.len()],
            unknowns: vec![0.0; network.unknowns()],
            chambers: network.chambers.len(),
        };
        Solver {
            matrix: vec![0.0; size * size],
            residual: vec![0.0; size],
            shift: vec![0.0; size],
            scale: vec![0.0; size],
            step: vec![0.0; size],
            traces: vec![Trace::default(); network.passages.len()],
            eliminations: vec![Elimination::default(); network.passages.len()],
            leg_slopes: vec![LegSlopes::default(); network.legs.len()],
            rise_by_part: vec![0.0; local],
            other_by_part: vec![0.0; local],
            outlet_by_part: vec![0.0; local],
            flow_by_part: vec![0.0; local],
            heat: vec![0.0; local],
            heat_by_flow: vec![0.0; local],
            heat_by_start: vec![0.0; local],
            heat_by_part: vec![0.0; network.heat_slopes],
            given_slopes: vec![(0.0, 0.0); network.parts.len()],
            best: state,
            size,
            isothermal: false,
            patience: Patience::Whole,
            held: HeldFixed::Nothing,
            either_slope: false,
            plain: false,
            steps: 0,
            work: 0,
        }
    }

    /// Heat that a part gives to the air of its elements in the state last solved for (W).
    pub fn heat_to_air(&self, network: &Network, part: usize) -> f64 {
        let local = network.local_parts.iter().zip(&self.heat);
        local.filter(|(local, _)| **local == part).map(|(_, heat)| heat).sum()
    }
}
