//! Everything that a case makes possible, in one go: what a report is made of.
//!
//! A study that cannot be run leaves the others alone; it is told, with the reason.

use super::changes::result::Changes;
use super::compare::result::Comparison;
use super::compare::{Options, compare};
use super::doubt::whole;
use super::exits::exits_in_short;
use super::lap::march::FIRST_ORDER;
use super::lap::record::Record;
use super::lap::{self, NotRun};
use super::size::{Holding, Sized, Sizing};
use super::steps::result::Steps;
use super::steps::{self, steps};
use super::sweep::{self, POINTS};
use super::tape::result::Tape;
use super::tape::tape;
use super::templates::result::Templates;
use super::templates::templates;
use super::testcard::{self, result::Card, testcard};
use crate::case::fitted::FittedReading;
use crate::case::{Case, Loaded};
use crate::draws::lanes::DrawsWithin;
use crate::point::budget::Budget;
use crate::point::conditions::{self, ConditionUnsolved};
use crate::point::model::Model;
use crate::point::result as r;
use crate::study::check::openings::{OpeningFacts, openings};
use crate::study::check::sensitivity::{Sensitivity, sensitivity_within};
use crate::study::document;
use rayon::prelude::*;
use serde::Serialize;

/// What each study may take here, in seconds of one core of a common machine.
const SIZE: f64 = 1.0;
const HOLDS: f64 = 1.0;
const EXIT_SIZE: f64 = 0.35;
const COMPARE: f64 = 0.2;
const STEADY: f64 = 0.2;
const SWEPT: f64 = 0.12;
const DECIDING: f64 = 0.1;
const LAP: f64 = 0.3;
const TAPE: f64 = 0.3;
const CUTTING: f64 = 1.2;

/// Draws behind the bands of the tape card.
const TAPE_DRAWS: usize = 128;
/// Draws behind the test card, and what they may take (s).
const CARD_DRAWS: usize = 256;
const CARD: f64 = 0.6;
/// Exit areas looked at.
const EXITS: usize = 5;

/// A study that was not run.
#[derive(Clone, Debug, Serialize)]
pub struct Skipped {
    /// What it would have told.
    pub study: String,
    /// Why it was not run, and what to do about it.
    pub why: String,
}

/// All studies of one case.
#[derive(Clone, Debug, Serialize)]
pub struct Everything {
    /// The case as it is to be cut: as sized where `[size]` is there and was solved, else as drawn; conditions, sweep, stints.
    #[serde(flatten)]
    pub report: document::Report,
    /// The case as drawn, where that differs.
    pub drawn: Option<document::Report>,
    /// Every inlet and exit.
    pub openings: Vec<OpeningFacts>,
    /// Which guess decides.
    pub deciding: Sensitivity,
    /// What was read, for slips to be seen.
    #[serde(skip)]
    pub echoes: Vec<String>,
    /// Every opening as it is cut.
    pub templates: Option<Templates>,
    /// Cutting in steps, where all of it was drawn.
    pub cutting: Option<Steps>,
    /// The tape card, where all of it was drawn.
    pub tape: Option<Tape>,
    /// The test card, where all of it was drawn.
    pub testcard: Option<Card>,
    /// What was read of a fitted case, with what was to be expected.
    #[serde(skip)]
    pub readings: Vec<FittedReading>,
    /// The layouts side by side, as drawn.
    #[serde(flatten)]
    pub comparison: Option<Comparison>,
    /// What changed since an older case.
    pub against: Option<OlderCase>,
    /// What was not run.
    pub skipped: Vec<Skipped>,
}

/// What changed since an older case, and which that is.
#[derive(Clone, Debug, Serialize)]
pub struct OlderCase {
    pub title: Option<String>,
    pub revision: Option<String>,
    /// Checksum of its file.
    pub case_sha256: String,
    /// Where it stands.
    #[serde(skip)]
    pub file: String,
    /// What changed.
    pub changes: Changes,
}

/// What goes round the studies of a case: its report without them.
pub type ReportFrame<'f> = dyn Fn(&Case, &Model, Vec<r::Condition>) -> document::Report + Sync + 'f;

