//! Inlets needed against exit area: the smallest exits that will do, the knee, the end of all gain.

use super::result::ExitPoint;
use super::state::{ExitState, observe};
use super::{Study, WorkDone};
use crate::case::Case;
use crate::point::Model;
use crate::point::result::{ByName, ConditionMargin};
use crate::study::size::inlets::{InletFit, Wide};
use rayon::prelude::*;

/// Exit areas of the first look, far below to far above what is drawn.
const LOOK: usize = 18;
/// Exit areas looked at, at least.
const FEWEST: usize = 4;
/// The gain of larger exits that is next to nothing, as a share of the inlets needed.
const NEXT_TO_NOTHING: f64 = 0.05;
/// The same in kelvin, where no inlets will do.
const NEXT_TO_NO_KELVIN: f64 = 1.0;
/// No exits are looked at whose area in all passes this (m²).
const LARGEST: f64 = 3.0;
/// Relative width to which an end of what can be done is closed in.
const CLOSE: f64 = 2e-4;

/// Steps of work that the trade takes.
pub(super) fn steps(points: usize) -> usize {
    LOOK + 2 * points + 4
}

/// An exit area and the inlets that go with it.
pub(super) type ExitWithInlets = (f64, InletFit);

/// What the trade found.
pub(super) struct Trade {
    pub points: Vec<ExitPoint>,
    /// Inlets for the exits as drawn.
    pub drawn: Option<InletFit>,
    pub smallest: Option<ExitWithInlets>,
    pub largest: Option<f64>,
    /// What lies beyond the largest.
    pub beyond: Option<Beyond>,
    pub knee: Option<ExitWithInlets>,
    pub pointless: Option<f64>,
    /// The best that was found a little below the smallest exits that will do, or anywhere if there are none.
    pub short: Option<ExitWithInlets>,
    /// Whether larger exits need larger inlets again.
    pub rises: bool,
    /// Areas looked at.
    pub range: (f64, f64),
}

/// Why no inlets do for exits larger than the largest that are safe.
pub(super) enum Beyond {
    /// The case is refused there, for this reason.
    Refused(String),
    /// No steady state was found.
    Unsolved,
    /// Margins are short there, however the inlets are sized: the best that was found.
    Short(ExitWithInlets),
}

fn geometric(low: f64, high: f64, count: usize) -> Vec<f64> {
    if high <= low * (1.0 + 1e-9) {
        return vec![low];
    }
    let steps = (count.max(2) - 1) as f64;
    (0..count.max(2)).map(|i| low * (high / low).powf(i as f64 / steps)).collect()
}

/// Areas of the re-sized inlets at a point.
pub(super) fn areas(study: &Study, point: &[f64]) -> ByName<f64> {
    let groups = study.sizing.groups().zip(point);
    ByName(groups.flat_map(|((group, _), x)| group.iter().map(|m| (m.name.clone(), x.exp()))).collect())
}

/// A point of the trade.
pub(super) fn point(study: &Study, area: f64, fit: Option<&InletFit>, state: &ExitState) -> ExitPoint {
    let outcome = state.outcome(study.case);
    let fits = fit.filter(|fit| fit.feasible());
    let worst = state.worst();
    ExitPoint {
        exit_area_m2: area,
        inlet_area_m2: fits.map(|fit| fit.area),
        least_margin: outcome.least_margin,
        least_temperature_margin_K: outcome.least_temperature_margin_K,
        nearest: ConditionMargin {
            part: outcome.part,
            condition: outcome.condition,
            temperature_margin_K: outcome.least_temperature_margin_K,
        },
        part: study.case.parts.get(state.worst_part()).map_or(String::new(), |part| part.name.clone()),
        condition: worst.condition.label(study.case),
        cooling_drag_N: state.drag(study.drag_at),
        bay_pressure_Pa: state.bay().map(|bay| bay.0),
        bay_temperature_C: state.bay().map(|bay| bay.1),
        feasible: fits.is_some(),
        reached_as_drawn: outcome.reached,
        inlets_m2: fits.map(|fit| areas(study, &fit.point)),
    }
}

