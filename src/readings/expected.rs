//! Where readings are to be expected before they are taken: what the guesses allow, with what instruments and the model are
//! off by. The test card prints these bands, and a fit holds what was read against the same.

use super::drives::test_of;
use super::errors::{ReadingErrors, SharedError, ToolErrors};
use super::operator::Reading;
use super::taken::ModelError;
use crate::case::Case;
use crate::draws::car::NoCar;
use crate::draws::doubt::band;
use crate::draws::scramble::{SEED, Scramble};
use crate::draws::{Car, Guesses};
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::mix;
use crate::point::budget::{Budget, seconds};
use crate::point::counted::Counted;
use crate::point::result::Band;
use rayon::prelude::*;

/// Independent scrambles, and cars of each.
const SCRAMBLES: usize = 8;
const EACH: usize = 128;
/// Cars behind what each reading should show, where the case is not so large that their part of the budget ends before.
pub const CARS: usize = SCRAMBLES * EACH;

/// What is to be read, and with what.
#[derive(Clone, Copy, Debug)]
pub struct ReadingWanted {
    /// In which of the cases.
    pub scene: usize,
    /// What, at which of its moments.
    pub reading: Reading,
    /// In which test, by its place in the file.
    pub test: usize,
    /// How well it is read.
    pub tool: ToolErrors,
    /// The instrument, as others know it that are read with it too.
    pub instrument: Option<usize>,
}

/// What a reading is to be expected to show (K or Pa).
#[derive(Clone, Copy, Debug)]
pub struct ExpectedReading {
    /// Mean, with errors of instrument and model.
    pub mean: f64,
    /// Spread.
    pub spread: f64,
    /// Where it lies 9 times in 10.
    pub band: Band,
}

/// What all of some readings are to be expected to show.
#[derive(Clone, Debug)]
pub struct ExpectedReadings {
    /// One each, in the order in which they were asked for.
    pub readings: Vec<ExpectedReading>,
    /// Cars behind them.
    pub cars: usize,
}

/// A case, and the moments at which it is looked at.
pub(crate) struct LookedCase<'c> {
    pub case: &'c Case,
    pub moments: Vec<Counted>,
}

/// What each of some readings is to be expected to show; none where a case cannot be made ready, or hardly any car has
/// an answer. A car is drawn alike whichever of its readings are asked for. Each lane ends where its part of the budget does.
pub(crate) fn expected(
    scenes: &[LookedCase],
    asked: &[ReadingWanted],
    model: &ModelError,
) -> Option<ExpectedReadings> {
    let cases: Vec<&Case> = scenes.iter().map(|scene| scene.case).collect();
    let guesses = Guesses::of_all(&cases);
    let (order, numbers) = order(&cases, &guesses);
    let cars: Option<Vec<Car>> = (scenes.iter().zip(&guesses))
        .map(|(scene, own)| Car::at(scene.case, own, scene.moments.clone()))
        .collect();
    let cars = cars?;
    let part = Budget::seconds(seconds::EXPECTED).each_of(SCRAMBLES);
    let lanes: Vec<Vec<Vec<f64>>> = (0..SCRAMBLES)
        .into_par_iter()
        .map(|scramble| {
            let mut cars = cars.clone();
            let points = Scramble::new(numbers, SEED, scramble);
            let mut drawn = vec![0.0; numbers];
            let mut point = vec![0.5; order.len()];
            let begun = work(&cars);
            let mut rows = Vec::with_capacity(EACH);
            for draw in 0..EACH {
                let take = |drawn: &[f64]| -> Result<(), NoCar> {
                    point.iter_mut().zip(&order).for_each(|(x, number)| *x = drawn[*number]);
                    cars.iter_mut().try_for_each(|car| car.take(&point).map(|_| ()))
                };
                if points.take(draw as u32, &mut drawn, take).0.is_ok() {
                    let seed = mix((draw * SCRAMBLES + scramble) as u64);
                    rows.extend(row(&mut cars, &guesses, asked, model, seed));
                }
                if !part.allows(work(&cars) - begun) {
                    break;
                }
            }
            rows
        })
        .collect();
    let rows: Vec<&Vec<f64>> = lanes.iter().flatten().collect();
    (rows.len() > SCRAMBLES).then(|| ExpectedReadings {
        readings: (0..asked.len()).map(|place| of_column(&rows, place)).collect(),
        cars: rows.len(),
    })
}

