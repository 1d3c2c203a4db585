//! Follows the air along one passage: pressure and temperature, with slopes.

use super::boundary::{BoundaryConditions, Gas};
use super::state::NetworkState;
use super::topology::{NO_PART, Network, PassageEnd, Segment};
use super::workspace::{KNOWN, PartSlopes, Trace};
use crate::element::law::Lump;
use crate::element::{PassageStream, Response};
use crate::numerics::smooth::magnitude;

/// What the air of a solution meets along a passage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Met {
    /// An element, as an index into the network's laws.
    Element(usize),
    /// A sudden change that nobody wrote, as an index into those of the passage.
    Sudden(usize),
}

/// Sets all to nothing. Most passages pass one part, and a single number needs no call.
#[inline]
fn clear(numbers: &mut [f64]) {
    match numbers {
        [one] => *one = 0.0,
        more => more.fill(0.0),
    }
}

impl Network {
    /// Where the air of a passage enters: its temperature and the column it stands in.
    #[inline]
    pub(super) fn start(
        &self,
        index: usize,
        forward: bool,
        boundary: &BoundaryConditions,
        unknowns: &[f64],
    ) -> (f64, usize) {
        let passage = &self.passages[index];
        let end = if forward { passage.from } else { passage.to };
        match end {
            PassageEnd::Chamber(chamber) => {
                let column = self.temperature_column(chamber);
                (unknowns[column], column)
            }
            _ => match passage.warm_inlet {
                Some(inlet) if forward => {
                    let column = self.inlet_column(inlet);
                    (unknowns[column], column)
                }
                _ => (boundary.total_temperature, KNOWN),
            },
        }
    }

    /// Follows the air of a solution along a passage and shows each element with the temperature at
    /// which its air enters and what it does there, in the order in which the air meets them.
    pub fn follow(
        &self,
        index: usize,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        mut show: impl FnMut(usize, f64, &Response),
    ) {
        self.follow_all(index, boundary, state, |met, entering, response| {
            if let Met::Element(element) = met {
                show(element, entering, response);
            }
        });
    }

    /// The same, sudden changes of area among the elements.
    pub fn follow_all(
        &self,
        index: usize,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        mut show: impl FnMut(Met, f64, &Response),
    ) {
        let passage = &self.passages[index];
        let flow = state.flow[index];
        let gas = &boundary.gas;
        let stream =
            PassageStream::new(flow, self.smoothing(index, gas), gas.volume_per_kelvin, gas.heat_capacity);
        let mut temperature = self.start(index, stream.forward, boundary, &state.unknowns).0;
        let mut eased = self.eased_rise(index, boundary, state);
        let count = passage.elements.len();
        // places in the chain: a change stands before the element of its place
        for step in 0..=2 * count {
            let position = if stream.forward { step } else { 2 * count - step };
            let place = position / 2;
            if position % 2 == 0 {
                if let Some(change) = passage.sudden.iter().position(|change| change.before == place) {
                    let unit = passage.sudden[change].resistance(stream.forward) * gas.volume_per_kelvin;
                    let drop = unit * temperature * stream.square;
                    show(
                        Met::Sudden(change),
                        temperature,
                        &Response { drop, ..Response::passing(temperature) },
                    );
                }
                continue;
            }
            let element = passage.elements.start + place;
            let slot = self.part_slot[element];
            let part = if slot == NO_PART {
                0.0
            } else {
                state.part_temperature(self.local_parts[passage.parts.start + slot])
            };
            let mut response = self.laws[element].respond(&stream, temperature, part);
            if self.laws[element].as_fan().is_some() {
                response.push += std::mem::take(&mut eased);
            }
            if let Some(leg) = passage.leg.map(|leg| &self.legs[leg]).filter(|leg| leg.element == element) {
                response.drop += self.leg_loss(leg, boundary, &state.flow, &state.unknowns).0;
            }
            if let Some(stack) = passage.stack.filter(|stack| stack.element == element) {
                let chamber = state.chamber_temperature(stack.chamber);
                response.push += self.stack(&stack, gas, boundary.day_temperature, chamber).0;
            }
            show(Met::Element(element), temperature, &response);
            temperature = response.outlet;
        }
    }

    /// Head lost where the air of a solution leaves a passage at a temperature (Pa).
    pub fn last_head(
        &self,
        index: usize,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        outlet: f64,
    ) -> f64 {
        let passage = &self.passages[index];
        let flow = state.flow[index];
        let lost = if flow >= 0.0 { passage.head_forward } else { passage.head_backward };
        lost * boundary.gas.volume_per_kelvin
            * outlet
            * flow.abs()
            * magnitude(flow, self.smoothing(index, &boundary.gas)).0
    }

