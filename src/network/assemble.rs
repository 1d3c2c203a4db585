//! Residuals and slopes of the whole system, with every passage's flow eliminated.
//!
//! For passage i with flow ṁᵢ and the unknowns y (chamber pressures and temperatures, part
//! temperatures, temperatures of recirculated inlet air)
//!
//!     rᵢ + ∂rᵢ/∂ṁᵢ dṁᵢ + Σ ∂rᵢ/∂y dy = 0   →   dṁᵢ = aᵢ + Σ bᵢ dy
//!
//! which is put into the balances of mass and heat, so that the dense system has one row for each
//! chamber pressure, chamber temperature, part and recirculated inlet only.

use super::solve::{Draught, Load, Solver, State};
use super::topology::{End, Network};
use super::trace::{PartSlopes, Trace};
use crate::numerics::smooth::smooth_step;

/// Marks a temperature that is not an unknown.
const KNOWN: usize = usize::MAX;
/// Conductance that settles the temperature of what has no other [W/K].
const TRACE_CONDUCTANCE: f64 = 1e-12;
/// Least slope of a passage's error with its flow [Pa s/kg].
const LEAST_SLOPE: f64 = 1e-6;

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
}

impl Network {
    fn temperature_column(&self, chamber: usize) -> usize {
        self.chambers.len() + chamber
    }

    fn part_column(&self, part: usize) -> usize {
        2 * self.chambers.len() + part
    }

    pub(super) fn inlet_column(&self, inlet: usize) -> usize {
        2 * self.chambers.len() + self.parts.len() + inlet
    }

    /// Where the air of a passage enters: its temperature and the column it stands in.
    #[inline]
    pub(super) fn start(&self, index: usize, flow: f64, load: &Load, unknowns: &[f64]) -> (f64, usize) {
        let passage = &self.passages[index];
        let end = if flow >= 0.0 { passage.from } else { passage.to };
        match end {
            End::Chamber(chamber) => {
                let column = self.temperature_column(chamber);
                (unknowns[column], column)
            }
            _ => match passage.warm_inlet {
                Some(inlet) if flow >= 0.0 => {
                    let column = self.inlet_column(inlet);
                    (unknowns[column], column)
                }
                _ => (load.total_temperature, KNOWN),
            },
        }
    }

    #[inline]
    fn pressure(&self, end: End, unknowns: &[f64]) -> f64 {
        match end {
            End::Chamber(chamber) => unknowns[chamber],
            _ => 0.0,
        }
    }
}

impl Solver {
    /// Residuals of every balance and, with `slopes`, the eliminated system. Gives the largest
    /// relative error.
    pub(super) fn assemble(&mut self, network: &Network, load: &Load, state: &State, slopes: bool) -> f64 {
        let size = network.unknowns();
        let chambers = network.chambers.len();
        let unknowns = &state.unknowns[..];
        let parts = &unknowns[2 * chambers..2 * chambers + network.parts.len()];
        self.matrix[..size * size].fill(0.0);
        self.residual[..size].fill(0.0);
        self.shift[..size].fill(0.0);
        self.scale[..size].fill(0.0);
        let mut worst: f64 = 0.0;

        for index in 0..network.passages.len() {
            let passage = &network.passages[index];
            let flow = state.flow[index];
            let (start, column) = network.start(index, flow, load, unknowns);
            let local = passage.parts.clone();
            let heat_slopes = passage.heat_slopes..passage.heat_slopes + local.len() * local.len();
            let mut part_slopes = PartSlopes {
                rise: &mut self.rise_by_part[local.clone()],
                outlet: &mut self.outlet_by_part[local.clone()],
                heat: &mut self.heat[local.clone()],
                heat_by_flow: &mut self.heat_by_flow[local.clone()],
                heat_by_start: &mut self.heat_by_start[local.clone()],
                heat_by_part: &mut self.heat_by_part[heat_slopes],
            };
            let trace = network.trace(index, &load.gas, flow, start, parts, &mut part_slopes);
            self.traces[index] = trace;
            let from = network.pressure(passage.from, unknowns);
            let to = network.pressure(passage.to, unknowns);
            // the passage's own equation
            let mut line = Elimination { start: column, ..Elimination::default() };
            match load.draught[index] {
                Draught::Free => {
                    let error = from - to + trace.rise;
                    worst = worst.max(error.abs() / (trace.scale + from.abs() + to.abs()).max(1.0));
                    let slope = trace.rise_by_flow.min(-LEAST_SLOPE);
                    let inverse = -1.0 / slope;
                    line.shift = error * inverse;
                    line.by_from = inverse;
                    line.by_to = -inverse;
                    line.by_start = trace.rise_by_start * inverse;
                    for k in local.clone() {
                        self.flow_by_part[k] = self.rise_by_part[k] * inverse;
                    }
                }
                Draught::Fixed(demand) => {
                    let error = demand - flow;
                    worst = worst.max(error.abs() / demand.max(1e-6));
                    line.shift = error;
                    for k in local.clone() {
                        self.flow_by_part[k] = 0.0;
                    }
                }
                Draught::Volume(volume) => {
                    // ṁ = V̇ (p + p_end)/(R T_end)
                    let gas_constant = load.gas.volume_per_kelvin * load.pressure;
                    let per_pressure = volume / (gas_constant * trace.outlet);
                    let demand = per_pressure * (load.pressure + from + trace.rise);
                    let by_outlet = -demand / trace.outlet;
                    let error = demand - flow;
                    worst = worst.max(error.abs() / demand.abs().max(1e-6));
                    let slope = per_pressure * trace.rise_by_flow + by_outlet * trace.outlet_by_flow - 1.0;
                    let inverse = -1.0 / slope.min(-0.1);
                    line.shift = error * inverse;
                    line.by_from = per_pressure * inverse;
                    line.by_start =
                        (per_pressure * trace.rise_by_start + by_outlet * trace.outlet_by_start) * inverse;
                    for k in local.clone() {
                        self.flow_by_part[k] = (per_pressure * self.rise_by_part[k]
                            + by_outlet * self.outlet_by_part[k])
                            * inverse;
                    }
                }
            }
            self.eliminations[index] = line;
        }
        // the balances
        for index in 0..network.passages.len() {
            self.add_passage(network, load, state, index, slopes);
        }
        self.add_recirculated(network, load, state, slopes, &mut worst);
        self.add_surroundings(network, load, state, &mut worst);
        worst
    }

