//! What each guess is worth: the share of the least margin's variance that comes from it, and what knowing it would
//! leave of the band.

use super::car::Car;
use super::guesses::Guesses;
use super::result::{Band, Input, band, input};
use crate::case::Case;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::{Sobol, mix};
use crate::numerics::sobol_shares::{Crossed, Shares, of_scrambles};
use crate::study::budget::Budget;
use rayon::prelude::*;
use serde::Serialize;

/// Independent scrambles.
const SCRAMBLES: usize = 8;
/// Pairs of points in each.
const PAIRS: usize = 64;
/// Pairs that say anything, at least.
const FEWEST: usize = 8;
/// Standard errors on either side within which an estimate holds 9 times in 10, of eight scrambles: Student's t at
/// seven degrees of freedom.
const NINE_IN_TEN: f64 = 1.895;

/// What a guess is worth.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Worth {
    /// The first of its addresses.
    pub address: String,
    /// The guess.
    #[serde(flatten)]
    pub input: Input,
    /// Share of the variance that it makes alone.
    pub first_order: f64,
    /// Standard error of that.
    pub first_order_error: f64,
    /// Share that it makes alone and together with others.
    pub total: f64,
    /// Standard error of that.
    pub total_error: f64,
    /// Half the band now, less half of it were this known: half × (1 − √(1 − first order)).
    pub worth_K: f64,
    /// Low and high end of that, 9 times in 10, from the standard error.
    pub worth_from_K: f64,
    /// High end.
    pub worth_to_K: f64,
    /// Half the band that would be left.
    pub leaves_K: f64,
    /// Whether it cannot be told from the one before it in the list.
    pub about_equal: bool,
    /// What it stands for and how to measure it.
    pub measure: &'static str,
}

/// What decides, by guess.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Ranking {
    /// The guesses, the one worth most first.
    pub shares: Vec<Worth>,
    /// Half the band of the least margin now.
    pub half_band_K: f64,
    /// The band.
    pub least_K: Band,
    /// Pairs of points that were used; each takes two cars and one more for each guess.
    pub pairs: usize,
    /// Pairs left out since one of their cars has no steady state.
    pub left_out: usize,
}

/// One scramble: what its pairs of points give.
struct Lane {
    crossed: Crossed,
    left_out: usize,
}

/// Ranks the guesses of a case by what they are worth; none where nothing is drawn or it cannot be made ready. `told`
/// hears the share of the work that is done.
pub fn ranking(case: &Case, guesses: &Guesses, told: &(dyn Fn(f64) + Sync)) -> Option<Ranking> {
    ranking_of(PAIRS, case, guesses, told)
}

/// The same with as many pairs of points as a budget allows, where a draw takes so much work; none where they would
/// be too few.
pub fn ranking_within(
    budget: Budget,
    draw: u64,
    case: &Case,
    guesses: &Guesses,
    told: &(dyn Fn(f64) + Sync),
) -> Option<Ranking> {
    let pairs = budget.times(draw.saturating_mul((SCRAMBLES * (guesses.list.len() + 2)) as u64)).min(PAIRS);
    (pairs >= FEWEST).then(|| ranking_of(pairs, case, guesses, told)).flatten()
}

