//! Readings of runs in time: what drawn cars would show in them.
//!
//! A run in full is too long for every step of a chain. What stands in its place is a run in few steps, the same for every car,
//! and a smooth function of the scores (`response`) through what that is off by in cars that were run in full.

use super::gauge::Gauge;
use super::response::{LookedPlace, SmoothResponse};
use super::result::RunFollowed;
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::draws::{Car, Guesses};
use crate::numerics::sobol::Sobol;
use crate::numerics::{cholesky, normal};
use crate::point::Model;
use crate::readings::Quantity;
use crate::readings::taken::{Readings, RunMoment, TestRun};
use crate::study::lap::few::FewGiven;
use crate::study::lap::peaks::{FollowedRun, follow};
use crate::study::lap::record::Record;
use rayon::prelude::*;

/// Cars of a first look, from the bands; of each look further about where the guesses most likely lie.
const FIRST: usize = 80;
const FURTHER: usize = 56;
/// Seeds of their points.
const SEED: u64 = 0x57e1;
/// How much wider they lie than the likeliest place is known (spread), and how much wider those of the first look may be missed
/// than these (variance).
const WIDER: f64 = 1.2;
const LOOSE: f64 = 30.0;
/// Steps of a run in full are so fine (K).
const STEP: f64 = 0.05;

/// A run in time with its readings.
#[derive(Clone)]
pub struct TimedRun<'r> {
    test: usize,
    scene: usize,
    run: TestRun,
    record: Option<&'r Record>,
    /// The same in few steps.
    few: FewGiven,
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

impl TimedReading {
    /// The part that it reads.
    fn part(&self) -> Option<usize> {
        match self.what {
            Quantity::Part(part) | Quantity::Mean(part) => Some(part),
            _ => None,
        }
    }
}

/// All runs of a readings file.
pub struct TimedRuns<'r> {
    runs: Vec<TimedRun<'r>>,
    /// Cases of the scenes, with their guesses.
    scenes: Vec<(&'r Case, &'r Guesses)>,
}

/// What stands in the place of a run.
#[derive(Clone)]
pub struct RunResponse<'r> {
    run: TimedRun<'r>,
    /// What the run in few steps is off by.
    response: SmoothResponse,
}

impl RunResponse<'_> {
    /// The scene of the run.
    pub fn scene(&self) -> usize {
        self.run.scene
    }

    /// What its readings show of a car as drawn (K), by their places among all, the model's own error at parts among it;
    /// whether it can be run.
    pub fn show(
        &self,
        (case, model): (&Case, &Model),
        own: &Guesses,
        scores: &[f64],
        shown: &mut [f64],
    ) -> bool {
        let Some(coarse) = self.run.shows_about(case, model) else { return false };
        let mut off = vec![0.0; coarse.len()];
        self.response.show(scores, &mut off);
        let point: Vec<f64> = scores.iter().map(|score| normal::inside(*score)).collect();
        let mut errors = vec![0.0; case.parts.len()];
        own.own_errors(&point, &mut errors);
        for ((one, value), off) in self.run.readings.iter().zip(&coarse).zip(&off) {
            shown[one.index] = value + off + one.part().map_or(0.0, |part| errors[part]);
        }
        true
    }

    /// How far each reading is missed (spread, K), by its place among all.
    pub fn errors(&self) -> impl Iterator<Item = (usize, f64)> {
        self.run.readings.iter().map(|one| one.index).zip(self.response.errors.iter().copied())
    }
}

/// Places that were looked at, run by run, with what the run in few steps is off by there.
pub type LookedRuns = Vec<Vec<LookedPlace>>;

/// What a run shows of a car: in full, and in few steps; nothing where it cannot be run.
type ShownTwice = Option<(Vec<f64>, Vec<f64>)>;

