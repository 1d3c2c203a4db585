//! Newton's method on flows, pressures and temperatures at once.

use super::boundary::BoundaryConditions;
use super::state::NetworkState;
use super::topology::{Network, PassageEnd};
use super::workspace::{HeldFixed, KNOWN, Solver, TOLERANCE, Unsolved};
use crate::numerics::lu;

/// Steps of the plain method before the slower, safer one is tried.
const PLAIN_STEPS: usize = 40;
/// Steps whose linear system is solved without an exchange of rows.
const ON_DIAGONAL: usize = 8;
/// Steps after which the best state met is kept.
const FEW_STEPS: usize = 3;
/// Multiplications by three that take about as long as a visit of an element.
const FLOPS_OF_A_VISIT: u64 = 100;
/// Highest temperature that a step may reach (K).
const HOTTEST: f64 = 2e4;
/// Lowest temperature that a step may reach (K).
const COLDEST: f64 = 150.0;

impl Solver {
    /// Finds the steady state from the one given, and its largest relative error.
    ///
    /// # Errors
    /// [`Unsolved`] when no state with an error below 1e-9 was found; `state` is then the
    /// best one.
    pub fn solve(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> Result<f64, Unsolved> {
        self.take_up(network, boundary, state);
        let error = self.descend_whole(network, boundary, state);
        match self.settle_standing(network, boundary, state, error) {
            error if error <= TOLERANCE => Ok(error),
            _ => self.solve_safely(network, boundary, state),
        }
    }

    /// Gets ready for a solution.
    pub(super) fn take_up(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) {
        self.steps = 0;
        self.isothermal = network.is_isothermal(boundary);
        self.plain = self.isothermal && network.is_plain(boundary);
        self.size = if self.isothermal { network.chambers.len() } else { network.rows() };
        if self.isothermal {
            state.unknowns[network.chambers.len()..].fill(boundary.day_temperature);
        }
    }

    /// Newton's method with whole steps. Gives the error of the best state met after the first few
    /// steps, which `state` then is.
    pub(super) fn descend_whole(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> f64 {
        self.descend_whole_until(network, boundary, state, |_| false)
    }

    /// The same, ended where a state has arrived somewhere; no error is given then.
    pub(super) fn descend_whole_until(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        has_arrived: impl Fn(&NetworkState) -> bool,
    ) -> f64 {
        let mut best = f64::INFINITY;
        let mut since_best = 0;
        for round in 0..=PLAIN_STEPS {
            let error = self.measure(network, boundary, state);
            if error <= TOLERANCE {
                return error;
            }
            if has_arrived(state) {
                return 0.0;
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
            if !self.newton_step(network, boundary, state) {
                break;
            }
        }
        if best.is_finite() {
            state.copy_from(&self.best);
        }
        best
    }

    /// The step of the unknowns from the state last measured, by some way of solving the linear system. False where that
    /// finds none.
    fn solve_system(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        solve: fn(&mut [f64], usize, &mut [f64]) -> bool,
    ) -> bool {
        self.linearise(network, boundary, state);
        let size = self.size;
        self.work += network.laws.len() as u64 + (size * size * size) as u64 / FLOPS_OF_A_VISIT;
        let right = self.residual.iter().zip(&self.shift);
        for (step, (residual, shift)) in self.step[..size].iter_mut().zip(right) {
            *step = -(residual + shift);
        }
        match self.held {
            HeldFixed::Nothing => {}
            HeldFixed::Flows => self.hold_rows(network, |row, temperatures| !temperatures.contains(&row)),
            HeldFixed::Temperatures => {
                self.hold_rows(network, |row, temperatures| temperatures.contains(&row))
            }
        }
        solve(&mut self.matrix[..size * size], size, &mut self.step[..size])
    }

    /// One step of Newton's method from the state last measured. False where the system is
    /// singular.
    pub(super) fn newton_step(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
    ) -> bool {
        // the first steps on the diagonal as it stands; where that will not do, rows are exchanged
        let solved = (self.steps <= ON_DIAGONAL
            && self.solve_system(network, boundary, state, lu::solve_on_diagonal))
            || self.solve_system(network, boundary, state, lu::solve_in_place);
        if !solved {
            return false;
        }
        if self.plain {
            self.step_flows(network, state);
            return true;
        }
        let (size, chambers) = (self.size, network.chambers.len());
        for (index, passage) in network.passages.iter().enumerate() {
            if let Some(leg) = passage.leg {
                state.flow[index] += self.step[network.leg_column(leg)];
                continue;
            }
            if self.held == HeldFixed::Flows {
                break;
            }
            let line = self.eliminations[index];
            let mut change = line.shift;
            if let PassageEnd::Chamber(chamber) = passage.from {
                change += line.by_from * self.step[chamber];
            }
            if let PassageEnd::Chamber(chamber) = passage.to {
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
