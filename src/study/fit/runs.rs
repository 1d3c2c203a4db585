//! Readings of runs in time: what drawn cars would show in them, and the smooth functions through that with which a fit goes on.

use super::gauge::Gauge;
use super::newton::Likeliest;
use super::response::{LookedPlace, Response};
use super::result::RunFollowed;
use crate::case::{Case, tables as t};
use crate::draws::{Car, Guesses};
use crate::numerics::sobol::Sobol;
use crate::numerics::{cholesky, normal};
use crate::point::Model;
use crate::readings::Quantity;
use crate::readings::taken::{Readings, RunMoment, TestRun};
use crate::study::lap::peaks::{FollowedRun, follow};
use crate::study::lap::record::Record;
use rayon::prelude::*;

/// Cars of a first look, from the bands; of each look further about where the guesses most likely lie.
const FIRST: usize = 96;
const FURTHER: usize = 64;
/// Seeds of their points.
const SEED: u64 = 0x57e1;
/// How much wider they lie than the likeliest place is known (spread), and how much wider those of the first look may be missed
/// than these (variance).
const WIDER: f64 = 1.2;
const LOOSE: f64 = 30.0;
/// Steps in time are so fine (K).
const STEP: f64 = 0.05;

/// A run in time with its readings.
#[derive(Clone)]
struct TimedRun<'r> {
    test: usize,
    scene: usize,
    run: TestRun,
    record: Option<&'r Record>,
    readings: Vec<TimedReading>,
}

/// One of its readings.
#[derive(Clone, Copy)]
struct TimedReading {
    /// Its place among all readings.
    index: usize,
    what: Quantity,
    when: RunMoment,
    lag: f64,
}

/// All runs of a readings file.
#[derive(Clone)]
pub struct TimedRuns<'r> {
    runs: Vec<TimedRun<'r>>,
    /// Cases of the scenes, with their guesses.
    scenes: Vec<(&'r Case, &'r Guesses)>,
}

/// What a run shows as a function of the scores.
#[derive(Clone)]
pub struct RunResponse {
    scene: usize,
    /// How many parts the car has.
    parts: usize,
    /// Places among all readings, and the part of each that is one.
    readings: Vec<(usize, Option<usize>)>,
    response: Response,
}

impl RunResponse {
    /// Writes what its readings show, the model's own error at parts (K) among it.
    pub fn show(&self, guesses: &[Guesses], scores: &[f64], room: &mut ShowRoom, shown: &mut [f64]) {
        let own = &guesses[self.scene];
        room.point.clear();
        room.point.extend(scores.iter().map(|score| normal::inside(*score)));
        room.shown.resize(self.readings.len(), 0.0);
        self.response.show(scores, &mut room.shown);
        room.errors.resize(self.parts, 0.0);
        own.own_errors(&room.point, &mut room.errors);
        for ((index, part), value) in self.readings.iter().zip(&room.shown) {
            shown[*index] = value + part.map_or(0.0, |part| room.errors[part]);
        }
    }

    /// How far each reading is missed (spread, K), by its place among all.
    pub fn errors(&self) -> impl Iterator<Item = (usize, f64)> {
        self.readings.iter().map(|(index, _)| *index).zip(self.response.errors.iter().copied())
    }
}

/// Room for what a run shows.
#[derive(Clone, Default)]
pub struct ShowRoom {
    point: Vec<f64>,
    shown: Vec<f64>,
    errors: Vec<f64>,
}

/// Places that were looked at, run by run.
pub type LookedRuns = Vec<Vec<LookedPlace>>;