impl<'r> TimedRuns<'r> {
    /// Those of a file; `records` holds by test the recorded run that it is. None where one cannot be run.
    pub fn of(
        readings: &'r Readings,
        guesses: &'r [Guesses],
        records: &'r [Option<Record>],
    ) -> Option<TimedRuns<'r>> {
        let mut runs = Vec::new();
        let mut index = 0;
        for (test, own) in readings.tests.iter().enumerate() {
            let first = index;
            index += own.readings.len();
            let Some(run) = own.run.filter(|_| !own.readings.is_empty()) else { continue };
            let each = own.readings.iter().enumerate().filter_map(|(place, taken)| {
                let what = taken.reading.what;
                Some(TimedReading { index: first + place, what, when: taken.when?, lag: taken.lag })
            });
            let record = records.get(test).and_then(Option::as_ref);
            let case = &readings.scenes[own.scene].case;
            let mut car = Car::at(case, &guesses[own.scene], Vec::new())?;
            let (case, model) = car.drawn();
            let few = FewGiven::of(case, model, (run.stint, run.soak), record);
            let readings = each.collect();
            runs.push(TimedRun { test, scene: own.scene, run, record, few: few?, readings });
        }
        let scenes = readings.scenes.iter().zip(guesses).map(|(scene, own)| (&scene.case, own));
        Some(TimedRuns { runs, scenes: scenes.collect() })
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.runs.is_empty()
    }

    /// Runs cars of the bands in full.
    pub fn first(&self) -> LookedRuns {
        let mut looked = vec![Vec::new(); self.runs.len()];
        let Some((_, own)) = self.scenes.first().filter(|_| !self.is_empty()) else { return looked };
        let mut all = vec![vec![0.0; own.dimensions]];
        all.extend(of_the_bands(own.dimensions, SEED, 1..FIRST));
        self.look(&all, LOOSE, &mut looked);
        looked
    }

    /// Runs more cars, about the likeliest scores, as widely as the lower factor of the curvature there says; `round` tells one
    /// look from another.
    pub fn further(&self, (likeliest, factor): (&[f64], &[f64]), round: u64, looked: &mut LookedRuns) {
        let Some((_, own)) = self.scenes.first() else { return };
        let count = likeliest.len();
        let each = of_the_bands(count, SEED + 1 + round, 0..FURTHER).map(|mut noise| {
            cholesky::backward(factor, count, &mut noise);
            let each = noise.iter().zip(likeliest).map(|(noise, z)| z + WIDER * noise);
            each.take(own.dimensions).collect()
        });
        self.look(&each.collect::<Vec<Vec<f64>>>(), 1.0, looked);
    }

    /// What stands in the place of each run, through all that was looked at; none where that is too little.
    pub fn responses(&self, looked: &LookedRuns) -> Option<Vec<RunResponse<'r>>> {
        let one = |(run, looked): (&TimedRun<'r>, &Vec<LookedPlace>)| {
            Some(RunResponse { run: run.clone(), response: SmoothResponse::of(looked)? })
        };
        self.runs.par_iter().zip(looked).map(one).collect()
    }

    /// What all readings of runs show of cars of the bands, by what stands in the place of the runs: car by car, by their
    /// places among `count` readings.
    pub fn of_the_bands(&self, responses: &[RunResponse], cars: usize, count: usize) -> Vec<Vec<f64>> {
        let Some((_, own)) = self.scenes.first().filter(|_| !self.is_empty()) else { return Vec::new() };
        let scores: Vec<Vec<f64>> = of_the_bands(own.dimensions, SEED, 0..cars).collect();
        let each = self.with_cars(&scores, |scores, cars| {
            let mut shown = vec![f64::NAN; count];
            let solved = responses.iter().all(|one| {
                let own = self.scenes[one.scene()].1;
                let car = cars[one.scene()].as_mut();
                car.is_some_and(|car| one.show(car.drawn(), own, scores, &mut shown))
            });
            solved.then_some(shown)
        });
        each.into_iter().flatten().flatten().collect()
    }

    /// How well what stands in the place of each run does at some of the draws of the chains.
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
        let stride = (draws.len() / checks).max(1);
        let scores: Vec<Vec<f64>> =
            draws.iter().step_by(stride).take(checks).map(|draw| draw[..own.dimensions].to_vec()).collect();
        let made = self.both(&scores);
        let each = responses.iter().zip(looked).enumerate().map(|(place, (one, looked))| {
            let things = one.run.readings.len();
            let (mut squares, mut count, mut off) = (vec![0.0; things], 0, vec![0.0; things]);
            for (scores, made) in scores.iter().zip(&made) {
                let Some((full, coarse)) = &made[place] else { continue };
                one.response.show(scores, &mut off);
                for (sum, ((full, coarse), off)) in squares.iter_mut().zip(full.iter().zip(coarse).zip(&off))
                {
                    *sum += (full - coarse - off).powi(2);
                }
                count += 1;
            }
            let worst = |each: &mut dyn Iterator<Item = f64>| each.fold(0.0, f64::max);
            RunFollowed {
                test: readings.tests[one.run.test].name.clone(),
                runs: looked.len(),
                missed_K: worst(&mut one.response.errors.iter().copied()),
                off_K: worst(&mut squares.iter().map(|sum| (sum / f64::from(count.max(1))).sqrt())),
            }
        });
        each.collect()
    }

    /// Looks at cars, each as drawn at some scores; none where a draw is no car.
    fn with_cars<T: Send>(
        &self,
        scores: &[Vec<f64>],
        look: impl Fn(&[f64], &mut [Option<Car>]) -> T + Sync,
    ) -> Vec<Option<T>> {
        let used = |scene: usize| self.runs.iter().any(|run| run.scene == scene);
        let cars: Vec<Option<Car>> = (self.scenes.iter().enumerate())
            .map(|(scene, (case, own))| used(scene).then(|| Car::at(case, own, Vec::new())).flatten())
            .collect();
        let each = scores.par_iter().map_init(
            || cars.clone(),
            |cars, scores| {
                let point: Vec<f64> = scores.iter().map(|score| normal::inside(*score)).collect();
                let drawn = cars.iter_mut().flatten().all(|car| car.take(&point).is_ok());
                drawn.then(|| look(scores, cars))
            },
        );
        each.collect()
    }

    /// What runs show of cars at some scores, place by place and run by run, in full and in few steps.
    fn both(&self, scores: &[Vec<f64>]) -> Vec<Vec<ShownTwice>> {
        let each = self.with_cars(scores, |_, cars| {
            let one = |run: &TimedRun| {
                let (case, model) = cars[run.scene].as_mut()?.drawn();
                Some((run.shows(case, model)?, run.shows_about(case, model)?))
            };
            self.runs.iter().map(one).collect::<Vec<ShownTwice>>()
        });
        each.into_iter().map(|each| each.unwrap_or_else(|| vec![None; self.runs.len()])).collect()
    }

    fn look(&self, scores: &[Vec<f64>], loose: f64, looked: &mut LookedRuns) {
        for (scores, both) in scores.iter().zip(self.both(scores)) {
            for (known, both) in looked.iter_mut().zip(both) {
                let Some((full, coarse)) = both else { continue };
                let shown = full.iter().zip(&coarse).map(|(full, coarse)| full - coarse).collect();
                known.push(LookedPlace { scores: scores.clone(), shown, loose });
            }
        }
    }
}

