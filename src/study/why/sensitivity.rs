//! What a change would do to the part that is watched: every area a tenth larger, every number at the ends of its band.

use super::result::{Larger, MovingNumber, ValueOrigin};
use crate::case::{Case, Warning, tables as t};
use crate::draws::guesses::applies;
use crate::element::{PieceSize, Role};
use crate::keys::{Fact, Kind, NumberId, Origin};
use crate::point::budget;
use crate::point::describe::cooling_drag;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::operation::Operation;
use crate::point::solver::PointSolver;
use crate::study::check::sensitivity::{WORTH_A_WORD, ends};
use rayon::prelude::*;

/// By how much areas are made larger.
pub const LARGER: f64 = 0.1;
/// By how much a number without a band is changed either way.
const TENTH: f64 = 0.1;
/// By how many kelvins a temperature without a band is.
const FIVE: f64 = 5.0;
/// Changes of fewer kelvins are left out.
const SMALLEST: f64 = 0.05;

/// What is seen in a condition.
pub(super) struct AnswerInCondition {
    /// What each part keeps under its limit (K).
    pub kelvins: Vec<f64>,
    /// Cooling drag (N).
    pub drag: f64,
}

/// Solves one condition of a case with a change; none where there is no steady state.
fn with(case: &Case, condition: usize, change: &dyn Fn(&mut Case)) -> Option<AnswerInCondition> {
    let mut changed = case.clone();
    change(&mut changed);
    let model = Model::new(&changed).ok()?;
    let mut solver = PointSolver::new(&model);
    solver.prepare(&model, &Operation::of_condition(&changed, &model, &changed.conditions[condition].values));
    solver.solve_hotter().ok()?;
    answer(&solver).filter(|answer| answer.kelvins.iter().all(|kelvin| kelvin.is_finite()))
}

/// What the solver has found.
pub(super) fn answer(solver: &PointSolver) -> Option<AnswerInCondition> {
    let kelvins = solver.network.parts.iter().enumerate();
    let kelvins = kelvins.map(|(part, law)| law.mark() - solver.state.part_temperature(part)).collect();
    Some(AnswerInCondition { kelvins, drag: cooling_drag(solver) })
}

/// Every element that has a size of its own, a tenth larger.
pub(super) fn larger(
    case: &Case,
    condition: usize,
    part: Option<usize>,
    now: &AnswerInCondition,
    (most, left): (usize, &mut Vec<Warning>),
) -> Vec<Larger> {
    let mut sized: Vec<Opening> = case
        .passages
        .iter()
        .enumerate()
        .flat_map(|(passage, table)| (0..table.elements.len()).map(move |element| (passage, element)))
        .filter(|(passage, element)| {
            PieceSize::read(&case.view(&case.passages[*passage].elements[*element])).is_some()
        })
        .filter_map(|(passage, element)| Opening::at(case, passage, element))
        .collect();
    if most < sized.len() {
        left.push(budget::left_out(format!("of {} elements the first {most} were made larger", sized.len())));
        sized.truncate(most);
    }
    let mut list: Vec<Larger> = sized
        .par_iter()
        .map(|opening| {
            let then =
                with(case, condition, &|case: &mut Case| opening.set(case, opening.area() * (1.0 + LARGER)));
            let gain = |part: usize| Some(then.as_ref()?.kelvins[part] - now.kelvins[part]);
            let hurt = then.as_ref().and_then(|then| {
                let parts = then.kelvins.iter().zip(&now.kelvins).enumerate();
                let limited = |part: &usize| case.parts[*part].values.has(&t::LIMIT);
                let hurt = parts.filter(|(part, (then, now))| limited(part) && *now - *then >= WORTH_A_WORD);
                let worst = hurt.min_by(|a, b| a.1.0.total_cmp(b.1.0));
                worst.map(|(part, (then, now))| (case.parts[part].name.clone(), now - then))
            });
            Larger {
                element: case.passages[opening.passage].elements[opening.element].address.clone(),
                area_m2: opening.area(),
                pieces: opening.pieces,
                gains_K: part.and_then(gain),
                drag_N: then.as_ref().map(|then| then.drag - now.drag),
                costs: hurt,
            }
        })
        .collect();
    let key = |each: &Larger| each.gains_K.unwrap_or(f64::NEG_INFINITY);
    // what is cut before what is built, where both buy the same
    let cut = |each: &Larger| -> bool {
        let element = case.passages.iter().find_map(|passage| {
            let index = passage.elements.iter().position(|values| values.address == each.element)?;
            passage.kind(index)
        });
        !element.is_some_and(|kind| matches!(kind.role, Role::Inlet | Role::Exit))
    };
    list.sort_by(|a, b| key(b).total_cmp(&key(a)).then(cut(a).cmp(&cut(b))));
    list
}

/// Every number of the case that moves the part.
pub(super) fn rules(
    case: &Case,
    condition: usize,
    part: usize,
    now: &AnswerInCondition,
    (most, left): (usize, &mut Vec<Warning>),
) -> Vec<MovingNumber> {
    let facts = case.numbers.facts().iter().enumerate().filter(|(_, fact)| applies(case, fact));
    let mut tried: Vec<(usize, &Fact, (f64, f64, bool))> = facts
        .filter_map(|(index, fact)| {
            let range = match ends(fact) {
                Some((low, high)) => (low, high, true),
                None => {
                    let (low, high) = nearby(fact)?;
                    (low, high, false)
                }
            };
            Some((index, fact, range))
        })
        .collect();
    if most < tried.len() {
        left.push(budget::left_out(format!("of {} numbers {most} were tried at both ends", tried.len())));
        // those with a band first
        tried.sort_by_key(|(_, _, range)| !range.2);
        tried.truncate(most);
    }
    let mut rules: Vec<MovingNumber> = tried
        .into_par_iter()
        .filter_map(|(index, fact, (low, high, band))| {
            let gain = |value: f64| {
                let then = with(case, condition, &|case: &mut Case| case.numbers.set(NumberId(index), value));
                then.map(|then| then.kelvins[part] - now.kelvins[part])
            };
            let (origin, source) = match fact.origin {
                Origin::Written(_) => (ValueOrigin::Written, None),
                Origin::Assumed(source) => (ValueOrigin::Assumed, Some(source)),
            };
            let rule = MovingNumber {
                key: fact.address.clone(),
                value: fact.kind.show(fact.value),
                origin,
                band,
                low: fact.kind.show(low),
                high: fact.kind.show(high),
                at_low_K: gain(low),
                at_high_K: gain(high),
                source,
                measure: fact.help,
            };
            (rule.moves() >= SMALLEST).then_some(rule)
        })
        .collect();
    rules.sort_by(|a, b| b.moves().total_cmp(&a.moves()));
    rules
}

/// A tenth either way, or five kelvins; none where that means nothing: counts, gears, defaults that say what the moment is.
fn nearby(fact: &Fact) -> Option<(f64, f64)> {
    if matches!(fact.origin, Origin::Assumed(_)) {
        return None;
    }
    match fact.kind {
        Kind::Count => None,
        Kind::Temperature => Some((fact.value - FIVE, fact.value + FIVE)),
        _ if fact.value == 0.0 => None,
        _ => {
            let step = TENTH * fact.value.abs();
            let high = fact.value + step;
            let high = if fact.kind == Kind::Share { high.min(1.0) } else { high };
            Some((fact.value - step, high))
        }
    }
}
