//! Readings of a real car back into the guesses: what is most likely, what is left of the doubt, what to believe.
//!
//! Unknowns are standard normal scores of the bands (`unknowns`); what every instrument would show is solved for
//! (`forward`; in runs in time `runs`, by smooth functions through runs that were made, `response`); the likeliest place by Gauss-Newton (`newton`); chains led by the curvature there (`chain`) give means
//! and covariances, which the fitted case carries.

mod accused;
mod before;
mod chain;
mod emulator;
mod forward;
mod gauge;
mod hamiltonian;
mod held;
mod left;
mod linear;
mod margins;
mod newton;
mod offered;
mod recorded;
mod response;
pub mod result;
mod runs;
mod said;
mod slips;
mod target;
mod terms;
mod unknowns;
mod without;

pub use left::{FittedLeft, NumberSet, took};
pub use recorded::{not_followed, take_up};

use crate::case::Case;
use crate::draws::Guesses;
use crate::readings::taken::Readings;
use crate::study::doubt::LeastOver;
use crate::study::lap::record::Record;
use chain::{AGREED, FEWEST};
use forward::Forward;
use newton::Problem;
use result::{Ask, Fit};
use runs::TimedRuns;
use unknowns::Unknowns;

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq)]
pub enum NoFit {
    /// Nothing was read.
    NothingRead,
    /// Nothing is guessed.
    NothingGuessed,
    /// With the middles of all bands some test has no steady state.
    NoSteadyState,
    /// The chains do not agree, or are worth too little.
    NotAgreed {
        /// Split-chain agreement.
        agreement: f64,
        /// Effective number.
        effective: f64,
        /// What looks like a slip among the readings, as it is asked.
        asks: Vec<Ask>,
    },
}

/// Looks at runs in time about the likeliest place, so many times.
const ROUNDS: u64 = 2;
/// Draws of the chains at which runs are made once more.
const CHECKS: usize = 16;

/// Fits a case to readings. What each reading did to the margin is told of the least of those that are measured; `records`
/// holds by test its recorded run.
///
/// # Errors
/// [`NoFit`].
pub fn fit(
    case: &Case,
    readings: &Readings,
    records: &[Option<Record>],
    measure: &LeastOver,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Result<(Fit, FittedLeft), NoFit> {
    if readings.tests.iter().all(|test| test.readings.is_empty()) {
        return Err(NoFit::NothingRead);
    }
    let mut cases: Vec<&Case> = readings.scenes.iter().map(|scene| &scene.case).collect();
    cases.push(case);
    let in_time = readings.tests.iter().any(|test| test.run.is_some() && !test.readings.is_empty());
    let guesses = Guesses::of_all_erring(&cases, readings.model_error.parts, in_time);
    let own = guesses.last().filter(|own| !own.is_empty()).ok_or(NoFit::NothingGuessed)?;
    let runs = TimedRuns::of(readings, &guesses, records).ok_or(NoFit::NoSteadyState)?;
    let mut looked = runs.first();
    let first = runs.responses(&looked).ok_or(NoFit::NoSteadyState)?;
    let forward = Forward::new(readings, &guesses, first.clone()).ok_or(NoFit::NoSteadyState)?;
    let reckoned = reckoned(&forward, readings, own.dimensions).ok_or(NoFit::NoSteadyState)?;
    let unknowns = Unknowns::of(readings, &guesses, &reckoned);
    let mut problem = Problem::new(&unknowns, forward).ok_or(NoFit::NoSteadyState)?;
    let expected = before::expected(readings, &runs, &first).ok_or(NoFit::NoSteadyState)?;
    let mut likeliest = problem.likeliest().ok_or(NoFit::NoSteadyState)?;
    for round in 0..if in_time { ROUNDS } else { 0 } {
        runs.further((&likeliest.scores, &likeliest.factor), round, &mut looked);
        problem = problem.with_runs(runs.responses(&looked).ok_or(NoFit::NoSteadyState)?);
        likeliest = problem.likeliest().ok_or(NoFit::NoSteadyState)?;
    }
    let drawn = chain::run(&problem, &likeliest, told);
    // what is not a number agrees with nothing
    let agreed = drawn.split <= AGREED && drawn.effective >= FEWEST;
    if !agreed {
        let asks = said::asks_before(&unknowns, &expected).collect();
        return Err(NoFit::NotAgreed { agreement: drawn.split, effective: drawn.effective, asks });
    }
    let margins = margins::look(case, own, measure, &readings.model_error, (&unknowns, &likeliest, &drawn));
    let offered = offered::all(case, own, &unknowns, &likeliest, &readings.model_error);
    let left = left::left(case, readings, own, &likeliest, &drawn);
    let fit = said::said(&said::All {
        case,
        readings,
        guesses: &guesses,
        unknowns: &unknowns,
        problem: &problem,
        likeliest: &likeliest,
        drawn: &drawn,
        expected: &expected,
        margins: &margins,
        offered: &offered,
        runs: runs.followed(readings, &looked, &drawn.draws, CHECKS),
    });
    Ok((fit, left))
}

/// What each reading would show with the middles of all guesses.
fn reckoned(forward: &Forward, readings: &Readings, coordinates: usize) -> Option<Vec<f64>> {
    let all: Vec<_> =
        readings.tests.iter().flat_map(|test| test.readings.iter().map(|taken| taken.reading)).collect();
    let mut shown = vec![0.0; all.len()];
    forward.clone().show(&vec![0.0; coordinates], &all, false, &mut shown).then_some(shown)
}
