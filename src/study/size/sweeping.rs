//! Every point of the sweep: those that the sizes found miss are added to what counts.

use super::evaluator::{Goal, SizingEvaluator};
use super::search::SearchResult;
use super::{Holder, MET, SPARE, Sizing};
use crate::case::Case;
use crate::numerics::constrained::Minimum;
use crate::point::budget::Budget;
use crate::point::counted::Counted;
use crate::point::model::Model;
use crate::point::solver::PointSolver;
use crate::point::speeds::{self, Geared};

/// Points of the sweep that are looked at: those of `sweep`, and one between every two.
const POINTS: usize = 399;
/// What one look at all that counts may take, in seconds of one core of a common machine.
const ONE_LOOK: f64 = 0.5;
/// Share of its budget that a search for what can be reached takes before more points are added once more.
const FIRST: f64 = 0.8;

impl Sizing<'_> {
    /// The points of the sweep at which a part misses its margin most, and by more than in all that counts already; none where
    /// none is.
    pub(super) fn missed_in_sweep(&self, found: &SearchResult) -> Vec<Counted> {
        let mut missed: Vec<Counted> = Vec::new();
        let sets = std::iter::once(&found.best).chain(&found.as_good);
        for set in sets {
            let case = self.at_point(&set.point);
            let Ok(model) = Model::new(&case) else { continue };
            let Ok(mut points) = speeds::points(self.case, &model, POINTS) else { continue };
            points.extend(speeds::changes_of_gear(self.case, &model));
            points.sort_by(|a, b| a.speed.total_cmp(&b.speed));
            let lefts = self.left_along(&model, &points);
            let Some(held) = self.short_by_part(&set.point) else { continue };
            for (part, short) in held.iter().enumerate() {
                let left = |at: &(Geared, Vec<f64>)| at.1[part];
                let worst = lefts.iter().reduce(|a, b| if left(b) < left(a) { b } else { a });
                let Some(worst) = worst.filter(|worst| left(worst) < -short.max(MET)) else { continue };
                let counted = Counted::Sweep(worst.0);
                if !self.at.contains(&counted) && !missed.contains(&counted) {
                    missed.push(counted);
                }
            }
        }
        missed
    }

    /// Where no sizes reach every margin and every point of the sweep counts, what can be reached: points that the sizes
    /// found miss are added until none is missed.
    pub(super) fn spare_along_sweep(&mut self, found: SearchResult, budget: Budget) -> SearchResult {
        let mut told = found.clone();
        let first = budget.share(FIRST);
        for each in [first, Budget::of(budget.left() - first.left())] {
            // measured in all that counts now
            let Some(best) = self.measured(&found.best.point) else { break };
            told = self.spare(SearchResult { best, ..found.clone() }, each);
            let missed = self.missed_in_sweep(&told);
            if missed.is_empty() {
                break;
            }
            self.at.extend(missed);
        }
        told
    }

    fn measured(&self, point: &[f64]) -> Option<Minimum> {
        let mut evaluator = SizingEvaluator::new(self, Budget::seconds(ONE_LOOK), true)?;
        let value = evaluator.evaluate(point, Goal::Own)?;
        Some(Minimum { point: point.to_vec(), value, steps: 0 })
    }

    /// By how much each part misses its margin at worst in what counts, at some sizes; nothing where it misses none. What one
    /// part is short of lets no other go.
    fn short_by_part(&self, point: &[f64]) -> Option<Vec<f64>> {
        let mut evaluator = SizingEvaluator::new(self, Budget::seconds(ONE_LOOK), true)?;
        let value = evaluator.evaluate(point, Goal::Margins)?;
        let mut short = vec![0.0; self.targets.len()];
        for (holder, left) in evaluator.holders.iter().zip(&value.constraints) {
            if let Holder::Part { part, .. } = holder {
                short[*part] = f64::max(short[*part], -left);
            }
        }
        Some(short)
    }

    /// Whether a case with sizes as they are written keeps all that `[size]` asks for at every point of the sweep, where that
    /// counts; rounding is not forgiven.
    pub fn met_along_sweep(&self, case: &Case, model: &Model) -> bool {
        let Ok(mut points) = speeds::points(case, model, POINTS) else { return !self.sweeps };
        points.extend(speeds::changes_of_gear(case, model));
        !self.sweeps
            || self
                .left_along(model, &points)
                .iter()
                .all(|(_, left)| left.iter().all(|left| left + SPARE >= 0.0))
    }

    /// What every part has left of its margin along the sweep; points without a steady state left out.
    fn left_along(&self, model: &Model, points: &[Geared]) -> Vec<(Geared, Vec<f64>)> {
        let mut solver = PointSolver::new(model);
        let solved = points.iter().filter_map(|point| {
            solver.prepare(model, &speeds::operation(self.case, point));
            solver.solve().ok()?;
            let targets = self.targets.iter().enumerate();
            let left = targets.map(|(part, target)| target.left(&mut solver, model, part) - SPARE).collect();
            Some((*point, left))
        });
        solved.collect()
    }
}
