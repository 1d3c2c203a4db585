//! What to do next: changes that were tried on the case, by what they win for the part that is worst off.
//!
//! Each is solved again in every condition of the case, and counts by how far the least margin of all rises: what cools
//! one part and heats another wins nothing.

use super::openings::{OpeningFacts, openings};
use super::stand_off::StandOff;
use super::sudden::SuddenChange;
use crate::case::{Case, Warning};
use crate::keys::figures;
use crate::point::budget::{self, Budget, seconds};
use crate::point::margins::{SolvedMargins, margins_with};
use crate::point::pressure_budget::passages_of;
use crate::point::result::{Condition, OpeningRole, Setting};
use rayon::prelude::*;
use serde::Serialize;

/// Areas that are tried, over those drawn.
const FACTORS: [f64; 4] = [1.5, 2.0, 3.0, 4.0];
/// What the case allows is tried where it is so much more than is drawn.
const LEAST_FACTOR: f64 = 1.1;
/// The smallest change is named that wins so much of what the best of its kind wins.
const MOST_OF_IT: f64 = 0.6;
/// What wins less (K) is not told.
const WORTH_DOING: f64 = 1.0;

/// A change that was tried.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct NextStep {
    /// What is done, in words.
    pub what: String,
    /// By how much the least margin of all parts in all conditions rises.
    pub least_margin_rise_K: f64,
    /// What to set in the case for it; empty where a passage has to be drawn anew.
    pub set: Vec<Setting>,
}

/// What wins most for the part that is worst off, the most first; nothing where nothing does. `conditions` are the case's
/// solutions, `now` its margins.
pub fn next_steps(
    case: &Case,
    conditions: &[Condition],
    now: Option<&SolvedMargins>,
    (sudden, stand_off): (&[SuddenChange], &[StandOff]),
    left: &mut Vec<Warning>,
) -> Vec<NextStep> {
    let budget = Budget::seconds(seconds::NEXT);
    let at: Vec<usize> = (0..case.conditions.len()).collect();
    let Some((now, least)) = now.and_then(|now| Some((now, now.least.as_ref()?))) else { return Vec::new() };
    let facts = openings(case, case, None);
    let worst = conditions.iter().find(|condition| condition.name == least.condition);
    let feeding: Vec<&str> = worst.map_or(Vec::new(), |condition| {
        passages_of(condition, &least.part).into_iter().map(|passage| passage.name.as_str()).collect()
    });
    let mut kinds = exits_of_one_space(&facts);
    kinds.extend(
        facts
            .iter()
            .filter(|fact| fact.role == OpeningRole::Inlet && feeding.contains(&passage_of(fact)))
            .map(|fact| vec![fact]),
    );
    kinds.retain(|kind| !kind.is_empty());
    let tries = kinds.len() * FACTORS.len();
    if budget.times(now.work) < tries {
        left.push(budget::left_out("what to do next was left out"));
        return Vec::new();
    }
    let base = least.temperature_margin_K;
    let mut steps: Vec<NextStep> =
        kinds.par_iter().filter_map(|kind| widened(case, &at, (now, base), kind)).collect();
    let worst_off = |part: &Option<String>, condition: Option<&String>| {
        part.as_ref() == Some(&least.part) && condition.is_none_or(|condition| *condition == least.condition)
    };
    for change in sudden.iter().filter(|change| worst_off(&change.part, change.part_condition.as_ref())) {
        if let Some(step) = rounded_off(change) {
            steps.push(step);
        }
    }
    steps.extend(further_out(case, &at, base, stand_off));
    steps.retain(|step| step.least_margin_rise_K >= WORTH_DOING);
    steps.sort_by(|a, b| b.least_margin_rise_K.total_cmp(&a.least_margin_rise_K));
    steps
}

/// The exits of each space together; that of a passage that begins outside by itself.
fn exits_of_one_space(facts: &[OpeningFacts]) -> Vec<Vec<&OpeningFacts>> {
    let mut kinds: Vec<Vec<&OpeningFacts>> = Vec::new();
    for fact in facts.iter().filter(|fact| fact.role == OpeningRole::Exit) {
        let own = fact.from == "outside";
        match kinds.iter_mut().find(|kind| !own && kind[0].from == fact.from) {
            Some(kind) => kind.push(fact),
            None => kinds.push(vec![fact]),
        }
    }
    kinds
}

fn passage_of(fact: &OpeningFacts) -> &str {
    fact.name.split('/').next().unwrap_or(&fact.name)
}

