//! Residuals and slopes of the whole system, with every passage's flow eliminated.
//!
//! For passage i with flow ṁᵢ and the unknowns y (chamber pressures and temperatures, part
//! temperatures, temperatures of recirculated inlet air)
//!
//! ```text
//!   rᵢ + ∂rᵢ/∂ṁᵢ dṁᵢ + Σ ∂rᵢ/∂y dy = 0   →   dṁᵢ = aᵢ + Σ bᵢ dy
//! ```
//!
//! which is put into the balances of mass and heat, so that the dense system has one row for each
//! chamber pressure, chamber temperature, part and recirculated inlet only.

use super::boundary::{BoundaryConditions, FlowConstraint, Gas};
use super::nodes::fade;
use super::stall::Other;
use super::state::NetworkState;
use super::topology::{Buoyancy, Network, PassageEnd};
use super::workspace::{
    Elimination, HeldFixed, KNOWN, LEAST_SLOPE, PartSlopes, Solver, TOLERANCE, TRACE_CONDUCTANCE, Trace,
};
use crate::air::standard_atmosphere::FREE_FALL;
use std::ops::Range;

/// Difference of temperature whose heat into a store an error is measured against (K).
const HELD_WITHIN: f64 = 1e-3;
/// What a part gives is known no better than its temperature's last digits times what it gives a kelvin: four units of them, over the
/// tolerance. It counts where parts are thousands of kelvins hot, and radiate so.
const ROUNDING: f64 = 4.0 * f64::EPSILON / TOLERANCE;
/// The larger of a relative error and the one of `error` in `scale`; what is not a number is larger
/// than any. Divides only where it has to.
#[inline]
pub(super) fn larger(worst: f64, error: f64, scale: f64) -> f64 {
    if error.abs() <= worst * scale {
        return worst;
    }
    let relative = error.abs() / scale;
    if relative.is_nan() { f64::INFINITY } else { relative }
}

/// A passage's flow in its linear form, as it stands in every balance that hangs on it.
struct FlowRow {
    shift: f64,
    /// Columns and ∂ṁ/∂y.
    entries: [(usize, f64); 4],
    count: usize,
    /// The parts that it passes, among those of all passages.
    parts: Range<usize>,
}

impl FlowRow {
    #[inline]
    fn add(&mut self, column: usize, by: f64) {
        self.entries[self.count] = (column, by);
        self.count += 1;
    }
}

impl Network {
    /// What warm air in a chamber pushes through an opening (Pa, from `from` to `to`), and its slope with the
    /// chamber's temperature (Pa/K).
    ///
    /// ```text
    ///   Δp = g z (ρ_day − ρ_chamber),   outward
    /// ```
    ///
    /// z the opening's height (m) over the level of the chamber's pressure. Source: ASHRAE Handbook,
    /// Fundamentals, stack pressure.
    pub(super) fn stack(&self, stack: &Buoyancy, gas: &Gas, day: f64, chamber: f64) -> (f64, f64) {
        let per_height = stack.outward * FREE_FALL * stack.height / gas.volume_per_kelvin;
        (per_height * (1.0 / day - 1.0 / chamber), per_height / (chamber * chamber))
    }

    #[inline]
    pub(super) fn pressure(&self, end: PassageEnd, unknowns: &[f64]) -> f64 {
        match end {
            PassageEnd::Chamber(chamber) => unknowns[chamber],
            PassageEnd::Reservoir(pressure) => pressure,
            PassageEnd::Outside | PassageEnd::Engine => 0.0,
        }
    }

    /// Whether all air has one temperature, so that only flows and pressures are unknown.
    pub(super) fn is_isothermal(&self, boundary: &BoundaryConditions) -> bool {
        self.parts.is_empty()
            && self.legs.is_empty()
            && self.warm_inlets == 0
            && boundary.total_temperature == boundary.day_temperature
            && boundary.chamber_heat.iter().all(|heat| *heat == 0.0)
            && !self.has_fan
    }
}

