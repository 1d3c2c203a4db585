//! Newton's method on flows, pressures and temperatures at once.

use super::assemble::{Elimination, KNOWN};
use super::joints::LegSlopes;
use super::topology::Network;
use super::trace::{Gas, Trace};
use crate::element::Moment;
use crate::element::law::SMOOTHING_SPEED;
use crate::numerics::lu;

/// Largest relative error of any balance in a solution.
pub const TOLERANCE: f64 = 1e-9;
/// Steps of the plain method before the slower, safer one is tried.
const PLAIN_STEPS: usize = 40;
/// Steps after which the best state met is kept.
const FEW_STEPS: usize = 3;
/// Multiplications by three that take about as long as a visit of an element.
const FLOPS_OF_A_VISIT: u64 = 100;
/// Highest temperature that a step may reach (K).
const HOTTEST: f64 = 2e4;
/// Lowest temperature that a step may reach (K).
const COLDEST: f64 = 150.0;

/// What fixes the flow of a passage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Draught {
    /// The pressures at its ends.
    Free,
    /// A given mass flow (kg/s).
    Fixed(f64),
    /// A given volume flow (m³/s) at the passage's end.
    Volume(f64),
}

/// What drives a network at one moment: air, heat, the engine's draught.
#[derive(Clone, Debug)]
pub struct Load {
    pub(super) gas: Gas,
    /// Ambient pressure (Pa).
    pub pressure: f64,
    /// Temperature of the day's air (K).
    pub day_temperature: f64,
    /// Temperature of the air brought to rest (K).
    pub total_temperature: f64,
    /// Heat offered to each part at its reference temperature (W).
    pub part_heat: Vec<f64>,
    /// Heat given to each chamber (W).
    pub chamber_heat: Vec<f64>,
    /// What fixes each passage's flow.
    pub draught: Vec<Draught>,
    /// For each part a conductance (W/K) to a held temperature (K): nothing when steady.
    pub held: Vec<(f64, f64)>,
    /// The same for each chamber.
    pub(super) held_chambers: Vec<(f64, f64)>,
    /// Flows that passages are held to (kg/s), and how strongly (m/s): nothing when steady.
    pub(super) held_flows: Vec<f64>,
    pub(super) inertia: f64,
    /// How much of a tee's law is taken, the rest being a plain resistance: all of it in a solution.
    pub(super) tees: f64,
}

impl Load {
    /// The air of a moment, without heat, every passage free.
    pub fn new(moment: &Moment, network: &Network) -> Load {
        Load {
            gas: Gas {
                volume_per_kelvin: moment.volume_per_kelvin,
                heat_capacity: moment.air.heat_capacity,
                density: moment.air.density(),
                smooth_below: SMOOTHING_SPEED,
            },
            pressure: moment.air.pressure,
            day_temperature: moment.air.temperature,
            total_temperature: moment.total_temperature,
            part_heat: vec![0.0; network.parts.len()],
            chamber_heat: vec![0.0; network.chambers.len()],
            draught: vec![Draught::Free; network.passages.len()],
            held: vec![(0.0, 0.0); network.parts.len()],
            held_chambers: vec![(0.0, 0.0); network.chambers.len()],
            held_flows: vec![0.0; network.passages.len()],
            inertia: 0.0,
            tees: 1.0,
        }
    }

    /// Takes up another moment's air; heat and draught are the caller's to set.
    pub fn set_air(&mut self, moment: &Moment) {
        self.gas = Gas {
            volume_per_kelvin: moment.volume_per_kelvin,
            heat_capacity: moment.air.heat_capacity,
            density: moment.air.density(),
            smooth_below: SMOOTHING_SPEED,
        };
        self.pressure = moment.air.pressure;
        self.day_temperature = moment.air.temperature;
        self.total_temperature = moment.total_temperature;
    }

    #[inline]
    pub(super) fn storage(&self, part: usize, temperature: f64) -> (f64, f64) {
        let (conductance, held) = self.held[part];
        (conductance * (held - temperature), -conductance)
    }
}

/// Flows, pressures and temperatures of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct State {
    /// Mass flow of each passage (kg/s).
    pub flow: Vec<f64>,
    /// Chamber pressures (Pa), chamber temperatures, part temperatures, temperatures of
    /// recirculated inlet air (K).
    pub(super) unknowns: Vec<f64>,
    pub(super) chambers: usize,
}

impl State {
    /// A state to start from: air moving gently along every passage, everything lukewarm.
    pub fn first_guess(network: &Network, load: &Load) -> State {
        let mut state = State {
            flow: vec![0.0; network.passages.len()],
            unknowns: vec![0.0; network.unknowns()],
            chambers: network.chambers.len(),
        };
        state.begin(network, load);
        state
    }

