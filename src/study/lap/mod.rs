//! Runs in time: stints of conditions, laps by stopwatch, recorded runs.
//!
//! | file | what it does |
//! | --- | --- |
//! | [`record`] | reads a recorded run |
//! | [`mod@moments`] | mends it and leaves out what says nothing |
//! | `given` | what a stint gives, and where the parts begin |
//! | `plausible` | a recorded run held against the car |
//! | `beside` | temperatures that were measured, beside those found |
//! | [`legs`] | a lap by stopwatch |
//! | [`pace`] | finds gear and load where they are not given |
//! | [`peaks`] | the peaks alone, of one drawn car after another |
//! | [`few`] | a run in a few long steps |
//! | [`march`] | part temperatures in time |
//! | [`watch`] | peaks, seconds over a limit, energy |
//! | [`standing`] | what becomes of the parts where the car stands; whether they are warm enough |
//! | [`result`] | what is found |

mod beside;
pub mod few;
mod given;
pub mod holding;
pub mod legs;
pub mod march;
pub mod moments;
pub mod pace;
pub mod peaks;
mod plausible;
pub mod record;
mod repeats;
pub mod result;
pub(in crate::study) mod settle;
pub mod standing;
pub mod watch;

use crate::air::ZERO_CELSIUS;
use crate::case::{self, Case, Diagnostic, Diagnostics, FaultPlace, tables as t};
use crate::element::fan::FanSetting;
use crate::keys::Values;
use crate::network::Unsolved;
use crate::point::budget::{Budget, seconds};
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::ByName;
use given::Given;
use march::March;
use pace::Pace;
use record::Record;
use repeats::RepeatSearch;
use result as r;
use watch::LapWatch;

/// Change of every part over a lap below which the laps repeat (K).
const REPEATS: f64 = 0.1;
/// Laps tried beyond those asked for, until they repeat.
const MORE_LAPS: usize = 200;
/// Operating points spent on laps beyond those asked for.
const MORE_POINTS: usize = 300_000;

/// Why a stint was not run.
#[derive(Debug, thiserror::Error)]
pub enum NotRun {
    /// Something is missing in the case, or does not fit.
    #[error("the case was refused")]
    Refused(Diagnostics),
    /// A moment has no steady flow.
    #[error("stint {stint:?}, {time:.1} s after its start: {source}")]
    Unsolved {
        /// The stint.
        stint: String,
        /// Time from its start (s).
        time: f64,
        /// What was reached.
        source: Unsolved,
    },
}

/// A step: its condition, how long it lasts (s), what it says.
struct StepGiven {
    condition: usize,
    time: f64,
    values: Values,
}

impl StepGiven {
    /// What the car meets and does in it.
    fn operation(&self, case: &Case, model: &Model) -> Operation {
        let mut operation = Operation::of_condition(case, model, &case.conditions[self.condition].values);
        operation.tell_fans(case, &self.values);
        operation
    }
}

/// What a car does in a stint.
enum StintRun {
    /// Conditions, each for a time (s).
    Steps(Vec<StepGiven>),
    /// Moments.
    Moments { base: Operation, paces: Vec<Pace> },
}

/// Runs the stints of a case. `records` holds the recorded run of each stint that names one.
///
/// # Errors
/// [`NotRun`]: parts without heat capacity, legs without speeds, no `[[stint]]`; a moment that cannot be
/// solved.
pub fn lap(case: &Case, model: &Model, records: Vec<Option<Record>>) -> Result<Vec<r::Stint>, NotRun> {
    lap_within(case, model, records, march::FIRST_ORDER)
}

/// The same with a step control of one's own: most that a first-order step may differ (K). A quarter of it
/// halves the steps.
///
/// # Errors
/// As [`lap`].
pub fn lap_within(
    case: &Case,
    model: &Model,
    records: Vec<Option<Record>>,
    first_order: f64,
) -> Result<Vec<r::Stint>, NotRun> {
    lap_budgeted(case, model, records, first_order, Budget::seconds(seconds::LAP))
}

