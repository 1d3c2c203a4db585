//! What was to be expected before anything was read: the bands of the test card.

use super::forward::moments;
use super::runs::{RunResponse, TimedRuns};
use crate::draws::doubt::band;
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol::mix;
use crate::point::result::Band;
use crate::readings::Reading;
use crate::readings::errors::{ReadingErrors, SharedError};
use crate::readings::expected::{ExpectedReading, LookedCase, ReadingWanted, expected as of_cars};
use crate::readings::taken::{Readings, TakenReading};

/// Cars that readings of runs in time are expected from.
const CARS: usize = 512;

/// What each reading was to be expected to show, in the order of the file; `responses` is what stands in the place of runs in
/// time, through cars of the bands.
pub(super) fn expected(
    readings: &Readings,
    runs: &TimedRuns,
    responses: &[RunResponse],
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
        held.iter().zip(held_there.readings).for_each(|(index, one)| found[*index] = one);
    }
    in_runs(readings, runs, responses, &all, &mut found);
    Some(found)
}

/// What readings of runs are to be expected to show, with all that they are off by.
fn in_runs(
    readings: &Readings,
    runs: &TimedRuns,
    responses: &[RunResponse],
    all: &[(usize, &TakenReading)],
    found: &mut [ExpectedReading],
) {
    let cars = runs.of_the_bands(responses, CARS, all.len());
    if cars.len() < 2 {
        return;
    }
    for (index, missed) in responses.iter().flat_map(RunResponse::errors) {
        let (test, taken) = all[index];
        let what = taken.reading.what;
        let each = cars.iter().enumerate().map(|(draw, shown)| {
            let value = shown[index];
            let errors = ReadingErrors::of(what, taken.tool, taken.instrument, value, &readings.model_error);
            let mut errors = errors.as_one_of(readings.alike(test, what));
            // the cars themselves are off by it
            errors.shared.retain(|(off, _)| !matches!(off, SharedError::Part(_)));
            errors.own = errors.own.hypot(missed);
            value + errors.drawn(mix(draw as u64), mix(index as u64) ^ what.key())
        });
        let column: Vec<f64> = each.collect();
        let n = column.len() as f64;
        let mean = column.iter().sum::<f64>() / n;
        let variance = column.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (n - 1.0);
        let mut quantiles = Quantiles::default();
        column.iter().for_each(|value| quantiles.add(*value));
        found[index] = ExpectedReading { mean, spread: variance.sqrt(), band: band(&quantiles) };
    }
}
