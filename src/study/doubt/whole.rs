//! What doubt adds to a report: bands beside every margin, how often all holds, what to measure first.

use super::shares::ranking_within;
use super::{LeastOver, of_conditions, of_runs, of_sweep, runs, work_of_a_draw, work_of_runs};
use crate::case::Case;
use crate::draws::Guesses;
use crate::draws::tally::TallyWanted;
use crate::point::Model;
use crate::point::budget::{Budget, left_out};
use crate::study::document::Report;
use crate::study::lap::record::Record;

/// What each kind of draw may take in a report, in seconds of one core of a common machine.
const CONDITIONS: f64 = 0.25;
const SWEEP: f64 = 0.15;
const RUNS: f64 = 0.12;
const RANKING: f64 = 0.5;
/// Fewer draws than these say little.
const FEWEST: usize = 512;

/// How much of a report is drawn.
#[derive(Clone, Copy)]
pub struct Extent<'a> {
    /// All of so many draws, where a number was asked for.
    pub draws: Option<usize>,
    /// Whether everything is: the sweep of the case as drawn where its openings are sized, and the cards for workshop and track, too. They
    /// stand on no short page.
    pub whole: bool,
    /// Hears of the work, and says whether to go on.
    pub go_on: &'a (dyn Fn() -> bool + Sync),
}

impl Extent<'_> {
    fn wanted(&self, seconds: f64) -> TallyWanted {
        let within = Budget::seconds(seconds);
        match self.draws {
            Some(draws) => TallyWanted { most: draws, all: true, within, ..TallyWanted::default() },
            None => TallyWanted { within, ..TallyWanted::default() },
        }
    }

    fn allows(&self, wanted: &TallyWanted, draw: u64) -> bool {
        self.draws.is_some() || wanted.within.times(draw) >= FEWEST
    }
}

/// Adds to conditions, and to the sweep where it is `swept`, what their doubt is.
pub fn of_steady(case: &Case, model: &Model, report: &mut Report, swept: bool, asked: &Extent) {
    let draw = work_of_a_draw(case, model, 0);
    let told = |_: f64| (asked.go_on)();
    let conditions = asked.wanted(CONDITIONS);
    let sweep = TallyWanted { least_only: true, ..asked.wanted(SWEEP) };
    if !asked.allows(&conditions, draw) {
        report.warnings.push(left_out("the draws of the guesses were left out"));
        return;
    }
    report.doubt = of_conditions(case, &mut report.conditions, conditions, &told);
    if let Some(swept) =
        report.sweep.as_mut().filter(|_| swept && asked.allows(&sweep, super::work_of_speeds(case, model)))
    {
        of_sweep(case, swept, sweep, &told);
    }
}

/// Adds what guesses and readings are worth.
pub fn of_guesses(case: &Case, model: &Model, report: &mut Report, asked: &Extent) {
    let guesses = Guesses::of(case);
    let measure = LeastOver::of(case, &report.conditions);
    let draw = work_of_a_draw(case, model, 0);
    let told = |_: f64| (asked.go_on)();
    let found = ranking_within(Budget::seconds(RANKING), draw, case, &guesses, &measure, &told);
    if let Some(found) = found {
        report.shares = found.shares;
        report.readings = found.readings;
        report.next = found.next;
        report.ranked = Some(found.ranked);
    }
}

/// Adds to the runs in time what their doubt is. `records` holds the recorded run of each stint of the case that names
/// one.
pub fn of_stints(
    case: &Case,
    model: &Model,
    report: &mut Report,
    records: &[Option<Record>],
    asked: &Extent,
) {
    // those that could be run
    let ran = |name: &str| report.stints.iter().any(|stint| stint.name == name);
    let mut alone = case.clone();
    alone.stints.retain(|stint| ran(&stint.name));
    let kept = case.stints.iter().zip(records).filter(|(stint, _)| ran(&stint.name));
    let records: Vec<Option<Record>> = kept.map(|(_, record)| record.clone()).collect();
    let draw = work_of_runs(&alone, model, &report.stints);
    let within = Budget::seconds(RUNS);
    let most = asked.draws.unwrap_or_else(|| within.times(draw).min(runs::MOST));
    if report.stints.is_empty() || most < runs::FEWEST {
        return;
    }
    let wanted = TallyWanted { most, all: true, within, ..TallyWanted::default() };
    of_runs(&alone, &records, &mut report.stints, wanted, &|_| (asked.go_on)());
}
