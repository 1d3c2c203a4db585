//! What is usual of every body and was not written down, and what it would cost: seams that leak, hot air drawn in again.
//!
//! Offered, never filled in: the case's own result leaves both out until it says them.

use crate::case::{Case, Warning, tables as t};
use crate::keys::{Kind, Origin, Usual};
use crate::point::Operation;
use crate::point::budget::{self, Budget};
use crate::point::leakage::MOVING;
use crate::point::margins::{SolvedMargins, margins_with};
use crate::point::model::Model;
use rayon::prelude::*;
use serde::Serialize;

/// A word that the case may say, and what it would cost.
#[derive(Clone, Debug, Serialize)]
pub struct Offer {
    /// The address.
    pub key: String,
    pub word: &'static str,
    /// What it stands for.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Where that is from.
    pub source: &'static str,
    /// Whether any condition is of the kind that it speaks of.
    pub applies: bool,
    /// Each part where it loses most, the dearest first; parts that lose less than half a kelvin left out.
    pub costs: Vec<Cost>,
}

/// What a part loses.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Cost {
    pub part: String,
    /// The condition in which it loses most.
    pub condition: String,
    /// How much hotter it gets.
    pub temperature_rise_K: f64,
    /// The same at the band's low end; none where no steady state was found there.
    pub at_low_K: Option<f64>,
    /// The same at its high end.
    pub at_high_K: Option<f64>,
    /// What it then keeps under its limit.
    pub temperature_margin_K: f64,
}

/// Losses of fewer kelvins are not told.
const WORTH_A_WORD: f64 = 0.5;

/// Every word for what the case leaves at its default in `[body]`, against the case as it stands, within a budget; what would
/// be too much is left out and told.
pub fn offers_within(
    case: &Case,
    model: &Model,
    now: Option<&SolvedMargins>,
    budget: Budget,
    left: &mut Vec<Warning>,
) -> Vec<Offer> {
    if !budget.allows(budget::about(case, model)) {
        left.push(budget::left_out("what seams and hot air that nobody wrote down would cost was left out"));
        return Vec::new();
    }
    let Some(as_it_is) = now else { return Vec::new() };
    let unsaid = t::BODY.iter().filter(|key| {
        let id = case.body.id(key);
        id.is_some_and(|id| {
            let fact = case.numbers.fact(id);
            matches!(fact.origin, Origin::Assumed(_)) && fact.value == 0.0
        })
    });
    let words: Vec<_> = unsaid.flat_map(|key| key.words.iter().map(move |word| (key, word))).collect();
    // three looks for each word
    let most = budget.times(3 * as_it_is.work);
    if most < words.len() {
        left.push(budget::left_out(format!(
            "of {} words for what nobody wrote down {most} were tried",
            words.len()
        )));
    }
    words[..words.len().min(most)]
        .par_iter()
        .map(|(key, word)| offer(case, model, as_it_is, key, word))
        .collect()
}

fn offer(case: &Case, model: &Model, before: &SolvedMargins, key: &crate::keys::Key, word: &Usual) -> Offer {
    let at: Vec<usize> = (0..case.conditions.len()).collect();
    let with = |value: f64| {
        margins_with(case, &at, Some(before), &|case: &mut Case| {
            if let Some(id) = case.body.id(key) {
                case.numbers.set(id, value);
            }
        })
    };
    let usual = word.assumed;
    let [low, middle, high] = [usual.low, usual.value, usual.high].map(with);
    let loss = |look: &Option<SolvedMargins>, index: usize| {
        Some(before.all[index].2 - look.as_ref()?.all.get(index)?.2)
    };
    let mut costs: Vec<Cost> = Vec::new();
    for (part, named) in case.parts.iter().enumerate() {
        let of_part = (0..before.all.len()).filter(|index| before.all[*index].1 == part);
        let most = of_part
            .filter_map(|index| Some((index, loss(&middle, index)?)))
            .filter(|(_, kelvins)| *kelvins >= WORTH_A_WORD)
            .max_by(|a, b| a.1.total_cmp(&b.1));
        let Some((index, kelvins)) = most else { continue };
        costs.push(Cost {
            part: named.name.clone(),
            condition: case.conditions[before.all[index].0].name.clone(),
            temperature_rise_K: kelvins,
            at_low_K: loss(&low, index),
            at_high_K: loss(&high, index),
            temperature_margin_K: before.all[index].2 - kelvins,
        });
    }
    costs.sort_by(|a, b| b.temperature_rise_K.total_cmp(&a.temperature_rise_K));
    let slow = |named: &crate::case::Named| {
        Operation::of_condition(case, model, &named.values).free_stream().air_speed < MOVING
    };
    Offer {
        key: case.body.address_of(key),
        word: word.word,
        value: Kind::Share.show(usual.value),
        low: Kind::Share.show(usual.low),
        high: Kind::Share.show(usual.high),
        source: usual.source,
        applies: key.name != t::HOT_AIR_AT_REST.name || case.conditions.iter().any(slow),
        costs,
    }
}
