//! What is solved for: flows, pressures and temperatures.

use super::boundary::{BoundaryConditions, FlowConstraint};
use super::topology::Network;

/// Temperatures (K) and flows (of the largest) by which states that are as good as one differ at most.
const BESIDE: f64 = 0.05;
const FLOWS_BESIDE: f64 = 1e-3;

/// Flows, pressures and temperatures of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct NetworkState {
    /// Mass flow of each passage (kg/s).
    pub flow: Vec<f64>,
    /// Chamber pressures (Pa), chamber temperatures, part temperatures, temperatures of
    /// recirculated inlet air (K).
    pub(super) unknowns: Vec<f64>,
    pub(super) chambers: usize,
}

impl NetworkState {
    /// A state to start from: air moving gently along every passage, everything lukewarm.
    pub fn first_guess(network: &Network, boundary: &BoundaryConditions) -> NetworkState {
        let mut state = NetworkState {
            flow: vec![0.0; network.passages.len()],
            unknowns: vec![0.0; network.unknowns()],
            chambers: network.chambers.len(),
        };
        state.begin(network, boundary);
        state
    }

    /// Takes the values of [`NetworkState::first_guess`].
    pub fn begin(&mut self, network: &Network, boundary: &BoundaryConditions) {
        let chambers = network.chambers.len();
        for (index, value) in self.unknowns.iter_mut().enumerate() {
            *value = if index < chambers {
                0.0
            } else if index < 2 * chambers {
                boundary.day_temperature + 30.0
            } else {
                match network.parts.get(index - 2 * chambers) {
                    Some(part) => part.mark().max(boundary.day_temperature),
                    None => boundary.total_temperature,
                }
            };
        }
        let passages = network.passages.iter().zip(&boundary.constraint);
        for (flow, (passage, constraint)) in self.flow.iter_mut().zip(passages) {
            *flow = match constraint {
                FlowConstraint::Free => 10.0 * boundary.gas.density * passage.least_area,
                FlowConstraint::Fixed(flow) => *flow,
                FlowConstraint::Volume(volume) => volume * boundary.gas.density,
            };
        }
    }

    /// The largest difference of temperature of any part or space between it and another (K).
    pub fn apart(&self, other: &NetworkState) -> f64 {
        let pairs = self.unknowns[self.chambers..].iter().zip(&other.unknowns[self.chambers..]);
        pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
    }

    /// Whether Newton's method can but lead from it to another: temperatures within a twentieth of a kelvin, flows within a
    /// thousandth of the largest.
    pub fn is_beside(&self, other: &NetworkState) -> bool {
        let largest = other.flow.iter().fold(0.0, |largest, flow| f64::max(largest, flow.abs()));
        let mut flows = self.flow.iter().zip(&other.flow);
        self.apart(other) <= BESIDE && flows.all(|(a, b)| (a - b).abs() <= FLOWS_BESIDE * largest)
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

    /// Takes every value times a factor.
    pub fn scale(&mut self, factor: f64) {
        self.flow.iter_mut().for_each(|value| *value *= factor);
        self.unknowns.iter_mut().for_each(|value| *value *= factor);
    }

    /// Adds another state's values times a factor.
    pub fn add(&mut self, factor: f64, other: &NetworkState) {
        let add = |values: &mut [f64], others: &[f64]| {
            values.iter_mut().zip(others).for_each(|(value, other)| *value += factor * other);
        };
        add(&mut self.flow, &other.flow);
        add(&mut self.unknowns, &other.unknowns);
    }

    /// Takes the sum of other states' values, each times its weight.
    pub(super) fn mix(&mut self, weights: &[f64], states: &[NetworkState]) {
        let mix = |values: &mut [f64], of: fn(&NetworkState) -> &[f64]| {
            for (place, value) in values.iter_mut().enumerate() {
                let each = weights.iter().zip(states);
                *value = each.map(|(weight, state)| weight * of(state)[place]).sum();
            }
        };
        mix(&mut self.flow, |state| &state.flow);
        mix(&mut self.unknowns, |state| &state.unknowns);
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
    /// behind, these as in [`NetworkState::first_guess`]; whether it can be one.
    pub fn begin_like(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        other: &NetworkState,
    ) -> bool {
        let (flows, unknowns) = (other.flow.len(), other.unknowns.len());
        if self.chambers != other.chambers || self.flow.len() < flows || self.unknowns.len() < unknowns {
            return false;
        }
        self.begin(network, boundary);
        self.flow[..flows].copy_from_slice(&other.flow);
        self.unknowns[..unknowns].copy_from_slice(&other.unknowns);
        true
    }

    /// Takes the values of another state of the same network.
    pub fn copy_from(&mut self, other: &NetworkState) {
        self.flow.copy_from_slice(&other.flow);
        self.unknowns.copy_from_slice(&other.unknowns);
    }
}