impl Solver {
    /// Follows the air along every passage and adds up every balance. Gives the largest relative
    /// error.
    pub(super) fn measure(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) -> f64 {
        self.work += network.laws.len() as u64;
        if self.plain {
            return self.measure_flows(network, boundary, state);
        }
        let chambers = network.chambers.len();
        let size = self.size;
        let unknowns = &state.unknowns[..];
        let parts = &unknowns[2 * chambers..2 * chambers + network.parts.len()];
        self.residual[..size].fill(0.0);
        self.scale[..size].fill(0.0);
        let mut worst: f64 = 0.0;
        for (index, passage) in network.passages.iter().enumerate() {
            let flow = state.flow[index];
            let forward = flow >= 0.0;
            let (start, start_column) = network.start(index, forward, boundary, unknowns);
            let local = passage.parts.clone();
            // the temperature at the other end, and its slope, where the passage stalls
            let mut other = (KNOWN, 0.0);
            let trace = &mut self.traces[index];
            if let Some(lump) = passage.plain {
                *trace = network.trace_plain(index, lump, &boundary.gas, flow, start);
            } else {
                let heat_slopes = passage.heat_slopes..passage.heat_slopes + local.len() * local.len();
                let mut part_slopes = PartSlopes {
                    rise: &mut self.rise_by_part[local.clone()],
                    outlet: &mut self.outlet_by_part[local.clone()],
                    heat: &mut self.heat[local.clone()],
                    heat_by_flow: &mut self.heat_by_flow[local.clone()],
                    heat_by_start: &mut self.heat_by_start[local.clone()],
                    heat_by_part: &mut self.heat_by_part[heat_slopes],
                };
                let course = |forward: bool, start: f64, slopes: &mut PartSlopes, trace: &mut Trace| {
                    network.trace(index, &boundary.gas, (flow, forward, start), parts, slopes, trace);
                };
                if network.stalls(index, flow, &boundary.gas) {
                    let (other_start, other_column) = network.start(index, !forward, boundary, unknowns);
                    let mut there = Other { trace: Trace::default(), column: other_column };
                    course(!forward, other_start, &mut part_slopes, &mut there.trace);
                    let by_part = &mut self.other_by_part[local.clone()];
                    by_part.copy_from_slice(part_slopes.rise);
                    course(forward, start, &mut part_slopes, trace);
                    let smoothing = network.smoothing(index, &boundary.gas);
                    other = (other_column, there.join(flow, smoothing, trace, part_slopes.rise, by_part));
                } else {
                    course(forward, start, &mut part_slopes, trace);
                }
            }
            if let Some(stack) = &passage.stack {
                let column = network.temperature_column(stack.chamber);
                let (push, slope) =
                    network.stack(stack, &boundary.gas, boundary.day_temperature, unknowns[column]);
                trace.rise += push;
                trace.scale += push.abs();
                if column == start_column {
                    trace.rise_by_start += slope;
                } else {
                    other = (column, other.1 + slope);
                }
            }
            if let Some(leg) = passage.leg {
                let found = (&state.flow[..], unknowns);
                self.leg_slopes[leg] = network.add_leg_loss(&network.legs[leg], boundary, found, trace);
            }
            let outlet = trace.outlet;
            let start = if self.isothermal { KNOWN } else { start_column };
            let (error, scale, mut line) = self.passage_error(network, boundary, state, index, start);
            if !self.isothermal {
                (line.other, line.by_other) = (other.0, other.1 * line.by_from);
            }
            worst = larger(worst, error, scale);
            if let Some(leg) = passage.leg {
                // its row: dṁ = shift + Σ by dy, in the passage's own linear form
                self.residual[network.leg_column(leg)] = line.shift;
                line.shift = 0.0;
            }
            self.eliminations[index] = line;
            // what it brings to the balances of its ends
            if let PassageEnd::Chamber(chamber) = passage.from {
                self.residual[chamber] -= flow;
                self.scale[chamber] += flow.abs();
            }
            if let PassageEnd::Chamber(chamber) = passage.to {
                self.residual[chamber] += flow;
                self.scale[chamber] += flow.abs();
            }
            if self.isothermal {
                continue;
            }
            if let PassageEnd::Chamber(chamber) = if flow >= 0.0 { passage.to } else { passage.from } {
                let row = network.temperature_column(chamber);
                let capacity = flow.abs() * boundary.gas.heat_capacity;
                self.residual[row] += capacity * (outlet - unknowns[row]);
                self.scale[row] += capacity * (unknowns[row] - boundary.day_temperature).abs();
            }
            for k in local {
                self.residual[network.part_column(network.local_parts[k])] -= self.heat[k];
            }
        }
        larger(self.measure_nodes(network, boundary, state), worst, 1.0)
    }

