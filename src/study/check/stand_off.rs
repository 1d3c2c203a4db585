//! What each ten millimetres between skin and inlet are worth.
//!
//! For every inlet that has a run: the thickness of the skin's slow air, the share of the dynamic pressure that the opening
//! meets, and the case solved again with the opening moved out, everything else left as it is.

use crate::case::{Case, Warning};
use crate::correlations::boundary_layer;
use crate::element::ram_inlet::{BOUNDARY_LAYER, GAP, SkinLayer};
use crate::point::budget::{self, Budget};
use crate::point::margins::{SolvedMargins, margins_with};
use crate::point::model::Model;
use crate::point::operation::Operation;
use rayon::prelude::*;
use serde::Serialize;

/// By how much an inlet is moved out (m).
pub const STEP: f64 = 0.010;
/// So many steps are tried.
const STEPS: usize = 3;

/// An inlet in the skin's slow air.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StandOff {
    /// Address of the inlet.
    pub inlet: String,
    /// Address of the number that is changed; shared by all inlets of one place.
    pub key: String,
    /// Distance that the air has run along the skin.
    pub run_m: f64,
    /// Gap as the case has it.
    pub gap_m: f64,
    /// Height over the gap.
    pub height_m: f64,
    /// Each condition in which the car moves.
    pub conditions: Vec<StandOffGain>,
}

/// What the steps are worth in a condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StandOffGain {
    pub condition: String,
    /// Thickness of the skin's slow air.
    pub thickness_m: f64,
    /// Reynolds number on the run.
    pub reynolds: f64,
    /// Share of the dynamic pressure that the opening meets now.
    pub share: f64,
    /// Each step of ten millimetres further out.
    pub steps: Vec<StandOffStep>,
}

/// A step further out.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StandOffStep {
    /// Gap then.
    pub gap_m: f64,
    /// Share of the dynamic pressure then.
    pub share: f64,
    /// What that adds to the push since the step before.
    pub push_gain_Pa: f64,
    /// The part that gets coolest by it, against the step before; none where no part changes or no steady state was found.
    pub part: Option<String>,
    /// How much cooler it gets.
    pub temperature_fall_K: Option<f64>,
}

/// Every inlet that has a run, against the case as it stands, within a budget; what would be too much is left out and told.
pub fn stand_off_within(
    case: &Case,
    model: &Model,
    now: Option<&SolvedMargins>,
    budget: Budget,
    left: &mut Vec<Warning>,
) -> Vec<StandOff> {
    let mut inlets = Vec::new();
    for (passage, table) in case.passages.iter().zip(&model.network.passages) {
        let laws = &model.network.laws[table.elements.clone()];
        for (values, law) in passage.elements.iter().zip(laws) {
            let Some(inlet) = law.as_ram_inlet() else { continue };
            let gap = values.table(&BOUNDARY_LAYER).and_then(|table| table.id(&GAP));
            if let (Some(layer), Some(gap)) = (inlet.layer(), gap) {
                inlets.push((values.address.clone(), gap, *layer, inlet.recovery()));
            }
        }
    }
    let most = match inlets.is_empty() || !budget.allows(budget::about(case, model)) {
        true => 0,
        false => {
            let each = now.map_or(u64::MAX, |now| now.work);
            budget.times(each.saturating_mul(STEPS as u64 + 1))
        }
    };
    if most < inlets.len() {
        left.push(budget::left_out(format!(
            "of {} inlets in slow air {most} were tried further off the skin",
            inlets.len()
        )));
        inlets.truncate(most);
    }
    inlets
        .par_iter()
        .map(|(address, gap, layer, recovery)| one(case, (model, now), address, *gap, *layer, *recovery))
        .collect()
}

fn one(
    case: &Case,
    (model, now): (&Model, Option<&SolvedMargins>),
    address: &str,
    gap: crate::keys::NumberId,
    layer: SkinLayer,
    recovery: f64,
) -> StandOff {
    let at: Vec<usize> = (0..case.conditions.len()).collect();
    let gaps: Vec<f64> = (0..=STEPS).map(|step| layer.gap + step as f64 * STEP).collect();
    let mut looks = vec![now.cloned()];
    looks.extend(
        gaps[1..]
            .iter()
            .map(|to| margins_with(case, &at, now, &|case: &mut Case| case.numbers.set(gap, *to))),
    );
    let mut conditions = Vec::new();
    for (index, named) in case.conditions.iter().enumerate() {
        let moment = Operation::of_condition(case, model, &named.values).free_stream();
        let at_gap = |gap: f64| SkinLayer { gap, ..layer }.share(&moment);
        let (share, reynolds) = at_gap(layer.gap);
        if reynolds <= 0.0 {
            continue;
        }
        let steps = (1..=STEPS).map(|step| {
            let (before, after) = (at_gap(gaps[step - 1]).0, at_gap(gaps[step]).0);
            let coolest = match (&looks[step - 1], &looks[step]) {
                (Some(before), Some(after)) => {
                    let here = before.all.iter().zip(&after.all).filter(|(a, _)| a.0 == index);
                    here.map(|(a, b)| (a.1, b.2 - a.2)).max_by(|a, b| a.1.total_cmp(&b.1))
                }
                _ => None,
            };
            StandOffStep {
                gap_m: gaps[step],
                share: after,
                push_gain_Pa: moment.dynamic_pressure * recovery * (after - before),
                part: coolest.map(|(part, _)| case.parts[part].name.clone()),
                temperature_fall_K: coolest.map(|(_, kelvins)| kelvins),
            }
        });
        conditions.push(StandOffGain {
            condition: named.name.clone(),
            thickness_m: boundary_layer::thickness(layer.run, reynolds),
            reynolds,
            share,
            steps: steps.collect(),
        });
    }
    StandOff {
        inlet: address.to_string(),
        key: case.numbers.fact(gap).address.clone(),
        run_m: layer.run,
        gap_m: layer.gap,
        height_m: layer.height,
        conditions,
    }
}
