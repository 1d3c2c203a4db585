//! Which openings of the older case still do on the newer body.

use super::super::compare::result::OpeningArea;
use super::super::compare::{counting, openings};
use super::super::size::Sizing;
use super::result::{Fate, OpeningFate};
use crate::case::Case;
use crate::element::Role;
use crate::point::budget::{Budget, seconds};
use crate::point::conditions;
use crate::point::model::Model;
use crate::point::opening::Opening;
use crate::point::result::{Condition, ConditionMargin, OpeningRole, PartResult};
use rayon::prelude::*;

/// How much larger an opening is tried, to see which parts hang on it.
const TRIED: f64 = 1.15;
/// Kelvins that a part then moves by, if it hangs on the opening.
const HANGS: f64 = 0.5;
/// Share of an area below which it counts as unchanged.
const SAME: f64 = 0.01;

/// What becomes of every opening of the older case: the newer case takes on the old openings, and what is
/// missed then is laid at the door of those openings on which it hangs.
pub(super) fn fates(old: &Case, new: &Case, budget: Budget, trouble: &mut Vec<String>) -> Vec<Fate> {
    let before = openings(old);
    let drawn = openings(new);
    let sized = size(new, budget.share(0.5), trouble);
    let mut carried = new.clone();
    for opening in &before {
        if let Some(place) = find(new, opening) {
            let share = drawn_share(&drawn, opening, &place);
            place.set(&mut carried, opening.area_m2 / share);
        }
    }
    let solved = solve(&carried, budget.share(0.1));
    let (solved, work) = solved.map_or((None, u64::MAX), |(conditions, work)| (Some(conditions), work));
    let tried = budget.share(0.4).times(work) >= before.len();
    if solved.is_none() {
        trouble.push(
            "the newer body with the old openings could not be solved, so that nothing is said of them"
                .to_string(),
        );
    }
    let missed = solved.as_deref().map_or(Vec::new(), |conditions| missed(new, conditions));
    if solved.is_some() && !missed.is_empty() && !tried {
        trouble.push(
            "the case is so large that what hangs on which opening was left out: all that is missed is laid at the door of each"
                .to_string(),
        );
    }
    let fate = |opening: &OpeningArea| {
        let now = drawn.iter().find(|known| known.passage == opening.passage && known.role == opening.role);
        let place = find(new, opening);
        let share = place.as_ref().map_or(1.0, |place| drawn_share(&drawn, opening, place));
        let anew = place.as_ref().and_then(|place| sized_area(new, place, &sized)).map(|area| area * share);
        let own: Vec<ConditionMargin> = match (&solved, &place) {
            (Some(_), Some(_)) if !missed.is_empty() && !tried => missed.clone(),
            (Some(conditions), Some(place)) if !missed.is_empty() => {
                hanging(&carried, conditions, place, opening.area_m2 / share, &missed)
            }
            _ => Vec::new(),
        };
        let fate = match (now, own.is_empty(), anew) {
            (None, _, _) => OpeningFate::Gone,
            (Some(_), true, _) => OpeningFate::Stays,
            (Some(_), false, Some(area)) if area > opening.area_m2 * (1.0 + SAME) => OpeningFate::MustGrow,
            (Some(_), false, Some(area)) if area < opening.area_m2 * (1.0 - SAME) => OpeningFate::MustShrink,
            (Some(_), false, Some(_)) => OpeningFate::Stays,
            // what is not free stays where it is once the others are right
            (Some(_), false, None) if !sized.is_empty() => OpeningFate::Stays,
            (Some(_), false, None) => OpeningFate::NotEnough,
        };
        Fate {
            passage: opening.passage.clone(),
            role: opening.role,
            pieces: opening.pieces,
            before_m2: opening.area_m2,
            drawn_m2: now.map(|known| known.area_m2),
            sized_m2: anew,
            fate,
            missed: if fate == OpeningFate::Stays { Vec::new() } else { own },
        }
    };
    before.par_iter().map(fate).collect()
}