    /// Flow below which the laws of a passage are smooth (kg/s).
    #[inline]
    pub(super) fn smoothing(&self, passage: usize, gas: &Gas) -> f64 {
        gas.smooth_below * gas.density * self.passages[passage].least_area
    }

    /// Follows the air along a passage in which nothing warms it: exits, seams, plain openings.
    ///
    /// ```text
    ///   r = p − c v T ṁ|ṁ|
    ///   ∂r/∂ṁ = −c v T (|ṁ| + ṁ d|ṁ|/dṁ)
    ///   ∂r/∂T = −c v ṁ|ṁ|
    /// ```
    ///
    /// r rise of total pressure (Pa), p what pushes (Pa), c = Σ K/(2A²) of the way the air runs (1/m⁴), v = 1/(ϱT) the volume of
    /// the gas per kelvin (m³/(kg K)), T `start` (K), ṁ `flow` (kg/s), |ṁ| smooth through zero.
    #[inline]
    pub(super) fn trace_plain(&self, index: usize, lump: Lump, gas: &Gas, flow: f64, start: f64) -> Trace {
        let (magnitude, slope) = magnitude(flow, self.smoothing(index, gas));
        let unit = if flow >= 0.0 { lump.forward } else { lump.backward } * gas.volume_per_kelvin;
        let per_kelvin = unit * flow * magnitude;
        Trace {
            rise: lump.push - per_kelvin * start,
            rise_by_flow: -unit * start * (magnitude + flow * slope),
            rise_by_start: -per_kelvin,
            outlet: start,
            outlet_by_flow: 0.0,
            outlet_by_start: 1.0,
            scale: lump.push_size + (per_kelvin * start).abs(),
        }
    }

