//! What each reading that could be taken next would see: its slopes with the unknowns.

use super::newton::Likeliest;
use super::unknowns::Unknowns;
use super::without::{dot, square};
use crate::case::Case;
use crate::draws::{Car, Guesses};
use crate::keys::figures;
use crate::numerics::normal;
use crate::point::Model;
use crate::readings::errors::{ReadingErrors, SharedError};
use crate::readings::offered;
use crate::readings::taken::ModelError;

/// How far a score is moved aside for a slope.
const ASIDE: f64 = 0.1;
/// What a reading must leave less than to be worth naming.
const WORTH: f64 = 0.9;

/// A reading that could be taken.
#[derive(Clone, Debug)]
pub struct Offered {
    /// In words.
    pub name: String,
    /// Slopes of what it shows with the unknowns.
    slopes: Vec<f64>,
    /// Spread of its own error and the model's.
    spread: f64,
}

/// All that are offered for a case, at the likeliest place.
pub fn all(
    case: &Case,
    own: &Guesses,
    unknowns: &Unknowns,
    likeliest: &Likeliest,
    error: &ModelError,
) -> Vec<Offered> {
    let Ok(model) = Model::new(case) else { return Vec::new() };
    let moments = offered::moments(case, &model);
    let list = offered::all(case, &model, 0, &moments);
    let Some(mut car) = Car::at(case, own, moments.clone()) else { return Vec::new() };
    let mut look = |scores: &[f64]| -> Option<Vec<f64>> {
        let point: Vec<f64> = scores[..own.dimensions].iter().copied().map(normal::inside).collect();
        car.take(&point).ok()?;
        let mut shown = vec![f64::NAN; list.len()];
        for moment in 0..moments.len() {
            if !car.solve(moment) {
                return None;
            }
            for (reading, shown) in
                list.iter().zip(&mut shown).filter(|(reading, _)| reading.moment == moment)
            {
                *shown = reading.value(&car);
            }
        }
        Some(shown)
    };
    let Some(here) = look(&likeliest.scores) else { return Vec::new() };
    let mut slopes = vec![vec![0.0; unknowns.count()]; list.len()];
    let mut moved = likeliest.scores.clone();
    for coordinate in 0..own.dimensions {
        moved[coordinate] = likeliest.scores[coordinate] + ASIDE;
        if let Some(there) = look(&moved) {
            for (row, (there, here)) in slopes.iter_mut().zip(there.iter().zip(&here)) {
                row[coordinate] = (there - here) / ASIDE;
            }
        }
        moved[coordinate] = likeliest.scores[coordinate];
    }
    let each = list.iter().zip(slopes).zip(&here).map(|((reading, slopes), shown)| {
        let what = reading.what;
        // what it shares with others that were read is left out of account, but for the part's own
        let mut errors = ReadingErrors::of(what, what.tool(case), None, *shown, error);
        errors.shared.retain(|(off, _)| !matches!(off, SharedError::Part(_)));
        let moment = &moments[reading.moment];
        let when = match moment.driven() {
            Some((speed, _)) => figures::speed(speed),
            None => moment.name(case).to_string(),
        };
        Offered { name: format!("{}, {when}", reading.name(case)), slopes, spread: errors.spread() }
    });
    each.collect()
}

/// The reading that narrows a direction of the unknowns most, and what it leaves of its width; none that leaves nearly all.
pub fn best<'o>(offered: &'o [Offered], direction: &[f64], covariance: &[f64]) -> Option<(&'o str, f64)> {
    let count = direction.len();
    let now = square(direction, covariance);
    let turned: Vec<f64> = (0..count).map(|i| dot(&covariance[i * count..][..count], direction)).collect();
    let leaves = |each: &Offered| {
        let seen = square(&each.slopes, covariance) + each.spread * each.spread;
        (1.0 - dot(&each.slopes, &turned).powi(2) / (seen * now)).max(0.0).sqrt()
    };
    let all = offered.iter().map(|each| (each.name.as_str(), leaves(each)));
    all.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, leaves)| *leaves < WORTH)
}