/// The trade at about so many exit areas, fewer where the work would be too much.
pub(super) fn trade(study: &Study, points: usize, work: &WorkDone) -> Trade {
    let meter = &study.meter;
    let drawn_area = study.exits.area;
    let drawn = study.fit(drawn_area, Wide::Sure, &[], meter.cap(1));
    work.step();
    let most = (16.0 * drawn_area).max(8.0 * study.inlets.area).min(LARGEST).max(1.5 * drawn_area);
    let most = most.max(study.exits.least.0).min(study.exits.most.0);
    let least = (drawn_area / 8.0).max(study.exits.least.0).min(most);
    let look = geometric(least, most, LOOK.min(meter.fits_within(0.35)).max(FEWEST));
    let cap = meter.cap(look.len());
    let first: Vec<Option<InletFit>> = look
        .par_iter()
        .map(|area| {
            let found = study.fit(*area, Wide::Sure, &[], cap);
            work.step();
            found
        })
        .collect();
    let first: Vec<(f64, Option<InletFit>)> = look.into_iter().zip(first).collect();
    let range = range(study, &first);
    let areas = areas_of(&first, range, points.min(meter.fits_within(0.4)).max(FEWEST));
    let near = |area: f64| -> Vec<&InletFit> {
        let below = first.iter().rfind(|(a, _)| *a <= area).and_then(|(_, fit)| fit.as_ref());
        let above = first.iter().find(|(a, _)| *a > area).and_then(|(_, fit)| fit.as_ref());
        below.into_iter().chain(above).collect()
    };
    let cap = meter.cap(areas.len());
    let fits: Vec<Option<InletFit>> = areas
        .par_iter()
        .map(|area| {
            let neighbours = near(*area);
            let agree = neighbours.iter().all(|f| f.feasible() == neighbours[0].feasible());
            // where both fall short, the way on from the one nearer to what is asked for
            let short = agree && neighbours.iter().any(|fit| !fit.feasible());
            let nearest =
                neighbours.iter().copied().reduce(|a, b| if b.violation < a.violation { b } else { a });
            let kept = if short { nearest.into_iter().collect() } else { neighbours };
            let more: Vec<Vec<f64>> = kept.iter().map(|fit| fit.point.clone()).collect();
            let found = study.fit(*area, if agree { Wide::No } else { Wide::Yes }, &more, cap);
            work.step();
            found
        })
        .collect();
    let fits = if meter.fits_within(0.3) < areas.len() { fits } else { mended(study, &areas, fits) };
    let states: Vec<Option<ExitState>> = areas
        .par_iter()
        .map(|area| {
            let state = study.state_of(&study.with_exits(*area));
            work.step();
            state
        })
        .collect();
    let mut all: Vec<(f64, Option<InletFit>)> = areas.iter().copied().zip(fits.iter().cloned()).collect();
    all.extend(first);
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.dedup_by(|a, b| a.0 == b.0);
    let (smallest, short) = smallest(study, &all);
    let (largest, beyond) = largest(study, &all);
    let knee = knee(study, &all, smallest.as_ref());
    let pointless = pointless(study, &all, &areas, &states, knee.as_ref().map(|knee| knee.0));
    let need = |entry: &&(f64, Option<InletFit>)| entry.1.as_ref().map_or(f64::INFINITY, |fit| fit.area);
    let least = all.iter().filter(|e| can(e)).map(|e| need(&e)).fold(f64::INFINITY, f64::min);
    let rises = all.iter().rfind(|e| can(e)).is_some_and(|last| need(&last) > 1.01 * least);
    let solved = areas.iter().zip(&fits).zip(&states);
    let mut points: Vec<ExitPoint> = solved
        .filter_map(|((area, fit), state)| Some(point(study, *area, fit.as_ref(), state.as_ref()?)))
        .collect();
    // the ends of what can be done, and the knee, are points too
    let named = smallest.iter().chain(&largest).chain(&knee);
    points.extend(named.filter_map(|(area, fit)| {
        Some(point(study, *area, Some(fit), &study.state_of(&study.with_exits(*area))?))
    }));
    points.sort_by(|a, b| a.exit_area_m2.total_cmp(&b.exit_area_m2));
    points.dedup_by(|a, b| a.exit_area_m2 == b.exit_area_m2);
    let largest = largest.map(|(area, _)| area);
    Trade { points, drawn, smallest, largest, beyond, knee, pointless, short, rises, range }
}

