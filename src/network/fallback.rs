//! The slower, safer way to a solution, for states that the plain method does not reach.

use super::boundary::{BoundaryConditions, FlowConstraint};
use super::state::NetworkState;
use super::topology::Network;
use super::workspace::{NAMED, Solver, TOLERANCE, Unsolved};

/// Rounds of each attempt.
const ROUNDS: usize = 80;
/// Rounds in which the error does not fall, after which an attempt is given up.
const STALLS: usize = 25;
/// Both where a steady state is sought only near at hand: what takes longer leads nowhere, in nearly every car.
const NEAR: (usize, usize) = (25, 3);

/// Speed below which the laws are smooth at first where they are made so on the way (m/s).
const WIDEST: f64 = 10.0;

impl Solver {
    /// Newton's method with a step shortened until the error falls, begun from several states. On
    /// the way the laws are made smooth over wide ranges of speed which then close; or the parts are
    /// held by a fictitious store of heat which is then taken away, so that the way leads along states
    /// that follow one another in time.
    pub(super) fn solve_safely(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> Result<f64, Unsolved> {
        let mut best = f64::INFINITY;
        let mut kept = state.clone();
        let begun = state.clone();
        for attempt in 0..self.patience.attempts() {
            let mut trial = match attempt {
                0 => begun.clone(),
                1..=3 => NetworkState::first_guess(network, boundary),
                4..8 => guess(network, boundary, attempt - 2),
                8..13 => guess(network, boundary, attempt - 7),
                13 => NetworkState::first_guess(network, boundary),
                _ => scattered(network, boundary, &kept, attempt),
            };
            if self.isothermal {
                trial.unknowns[network.chambers.len()..].fill(boundary.day_temperature);
            }
            self.either_slope = attempt >= NAMED && attempt % 2 == 0;
            let error = match attempt {
                0 => self.descend(network, boundary, &mut trial, ROUNDS),
                1 => self.descend_whole(network, boundary, &mut trial),
                2 => self.through_widths(network, boundary, &mut trial),
                3..8 => self.through_time(network, boundary, &mut trial, 0.0),
                8..13 => self.through_time(network, boundary, &mut trial, 0.1),
                13 => self.through_tees(network, boundary, &mut trial),
                _ => self.descend_whole(network, boundary, &mut trial),
            };
            let error = self.settle_standing(network, boundary, &mut trial, error);
            self.either_slope = false;
            if error < best {
                best = error;
                kept = trial;
            }
            if best <= TOLERANCE {
                break;
            }
        }
        *state = kept;
        if best <= TOLERANCE { Ok(best) } else { Err(Unsolved { residual: best, steps: self.steps }) }
    }

    /// Finds a steady state near the one given, and its largest relative error; none where there is none near at hand. One that is
    /// all but at a steady state known is taken to lead there: the last steps are spared.
    pub fn solve_near(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        known: &NetworkState,
    ) -> Option<f64> {
        self.take_up(network, boundary, state);
        let begun = state.clone();
        let error = self.descend_whole_until(network, boundary, state, |state| state.is_beside(known));
        if state.is_beside(known) {
            state.copy_from(known);
            return Some(0.0);
        }
        let error = self.settle_standing(network, boundary, state, error);
        if error <= TOLERANCE {
            return Some(error);
        }
        state.copy_from(&begun);
        let error = self.descend_until(network, boundary, state, NEAR);
        let error = self.settle_standing(network, boundary, state, error);
        (error <= TOLERANCE).then_some(error)
    }

    /// Lets the air and the parts go their way in time from a state until they stand, and gives the largest relative error
    /// then; none where no steady state is reached.
    pub fn leave_to_itself(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> Option<f64> {
        self.take_up(network, boundary, state);
        let error = self.through_time(network, boundary, state, 0.0);
        let error = self.settle_standing(network, boundary, state, error);
        (error <= TOLERANCE).then_some(error)
    }

    /// Damped Newton. Gives the error reached.
    fn descend(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        rounds: usize,
    ) -> f64 {
        self.descend_until(network, boundary, state, (rounds, STALLS))
    }

    /// The same with so many rounds, and so many that stall.
    fn descend_until(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        (rounds, stalls): (usize, usize),
    ) -> f64 {
        let mut error = self.measure(network, boundary, state);
        let mut stalled = 0;
        for _ in 0..rounds {
            if error <= TOLERANCE || !error.is_finite() {
                break;
            }
            self.steps += 1;
            let begun = state.clone();
            if !self.newton_step(network, boundary, state) {
                break;
            }
            let full = state.clone();
            let mut share = 1.0;
            let mut accepted = f64::INFINITY;
            for _ in 0..12 {
                blend(state, &begun, &full, share);
                accepted = self.measure(network, boundary, state);
                if accepted < error * (1.0 - 0.1 * share) {
                    break;
                }
                share *= 0.5;
            }
            if accepted >= error {
                // kinks where flows turn round: go on past them, but not indefinitely
                stalled += 1;
                if stalled > stalls {
                    break;
                }
                let share = [1.0, 0.5, 0.25, 0.125][stalled % 4];
                blend(state, &begun, &full, share);
                accepted = self.measure(network, boundary, state);
            }
            error = accepted;
        }
        error
    }

    /// Makes all laws smooth over a wide range of speeds first, then over narrower ones.
    fn through_widths(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> f64 {
        let mut wide = boundary.clone();
        wide.gas.smooth_below = WIDEST;
        while wide.gas.smooth_below > boundary.gas.smooth_below {
            self.descend(network, &wide, state, 60);
            wide.gas.smooth_below *= 0.3;
        }
        self.descend(network, boundary, state, ROUNDS)
    }

    /// Lets the laws of tees take the place of plain resistances, little by little.
    fn through_tees(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> f64 {
        if network.legs.is_empty() {
            return f64::INFINITY;
        }
        let mut partly = boundary.clone();
        partly.tees = 0.0;
        let mut error = self.descend_whole(network, &partly, state);
        if error > TOLERANCE {
            error = self.through_time(network, &partly, state, 0.0);
        }
        let (mut share, mut step) = (0.0, 0.1);
        while error <= TOLERANCE && share < 1.0 && step > 1e-5 {
            let before = state.clone();
            partly.tees = f64::min(share + step, 1.0);
            let next = self.descend(network, &partly, state, 60);
            if next <= TOLERANCE {
                share = partly.tees;
                step *= 1.5;
            } else {
                *state = before;
                step *= 0.3;
            }
        }
        self.descend(network, boundary, state, ROUNDS)
    }

    /// Lets parts and chambers warm up through a fictitious store of heat, in growing steps of time.
    fn through_time(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        inertia: f64,
    ) -> f64 {
        let mut stored = boundary.clone();
        let mut conductance = 1000.0;
        let mut error = f64::INFINITY;
        for _ in 0..60 {
            for (part, held) in stored.held.iter_mut().enumerate() {
                *held = (boundary.held[part].0 + conductance, state.part_temperature(part));
                if boundary.held[part].0 > 0.0 {
                    *held = boundary.held[part];
                }
            }
            stored.inertia = inertia * conductance;
            stored.held_flows.copy_from_slice(&state.flow);
            for (chamber, held) in stored.held_chambers.iter_mut().enumerate() {
                *held = (conductance, state.chamber_temperature(chamber));
            }
            let before = state.clone();
            error = self.descend(network, &stored, state, 60);
            if error <= 1e-6 {
                conductance *= 0.4;
            } else {
                *state = before;
                conductance *= 4.0;
            }
            if !(1e-3..=1e9).contains(&conductance) {
                break;
            }
        }
        let last = self.descend(network, boundary, state, ROUNDS);
        error.max(last).min(last)
    }
}

/// Sets a state between two others.
fn blend(state: &mut NetworkState, begun: &NetworkState, full: &NetworkState, share: f64) {
    for ((value, a), b) in state.flow.iter_mut().zip(&begun.flow).zip(&full.flow) {
        *value = a + share * (b - a);
    }
    for ((value, a), b) in state.unknowns.iter_mut().zip(&begun.unknowns).zip(&full.unknowns) {
        *value = a + share * (b - a);
    }
}

/// States scattered about one: flows from none to twice as much, some turned round, temperatures by a quarter of what they are over the day's.
fn scattered(
    network: &Network,
    boundary: &BoundaryConditions,
    about: &NetworkState,
    attempt: usize,
) -> NetworkState {
    let anywhere = attempt % 4 >= 2;
    let mut state = if anywhere { NetworkState::first_guess(network, boundary) } else { about.clone() };
    let mut seed = attempt as u64;
    // Steele, Lea & Flood, splitmix64 (2014)
    let mut chance = || {
        seed = seed.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = (seed ^ (seed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    };
    let spread = [0.1, 1.0, 1.0, 1.0][attempt % 4];
    for flow in &mut state.flow {
        *flow *= if anywhere {
            10.0_f64.powf(4.0 * chance() - 2.5).copysign(chance() - 0.4)
        } else {
            1.0 + spread * (2.0 * chance() - 1.0)
        };
    }
    for temperature in state.unknowns.iter_mut().skip(network.chambers.len()) {
        *temperature += 0.5 * spread * (chance() - 0.5) * (*temperature - boundary.day_temperature);
    }
    state
}

/// Other states to begin from: gentler and stronger flows, cooler and hotter parts.
fn guess(network: &Network, boundary: &BoundaryConditions, attempt: usize) -> NetworkState {
    let mut state = NetworkState::first_guess(network, boundary);
    let factor = [1.0, 1.0, 0.1, 3.0, 0.01, 10.0][attempt.min(5)];
    for (flow, constraint) in state.flow.iter_mut().zip(&boundary.constraint) {
        if *constraint == FlowConstraint::Free {
            *flow *= factor;
        }
    }
    for (index, part) in network.parts.iter().enumerate() {
        let share = [0.5, 0.5, 0.9, 0.2, 0.98, 0.05][attempt.min(5)];
        let temperature =
            boundary.day_temperature + share * (part.source_temperature - boundary.day_temperature);
        state.set_part_temperature(index, temperature);
    }
    state
}
