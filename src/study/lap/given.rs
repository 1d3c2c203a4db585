//! What a stint gives: what the car does, where the parts begin, what was noted of it, what is hard to believe.

use super::march::March;
use super::moments::moments;
use super::pace::{self, Finder};
use super::record::{MeasuredColumn, Record};
use super::{StepGiven, StintRun, legs, plausible};
use crate::case::{self, Case, Diagnostic, FaultPlace, Warning, tables as t};
use crate::keys::{Slot, Values};
use crate::network::{NetworkState, Unsolved};
use crate::point::model::Model;

/// What a stint gives.
pub(super) struct Given {
    /// What the car does.
    pub run: StintRun,
    /// What was done with it as it was given.
    pub notes: Vec<String>,
    /// What in it is hard to believe.
    pub warnings: Vec<Warning>,
    /// Temperatures that were measured.
    pub measured: Vec<MeasuredColumn>,
    /// Times of the record's rows, from the first (s).
    pub time: Vec<f64>,
}

impl Given {
    pub fn of(run: StintRun) -> Given {
        Given { run, notes: Vec::new(), warnings: Vec::new(), measured: Vec::new(), time: Vec::new() }
    }
}

/// Reads what a stint gives; where `doubt` says so, a recorded run is held against the car.
///
/// # Errors
/// What in it is missing, or does not fit.
pub(super) fn read(
    case: &Case,
    model: &Model,
    stint: &case::Named,
    record: Option<Record>,
    doubt: bool,
) -> Result<Given, Box<Diagnostic>> {
    let values = &stint.values;
    if values.written(&t::STEP) {
        let steps = values.tables(&t::STEP).iter().filter_map(|step| {
            let condition = case.condition(step.text(&t::STEP_CONDITION)?)?;
            Some(StepGiven { condition, time: case.view(step).required(&t::STEP_TIME), values: step.clone() })
        });
        return Ok(Given::of(StintRun::Steps(steps.collect())));
    }
    let base = pace::base(case, model, values);
    let finder = Finder::new(case, model, &base);
    if values.written(&t::LEG) {
        if !finder.has_gears() {
            return Err(Box::new(Diagnostic::new(
                "drive-missing",
                format!(
                    "{} gives road speeds, and the case has no [drive] to find the engine speed from",
                    values.address
                ),
                FaultPlace::from(values.place_of(&t::LEG)),
                "write [drive] with tyre_radius, final_drive and gears",
            )));
        }
        let (paces, warnings) = legs::moments(case, &finder, values)?;
        let notes = vec![format!(
            "gear: the lowest that is usable at each road speed, clutch slipping below it; {}",
            finder.load_in_words()
        )];
        return Ok(Given { notes, warnings, ..Given::of(StintRun::Moments { base, paces }) });
    }
    let missing = |message: String| {
        Box::new(Diagnostic::new(
            "run-not-usable",
            message,
            FaultPlace::from(values.place_of(&t::TRACE)),
            "add the column rpm to the file, or write [drive] with tyre_radius, final_drive and gears",
        ))
    };
    let record =
        record.ok_or_else(|| missing(format!("the recorded run of {} was not read", values.address)))?;
    let laps = case.view(values).required(&t::LAPS) > 1.5;
    let warnings =
        if doubt { plausible::doubts(&record, &finder, &values.address, laps) } else { Vec::new() };
    let begun = record.time.first().copied().unwrap_or(0.0);
    let time = record.time.iter().map(|time| time - begun).collect();
    let measured = record.measured.clone();
    let (paces, notes) = moments(record, &finder).map_err(missing)?;
    Ok(Given { notes, warnings, measured, time, ..Given::of(StintRun::Moments { base, paces }) })
}

/// Where the parts begin.
pub(super) struct Start {
    /// Their temperatures (K).
    pub temperatures: Vec<f64>,
    /// Those of which nobody said it: they stand as the first moment, held for ever, would leave them.
    pub assumed: Vec<String>,
    /// That steady state, where it was asked for.
    pub steady: Option<NetworkState>,
}

/// Where the parts begin; `near` is a steady state near which that of the first moment lies.
pub(super) fn start(
    case: &Case,
    model: &Model,
    values: &Values,
    given: &Given,
    near: Option<&NetworkState>,
) -> Result<Start, Unsolved> {
    let mut said: Vec<Option<f64>> = vec![None; case.parts.len()];
    for measured in &given.measured {
        if let Some(part) = case.part(&measured.of) {
            said[part] = measured.kelvin.first().copied();
        }
    }
    match values.slot(&t::START) {
        Slot::Number(id) => said.fill(Some(case.numbers.value(*id))),
        Slot::Map(map) => {
            for (name, id) in map {
                if let Some(part) = case.part(name) {
                    said[part] = Some(case.numbers.value(*id));
                }
            }
        }
        _ => {}
    }
    if let Some(all) = said.iter().copied().collect::<Option<Vec<f64>>>() {
        return Ok(Start { temperatures: all, assumed: Vec::new(), steady: None });
    }
    let steady = March::steady(model, &given.run.first(case, model), near)?;
    let assumed = case.parts.iter().zip(&said).filter(|(_, said)| said.is_none());
    let assumed = assumed.map(|(part, _)| part.name.clone()).collect();
    let parts = said.iter().enumerate();
    let temperatures =
        parts.map(|(part, said)| said.unwrap_or_else(|| steady.part_temperature(part))).collect();
    Ok(Start { temperatures, assumed, steady: Some(steady) })
}