fn ranking_of(pairs: usize, case: &Case, guesses: &Guesses, told: &(dyn Fn(f64) + Sync)) -> Option<Ranking> {
    if guesses.is_empty() || case.conditions.is_empty() || case.parts.is_empty() {
        return None;
    }
    let car = Car::new(case, guesses)?;
    let done = std::sync::atomic::AtomicUsize::new(0);
    let lanes: Vec<Lane> = (0..SCRAMBLES)
        .into_par_iter()
        .map_init(
            || car.clone(),
            |car, scramble| {
                let count = || {
                    let done = done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
                    told(done as f64 / (SCRAMBLES * pairs) as f64);
                };
                lane(car, guesses, (mix(0x5eed ^ scramble as u64), pairs), &count)
            },
        )
        .collect();
    let crossed: Vec<Crossed> = lanes.iter().map(|lane| lane.crossed.clone()).collect();
    let mut found = Quantiles::default();
    crossed.iter().flat_map(|c| c.a.iter().chain(&c.b)).for_each(|least| found.add(*least));
    if crossed.iter().any(|crossed| crossed.a.len() < 2) {
        return None;
    }
    let least = band(&found);
    let half = 0.5 * (least.p95 - least.p05);
    let worth = guesses.list.iter().zip(of_scrambles(&crossed)).map(|(guess, shares)| {
        let first = case.numbers.fact(guess.numbers[0].0);
        worth(input(case, guess), first.help, half, &shares)
    });
    let mut shares: Vec<Worth> = worth.collect();
    shares.sort_by(|a, b| b.worth_K.total_cmp(&a.worth_K).then_with(|| b.total.total_cmp(&a.total)));
    for index in 1..shares.len() {
        shares[index].about_equal = shares[index].worth_to_K >= shares[index - 1].worth_from_K;
    }
    Some(Ranking {
        shares,
        half_band_K: half,
        least_K: least,
        pairs: crossed.iter().map(|crossed| crossed.a.len()).sum(),
        left_out: lanes.iter().map(|lane| lane.left_out).sum(),
    })
}

fn lane(car: &mut Car, guesses: &Guesses, (seed, pairs): (u64, usize), count: &dyn Fn()) -> Lane {
    // the columns of the guesses of this case alone, at A and at B
    let columns: Vec<usize> = guesses.list.iter().map(|guess| guess.dimension).collect();
    let inputs = columns.len();
    let sobol = Sobol::new(2 * inputs, seed);
    let mut crossed = Crossed { mixed: vec![Vec::new(); inputs], ..Crossed::default() };
    let mut left_out = 0;
    let mut pair = vec![0.0; 2 * inputs];
    let mut point = vec![0.5; guesses.dimensions];
    let mut row = vec![0.0; inputs + 2];
    for index in 0..pairs {
        sobol.point(index as u32, &mut pair);
        let (a, b) = pair.split_at(inputs);
        for (place, least) in row.iter_mut().enumerate() {
            for (input, column) in columns.iter().enumerate() {
                let of_b = place == inputs + 1 || place == input;
                point[*column] = if of_b { b[input] } else { a[input] };
            }
            *least = least_margin(car, &point);
        }
        count();
        if row.iter().any(|least| !least.is_finite()) {
            left_out += 1;
            continue;
        }
        crossed.a.push(row[inputs]);
        crossed.b.push(row[inputs + 1]);
        for (mixed, least) in crossed.mixed.iter_mut().zip(&row) {
            mixed.push(*least);
        }
    }
    Lane { crossed, left_out }
}

/// The least margin of a car over all conditions and parts (K); not a number where one has no steady state.
fn least_margin(car: &mut Car, point: &[f64]) -> f64 {
    if car.take(point).is_err() {
        return f64::NAN;
    }
    let mut least = f64::INFINITY;
    for condition in 0..car.conditions() {
        if !car.solve(condition) {
            return f64::NAN;
        }
        least = (0..car.parts()).map(|part| car.margin(part)).fold(least, f64::min);
    }
    least
}

fn worth(input: Input, measure: &'static str, half: f64, shares: &Shares) -> Worth {
    let leaves = |first: f64| half * (1.0 - first.clamp(0.0, 1.0)).sqrt();
    let first = shares.first;
    let at = |sign: f64| half - leaves(first.value + sign * NINE_IN_TEN * first.error);
    Worth {
        address: input.addresses[0].clone(),
        input,
        first_order: first.value,
        first_order_error: first.error,
        total: shares.total.value,
        total_error: shares.total.error,
        worth_K: at(0.0),
        worth_from_K: at(-1.0),
        worth_to_K: at(1.0),
        leaves_K: leaves(first.value),
        about_equal: false,
        measure,
    }
}
