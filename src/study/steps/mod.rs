//! Cutting in steps: which line next, what is then to be read, and when to stop.
//!
//! | file | what it does |
//! | --- | --- |
//! | `way` | the sizes from line to line, where margins fall before they rise, and what a line costs and buys |
//! | `drawn` | many cars at one set of sizes: where it may be driven, what instruments show |
//! | `rule` | which readings say stop |
//! | `result` | the shape of what is found |

mod drawn;
pub mod result;
mod rule;
mod way;

use super::size::Sized;
use super::templates::result::{Template, Templates};
use crate::case::Case;
use crate::draws::lanes::DrawsWithin;
use drawn::StepFleet;
use result::{CutStep, Steps};
use way::Station;

/// Draws at each line.
pub const DRAWS: usize = 512;
/// Share of the draws in which all parts must hold where it is to be driven: 19 in 20.
const DRIVEN: f64 = 0.95;

/// There are no lines to go along.
#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("there are no lines to cut along: nothing in the case is guessed, or its work is too much for draws")]
pub struct NoLines;

/// The steps from the first line of the templates to the last.
///
/// # Errors
/// [`NoLines`]
pub fn steps(case: &Case, sized: &Sized, cut: &Templates, wanted: DrawsWithin) -> Result<Steps, NoLines> {
    if !cut.by_draws {
        return Err(NoLines);
    }
    let way = way::StepWay::new(case, sized, cut);
    let traps = way.traps();
    let mut list: Vec<CutStep> = Vec::new();
    let count = way.stations.len();
    let each = DrawsWithin { within: wanted.within.each_of(count), ..wanted };
    let mut draws = wanted.draws;
    for (index, station) in way.stations.iter().enumerate() {
        let last = index + 1 == count;
        let (mut step, made) = step(&way, sized, station, list.last(), each);
        draws = made.map_or(draws, |made| draws.min(made));
        // how often is told by the draws of sizing, where they were made at this line, as on every other screen
        step.all_hold = cut.meaning(station.line).and_then(|meaning| meaning.all_hold).or(step.all_hold);
        let trough = traps.iter().any(|trap| way.lies_within(station, trap));
        if !last && (trough || way.worse_than_before(index)) {
            step.jumped = Some("it lies where margins fall before they rise: on to the next at once");
        } else if !last && step.driven.is_empty() && step.stop.is_none() {
            step.jumped = Some(
                "in more than 1 of 20 draws something is over its limit wherever it is driven: on to the next at once, or stand and measure",
            );
        }
        list.push(step);
    }
    Ok(Steps {
        order: order(cut),
        steps: list,
        traps,
        hand_cut: sized.sizes.hand_cut.clone(),
        draws,
        can_be_done: sized.sizes.feasible,
        hopeless: cut.hopeless,
    })
}

/// Openings in the order in which they are cut at each step: exits before inlets, the largest first.
fn order(cut: &Templates) -> Vec<String> {
    let mut openings: Vec<_> = cut.openings.iter().filter(|opening| opening.lines.len() > 1).collect();
    let area =
        |opening: &Template| opening.lines.last().map_or(0.0, |line| line.area_m2 * opening.pieces as f64);
    openings.sort_by(|a, b| b.role.cmp(&a.role).then(area(b).total_cmp(&area(a))));
    openings.iter().map(|opening| opening.opening.clone()).collect()
}

/// A step, and how many draws were made at its line.
fn step(
    way: &way::StepWay,
    sized: &Sized,
    station: &Station,
    before: Option<&CutStep>,
    wanted: DrawsWithin,
) -> (CutStep, Option<usize>) {
    let found = StepFleet::new(station, sized, wanted).map(|fleet| fleet.look());
    let all_hold = found.as_ref().map(|found| found.all_hold);
    let made = found.as_ref().map(|found| found.draws);
    let (driven, kept_from, readings, settles_s, stop) = match found {
        Some(found) => (found.driven, found.kept, found.readings, found.settles_s, found.stop),
        None => (Vec::new(), Vec::new(), Vec::new(), None, None),
    };
    let step = CutStep {
        line: station.line,
        cuts: station.cuts.clone(),
        open_area_m2: station.area,
        more_area_m2: before.map(|before| station.area - before.open_area_m2),
        least_K: station.least.as_ref().map(|least| least.0),
        part: station.least.as_ref().map(|least| least.1.clone()),
        condition: station.least.as_ref().map(|least| least.2.clone()),
        more_K: before.and_then(|before| Some(station.least.as_ref()?.0 - before.least_K?)),
        drag_N: station.drag,
        drag_at: way.drag_at(),
        more_drag_N: before.and_then(|before| Some(station.drag? - before.drag_N?)),
        all_hold,
        driven,
        kept_from,
        readings,
        settles_s,
        stop,
        jumped: None,
        set: station.settings.clone(),
    };
    (step, made)
}
