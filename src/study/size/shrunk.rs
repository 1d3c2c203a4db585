//! Of all openings with the same drag the least areas.

use super::MET;
use super::ends::{apart, feasible};
use super::evaluator::{Goal, SizingEvaluator};
use crate::numerics::constrained::{Effort, Minimum, minimise};

/// Equal drags differ by less than this share.
const EQUAL: f64 = 1e-6;
/// Rounds of making every opening smaller at the same drag.
const SHRINKS: usize = 3;
/// Closeness of each, in the logarithm of its area.
const SHRUNK: f64 = 1e-4;
/// Steps of the last search.
const STEPS: usize = 60;
/// Halvings of each, at most.
const HALVINGS: usize = 18;

/// The same drag with every opening as small as it goes, one after the other: where the drag does not depend on
/// an opening, slopes do not lead to its least.
pub(super) fn shrunk(evaluator: &mut SizingEvaluator, end: Minimum, lower: &[f64], upper: &[f64]) -> Minimum {
    let drag = end.value.objective;
    let most = drag + EQUAL * drag.abs().max(1e-3);
    let mut best = end;
    for _ in 0..SHRINKS {
        let before = best.point.clone();
        for index in 0..best.point.len() {
            let (mut good, mut bad) = (best.point[index], lower[index]);
            let mut tries = 0;
            while good - bad > SHRUNK && tries < HALVINGS {
                let at = if tries == 0 { bad } else { 0.5 * (good + bad) };
                tries += 1;
                let mut point = best.point.clone();
                point[index] = at;
                match evaluator.evaluate(&point, Goal::Own) {
                    Some(value) if value.violation() <= MET && value.objective <= most => {
                        good = at;
                        best = Minimum { point, value, steps: best.steps };
                    }
                    _ => bad = at,
                }
            }
        }
        if apart(&before, &best.point) < 10.0 * SHRUNK {
            break;
        }
    }
    let least = minimise(
        |x| evaluator.evaluate(x, Goal::AreaUnder(most)),
        &best.point,
        lower,
        upper,
        Effort::fine(STEPS),
    );
    let least = least.filter(feasible);
    let value = least.as_ref().and_then(|least| evaluator.evaluate(&least.point, Goal::Own));
    match (least, value) {
        (Some(least), Some(value)) => Minimum { value, ..least },
        _ => best,
    }
}
