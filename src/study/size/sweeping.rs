//! Every point of the sweep: those that the sizes found miss are added to what counts.

use super::search::SearchResult;
use super::{MET, SPARE, Sizing};
use crate::case::Case;
use crate::point::counted::Counted;
use crate::point::model::Model;
use crate::point::solver::PointSolver;
use crate::point::speeds::{self, Geared};

/// Points of the sweep that are looked at: those of `sweep`, and one between every two.
const POINTS: usize = 399;

impl Sizing<'_> {
    /// The points of the sweep at which a part misses its margin most; none where none is missed. Where no size
    /// will do anyway nothing is added.
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
            let held = set.value.violation().max(MET);
            for part in 0..self.targets.len() {
                let left = |at: &(Geared, Vec<f64>)| at.1[part];
                let worst = lefts.iter().reduce(|a, b| if left(b) < left(a) { b } else { a });
                let Some(worst) = worst.filter(|worst| left(worst) < -held) else { continue };
                let counted = Counted::Sweep(worst.0);
                if !self.at.contains(&counted) && !missed.contains(&counted) {
                    missed.push(counted);
                }
            }
        }
        missed
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
