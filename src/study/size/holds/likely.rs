//! The sizes with which all parts stay cool most often, where no sizes do as often as is asked.

use super::fleet::{From, SizingFleet};
use super::settle::{OpeningBounds, Price};
use super::watch::DrawsWatch;
use crate::numerics::constrained::{Effort, Evaluation, minimise};

/// Kelvins over which a draw goes from missing to keeping, so that slopes lead on.
const SOFT: f64 = 5.0;
/// Effort of a search.
const EFFORT: Effort = Effort { steps: 8, close: 1e-4 };
/// What one in all counts against the openings: of equal chances the smaller.
const WEIGHT: f64 = 10.0;
/// What the objective counts beside it.
const LITTLE: f64 = 1e-3;

/// The most likely sizes from a start, on so many draws.
pub fn most_likely(
    fleet: &mut SizingFleet,
    price: &mut Price,
    watch: DrawsWatch,
    start: &[f64],
    bounds: &OpeningBounds,
    draws: usize,
) -> Option<Vec<f64>> {
    let evaluate = |point: &[f64]| {
        if fleet.is_spent() {
            return None;
        }
        let (objective, constraints) = price.at(point)?;
        let table = fleet.all(point, draws, From::Last)?;
        let soft = table.rows().map(|row| 1.0 / (1.0 + (-watch.of(row) / SOFT).exp()));
        let often = soft.sum::<f64>() / table.count() as f64;
        Some(Evaluation { objective: LITTLE * objective - WEIGHT * often, constraints })
    };
    let found = minimise(evaluate, &bounds.clamp(start), &bounds.lower, &bounds.upper, EFFORT)?;
    Some(found.point)
}
