//! What drives the air of a passage whose flow is held.

use super::boundary::BoundaryConditions;
use super::state::NetworkState;
use super::topology::Network;
use super::workspace::Solver;

impl Solver {
    /// Pressure (Pa) that drives the air of a passage forward at the flow it has, more than the passage takes: nothing in a
    /// steady state, and above zero where the flow would grow if nothing held it.
    pub fn push(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
        passage: usize,
    ) -> f64 {
        self.measure(network, boundary, state);
        let ends = &network.passages[passage];
        network.pressure(ends.from, &state.unknowns) + self.traces[passage].rise
            - network.pressure(ends.to, &state.unknowns)
    }
}