/// The same with a budget of one's own for all stints that follow no recorded run; one that would take more than its
/// even part of what is left ends early, and a note says so.
///
/// # Errors
/// As [`lap`].
pub fn lap_budgeted(
    case: &Case,
    model: &Model,
    mut records: Vec<Option<Record>>,
    first_order: f64,
    budget: Budget,
) -> Result<Vec<r::Stint>, NotRun> {
    records.resize_with(case.stints.len(), || None);
    let recorded: Vec<bool> = records.iter().map(Option::is_some).collect();
    let mut faults = Diagnostics::new();
    ask_for_capacities(case, model, &mut faults);
    let mut runs = Vec::new();
    for (stint, record) in case.stints.iter().zip(records) {
        match given::read(case, model, stint, record, true) {
            Ok(run) => runs.push(run),
            Err(fault) => faults.push(*fault),
        }
    }
    if !faults.is_empty() {
        return Err(NotRun::Refused(faults));
    }
    let mut budget = budget;
    let mut stints = Vec::new();
    for (index, (stint, given)) in case.stints.iter().zip(runs).enumerate() {
        let left = recorded[index..].iter().filter(|recorded| !**recorded).count();
        let allowance = if recorded[index] { Budget::of(u64::MAX) } else { budget.each_of(left) };
        let (run, work) = one(case, model, stint, given, (first_order, allowance))?;
        if !recorded[index] {
            budget.spend(work);
        }
        stints.push(run);
    }
    Ok(stints)
}

/// Why a stint cannot be run, and what in it is hard to believe, without running it.
pub fn looked_at(
    case: &Case,
    model: &Model,
    stint: &case::Named,
    record: Option<Record>,
) -> (Diagnostics, Vec<case::Warning>) {
    let mut faults = Diagnostics::new();
    ask_for_capacities(case, model, &mut faults);
    match given::read(case, model, stint, record, true) {
        Ok(given) => (faults, given.warnings),
        Err(fault) => {
            faults.push(*fault);
            (faults, Vec::new())
        }
    }
}

/// How long a stint lasts (s), all its laps together; none where it cannot be read.
pub fn length(case: &Case, model: &Model, stint: usize, record: Option<&Record>) -> Option<f64> {
    let stint = case.stints.get(stint)?;
    let given = given::read(case, model, stint, record.cloned(), false).ok()?;
    let once = match &given.run {
        StintRun::Steps(steps) => steps.iter().map(|step| step.time).sum(),
        StintRun::Moments { paces, .. } => paces.last().map_or(0.0, |pace| pace.time),
    };
    Some(once * case.view(&stint.values).required(&t::LAPS).round().max(1.0))
}

fn ask_for_capacities(case: &Case, model: &Model, faults: &mut Diagnostics) {
    for (part, law) in case.parts.iter().zip(&model.network.parts) {
        if law.heat_capacity.is_none() {
            faults.push(Diagnostic::new(
                "heat-capacity-missing",
                format!("part {} has no heat_capacity, and without it nothing is known of it in time", part.name),
                FaultPlace::from(part.values.place_of(&t::HEAT_CAPACITY)),
                r#"weigh it and write mass = "9 kg" and material = "aluminium" (or heat_capacity = "8 kJ/K")"#,
            ));
        }
    }
}

impl StintRun {
    fn first(&self, case: &Case, model: &Model) -> Operation {
        match self {
            // there is a step: the reader has made sure
            StintRun::Steps(steps) => match steps.first() {
                Some(step) => step.operation(case, model),
                None => Operation::of_condition(case, model, &case.conditions[0].values),
            },
            StintRun::Moments { base, paces } => {
                let mut operation = base.clone();
                if let Some(pace) = paces.first() {
                    pace.blend(pace, 0.0, &mut operation);
                }
                operation
            }
        }
    }
}

