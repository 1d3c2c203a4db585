//! The same solution from any start.
//!
//! At given temperatures the flow problem has one solution as long as every passage's pressure falls
//! with its flow. One thing breaks that in these cars: a turning fan fed with air that the flow itself
//! heats or leaves cold. It pushes cold air harder than hot air, so that at the brink it may keep
//! itself going (more air, colder air, more push) or stall in the heat, or blow or be blown back. Which
//! of two true states is found then depends on the start. So: the same flows, or else two states that
//! both close and in which some turning fan meets air of different temperature.

use super::cars;
use super::support::Ready;
use crate::network::balance;
use proptest::prelude::*;
use slowcorner::element::Law;
use slowcorner::network::NetworkState;
use slowcorner::point::{Operation, PointSolver, describe};

/// Share of the largest flow, and of pressures and temperatures. Two solutions that close to 1e-9 agree
/// to 1e-8 or so; where a breath of air carries all the heat, to 3e-5.
const SAME: f64 = 1e-4;

fn difference(one: &NetworkState, other: &NetworkState) -> f64 {
    let size = one.flow.iter().fold(1e-3, |size: f64, flow| size.max(flow.abs()));
    let pairs = one.flow.iter().zip(&other.flow);
    pairs.fold(0.0, |worst: f64, (a, b)| worst.max((a - b).abs() / size))
}

/// Whether a turning fan is fed air of one temperature in one state and of another in the other.
fn fed_otherwise(solver: &PointSolver, one: &NetworkState, other: &NetworkState) -> bool {
    let temperatures = |state: &NetworkState| {
        let mut found = Vec::new();
        for passage in 0..solver.network.passages.len() {
            solver.network.follow(passage, &solver.boundary, state, |element, entering, _| {
                if matches!(&solver.network.laws[element], Law::FanLaw(fan) if fan.speed_at(solver.free_stream.rpm) > 0.0) {
                    found.push((element, entering));
                }
            });
        }
        found.sort_by_key(|(element, _)| *element);
        found
    };
    let pairs = temperatures(one).into_iter().zip(temperatures(other));
    pairs.into_iter().any(|((_, a), (_, b))| (a - b).abs() > 5.0)
}

proptest! {
    #![proptest_config(crate::invariants::config(200))]

    #[test]
    fn any_start_leads_to_the_same_flows(
        car in cars::car(),
        factors in prop::collection::vec(-5.0..5.0, 20),
        hot in 250.0..900.0,
    ) {
        let Ready { case, model } = Ready::of(&car);
        let operations: Vec<Operation> =
            case.conditions.iter().map(|c| Operation::of_condition(&case, &model, &c.values)).collect();
        let mut solver = PointSolver::new(&model);
        let solve = |solver: &mut PointSolver, index: usize| {
            solver.prepare(&model, &operations[index]);
            solver.solve().unwrap_or_else(|error| panic!("{}\n{index}: {error}", car.text()));
            solver.state.clone()
        };
        let mut fresh = Vec::new();
        for index in 0..operations.len() {
            solver.forget();
            fresh.push(solve(&mut solver, index));
        }
        for index in 0..operations.len() {
            let mut others = Vec::new();
            // from the solution of another condition
            solver.forget();
            solve(&mut solver, (index + 1) % operations.len());
            others.push(solve(&mut solver, index));
            // from its own solution, shaken
            for (flow, factor) in solver.state.flow.iter_mut().zip(factors.iter().cycle()) {
                *flow *= factor;
            }
            for part in 0..case.parts.len() {
                solver.state.set_part_temperature(part, hot);
            }
            others.push(solve(&mut solver, index));
            for other in others {
                let off = difference(&fresh[index], &other);
                let at = || format!("{}\ncondition {index}: {off:.1e}", car.text());
                prop_assert!(off <= SAME || fed_otherwise(&solver, &fresh[index], &other), "{}", at());
                // a true solution, whichever it is
                solver.state = other;
                solver.residual = f64::NAN;
                let found = describe::condition(&case, &model, &mut solver, &operations[index], index);
                let errors = balance::errors(&case, &model, &found, index);
                prop_assert!(errors.worst() <= 2e-9, "{}: {errors:?}", at());
            }
        }
    }
}
