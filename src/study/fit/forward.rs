//! What every instrument would show with the unknowns at some place.

use super::runs::RunResponse;
use super::unknowns::{ReadingInputs, Unknown, Unknowns, moves_on_the_bench};
use crate::draws::{Car, Guesses};
use crate::numerics::normal;
use crate::point::counted::Counted;
use crate::readings::taken::Readings;
use std::sync::Arc;

/// The cars of all scenes, and what is read of them.
#[derive(Clone)]
pub struct Forward<'f> {
    cars: Vec<Option<Car<'f>>>,
    /// By scene: how many moments are looked at.
    moments: Vec<usize>,
    /// By reading: where it was taken.
    places: Vec<ReadingMoment>,
    /// Runs in time, by what was looked at of them.
    runs: Arc<Vec<RunResponse<'f>>>,
    guesses: &'f [Guesses],
    /// Coordinates that readings on the bench do not move.
    held: Vec<bool>,
    coordinates: usize,
    point: Vec<f64>,
}

impl<'f> Forward<'f> {
    /// Cars of all scenes; none where one cannot be made ready.
    pub fn new(
        readings: &Readings,
        guesses: &'f [Guesses],
        runs: Vec<RunResponse<'f>>,
    ) -> Option<Forward<'f>> {
        let coordinates = guesses.first()?.dimensions;
        let (moments, places) = moments(readings);
        let mut held = vec![false; coordinates];
        for (own, scene) in guesses.iter().zip(&readings.scenes) {
            for guess in &own.list {
                held[guess.dimension] |= !moves_on_the_bench(&scene.case, guess);
            }
        }
        let mut cars = Vec::new();
        for ((scene, own), moments) in readings.scenes.iter().zip(guesses).zip(&moments) {
            if moments.is_empty() && runs.iter().all(|run| run.scene() != cars.len()) {
                cars.push(None);
                continue;
            }
            cars.push(Some(Car::at(&scene.case, own, moments.clone())?));
        }
        let moments = moments.iter().map(Vec::len).collect();
        let point = vec![0.5; coordinates];
        let runs = Arc::new(runs);
        Some(Forward { cars, moments, places, runs, guesses, held, coordinates, point })
    }

    /// The same with what was looked at of runs since.
    pub fn with_runs(mut self, runs: Vec<RunResponse<'f>>) -> Forward<'f> {
        self.runs = Arc::new(runs);
        self
    }

    /// How far readings of runs are missed (spread, K), by their places.
    pub fn missed(&self) -> impl Iterator<Item = (usize, f64)> {
        self.runs.iter().flat_map(RunResponse::errors)
    }

    /// Whether readings on the bench leave a coordinate where it is.
    pub fn is_held(&self, coordinate: usize) -> bool {
        self.held.get(coordinate).copied().unwrap_or(false)
    }

    /// Whether a reading was taken on the bench.
    pub fn on_the_bench(&self, reading: usize) -> bool {
        self.places[reading].bench
    }

    /// What each instrument without fault would show of a car (K or Pa); whether all tests have a steady state there.
    /// On the bench, what its readings may not move stands at the middle of its band unless `free`.
    pub fn show(
        &mut self,
        scores: &[f64],
        readings: &[crate::readings::Reading],
        free: bool,
        shown: &mut [f64],
    ) -> bool {
        for bench in [false, true] {
            if self.places.iter().all(|place| place.bench != bench) {
                continue;
            }
            for (coordinate, score) in scores[..self.coordinates].iter().enumerate() {
                let held = bench && !free && self.held[coordinate];
                let score = if held { 0.0 } else { *score };
                self.point[coordinate] = normal::inside(score);
            }
            for scene in 0..self.cars.len() {
                if self.places.iter().all(|place| (place.scene, place.bench) != (scene, bench)) {
                    continue;
                }
                let Some(car) = &mut self.cars[scene] else { continue };
                if car.take(&self.point).is_err() {
                    return false;
                }
                for moment in 0..self.moments[scene] {
                    let now = ReadingMoment { scene, moment: Some(moment), bench };
                    let here = |place: &ReadingMoment| *place == now;
                    if !self.places.iter().any(here) {
                        continue;
                    }
                    if !car.solve(moment) {
                        return false;
                    }
                    for (index, _) in self.places.iter().enumerate().filter(|(_, place)| here(place)) {
                        shown[index] = readings[index].value(car);
                    }
                }
                for run in self.runs.iter().filter(|run| !bench && run.scene() == scene) {
                    if !run.show(car.drawn(), &self.guesses[scene], &scores[..self.coordinates], shown) {
                        return false;
                    }
                }
            }
        }
        shown.iter().all(|value| value.is_finite())
    }
}

/// Where a reading was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReadingMoment {
    /// The scene.
    pub scene: usize,
    /// The moment there; none in a run in time.
    pub moment: Option<usize>,
    /// Whether it was on the bench.
    pub bench: bool,
}

/// By scene the moments that are looked at; by reading where it was taken.
pub fn moments(readings: &Readings) -> (Vec<Vec<Counted>>, Vec<ReadingMoment>) {
    let mut moments: Vec<Vec<Counted>> = vec![Vec::new(); readings.scenes.len()];
    let mut places = Vec::new();
    for test in readings.tests.iter().filter(|test| !test.readings.is_empty()) {
        let known = &mut moments[test.scene];
        let moment = test.run.is_none().then(|| {
            known.push(test.at);
            known.len() - 1
        });
        let place = ReadingMoment { scene: test.scene, moment, bench: test.bench };
        places.extend(test.readings.iter().map(|_| place));
    }
    (moments, places)
}

/// What instruments show, what they themselves are off by added.
pub fn add_beside(unknowns: &Unknowns, scores: &[f64], shown: &mut [f64]) {
    for (seen, shown) in unknowns.readings.iter().zip(shown) {
        *shown += seen.beside.iter().map(|(index, weight)| weight * scores[*index]).sum::<f64>();
    }
}

/// Which coordinates count: those of guesses and of the model's own errors.
pub fn counts(unknowns: &Unknowns, index: usize) -> bool {
    !matches!(unknowns.list[index], Unknown::Unused)
}

/// Readings as instruments see them.
pub fn operators(seen: &[ReadingInputs]) -> Vec<crate::readings::Reading> {
    seen.iter().map(|seen| seen.taken.reading).collect()
}