/// Work that all cars together have done.
fn work(cars: &[Car]) -> u64 {
    cars.iter().map(Car::work).sum()
}

/// What all readings show of one car; none where one of its moments has no steady state.
fn row(
    cars: &mut [Car],
    guesses: &[Guesses],
    asked: &[ReadingWanted],
    model: &ModelError,
    seed: u64,
) -> Option<Vec<f64>> {
    let mut shown = vec![f64::NAN; asked.len()];
    for (scene, car) in cars.iter_mut().enumerate() {
        for moment in 0..car.conditions() {
            let here = |one: &&ReadingWanted| one.scene == scene && one.reading.moment == moment;
            if !asked.iter().any(|one| here(&one)) {
                continue;
            }
            if !car.solve(moment) {
                return None;
            }
            for (one, shown) in asked.iter().zip(&mut shown).filter(|(one, _)| here(one)) {
                *shown = with_errors(car, &guesses[scene], one, model, seed);
            }
        }
    }
    shown.iter().all(|value| value.is_finite()).then_some(shown)
}

/// What an instrument shows of a car as solved, in a draw.
pub(crate) fn with_errors(
    car: &Car,
    guesses: &Guesses,
    one: &ReadingWanted,
    model: &ModelError,
    seed: u64,
) -> f64 {
    let what = one.reading.what;
    let value = one.reading.value(car);
    let mut errors = ReadingErrors::of(what, one.tool, one.instrument, value, model);
    // after a fit the cars themselves are off by it, and anew each time
    let drawn = |part: usize| guesses.errors().any(|(known, _)| known == part);
    if errors.shared.iter().any(|(off, _)| matches!(off, SharedError::Part(part) if drawn(*part))) {
        errors.shared.retain(|(off, _)| !matches!(off, SharedError::Part(_)));
        if guesses.errors_anew().next().is_some() {
            errors = errors.without_alone();
        }
    }
    value + errors.drawn(seed, (one.test as u64) << 56 ^ what.key())
}

/// Room for tests among the numbers of a draw.
const TESTS: usize = 32;

/// Which number of a draw each coordinate is: guesses of the case first, then one for each test that is not sure of something
/// itself, so that the same cars are drawn whatever was read of them; how many numbers there are.
fn order(cases: &[&Case], guesses: &[Guesses]) -> (Vec<usize>, usize) {
    let dimensions = guesses.first().map_or(0, |first| first.dimensions);
    // of no guess: what the model is off by
    let mut of_test: Vec<Option<Option<usize>>> = vec![Some(None); dimensions];
    for (case, own) in cases.iter().zip(guesses) {
        for guess in &own.list {
            let test = test_of(&case.numbers.fact(guess.numbers[0].0).address);
            of_test[guess.dimension] = test.map(|(test, _)| Some(test));
        }
    }
    let own = of_test.iter().filter(|of| of.is_none()).count();
    let mut taken = [false; TESTS];
    let (mut next, mut last) = (0, own + TESTS);
    let each = of_test.into_iter().map(|of| match of {
        None => {
            next += 1;
            next - 1
        }
        Some(Some(test)) if test < TESTS && !taken[test] => {
            taken[test] = true;
            own + test
        }
        Some(_) => {
            last += 1;
            last - 1
        }
    });
    let each: Vec<usize> = each.collect();
    (each, last)
}

fn of_column(rows: &[&Vec<f64>], place: usize) -> ExpectedReading {
    let n = rows.len() as f64;
    let mean = rows.iter().map(|row| row[place]).sum::<f64>() / n;
    let variance = rows.iter().map(|row| (row[place] - mean).powi(2)).sum::<f64>() / (n - 1.0);
    let mut found = Quantiles::default();
    rows.iter().for_each(|row| found.add(row[place]));
    ExpectedReading { mean, spread: variance.sqrt(), band: band(&found) }
}
