//! Runs in time of a drawn car: the peaks alone, or the course of its temperatures.

use super::march::March;
use super::pace::{self, Pace};
use super::record::Record;
use super::watch::LapWatch;
use super::{KeptLaps, StintRun, chamber_limits, given, once};
use crate::case::{Case, tables as t};
use crate::point::{Model, Operation};

/// What a drawn car is followed through.
#[derive(Clone, Copy)]
pub struct FollowedRun<'r> {
    /// The stint, by its place in the case.
    pub stint: usize,
    /// Its recorded run, where it names one.
    pub record: Option<&'r Record>,
    /// The condition in which the car then stands, and how long (s).
    pub soak: Option<(usize, f64)>,
    /// Moments in place of those of its recorded run.
    pub paces: Option<&'r [Pace]>,
    /// Most that a first-order step may differ (K); without end each step is three times as long as the one before,
    /// whatever the car.
    pub first_order: f64,
    /// Whether the course is kept.
    pub keep: bool,
}

/// Few moments for those of the recorded run of a stint: means over even pieces of it; none where it names none.
pub fn in_pieces(
    case: &Case,
    model: &Model,
    stint: usize,
    record: Option<&Record>,
    pieces: usize,
) -> Option<Vec<Pace>> {
    let record = record?;
    let given = given::read(case, model, case.stints.get(stint)?, Some(record.clone()), false).ok()?;
    let StintRun::Moments { paces, .. } = given.run else { return None };
    let end = paces.last()?.time;
    let length = end / pieces as f64;
    let mut found: Vec<Pace> = Vec::new();
    for piece in 0..pieces {
        let (from, to) = (length * piece as f64, length * (piece + 1) as f64);
        let mean = mean(&paces, from, to)?;
        if piece == 0 {
            found.push(Pace { time: 0.0, ..mean });
        }
        found.push(mean);
        if piece + 1 == pieces {
            found.push(Pace { time: end, ..mean });
        }
    }
    Some(found)
}

/// What a car does on average between two times, straight between its moments; at the middle of them.
fn mean(paces: &[Pace], from: f64, to: f64) -> Option<Pace> {
    let mut sum = Pace { time: 0.5 * (from + to), speed: 0.0, rpm: 0.0, load: 0.0 };
    for pair in paces.windows(2) {
        let (begun, end) = (pair[0].time.max(from), pair[1].time.min(to));
        if end <= begun {
            continue;
        }
        let weight = (end - begun) / (to - from);
        let share = (0.5 * (begun + end) - pair[0].time) / (pair[1].time - pair[0].time);
        let at = |one: f64, two: f64| weight * (one + share * (two - one));
        sum.speed += at(pair[0].speed, pair[1].speed);
        sum.rpm += at(pair[0].rpm, pair[1].rpm);
        sum.load += at(pair[0].load, pair[1].load);
    }
    (to > from).then_some(sum)
}

/// Follows a car through a run: all that was watched, and when the run ended (s from its beginning), what the car stood
/// afterwards left out; none where it cannot be run.
pub fn follow(case: &Case, model: &Model, run: &FollowedRun) -> Option<(LapWatch, f64)> {
    let stint = case.stints.get(run.stint)?;
    let given = match run.paces {
        None => given::read(case, model, stint, run.record.cloned(), false).ok()?,
        Some(paces) => {
            let base = pace::base(case, model, &stint.values);
            let measured = run.record.map_or(Vec::new(), |record| record.measured.clone());
            given::Given { measured, ..given::Given::of(StintRun::Moments { base, paces: paces.to_vec() }) }
        }
    };
    let (temperatures, _) = given::start(case, model, &stint.values, &given).ok()?;
    let mut march = March::new(model, temperatures);
    march.first_order = run.first_order;
    let mut watch = LapWatch::new(model, &chamber_limits(case), run.keep);
    let laps = case.view(&stint.values).required(&t::LAPS).round().max(1.0) as usize;
    let mut kept = KeptLaps::default();
    for lap in 1..=laps {
        watch.begin_lap();
        once((case, model, &given.run), lap, &mut march, &mut watch, &mut kept).ok()?;
    }
    let end = march.time;
    if let Some((condition, time)) = run.soak {
        let mut operation = Operation::of_condition(case, model, &case.conditions[condition].values);
        march.turn_to(&operation).ok()?;
        watch.begin(kept.steps.len(), march.time, &march.temperature, &march.solver);
        march.advance(time, &mut operation, |_, _| {}, |stride| watch.see(stride)).ok()?;
    }
    Some((watch, end))
}

/// What each part keeps under its limit at its hottest (K), stint by stint; none where one cannot be run. `records`
/// holds the recorded run of each stint that names one; `first_order` is most that a first-order step may differ (K).
pub fn least_margins(
    case: &Case,
    model: &Model,
    records: &[Option<Record>],
    first_order: f64,
) -> Option<Vec<Vec<f64>>> {
    let one = |stint: usize| {
        let record = records.get(stint).and_then(Option::as_ref);
        let run = FollowedRun { stint, record, soak: None, paces: None, first_order, keep: false };
        let (watch, _) = follow(case, model, &run)?;
        Some(watch.parts.iter().map(|part| part.limit - part.peak.temperature).collect())
    };
    (0..case.stints.len()).map(one).collect()
}
