//! Temperatures of air that all but stands.
//!
//! A balance of heat that closes to a billionth of a watt says nothing of air of which less than a billionth of a kilogramme
//! comes by in a second: any temperature would do. There the flows are taken as they were found, and temperatures alone are
//! solved for, each row measured in its own conductance. Every chamber's air is then a mixture of what reaches it, down to
//! the last breath, and no colder than all that surrounds it.

use super::solve::{Load, Solver, State, TOLERANCE};
use super::topology::Network;
use crate::numerics::lu;

/// Conductance (W/K) below which the balances of heat leave a temperature open: 1e-9 W are then more than 1e-6 K.
const LOOSE: f64 = 1e-3;
/// So often the flows are found again for temperatures that moved them.
const AGAIN: usize = 6;
/// Rounds: temperatures act on one another in almost straight lines.
const ROUNDS: usize = 3;

impl Solver {
    /// Settles the temperatures that the tolerance leaves open in a solution of some `error`, and gives its largest relative
    /// error then: infinite where no such temperatures close, as where air stands only because of a temperature that nothing
    /// around it has.
    pub(super) fn settle_standing(&mut self, network: &Network, load: &Load, state: &mut State, error: f64) -> f64 {
        if error > TOLERANCE || self.isothermal || !self.is_loose(network, load) {
            return error;
        }
        for _ in 0..AGAIN {
            for _ in 0..ROUNDS {
                if !self.warm_alone(network, load, state) {
                    break;
                }
                self.measure(network, load, state);
            }
            let settled = self.measure(network, load, state);
            if settled <= TOLERANCE {
                return settled;
            }
            // air that rises goes otherwise now
            if self.descend_whole(network, load, state) > TOLERANCE {
                break;
            }
        }
        f64::INFINITY
    }

    /// Whether some temperature hangs on less than the tolerance can see, at the state last measured.
    fn is_loose(&self, network: &Network, load: &Load) -> bool {
        let loose_chamber = network.chambers.iter().enumerate().any(|(chamber, law)| {
            // what flows in, and as much out
            let passing = 0.5 * self.scale[chamber] * load.gas.heat_capacity;
            law.skin_conductance + load.held_chambers[chamber].0 + passing < LOOSE
        });
        loose_chamber
            || network.parts.iter().enumerate().any(|(index, part)| {
                let taken = part.heat_taken(load.part_heat[index], part.limit).1.abs();
                taken + load.held[index].0 + part.bay_conductance < LOOSE
                    && self.carried_by_air(network, index) < LOOSE
            })
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

    /// One step of the temperatures alone, the flows held.
    fn warm_alone(&mut self, network: &Network, load: &Load, state: &mut State) -> bool {
        self.flows_held = true;
        self.linearise(network, load, state);
        self.flows_held = false;
        let (size, chambers) = (self.size, network.chambers.len());
        let temperatures = chambers..network.unknowns();
        for row in 0..size {
            let line = &mut self.matrix[row * size..(row + 1) * size];
            let largest = line[temperatures.clone()].iter().fold(0.0_f64, |most, entry| most.max(entry.abs()));
            if !temperatures.contains(&row) || largest == 0.0 {
                line.fill(0.0);
                line[row] = 1.0;
                self.step[row] = 0.0;
                continue;
            }
            line[..chambers].fill(0.0);
            line.iter_mut().for_each(|entry| *entry /= largest);
            self.step[row] = -self.residual[row] / largest;
        }
        if !lu::solve_in_place(&mut self.matrix[..size * size], size, &mut self.step[..size]) {
            return false;
        }
        for (value, step) in state.unknowns[chambers..].iter_mut().zip(&self.step[chambers..]) {
            *value += step;
        }
        true
    }
}