    /// The error of a passage's own equation, what it is measured in, and its linear form.
    #[inline]
    fn passage_error(
        &self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        index: usize,
        start: usize,
    ) -> (f64, f64, Elimination) {
        let passage = &network.passages[index];
        let trace = &self.traces[index];
        let flow = state.flow[index];
        let from = network.pressure(passage.from, &state.unknowns);
        let mut line = Elimination { start, other: KNOWN, ..Elimination::default() };
        match boundary.constraint[index] {
            FlowConstraint::Free => {
                let to = network.pressure(passage.to, &state.unknowns);
                let mut error = from - to + trace.rise;
                let mut slope = -trace.rise_by_flow;
                if boundary.inertia > 0.0 {
                    let inertia = boundary.inertia / passage.least_area;
                    error -= inertia * (flow - boundary.held_flows[index]);
                    slope += inertia;
                }
                let slope =
                    if self.either_slope && slope < -LEAST_SLOPE { slope } else { slope.max(LEAST_SLOPE) };
                let inverse = 1.0 / slope;
                line.shift = error * inverse;
                line.by_from = inverse;
                line.by_to = -inverse;
                line.by_start = trace.rise_by_start * inverse;
                (error, (trace.scale + from.abs() + to.abs()).max(1.0), line)
            }
            FlowConstraint::Fixed(demand) => {
                line.shift = demand - flow;
                (demand - flow, demand.max(1e-6), line)
            }
            FlowConstraint::Volume(volume) => {
                // ṁ = V̇ (p + p_end)/(R T_end)
                let per_pressure = self.per_pressure(boundary, volume, trace);
                let demand = per_pressure * (boundary.pressure + from + trace.rise);
                let by_outlet = -demand / trace.outlet;
                let slope = per_pressure * trace.rise_by_flow + by_outlet * trace.outlet_by_flow - 1.0;
                let inverse = 1.0 / (-slope).max(0.1);
                line.shift = (demand - flow) * inverse;
                line.by_from = per_pressure * inverse;
                line.by_start =
                    (per_pressure * trace.rise_by_start + by_outlet * trace.outlet_by_start) * inverse;
                (demand - flow, demand.abs().max(1e-6), line)
            }
        }
    }

    #[inline]
    fn per_pressure(&self, boundary: &BoundaryConditions, volume: f64, trace: &Trace) -> f64 {
        volume / (boundary.gas.volume_per_kelvin * boundary.pressure * trace.outlet)
    }

