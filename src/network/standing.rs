//! Temperatures of air that all but stands.
//!
//! A balance of heat that closes to a billionth of a watt says nothing of air of which less than a billionth of a kilogramme
//! comes by in a second: any temperature would do. There the flows are taken as they were found, and temperatures alone are
//! solved for, each row measured in its own conductance. Every chamber's air is then a mixture of what reaches it, down to
//! the last breath, and no colder than all that surrounds it.

use super::boundary::BoundaryConditions;
use super::state::NetworkState;
use super::topology::Network;
use super::workspace::{HeldFixed, Solver, TOLERANCE};
use std::ops::Range;

/// Conductance (W/K) below which the balances of heat leave a temperature open: 1e-9 W are then more than 1e-6 K.
const LOOSE: f64 = 1e-3;
/// Error below which a state counts as near a solution: where flows and differences of temperature go to zero together the
/// balances of heat bend, and steps come no nearer.
const NEAR: f64 = 1e-3;
/// So often temperatures and flows are settled in turn, and so often of these the flows together with temperatures.
const AGAIN: usize = 30;
const TOGETHER: usize = 4;
/// Steps of each.
const ROUNDS: usize = 4;

impl Solver {
    /// Settles the temperatures that the tolerance leaves open in a solution of some `error`, and gives its largest relative
    /// error then: infinite where no such temperatures close, as where air stands only because of a temperature that nothing
    /// around it has.
    pub(super) fn settle_standing(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        error: f64,
    ) -> f64 {
        if error > NEAR || self.isothermal {
            return error;
        }
        if error > TOLERANCE {
            self.measure(network, boundary, state);
        }
        if !self.is_loose(network, boundary) {
            return error;
        }
        let found = (error <= TOLERANCE).then(|| state.clone());
        for again in 0..AGAIN {
            self.settle_alone(network, boundary, state, HeldFixed::Flows);
            let settled = self.measure(network, boundary, state);
            if settled <= TOLERANCE {
                return settled;
            }
            // air that rises goes otherwise now
            if again >= TOGETHER || self.descend_whole(network, boundary, state) > TOLERANCE {
                self.settle_alone(network, boundary, state, HeldFixed::Temperatures);
            }
        }
        let Some(found) = found else { return f64::INFINITY };
        // to and fro, below what balances can see: then what was found will do, if nothing is beyond what is around it
        state.copy_from(&found);
        self.measure(network, boundary, state);
        self.keep_among_others(network, boundary, state);
        self.measure(network, boundary, state)
    }

    /// Keeps every loose temperature between the lowest and the highest of all others.
    fn keep_among_others(&self, network: &Network, boundary: &BoundaryConditions, state: &mut NetworkState) {
        let chambers = network.chambers.len();
        let known = (boundary.day_temperature, boundary.total_temperature.max(boundary.day_temperature));
        let loose = |row: usize| match row.checked_sub(chambers) {
            Some(part) => self.part_is_loose(network, boundary, part),
            None => self.chamber_is_loose(network, boundary, row),
        };
        let loose: Vec<bool> = (0..chambers + network.parts.len()).map(loose).collect();
        let temperatures = &mut state.unknowns[chambers..];
        let firm = temperatures.iter().zip(&loose).filter(|(_, loose)| !**loose).map(|(value, _)| *value);
        let (low, high) = firm.fold(known, |(low, high), value| (low.min(value), high.max(value)));
        for (value, _) in temperatures.iter_mut().zip(&loose).filter(|(_, loose)| **loose) {
            *value = value.clamp(low, high);
        }
    }

    /// Takes steps of temperatures or of flows and pressures, the others held.
    fn settle_alone(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &mut NetworkState,
        held: HeldFixed,
    ) {
        self.held = held;
        for _ in 0..ROUNDS {
            self.measure(network, boundary, state);
            if !self.newton_step(network, boundary, state) {
                break;
            }
        }
        self.held = HeldFixed::Nothing;
    }

    /// Holds some rows of the system, and measures each of the others in its own size.
    pub(super) fn hold_rows(&mut self, network: &Network, held: impl Fn(usize, &Range<usize>) -> bool) {
        let size = self.size;
        let temperatures = network.chambers.len()..network.unknowns();
        for row in 0..size {
            let line = &mut self.matrix[row * size..(row + 1) * size];
            let largest = line.iter().fold(0.0_f64, |most, entry| most.max(entry.abs()));
            if held(row, &temperatures) || largest == 0.0 {
                line.fill(0.0);
                line[row] = 1.0;
                self.step[row] = 0.0;
            } else {
                line.iter_mut().for_each(|entry| *entry /= largest);
                self.step[row] /= largest;
            }
        }
    }

    /// Whether some temperature hangs on less than the tolerance can see, at the state last measured.
    fn is_loose(&self, network: &Network, boundary: &BoundaryConditions) -> bool {
        (0..network.chambers.len()).any(|chamber| self.chamber_is_loose(network, boundary, chamber))
            || (0..network.parts.len()).any(|part| self.part_is_loose(network, boundary, part))
    }

    fn chamber_is_loose(&self, network: &Network, boundary: &BoundaryConditions, chamber: usize) -> bool {
        // what flows in, and as much out
        let passing = 0.5 * self.scale[chamber] * boundary.gas.heat_capacity;
        network.chambers[chamber].skin_conductance + boundary.held_chambers[chamber].0 + passing < LOOSE
    }

    fn part_is_loose(&self, network: &Network, boundary: &BoundaryConditions, index: usize) -> bool {
        let part = &network.parts[index];
        let taken = part.heat_taken(boundary.part_heat[index], part.mark()).1.abs();
        taken + boundary.held[index].0 + part.bay_conductance < LOOSE
            && self.carried_by_air(network, index) < LOOSE
    }

    /// Conductance of a part to the air of its elements (W/K).
    fn carried_by_air(&self, network: &Network, part: usize) -> f64 {
        let mut sum = 0.0;
        for passage in &network.passages {
            let local = passage.parts.clone();
            for (slot, k) in local.clone().enumerate() {
                if network.local_parts[k] == part {
                    sum += self.heat_by_part[passage.heat_slopes + slot * local.len() + slot];
                }
            }
        }
        sum
    }
}
