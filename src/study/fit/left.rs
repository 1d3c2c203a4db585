//! What the fitted case carries: values, and what is left of the guesses together.

use super::chain::ChainDraws;
use super::newton::Likeliest;
use crate::case::Case;
use crate::case::fitted::FittedGuess;
use crate::draws::{Guess, Guesses};
use crate::keys::Origin;
use crate::numerics::{cholesky, normal};
use crate::readings::taken::{Readings, TakenReading, Test};

/// A number of the case that the fit sets.
#[derive(Clone, Debug, PartialEq)]
pub struct NumberSet {
    /// Its address.
    pub address: String,
    /// Value and ends of the band before.
    pub was: [f64; 3],
    /// The value now.
    pub now: f64,
    /// Whether it is written in the file.
    pub stated: bool,
}

/// What the fitted case carries.
#[derive(Clone, Debug)]
pub struct FittedLeft {
    /// The guesses that were seen, and the model's own error at each part.
    pub guesses: Vec<FittedGuess>,
    /// Their numbers.
    pub numbers: Vec<NumberSet>,
    /// The model's own error at a part, 9 times in 10 within (K).
    pub model_error: f64,
    /// Each reading in words, so that none is taken twice.
    pub took: Vec<String>,
}

/// Means and covariance of what was seen.
fn moments(drawn: &ChainDraws, places: &[usize]) -> (Vec<f64>, Vec<f64>) {
    let count = drawn.draws.len() as f64;
    let size = places.len();
    let mean: Vec<f64> =
        places.iter().map(|place| drawn.draws.iter().map(|z| z[*place]).sum::<f64>() / count).collect();
    let mut covariance = vec![0.0; size * size];
    for z in &drawn.draws {
        for (i, one) in places.iter().enumerate() {
            for (j, other) in places[..=i].iter().enumerate() {
                covariance[i * size + j] += (z[*one] - mean[i]) * (z[*other] - mean[j]);
            }
        }
    }
    for i in 0..size {
        for j in 0..=i {
            let value = covariance[i * size + j] / (count - 1.0);
            (covariance[i * size + j], covariance[j * size + i]) = (value, value);
        }
    }
    (mean, covariance)
}

/// What the fitted case is to carry: guesses seen, and the model's own error of every part as far as all moments share it.
pub(super) fn left(
    case: &Case,
    readings: &Readings,
    own: &Guesses,
    likeliest: &Likeliest,
    drawn: &ChainDraws,
) -> FittedLeft {
    let guesses: Vec<&Guess> =
        own.list.iter().filter(|guess| own.is_fitted(guess) || likeliest.sees(guess.dimension)).collect();
    let errors: Vec<(usize, usize)> = own.errors().collect();
    let mut places: Vec<usize> = guesses.iter().map(|guess| guess.dimension).collect();
    places.extend(errors.iter().map(|(_, dimension)| *dimension));
    let (mut mean, mut covariance) = moments(drawn, &places);
    let size = places.len();
    // back from the coordinates of an earlier fit to scores of the bands
    if let Some(joint) = own.joint() {
        let row_of = |place: usize| joint.dimensions.iter().position(|d| *d == place);
        let known = joint.dimensions.len();
        let mut turn = vec![0.0; size * size];
        let mut shift = vec![0.0; size];
        for (i, place) in places.iter().enumerate() {
            match row_of(*place) {
                None => turn[i * size + i] = 1.0,
                Some(row) => {
                    shift[i] = joint.mean[row];
                    for (j, other) in places.iter().enumerate() {
                        if let Some(column) = row_of(*other) {
                            turn[i * size + j] = joint.factor[row * known + column];
                        }
                    }
                }
            }
        }
        let product = |a: &[f64], b: &[f64]| -> Vec<f64> {
            let cell = |i: usize, j: usize| (0..size).map(|k| a[i * size + k] * b[k * size + j]).sum::<f64>();
            (0..size * size).map(|index| cell(index / size, index % size)).collect()
        };
        let turned: Vec<f64> =
            (0..size * size).map(|index| turn[(index % size) * size + index / size]).collect();
        mean = (0..size)
            .map(|i| shift[i] + (0..size).map(|k| turn[i * size + k] * mean[k]).sum::<f64>())
            .collect();
        covariance = product(&product(&turn, &covariance), &turned);
    }
    let first_error = guesses.len();
    let factor = cholesky::factor(&covariance, size).unwrap_or_else(|| {
        // rounding alone: the diagonal
        (0..size * size)
            .map(|index| if index % (size + 1) == 0 { covariance[index].max(1e-12).sqrt() } else { 0.0 })
            .collect()
    });
    let row = |i: usize| factor[i * size..=i * size + i].to_vec();
    let mut fitted: Vec<FittedGuess> = Vec::new();
    let mut point = vec![0.5; own.dimensions];
    for (i, guess) in guesses.iter().enumerate() {
        point[guess.dimension] = normal::below(mean[i]);
        let addresses = guess
            .numbers
            .iter()
            .map(|(id, turned)| (case.numbers.fact(*id).address.clone(), *turned))
            .collect();
        fitted.push(FittedGuess { addresses, error_of: None, mean: mean[i], factor: row(i) });
    }
    for (i, (part, _)) in errors.iter().enumerate() {
        let i = first_error + i;
        fitted.push(FittedGuess {
            addresses: Vec::new(),
            error_of: Some(case.parts[*part].name.clone()),
            mean: mean[i],
            factor: row(i),
        });
    }
    let mut numbers = case.numbers.clone();
    // guesses that nobody saw stay at their values taken
    for guess in own.list.iter().filter(|guess| guesses.iter().all(|seen| seen.dimension != guess.dimension))
    {
        point[guess.dimension] = own.taken(guess).clamp(1e-9, 1.0 - 1e-9);
    }
    let _ = own.set_apart(&point, &mut numbers);
    let set = guesses.iter().flat_map(|guess| &guess.numbers).map(|(id, _)| {
        let fact = case.numbers.fact(*id);
        let (low, high) = fact.band().unwrap_or((fact.value, fact.value));
        NumberSet {
            address: fact.address.clone(),
            was: fact.before.unwrap_or([fact.value, low, high]),
            now: numbers.value(*id),
            stated: matches!(fact.origin, Origin::Written(_)),
        }
    });
    FittedLeft {
        numbers: set.collect(),
        guesses: fitted,
        model_error: readings.model_error.parts,
        took: took(readings),
    }
}

/// Each reading in words by which it is known again.
pub fn took(readings: &Readings) -> Vec<String> {
    let of = |test: &Test, taken: &TakenReading| {
        let scene = &readings.scenes[test.scene].case;
        let date = test.date.as_ref().or(readings.date.as_ref()).filter(|date| !date.is_empty());
        let date = date.map_or(String::new(), |date| format!("{date}, "));
        format!("{date}{}: {} {}", test.name, taken.name(scene), taken.text)
    };
    readings.tests.iter().flat_map(|test| test.readings.iter().map(move |taken| of(test, taken))).collect()
}
