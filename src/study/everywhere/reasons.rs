//! What makes a point the worst: each of speed, gear, load, clear air and day put right on its own.

use super::bounds::SearchBounds;
use super::probe::{PartAtPoint, Probe, SearchPoint};
use super::result::{PointAxis, Reason};
use crate::air::ZERO_CELSIUS;
use crate::keys::figures;

/// Kelvins below which something does not count as a reason.
const COUNTS: f64 = 0.5;
/// Step of load in which the first one that is too much is sought.
const LOAD_STEP: f64 = 0.02;
/// Share of load to which it is found.
const LOAD_FOUND: f64 = 1e-4;

/// The reasons of a part's worst point, the largest first.
pub(super) fn reasons(
    bounds: &SearchBounds,
    probe: &mut Probe,
    part: usize,
    point: &SearchPoint,
    mark: &PartAtPoint,
) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let mut best_of = |what, here: String, others: Vec<(SearchPoint, String)>| {
        let mut best: Option<Reason> = None;
        for (other, instead) in others {
            let Some(there) = probe.look_at(&other, part) else { continue };
            let gain = there.kelvin - mark.kelvin;
            if gain >= COUNTS && best.as_ref().is_none_or(|known| gain > known.gain_K) {
                best = Some(Reason { what, here: here.clone(), instead, gain_K: gain });
            }
        }
        reasons.extend(best);
    };
    let gear = &bounds.gears[point.gear];

    let ends = [gear.speed.0, gear.speed.1].into_iter().filter(|end| *end != point.speed);
    let others = ends
        .map(|end| (SearchPoint { speed: end, ..*point }, format!("{} in that gear", figures::speed(end))));
    best_of(PointAxis::Speed, speed_in_words(bounds, point), others.collect());

    let others = bounds.gears.iter().enumerate().filter(|(index, other)| {
        *index != point.gear && (other.speed.0..=other.speed.1).contains(&point.speed)
    });
    let others = others.map(|(index, g)| {
        (SearchPoint { gear: index, ..*point }, format!("gear {} at that speed", g.number))
    });
    best_of(PointAxis::Gear, format!("gear {}", gear.number), others.collect());

    let load =
        |load: f64| if load >= 0.9995 { "full load".into() } else { format!("{:.0} % load", 100.0 * load) };
    let others = [bounds.load.0, bounds.load.1].into_iter().filter(|end| *end != point.load);
    let others = others.map(|end| (SearchPoint { load: end, ..*point }, load(end)));
    best_of(PointAxis::Load, load(point.load), others.collect());

    let air = |share: f64| {
        if share == 1.0 {
            "clear air".into()
        } else {
            format!("the air of another car ({:.0} % of the ram left)", 100.0 * share)
        }
    };
    let others = [bounds.clear_air.0, bounds.clear_air.1].into_iter().filter(|end| *end != point.clear_air);
    let others = others.map(|end| (SearchPoint { clear_air: end, ..*point }, air(end)));
    best_of(PointAxis::ClearAir, air(point.clear_air), others.collect());

    let day = |index: usize| {
        let day = &bounds.days[index];
        format!("{} ({:.0} °C)", day.name, day.air.temperature - ZERO_CELSIUS)
    };
    let others = (0..bounds.days.len()).filter(|index| *index != point.day);
    let others = others.map(|index| (SearchPoint { day: index, ..*point }, day(index)));
    best_of(PointAxis::Day, day(point.day), others.collect());

    reasons.sort_by(|a, b| b.gain_K.total_cmp(&a.gain_K));
    reasons
}

fn speed_in_words(bounds: &SearchBounds, point: &SearchPoint) -> String {
    let gear = &bounds.gears[point.gear];
    let by = |by_engine: bool, of_engine: String, asked: &str| {
        if by_engine { of_engine } else { asked.to_string() }
    };
    if point.speed == gear.speed.0 {
        by(
            gear.by_engine.0,
            format!("the slowest speed at which gear {} is used", gear.number),
            "the slowest speed searched",
        )
    } else if point.speed == gear.speed.1 {
        by(
            gear.by_engine.1,
            format!("the fastest speed at which gear {} is used", gear.number),
            "the fastest speed searched",
        )
    } else {
        format!("{:.1} km/h, where a little slower and a little faster are both better", point.speed * 3.6)
    }
}

/// Where a margin is missed: the load up to which it is met, all else alike; none where it is met, and
/// where not even an engine without load would do.
pub(super) fn met_up_to_load(
    probe: &mut Probe,
    part: usize,
    point: &SearchPoint,
    mark: &PartAtPoint,
) -> Option<f64> {
    if !mark.missed() {
        return None;
    }
    let mut met =
        |load: f64| probe.look_at(&SearchPoint { load, ..*point }, part).is_some_and(|mark| !mark.missed());
    let steps = (point.load / LOAD_STEP).ceil().max(1.0) as usize;
    let first = (0..=steps).map(|i| point.load * i as f64 / steps as f64).find(|load| !met(*load))?;
    if first == 0.0 {
        return None;
    }
    let (mut low, mut high) = (first - point.load / steps as f64, first);
    while high - low > LOAD_FOUND {
        let middle = 0.5 * (low + high);
        *(if met(middle) { &mut low } else { &mut high }) = middle;
    }
    Some(low)
}
