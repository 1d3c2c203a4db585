//! The inlets as drawn while the exits grow: margins that rise and fall, flows that turn round.

use super::Study;
use super::result::{CourseStep, Turn};
use super::state::ExitState;
use super::trade::Trade;
use crate::air::ZERO_CELSIUS;
use crate::element::fins::PART;
use crate::numerics::root;
use crate::point::result::STILL;
use rayon::prelude::*;

/// Steps of the course.
const STEPS: usize = 160;
/// Steps at least.
const FEWEST: usize = 8;
/// States looked at to find where a flow stands, about.
const LOOKS: usize = 12;
/// Closeness in the logarithm of the area at which a flow is said to stand.
const CLOSE: f64 = 1e-5;

pub(super) struct ExitCourse {
    /// Exit areas and what was found there, in order.
    pub states: Vec<(f64, ExitState)>,
    pub steps: Vec<CourseStep>,
    pub turns: Vec<Turn>,
    /// The smallest exits at which the margins asked for are reached.
    pub safe: Option<f64>,
}

/// The part that a passage cools.
pub(super) fn part_of(study: &Study, passage: usize) -> Option<usize> {
    let elements = &study.case.passages[passage].elements;
    elements.iter().find_map(|values| study.case.part(values.text(&PART)?))
}

/// Walks through the range of the trade.
pub(super) fn course(study: &Study, trade: &Trade) -> ExitCourse {
    let at = |x: f64| study.state_of(&study.with_exits(x.exp()));
    let (low, high) = (trade.range.0.ln(), trade.range.1.ln());
    let count = STEPS.min(study.meter.states_within(0.3)).max(FEWEST);
    let found: Vec<Option<(f64, ExitState)>> = (0..=count)
        .into_par_iter()
        .map(|step| {
            let x = low + (high - low) * step as f64 / count as f64;
            Some((x.exp(), at(x)?))
        })
        .collect();
    let mut states: Vec<(f64, ExitState)> = found.into_iter().flatten().collect();
    let mut crossings: Vec<(usize, usize, f64, f64, bool)> = Vec::new();
    for pair in states.windows(2) {
        for (place, seen) in pair[0].1.seen.iter().enumerate() {
            for (passage, before) in seen.flows.iter().enumerate() {
                let after = pair[1].1.seen[place].flows[passage];
                // what is left of air that stands is rounding, and turns round all the time
                let moves = before.abs().max(after.abs()) > STILL;
                if (*before < 0.0) != (after < 0.0) && moves && watched(study, passage) {
                    crossings.push((place, passage, pair[0].0.ln(), pair[1].0.ln(), after > 0.0));
                }
            }
        }
    }
    crossings.truncate(study.meter.states_within(0.3) / LOOKS);
    let turned: Vec<(Turn, f64)> = crossings
        .into_par_iter()
        .map(|(place, passage, a, b, forward_above)| {
            let flow = |x: f64| at(x).map_or(0.0, |state| state.seen[place].flows[passage]);
            let x = root::bracketed(flow, a, b, flow(a), flow(b), CLOSE);
            let turn = Turn {
                passage: study.case.passages[passage].name.clone(),
                part: part_of(study, passage).map(|part| study.case.parts[part].name.clone()),
                condition: study.sizing.counting()[place].label(study.case),
                exit_area_m2: x.exp(),
                forward_above,
            };
            (turn, x)
        })
        .collect();
    states.extend(turned.iter().filter_map(|(_, x)| Some((x.exp(), at(*x)?))));
    states.sort_by(|a, b| a.0.total_cmp(&b.0));
    let turns = turned.into_iter().map(|(turn, _)| turn).collect();
    let safe = safe(study, &states);
    ExitCourse { steps: steps(study, &states), states, turns, safe }
}

/// Passages whose turning round is worth a word: those past a part, and those to outside.
fn watched(study: &Study, passage: usize) -> bool {
    let exits = study.exits.members.iter().chain(&study.fixed);
    part_of(study, passage).is_some() || exits.into_iter().any(|exit| exit.passage == passage)
}

/// The smallest exits at which the inlets as drawn reach what is asked for.
fn safe(study: &Study, states: &[(f64, ExitState)]) -> Option<f64> {
    let at = states.iter().position(|(_, state)| state.reached())?;
    let Some(before) = at.checked_sub(1) else { return Some(states[at].0) };
    let (mut bad, mut good) = (states[before].0, states[at].0);
    while good / bad > 1.0 + 1e-5 {
        let middle = (bad * good).sqrt();
        match study.state_of(&study.with_exits(middle)) {
            Some(state) if state.reached() => good = middle,
            _ => bad = middle,
        }
    }
    Some(good)
}

fn steps(study: &Study, states: &[(f64, ExitState)]) -> Vec<CourseStep> {
    let step = |(area, state): &(f64, ExitState)| CourseStep {
        exit_area: *area,
        kelvin: (0..study.case.parts.len()).map(|part| state.least_of(part).0).collect(),
        bay: state.seen.iter().map(|seen| seen.bay.map(|(p, t)| (p, t - ZERO_CELSIUS))).collect(),
        drag: state.drag(study.drag_at),
    };
    states.iter().map(step).collect()
}
