//! What becomes of the parts where the car stands, and whether they are warm enough when it counts.

use super::march::March;
use super::watch::{LapWatch, Watched};
use super::{AtLine, StepRun, StintRun, parts_named, result as r};
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::network::Unsolved;
use crate::point::budget::Budget;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::ByName;

/// How long a standing car is followed at most (s).
const FOLLOWED: f64 = 3600.0;
/// How long at a time (s).
const PIECE: f64 = 60.0;
/// Change over a piece below which nothing more happens (K).
const SETTLED: f64 = 0.02;
/// How long a warm-up is followed beyond the line (s).
const WARM_UP: f64 = 7200.0;

/// Follows the car standing: in every step in which it stands, as if that went on, and after the stint's end
/// in every condition in which it stands.
pub(super) fn all(
    case: &Case,
    model: &Model,
    run: &StintRun,
    end: &March,
    steps: &[StepRun],
    limits: &[Option<f64>],
    (allowance, notes): (Budget, &mut Vec<String>),
) -> Result<(Vec<r::Standing>, u64), Unsolved> {
    let mut found = Vec::new();
    let mut work = 0;
    let mut left_out = 0;
    let stands =
        |index: usize| Operation::of_condition(case, model, &case.conditions[index].values).speed == 0.0;
    if let StintRun::Steps(_) = run {
        for (index, step) in steps.iter().enumerate() {
            let Some(condition) = step.condition.filter(|condition| stands(*condition)) else { continue };
            if step.result.lap == 1 {
                if !allowance.allows(work) {
                    left_out += 1;
                    continue;
                }
                let march = March::new(model, step.begun_at.clone());
                let (standing, took) = follow(case, model, march, condition, Some((index, step)), limits)?;
                found.push(standing);
                work += took;
            }
        }
    }
    for condition in (0..case.conditions.len()).filter(|index| stands(*index)) {
        if !allowance.allows(work) {
            left_out += 1;
            continue;
        }
        let march = March::new(model, end.temperature.clone());
        let (standing, took) = follow(case, model, march, condition, None, limits)?;
        found.push(standing);
        work += took;
    }
    if left_out > 0 {
        notes.push(format!(
            "the run stopped at its budget of work: what becomes of the parts where the car stands was left out {left_out} times"
        ));
    }
    Ok((found, work))
}

fn follow(
    case: &Case,
    model: &Model,
    mut march: March,
    condition: usize,
    step: Option<(usize, &StepRun)>,
    limits: &[Option<f64>],
) -> Result<(r::Standing, u64), Unsolved> {
    let named = &case.conditions[condition];
    let mut operation = Operation::of_condition(case, model, &named.values);
    if let Some((_, step)) = step {
        operation.fans.clone_from(&step.fans);
    }
    let turning = turning(case, &march, &operation);
    // a fan with a motor of its own runs on when the engine is off, or it does not
    let stopped = operation.rpm <= 0.0 && !turning.0.is_empty();
    let mut other = if stopped { Some(march.clone()) } else { None };
    let mut watch = LapWatch::new(model, limits, false);
    march.turn_to(&operation)?;
    watch.begin(0, 0.0, &march.temperature, &march.solver);
    pursue(&mut march, &mut operation, &mut watch)?;
    let stands = |watched: &Watched| r::Stands {
        to_limit_s: watched.first_over,
        peak_C: watched.peak.temperature - ZERO_CELSIUS,
        peak_at_s: watched.peak.time,
        last_C: watched.now - ZERO_CELSIUS,
    };
    let mut work = march.work();
    let mut with_fans_off = None;
    if let Some(march) = &mut other {
        let mut operation = operation.clone();
        operation.fans_off();
        let mut watch = LapWatch::new(model, limits, false);
        march.turn_to(&operation)?;
        watch.begin(0, 0.0, &march.temperature, &march.solver);
        pursue(march, &mut operation, &mut watch)?;
        work += march.work();
        with_fans_off = Some(parts_named(case, watch.parts.iter().map(stands)));
    }
    let chambers = case.chambers.iter().zip(&watch.chambers);
    let standing = r::Standing {
        condition: named.name.clone(),
        in_step: step.map(|(index, _)| index),
        from_s: step.map(|(_, step)| step.begun),
        followed_s: march.time,
        engine_off: operation.rpm <= 0.0,
        fans_running: turning,
        with_fans_off,
        carburettor: watch.carburettor.map(|watched| super::hottest(&watched)),
        parts: parts_named(case, watch.parts.iter().map(stands)),
        chambers: ByName(chambers.map(|(named, watched)| (named.name.clone(), stands(watched))).collect()),
    };
    Ok((standing, work))
}

/// Follows a standing car until nothing more happens.
pub(super) fn pursue(
    march: &mut March,
    operation: &mut Operation,
    watch: &mut LapWatch,
) -> Result<(), Unsolved> {
    while march.time < FOLLOWED {
        let before = march.temperature.clone();
        march.advance(PIECE, operation, |_, _| {}, |stride| watch.see(stride))?;
        let changes = march.temperature.iter().zip(&before).map(|(now, before)| (now - before).abs());
        if changes.fold(0.0, f64::max) < SETTLED {
            break;
        }
    }
    Ok(())
}

/// Passages whose fans turn, with their speeds (rev/min).
fn turning(case: &Case, march: &March, operation: &Operation) -> ByName<f64> {
    let network = &march.solver.network;
    let each = case.passages.iter().zip(&network.passages).zip(&operation.fans);
    let turning = each.filter_map(|((table, passage), told)| {
        let fans = network.laws[passage.elements.clone()].iter().filter_map(|law| {
            let mut fan = law.as_fan()?.clone();
            fan.tell(*told);
            Some(fan.speed_at(operation.rpm))
        });
        let fastest = fans.fold(0.0, f64::max);
        (fastest > 0.0).then(|| (table.name.clone(), fastest))
    });
    ByName(turning.collect())
}

/// Whether parts with a lower limit are warm enough at the first step that counts as warm.
pub(super) fn warm_up(
    case: &Case,
    model: &Model,
    watch: &LapWatch,
    line: AtLine,
) -> Result<Vec<r::WarmUp>, Unsolved> {
    let Some((mut march, before)) = line else { return Ok(Vec::new()) };
    let line = march.time;
    let at_line = march.temperature.clone();
    let mut beyond = LapWatch::new(model, &vec![None; case.chambers.len()], false);
    if let Some(condition) = before {
        let late = |watch: &LapWatch| {
            watch.parts.iter().any(|part| part.least.is_finite() && part.first_warm.is_none())
        };
        let mut operation = Operation::of_condition(case, model, &case.conditions[condition].values);
        march.turn_to(&operation)?;
        beyond.begin(0, march.time, &march.temperature, &march.solver);
        while late(&beyond) && march.time < line + WARM_UP {
            march.advance(PIECE, &mut operation, |_, _| {}, |stride| beyond.see(stride))?;
        }
    }
    let parts = case.parts.iter().enumerate().filter(|(part, _)| watch.parts[*part].least.is_finite());
    Ok(parts
        .map(|(part, named)| {
            let least = watch.parts[part].least;
            let reached = if at_line[part] >= least {
                watch.parts[part].first_warm
            } else {
                beyond.parts[part].first_warm
            };
            r::WarmUp {
                part: named.name.clone(),
                least_C: least - ZERO_CELSIUS,
                line_s: line,
                at_line_C: at_line[part] - ZERO_CELSIUS,
                reached_s: reached,
            }
        })
        .collect())
}