/// Runs everything, `against` an older case where one is given, with its doubt where that is asked for. `records` holds for each stint the recorded run that it names, or why that cannot be read.
pub fn everything(
    loaded: &Loaded,
    model: &Model,
    frame: &ReportFrame,
    records: Vec<Result<Option<Record>, String>>,
    against: Option<OlderCase>,
    doubt: Option<whole::Extent>,
) -> Everything {
    let case = &loaded.case;
    let of_runs: Vec<Option<Record>> =
        records.iter().map(|record| record.as_ref().ok().cloned().flatten()).collect();
    let mut skipped = Vec::new();
    let mut skip = |study: &str, why: String| skipped.push(Skipped { study: study.to_string(), why });
    let sizing = || {
        let holding = doubt.as_ref().map(|_| (Holding::of(case, None), Budget::seconds(HOLDS)));
        Sizing::new(case).and_then(|sizing| sizing.solve_and_hold(Budget::seconds(SIZE), holding))
    };
    let options = Options { sized: false, budget: Budget::seconds(COMPARE), drawn: None };
    // all that is asked of the case as drawn fills the gaps of sizing
    let beside = || {
        rayon::join(
            || exits_in_short(loaded, EXITS, Budget::seconds(EXIT_SIZE), &|_| ()),
            || (!case.layouts.is_empty()).then(|| compare(&loaded.document, case, options, &|_| ())),
        )
    };
    let (sized, ((as_drawn, drawn_unsolved), (exits, comparison))) =
        rayon::join(sizing, || rayon::join(|| steady(case, model, frame), beside));
    let sized = match sized {
        Ok(sized) => sized_model(sized),
        Err(error) => {
            let way_out = "write [size] with free = [ \"…\" ], the passages whose opening may change";
            skip("sizes of the openings", format!("{error}; {way_out}"));
            None
        }
    };
    let base = sized.as_ref().map_or((case, model), |(sized, model)| (&sized.case, model));
    let sizes = sized.as_ref().map(|(sized, _)| &sized.sizes);
    let facts = openings(base.0, case, sizes);
    let cut = templates(case, sized.as_ref().map(|(sized, _)| sized));
    if let Err(why) = &cut {
        skip("templates of the openings", format!("{why}; {}", why.told().1));
    }
    let mut left = Vec::new();
    let ((steady_sized, decides), stints) = rayon::join(
        || {
            rayon::join(
                || sized.as_ref().map(|(sized, model)| steady(&sized.case, model, frame)),
                || sensitivity_within(base.0, base.1, &facts, Budget::seconds(DECIDING), &mut left),
            )
        },
        || run_stints(base.0, base.1, records),
    );
    let (mut report, mut drawn, unsolved) = match steady_sized {
        Some((report, unsolved)) => (report, Some(as_drawn), unsolved),
        None => (as_drawn, None, drawn_unsolved),
    };
    for error in unsolved {
        skip(&format!("condition {}", error.condition), error.source.to_string());
    }
    report.sizes = sizes.cloned();
    report.warnings.append(&mut left);
    match exits {
        Ok(found) => report.exits = Some(found),
        Err(why) => skip("the trade behind the exits' size", why.to_string()),
    }
    if comparison.is_none() {
        skip("layouts side by side", "the case has no [[layout]]".to_string());
    }
    if case.conditions.is_empty() {
        skip("conditions", "the case has no [[condition]]".to_string());
    }
    if report.sweep.is_none() {
        let why = sweep::sweep(base.0, base.1, 2)
            .err()
            .map_or_else(|| "no speed could be solved".to_string(), |e| e.to_string());
        skip("margin and pressure against road speed", format!("{why}; look at [drive] and [sweep]"));
    }
    if case.stints.is_empty() {
        skip("runs in time", "the case has no [[stint]]".to_string());
    }
    for (stint, outcome) in case.stints.iter().zip(stints) {
        match outcome {
            Ok(run) => {
                report.warnings.extend(run.warnings.iter().cloned());
                report.stints.push(run);
            }
            Err(why) => skip(&format!("run in time {}", stint.name), why),
        }
    }
    let sum = report.case_sha256.clone();
    let drawn_upon = || {
        let asked = doubt.as_ref()?;
        whole::of_steady(base.0, base.1, &mut report, true, asked);
        if let Some(drawn) = &mut drawn {
            whole::of_steady(case, model, drawn, asked.whole, asked);
        }
        whole::of_guesses(base.0, base.1, &mut report, asked);
        whole::of_stints(base.0, base.1, &mut report, &of_runs, asked);
        Some(())
    };
    let on_paper = || {
        let cut = cut.as_ref().map_err(ToString::to_string);
        let wanted = doubt.as_ref().filter(|asked| asked.whole);
        wanted.map(|_| Cards::of(case, base, sized.as_ref().map(|(sized, _)| sized), cut, &sum))
    };
    let (_, cards) = rayon::join(drawn_upon, on_paper);
    let cards = cards.unwrap_or_default();
    skipped.extend(cards.skipped);
    report.warnings.extend(cards.testcard.as_ref().and_then(|card| testcard::cut_short(card, CARD_DRAWS)));
    let echoes = crate::warnings::echoes(base.0, base.1, &report.conditions);
    Everything {
        report,
        drawn,
        openings: facts,
        deciding: decides,
        echoes,
        templates: cut.ok(),
        cutting: cards.cutting,
        tape: cards.tape,
        testcard: cards.testcard,
        readings: case.fitted.as_ref().map_or(Vec::new(), |(_, fitted)| fitted.readings.clone()),
        comparison,
        against,
        skipped,
    }
}

