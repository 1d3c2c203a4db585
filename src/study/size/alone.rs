//! Margins that are short together, told apart: those that fall short whatever becomes of the others, and those that are
//! short only since nothing was asked of them any more.
//!
//! Where one margin cannot be reached, the largest shortfall is what it is; whoever makes that least, and then the areas, lets
//! every other margin go as far, for nothing.

use super::ends::sort;
use super::evaluator::{Goal, SizingEvaluator};
use super::{MARGINS, Sizing, TOGETHER};
use crate::numerics::constrained::{Minimum, minimise};
use crate::point::budget::Budget;
use rayon::prelude::*;

/// Share of what is left of a budget that one look may take.
const LOOK: f64 = 0.15;
/// How many are tried by themselves, at most.
const TESTED: usize = 6;
/// What nothing is short of.
const LET_OFF: f64 = 1e3;
/// How much more a margin counts that was let off: it is held where it is while others come nearer.
const HELD: f64 = 50.0;

impl Sizing<'_> {
    /// What is left of each margin with what it is let off.
    pub(super) fn let_off(&self, constraints: &mut [f64]) {
        let short = constraints.iter_mut().zip(&self.short).filter(|(_, short)| **short > 0.0);
        short.for_each(|(left, short)| *left = HELD * (*left + short));
    }

    /// The same of an evaluation, each counted alike.
    pub(super) fn left_alike(&self, at: &Minimum) -> Vec<f64> {
        let each = at.value.constraints.iter().zip(&self.short);
        each.map(|(left, short)| if *short > 0.0 { left / HELD } else { *left }).collect()
    }

    /// Of margins that are short together at some sizes, those that are short by as much whatever the others are, with what is
    /// left of each; all of them as they are where each could come nearer by itself: they are in one another's way.
    pub(super) fn short_alone(
        &mut self,
        at: &Minimum,
        together: &[usize],
        budget: &mut Budget,
    ) -> Vec<(usize, f64)> {
        let left = self.left_alike(at);
        let as_they_are = || together.iter().map(|place| (*place, left[*place])).collect();
        if together.len() < 2 {
            return as_they_are();
        }
        let as_far = TOGETHER * left.iter().copied().fold(0.0, f64::min);
        let mut alone: Vec<(usize, f64)> = Vec::new();
        for place in together.iter().copied().take(TESTED) {
            let let_off = |other| if other != place && together.contains(&other) { LET_OFF } else { 0.0 };
            let end = self.nearest(&at.point, budget, let_off);
            let reached = end.map(|end| self.left_alike(&end)[place]);
            alone.extend(reached.filter(|reached| *reached < as_far).map(|reached| (place, reached)));
        }
        if alone.is_empty() { as_they_are() } else { alone }
    }

    /// The sizes nearest to every margin that is still asked for, each let off so much more; from some sizes, from those
    /// drawn and from the largest.
    pub(super) fn nearest(
        &mut self,
        from: &[f64],
        budget: &mut Budget,
        let_off: impl Fn(usize) -> f64,
    ) -> Option<Minimum> {
        let short = self.short.clone();
        self.short.iter_mut().enumerate().for_each(|(place, short)| *short += let_off(place));
        let (lower, upper) = self.bounds();
        let starts = [from.to_vec(), self.drawn(), upper.clone()];
        let each = budget.share(LOOK).each_of(starts.len());
        let sizing = &*self;
        let ends: Vec<(Option<Minimum>, u64)> = starts
            .par_iter()
            .map(|start| {
                let Some(mut evaluator) = SizingEvaluator::new(sizing, each, false) else { return (None, 0) };
                let end = minimise(|x| evaluator.evaluate(x, Goal::Margins), start, &lower, &upper, MARGINS);
                (end, evaluator.work())
            })
            .collect();
        self.short = short;
        budget.spend(ends.iter().map(|(_, work)| work).sum());
        let mut ends: Vec<Minimum> = ends.into_iter().filter_map(|(end, _)| end).collect();
        sort(&mut ends);
        ends.into_iter().next()
    }
}