impl<'r> TimedRuns<'r> {
    /// Those of a file; `records` holds by test the recorded run that it is.
    pub fn of(readings: &'r Readings, guesses: &'r [Guesses], records: &'r [Option<Record>]) -> TimedRuns<'r> {
        let mut runs = Vec::new();
        let mut index = 0;
        for (place, test) in readings.tests.iter().enumerate() {
            let first = index;
            index += test.readings.len();
            let Some(run) = test.run.filter(|_| !test.readings.is_empty()) else { continue };
            let own = test.readings.iter().enumerate().filter_map(|(own, taken)| {
                let what = taken.reading.what;
                Some(TimedReading { index: first + own, what, when: taken.when?, lag: taken.lag })
            });
            let record = records.get(place).and_then(Option::as_ref);
            runs.push(TimedRun { test: place, scene: test.scene, run, record, readings: own.collect() });
        }
        let scenes = readings.scenes.iter().zip(guesses).map(|(scene, own)| (&scene.case, own));
        TimedRuns { runs, scenes: scenes.collect() }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.runs.is_empty()
    }

    /// Looks at cars of the bands.
    pub fn first(&self) -> Option<LookedRuns> {
        let mut looked = vec![Vec::new(); self.runs.len()];
        if self.is_empty() {
            return Some(looked);
        }
        let coordinates = self.scenes.first()?.1.dimensions;
        let sobol = Sobol::new(coordinates, SEED);
        let point = |draw: usize| {
            let mut point = vec![0.0; coordinates];
            sobol.point(draw as u32, &mut point);
            point.iter().map(|share| normal::quantile(*share)).collect()
        };
        let mut all: Vec<Vec<f64>> = vec![vec![0.0; coordinates]];
        all.extend((1..FIRST).map(point));
        self.look(&all, LOOSE, &mut looked);
        Some(looked)
    }

    /// Looks at more cars, about where the guesses most likely lie; `round` tells one look from another.
    pub fn further(&self, likeliest: &Likeliest, round: u64, looked: &mut LookedRuns) {
        let Some((_, own)) = self.scenes.first() else { return };
        let count = likeliest.scores.len();
        let sobol = Sobol::new(count, SEED + 1 + round);
        let point = |draw: usize| {
            let mut noise = vec![0.0; count];
            sobol.point(draw as u32, &mut noise);
            noise.iter_mut().for_each(|share| *share = normal::quantile(*share));
            cholesky::backward(&likeliest.factor, count, &mut noise);
            let each = noise.iter().zip(&likeliest.scores).map(|(noise, z)| z + WIDER * noise);
            each.take(own.dimensions).collect()
        };
        let all: Vec<Vec<f64>> = (0..FURTHER).map(point).collect();
        self.look(&all, 1.0, looked);
    }

    /// Functions through all that was looked at; none where that is too little.
    pub fn responses(&self, looked: &LookedRuns) -> Option<Vec<RunResponse>> {
        let part = |what: Quantity| match what {
            Quantity::Part(part) | Quantity::Mean(part) => Some(part),
            _ => None,
        };
        let one = |(run, looked): (&TimedRun, &Vec<LookedPlace>)| {
            let readings = run.readings.iter().map(|one| (one.index, part(one.what))).collect();
            let parts = self.scenes[run.scene].0.parts.len();
            Some(RunResponse { scene: run.scene, parts, readings, response: Response::of(looked)? })
        };
        self.runs.par_iter().zip(looked).map(one).collect()
    }

    /// What runs show at some scores: by run and place; nothing of a place where one cannot be run.
    pub fn shown(&self, scores: &[Vec<f64>]) -> Vec<Vec<Option<Vec<f64>>>> {
        let used = |scene: usize| self.runs.iter().any(|run| run.scene == scene);
        let cars: Vec<Option<Car>> = (self.scenes.iter().enumerate())
            .map(|(scene, (case, own))| used(scene).then(|| Car::at(case, own, Vec::new())).flatten())
            .collect();
        let each = scores.par_iter().map_init(
            || cars.clone(),
            |cars, scores| {
                let point: Vec<f64> = scores.iter().map(|score| normal::inside(*score)).collect();
                let taken: Vec<bool> =
                    cars.iter_mut().map(|car| car.as_mut().is_some_and(|car| car.take(&point).is_ok())).collect();
                let one = |run: &TimedRun| {
                    let car = cars[run.scene].as_mut().filter(|_| taken[run.scene])?;
                    let (case, model) = car.drawn();
                    run.shows(case, model)
                };
                self.runs.iter().map(one).collect::<Vec<_>>()
            },
        );
        let each: Vec<Vec<Option<Vec<f64>>>> = each.collect();
        (0..self.runs.len()).map(|run| each.iter().map(|place| place[run].clone()).collect()).collect()
    }

    /// How well the functions do at some of the draws of the chains.
    pub fn followed(
        &self,
        readings: &Readings,
        looked: &LookedRuns,
        draws: &[Vec<f64>],
        checks: usize,
    ) -> Vec<RunFollowed> {
        let (Some((_, own)), Some(responses)) = (self.scenes.first(), self.responses(looked)) else {
            return Vec::new();
        };
        if self.is_empty() {
            return Vec::new();
        }
        let stride = (draws.len() / checks).max(1);
        let scores: Vec<Vec<f64>> =
            draws.iter().step_by(stride).take(checks).map(|draw| draw[..own.dimensions].to_vec()).collect();
        let made = self.shown(&scores);
        let each = self.runs.iter().zip(&responses).zip(looked.iter().zip(&made));
        let each = each.map(|((run, response), (looked, made))| {
            let things = run.readings.len();
            let (mut squares, mut count) = (vec![0.0; things], 0);
            let mut shown = vec![0.0; things];
            for (scores, made) in scores.iter().zip(made) {
                let Some(made) = made else { continue };
                response.response.show(scores, &mut shown);
                squares.iter_mut().zip(made.iter().zip(&shown)).for_each(|(sum, (a, b))| *sum += (a - b).powi(2));
                count += 1;
            }
            let worst = |each: &mut dyn Iterator<Item = f64>| each.fold(0.0, f64::max);
            RunFollowed {
                test: readings.tests[run.test].name.clone(),
                runs: looked.len(),
                missed_K: worst(&mut response.response.errors.iter().copied()),
                off_K: worst(&mut squares.iter().map(|sum| (sum / f64::from(count.max(1))).sqrt())),
            }
        });
        each.collect()
    }

    fn look(&self, scores: &[Vec<f64>], loose: f64, looked: &mut LookedRuns) {
        for (known, shown) in looked.iter_mut().zip(self.shown(scores)) {
            let found = scores.iter().zip(shown).filter_map(|(scores, shown)| {
                Some(LookedPlace { scores: scores.clone(), shown: shown?, loose })
            });
            known.extend(found);
        }
    }
}

impl TimedRun<'_> {
    /// What its readings would show of a drawn car (K); none where it cannot be run.
    fn shows(&self, case: &Case, model: &Model) -> Option<Vec<f64>> {
        let keep = self.readings.iter().any(|one| one.when != RunMoment::Hottest);
        let run =
            FollowedRun { stint: self.run.stint, record: self.record, soak: self.run.soak, first_order: STEP, keep };
        let (watch, end) = follow(case, model, &run)?;
        let one = |one: &TimedReading| {
            let (watched, course, above) = match one.what {
                Quantity::Part(part) | Quantity::Mean(part) => {
                    let hottest = matches!(one.what, Quantity::Part(_));
                    let above = case.view(&case.parts[part].values).number(&t::HOTTEST_ABOVE_MEAN);
                    let above = above.filter(|_| hottest).unwrap_or(0.0);
                    (&watch.parts[part], &watch.course.parts[part], above)
                }
                Quantity::Air(chamber) => (&watch.chambers[chamber], &watch.course.chambers[chamber], 0.0),
                Quantity::Behind { .. } | Quantity::Difference { .. } => return f64::NAN,
            };
            let gauge = Gauge { time: &watch.course.time, celsius: course, lag: one.lag };
            above + match one.when {
                RunMoment::Hottest => watched.peak.temperature,
                RunMoment::At(time) => gauge.at(time),
                RunMoment::End => gauge.at(end),
                RunMoment::Mean(from, to) => gauge.mean(from, to),
            }
        };
        let shown: Vec<f64> = self.readings.iter().map(one).collect();
        shown.iter().all(|value| value.is_finite()).then_some(shown)
    }
}