    /// Takes the values of [`State::first_guess`].
    pub fn begin(&mut self, network: &Network, load: &Load) {
        let chambers = network.chambers.len();
        for (index, value) in self.unknowns.iter_mut().enumerate() {
            *value = if index < chambers {
                0.0
            } else if index < 2 * chambers {
                load.day_temperature + 30.0
            } else {
                match network.parts.get(index - 2 * chambers) {
                    Some(part) => part.mark().max(load.day_temperature),
                    None => load.total_temperature,
                }
            };
        }
        let passages = network.passages.iter().zip(&load.draught);
        for (flow, (passage, draught)) in self.flow.iter_mut().zip(passages) {
            *flow = match draught {
                Draught::Free => 10.0 * load.gas.density * passage.least_area,
                Draught::Fixed(flow) => *flow,
                Draught::Volume(volume) => volume * load.gas.density,
            };
        }
    }

    /// The largest difference of temperature of any part or space between it and another (K).
    pub fn apart(&self, other: &State) -> f64 {
        let pairs = self.unknowns[self.chambers..].iter().zip(&other.unknowns[self.chambers..]);
        pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
    }

    /// Gauge pressure of a chamber (Pa).
    pub fn pressure(&self, chamber: usize) -> f64 {
        self.unknowns[chamber]
    }

    /// Temperature of a chamber (K).
    pub fn chamber_temperature(&self, chamber: usize) -> f64 {
        self.unknowns[self.chambers + chamber]
    }

    /// Temperature of a part (K).
    pub fn part_temperature(&self, part: usize) -> f64 {
        self.unknowns[2 * self.chambers + part]
    }

    /// Sets the temperature of a part (K).
    pub fn set_part_temperature(&mut self, part: usize, temperature: f64) {
        self.unknowns[2 * self.chambers + part] = temperature;
    }

    /// Temperature of recirculated inlet air (K), by its index.
    pub fn inlet_temperature(&self, network: &Network, inlet: usize) -> f64 {
        self.unknowns[network.inlet_column(inlet)]
    }

    /// Takes every value times a factor.
    pub fn scale(&mut self, factor: f64) {
        self.values_mut().for_each(|value| *value *= factor);
    }

    /// Adds another state's values times a factor.
    pub fn add(&mut self, factor: f64, other: &State) {
        let add = |values: &mut [f64], others: &[f64]| {
            values.iter_mut().zip(others).for_each(|(value, other)| *value += factor * other);
        };
        add(&mut self.flow, &other.flow);
        add(&mut self.unknowns, &other.unknowns);
    }

    /// Every temperature (K).
    pub fn temperatures(&self) -> impl Iterator<Item = f64> {
        self.unknowns[self.chambers..].iter().copied()
    }

    /// Takes flows times a factor and pressures times its square: what becomes of them where all that
    /// drives them does so too.
    pub(super) fn take_along(&mut self, factor: f64) {
        self.flow.iter_mut().for_each(|flow| *flow *= factor);
        self.unknowns[..self.chambers].iter_mut().for_each(|pressure| *pressure *= factor * factor);
    }

    /// Every value: flows, then the other unknowns.
    pub(super) fn values(&self) -> impl Iterator<Item = f64> {
        self.flow.iter().chain(&self.unknowns).copied()
    }

    /// Every value, to be changed.
    pub(super) fn values_mut(&mut self) -> impl Iterator<Item = &mut f64> {
        self.flow.iter_mut().chain(&mut self.unknowns)
    }

    /// Takes the values of a state of a network to which no more than passages and warm air drawn in again were added
    /// behind, these as in [`State::first_guess`]; whether it can be one.
    pub fn begin_like(&mut self, network: &Network, load: &Load, other: &State) -> bool {
        let (flows, unknowns) = (other.flow.len(), other.unknowns.len());
        if self.chambers != other.chambers || self.flow.len() < flows || self.unknowns.len() < unknowns {
            return false;
        }
        self.begin(network, load);
        self.flow[..flows].copy_from_slice(&other.flow);
        self.unknowns[..unknowns].copy_from_slice(&other.unknowns);
        true
    }