/// The same openings made larger: the smallest of the sizes tried that wins most of what can be won.
fn widened(
    case: &Case,
    at: &[usize],
    (now, base): (&SolvedMargins, f64),
    kind: &[&OpeningFacts],
) -> Option<NextStep> {
    let rise = |factor: f64, beside: Option<&SolvedMargins>| {
        let larger = |case: &mut Case| kind.iter().for_each(|fact| fact.scale(case, factor));
        Some(margins_with(case, at, beside, &larger)?.least?.temperature_margin_K - base)
    };
    // no larger than the case allows
    let most =
        kind.iter().filter_map(|fact| Some(fact.most_m2? / fact.area_m2)).fold(f64::INFINITY, f64::min);
    let within = FACTORS.into_iter().filter(|factor| *factor < most);
    let at_most = Some(most)
        .filter(|most| most.is_finite() && *most >= LEAST_FACTOR && *most < FACTORS[FACTORS.len() - 1]);
    let rises: Vec<(f64, f64)> =
        within.chain(at_most).filter_map(|factor| Some((factor, rise(factor, Some(now))?))).collect();
    let most = rises.iter().map(|(_, rise)| *rise).fold(f64::NEG_INFINITY, f64::max);
    let (factor, _) = rises.into_iter().find(|(_, rise)| *rise >= MOST_OF_IT * most)?;
    // what is told counts the hotter of two states that may only now be two
    let rise = rise(factor, None)?;
    let first = kind[0];
    let alike = kind.iter().all(|fact| (fact.area_m2 / first.area_m2 - 1.0).abs() < 1e-6);
    let pieces: usize = kind.iter().map(|fact| fact.pieces).sum();
    let area = |pieces: usize, area: f64| match pieces {
        1 => figures::area(area),
        _ => format!("{pieces} × {}", figures::area(area)),
    };
    let name = match (kind.len(), first.role) {
        (1, OpeningRole::Exit) => format!("the exit {}", first.name),
        (1, _) => format!("the inlet of {}", first.name),
        _ => "the exits".to_string(),
    };
    let what = if alike {
        format!(
            "{name}: {} in place of {}",
            area(pieces, factor * first.area_m2),
            area(pieces, first.area_m2)
        )
    } else {
        format!("{name}: {} times the area of each", figures::fixed(factor, 1))
    };
    let mut changed = case.clone();
    kind.iter().for_each(|fact| fact.scale(&mut changed, factor));
    Some(NextStep {
        what,
        least_margin_rise_K: rise,
        set: kind.iter().flat_map(|fact| fact.settings(&changed)).collect(),
    })
}

/// A diffuser, or a rounded edge, where the area changes suddenly.
fn rounded_off(change: &SuddenChange) -> Option<NextStep> {
    let instead = match (change.length_m, change.radius_m) {
        (Some(length), _) => format!("a diffuser of {:.0} mm", 1e3 * length),
        (_, Some(radius)) => format!("an edge rounded to {:.0} mm", 1e3 * radius),
        _ => return None,
    };
    Some(NextStep {
        what: format!("{instead} between {} and {} of {}", change.behind, change.before, change.passage),
        least_margin_rise_K: change.temperature_fall_K?,
        set: Vec::new(),
    })
}

/// Inlets further off the skin, by what the least margin of all gains; those at one place move together.
fn further_out(case: &Case, at: &[usize], base: f64, stand_off: &[StandOff]) -> Vec<NextStep> {
    let mut keys: Vec<&str> = stand_off.iter().map(|inlet| inlet.key.as_str()).collect();
    keys.sort_unstable();
    keys.dedup();
    let moved = keys.into_par_iter().filter_map(|key| {
        let here: Vec<&StandOff> = stand_off.iter().filter(|inlet| inlet.key == key).collect();
        let gap = here.iter().find_map(|inlet| Some(inlet.conditions.first()?.steps.first()?.gap_m))?;
        let id = case.numbers.find(key)?;
        let least = margins_with(case, at, None, &|case: &mut Case| case.numbers.set(id, gap))?.least?;
        let names: Vec<&str> = here.iter().map(|inlet| inlet.inlet.trim_start_matches("passage/")).collect();
        Some(NextStep {
            what: format!("{} {:.0} mm off the skin", figures::in_a_row(&names), 1e3 * gap),
            least_margin_rise_K: least.temperature_margin_K - base,
            set: vec![Setting { address: key.to_string(), value: format!("{:.0} mm", 1e3 * gap) }],
        })
    });
    moved.collect()
}