    /// Follows the air along a passage, `flow` with the end at which it enters (true: `from`) and the temperature there. What it
    /// does is put into `found`, where it is to stay: to copy what was only just written makes a processor wait.
    ///
    /// Each element i raises the pressure by rᵢ(ṁ, Tᵢ₋₁, Tₚ) and lets the air go at Tᵢ(ṁ, Tᵢ₋₁, Tₚ), T₀ = `start`; what one
    /// hands on is the chain rule, kᵢ = ∂Tᵢ/∂Tᵢ₋₁:
    ///
    /// ```text
    ///   r = Σ rᵢ − h v T ṁ|ṁ|
    ///   dTᵢ/dṁ  = ∂Tᵢ/∂ṁ + kᵢ dTᵢ₋₁/dṁ        dr/dṁ  = Σ (∂rᵢ/∂ṁ + ∂rᵢ/∂Tᵢ₋₁ dTᵢ₋₁/dṁ)
    ///   dTᵢ/dT₀ = kᵢ dTᵢ₋₁/dT₀                dr/dT₀ = Σ ∂rᵢ/∂Tᵢ₋₁ dTᵢ₋₁/dT₀
    ///   dTᵢ/dTₚ = ∂Tᵢ/∂Tₚ + kᵢ dTᵢ₋₁/dTₚ      dr/dTₚ = Σ (∂rᵢ/∂Tₚ + ∂rᵢ/∂Tᵢ₋₁ dTᵢ₋₁/dTₚ)
    ///   Qᵢ = |ṁ| cₚ (Tᵢ − Tᵢ₋₁)
    ///   dQᵢ/dṁ  = sgn ṁ cₚ (Tᵢ − Tᵢ₋₁) + |ṁ| cₚ (dTᵢ/dṁ − dTᵢ₋₁/dṁ)
    ///   dQᵢ/dT₀ = |ṁ| cₚ (kᵢ − 1) dTᵢ₋₁/dT₀
    ///   dQᵢ/dTₚ = |ṁ| cₚ (∂Tᵢ/∂Tₚ + (kᵢ − 1) dTᵢ₋₁/dTₚ)
    /// ```
    ///
    /// Tₚ temperature of a part (K), Qᵢ heat that the air takes from it (W), cₚ heat capacity of the gas (J/(kg K)); the last term
    /// of r is the head lost where the air leaves at T, h = 1/(2A²) (1/m⁴) of that end, its slopes as in [`Network::trace_plain`].
    #[inline]
    pub(super) fn trace(
        &self,
        index: usize,
        gas: &Gas,
        (flow, forward, start): (f64, bool, f64),
        part_temperatures: &[f64],
        slopes: &mut PartSlopes,
        found: &mut Trace,
    ) {
        let passage = &self.passages[index];
        let smoothing = self.smoothing(index, gas);
        let stream = PassageStream {
            forward,
            ..PassageStream::new(flow, smoothing, gas.volume_per_kelvin, gas.heat_capacity)
        };
        let mut trace = Trace { outlet: start, outlet_by_start: 1.0, ..Trace::default() };
        let meets = &self.meets[passage.meets.clone()];
        let parts = &self.local_parts[passage.parts.clone()];
        if !parts.is_empty() {
            clear(slopes.rise);
            clear(slopes.outlet);
            clear(slopes.heat);
            clear(slopes.heat_by_flow);
            clear(slopes.heat_by_start);
            clear(slopes.heat_by_part);
        }
        for step in 0..meets.len() {
            let element = match meets[if stream.forward { step } else { meets.len() - 1 - step }] {
                Segment::Element(element) => element,
                Segment::Lump(lump) => {
                    let unit =
                        if stream.forward { lump.forward } else { lump.backward } * gas.volume_per_kelvin;
                    let per_kelvin = unit * stream.square;
                    let drop = per_kelvin * trace.outlet;
                    trace.rise += lump.push - drop;
                    trace.scale += lump.push_size + drop.abs();
                    trace.rise_by_flow -=
                        unit * stream.square_slope * trace.outlet + per_kelvin * trace.outlet_by_flow;
                    trace.rise_by_start -= per_kelvin * trace.outlet_by_start;
                    for (rise, outlet) in slopes.rise.iter_mut().zip(slopes.outlet.iter()) {
                        *rise -= per_kelvin * outlet;
                    }
                    continue;
                }
            };
            let slot = self.part_slot[element];
            let part = if slot == NO_PART { 0.0 } else { part_temperatures[parts[slot]] };
            let before = trace.outlet;
            let response = self.laws[element].respond(&stream, before, part);
            trace.rise += response.push - response.drop;
            trace.scale += response.push.abs() + response.drop.abs();
            trace.rise_by_flow += response.rise_by_flow + response.rise_by_temperature * trace.outlet_by_flow;
            trace.rise_by_start += response.rise_by_temperature * trace.outlet_by_start;
            for (rise, outlet) in slopes.rise.iter_mut().zip(slopes.outlet.iter()) {
                *rise += response.rise_by_temperature * outlet;
            }
            if slot == NO_PART && response.outlet_by_flow == 0.0 && response.outlet == before {
                continue;
            }
            let kept = response.outlet_by_temperature;
            let by_flow = response.outlet_by_flow + kept * trace.outlet_by_flow;
            if slot != NO_PART {
                let capacity = flow.abs() * gas.heat_capacity;
                let risen = response.outlet - before;
                slopes.rise[slot] += response.rise_by_part;
                slopes.heat[slot] += capacity * risen;
                slopes.heat_by_flow[slot] +=
                    flow.signum() * gas.heat_capacity * risen + capacity * (by_flow - trace.outlet_by_flow);
                slopes.heat_by_start[slot] += capacity * (kept - 1.0) * trace.outlet_by_start;
                let row = slot * parts.len();
                for (column, outlet) in slopes.outlet.iter().enumerate() {
                    slopes.heat_by_part[row + column] += capacity * (kept - 1.0) * outlet;
                }
                slopes.heat_by_part[row + slot] += capacity * response.outlet_by_part;
            }
            trace.outlet = response.outlet;
            trace.outlet_by_flow = by_flow;
            trace.outlet_by_start *= kept;
            for outlet in slopes.outlet.iter_mut() {
                *outlet *= kept;
            }
            if slot != NO_PART {
                slopes.outlet[slot] += response.outlet_by_part;
            }
        }
        let lost = if stream.forward { passage.head_forward } else { passage.head_backward };
        if lost > 0.0 {
            let unit = lost * gas.volume_per_kelvin * stream.square;
            let head = unit * trace.outlet;
            trace.rise -= head;
            trace.scale += head.abs();
            trace.rise_by_flow -= unit * trace.outlet_by_flow
                + lost * gas.volume_per_kelvin * stream.square_slope * trace.outlet;
            trace.rise_by_start -= unit * trace.outlet_by_start;
            for (rise, outlet) in slopes.rise.iter_mut().zip(slopes.outlet.iter()) {
                *rise -= unit * outlet;
            }
        }
        *found = trace;
    }
}
