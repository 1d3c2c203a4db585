//! Which readings look like slips: one that is wrong draws the fit after it, so that good ones seem odd beside it.

use super::newton::{Likeliest, Problem};
use super::result::Ask;
use super::slips;
use super::unknowns::Unknowns;
use super::without::{square, without};
use crate::readings::expected::ExpectedReading;
use crate::readings::taken::Shown;

/// What each reading is held against, and what is asked about.
pub struct Accused {
    /// What the others lead to expect of each reading, and the spread of that, its own error among it.
    pub by_others: Vec<(f64, f64)>,
    /// Questions, in the order of the readings.
    pub asks: Vec<Ask>,
}

/// Seeks slips one by one: the worst is left out, the likeliest place is found again without it, and only what is still odd
/// there is asked about. A reading counts as odd from so many spreads.
pub fn seek(
    unknowns: &Unknowns,
    problem: &Problem,
    likeliest: &Likeliest,
    expected: &[ExpectedReading],
    odd: f64,
) -> Accused {
    let mut left_out: Vec<usize> = Vec::new();
    let mut asks: Vec<Ask> = Vec::new();
    let mut by_others = held_against(problem, likeliest, &left_out);
    loop {
        let found = unknowns.readings.iter().enumerate().filter(|(index, _)| !left_out.contains(index));
        let found = found.filter_map(|(index, seen)| {
            let (mean, spread) = by_others[index];
            let off = off(&seen.taken.shown, mean, spread).abs();
            let before = (expected[index].mean, expected[index].spread);
            let asked = slips::ask(index + 1, &seen.taken, before)
                .or_else(|| (off >= odd).then(|| slips::ask(index + 1, &seen.taken, by_others[index]))?)?;
            Some((off, index, asked))
        });
        let Some((_, index, asked)) = found.max_by(|a, b| a.0.total_cmp(&b.0)) else { break };
        left_out.push(index);
        asks.push(asked);
        let Some(rest) = problem.clone().without(&left_out).likeliest() else { break };
        by_others = held_against(problem, &rest, &left_out);
    }
    asks.sort_by_key(|ask| ask.number);
    Accused { by_others, asks }
}

/// What all others, those left out aside, lead to expect of each reading.
fn held_against(problem: &Problem, likeliest: &Likeliest, left_out: &[usize]) -> Vec<(f64, f64)> {
    let count = likeliest.scores.len();
    let each = likeliest.shown.iter().enumerate().map(|(reading, shown)| {
        let row = &likeliest.slopes[reading * count..][..count];
        let own = problem.spreads[reading];
        let (mean, variance) = match without(likeliest, &[reading]) {
            _ if left_out.contains(&reading) => (*shown, square(row, &likeliest.covariance)),
            Some(left) => left.shows(row, *shown),
            None => (*shown, 0.0),
        };
        (mean, variance.sqrt().hypot(own))
    });
    each.collect()
}

/// How far a reading lies from what is expected, in spreads; a strip from the nearer of its fields.
pub fn off(shown: &Shown, mean: f64, spread: f64) -> f64 {
    match *shown {
        Shown::Value { value, .. } => (value - mean) / spread,
        Shown::Between { low, high, .. } => (low - mean).max(0.0) / spread - (mean - high).max(0.0) / spread,
    }
}
