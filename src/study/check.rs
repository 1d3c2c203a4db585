//! Every condition of a case.

use super::describe;
use super::model::Model;
use super::operation::{Operation, Runner};
use super::result::{Condition, Named, Worst};
use crate::case::Case;
use crate::network::Unsolved;

/// A condition for which no steady state was found.
#[derive(Clone, Debug, thiserror::Error)]
#[error("condition {condition:?}: {source}")]
pub struct ConditionUnsolved {
    /// The condition.
    pub condition: String,
    /// What was reached.
    pub source: Unsolved,
}

/// Solves every condition of a case in turn.
///
/// # Errors
/// The first condition for which no steady state was found.
pub fn check(case: &Case, model: &Model) -> Result<Vec<Condition>, ConditionUnsolved> {
    let (conditions, mut unsolved) = solved(case, model);
    if unsolved.is_empty() { Ok(conditions) } else { Err(unsolved.swap_remove(0)) }
}

/// Every condition that has a steady state, and those that have none.
pub fn solved(case: &Case, model: &Model) -> (Vec<Condition>, Vec<ConditionUnsolved>) {
    let mut runner = Runner::new(model);
    let mut conditions = Vec::new();
    let mut unsolved = Vec::new();
    for (index, named) in case.conditions.iter().enumerate() {
        let operation = Operation::of_condition(case, model, &named.values);
        runner.prepare(model, &operation);
        runner.forget();
        match runner.solve() {
            Ok(()) => conditions.push(describe::condition(case, model, &mut runner, &operation, index)),
            Err(source) => unsolved.push(ConditionUnsolved { condition: named.name.clone(), source }),
        }
    }
    (conditions, unsolved)
}

/// The worst condition of each part: impossible before a number before unlimited, then the least
/// flow margin, then the first in the file.
pub fn worst(conditions: &[Condition]) -> Named<Worst> {
    let Some(first) = conditions.first() else { return Named(Vec::new()) };
    let rank = |word: &str| ["impossible", "value", "unlimited"].iter().position(|w| *w == word).unwrap_or(3);
    let worst = first.parts.iter().enumerate().map(|(index, part)| {
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
    Named(worst.collect())
}

/// Whether a margin is missed in any condition: a part over its limit, or below its lower limit
/// where the condition says that the car is warm.
pub fn missed(conditions: &[Condition]) -> bool {
    conditions.iter().any(|condition| {
        condition.parts.iter().any(|part| {
            let short = match part.margin_is {
                "impossible" => true,
                "value" => part.flow_margin.is_some_and(|margin| margin < 0.0),
                _ => false,
            };
            short || (part.below_least && condition.warm)
        })
    })
}
