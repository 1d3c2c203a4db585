//! Which layout is better over all that the guesses may turn out to be: every draw is one car, seen by all layouts.

use super::BASE;
use super::result::{Chances, Compared, LayoutInDraws, LayoutPair};
use crate::case::Case;
use crate::draws::Guesses;
use crate::draws::doubt::band;
use crate::draws::tally::SCRAMBLES;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol_shares::mean_and_error;
use crate::point::budget::Budget;
use crate::point::counted::Counted;
use crate::study::size::Sizing;
use crate::study::size::fleet::{CaseShape, From, MarginTable, SizingFleet};

/// Share of the draws in which one is better for it to be called.
const CALLED: f64 = 0.9;
/// Middle gap (K) that is worth calling.
const WORTH: f64 = 1.0;
/// A part that holds in more draws than this needs no better.
const SURE: f64 = 0.95;
/// Draws: most, and fewest that say anything.
const DRAWS: (usize, usize) = (2048, 128);
/// Draws by which the work of one is learnt.
const FIRST: usize = 32;

/// The layouts on the same draws; none where nothing is guessed, one stands alone, or the work would be too much.
/// So many draws are made as were asked for, else as the budget allows. `decided`: numbers that sizing decides.
pub(super) fn chances(
    compared: &mut [Compared],
    cases: &[Option<Case>],
    counts: &[String],
    sized: bool,
    asked: Option<usize>,
    budget: Budget,
) -> Option<Chances> {
    let known: Vec<usize> = (0..compared.len()).filter(|index| cases[*index].is_some()).collect();
    let cases: Vec<&Case> = known.iter().filter_map(|index| cases[*index].as_ref()).collect();
    if cases.len() < 2 {
        return None;
    }
    let sizings: Vec<Sizing> =
        cases.iter().map(|case| Sizing::looking(case, counted(case, counts))).collect();
    let mut guesses = Guesses::of_all(&cases);
    if sized {
        for (guesses, case) in guesses.iter_mut().zip(&cases) {
            guesses.leave(&Sizing::new(case).map_or(Vec::new(), |sizing| sizing.decided()));
        }
    }
    let shapes: Vec<CaseShape> =
        sizings.iter().zip(&guesses).map(|(sizing, guesses)| CaseShape { sizing, guesses }).collect();
    let mut fleet = SizingFleet::new(&shapes, &[])?;
    let before = fleet.work();
    fleet.all(&[], FIRST, From::Taken)?;
    let draw = (fleet.work() - before) / FIRST as u64;
    let draws = asked.unwrap_or_else(|| budget.times(draw).min(DRAWS.0)) / SCRAMBLES * SCRAMBLES;
    if draws < DRAWS.1.min(asked.unwrap_or(usize::MAX)) || draws == 0 {
        return None;
    }
    let table = fleet.all(&[], draws, From::Taken)?;
    let all: Vec<LayoutMargins> =
        (0..cases.len()).map(|shape| LayoutMargins::new(&fleet, &table, shape)).collect();
    let base = known.iter().position(|index| compared[*index].base);
    for (place, index) in known.iter().enumerate() {
        let against = base.filter(|base| *base != place).map(|base| (&all[base], &all[place]));
        let part = |wanted: &dyn Fn(&LayoutPair, f64, f64) -> bool| -> Vec<String> {
            let Some((base, own)) = against else { return Vec::new() };
            let parts = cases[place].parts.iter().enumerate();
            let found = parts.filter(|(part, _)| {
                let pair = pair(&own.of_part(*part), &base.of_part(*part));
                wanted(&pair, own.part_holds(*part), base.part_holds(*part))
            });
            found.map(|(_, part)| part.name.clone()).collect()
        };
        let better = |pair: &LayoutPair| !pair.too_close && pair.middle_gap_K > 0.0;
        let worse = |pair: &LayoutPair| !pair.too_close && pair.middle_gap_K < 0.0;
        compared[*index].seen = Some(LayoutInDraws {
            all_hold: all[place].holds(),
            standard_error: all[place].error(),
            least_K: band(&all[place].quantiles()),
            cures: part(&|pair, own, base| better(pair) && own >= 0.5 && base < 0.5),
            harms: part(&|pair, own, _| worse(pair) && own <= SURE),
        });
    }
    // the better of each two first, by the middle of the least margin
    let mut order: Vec<usize> = (0..known.len()).collect();
    let middle: Vec<f64> = all.iter().map(|least| least.quantiles().quantile(0.5)).collect();
    order.sort_by(|a, b| middle[*b].total_cmp(&middle[*a]).then(a.cmp(b)));
    let name = |place: usize| compared[known[place]].layout.clone();
    let mut pairs = Vec::new();
    for (rank, one) in order.iter().enumerate() {
        for other in &order[rank + 1..] {
            let found = pair(&all[*one].least, &all[*other].least);
            pairs.push(LayoutPair { better: name(*one), than: name(*other), ..found });
        }
    }
    let first = &order[0];
    let close = pairs.iter().filter(|pair| pair.better == name(*first) && pair.too_close);
    let level: Vec<String> = close.map(|pair| pair.than.clone()).collect();
    Some(Chances {
        best: level.is_empty().then(|| name(*first)),
        order: order.iter().map(|place| name(*place)).collect(),
        level,
        pairs,
        draws,
    })
}

