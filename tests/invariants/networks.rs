//! Networks of plain losses between reservoirs and chambers.

use proptest::collection::vec;
use proptest::prelude::*;
use slowcorner::air::Air;
use slowcorner::element::{ConstantLoss, FreeStream, Law, Resistance};
use slowcorner::network::{BoundaryConditions, Chamber, Network, NetworkState, PassageEnd, Solver};
use slowcorner::numerics::smooth;

/// Gauge pressures of the reservoirs [Pa], as far apart as a fast car's front and back.
const RESERVOIRS: [f64; 3] = [1400.0, 120.0, -450.0];
/// Speed below which laws are smooth instead of exact [m/s].
const SMOOTH_BELOW: f64 = 0.02;

#[derive(Clone, Debug)]
struct Edge {
    from: PassageEnd,
    to: PassageEnd,
    k: f64,
    area: f64,
}

#[derive(Clone, Debug)]
struct Plan {
    density: f64,
    chambers: usize,
    edges: Vec<Edge>,
}

/// One to four chambers, each with a reservoir of its own, and up to eight further edges anywhere.
fn plan() -> impl Strategy<Value = Plan> {
    let edge = (0_usize..1000, 0_usize..1000, -2.0..3.0_f64, -7.0..-3.0_f64);
    (1_usize..=4, 0.8..1.4_f64, vec(edge, 3..=12)).prop_map(|(chambers, density, dice)| {
        let count = dice.len().max(chambers);
        let edges = (0..count)
            .map(|index| {
                let (from, to, k, area) = dice[index % dice.len()];
                let ends = chambers + RESERVOIRS.len();
                let end = |number: usize| match number.checked_sub(chambers) {
                    Some(reservoir) => PassageEnd::Reservoir(RESERVOIRS[reservoir]),
                    None => PassageEnd::Chamber(number),
                };
                let (from, to) = if index < chambers {
                    (chambers + from % RESERVOIRS.len(), index)
                } else {
                    (from % ends, (from + 1 + to % (ends - 1)) % ends)
                };
                Edge { from: end(from), to: end(to), k: k.exp(), area: area.exp() }
            })
            .collect();
        Plan { density, chambers, edges }
    })
}

impl Plan {
    fn moment(&self) -> FreeStream {
        let air = Air::new(self.density * 287.052_874 * 293.15, 293.15, 0.0, 0.0);
        FreeStream::new(air, 0.0, 0.0, 1.0, 0.0)
    }

    fn network(&self) -> (Network, BoundaryConditions) {
        let mut network = Network::new(vec![Chamber { skin_conductance: 0.0 }; self.chambers], Vec::new());
        for edge in &self.edges {
            let resistance = Resistance::constant(edge.k, edge.area);
            let law = Law::Loss(ConstantLoss { area_of_one: edge.area, pieces: 1.0, resistance });
            network.add_passage(edge.from, edge.to, vec![(law, None)], None);
        }
        network.prepare(&self.moment(), &vec![0.0; self.edges.len()]);
        let load = BoundaryConditions::new(&self.moment(), &network);
        (network, load)
    }

    fn largest(&self, state: &NetworkState) -> f64 {
        state.flow.iter().fold(0.0, |largest: f64, flow| largest.max(flow.abs()))
    }

    /// What two solutions may differ by in a flow [kg/s]: where the air all but stands, a left-over
    /// of 1e-9 of the pressures moves it by less than 2 mm/s.
    fn allowed(&self, edge: &Edge, largest: f64) -> f64 {
        1e-6 * largest + 2e-3 * self.density * edge.area
    }
}