/// From exits too small to exits larger than is of use, the case as drawn within.
fn range(study: &Study, first: &[(f64, Option<InletFit>)]) -> (f64, f64) {
    let drawn = study.exits.area;
    let can: Vec<&(f64, Option<InletFit>)> =
        first.iter().filter(|(_, fit)| fit.as_ref().is_some_and(InletFit::feasible)).collect();
    let need = |entry: &(f64, Option<InletFit>)| entry.1.as_ref().map_or(f64::INFINITY, |fit| fit.area);
    let least = can.iter().map(|entry| need(entry)).fold(f64::INFINITY, f64::min);
    let enough = can.iter().find(|entry| need(entry) <= (1.0 + NEXT_TO_NOTHING) * least).map(|e| e.0);
    let (begins, ends) = (can.first().map(|e| e.0), can.last().map(|e| e.0));
    let end = first.last().map_or(drawn, |e| e.0);
    let low = 0.4 * begins.unwrap_or(drawn).min(drawn).max(first[0].0);
    let high = match (enough, ends) {
        // where larger exits do harm again, past that
        (Some(enough), Some(ends)) if ends < end => (1.4 * ends).max(enough),
        (Some(enough), _) => 1.25 * enough,
        _ => 6.0 * drawn,
    };
    let high = high.max(1.6 * drawn).min(end.max(1.6 * drawn)).min(study.exits.most.0);
    (low.max(study.exits.least.0).min(high), high)
}

/// Half of the areas over the whole range, half where the inlets needed change most.
fn areas_of(first: &[(f64, Option<InletFit>)], range: (f64, f64), points: usize) -> Vec<f64> {
    let begins = first.iter().position(can);
    let Some(begins) = begins else { return geometric(range.0, range.1, points) };
    let from = first[begins.saturating_sub(1)].0.max(range.0);
    let ends = first.iter().rposition(can).map_or(range.1, |end| first[(end + 1).min(first.len() - 1)].0);
    let to = ends.min(3.0 * from).min(range.1);
    let mut areas = geometric(range.0, range.1, points - points / 2);
    areas.extend(geometric(from, to, points / 2).into_iter().filter(|area| area.is_finite()));
    areas.sort_by(f64::total_cmp);
    areas.dedup_by(|a, b| (*a / *b - 1.0).abs() < 1e-3);
    areas
}

/// Points that stand out for the worse tried again from their neighbours.
fn mended(study: &Study, areas: &[f64], fits: Vec<Option<InletFit>>) -> Vec<Option<InletFit>> {
    let cap = study.meter.cap(areas.len());
    let again = |index: usize| -> Option<InletFit> {
        let around = [index.checked_sub(1), Some(index + 1)];
        let around: Vec<&InletFit> = around
            .into_iter()
            .flatten()
            .filter_map(|i| fits.get(i)?.as_ref())
            .filter(|f| f.feasible())
            .collect();
        let largest = around.iter().map(|fit| fit.area).fold(0.0, f64::max);
        let own = fits[index].as_ref();
        let odd = own.is_none_or(|own| !own.feasible() || (around.len() == 2 && own.area > 1.01 * largest));
        if around.is_empty() || !odd {
            return None;
        }
        let starts: Vec<Vec<f64>> = around.iter().map(|fit| fit.point.clone()).collect();
        let better = study.fit(areas[index], Wide::No, &starts, cap)?;
        let is_better = own.is_none_or(|own| {
            better.feasible() && (!own.feasible() || better.area < own.area)
                || !own.feasible() && better.violation < own.violation
        });
        is_better.then_some(better)
    };
    let better: Vec<Option<InletFit>> = (0..areas.len()).into_par_iter().map(again).collect();
    better.into_iter().zip(fits).map(|(better, own)| better.or(own)).collect()
}

