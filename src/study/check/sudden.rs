//! What sudden changes of area cost, and what a diffuser or a rounded edge would give instead.
//!
//! Where neighbours differ in area and nothing is written between them, the air pays a sudden change. For each of
//! them the case is solved again with a cone there, or with an edge of 10 mm radius, all else left as it is.

use crate::air::ZERO_CELSIUS;
use crate::air::transport::viscosity;
use crate::case::{Case, Warning};
use crate::correlations::area_change::{
    conical_contraction, conical_diffuser, length_from_angle, rounded_contraction,
};
use crate::correlations::friction::churchill;
use crate::element::size::equivalent_diameter;
use crate::keys::word::words;
use crate::network::Sudden;
use crate::point::budget::{self, Budget, seconds};
use crate::point::margins::{SolvedMargins, margins_beside, margins_everywhere};
use crate::point::model::Model;
use crate::point::result::{Condition, PassageResult, STILL};
use rayon::prelude::*;
use serde::Serialize;
use std::f64::consts::PI;

/// Included angle of the diffuser that is offered (rad): 10 degrees, between the 7 of the least loss and the 12 at which one of
/// this size begins to stall (common practice, after charts of conical diffusers; from memory).
const ANGLE: f64 = 10.0 * std::f64::consts::PI / 180.0;
/// Radius of the edge that is offered (m).
const RADIUS: f64 = 0.010;
/// Friction factor of a smooth duct of this size, for the walls of a cone.
const FRICTION: f64 = 0.02;
/// So many are kept.
const DEAREST: usize = 3;
/// Losses below this are not told (Pa).
const WORTH_A_WORD: f64 = 1.0;

words! {
    /// What would help at a sudden change of area.
    pub enum StepCure {
        Diffuser = "diffuser",
        Radius = "radius",
    }
}

/// A sudden change of area that nobody wrote, where it is dearest.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct SuddenChange {
    pub passage: String,
    /// The element before it in the file, or the chamber at an open end.
    pub behind: String,
    /// The element behind it, or the chamber.
    pub before: String,
    /// Area of one piece before it in the file; none: a chamber.
    pub area_before_m2: Option<f64>,
    /// Area behind it.
    pub area_after_m2: Option<f64>,
    /// The condition in which it costs most.
    pub condition: String,
    /// What it costs there.
    pub loss_Pa: f64,
    /// Whether the air widens there.
    pub widens: bool,
    /// What would help.
    pub instead: StepCure,
    /// Length of that diffuser (10 degrees included); none of a radius.
    pub length_m: Option<f64>,
    /// Radius of that edge; none of a diffuser.
    pub radius_m: Option<f64>,
    /// The part that gains most in its own worst condition; none where none gains or no steady state was found.
    pub part: Option<String>,
    pub part_condition: Option<String>,
    /// How much cooler it gets there.
    pub temperature_fall_K: Option<f64>,
    /// The same with a diffuser of half that length.
    pub half_length_temperature_fall_K: Option<f64>,
}

/// The dearest of a case, what helps most first; `conditions` are its solutions.
pub fn sudden_changes(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<SuddenChange> {
    let budget = Budget::seconds(seconds::SUDDEN);
    sudden_changes_within(
        case,
        model,
        conditions,
        margins_everywhere(case, model).as_ref(),
        budget,
        &mut Vec::new(),
    )
}

/// The same against the case as it stands, within a budget: where it would be too much, only those that cost most are tried, and that is told.
pub fn sudden_changes_within(
    case: &Case,
    model: &Model,
    conditions: &[Condition],
    now: Option<&SolvedMargins>,
    budget: Budget,
    left: &mut Vec<Warning>,
) -> Vec<SuddenChange> {
    if !budget.allows(budget::about(case, model)) {
        left.push(budget::left_out("what would help at sudden changes of area was left out"));
        return Vec::new();
    }
    let Some(as_it_is) = now else { return Vec::new() };
    let mut places = Vec::new();
    for (passage, joined) in model.network.passages.iter().enumerate().take(case.passages.len()) {
        places.extend((0..joined.sudden.len()).map(|change| (passage, change)));
    }
    places.retain(|place| dearest(conditions, place.0, place.1).is_some());
    // four looks for each
    let most = budget.times(4 * as_it_is.work);
    if most < places.len() {
        let cost =
            |place: &(usize, usize)| dearest(conditions, place.0, place.1).map_or(0.0, |found| found.1);
        places.sort_by(|a, b| cost(b).total_cmp(&cost(a)));
        left.push(budget::left_out(format!(
            "of {} sudden changes of area the {most} that cost most were tried",
            places.len()
        )));
        places.truncate(most);
    }
    let mut all: Vec<SuddenChange> = places
        .par_iter()
        .filter_map(|(passage, change)| one(case, model, conditions, as_it_is, *passage, *change))
        .collect();
    let gain = |change: &SuddenChange| change.temperature_fall_K.unwrap_or(0.0);
    all.sort_by(|a, b| gain(b).total_cmp(&gain(a)).then(b.loss_Pa.total_cmp(&a.loss_Pa)));
    all.truncate(DEAREST);
    all
}

/// The condition in which a change costs most, what it costs there, and whether the air then goes forward.
fn dearest(conditions: &[Condition], passage: usize, change: usize) -> Option<(&Condition, f64, bool)> {
    let each = conditions.iter().filter_map(|condition| {
        let solved = condition.passages.get(passage)?;
        let row = solved.elements.iter().filter(|element| element.implied).nth(change)?;
        Some((condition, row.loss_Pa, solved.mass_flow_kg_s > STILL))
    });
    each.max_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, loss, _)| *loss >= WORTH_A_WORD)
}

