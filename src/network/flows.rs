//! Flows and pressures alone: plain openings between spaces whose air has one temperature.
//!
//! Nothing is warmed and no law bends, so that a passage is one resistance and the system has one row
//! for each chamber. The general way gives the same numbers; this one does without its tables.

use super::assemble::larger;
use super::boundary::{BoundaryConditions, FlowConstraint};
use super::state::NetworkState;
use super::topology::{Network, PassageEnd};
use super::workspace::{LEAST_SLOPE, Solver};
use crate::numerics::smooth::magnitude;

impl Network {
    /// Whether every passage is a plain opening that only pressures drive. To be asked of an
    /// isothermal network.
    pub(super) fn is_plain(&self, boundary: &BoundaryConditions) -> bool {
        let passages = self.passages.iter().zip(&boundary.constraint);
        passages.fold(true, |plain, (passage, constraint)| {
            plain & passage.plain.is_some() & (*constraint == FlowConstraint::Free)
        })
    }
}

impl Solver {
    /// The balances of mass and every passage's linear form dṁ = shift + inverse (dp_from − dp_to).
    /// Gives the largest relative error.
    pub(super) fn measure_flows(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) -> f64 {
        let chambers = network.chambers.len();
        let pressures = &state.unknowns[..chambers];
        let (residual, scale) = (&mut self.residual[..chambers], &mut self.scale[..chambers]);
        residual.fill(0.0);
        scale.fill(0.0);
        let mut worst: f64 = 0.0;
        // Δp = K/2A² ṁ|ṁ|/ρ, the density that of the day's air throughout
        let specific_volume = boundary.gas.volume_per_kelvin * boundary.day_temperature;
        let smoothing = boundary.gas.smooth_below * boundary.gas.density;
        let passages = network.passages.iter().zip(&state.flow).zip(&mut self.eliminations);
        for ((passage, flow), line) in passages {
            let Some(lump) = &passage.plain else { continue };
            let (size, slope) = magnitude(*flow, smoothing * passage.least_area);
            let unit = if *flow >= 0.0 { lump.forward } else { lump.backward } * specific_volume;
            let drop = unit * flow * size;
            let mut before = 0.0;
            let mut behind = 0.0;
            match passage.from {
                PassageEnd::Chamber(chamber) => {
                    before = pressures[chamber];
                    residual[chamber] -= flow;
                    scale[chamber] += flow.abs();
                }
                PassageEnd::Reservoir(pressure) => before = pressure,
                PassageEnd::Outside | PassageEnd::Engine => {}
            }
            match passage.to {
                PassageEnd::Chamber(chamber) => {
                    behind = pressures[chamber];
                    residual[chamber] += flow;
                    scale[chamber] += flow.abs();
                }
                PassageEnd::Reservoir(pressure) => behind = pressure,
                PassageEnd::Outside | PassageEnd::Engine => {}
            }
            let error = before - behind + lump.push - drop;
            let size_of_error = lump.push_size + drop.abs() + f64::abs(before) + f64::abs(behind);
            worst = larger(worst, error, size_of_error.max(1.0));
            let inverse = 1.0 / (unit * (size + flow * slope)).max(LEAST_SLOPE);
            line.shift = error * inverse;
            line.by_from = inverse;
            line.by_to = -inverse;
        }
        for (residual, scale) in residual.iter().zip(scale) {
            worst = larger(worst, *residual, scale.max(1e-6));
        }
        worst
    }

    /// The system of the chambers' pressures, at the state last measured: a conductance between two
    /// nodes for each passage.
    pub(super) fn linearise_flows(&mut self, network: &Network) {
        let size = self.size;
        let matrix = &mut self.matrix[..size * size];
        let shift = &mut self.shift[..size];
        matrix.fill(0.0);
        shift.fill(0.0);
        for (passage, line) in network.passages.iter().zip(&self.eliminations) {
            if let PassageEnd::Chamber(row) = passage.from {
                shift[row] -= line.shift;
                matrix[row * size + row] -= line.by_from;
                if let PassageEnd::Chamber(column) = passage.to {
                    matrix[row * size + column] -= line.by_to;
                }
            }
            if let PassageEnd::Chamber(row) = passage.to {
                shift[row] += line.shift;
                matrix[row * size + row] += line.by_to;
                if let PassageEnd::Chamber(column) = passage.from {
                    matrix[row * size + column] += line.by_from;
                }
            }
        }
    }

    /// Takes the step of pressures last solved for.
    pub(super) fn step_flows(&mut self, network: &Network, state: &mut NetworkState) {
        let step = &self.step[..self.size];
        for ((passage, flow), line) in network.passages.iter().zip(&mut state.flow).zip(&self.eliminations) {
            let mut change = line.shift;
            if let PassageEnd::Chamber(chamber) = passage.from {
                change += line.by_from * step[chamber];
            }
            if let PassageEnd::Chamber(chamber) = passage.to {
                change += line.by_to * step[chamber];
            }
            *flow += change;
        }
        for (pressure, step) in state.unknowns.iter_mut().zip(step) {
            *pressure += step;
        }
    }
}
