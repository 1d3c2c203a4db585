//! Every condition of a case.

use super::budget::{self, Budget, LEFT_OUT, seconds};
use super::describe;
use super::model::Model;
use super::operation::Operation;
use super::result::{ByName, Condition, Worst};
use super::solver::PointSolver;
use crate::case::{Case, Warning};
use crate::network::Unsolved;
use crate::thermal::MarginIs;

/// A condition for which there is no answer.
#[derive(Clone, Debug, thiserror::Error)]
#[error("condition {condition:?}: {source}")]
pub struct ConditionUnsolved {
    pub condition: String,
    /// Why.
    pub source: NotSolved,
}

/// Why there is no answer for a condition.
#[derive(Clone, Debug, thiserror::Error)]
pub enum NotSolved {
    /// No steady state was found.
    #[error(transparent)]
    Unsolved(#[from] Unsolved),
    /// The work that may be done was spent on those before it.
    #[error("it was left out, since the work that one run may do was spent on the conditions before it")]
    LeftOut,
}

impl ConditionUnsolved {
    /// Whether it was left out.
    pub fn left_out(&self) -> bool {
        matches!(self.source, NotSolved::LeftOut)
    }

    /// The same as a warning beside the conditions that have an answer.
    pub fn warning(&self) -> Warning {
        Warning {
            code: if self.left_out() { LEFT_OUT } else { "condition-unsolved" },
            message: format!("{}; the others are shown", self.source),
            place: Some(format!("condition/{}", self.condition)),
        }
    }
}

/// Solves every condition of a case in turn.
///
/// # Errors
/// The first condition for which there is no answer.
pub fn check(case: &Case, model: &Model) -> Result<Vec<Condition>, ConditionUnsolved> {
    let (conditions, mut unsolved) = solved(case, model);
    if unsolved.is_empty() { Ok(conditions) } else { Err(unsolved.swap_remove(0)) }
}

/// Every condition that has a steady state, and those that have none.
pub fn solved(case: &Case, model: &Model) -> (Vec<Condition>, Vec<ConditionUnsolved>) {
    let found = solved_within(case, model, Budget::seconds(seconds::CHECK));
    (found.conditions, found.unsolved)
}

/// What was found of the conditions of a case.
#[derive(Clone, Debug)]
pub struct Solved {
    /// Those that have an answer.
    pub conditions: Vec<Condition>,
    /// Those that have none.
    pub unsolved: Vec<ConditionUnsolved>,
    /// Work done.
    pub work: u64,
    /// The same without the searches for other states.
    pub work_of_solutions: u64,
}

/// The same within a budget; conditions that would be too much are left out.
pub fn solved_within(case: &Case, model: &Model, budget: Budget) -> Solved {
    let mut solver = PointSolver::new(model);
    let mut found = Solved { conditions: Vec::new(), unsolved: Vec::new(), work: 0, work_of_solutions: 0 };
    for (index, named) in case.conditions.iter().enumerate() {
        let none = |source| ConditionUnsolved { condition: named.name.clone(), source };
        if !budget.allows(found.work) {
            found.unsolved.push(none(NotSolved::LeftOut));
            continue;
        }
        let operation = Operation::of_condition(case, model, &named.values);
        solver.prepare(model, &operation);
        solver.forget();
        match solver.solve() {
            Ok(()) => {
                found.conditions.push(describe::condition(case, model, &mut solver, &operation, index));
            }
            Err(source) => found.unsolved.push(none(source.into())),
        }
        let reading = (index as u64 + 1) * budget::reading(case);
        found.work = solver.work() + reading;
        found.work_of_solutions = solver.work_of_solutions() + reading;
    }
    found
}

/// The worst condition of each part: impossible before a number before unlimited, then the least
/// flow margin, then the first in the file.
pub fn worst(conditions: &[Condition]) -> ByName<Worst> {
    let Some(first) = conditions.first() else { return ByName(Vec::new()) };
    let order = [MarginIs::Impossible, MarginIs::Value, MarginIs::Unlimited];
    let rank = |is: MarginIs| order.iter().position(|other| *other == is).unwrap_or(3);
    let limited = first.parts.iter().enumerate().filter(|(_, part)| part.has_limit());
    let worst = limited.map(|(index, part)| {
        let mut found: Option<(&Condition, usize, f64)> = None;
        for condition in conditions {
            let part = &condition.parts[index];
            let key = (rank(part.margin_is), part.flow_margin.unwrap_or(0.0));
            if found.is_none_or(|(_, r, m)| key.0 < r || (key.0 == r && key.1 < m)) {
                found = Some((condition, key.0, key.1));
            }
        }
        let condition = found.map_or(first, |(condition, _, _)| condition);
        let at = &condition.parts[index];
        let worst = Worst {
            condition: condition.name.clone(),
            flow_margin: at.flow_margin,
            margin_is: at.margin_is,
            temperature_margin_K: at.temperature_margin_K,
        };
        (part.name.clone(), worst)
    });
    ByName(worst.collect())
}

/// Whether a margin is missed in any condition: a part over its limit, or below its lower limit
/// where the condition says that the car is warm.
pub fn missed(conditions: &[Condition]) -> bool {
    conditions.iter().any(|condition| {
        condition.parts.iter().any(|part| {
            let short = match part.margin_is {
                MarginIs::Impossible => true,
                MarginIs::Value => part.flow_margin.is_some_and(|margin| margin < 0.0),
                _ => false,
            };
            short || (part.below_least && condition.warm)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conditions_that_are_not_solved_are_told_beside_the_others() {
        let text = include_str!("../../cases/stubble-buggy.toml");
        let case = crate::case::load(text, &[]).expect("a demo is sound").case;
        let model = Model::new(&case).expect("a demo can be made ready");
        let all = solved(&case, &model);
        assert!(all.1.is_empty());
        // a budget for one condition and no more: the first is shown as ever, the rest are named
        let short = solved_within(&case, &model, Budget::of(1));
        let names = |conditions: &[Condition]| conditions.iter().map(|c| c.name.clone()).collect::<Vec<_>>();
        assert_eq!(names(&short.conditions), names(&all.0)[..1]);
        let left: Vec<String> = short.unsolved.iter().map(|left| left.condition.clone()).collect();
        assert_eq!(left, names(&all.0)[1..]);
        let told = short.unsolved[0].warning();
        assert_eq!(told.code, LEFT_OUT);
        assert_eq!(told.place, Some(format!("condition/{}", left[0])));

        let unsolved = Unsolved { residual: 0.25, steps: 40 };
        let unsolved = ConditionUnsolved { condition: "ford".into(), source: unsolved.into() };
        assert_eq!(unsolved.warning().code, "condition-unsolved");
        assert!(unsolved.warning().message.ends_with("the others are shown"));
    }
}