fn one(
    case: &Case,
    model: &Model,
    stint: &case::Named,
    given: Given,
    (first_order, allowance): (f64, Budget),
) -> Result<(r::Stint, u64), NotRun> {
    let values = &stint.values;
    let unsolved = |time: f64| move |source| NotRun::Unsolved { stint: stint.name.clone(), time, source };
    let given::Start { temperatures, assumed: start_assumed, .. } =
        given::start(case, model, values, &given, None).map_err(unsolved(0.0))?;
    let Given { run, mut notes, warnings, measured, time } = given;
    let run = &run;
    let start_temperatures = parts_named(case, temperatures.iter().map(|k| k - ZERO_CELSIUS));
    let laps = case.view(values).required(&t::LAPS).round().max(1.0) as usize;
    let limits = chamber_limits(case);
    let mut march = March::new(model, temperatures.clone());
    march.first_order = first_order;
    // something is left for what is asked afterwards
    march.allowance = allowance.share(0.7);
    let mut watch = LapWatch::new(model, &limits, true);
    watch.start.clone_from(&temperatures);
    let mut kept = KeptLaps::default();
    let mut repeats = RepeatSearch::new(temperatures);
    let mut whole = true;
    for lap in 1..=laps {
        watch.begin_lap();
        let followed = once((case, model, run), lap, &mut march, &mut watch, &mut kept);
        whole = followed.map_err(unsolved(march.time))?;
        if !whole {
            notes.push(format!(
                "the run stopped at its budget of work, {:.0} s after its start{}: what follows holds for that time",
                march.time,
                if laps > 1 { format!(", in lap {lap} of {laps}") } else { String::new() }
            ));
            break;
        }
        repeats.end(&march, &watch, lap);
    }
    let points_solved = march.solved;
    let repeats = if laps > 1 && whole {
        let mut beyond = march.clone();
        beyond.allowance = allowance.share(0.85);
        let mut quiet = LapWatch::new(model, &limits, false);
        let mut lap = laps;
        while repeats.lap.is_none() && lap < laps + MORE_LAPS && beyond.solved < points_solved + MORE_POINTS {
            lap += 1;
            quiet.begin_lap();
            let followed = once((case, model, run), lap, &mut beyond, &mut quiet, &mut KeptLaps::default());
            if !followed.map_err(unsolved(beyond.time))? {
                break;
            }
            repeats.end(&beyond, &quiet, lap);
        }
        Some(repeats.result(case, model))
    } else {
        None
    };
    let end = march.time;
    let KeptLaps { steps, warm } = kept;
    let rest = (allowance.share(0.3), &mut notes);
    let (standing, standing_work) =
        standing::all(case, model, run, &march, &steps, &limits, rest).map_err(unsolved(end))?;
    let warm_up = standing::warm_up(case, model, &watch, warm).map_err(unsolved(end))?;
    let work = march.work() + standing_work;
    let stint = r::Stint {
        name: stint.name.clone(),
        from: match run {
            StintRun::Steps(_) => "steps".to_string(),
            StintRun::Moments { .. } => values.text(&t::TRACE).unwrap_or("legs").to_string(),
        },
        start_C: start_temperatures,
        parts: parts_named(case, (0..case.parts.len()).map(|part| part_over(model, &watch, &march, part))),
        chambers: ByName(
            case.chambers
                .iter()
                .zip(&watch.chambers)
                .map(|(named, watched)| (named.name.clone(), chamber_over(case, &named.values, watched)))
                .collect(),
        ),
        carburettor: watch.carburettor.map(|watched| hottest(&watched)),
        repeats,
        warm_up,
        standing,
        start_assumed,
        measured: beside::compare(case, &watch.course, &time, &measured),
        notes,
        warnings,
        points_solved,
        likelihood: None,
        course: watch.course,
        steps: steps.into_iter().map(|step| step.result).collect(),
    };
    Ok((stint, work))
}

/// A step with the part temperatures (K) at its beginning and end, for what is asked afterwards.
struct StepRun {
    result: r::StintStep,
    condition: Option<usize>,
    /// What its fans are told.
    fans: Vec<FanSetting>,
    begun: f64,
    begun_at: Vec<f64>,
}

/// The march at the line: the first step that counts as warm.
type AtLine<'a> = Option<(March<'a>, Option<usize>)>;

/// What is kept of the laps for what is asked afterwards.
#[derive(Default)]
struct KeptLaps<'a> {
    steps: Vec<StepRun>,
    warm: AtLine<'a>,
}