    /// Adds ∂F/∂ṁ of a balance to its row, the flow eliminated.
    #[inline]
    fn add_flow_slope(&mut self, network: &Network, index: usize, row: usize, by_flow: f64) {
        let size = network.unknowns();
        let passage = &network.passages[index];
        let line = self.eliminations[index];
        let matrix = &mut self.matrix[row * size..(row + 1) * size];
        self.shift[row] += by_flow * line.shift;
        if let End::Chamber(chamber) = passage.from {
            matrix[chamber] += by_flow * line.by_from;
        }
        if let End::Chamber(chamber) = passage.to {
            matrix[chamber] += by_flow * line.by_to;
        }
        if line.start != KNOWN {
            matrix[line.start] += by_flow * line.by_start;
        }
        for k in passage.parts.clone() {
            matrix[2 * network.chambers.len() + network.local_parts[k]] += by_flow * self.flow_by_part[k];
        }
    }

    #[inline]
    fn add_passage(&mut self, network: &Network, load: &Load, state: &State, index: usize, slopes: bool) {
        let size = network.unknowns();
        let passage = &network.passages[index];
        let flow = state.flow[index];
        let trace = self.traces[index];
        let line = self.eliminations[index];
        for (end, sign) in [(passage.from, -1.0), (passage.to, 1.0)] {
            let End::Chamber(chamber) = end else { continue };
            self.residual[chamber] += sign * flow;
            self.scale[chamber] += flow.abs();
            if slopes {
                self.add_flow_slope(network, index, chamber, sign);
            }
        }
        let receiver = if flow >= 0.0 { passage.to } else { passage.from };
        if let End::Chamber(chamber) = receiver {
            let row = network.temperature_column(chamber);
            let capacity = flow.abs() * load.gas.heat_capacity;
            let difference = trace.outlet - state.unknowns[row];
            self.residual[row] += capacity * difference;
            self.scale[row] += capacity * (state.unknowns[row] - load.day_temperature).abs();
            if slopes {
                let by_flow =
                    flow.signum() * load.gas.heat_capacity * difference + capacity * trace.outlet_by_flow;
                self.add_flow_slope(network, index, row, by_flow);
                let matrix = &mut self.matrix[row * size..(row + 1) * size];
                matrix[row] -= capacity;
                if line.start != KNOWN {
                    matrix[line.start] += capacity * trace.outlet_by_start;
                }
                for k in passage.parts.clone() {
                    matrix[2 * network.chambers.len() + network.local_parts[k]] +=
                        capacity * self.outlet_by_part[k];
                }
            }
        }
        let local = passage.parts.clone();
        for (slot, k) in local.clone().enumerate() {
            let row = network.part_column(network.local_parts[k]);
            self.residual[row] -= self.heat[k];
            if slopes {
                self.add_flow_slope(network, index, row, -self.heat_by_flow[k]);
                if line.start != KNOWN {
                    self.matrix[row * size + line.start] -= self.heat_by_start[k];
                }
                for (other, j) in local.clone().enumerate() {
                    let column = network.part_column(network.local_parts[j]);
                    self.matrix[row * size + column] -=
                        self.heat_by_part[passage.heat_slopes + slot * local.len() + other];
                }
            }
        }
    }