    /// Adds what parts and chambers exchange beside the passages, and gives the balances' largest
    /// relative error.
    fn measure_nodes(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) -> f64 {
        let unknowns = &state.unknowns;
        let mut worst: f64 = 0.0;
        for chamber in 0..network.chambers.len() {
            worst = larger(worst, self.residual[chamber], self.scale[chamber].max(1e-6));
        }
        if self.isothermal {
            return worst;
        }
        for (index, part) in network.parts.iter().enumerate() {
            let row = network.part_column(index);
            let temperature = unknowns[row];
            let (heat, _) = part.heat_taken(boundary.part_heat[index], temperature);
            self.residual[row] += heat + boundary.storage(index, temperature).0
                - TRACE_CONDUCTANCE * (temperature - boundary.day_temperature);
            // a part that stores heat is known to a thousandth of a kelvin times the tolerance, no better
            self.scale[row] = heat.abs() + HELD_WITHIN * boundary.held[index].0;
            let chamber = part.chamber.map(|chamber| network.temperature_column(chamber));
            let around = chamber.map_or(boundary.day_temperature, |column| unknowns[column]);
            let (given, by_part, by_air) = part.given_to_air(temperature, around, boundary.pressure);
            self.given_slopes[index] = (by_part, by_air);
            self.residual[row] -= given;
            if let Some(column) = chamber {
                self.residual[column] += given;
            }
            let rounding = ROUNDING * by_part.abs() * temperature;
            worst = larger(worst, self.residual[row], self.scale[row].max(1.0).max(rounding));
        }
        for (chamber, law) in network.chambers.iter().enumerate() {
            let row = network.temperature_column(chamber);
            let (store, held) = boundary.held_chambers[chamber];
            let heat = boundary.chamber_heat[chamber];
            let walls = law.to_walls(boundary.day_temperature, unknowns[row]).0;
            self.residual[row] += heat
                + store * (held - unknowns[row])
                + TRACE_CONDUCTANCE * (boundary.day_temperature - unknowns[row])
                - walls;
            let scale = self.scale[row] + heat.abs();
            worst = larger(worst, self.residual[row], scale.max(1.0));
        }
        if network.warm_inlets > 0 {
            for inlet in 0..network.warm_inlets {
                let row = network.inlet_column(inlet);
                self.residual[row] = boundary.total_temperature - unknowns[row];
            }
            for pair in &network.recirculations {
                let Some(inlet) = network.passages[pair.inlet].warm_inlet else { continue };
                let (fade, _, _) = fade(state.flow[pair.exit], state.flow[pair.inlet]);
                self.residual[network.inlet_column(inlet)] +=
                    pair.share * fade * (self.traces[pair.exit].outlet - boundary.total_temperature);
            }
            for inlet in 0..network.warm_inlets {
                worst = larger(worst, self.residual[network.inlet_column(inlet)], 300.0);
            }
        }
        worst
    }

    /// Slopes of every balance, at the state last measured.
    pub(super) fn linearise(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) {
        if self.plain {
            return self.linearise_flows(network);
        }
        let size = self.size;
        self.matrix[..size * size].fill(0.0);
        self.shift[..size].fill(0.0);
        for (index, passage) in network.passages.iter().enumerate() {
            let line = self.eliminations[index];
            let trace = self.traces[index];
            match boundary.constraint[index] {
                FlowConstraint::Free => {
                    for k in passage.parts.clone() {
                        self.flow_by_part[k] = self.rise_by_part[k] * line.by_from;
                    }
                }
                FlowConstraint::Fixed(_) => self.flow_by_part[passage.parts.clone()].fill(0.0),
                FlowConstraint::Volume(volume) => {
                    let per_pressure = self.per_pressure(boundary, volume, &trace);
                    let from = network.pressure(passage.from, &state.unknowns);
                    let demand = per_pressure * (boundary.pressure + from + trace.rise);
                    let inverse = line.by_from / per_pressure.max(f64::MIN_POSITIVE);
                    for k in passage.parts.clone() {
                        self.flow_by_part[k] = inverse
                            * (per_pressure * self.rise_by_part[k]
                                - demand / trace.outlet * self.outlet_by_part[k]);
                    }
                }
            }
            self.linearise_passage(network, boundary, state, index);
        }
        for leg in 0..network.legs.len() {
            self.linearise_leg(network, boundary, leg);
        }
        if !self.isothermal {
            self.linearise_recirculated(network, boundary, state);
            self.linearise_nodes(network, boundary, state);
        }
    }