/// The opening of a passage and a role in another case.
fn find(case: &Case, opening: &OpeningArea) -> Option<Opening> {
    let table = &case.passages[case.passage(&opening.passage)?];
    let role = match opening.role {
        OpeningRole::Exit => Role::Exit,
        OpeningRole::Inlet => Role::Inlet,
    };
    Opening::find(case, &opening.passage, Some(table.segment(table.first_of(role)?)))
}

/// Area of one among the areas that sizing found: by the passage's name, which stands for its first
/// opening, or by that of the element.
fn sized_area(case: &Case, place: &Opening, sized: &[(String, f64)]) -> Option<f64> {
    let table = &case.passages[place.passage];
    let found = sized.iter().find(|(name, _)| {
        *name == place.name || (*name == table.name && table.opening() == Some(place.element))
    });
    found.map(|(_, area)| *area)
}

/// Open area over the area as the case gives it: louvres.
fn drawn_share(drawn: &[OpeningArea], opening: &OpeningArea, place: &Opening) -> f64 {
    let known = drawn.iter().find(|known| known.passage == opening.passage && known.role == opening.role);
    known.map_or(1.0, |known| known.area_m2 / place.area())
}

/// Areas of one of each free opening when the newer case is sized anew; none where that cannot be.
fn size(new: &Case, budget: Budget, trouble: &mut Vec<String>) -> Vec<(String, f64)> {
    if new.size.is_none() {
        trouble.push(
            "the newer case has no [size], so that it is not said how much an opening must change"
                .to_string(),
        );
        return Vec::new();
    }
    match Sizing::new(new).and_then(|sizing| sizing.solve_within(budget)) {
        Ok(sized) if sized.sizes.feasible => sized.sizes.areas_m2.0,
        Ok(_) => {
            trouble.push("no sizes of the newer case reach the margins asked for within the bounds, so that none are given".to_string());
            Vec::new()
        }
        Err(error) => {
            trouble.push(format!("the newer case could not be sized: {error}"));
            Vec::new()
        }
    }
}

fn solve(case: &Case, budget: Budget) -> Option<(Vec<Condition>, u64)> {
    let model = Model::new(case).ok()?;
    let found = conditions::solved_within(case, &model, budget);
    found.unsolved.is_empty().then_some((found.conditions, found.work))
}

/// Margins that are missed in the conditions that count: those asked for in `[size]`, else the limits.
fn missed(new: &Case, conditions: &[Condition]) -> Vec<ConditionMargin> {
    let counts = counting(new);
    let asked = Sizing::new(new).ok();
    let mut missed = Vec::new();
    for condition in conditions.iter().filter(|condition| counts.contains(&condition.name)) {
        for (index, part) in condition.parts.iter().enumerate() {
            let kept = match &asked {
                Some(sizing) => sizing.reaches(index, part),
                None => part.temperature_margin_K >= 0.0,
            };
            if !kept {
                missed.push(ConditionMargin {
                    part: part.name.clone(),
                    condition: condition.name.clone(),
                    temperature_margin_K: part.temperature_margin_K,
                });
            }
        }
    }
    missed
}

/// Of what is missed, that which moves when the opening is made a little larger.
fn hanging(
    carried: &Case,
    conditions: &[Condition],
    place: &Opening,
    area: f64,
    missed: &[ConditionMargin],
) -> Vec<ConditionMargin> {
    let mut larger = carried.clone();
    place.set(&mut larger, area * TRIED);
    let whole = Budget::seconds(seconds::CHECK);
    let Some((moved, _)) = solve(&larger, whole) else { return missed.to_vec() };
    let margin = |conditions: &[Condition], at: &ConditionMargin| {
        let condition = conditions.iter().find(|known| known.name == at.condition)?;
        condition
            .parts
            .iter()
            .find(|part: &&PartResult| part.name == at.part)
            .map(|part| part.temperature_margin_K)
    };
    let hangs = |at: &&ConditionMargin| match (margin(conditions, at), margin(&moved, at)) {
        (Some(was), Some(is)) => (is - was).abs() >= HANGS,
        _ => true,
    };
    missed.iter().filter(hangs).cloned().collect()
}
