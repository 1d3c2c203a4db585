//! What holds the sizes where they are. Nothing is said that was not tried: every opening is made a little
//! smaller, and what is then missed holds it.

use super::evaluator::{Goal, SizingEvaluator};
use super::result::{LimitedBy, SizesHeldBy};
use super::{Holder, MET, Sizing, TOGETHER};
use crate::numerics::constrained::{Evaluation, Minimum};
use crate::point::budget::Budget;

/// How much smaller every opening is made in turn, in the logarithm of its area.
const SMALLER: f64 = 1e-3;
/// A margin further from what is asked for than this holds nothing.
const NEAR: f64 = 2e-4;
/// How much every opening is changed to see that the drag is least.
const CHANGED: f64 = 0.02;
/// Fall of the objective, as a share of it, that counts as less.
const FALLS: f64 = 1e-4;

#[derive(Clone, Debug, Default)]
pub(super) struct HoldsSizes {
    /// Margins that are missed where an opening is smaller.
    pub margins: Vec<LimitedBy>,
    /// None where nothing tried holds them.
    pub by: Option<SizesHeldBy>,
}

/// Margins that are short by as much as any, about.
fn short_by_most(value: &Evaluation) -> Vec<usize> {
    let worst = value.violation();
    (0..value.constraints.len()).filter(|place| -value.constraints[*place] > TOGETHER * worst).collect()
}

impl Sizing<'_> {
    /// The margins that are short by most, where no size will do.
    pub(super) fn in_the_way_at(
        &self,
        evaluator: &mut SizingEvaluator,
        value: &Evaluation,
    ) -> Vec<LimitedBy> {
        let short = short_by_most(value);
        let short: Vec<Holder> = short.into_iter().map(|place| evaluator.holders[place]).collect();
        named(evaluator, &short)
    }

    /// The same with those left out that are short only since nothing more was asked of them.
    pub(super) fn in_the_way_alone(&self, at: &Minimum, mut budget: Budget) -> Vec<LimitedBy> {
        let mut own = Sizing { short: vec![0.0; at.value.constraints.len()], ..self.clone() };
        let alone = own.short_alone(at, &short_by_most(&at.value), &mut budget);
        let Some(mut evaluator) = SizingEvaluator::new(self, Budget::of(u64::MAX), true) else {
            return Vec::new();
        };
        if evaluator.evaluate(&at.point, Goal::Own).is_none() {
            return Vec::new();
        }
        let short: Vec<Holder> = alone.iter().map(|(place, _)| evaluator.holders[*place]).collect();
        named(&mut evaluator, &short)
    }

    /// What holds the sizes where they are.
    pub(super) fn held(&self, best: &Minimum, budget: Budget) -> HoldsSizes {
        let Some(mut evaluator) = SizingEvaluator::new(self, budget, true) else {
            return HoldsSizes::default();
        };
        let (lower, upper) = self.bounds();
        let Some(value) = evaluator.evaluate(&best.point, Goal::Own) else { return HoldsSizes::default() };
        let fall = FALLS * value.objective.abs().max(1e-3);
        let mut hold: Vec<usize> = Vec::new();
        let (mut free, mut refused) = (0, 0);
        for index in 0..best.point.len() {
            if best.point[index] <= lower[index] + SMALLER {
                continue;
            }
            free += 1;
            let mut point = best.point.clone();
            point[index] -= SMALLER;
            let Some(there) = evaluator.evaluate(&point, Goal::Own) else {
                refused += 1;
                continue;
            };
            let missed = (0..evaluator.holders.len()).filter(|i| {
                value.constraints[*i] < NEAR && there.constraints[*i] < -MET.max(-value.constraints[*i])
            });
            for i in missed.collect::<Vec<_>>() {
                if !hold.contains(&i) {
                    hold.push(i);
                }
            }
        }
        hold.sort_unstable();
        let mut no_less_drag = || {
            (0..best.point.len()).all(|i| {
                [-CHANGED, CHANGED].into_iter().all(|change| {
                    let mut point = best.point.clone();
                    point[i] = (point[i] + change).clamp(lower[i], upper[i]);
                    let there = evaluator.evaluate(&point, Goal::Own);
                    there.is_none_or(|t| t.violation() > MET || t.objective > value.objective - fall)
                })
            })
        };
        let by = if !hold.is_empty() {
            Some(SizesHeldBy::Margins)
        } else if free == 0 {
            Some(SizesHeldBy::Bounds)
        } else if self.drag_at.is_some() && no_less_drag() {
            Some(SizesHeldBy::Drag)
        } else if refused == free {
            Some(SizesHeldBy::Walls)
        } else {
            None
        };
        let holders: Vec<Holder> = hold.into_iter().map(|i| evaluator.holders[i]).collect();
        evaluator.evaluate(&best.point, Goal::Own);
        HoldsSizes { margins: named(&mut evaluator, &holders), by }
    }
}

/// Parts and conditions, each once.
fn named(evaluator: &mut SizingEvaluator, holders: &[Holder]) -> Vec<LimitedBy> {
    let mut limits: Vec<LimitedBy> = Vec::new();
    for holder in holders {
        let Some(limit) = evaluator.limited(*holder) else { continue };
        if !limits.contains(&limit) {
            limits.push(limit);
        }
    }
    limits
}
