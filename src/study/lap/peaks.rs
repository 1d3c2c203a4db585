//! Runs in time of a drawn car: the peaks alone, or the course of its temperatures.

use super::march::March;
use super::record::Record;
use super::watch::LapWatch;
use super::{KeptLaps, chamber_limits, given, once};
use crate::case::{Case, tables as t};
use crate::network::NetworkState;
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
    /// Most that a first-order step may differ (K).
    pub first_order: f64,
    /// Whether the course is kept.
    pub keep: bool,
    /// Where its first solutions begin.
    pub begin: Option<&'r RunBeginning>,
}

/// The first solutions of a run with the values taken: those of drawn cars begin there. From air that stands they would be
/// found anew each time, and that can take longer than all the rest.
#[derive(Clone, Debug, Default)]
pub struct RunBeginning {
    /// The steady state of its first moment, where a part stands as that would leave it.
    pub(super) steady: Option<NetworkState>,
    /// What flows at first.
    flows: Option<NetworkState>,
}

impl RunBeginning {
    /// Of each stint of a case with the values taken.
    pub fn all(case: &Case, model: &Model, records: &[Option<Record>]) -> Vec<RunBeginning> {
        let of = |stint: usize| {
            let record = records.get(stint).cloned().flatten();
            RunBeginning::of(case, model, stint, record).unwrap_or_default()
        };
        (0..case.stints.len()).map(of).collect()
    }

    fn of(case: &Case, model: &Model, stint: usize, record: Option<Record>) -> Option<RunBeginning> {
        let stint = case.stints.get(stint)?;
        let given = given::read(case, model, stint, record, false).ok()?;
        let start = given::start(case, model, &stint.values, &given, None).ok()?;
        let mut march = March::new(model, start.temperatures);
        march.turn_to(&given.run.first(case, model)).ok()?;
        Some(RunBeginning { steady: start.steady, flows: Some(march.solver.state) })
    }
}

/// Follows a car through a run: all that was watched, and when the run ended (s from its beginning), what the car stood
/// afterwards left out; none where it cannot be run.
pub fn follow(case: &Case, model: &Model, run: &FollowedRun) -> Option<(LapWatch, f64)> {
    let stint = case.stints.get(run.stint)?;
    let given = given::read(case, model, stint, run.record.cloned(), false).ok()?;
    let steady = run.begin.and_then(|begin| begin.steady.as_ref());
    let start = given::start(case, model, &stint.values, &given, steady).ok()?;
    let mut march = March::new(model, start.temperatures);
    if let Some(flows) = run.begin.and_then(|begin| begin.flows.as_ref()) {
        march.solver.begin_from(flows);
    }
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
/// holds the recorded run of each stint that names one, `beginnings` where its solutions begin; `first_order` is most that a
/// first-order step may differ (K).
pub fn least_margins(
    case: &Case,
    model: &Model,
    records: &[Option<Record>],
    beginnings: &[RunBeginning],
    first_order: f64,
) -> Option<Vec<Vec<f64>>> {
    let one = |stint: usize| {
        let record = records.get(stint).and_then(Option::as_ref);
        let run =
            FollowedRun { stint, record, soak: None, first_order, keep: false, begin: beginnings.get(stint) };
        let (watch, _) = follow(case, model, &run)?;
        Some(watch.parts.iter().map(|part| part.limit - part.peak.temperature).collect())
    };
    (0..case.stints.len()).map(one).collect()
}