fn can(entry: &(f64, Option<InletFit>)) -> bool {
    entry.1.as_ref().is_some_and(InletFit::feasible)
}

/// Closes in on the end of what can be done between an area at which it can and one at which it
/// cannot. With it, the last area at which it cannot, and the best that was found there.
fn end_between(
    study: &Study,
    good: ExitWithInlets,
    bad: (f64, Option<InletFit>),
) -> (ExitWithInlets, (f64, Option<InletFit>)) {
    let (mut good, mut bad) = (good, bad);
    // what does not do from the inlets beside it may do from others
    for _ in 0..3 {
        while (bad.0 / good.0).ln().abs() > CLOSE && !study.meter.left().is_spent() {
            let middle = (good.0 * bad.0).sqrt();
            let found = study.fit(middle, Wide::No, std::slice::from_ref(&good.1.point), study.meter.cap(40));
            match found {
                Some(fit) if fit.feasible() => good = (middle, fit),
                other => bad = (middle, other),
            }
        }
        let more: Vec<Vec<f64>> =
            bad.1.iter().map(|fit| fit.point.clone()).chain([good.1.point.clone()]).collect();
        let sure = study.fit(bad.0, Wide::Sure, &more, study.meter.cap(4));
        match sure {
            Some(fit) if fit.feasible() => {
                // back to the nearest area that nothing is known to do for
                let further = bad.0 * bad.0 / good.0;
                good = (bad.0, fit);
                bad = (further, None);
            }
            other => {
                bad.1 = other;
                break;
            }
        }
    }
    (good, bad)
}

fn smallest(
    study: &Study,
    all: &[(f64, Option<InletFit>)],
) -> (Option<ExitWithInlets>, Option<ExitWithInlets>) {
    let best_short = || {
        let fits = all.iter().filter_map(|(area, fit)| Some((*area, fit.clone()?)));
        fits.reduce(|best, here| if here.1.violation < best.1.violation { here } else { best })
    };
    let Some(at) = all.iter().position(can) else { return (None, best_short()) };
    let Some(fit) = all[at].1.clone() else { return (None, best_short()) };
    let good = (all[at].0, fit);
    // where the smallest exits looked at will do, there is no end to close in on
    let Some(before) = at.checked_sub(1) else { return (Some(good), None) };
    let (good, (area, short)) = end_between(study, good, all[before].clone());
    (Some(good), short.map(|fit| (area, fit)))
}

fn largest(study: &Study, all: &[(f64, Option<InletFit>)]) -> (Option<ExitWithInlets>, Option<Beyond>) {
    let found = || {
        let at = all.iter().rposition(can)?;
        let bad = all.get(at + 1)?.clone();
        Some(end_between(study, (all[at].0, all[at].1.clone()?), bad))
    };
    let Some((good, (area, short))) = found() else { return (None, None) };
    let beyond = match (Model::new(&study.with_exits(area)), short) {
        (Err(faults), _) => {
            Beyond::Refused(faults.list().first().map_or(String::new(), |fault| fault.message.clone()))
        }
        (Ok(_), Some(fit)) => Beyond::Short((area, fit)),
        (Ok(_), None) => Beyond::Unsolved,
    };
    (Some(good), Some(beyond))
}