    fn add_recirculated(
        &mut self,
        network: &Network,
        load: &Load,
        state: &State,
        slopes: bool,
        worst: &mut f64,
    ) {
        if network.warm_inlets == 0 {
            return;
        }
        let size = network.unknowns();
        for passage in &network.passages {
            if let Some(inlet) = passage.warm_inlet {
                let row = network.inlet_column(inlet);
                self.residual[row] = load.total_temperature - state.unknowns[row];
                self.matrix[row * size + row] -= 1.0;
            }
        }
        for pair in &network.recirculations {
            let Some(inlet) = network.passages[pair.inlet].warm_inlet else { continue };
            let row = network.inlet_column(inlet);
            let (fade, by_exit, by_inlet) = fade(state.flow[pair.exit], state.flow[pair.inlet]);
            let trace = self.traces[pair.exit];
            let difference = trace.outlet - load.total_temperature;
            self.residual[row] += pair.share * fade * difference;
            if slopes {
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
        for inlet in 0..network.warm_inlets {
            *worst = worst.max(self.residual[network.inlet_column(inlet)].abs() / 300.0);
        }
    }

    /// What parts and chambers exchange beside the passages, and the balances' relative errors.
    fn add_surroundings(&mut self, network: &Network, load: &Load, state: &State, worst: &mut f64) {
        let size = network.unknowns();
        let unknowns = &state.unknowns;
        for (chamber, law) in network.chambers.iter().enumerate() {
            let row = network.temperature_column(chamber);
            let conductance = law.skin_conductance + TRACE_CONDUCTANCE;
            self.residual[row] +=
                load.chamber_heat[chamber] + conductance * (load.day_temperature - unknowns[row]);
            self.matrix[row * size + row] -= conductance;
        }
        for (index, part) in network.parts.iter().enumerate() {
            let row = network.part_column(index);
            let (heat, by_temperature) = part.heat_taken(load.part_heat[index], unknowns[row]);
            self.residual[row] += heat + load.storage(index, unknowns[row]).0
                - TRACE_CONDUCTANCE * (unknowns[row] - load.day_temperature);
            self.matrix[row * size + row] +=
                by_temperature + load.storage(index, unknowns[row]).1 - TRACE_CONDUCTANCE;
            self.scale[row] = heat.abs();
            let conductance = part.bay_conductance;
            match part.chamber {
                Some(chamber) => {
                    let other = network.temperature_column(chamber);
                    let given = conductance * (unknowns[row] - unknowns[other]);
                    self.residual[row] -= given;
                    self.residual[other] += given;
                    self.matrix[row * size + row] -= conductance;
                    self.matrix[row * size + other] += conductance;
                    self.matrix[other * size + row] += conductance;
                    self.matrix[other * size + other] -= conductance;
                }
                None => {
                    self.residual[row] -= conductance * (unknowns[row] - load.day_temperature);
                    self.matrix[row * size + row] -= conductance;
                }
            }
        }
        for chamber in 0..network.chambers.len() {
            *worst = worst.max(self.residual[chamber].abs() / self.scale[chamber].max(1e-6));
            let row = network.temperature_column(chamber);
            let scale = self.scale[row] + load.chamber_heat[chamber].abs();
            *worst = worst.max(self.residual[row].abs() / scale.max(1.0));
        }
        for part in 0..network.parts.len() {
            let row = network.part_column(part);
            *worst = worst.max(self.residual[row].abs() / self.scale[row].max(1.0));
        }
    }
}

/// How much of the share of recirculated air is left, with slopes by the exit's and the inlet's
/// flow: all of it above 2 % of the inlet's flow, none where either runs back.
fn fade(exit: f64, inlet: f64) -> (f64, f64, f64) {
    if exit <= 0.0 || inlet <= 0.0 {
        return (0.0, 0.0, 0.0);
    }
    let ratio = exit / (0.02 * inlet);
    if ratio >= 1.0 {
        return (1.0, 0.0, 0.0);
    }
    let (value, slope) = smooth_step(ratio);
    (value, slope * ratio / exit, -slope * ratio / inlet)
}

/// An empty trace.
pub(super) fn no_trace() -> Trace {
    Trace::default()
}
