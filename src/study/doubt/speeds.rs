//! The doubt about road speeds: a sweep, and the worst points of a search.

use crate::case::Case;
use crate::draws::doubt::{Doubt, band};
use crate::draws::tally::{Moments, draws_at};
use crate::draws::{Guesses, TallyWanted};
use crate::point::counted::{Counted, DrivingPoint};
use crate::point::speeds::Geared;
use crate::point::{Model, budget};
use crate::study::everywhere::result::WorstPoint;
use crate::study::sweep::result::{Sweep, SweepPoint};

/// Speeds at which a sweep is drawn, about: even steps, the ends of every gear, and the lowest point of each part.
const SPEEDS: usize = 32;

/// Work of one draw at the speeds of a sweep, about: each point lies beside the one before.
pub fn work_of_speeds(case: &Case, model: &Model) -> u64 {
    budget::making(case) + SPEEDS as u64 * budget::beside(case, model)
}

/// The doubt about a sweep, written beside the margins of some of its points; none where nothing is drawn. `told`
/// hears the share of the most draws that is done, and says whether to go on.
pub fn of_sweep(
    case: &Case,
    sweep: &mut Sweep,
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Doubt> {
    if case.parts.is_empty() {
        return None;
    }
    let chosen = chosen(sweep);
    let moment = |index: &usize| {
        let point = &sweep.points[*index];
        Counted::Sweep(Geared { speed: point.speed_m_s, gear: point.gear, rpm: point.rpm, load: point.load })
    };
    let guesses = Guesses::of(case);
    let moments = Moments::all_of(chosen.iter().map(moment).collect());
    let tally = draws_at(&moments, case, &guesses, wanted, told)?;
    let doubt = Doubt::at(&moments, case, &guesses, &tally);
    let parts = case.parts.len();
    for (index, row) in chosen.iter().enumerate() {
        let found = tally.margins.iter().zip(&tally.part_holds).skip(index * parts);
        for ((_, part), (found, holds)) in sweep.points[*row].parts.0.iter_mut().zip(found) {
            // a store of heat without a limit has no margin
            if !part.temperature_margin_K.is_finite() {
                continue;
            }
            part.margin_band_K = doubt.least_K.map(|_| band(found));
            part.likelihood = Some(*holds as f64 / tally.draws.max(1) as f64);
        }
    }
    Some(doubt)
}

/// The doubt about the worst points of a search, written beside their margins: how often every part holds at all of
/// them. They are the worst with the values taken; another car's may lie elsewhere. None where nothing is drawn.
pub fn of_worst(
    case: &Case,
    points: &mut [WorstPoint],
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Doubt> {
    let moment = |point: &WorstPoint| {
        Counted::Driven(DrivingPoint {
            point: Geared { speed: point.speed_m_s, gear: point.gear, rpm: point.rpm, load: point.load },
            clear_air: point.clear_air,
            day: point.day_of,
            load: None,
        })
    };
    let guesses = Guesses::of(case);
    let moments = Moments::all_of(points.iter().map(moment).collect());
    let tally = draws_at(&moments, case, &guesses, wanted, told)?;
    let doubt = Doubt::at(&moments, case, &guesses, &tally);
    for (index, point) in points.iter_mut().enumerate() {
        let Some(part) = case.part(&point.part) else { continue };
        let place = index * case.parts.len() + part;
        point.margin_band_K = doubt.least_K.map(|_| band(&tally.margins[place]));
        point.likelihood = Some(tally.part_holds[place] as f64 / tally.draws.max(1) as f64);
    }
    // they stand with the conditions
    Some(Doubt { inputs: Vec::new(), ..doubt })
}

/// Points of a sweep at which it is drawn, in order.
fn chosen(sweep: &Sweep) -> Vec<usize> {
    let points = &sweep.points;
    let step = points.len().div_ceil(SPEEDS).max(1);
    let lowest = |point: &SweepPoint| sweep.lowest.iter().any(|(_, low)| low.speed_m_s == point.speed_m_s);
    let is_end = |index: usize| {
        let gear = |other: Option<&SweepPoint>| other.map(|point| point.gear);
        let here = Some(points[index].gear);
        let before = index.checked_sub(1).and_then(|before| points.get(before));
        gear(before) != here || gear(points.get(index + 1)) != here
    };
    (0..points.len()).filter(|index| index % step == 0 || is_end(*index) || lowest(&points[*index])).collect()
}