/// One time round; false where the work that may be done ended it.
fn once<'a>(
    (case, model, run): (&Case, &'a Model, &StintRun),
    lap: usize,
    march: &mut March<'a>,
    watch: &mut LapWatch,
    KeptLaps { steps, warm }: &mut KeptLaps<'a>,
) -> Result<bool, Unsolved> {
    match run {
        StintRun::Steps(list) => {
            for (index, step) in list.iter().enumerate() {
                let StepGiven { condition, time, .. } = step;
                if march.spent() {
                    return Ok(false);
                }
                let named = &case.conditions[*condition];
                let mut operation = step.operation(case, model);
                if warm.is_none() && named.values.flag(&t::WARM) {
                    let before = index.checked_sub(1).map(|before| list[before].condition);
                    *warm = Some((march.clone(), before));
                }
                let (begun, begun_at) = (march.time, march.temperature.clone());
                march.turn_to(&operation)?;
                watch.begin(steps.len(), march.time, &march.temperature, &march.solver);
                march.advance(*time, &mut operation, |_, _| {}, |stride| watch.see(stride))?;
                let constants = march.time_constants(&operation)?;
                let result = step_result(case, Some(&named.name), lap, march, watch, &constants);
                let fans = operation.fans.clone();
                steps.push(StepRun { result, condition: Some(*condition), fans, begun, begun_at });
            }
        }
        StintRun::Moments { base, paces } => {
            let mut operation = base.clone();
            let (begun, begun_at) = (march.time, march.temperature.clone());
            let Some(first) = paces.first() else { return Ok(true) };
            first.blend(first, 0.0, &mut operation);
            march.turn_to(&operation)?;
            watch.begin(steps.len(), march.time, &march.temperature, &march.solver);
            let mut whole = true;
            for pair in paces.windows(2) {
                if march.spent() {
                    whole = false;
                    break;
                }
                let duration = pair[1].time - pair[0].time;
                if duration <= 0.0 {
                    pair[1].blend(&pair[1], 0.0, &mut operation);
                    march.turn_to(&operation)?;
                    continue;
                }
                march.advance(
                    duration,
                    &mut operation,
                    |share, operation| pair[0].blend(&pair[1], share, operation),
                    |stride| watch.see(stride),
                )?;
            }
            let constants = march.time_constants(&operation)?;
            let result = step_result(case, None, lap, march, watch, &constants);
            steps.push(StepRun { result, condition: None, fans: Vec::new(), begun, begun_at });
            return Ok(whole);
        }
    }
    Ok(true)
}

fn step_result(
    case: &Case,
    condition: Option<&str>,
    lap: usize,
    march: &March,
    watch: &LapWatch,
    constants: &[Option<f64>],
) -> r::StintStep {
    let part = |(watched, constant): (&watch::Watched, &Option<f64>)| r::StepPart {
        temperature_C: watched.now - ZERO_CELSIUS,
        peak_C: watched.step_peak - ZERO_CELSIUS,
        time_constant_s: *constant,
    };
    let chambers = case.chambers.iter().zip(&watch.chambers);
    r::StintStep {
        condition: condition.map(str::to_string),
        lap,
        until_s: march.time,
        parts: parts_named(case, watch.parts.iter().zip(constants).map(part)),
        chambers: ByName(
            chambers.map(|(named, watched)| (named.name.clone(), part((watched, &None)))).collect(),
        ),
    }
}

fn parts_named<T>(case: &Case, values: impl Iterator<Item = T>) -> ByName<T> {
    ByName(case.parts.iter().map(|part| part.name.clone()).zip(values).collect())
}

fn chamber_limits(case: &Case) -> Vec<Option<f64>> {
    case.chambers.iter().map(|c| case.view(&c.values).number(&t::CHAMBER_LIMIT)).collect()
}

fn part_over(model: &Model, watch: &LapWatch, march: &March, part: usize) -> r::PartOver {
    let watched = &watch.parts[part];
    let energy = watch.energy[part];
    let law = &model.network.parts[part];
    let stored = law.heat_capacity.unwrap_or(f64::NAN) * (march.temperature[part] - watch.start[part]);
    r::PartOver {
        limit_C: watched.limit - ZERO_CELSIUS,
        peak_C: watched.peak.temperature - ZERO_CELSIUS,
        peak_at_s: watched.peak.time,
        peak_speed_m_s: watched.peak.speed,
        peak_step: watched.peak.step,
        temperature_margin_K: watched.limit - watched.peak.temperature,
        margin_band_K: None,
        likelihood: None,
        over_limit_s: watched.over,
        energy_left_over: (energy.taken - energy.given - stored)
            / energy.taken.max(energy.given.abs()).max(1.0),
    }
}

fn hottest(watched: &watch::Watched) -> r::HottestMoment {
    r::HottestMoment { peak_C: watched.peak.temperature - ZERO_CELSIUS, peak_at_s: watched.peak.time }
}

fn chamber_over(case: &Case, values: &Values, watched: &watch::Watched) -> r::ChamberOver {
    r::ChamberOver {
        hottest: hottest(watched),
        limit_C: case.view(values).number(&t::CHAMBER_LIMIT).map(|limit| limit - ZERO_CELSIUS),
        limit_for: values.text(&t::LIMIT_FOR).map(str::to_string),
        over_limit_s: watched.over,
    }
}
