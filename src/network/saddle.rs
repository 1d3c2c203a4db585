//! Whether a steady state holds itself.
//!
//! Between two states in which air can settle lies a third that balances as well, in which it stays no more than a ball
//! on a ridge: whatever little it is off by grows. Parts follow C dT/dt = F(T), the air at once; where a state holds itself all eigenvalues of
//! F's slopes lie below zero, and at each fold where two states meet one of them changes its sign. The sign of
//! det(∂F/∂T) then differs from that of det(∂F/∂T − λ) for a large λ, whatever the stores of heat are. With the slopes of the
//! whole system of Newton's method, flows and pressures in it, λ stands in the rows of the parts alone; and once more in
//! those of the chambers, whose air warms before the parts do.

use super::boundary::BoundaryConditions;
use super::state::NetworkState;
use super::topology::Network;
use super::workspace::Solver;
use crate::numerics::lu;

/// A store of heat beside which all slopes are small (W/K).
const LARGE: f64 = 1e12;

impl Solver {
    /// Whether a steady state is one that holds itself, as far as the signs of determinants tell.
    pub fn holds_itself(
        &mut self,
        network: &Network,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) -> bool {
        let mut here = state.clone();
        self.take_up(network, boundary, &mut here);
        if self.isothermal {
            return true;
        }
        self.measure(network, boundary, &here);
        self.linearise(network, boundary, &here);
        let size = self.size;
        let mut matrix = self.matrix[..size * size].to_vec();
        let sign = |matrix: &[f64]| lu::determinant_sign(&mut matrix.to_vec(), size);
        let as_it_is = sign(&matrix);
        for part in 0..network.parts.len() {
            matrix[network.part_column(part) * (size + 1)] -= LARGE;
        }
        let with_parts_held = sign(&matrix);
        for chamber in 0..network.chambers.len() {
            matrix[network.temperature_column(chamber) * (size + 1)] -= LARGE;
        }
        let with_all_held = sign(&matrix);
        // each row that is held turns the sign by nothing: its slope is below zero where all holds
        let turned = |count: usize, a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => a == b || count == 0,
            _ => true,
        };
        turned(network.parts.len(), as_it_is, with_parts_held)
            && turned(network.chambers.len(), with_parts_held, with_all_held)
    }
}