/// What goes to the workshop and to the track on paper, each from its own draws.
#[derive(Default)]
struct Cards {
    cutting: Option<Steps>,
    tape: Option<Tape>,
    testcard: Option<Card>,
    skipped: Vec<Skipped>,
}

impl Cards {
    /// Of a case with its openings sized where that could be done; `sum` stands for the case on the test card.
    fn of(
        case: &Case,
        base: (&Case, &Model),
        sized: Option<&Sized>,
        cut: Result<&Templates, String>,
        sum: &str,
    ) -> Cards {
        let cutting = || {
            let sized = sized?;
            let draws = DrawsWithin { draws: steps::DRAWS, within: Budget::seconds(CUTTING) };
            Some(cut.and_then(|cut| steps(case, sized, cut, draws).map_err(|why| why.to_string())))
        };
        let taped = || {
            let within = Budget::seconds(TAPE);
            tape(base.0, base.1, sized.is_some(), TAPE_DRAWS, within)
                .map_err(|why| format!("{why}; {}", why.told().1))
        };
        let tested = || {
            if !testcard::fits(base.0, base.1, Budget::seconds(CARD)) {
                let alone = "slowcorner testcard with the case alone lays it out";
                return Err(format!("the case is so large that it would take too long here; {alone}"));
            }
            let draws = testcard::draws_within(base.0, base.1, CARD_DRAWS, Budget::seconds(CARD));
            let known_by = format!("{sum}{}", if sized.is_some() { ", sized" } else { "" });
            testcard(base.0, base.1, &known_by, draws).map_err(|why| format!("{why}; {}", why.told().1))
        };
        let (cutting, (taped, tested)) = rayon::join(cutting, || rayon::join(taped, tested));
        let mut skipped = Vec::new();
        let mut skip = |study: &str, why: String| skipped.push(Skipped { study: study.to_string(), why });
        Cards {
            cutting: cutting.and_then(|found| found.map_err(|why| skip("cutting in steps", why)).ok()),
            tape: taped.map_err(|why| skip("the tape card", why)).ok(),
            testcard: tested.map_err(|why| skip("the test card", why)).ok(),
            skipped,
        }
    }
}

fn sized_model(sized: Sized) -> Option<(Sized, Model)> {
    let model = Model::new(&sized.case).ok()?;
    Some((sized, model))
}

/// Conditions and sweep of a case, and the conditions that have no steady state.
fn steady(case: &Case, model: &Model, frame: &ReportFrame) -> (document::Report, Vec<ConditionUnsolved>) {
    let mut left = Vec::new();
    let (found, swept) = rayon::join(
        || conditions::solved_within(case, model, Budget::seconds(STEADY)),
        || sweep::sweep_within(case, model, POINTS, Budget::seconds(SWEPT), &mut left).ok(),
    );
    let mut report = frame(case, model, found.conditions);
    report.between = swept.as_ref().and_then(|sweep| sweep::between::between(sweep, &report.conditions));
    report.sweep = swept;
    report.warnings.append(&mut left);
    (report, found.unsolved)
}

/// Each stint by itself, so that one that cannot be run does not keep back the others.
fn run_stints(
    case: &Case,
    model: &Model,
    records: Vec<Result<Option<Record>, String>>,
) -> Vec<Result<lap::result::Stint, String>> {
    let mut records = records;
    records.resize_with(case.stints.len(), || Ok(None));
    let stints = case.stints.len();
    let one = |(index, record): (usize, Result<Option<Record>, String>)| {
        let record = record?;
        let mut alone = case.clone();
        alone.stints = vec![case.stints[index].clone()];
        let each = Budget::seconds(LAP).each_of(stints);
        let run = lap::lap_budgeted(&alone, model, vec![record], FIRST_ORDER, each);
        let run = run.map_err(|error| match error {
            NotRun::Refused(faults) => {
                let said =
                    faults.list().iter().map(|fault| format!("{}: {}", fault.message, fault.what_to_do));
                said.collect::<Vec<_>>().join("; ")
            }
            error @ NotRun::Unsolved { .. } => error.to_string(),
        })?;
        run.into_iter().next().ok_or_else(|| "nothing was run".to_string())
    };
    records.into_par_iter().enumerate().map(one).collect()
}
