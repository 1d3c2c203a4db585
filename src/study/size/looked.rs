//! What is left at one set of sizes, as `check` judges it.

use super::Sized;
use crate::case::Case;
use crate::point::counted::{self, Counted};
use crate::point::model::Model;
use crate::point::solver::PointSolver;

impl Sized {
    /// The moments that count.
    pub(in crate::study) fn counting(&self) -> &[Counted] {
        &self.counting
    }

    /// Every condition of a case.
    pub(in crate::study) fn all_conditions(case: &Case) -> Vec<Counted> {
        (0..case.conditions.len()).map(Counted::Condition).collect()
    }
}

/// The least margin (K) at some moments, with its part and when that is; the hotter of two states counts. None without a
/// limit, or where there is no steady state.
pub(in crate::study) fn least_at(
    case: &Case,
    model: &Model,
    at: &[Counted],
) -> Option<(f64, String, String)> {
    let mut solver = PointSolver::new(model);
    let mut least: Option<(f64, String, String)> = None;
    for counted in at {
        solver.prepare(model, &counted.operation(case, model));
        solver.forget();
        solver.solve_hotter().ok()?;
        for (part, law) in solver.network.parts.iter().enumerate() {
            let margin = law.limit - solver.state.part_temperature(part);
            if law.has_limit() && least.as_ref().is_none_or(|least| margin < least.0) {
                let name = &case.parts[part].name;
                least = Some((margin, name.clone(), counted::when(counted.name(case), counted.driven())));
            }
        }
    }
    least
}
