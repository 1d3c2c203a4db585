//! Where a number came from: the chain from inputs to result, where the pressure goes, what limits, what a tenth more area buys, and
//! which values rule it.

mod heat;
mod inputs;
mod passage;
pub mod result;
mod sensitivity;
mod surface;
mod target;

use crate::case::Case;
use crate::point::budget::{self, Budget, seconds};
use crate::point::conditions::{ConditionUnsolved, solved};
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::Condition;
use crate::point::solver::PointSolver;
use result::{MovingNumber, PressureShare, Spent, ValueOrigin, Why};
use target::WhyTarget;

/// A question that has no answer.
#[derive(Clone, Debug, thiserror::Error)]
pub enum NoAnswer {
    /// Nothing goes by that name.
    #[error("nothing in the case is called {name:?}")]
    Unknown {
        name: String,
        /// What to write instead.
        way_out: String,
    },
    #[error("the case has no condition {name:?}")]
    NoSuchCondition {
        name: String,
        /// Those that it has.
        known: Vec<String>,
    },
    /// The case has no condition, or nothing that could be asked about.
    #[error("the case has no condition to look at")]
    Nothing,
    /// The condition has no steady state.
    #[error(transparent)]
    Unsolved(#[from] ConditionUnsolved),
}

/// Why the thing of a name is as it is, in a condition: of a part by default its worst, of a passage that of the parts it serves.
/// Without a name, the part with the fewest kelvins left.
///
/// # Errors
/// [`NoAnswer`] where the name or the condition is not in the case, or no steady state was found.
pub fn why(case: &Case, model: &Model, name: Option<&str>, at: Option<&str>) -> Result<Why, NoAnswer> {
    let mut also = Vec::new();
    let named = match name {
        Some(name) => {
            let mut found = WhyTarget::all(case, name).into_iter();
            let unknown =
                || NoAnswer::Unknown { name: name.to_string(), way_out: target::way_out(case, name) };
            let target = found.next().ok_or_else(unknown)?;
            also = found.map(|other| other.address(case)).collect();
            Some(target)
        }
        None => None,
    };
    if let Some(name) = at.filter(|name| case.condition(name).is_none()) {
        let known = case.conditions.iter().map(|condition| condition.name.clone()).collect();
        return Err(NoAnswer::NoSuchCondition { name: name.to_string(), known });
    }
    let (mut conditions, mut unsolved) = solved(case, model);
    if let Some(name) = at {
        if let Some(index) = unsolved.iter().position(|failed| failed.condition == name) {
            return Err(unsolved.swap_remove(index).into());
        }
        conditions.retain(|condition| condition.name == name);
    }
    if conditions.is_empty() {
        return Err(unsolved.into_iter().next().map_or(NoAnswer::Nothing, NoAnswer::Unsolved));
    }
    let (condition, part) = watched(case, model, &conditions, named);
    let target =
        named.or(part.map(WhyTarget::Part)).or((!case.passages.is_empty()).then_some(WhyTarget::Passage(0)));
    let Some(target) = target else { return Err(NoAnswer::Nothing) };
    answer(case, model, condition, target, part, also)
}

/// The condition and the part that are looked at: the fewest kelvins of the part asked about, of the parts that the passage serves,
/// else of all.
fn watched<'c>(
    case: &Case,
    model: &Model,
    conditions: &'c [Condition],
    target: Option<WhyTarget>,
) -> (&'c Condition, Option<usize>) {
    let serves = |passage: usize, part: usize| {
        let elements = model.network.passages[passage].elements.clone();
        elements.into_iter().any(|element| model.part_of[element] == Some(part))
    };
    let all = (0..case.parts.len()).filter(|part| model.network.parts[*part].has_limit());
    let mut parts: Vec<usize> = match target {
        Some(WhyTarget::Part(part)) => vec![part],
        Some(WhyTarget::Passage(passage) | WhyTarget::Element(passage, _)) => {
            all.clone().filter(|part| serves(passage, *part)).collect()
        }
        None => Vec::new(),
    };
    if parts.is_empty() {
        parts = all.collect();
    }
    let kelvins = |condition: &Condition, part: usize| condition.parts[part].temperature_margin_K;
    let pairs = conditions.iter().flat_map(|condition| parts.iter().map(move |part| (condition, *part)));
    let least = pairs.min_by(|a, b| kelvins(a.0, a.1).total_cmp(&kelvins(b.0, b.1)));
    least.map_or((&conditions[0], None), |(condition, part)| (condition, Some(part)))
}