proptest! {
    #![proptest_config(super::config(1500))]

    #[test]
    fn mass_and_pressure_close(plan in plan()) {
        let (network, load) = plan.network();
        let mut state = NetworkState::first_guess(&network, &load);
        let residual = Solver::new(&network).solve(&network, &load, &mut state)
            .map_err(|e| TestCaseError::fail(e.to_string()))?;
        prop_assert!(residual <= 1e-9);
        let pressure = |end: PassageEnd| match end {
            PassageEnd::Chamber(chamber) => state.pressure(chamber),
            PassageEnd::Reservoir(pressure) => pressure,
            PassageEnd::Outside | PassageEnd::Engine => 0.0,
        };
        let mut sums = vec![(0.0, 0.0); plan.chambers];
        for (edge, flow) in plan.edges.iter().zip(&state.flow) {
            // K of the loss and the head lost at the end, by the quadratic law
            let scale = SMOOTH_BELOW * plan.density * edge.area;
            let square = flow * smooth::magnitude(*flow, scale).0;
            let drop = (edge.k + 1.0) * square / (2.0 * plan.density * edge.area * edge.area);
            let (from, to) = (pressure(edge.from), pressure(edge.to));
            let error = (from - to - drop).abs() / (drop.abs() + from.abs() + to.abs()).max(1.0);
            prop_assert!(error <= 1e-8, "{edge:?}: {error:e}");
            for (end, flow) in [(edge.from, -flow), (edge.to, *flow)] {
                if let PassageEnd::Chamber(chamber) = end {
                    sums[chamber].0 += flow;
                    sums[chamber].1 += flow.abs();
                }
            }
        }
        for (sum, size) in sums {
            prop_assert!(sum.abs() <= 1e-9 * size.max(1e-6), "{sum:e} of {size}");
        }
    }

    #[test]
    fn the_same_flows_from_any_start(plan in plan(), starts in vec(-12.0..4.0_f64, 12), way in any::<u16>()) {
        let (network, load) = plan.network();
        let mut solver = Solver::new(&network);
        let mut reference = NetworkState::first_guess(&network, &load);
        prop_assert!(solver.solve(&network, &load, &mut reference).is_ok());
        // flows from a trickle to a gale, either way, pressures as another solution left them
        let mut other = plan.clone();
        for (index, edge) in other.edges.iter_mut().enumerate() {
            edge.k *= starts[index % 12].exp().clamp(0.05, 20.0);
        }
        let (elsewhere, _) = other.network();
        let mut state = NetworkState::first_guess(&elsewhere, &load);
        prop_assert!(solver.solve(&elsewhere, &load, &mut state).is_ok());
        for (index, flow) in state.flow.iter_mut().enumerate() {
            let sign = if way >> (index % 16) & 1 == 1 { 1.0 } else { -1.0 };
            *flow = sign * starts[index % 12].exp();
        }
        prop_assert!(solver.solve(&network, &load, &mut state).is_ok());
        let largest = plan.largest(&reference);
        for ((edge, one), two) in plan.edges.iter().zip(&reference.flow).zip(&state.flow) {
            prop_assert!((one - two).abs() <= plan.allowed(edge, largest), "{edge:?}: {one} {two}");
        }
    }

    #[test]
    fn turned_edges_carry_the_same_air_backwards(plan in plan(), way in any::<u16>()) {
        let mut turned = plan.clone();
        let is_turned = |index: usize| way >> (index % 16) & 1 == 1;
        for (index, edge) in turned.edges.iter_mut().enumerate() {
            if is_turned(index) {
                std::mem::swap(&mut edge.from, &mut edge.to);
            }
        }
        let solve = |plan: &Plan| {
            let (network, load) = plan.network();
            let mut state = NetworkState::first_guess(&network, &load);
            Solver::new(&network).solve(&network, &load, &mut state).map(|_| state)
        };
        let (one, two) = (solve(&plan).expect("solved"), solve(&turned).expect("solved"));
        let largest = plan.largest(&one);
        for (index, edge) in plan.edges.iter().enumerate() {
            let back = if is_turned(index) { -two.flow[index] } else { two.flow[index] };
            prop_assert!((one.flow[index] - back).abs() <= plan.allowed(edge, largest), "{edge:?}");
        }
    }
}