/// The conditions that count, by name, as they stand in a layout.
fn counted(case: &Case, counts: &[String]) -> Vec<Counted> {
    counts.iter().filter_map(|name| case.condition(name)).map(Counted::Condition).collect()
}

/// Margins of one layout, draw by draw.
struct LayoutMargins {
    /// The least of all (K).
    least: Vec<f64>,
    /// The least of each part.
    parts: Vec<Vec<f64>>,
}

impl LayoutMargins {
    fn new(fleet: &SizingFleet, table: &MarginTable, shape: usize) -> LayoutMargins {
        let places: Vec<(usize, usize)> = (fleet.places().iter().enumerate())
            .filter(|(_, place)| place.shape == shape)
            .map(|(index, place)| (index, place.part))
            .collect();
        let count = places.iter().map(|(_, part)| part + 1).max().unwrap_or(0);
        let mut parts = vec![Vec::new(); count];
        let mut least = Vec::new();
        for row in table.rows() {
            for (part, list) in parts.iter_mut().enumerate() {
                let own = places.iter().filter(|(_, of)| *of == part).map(|(index, _)| row[*index]);
                list.push(own.fold(f64::INFINITY, f64::min));
            }
            least.push(places.iter().map(|(index, _)| row[*index]).fold(f64::INFINITY, f64::min));
        }
        LayoutMargins { least, parts }
    }

    fn of_part(&self, part: usize) -> Vec<f64> {
        self.parts.get(part).cloned().unwrap_or_default()
    }

    fn part_holds(&self, part: usize) -> f64 {
        share(&self.of_part(part))
    }

    fn holds(&self) -> f64 {
        share(&self.least)
    }

    /// Standard error of how often it holds, from the scatter of the scrambles.
    fn error(&self) -> f64 {
        let each = (0..SCRAMBLES).map(|scramble| {
            let own: Vec<f64> = self.least.iter().skip(scramble).step_by(SCRAMBLES).copied().collect();
            share(&own)
        });
        mean_and_error(each.collect::<Vec<_>>().into_iter()).error
    }

    fn quantiles(&self) -> Quantiles {
        let mut quantiles = Quantiles::default();
        self.least.iter().for_each(|least| quantiles.add(*least));
        quantiles
    }
}

/// Share of margins that hold.
fn share(margins: &[f64]) -> f64 {
    margins.iter().filter(|margin| **margin >= 0.0).count() as f64 / margins.len().max(1) as f64
}

/// One against another, draw by draw; nobody is named.
fn pair(one: &[f64], other: &[f64]) -> LayoutPair {
    let mut gaps = Quantiles::default();
    let mut won = 0.0;
    for (one, other) in one.iter().zip(other) {
        gaps.add(one - other);
        won += match one.total_cmp(other) {
            std::cmp::Ordering::Greater => 1.0,
            std::cmp::Ordering::Equal => 0.5,
            std::cmp::Ordering::Less => 0.0,
        };
    }
    let share = won / one.len().max(1) as f64;
    let middle = gaps.quantile(0.5);
    let called = share.max(1.0 - share) >= CALLED && middle.abs() >= WORTH;
    LayoutPair {
        better: BASE.to_string(),
        than: String::new(),
        share,
        middle_gap_K: middle,
        too_close: !called,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_coin_toss_is_not_called() {
        let one: Vec<f64> = (0..1000).map(f64::from).collect();
        let shifted = |by: f64| one.iter().map(|x| x + by).collect::<Vec<_>>();
        // better in every draw, but by less than a kelvin
        assert!(pair(&shifted(0.5), &one).too_close);
        let clear = pair(&shifted(2.0), &one);
        assert!(!clear.too_close && clear.share == 1.0 && (clear.middle_gap_K - 2.0).abs() < 1e-9);
        // far better on the average, in 8 draws of 10
        let mostly: Vec<f64> =
            one.iter().enumerate().map(|(i, x)| if i % 5 == 0 { x - 40.0 } else { x + 40.0 }).collect();
        let found = pair(&mostly, &one);
        assert!(found.too_close && (found.share - 0.8).abs() < 1e-9);
        assert!(pair(&one, &one).too_close && pair(&one, &one).share == 0.5);
    }
}