fn answer(
    case: &Case,
    model: &Model,
    condition: &Condition,
    target: WhyTarget,
    part: Option<usize>,
    also: Vec<String>,
) -> Result<Why, NoAnswer> {
    let index = case.condition(&condition.name).ok_or(NoAnswer::Nothing)?;
    let operation = Operation::of_condition(case, model, &case.conditions[index].values);
    let mut solver = PointSolver::new(model);
    solver.prepare(model, &operation);
    solver
        .solve_hotter()
        .map_err(|source| ConditionUnsolved { condition: condition.name.clone(), source: source.into() })?;
    let passages: Vec<usize> = match target.passage() {
        Some(passage) => vec![passage],
        None => (0..case.passages.len())
            .filter(|passage| {
                let mut elements = model.network.passages[*passage].elements.clone();
                elements.any(|element| model.part_of[element] == part && part.is_some())
            })
            .collect(),
    };
    let pressure: Vec<Spent> =
        passages.iter().map(|passage| passage::spent(condition, &condition.passages[*passage])).collect();
    let chain = match target {
        WhyTarget::Part(part) => heat::chain(case, model, &solver, &operation, index, part),
        WhyTarget::Passage(passage) => passage::chain(case, condition, passage, None),
        WhyTarget::Element(passage, element) => passage::chain(case, condition, passage, Some(element)),
    };
    let now = sensitivity::answer(&solver).ok_or(NoAnswer::Nothing)?;
    let mut left_out = Vec::new();
    let each = solver.work() + budget::making(case) + budget::reading(case);
    let budget = Budget::seconds(seconds::WHY);
    let (rules_within, larger_within) = (budget.share(0.7).times(2 * each), budget.share(0.3).times(each));
    let rules = part.map_or_else(Vec::new, |part| {
        sensitivity::rules(case, index, part, &now, (rules_within, &mut left_out))
    });
    let falls = |origin: ValueOrigin| {
        let of = rules.iter().filter(|rule| rule.origin == origin && rule.band);
        of.map(|rule: &MovingNumber| rule.falls().powi(2)).sum::<f64>().sqrt()
    };
    Ok(Why {
        of: target.address(case),
        is: target.word(case),
        also,
        condition: condition.name.clone(),
        part: part.map(|part| case.parts[part].name.clone()),
        temperature_C: part.map(|part| condition.parts[part].temperature_C),
        temperature_margin_K: part.map(|part| condition.parts[part].temperature_margin_K),
        margin_is: part.map(|part| condition.parts[part].margin_is),
        limits: part.and_then(|part| heat::limits(case, model, &solver, part, most_spent(&pressure))),
        chain,
        pressure,
        larger: sensitivity::larger(case, index, part, &now, (larger_within, &mut left_out)),
        assumed_falls_K: falls(ValueOrigin::Assumed),
        stated_falls_K: falls(ValueOrigin::Written),
        rules,
        left_out,
    })
}

/// What takes most pressure, and in which passage.
fn most_spent(pressure: &[Spent]) -> Option<(String, PressureShare)> {
    let all = pressure.iter().flat_map(|spent| spent.takes.iter().map(move |takes| (&spent.passage, takes)));
    let most = all.max_by(|a, b| a.1.share.total_cmp(&b.1.share))?;
    Some((most.0.clone(), most.1.clone()))
}

/// A value with its unit, three digits.
fn figure(value: f64, unit: &str) -> String {
    let size = value.abs();
    let decimals = match size {
        _ if size >= 99.95 || size == 0.0 => 0,
        _ if size >= 9.995 => 1,
        _ if size >= 0.9995 => 2,
        _ if size >= 0.09995 => 3,
        _ => 4,
    };
    let number = format!("{value:.decimals$}");
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}
