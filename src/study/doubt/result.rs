//! What doubt makes of an answer, in the shape in which `--json` gives it.

use super::draws::Tally;
use super::guesses::{Guess, Guesses};
use crate::case::Case;
use crate::numerics::quantiles::Quantiles;
use crate::study::result::Condition;
use serde::Serialize;

/// Share of draws without a steady state above which no band is shown.
const TOO_MANY_UNSOLVED: f64 = 1.0 / 200.0;
/// Share of draws above which it is said that heat and brake power came to more than the fuel.
pub const WORTH_SAYING: f64 = 0.01;
/// Shares of draws between which it is said that a passage runs back: beneath it does not, above it does.
const NOW_AND_THEN: (f64, f64) = (0.05, 0.95);

/// Where a margin lies: 5 in 100 below `p05`, half below `p50`, 5 in 100 above `p95` (K).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Band {
    /// Low end.
    pub p05: f64,
    /// Middle.
    pub p50: f64,
    /// High end.
    pub p95: f64,
}

/// A guess.
#[derive(Clone, Debug, Serialize)]
pub struct Input {
    /// The addresses that are drawn together.
    pub addresses: Vec<String>,
    /// The value taken of the first.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Whether the file states the band; else it is that of a default.
    pub stated: bool,
}

/// How often a part has the least margin of all.
#[derive(Clone, Debug, Serialize)]
pub struct Decides {
    /// The condition.
    pub condition: String,
    /// The part.
    pub part: String,
    /// Share of the draws.
    pub share: f64,
}

/// A passage through which the air runs back in some draws and not in others.
#[derive(Clone, Debug, Serialize)]
pub struct RunsBack {
    /// The condition.
    pub condition: String,
    /// The passage.
    pub passage: String,
    /// Share of the draws.
    pub likelihood: f64,
}

/// How much of the answer rests on guesses.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Doubt {
    /// Share of the draws in which every part keeps its limit in every condition, and its lower limit where the
    /// condition is warm.
    pub all_hold: f64,
    /// Where the least margin lies; none where too many draws have no steady state.
    pub least_K: Option<Band>,
    /// Draws.
    pub draws: usize,
    /// Standard error of `all_hold`.
    pub standard_error: f64,
    /// What has the least margin, the most frequent first.
    pub decides: Vec<Decides>,
    /// Where the air runs back in some draws only.
    pub runs_back: Vec<RunsBack>,
    /// Share of the draws without a steady state; they count as not holding.
    pub unsolved: f64,
    /// Share of the draws in which the shares of heat had to shrink, since with brake power they came to more than
    /// the fuel's heat.
    pub heat_shrunk: f64,
    /// The guesses.
    pub inputs: Vec<Input>,
}

/// The band of what was counted.
pub fn band(found: &Quantiles) -> Band {
    Band { p05: found.quantile(0.05), p50: found.quantile(0.5), p95: found.quantile(0.95) }
}

/// A guess as it is listed.
pub fn input(case: &Case, guess: &Guess) -> Input {
    let facts = || guess.numbers.iter().map(|(id, _)| case.numbers.fact(*id));
    let first = case.numbers.fact(guess.numbers[0].0);
    let (low, high) = first.band().unwrap_or((first.value, first.value));
    Input {
        addresses: facts().map(|fact| fact.address.clone()).collect(),
        value: first.kind.show(first.value),
        low: first.kind.show(low),
        high: first.kind.show(high),
        stated: guess.stated,
    }
}

impl Doubt {
    /// What a tally of the conditions of a case says.
    pub fn new(case: &Case, guesses: &Guesses, tally: &Tally) -> Doubt {
        let draws = tally.draws as f64;
        let parts = case.parts.len().max(1);
        let mut decides: Vec<Decides> = tally
            .part_least
            .iter()
            .enumerate()
            .filter(|(_, count)| **count > 0)
            .map(|(place, count)| Decides {
                condition: case.conditions[place / parts].name.clone(),
                part: case.parts[place % parts].name.clone(),
                share: *count as f64 / draws,
            })
            .collect();
        decides.sort_by(|a, b| b.share.total_cmp(&a.share));
        let passages = case.passages.len().max(1);
        let back = tally.runs_back.iter().enumerate().map(|(place, count)| RunsBack {
            condition: case.conditions[place / passages].name.clone(),
            passage: case.passages[place % passages].name.clone(),
            likelihood: *count as f64 / draws,
        });
        let unsolved = tally.unsolved as f64 / draws;
        Doubt {
            all_hold: tally.holds.0,
            least_K: (unsolved <= TOO_MANY_UNSOLVED && tally.least.count() > 0).then(|| band(&tally.least)),
            draws: tally.draws,
            standard_error: tally.holds.1,
            decides,
            runs_back: back.filter(|b| (NOW_AND_THEN.0..=NOW_AND_THEN.1).contains(&b.likelihood)).collect(),
            unsolved,
            heat_shrunk: tally.shrunk as f64 / draws,
            inputs: guesses.list.iter().map(|guess| input(case, guess)).collect(),
        }
    }

    /// Writes the band and likelihood of each part beside its margin.
    pub fn write_beside(&self, case: &Case, conditions: &mut [Condition], tally: &Tally) {
        // a condition without an answer has its place in the draws all the same
        for condition in conditions {
            let Some(index) = case.condition(&condition.name) else { continue };
            let first = index * condition.parts.len();
            let margins = tally.margins.iter().zip(&tally.part_holds).skip(first);
            for (part, (found, holds)) in condition.parts.iter_mut().zip(margins) {
                if !part.has_limit() {
                    continue;
                }
                part.margin_band_K = self.least_K.map(|_| band(found));
                part.likelihood = Some(*holds as f64 / tally.draws.max(1) as f64);
            }
        }
    }
}