    /// Takes the values of another state of the same network.
    pub fn copy_from(&mut self, other: &State) {
        self.flow.copy_from_slice(&other.flow);
        self.unknowns.copy_from_slice(&other.unknowns);
    }
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

/// What is held while steps are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
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
    pub(super) best: State,
    /// Rows of the system being solved.
    pub(super) size: usize,
    pub(super) isothermal: bool,
    /// Whether steps follow a passage that loses less the more air goes through it; else it is held to.
    pub(super) either_slope: bool,
    /// What is held while steps are taken.
    pub(super) held: Held,
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
        let state = State {
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
            held: Held::Nothing,
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

    /// Finds the steady state from the one given, and its largest relative error.
    ///
    /// # Errors
    /// [`Unsolved`] when no state with an error below 1e-9 was found; `state` is then the
    /// best one.
    pub fn solve(&mut self, network: &Network, load: &Load, state: &mut State) -> Result<f64, Unsolved> {
        self.take_up(network, load, state);
        let error = self.descend_whole(network, load, state);
        match self.settle_standing(network, load, state, error) {
            error if error <= TOLERANCE => Ok(error),
            _ => self.solve_safely(network, load, state),
        }
    }

    /// Gets ready for a solution.
    pub(super) fn take_up(&mut self, network: &Network, load: &Load, state: &mut State) {
        self.steps = 0;
        self.isothermal = network.is_isothermal(load);
        self.plain = self.isothermal && network.is_plain(load);
        self.size = if self.isothermal { network.chambers.len() } else { network.rows() };
        if self.isothermal {
            state.unknowns[network.chambers.len()..].fill(load.day_temperature);
        }
    }

    /// Newton's method with whole steps. Gives the error of the best state met after the first few
    /// steps, which `state` then is.
    pub(super) fn descend_whole(&mut self, network: &Network, load: &Load, state: &mut State) -> f64 {
        let mut best = f64::INFINITY;
        let mut since_best = 0;
        for round in 0..=PLAIN_STEPS {
            let error = self.measure(network, load, state);
            if error <= TOLERANCE {
                return error;
            }
            // a solution near at hand needs no way back
            if round >= FEW_STEPS {
                if error < best {
                    best = error;
                    since_best = 0;
                    self.best.copy_from(state);
                } else {
                    since_best += 1;
                    if since_best > 12 || !error.is_finite() {
                        break;
                    }
                }
            }
            self.steps += 1;
            if !self.newton_step(network, load, state) {
                break;
            }
        }
        if best.is_finite() {
            state.copy_from(&self.best);
        }
        best
    }

    /// One step of Newton's method from the state last measured. False where the system is
    /// singular.
    pub(super) fn newton_step(&mut self, network: &Network, load: &Load, state: &mut State) -> bool {
        self.linearise(network, load, state);
        let size = self.size;
        self.work += network.laws.len() as u64 + (size * size * size) as u64 / FLOPS_OF_A_VISIT;
        let right = self.residual.iter().zip(&self.shift);
        for (step, (residual, shift)) in self.step[..size].iter_mut().zip(right) {
            *step = -(residual + shift);
        }
        match self.held {
            Held::Nothing => {}
            Held::Flows => self.hold_rows(network, |row, temperatures| !temperatures.contains(&row)),
            Held::Temperatures => self.hold_rows(network, |row, temperatures| temperatures.contains(&row)),
        }
        if !lu::solve_in_place(&mut self.matrix[..size * size], size, &mut self.step[..size]) {
            return false;
        }
        if self.plain {
            self.step_flows(network, state);
            return true;
        }
        let chambers = network.chambers.len();
        for (index, passage) in network.passages.iter().enumerate() {
            if let Some(leg) = passage.leg {
                state.flow[index] += self.step[network.leg_column(leg)];
                continue;
            }
            if self.held == Held::Flows {
                break;
            }
            let line = self.eliminations[index];
            let mut change = line.shift;
            if let super::End::Chamber(chamber) = passage.from {
                change += line.by_from * self.step[chamber];
            }
            if let super::End::Chamber(chamber) = passage.to {
                change += line.by_to * self.step[chamber];
            }
            if line.start != KNOWN {
                change += line.by_start * self.step[line.start];
            }
            if line.other != KNOWN {
                change += line.by_other * self.step[line.other];
            }
            for k in passage.parts.clone() {
                change += self.flow_by_part[k] * self.step[2 * chambers + network.local_parts[k]];
            }
            state.flow[index] += change;
        }
        let (pressures, temperatures) = state.unknowns.split_at_mut(chambers);
        let (pressure_steps, temperature_steps) = self.step[..size].split_at(chambers);
        for (value, step) in pressures.iter_mut().zip(pressure_steps) {
            *value += step;
        }
        for (value, step) in temperatures.iter_mut().zip(temperature_steps) {
            *value = (*value + step).clamp(COLDEST, HOTTEST);
        }
        true
    }
}