/// Scores of cars of the bands.
fn of_the_bands(count: usize, seed: u64, draws: std::ops::Range<usize>) -> impl Iterator<Item = Vec<f64>> {
    let sobol = Sobol::new(count, seed);
    draws.map(move |draw| {
        let mut point = vec![0.0; count];
        sobol.point(draw as u32, &mut point);
        point.iter_mut().for_each(|share| *share = normal::quantile(*share));
        point
    })
}

impl TimedRun<'_> {
    /// What its readings would show of a drawn car (K); none where it cannot be run.
    fn shows(&self, case: &Case, model: &Model) -> Option<Vec<f64>> {
        let keep = self.readings.iter().any(|one| one.when != RunMoment::Hottest);
        let TestRun { stint, soak, .. } = self.run;
        let run = FollowedRun { stint, record: self.record, soak, first_order: STEP, keep, begin: None };
        let (watch, end) = follow(case, model, &run)?;
        let hottest = |part: usize| watch.parts[part].peak.temperature;
        let course = &watch.course;
        self.read(case, (&course.time, &course.parts, &course.chambers), end, &hottest)
    }

    /// The same in few steps.
    fn shows_about(&self, case: &Case, model: &Model) -> Option<Vec<f64>> {
        let seen = self.few.follow(case, model)?;
        let hottest = |part: usize| seen.hottest(part) + ZERO_CELSIUS;
        self.read(case, (&seen.time, &seen.parts, &seen.chambers), seen.end, &hottest)
    }

    /// What instruments show of courses (s, °C) of parts and of the air of chambers.
    fn read(
        &self,
        case: &Case,
        (time, parts, chambers): (&[f64], &[Vec<f32>], &[Vec<f32>]),
        end: f64,
        hottest: &dyn Fn(usize) -> f64,
    ) -> Option<Vec<f64>> {
        let one = |one: &TimedReading| {
            let above = match one.what {
                Quantity::Part(part) => case.above_mean(part),
                _ => 0.0,
            };
            let celsius = match one.what {
                Quantity::Part(part) | Quantity::Mean(part) => &parts[part],
                Quantity::Air(chamber) => &chambers[chamber],
                Quantity::Behind { .. } | Quantity::Difference { .. } | Quantity::Leaks { .. } => {
                    return f64::NAN;
                }
            };
            let gauge = Gauge { time, celsius, lag: one.lag };
            above
                + match one.when {
                    RunMoment::Hottest => one.part().map_or(f64::NAN, hottest),
                    RunMoment::At(time) => gauge.at(time),
                    RunMoment::End => gauge.at(end),
                    RunMoment::Mean(from, to) => gauge.mean(from, to),
                }
        };
        let shown: Vec<f64> = self.readings.iter().map(one).collect();
        shown.iter().all(|value| value.is_finite()).then_some(shown)
    }
}
