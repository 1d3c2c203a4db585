//! Which guess decides: every number that is not known for sure, set to either end of its band, one at a time.
//!
//! What is watched is the least margin: over the conditions that count, the fewest kelvins that any part keeps under its limit.
//! Counted are the conditions that `[size]` names in `at`, else all.

use super::openings::OpeningFacts;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, Warning, tables as t};
use crate::draws::guesses::applies;
use crate::keys::{Fact, Kind, NumberId, Origin, Slot};
use crate::point::budget::{self, Budget};
pub use crate::point::margins::LeastMargin;
use crate::point::margins::{SolvedMargins, margins_at, margins_with};
use crate::point::model::Model;
use rayon::prelude::*;
use serde::Serialize;

/// By how much openings are made smaller to see what that costs.
pub const SMALLER: f64 = 0.1;
/// By how much a pressure coefficient or a recovery is made worse to see what that costs.
pub const WORSE: f64 = 0.05;
/// A loss of fewer kelvins is not told.
pub const WORTH_A_WORD: f64 = 0.5;

/// A number that is not known for sure, and what hangs on it.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Assumption {
    /// Its address.
    pub key: String,
    /// The value taken.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Where both are from: the source of the default; none where the case says them.
    pub source: Option<&'static str>,
    /// The least margin at the low end; none where that cannot be reckoned.
    pub at_low: Option<LeastMargin>,
    /// The least margin at the high end.
    pub at_high: Option<LeastMargin>,
    /// How far the least margin falls at the worse end.
    pub falls_K: f64,
    /// How far it rises at the better end.
    pub rises_K: f64,
}

/// One change to an opening or a place, and what it does.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct OpeningChange {
    /// The opening: PASSAGE, or PASSAGE/ELEMENT.
    pub opening: String,
    /// Whether a steady state was found.
    pub solved: bool,
    /// Of the parts that lose half a kelvin or more, the one that then has the fewest left; none where no part does.
    pub hits: Option<Hit>,
    /// The least margin then.
    pub least: Option<LeastMargin>,
    /// How far the least margin rises; less than nought where it falls.
    pub differs_K: f64,
}

/// A part that a change takes kelvins from.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct Hit {
    pub part: String,
    pub condition: String,
    /// Limit less temperature before.
    pub before_K: f64,
    /// And after.
    pub after_K: f64,
}

/// What decides.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Sensitivity {
    /// The conditions that count.
    pub at: Vec<String>,
    /// The least margin as the case stands.
    pub least: Option<LeastMargin>,
    /// Every number with a band, the one whose worse end costs most first.
    pub assumptions: Vec<Assumption>,
    /// How far the least margin falls if all of them are independent and each may be at its worse end: the root of the sum of
    /// squares.
    pub together_falls_K: f64,
    /// Each opening made a tenth smaller.
    pub smaller: Vec<OpeningChange>,
    /// Each opening where the body serves it worse by 0.05: pressure coefficient up at an exit, down at a plain inlet; recovery
    /// down at a ram inlet.
    pub worse_place: Vec<OpeningChange>,
}

/// The conditions that count: those of `[size]`, else all.
pub fn counted(case: &Case) -> Vec<usize> {
    let named: Vec<usize> = match case.size.as_ref().map(|values| values.slot(&t::AT)) {
        Some(Slot::Names(names)) => names.iter().filter_map(|name| case.condition(name)).collect(),
        _ => Vec::new(),
    };
    if named.is_empty() { (0..case.conditions.len()).collect() } else { named }
}

