//! Slopes of what passages share: legs of tees, air drawn in again, parts and chambers.

use super::boundary::{BoundaryConditions, FlowConstraint};
use super::state::NetworkState;
use super::topology::{Network, PassageEnd};
use super::workspace::{KNOWN, Solver, TRACE_CONDUCTANCE};
use crate::numerics::smooth::smooth_step;

impl Solver {
    /// The row of a leg of a tee, whose flow is an unknown of its own.
    pub(super) fn linearise_leg(&mut self, network: &Network, boundary: &BoundaryConditions, leg: usize) {
        let index = network.legs[leg].passage;
        let passage = &network.passages[index];
        let line = self.eliminations[index];
        let slopes = self.leg_slopes[leg];
        let row = network.leg_column(leg);
        let matrix = &mut self.matrix[row * self.size..(row + 1) * self.size];
        // −1 but where the law's slope is not that of a resistance
        matrix[row] += match boundary.constraint[index] {
            FlowConstraint::Free => {
                (self.traces[index].rise_by_flow - boundary.inertia / passage.least_area) * line.by_from
            }
            FlowConstraint::Fixed(_) | FlowConstraint::Volume(_) => -1.0,
        };
        matrix[network.leg_column(network.legs[leg].partner_leg)] -= slopes.by_partner * line.by_from;
        matrix[slopes.joint] -= slopes.by_joint * line.by_from;
        if let PassageEnd::Chamber(chamber) = passage.from {
            matrix[chamber] += line.by_from;
        }
        if let PassageEnd::Chamber(chamber) = passage.to {
            matrix[chamber] += line.by_to;
        }
        for (column, by) in [(line.start, line.by_start), (line.other, line.by_other)] {
            if column != KNOWN {
                matrix[column] += by;
            }
        }
        for k in passage.parts.clone() {
            matrix[2 * network.chambers.len() + network.local_parts[k]] += self.flow_by_part[k];
        }
    }

    pub(super) fn linearise_recirculated(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) {
        let size = self.size;
        for inlet in 0..network.warm_inlets {
            let row = network.inlet_column(inlet);
            self.matrix[row * size + row] -= 1.0;
        }
        for pair in &network.recirculations {
            let Some(inlet) = network.passages[pair.inlet].warm_inlet else { continue };
            let row = network.inlet_column(inlet);
            let (fade, by_exit, by_inlet) = fade(state.flow[pair.exit], state.flow[pair.inlet]);
            let trace = self.traces[pair.exit];
            let difference = trace.outlet - boundary.total_temperature;
            let line = self.eliminations[pair.exit];
            let scale = pair.share * fade;
            let by_flow = scale * trace.outlet_by_flow + pair.share * by_exit * difference;
            self.add_flow_slope(network, pair.exit, row, by_flow);
            self.add_flow_slope(network, pair.inlet, row, pair.share * by_inlet * difference);
            if line.start != KNOWN {
                self.matrix[row * size + line.start] += scale * trace.outlet_by_start;
            }
            for k in network.passages[pair.exit].parts.clone() {
                let column = network.part_column(network.local_parts[k]);
                self.matrix[row * size + column] += scale * self.outlet_by_part[k];
            }
        }
    }

    pub(super) fn linearise_nodes(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) {
        let size = self.size;
        for (chamber, law) in network.chambers.iter().enumerate() {
            let row = network.temperature_column(chamber);
            let (store, _) = boundary.held_chambers[chamber];
            let walls = law.to_walls(boundary.day_temperature, state.unknowns[row]).1;
            self.matrix[row * size + row] -= walls + store + TRACE_CONDUCTANCE;
        }
        for (index, part) in network.parts.iter().enumerate() {
            let row = network.part_column(index);
            let (_, by_temperature) = part.heat_taken(boundary.part_heat[index], 0.0);
            let held = boundary.storage(index, 0.0).1;
            let (by_part, by_air) = self.given_slopes[index];
            self.matrix[row * size + row] += by_temperature + held - TRACE_CONDUCTANCE - by_part;
            if let Some(chamber) = part.chamber {
                let other = network.temperature_column(chamber);
                self.matrix[row * size + other] -= by_air;
                self.matrix[other * size + row] += by_part;
                self.matrix[other * size + other] += by_air;
            }
        }
    }
}

/// Flow of an exit (kg/s) below which its air is not warm any more where it is drawn in again: a hundredth of a milligramme a second.
const HARDLY_MOVES: f64 = 1e-8;

/// How much of the share of recirculated air is left, with slopes by the exit's and the inlet's
/// flow: all of it above 2 % of the inlet's flow, none where the exit runs back or its air hardly moves. Where the inlet runs
/// back nothing enters there; what would enter is what it was on the way to rest, so that a fan behind it meets no jump.
pub(super) fn fade(exit: f64, inlet: f64) -> (f64, f64, f64) {
    if exit <= 0.0 {
        return (0.0, 0.0, 0.0);
    }
    let (moves, moves_by_exit) = match exit < HARDLY_MOVES {
        true => {
            let (value, slope) = smooth_step(exit / HARDLY_MOVES);
            (value, slope / HARDLY_MOVES)
        }
        false => (1.0, 0.0),
    };
    let ratio = exit / (0.02 * inlet);
    if inlet <= 0.0 || ratio >= 1.0 {
        return (moves, moves_by_exit, 0.0);
    }
    let (value, slope) = smooth_step(ratio);
    (moves * value, moves * slope * ratio / exit + moves_by_exit * value, -moves * slope * ratio / inlet)
}