    /// How a passage's flow hangs on the unknowns at its ends.
    #[inline]
    fn flow_row(&self, network: &Network, index: usize) -> FlowRow {
        let passage = &network.passages[index];
        let line = self.eliminations[index];
        let mut row = FlowRow { shift: 0.0, entries: [(0, 0.0); 4], count: 0, parts: 0..0 };
        if self.held == HeldFixed::Flows {
            return row;
        }
        if let Some(leg) = passage.leg {
            row.add(network.leg_column(leg), 1.0);
            return row;
        }
        row.shift = line.shift;
        row.parts = passage.parts.clone();
        if let PassageEnd::Chamber(chamber) = passage.from {
            row.add(chamber, line.by_from);
        }
        if let PassageEnd::Chamber(chamber) = passage.to {
            row.add(chamber, line.by_to);
        }
        if line.start != KNOWN {
            row.add(line.start, line.by_start);
        }
        if line.other != KNOWN {
            row.add(line.other, line.by_other);
        }
        row
    }

    /// Adds ∂F/∂ṁ of a balance to its row, the flow eliminated.
    #[inline]
    fn add_row(&mut self, network: &Network, flow: &FlowRow, row: usize, by_flow: f64) {
        self.shift[row] += by_flow * flow.shift;
        let matrix = &mut self.matrix[row * self.size..(row + 1) * self.size];
        for (column, by) in &flow.entries[..flow.count] {
            matrix[*column] += by_flow * by;
        }
        let first = 2 * network.chambers.len();
        let parts = network.local_parts[flow.parts.clone()].iter();
        for (part, by) in parts.zip(&self.flow_by_part[flow.parts.clone()]) {
            matrix[first + part] += by_flow * by;
        }
    }

    /// The same of a single balance.
    pub(super) fn add_flow_slope(&mut self, network: &Network, index: usize, row: usize, by_flow: f64) {
        let flow = self.flow_row(network, index);
        self.add_row(network, &flow, row, by_flow);
    }

    #[inline]
    fn linearise_passage(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        index: usize,
    ) {
        let size = self.size;
        let passage = &network.passages[index];
        let flow = state.flow[index];
        let trace = self.traces[index];
        let line = self.eliminations[index];
        if self.isothermal {
            // a conductance between two nodes, and nothing else
            let ends = [(passage.from, -1.0), (passage.to, 1.0)];
            for (end, sign) in ends {
                let PassageEnd::Chamber(row) = end else { continue };
                self.shift[row] += sign * line.shift;
                for (other, by) in [(passage.from, line.by_from), (passage.to, line.by_to)] {
                    if let PassageEnd::Chamber(column) = other {
                        self.matrix[row * size + column] += sign * by;
                    }
                }
            }
            return;
        }
        let row_of_flow = self.flow_row(network, index);
        if let PassageEnd::Chamber(chamber) = passage.from {
            self.add_row(network, &row_of_flow, chamber, -1.0);
        }
        if let PassageEnd::Chamber(chamber) = passage.to {
            self.add_row(network, &row_of_flow, chamber, 1.0);
        }
        let receiver = if flow >= 0.0 { passage.to } else { passage.from };
        if let PassageEnd::Chamber(chamber) = receiver {
            let row = network.temperature_column(chamber);
            let capacity = flow.abs() * boundary.gas.heat_capacity;
            let difference = trace.outlet - state.unknowns[row];
            let by_flow =
                flow.signum() * boundary.gas.heat_capacity * difference + capacity * trace.outlet_by_flow;
            self.add_row(network, &row_of_flow, row, by_flow);
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
        let local = passage.parts.clone();
        for (slot, k) in local.clone().enumerate() {
            let row = network.part_column(network.local_parts[k]);
            self.add_row(network, &row_of_flow, row, -self.heat_by_flow[k]);
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
