//! The hotter of two steady states along a sweep.
//!
//! A search for another state begins from starts far apart and costs far more than a point beside its neighbour. Where
//! there is another state it is there over a range of speeds, and a state that ends at either side of the range throws
//! whoever follows it into the other: so the sweep is followed down again, and where that leads elsewhere than the way
//! up there are two. The search from starts far apart is made there, at every fourth speed, and from any speed at which
//! another state was found outwards until none is; at every eighth each passage is held where its air turns round, too. What that can
//! miss is a range narrower than four speeds of a state that neither way meets, and of one to which but a passage by itself leads
//! a range narrower than eight.

use crate::case::Case;
use crate::network::NetworkState;
use crate::point::budget::Budget;
use crate::point::model::Model;
use crate::point::solver::{APART, PointSolver};
use crate::point::speeds::{Geared, operation};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// Of so many speeds one is looked at; and of so many one passage by passage too.
const EVERY: usize = 4;
const BY_PASSAGE: usize = 8;
/// What was found.
pub(super) struct Hotter {
    /// The hotter state, by place among the states.
    pub hotter: BTreeMap<usize, NetworkState>,
    /// The road speed from which on nothing was looked for, where the budget was spent.
    pub not_looked_from: Option<f64>,
}

/// Looks along solved points for steady states in which some part keeps less under its limit.
pub(super) fn look(
    case: &Case,
    model: &Model,
    states: &[(Geared, NetworkState)],
    mut budget: Budget,
) -> Hotter {
    let mut found = Hotter { hotter: BTreeMap::new(), not_looked_from: None };
    let mut looked = vec![false; states.len()];
    let down = followed_down(case, model, states, &mut budget);
    // places, each with that of a neighbour whose hotter state may go on here
    let few = (0..states.len()).step_by(EVERY).chain(states.len().checked_sub(1));
    let first: BTreeSet<usize> = few.chain(down.keys().copied()).collect();
    let mut next: Vec<(usize, Option<usize>)> = first.into_iter().map(|place| (place, None)).collect();
    while !next.is_empty() {
        let mut beside = Vec::new();
        // so many at a time, so that where the budget ends does not depend on the threads
        for some in next.chunks(EVERY) {
            if budget.is_spent() {
                let speeds = some.iter().map(|(index, _)| states[*index].0.speed);
                let earlier = found.not_looked_from.unwrap_or(f64::INFINITY);
                found.not_looked_from = Some(speeds.fold(earlier, f64::min));
                break;
            }
            let hotter = &found.hotter;
            let try_one = |(index, from): &(usize, Option<usize>)| {
                let beside = from.and_then(|from| hotter.get(&from));
                let by_passage = from.is_none() && index % BY_PASSAGE == 0;
                another(case, model, &states[*index], [down.get(index), beside], by_passage)
            };
            let tried: Vec<_> = some.par_iter().map(try_one).collect();
            for ((index, _), (another, work)) in some.iter().zip(tried) {
                looked[*index] = true;
                budget.spend(work);
                let Some(hotter) = another else { continue };
                let neighbours = [index.checked_sub(1), Some(index + 1).filter(|next| *next < states.len())];
                beside.extend(neighbours.into_iter().flatten().map(|neighbour| (neighbour, Some(*index))));
                if let Some(state) = hotter {
                    found.hotter.insert(*index, state);
                }
            }
        }
        if found.not_looked_from.is_some() {
            break;
        }
        beside.sort_unstable_by_key(|(place, _)| *place);
        beside.dedup_by_key(|(place, _)| *place);
        beside.retain(|(place, _)| !looked[*place]);
        next = beside;
    }
    found
}

/// Where the way down leads elsewhere than the way up, and to which states.
fn followed_down(
    case: &Case,
    model: &Model,
    states: &[(Geared, NetworkState)],
    budget: &mut Budget,
) -> BTreeMap<usize, NetworkState> {
    let mut elsewhere = BTreeMap::new();
    let mut solver = PointSolver::new(model);
    if !solver.may_have_two_states() {
        return elsewhere;
    }
    for (index, (point, up)) in states.iter().enumerate().rev() {
        if !budget.allows(solver.work()) {
            break;
        }
        solver.prepare(model, &operation(case, point));
        if solver.solve().is_ok() && solver.state.apart(up) > APART {
            elsewhere.insert(index, solver.state.clone());
        }
    }
    budget.spend(solver.work());
    elsewhere
}

/// Whether a point has another state, the hottest where it is not the one followed, and the work of the search, which
/// begins at others that are known or near, too.
fn another(
    case: &Case,
    model: &Model,
    (point, state): &(Geared, NetworkState),
    others: [Option<&NetworkState>; 2],
    by_passage: bool,
) -> (Option<Option<NetworkState>>, u64) {
    let mut solver = PointSolver::new(model);
    solver.prepare(model, &operation(case, point));
    if solver.solve_from(state).is_err() {
        return (None, solver.work());
    }
    let followed = solver.state.clone();
    let mut has_other = false;
    for other in others.into_iter().flatten() {
        has_other |= solver.turn_to(other);
    }
    has_other |= solver.turn_to_hotter_on_the_way(by_passage).is_some();
    let is_hotter = solver.state.apart(&followed) > 0.0;
    (has_other.then(|| is_hotter.then(|| solver.state.clone())), solver.work())
}