/// Where exit and inlet area together are least, by golden sections of the logarithm.
fn knee(
    study: &Study,
    all: &[(f64, Option<InletFit>)],
    smallest: Option<&ExitWithInlets>,
) -> Option<ExitWithInlets> {
    let smallest = smallest?.clone();
    let mut fitted: Vec<ExitWithInlets> = vec![smallest.clone()];
    fitted.extend(
        all.iter().filter(|e| can(e) && e.0 > smallest.0).filter_map(|(a, fit)| Some((*a, fit.clone()?))),
    );
    let total = |f: &ExitWithInlets| f.0 + f.1.area;
    if study.inlets.members.is_empty() {
        return Some(smallest);
    }
    let at = (0..fitted.len()).reduce(|a, b| if total(&fitted[b]) < total(&fitted[a]) { b } else { a })?;
    let mut best = fitted[at].clone();
    let (mut low, mut high) =
        (fitted[at.saturating_sub(1)].0.ln(), fitted[(at + 1).min(fitted.len() - 1)].0.ln());
    let golden = 0.5 * (3.0 - 5.0_f64.sqrt());
    let try_at = |x: f64, from: &ExitWithInlets| -> Option<ExitWithInlets> {
        let near = std::slice::from_ref(&from.1.point);
        let found = study.fit(x.exp(), Wide::No, near, study.meter.cap(20))?;
        found.feasible().then(|| (x.exp(), found))
    };
    let (mut a, mut b) = (low + golden * (high - low), high - golden * (high - low));
    let (mut at_a, mut at_b) = (try_at(a, &best), try_at(b, &best));
    let value = |f: &Option<ExitWithInlets>| f.as_ref().map_or(f64::INFINITY, total);
    while high - low > 2e-3 && !study.meter.left().is_spent() {
        for found in [&at_a, &at_b].into_iter().flatten() {
            if total(found) < total(&best) {
                best = found.clone();
            }
        }
        if value(&at_a) <= value(&at_b) {
            (high, b, at_b) = (b, a, at_a);
            a = low + golden * (high - low);
            at_a = try_at(a, &best);
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = high - golden * (high - low);
            at_b = try_at(b, &best);
        }
    }
    Some(best)
}

/// From where on larger exits gain next to nothing: the inlets needed stay within 5 % of the least that
/// any exits need; or, where no inlets will do, the margin as drawn within 1 K of the best.
fn pointless(
    study: &Study,
    all: &[(f64, Option<InletFit>)],
    areas: &[f64],
    states: &[Option<ExitState>],
    knee: Option<f64>,
) -> Option<f64> {
    let fits: Vec<(f64, f64)> =
        all.iter().filter(|e| can(e)).filter_map(|(area, fit)| Some((*area, fit.as_ref()?.area))).collect();
    let first_within = |list: &[(f64, f64)], bound: f64| -> Option<f64> {
        let at = list.iter().position(|(_, value)| *value <= bound)?;
        let (area, value) = list[at];
        let Some((before, above)) = at.checked_sub(1).map(|i| list[i]) else { return Some(area) };
        // between the two straight in the logarithm of the area
        let share = (above - bound) / (above - value);
        Some(before * (area / before).powf(share))
    };
    if fits.is_empty() || study.inlets.members.is_empty() {
        let kelvin: Vec<(f64, f64)> = areas
            .iter()
            .zip(states)
            .filter_map(|(area, state)| Some((*area, -state.as_ref()?.least_kelvin().0)))
            .collect();
        let best = kelvin.iter().map(|k| k.1).fold(f64::INFINITY, f64::min);
        return first_within(&kelvin, best + NEXT_TO_NO_KELVIN);
    }
    let least = fits.iter().map(|f| f.1).fold(f64::INFINITY, f64::min);
    first_within(&fits, (1.0 + NEXT_TO_NOTHING) * least).map(|area| area.max(knee.unwrap_or(0.0)))
}

/// The openings that the rest is reckoned with: those drawn where they reach what is asked for, else
/// those of the knee, else those drawn.
pub(super) struct Design {
    pub case: Case,
    pub exit_area: f64,
    pub as_drawn: bool,
    pub state: ExitState,
}

impl Design {
    pub fn of(study: &Study, trade: &Trade, drawn: &ExitState) -> Design {
        let as_drawn = || Design {
            case: study.case.clone(),
            exit_area: study.exits.area,
            as_drawn: true,
            state: drawn.clone(),
        };
        let Some((area, fit)) = trade.knee.as_ref().filter(|_| !drawn.reached()) else { return as_drawn() };
        let mut case = study.with_exits(*area);
        study.sizing.put(&mut case, &fit.point);
        match observe(&case, &study.sizing, study.bay, &study.meter) {
            Some(state) => Design { case, exit_area: *area, as_drawn: false, state },
            None => as_drawn(),
        }
    }
}
