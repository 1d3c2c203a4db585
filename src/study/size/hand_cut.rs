//! What 1 mm all round each opening does: no hand cuts closer.

use super::Sizing;
use super::result::{HandCut, LimitedBy};
use crate::case::Case;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::solver::PointSolver;
use std::f64::consts::PI;

/// How much further out the edge is cut (m).
const ALL_ROUND: f64 = 1e-3;

impl Sizing<'_> {
    /// Each opening 1 mm larger, and 1 mm smaller, all round; the others as at the point.
    pub(super) fn hand_cut(&self, point: &[f64]) -> Vec<HandCut> {
        let case = self.at_point(point);
        let Some(exact) = self.margins_of(&case) else { return Vec::new() };
        let openings = self.variables.iter().zip(point);
        let openings = openings.flat_map(|(variable, x)| variable.members.iter().map(|m| (m, x.exp())));
        openings
            .map(|(opening, area)| {
                let more = grown(opening, &case, area, ALL_ROUND) - area;
                let less = area - grown(opening, &case, area, -ALL_ROUND);
                let with = |area: f64| {
                    let mut case = case.clone();
                    opening.set(&mut case, area);
                    self.margins_of(&case)
                };
                let (larger, smaller) = (with(area + more), with(area - less));
                let least = |margins: &[f64]| margins.iter().copied().fold(f64::INFINITY, f64::min);
                let moved = |margins: &Option<Vec<f64>>| {
                    margins.as_ref().map(|margins| least(margins) - least(&exact))
                };
                let parts = self.case.parts.len();
                let worst = [&larger, &smaller].into_iter().flatten().flat_map(|margins| {
                    margins.iter().zip(&exact).enumerate().map(|(place, (now, was))| (place, now - was))
                });
                let worst = worst.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, moved)| *moved < 0.0);
                HandCut {
                    opening: opening.name.clone(),
                    area_m2: more,
                    larger_K: moved(&larger),
                    smaller_K: moved(&smaller),
                    hits: worst.map(|(place, moved)| {
                        let at = LimitedBy::of(
                            &self.at[place / parts],
                            self.case,
                            &self.case.parts[place % parts].name,
                        );
                        (at.part.clone(), at.when(), moved)
                    }),
                }
            })
            .collect()
    }

    /// Kelvins that each part keeps at each moment that counts, as `check` finds them.
    fn margins_of(&self, case: &Case) -> Option<Vec<f64>> {
        let model = Model::new(case).ok()?;
        let mut solver = PointSolver::new(&model);
        let mut margins = Vec::new();
        for counted in &self.at {
            solver.prepare(&model, &counted.operation(case, &model));
            solver.forget();
            solver.solve().ok()?;
            let parts = solver.network.parts.iter().enumerate();
            margins.extend(parts.map(|(part, law)| law.limit - solver.state.part_temperature(part)));
        }
        Some(margins)
    }
}

/// Area of an opening cut so much further out all round: width and height, else a diameter, else that of a round one.
fn grown(opening: &Opening, case: &Case, area: f64, out: f64) -> f64 {
    let numbers = opening.numbers(case, area);
    let length = |wanted: &str| numbers.iter().find(|(key, _, _)| key == wanted).map(|(_, value, _)| *value);
    let wider = |length: f64| (length + 2.0 * out).max(0.1 * length);
    match (length("width"), length("height")) {
        (Some(width), Some(height)) => area * wider(width) * wider(height) / (width * height),
        _ => {
            let across = length("diameter").unwrap_or((4.0 * area / PI).sqrt());
            area * (wider(across) / across).powi(2)
        }
    }
}