fn one(
    case: &Case,
    model: &Model,
    conditions: &[Condition],
    as_it_is: &SolvedMargins,
    passage: usize,
    change: usize,
) -> Option<SuddenChange> {
    let (condition, loss, forward) = dearest(conditions, passage, change)?;
    let sudden = &model.network.passages[passage].sudden[change];
    let widens = sudden.widens(forward);
    let (small, large) = diameters(sudden);
    let at: Vec<usize> = (0..case.conditions.len()).collect();
    let look = |instead: &dyn Fn(&mut Sudden)| {
        let mut trial = model.clone();
        instead(&mut trial.network.passages[passage].sudden[change]);
        margins_beside(case, &trial, &at, as_it_is).ok()
    };
    let with = |instead: &dyn Fn(&mut Sudden)| best_gain(case, as_it_is, &look(instead)?);
    // a cone's walls cost more the slower the air: the gain is that with the friction of the condition in which it is told
    let coned = |angle: f64| {
        let (part, told, _) = with(&|sudden| cone(sudden, angle, FRICTION))?;
        let there = conditions.iter().find(|condition| condition.name == told)?;
        let friction = friction_of(there.passages.get(passage)?, small);
        let gain = gain_of(case, as_it_is, &look(&|sudden| cone(sudden, angle, friction))?, &part, &told)?;
        (gain > 0.0).then_some((part, told, gain))
    };
    let length = length_from_angle(small, large, ANGLE);
    let half_length_angle = 2.0 * (2.0 * (0.5 * ANGLE).tan()).atan();
    let (gain, half) = if widens {
        (coned(ANGLE), coned(half_length_angle))
    } else {
        (with(&|sudden| round(sudden, forward)), None)
    };
    let table = &case.passages[passage];
    let segment = |place: Option<usize>, end: &str| {
        place.map_or_else(|| end.to_string(), |place| table.segment(place).to_string())
    };
    let finite = |area: f64| area.is_finite().then_some(area);
    Some(SuddenChange {
        passage: table.name.clone(),
        behind: segment(sudden.between.0, &table.from),
        before: segment(sudden.between.1, &table.to),
        area_before_m2: finite(sudden.areas.0),
        area_after_m2: finite(sudden.areas.1),
        condition: condition.name.clone(),
        loss_Pa: loss,
        widens,
        instead: if widens { StepCure::Diffuser } else { StepCure::Radius },
        length_m: widens.then_some(length),
        radius_m: (!widens).then_some(RADIUS),
        part: gain.as_ref().map(|gain| gain.0.clone()),
        part_condition: gain.as_ref().map(|gain| gain.1.clone()),
        temperature_fall_K: gain.as_ref().map(|gain| gain.2),
        half_length_temperature_fall_K: half.map(|gain| gain.2),
    })
}

fn diameters(sudden: &Sudden) -> (f64, f64) {
    let (a, b) = sudden.areas;
    (equivalent_diameter(a.min(b)), equivalent_diameter(a.max(b)))
}

/// Friction factor of the smooth wall of a cone at its smaller bore (m), in the air of a passage as it was solved.
fn friction_of(passage: &PassageResult, small: f64) -> f64 {
    let flow = passage.mass_flow_kg_s.abs() / passage.count as f64;
    let reynolds = 4.0 * flow / (PI * small * viscosity(passage.outlet_temperature_C + ZERO_CELSIUS));
    churchill(reynolds.max(1.0), 0.0).0
}

/// A cone of an included angle in place of a change between two areas, its walls of a friction factor.
fn cone(sudden: &mut Sudden, angle: f64, friction: f64) {
    let (small, large) = diameters(sudden);
    let widening = conical_diffuser(small / large, angle).at(friction);
    let narrowing = conical_contraction(small / large, angle).at(friction);
    let widens = sudden.widens(true);
    // an element that holds the way into it goes on doing so
    let narrowing = narrowing.min(sudden.loss_coefficient(!widens));
    let (forward, backward) = if widens { (widening, narrowing) } else { (narrowing, widening) };
    sudden.replace(forward, backward);
}

/// A rounded edge where the air narrows, going `forward` or back.
fn round(sudden: &mut Sudden, forward: bool) {
    let (small, large) = diameters(sudden);
    let ratio = if large.is_finite() { small / large } else { 0.0 };
    let rounded = rounded_contraction(ratio, (RADIUS / small).min(1.0));
    let narrowed = rounded.min(sudden.loss_coefficient(forward));
    let other = sudden.loss_coefficient(!forward);
    if forward { sudden.replace(narrowed, other) } else { sudden.replace(other, narrowed) }
}

/// What a part gains in a condition (K).
fn gain_of(
    case: &Case,
    before: &SolvedMargins,
    after: &SolvedMargins,
    part: &str,
    condition: &str,
) -> Option<f64> {
    let is_meant = |each: &(usize, usize, f64)| {
        case.conditions[each.0].name == condition && case.parts[each.1].name == part
    };
    let index = before.all.iter().position(is_meant)?;
    Some(after.all.get(index)?.2 - before.all[index].2)
}

/// Of all parts, each in its worst condition, the one that gains most: name, condition, kelvins.
fn best_gain(case: &Case, before: &SolvedMargins, after: &SolvedMargins) -> Option<(String, String, f64)> {
    let parts = 0..case.parts.len();
    let gains = parts.filter_map(|part| {
        let of_part = before.all.iter().enumerate().filter(|(_, each)| each.1 == part);
        let (index, worst) = of_part.min_by(|a, b| a.1.2.total_cmp(&b.1.2))?;
        Some((part, worst.0, after.all.get(index)?.2 - worst.2))
    });
    let best = gains.max_by(|a, b| a.2.total_cmp(&b.2))?;
    (best.2 > 0.0).then(|| (case.parts[best.0].name.clone(), case.conditions[best.1].name.clone(), best.2))
}
