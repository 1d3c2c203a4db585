//! The margins of every part over some conditions, of the case as it stands or with a change.

use super::budget;
use super::conditions::ConditionUnsolved;
use super::model::Model;
use super::operation::Operation;
use super::solver::PointSolver;
use crate::case::Case;
use crate::network::NetworkState;
use crate::thermal::MarginIs;
use serde::Serialize;

/// The fewest kelvins that any part keeps under its limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct LeastMargin {
    pub part: String,
    pub condition: String,
    /// Limit less temperature.
    pub temperature_margin_K: f64,
    /// Air over what is needed.
    pub flow_margin: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: MarginIs,
}

/// Margins of every part in some conditions, and the least of them.
#[derive(Clone, Debug)]
pub struct SolvedMargins {
    pub least: Option<LeastMargin>,
    /// Condition, part that has a limit, kelvins left.
    pub all: Vec<(usize, usize, f64)>,
    /// The solution of each condition, and whether it has another steady state.
    solved: Vec<(NetworkState, bool)>,
    /// Work done, making the case ready included.
    pub work: u64,
}

/// Solves the conditions of a list.
///
/// # Errors
/// The first condition for which no steady state was found.
pub fn margins_at(case: &Case, model: &Model, at: &[usize]) -> Result<SolvedMargins, ConditionUnsolved> {
    margins_from(case, model, at, None)
}

/// The same of a case that lies beside another one: begun from its solutions, and another steady state looked for only
/// where that one has one.
///
/// # Errors
/// As [`margins_at`].
pub fn margins_beside(
    case: &Case,
    model: &Model,
    at: &[usize],
    other: &SolvedMargins,
) -> Result<SolvedMargins, ConditionUnsolved> {
    margins_from(case, model, at, Some(other))
}

fn margins_from(
    case: &Case,
    model: &Model,
    at: &[usize],
    other: Option<&SolvedMargins>,
) -> Result<SolvedMargins, ConditionUnsolved> {
    let mut solver = PointSolver::new(model);
    let mut margins = Vec::new();
    let mut found = SolvedMargins { least: None, all: Vec::new(), solved: Vec::new(), work: 0 };
    for (place, &index) in at.iter().enumerate() {
        let named = &case.conditions[index];
        solver.prepare(model, &Operation::of_condition(case, model, &named.values));
        // as `check` does, so that what is least does not hang on what was solved before
        solver.forget();
        let beside = other.and_then(|other| other.solved.get(place));
        let found_beside = beside.is_some_and(|(state, _)| {
            // seams and hot air may have come in
            let PointSolver { network, boundary, state: here, .. } = &mut solver;
            here.begin_like(network, boundary, state) && solver.solve_as_it_is().is_ok()
        });
        let solved = if found_beside { Ok(()) } else { solver.solve() };
        solved
            .map_err(|source| ConditionUnsolved { condition: named.name.clone(), source: source.into() })?;
        let has_other = beside.is_none_or(|(_, has_other)| *has_other) && solver.turn_to_hotter().is_some();
        found.solved.push((solver.state.clone(), has_other));
        let kelvins = solver.network.parts.iter().enumerate().filter(|(_, law)| law.has_limit());
        let kelvins = kelvins.map(|(part, law)| (part, law.limit - solver.state.part_temperature(part)));
        let kelvins: Vec<(usize, f64)> = kelvins.collect();
        found.all.extend(kelvins.iter().map(|(part, kelvin)| (index, *part, *kelvin)));
        let Some((part, kelvin)) = kelvins.into_iter().min_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
        if found.least.as_ref().is_some_and(|least| least.temperature_margin_K <= kelvin) {
            continue;
        }
        solver.margins(model, &mut margins);
        found.least = Some(LeastMargin {
            part: case.parts[part].name.clone(),
            condition: named.name.clone(),
            temperature_margin_K: kelvin,
            flow_margin: margins[part].flow_margin,
            margin_is: margins[part].is,
        });
    }
    // whoever looks beside this one searches for another state only where there is one
    let has_other = found.solved.iter().any(|(_, has_other)| *has_other);
    let solved = if has_other { solver.work() } else { solver.work_of_solutions() };
    found.work = budget::making(case) + at.len() as u64 * budget::reading(case) + solved;
    Ok(found)
}

/// All conditions of a case; none where one of them has no steady state.
pub fn margins_everywhere(case: &Case, model: &Model) -> Option<SolvedMargins> {
    margins_at(case, model, &(0..case.conditions.len()).collect::<Vec<_>>()).ok()
}

/// The same of the case with a change; none where it cannot be solved. A small change is looked at beside the case as it
/// stands, where that is given.
pub fn margins_with(
    case: &Case,
    at: &[usize],
    beside: Option<&SolvedMargins>,
    change: &dyn Fn(&mut Case),
) -> Option<SolvedMargins> {
    let mut changed = case.clone();
    change(&mut changed);
    let model = Model::new(&changed).ok()?;
    let look = margins_from(&changed, &model, at, beside).ok()?;
    look.all.iter().all(|(_, _, kelvin)| kelvin.is_finite()).then_some(look)
}
