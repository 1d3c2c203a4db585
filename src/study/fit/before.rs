//! What was to be expected before anything was read: the bands of the test card.

use super::forward::moments;
use super::runs::{RunResponse, ShowRoom};
use crate::draws::Guesses;
use crate::draws::doubt::band;
use crate::draws::scramble::{SEED, seed_of};
use crate::numerics::normal;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::{Sobol, mix};
use crate::point::result::Band;
use crate::readings::Reading;
use crate::readings::errors::{ReadingErrors, SharedError};
use crate::readings::expected::{ExpectedReading, LookedCase, ReadingWanted, expected as of_cars};
use crate::readings::taken::{Readings, TakenReading};

/// Cars that readings of runs in time are expected from.
const CARS: u32 = 1024;

/// What each reading was to be expected to show, in the order of the file. `guesses` are those of the scenes, `runs` what
/// runs in time show of cars of the bands.
pub(super) fn expected(
    readings: &Readings,
    guesses: &[Guesses],
    runs: &[RunResponse],
) -> Option<Vec<ExpectedReading>> {
    let (moments, places) = moments(readings);
    let all = readings.tests.iter().enumerate();
    let all = all.flat_map(|(test, own)| own.readings.iter().map(move |taken| (test, taken)));
    let all: Vec<(usize, &TakenReading)> = all.collect();
    // scenes in which nothing was read are left out
    let scenes =
        readings.scenes.iter().zip(moments).map(|(scene, moments)| LookedCase { case: &scene.case, moments });
    let held: Vec<usize> = (0..places.len()).filter(|index| places[*index].moment.is_some()).collect();
    let asked = held.iter().filter_map(|index| {
        let (test, taken) = all[*index];
        Some(ReadingWanted {
            scene: places[*index].scene,
            reading: Reading { what: taken.reading.what, moment: places[*index].moment? },
            test,
            tool: taken.tool,
            instrument: taken.instrument,
        })
    });
    let asked: Vec<ReadingWanted> = asked.collect();
    let nothing = Band { p05: f64::NAN, p50: f64::NAN, p95: f64::NAN };
    let mut found = vec![ExpectedReading { mean: f64::NAN, spread: f64::NAN, band: nothing }; all.len()];
    if !asked.is_empty() {
        let held_there = of_cars(&scenes.collect::<Vec<_>>(), &asked, &readings.model_error)?;
        held.iter().zip(held_there).for_each(|(index, one)| found[*index] = one);
    }
    in_runs(readings, guesses, runs, &all, &mut found);
    Some(found)
}

/// What readings of runs are to be expected to show, with all that they are off by.
fn in_runs(
    readings: &Readings,
    guesses: &[Guesses],
    runs: &[RunResponse],
    all: &[(usize, &TakenReading)],
    found: &mut [ExpectedReading],
) {
    let Some(coordinates) = guesses.first().map(|own| own.dimensions) else { return };
    let sobol = Sobol::new(coordinates, seed_of(SEED, 0, 0));
    let mut room = ShowRoom::default();
    for run in runs {
        let missed: Vec<(usize, f64)> = run.errors().collect();
        let mut columns: Vec<Vec<f64>> = vec![Vec::new(); missed.len()];
        let mut shown = vec![f64::NAN; all.len()];
        let mut point = vec![0.0; coordinates];
        for draw in 0..CARS {
            sobol.point(draw, &mut point);
            point.iter_mut().for_each(|share| *share = normal::quantile(*share));
            run.show(guesses, &point, &mut room, &mut shown);
            for (column, (index, missed)) in columns.iter_mut().zip(&missed) {
                let (test, taken) = all[*index];
                let what = taken.reading.what;
                let value = shown[*index];
                let mut errors =
                    ReadingErrors::of(what, taken.tool, taken.instrument, value, &readings.model_error);
                // the cars themselves are off by it
                errors.shared.retain(|(off, _)| !matches!(off, SharedError::Part(_)));
                errors = errors.as_one_of(readings.alike(test, what));
                errors.own = errors.own.hypot(*missed);
                let own = mix(*index as u64) ^ what.key();
                column.push(value + errors.drawn(mix(u64::from(draw)), own));
            }
        }
        for (column, (index, _)) in columns.iter().zip(&missed) {
            let n = column.len() as f64;
            let mean = column.iter().sum::<f64>() / n;
            let variance = column.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (n - 1.0);
            let mut quantiles = Quantiles::default();
            column.iter().for_each(|value| quantiles.add(*value));
            found[*index] = ExpectedReading { mean, spread: variance.sqrt(), band: band(&quantiles) };
        }
    }
}