/// Tries both ends of every band, every opening smaller and every place worse, within a budget; what would be too much
/// is left out and told.
pub fn sensitivity_within(
    case: &Case,
    model: &Model,
    openings: &[OpeningFacts],
    budget: Budget,
    left: &mut Vec<Warning>,
) -> Sensitivity {
    let at = counted(case);
    let as_it_is = margins_at(case, model, &at).ok();
    let now = as_it_is.as_ref().and_then(|look| look.least.clone());
    let margin = |found: &Option<LeastMargin>| found.as_ref().map(|least| least.temperature_margin_K);
    let differs = |found: &Option<LeastMargin>| match (margin(found), margin(&now)) {
        (Some(then), Some(now)) => then - now,
        _ => 0.0,
    };
    let each = as_it_is.as_ref().map_or(u64::MAX, |look| look.work);
    let mut facts: Vec<(usize, &Fact, (f64, f64))> = case
        .numbers
        .facts()
        .iter()
        .enumerate()
        .filter(|(_, fact)| applies(case, fact))
        .filter_map(|(index, fact)| Some((index, fact, ends(fact)?)))
        .collect();
    let (most, most_openings) =
        (budget.share(0.7).times(2 * each.min(u64::MAX / 2)), budget.share(0.15).times(each));
    if most < facts.len() {
        left.push(budget::left_out(format!("of {} guesses {most} were tried at both ends", facts.len())));
        facts.truncate(most);
    }
    if most_openings < openings.len() {
        left.push(budget::left_out(format!(
            "of {} openings {most_openings} were tried smaller and at a worse place",
            openings.len()
        )));
    }
    let openings = &openings[..openings.len().min(most_openings)];
    let mut assumptions: Vec<Assumption> = facts
        .par_iter()
        .map(|(index, fact, (low, high))| {
            let at_end = |value: f64| {
                margins_with(case, &at, None, &|case: &mut Case| case.numbers.set(NumberId(*index), value))
                    .and_then(|look| look.least)
            };
            let (at_low, at_high) = (at_end(*low), at_end(*high));
            let moves = [differs(&at_low), differs(&at_high)];
            let show = |value: f64| fact.kind.show(value);
            Assumption {
                key: fact.address.clone(),
                value: show(fact.value),
                low: show(*low),
                high: show(*high),
                source: match fact.origin {
                    Origin::Assumed(source) => Some(source),
                    Origin::Written(_) => None,
                },
                at_low,
                at_high,
                falls_K: moves.iter().fold(0.0, |most, by| f64::max(most, -by)),
                rises_K: moves.iter().fold(0.0, |most, by| f64::max(most, *by)),
            }
        })
        .collect();
    assumptions.sort_by(|a, b| b.falls_K.total_cmp(&a.falls_K).then(b.rises_K.total_cmp(&a.rises_K)));
    let steps = |change: &(dyn Fn(&OpeningFacts, &mut Case) + Sync)| -> Vec<OpeningChange> {
        openings
            .par_iter()
            .map(|opening| {
                let found = margins_with(case, &at, None, &|case: &mut Case| change(opening, case));
                let hits = as_it_is
                    .as_ref()
                    .zip(found.as_ref())
                    .and_then(|(before, after)| hit(case, before, after));
                let solved = found.is_some();
                let least = found.and_then(|look| look.least);
                OpeningChange {
                    opening: opening.name.clone(),
                    solved,
                    hits,
                    differs_K: differs(&least),
                    least,
                }
            })
            .collect()
    };
    Sensitivity {
        at: at.iter().map(|index| case.conditions[*index].name.clone()).collect(),
        together_falls_K: assumptions.iter().map(|each| each.falls_K.powi(2)).sum::<f64>().sqrt(),
        assumptions,
        smaller: steps(&|opening, case| opening.scale(case, 1.0 - SMALLER)),
        worse_place: steps(&|opening, case| opening.worsen(case, WORSE)),
        least: now,
    }
}

/// Of what loses half a kelvin or more, what then has the fewest left.
fn hit(case: &Case, before: &SolvedMargins, after: &SolvedMargins) -> Option<Hit> {
    let pairs = before.all.iter().zip(&after.all);
    let hits = pairs.filter(|(before, after)| before.2 - after.2 >= WORTH_A_WORD);
    let (before, after) = hits.min_by(|a, b| a.1.2.total_cmp(&b.1.2))?;
    Some(Hit {
        part: case.parts[before.1].name.clone(),
        condition: case.conditions[before.0].name.clone(),
        before_K: before.2,
        after_K: after.2,
    })
}

/// Both ends of a number's band, within what such a number can be; none where it has no band.
pub(crate) fn ends(fact: &Fact) -> Option<(f64, f64)> {
    let spread = fact.spread.as_ref()?;
    let (low, high) = (spread.low(fact.value), spread.high(fact.value));
    let low = match fact.kind {
        // these may be nought or less
        Kind::Ratio | Kind::Temperature | Kind::TemperatureDifference | Kind::Speed | Kind::Angle => low,
        // a band is no licence for a pipe of no width
        _ if fact.value > 0.0 && low <= 0.0 && matches!(fact.origin, Origin::Written(_)) => 0.01 * fact.value,
        _ => low,
    };
    let high = if fact.kind == Kind::Share { high.min(1.0) } else { high };
    let low = if fact.kind == Kind::Temperature { low.max(ZERO_CELSIUS - 90.0) } else { low };
    (low < high).then_some((low, high))
}
