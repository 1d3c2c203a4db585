//! What the fit does to the margins: their slopes with the unknowns, and where the least lies by the chains.

use super::chain::ChainDraws;
use super::newton::Likeliest;
use super::unknowns::Unknowns;
use crate::case::Case;
use crate::draws::doubt::band;
use crate::draws::guesses::shared_error;
use crate::draws::{Car, Guesses};
use crate::numerics::quantiles::Quantiles;
use crate::numerics::{normal, sobol};
use crate::point::result::Band;
use crate::readings::taken::ModelError;
use crate::study::doubt::LeastOver;

/// How far a score is moved aside for a slope.
const ASIDE: f64 = 0.1;
/// Draws of the chains that are looked at.
const LOOKS: usize = 400;

/// Margins at the likeliest place, and by the chains.
#[derive(Clone, Debug, Default)]
pub struct Margins {
    /// Slopes of the margin that is least at the likeliest place with the unknowns (K for one spread).
    pub slopes: Vec<f64>,
    /// Where the least lies, by draws of the chains, what of the model's own error each moment has by itself included.
    pub by_chains: Option<Band>,
}

/// Looks at the margins of a case.
pub fn look(
    case: &Case,
    own: &Guesses,
    measure: &LeastOver,
    model_error: &ModelError,
    (unknowns, likeliest, drawn): (&Unknowns, &Likeliest, &ChainDraws),
) -> Margins {
    let Some(mut car) = Car::new(case, own) else { return Margins::default() };
    let coordinates = own.dimensions;
    let take = |car: &mut Car, scores: &[f64]| {
        let point: Vec<f64> = scores[..coordinates].iter().copied().map(normal::inside).collect();
        car.take(&point).ok()
    };
    let spread = shared_error(model_error.parts);
    let margin = |car: &mut Car, scores: &[f64], anew: &[f64]| -> Option<(f64, usize)> {
        take(car, scores)?;
        let (mut least, mut closest, mut at) = (f64::INFINITY, f64::INFINITY, 0);
        for condition in 0..car.conditions() {
            if !car.solve(condition) {
                return None;
            }
            for part in 0..car.parts() {
                let margin = car.margin(part) - anew.get(part).copied().unwrap_or(0.0);
                if margin < closest && measure.places.contains(&(condition, part)) {
                    (closest, at) = (margin, condition * car.parts() + part);
                }
                least = least.min(margin);
            }
        }
        least.is_finite().then_some((least, at))
    };
    let Some((_, at)) = margin(&mut car, &likeliest.scores, &[]) else { return Margins::default() };
    let one = |car: &mut Car, scores: &[f64]| -> Option<f64> {
        take(car, scores)?;
        car.solve(at / car.parts()).then(|| car.margin(at % car.parts()))
    };
    let mut slopes = vec![0.0; unknowns.count()];
    let mut moved = likeliest.scores.clone();
    for coordinate in 0..coordinates {
        let mut side = |sign: f64| {
            moved[coordinate] = likeliest.scores[coordinate] + sign * ASIDE;
            let margin = one(&mut car, &moved);
            moved[coordinate] = likeliest.scores[coordinate];
            margin
        };
        if let (Some(above), Some(below)) = (side(1.0), side(-1.0)) {
            slopes[coordinate] = (above - below) / (2.0 * ASIDE);
        }
    }
    let mut found = Quantiles::default();
    let stride = (drawn.draws.len() / LOOKS).max(1);
    for (draw, scores) in drawn.draws.iter().step_by(stride).enumerate() {
        // what is met anew each time is as wide as what all moments share
        let anew: Vec<f64> = (0..car.parts())
            .map(|part| spread * normal::quantile(sobol::share((draw as u64) << 20 | part as u64)))
            .collect();
        if let Some((least, _)) = margin(&mut car, scores, &anew) {
            found.add(least);
        }
    }
    Margins { slopes, by_chains: (found.count() > 0).then(|| band(&found)) }
}
