//! The trade against the pressure where the exits lie.

use super::holes::pressure_of;
use super::result::{PressurePoint, PressureTrade};
use super::state::{ExitState, observe};
use super::trade::Design;
use super::{Study, WorkDone};
use crate::case::{Case, tables as t};
use crate::element::size::PLACE;
use crate::keys::NumberId;
use crate::keys::figures::area;
use crate::point::opening::Opening;
use crate::study::size::Sizing;
use crate::study::size::inlets::{InletFit, MET_WITHIN, Wide};
use rayon::prelude::*;

/// Steps of work for one place.
pub(super) const STEPS: usize = 17;
/// What a step of the pressure coefficient is.
const STEP: f64 = 0.05;
/// The accepted range of a pressure coefficient.
const RANGE: (f64, f64) = (-2.0, 1.0);
/// Exits are not looked at beyond so many times their area.
const MOST_LARGER: f64 = 16.0;
/// Closeness of a coefficient.
const CLOSE: f64 = 1e-4;

/// The numbers that say the pressure at the exits, with the exits there.
pub(super) fn places<'s>(study: &'s Study) -> Vec<(NumberId, Vec<&'s Opening>)> {
    let mut places: Vec<(NumberId, Vec<&Opening>)> = Vec::new();
    for exit in &study.exits.members {
        let Some(id) = pressure_of(study.case, exit) else { continue };
        match places.iter_mut().find(|place| place.0 == id) {
            Some(place) => place.1.push(exit),
            None => places.push((id, vec![exit])),
        }
    }
    places
}

struct ProbePoint<'s, 'c> {
    study: &'s Study<'c>,
    design: &'s Design,
    id: NumberId,
}

impl ProbePoint<'_, '_> {
    fn case(&self, coefficient: f64) -> Case {
        let mut case = self.design.case.clone();
        case.numbers.set(self.id, coefficient);
        case
    }

    fn state(&self, case: &Case) -> Option<ExitState> {
        observe(case, &self.study.sizing, self.study.bay, &self.study.meter)
    }

    fn left(&self, coefficient: f64) -> f64 {
        self.state(&self.case(coefficient)).map_or(f64::NEG_INFINITY, |state| state.left())
    }

    /// Inlets re-sized to a coefficient, the exits unchanged.
    fn fit(&self, coefficient: f64) -> Option<InletFit> {
        let case = self.case(coefficient);
        let as_drawn = Sizing::of_inlets_within(&case, &self.study.sizing).as_drawn();
        let cap = self.study.meter.cap(2 * STEPS);
        let fit =
            |wide, more: &[Vec<f64>]| self.study.fit_case(&case, wide, more, cap).filter(InletFit::feasible);
        fit(Wide::No, &[as_drawn]).or_else(|| fit(Wide::Yes, &[]))
    }

    /// The same from inlets that do at a coefficient near by.
    fn fit_from(&self, coefficient: f64, near: &InletFit) -> Option<InletFit> {
        let case = self.case(coefficient);
        let cap = self.study.meter.cap(2 * STEPS);
        let near = std::slice::from_ref(&near.point);
        self.study.fit_case(&case, Wide::No, near, cap).filter(InletFit::feasible)
    }

    /// The highest coefficient from `from` on up to which `holds`; none where it always does.
    fn highest(&self, from: f64, holds: impl Fn(f64) -> bool) -> Option<f64> {
        let mut good = from;
        while good < RANGE.1 && !self.study.meter.left().is_spent() {
            let next = (good + STEP).min(RANGE.1);
            if !holds(next) {
                let mut bad = next;
                while bad - good > CLOSE {
                    let middle = 0.5 * (good + bad);
                    if holds(middle) { good = middle } else { bad = middle }
                }
                return Some(good);
            }
            good = next;
        }
        None
    }

    /// Factor on the exits here with which a coefficient does, the inlets unchanged.
    fn larger(&self, coefficient: f64) -> Option<f64> {
        let left = |factor: f64| {
            let mut case = self.case(coefficient);
            self.study.exits.set_more_at(&mut case, self.design.exit_area, self.id, factor);
            self.state(&case).map_or(f64::NEG_INFINITY, |state| state.left())
        };
        let (case, exits) = (&self.design.case, &self.study.exits);
        let room = exits.room_at(case, self.design.exit_area, self.id, &self.study.most).min(MOST_LARGER);
        let (mut bad, mut good) = (1.0, 1.0);
        while left(good) < -MET_WITHIN {
            if good >= room || self.study.meter.left().is_spent() {
                return None;
            }
            (bad, good) = (good, (1.3 * good).min(room));
        }
        while good - bad > 1e-5 {
            let middle = 0.5 * (good + bad);
            if left(middle) < -MET_WITHIN { bad = middle } else { good = middle }
        }
        Some(good)
    }
}

/// The trade against the pressure at one place.
pub(super) fn against(
    study: &Study,
    place: &(NumberId, Vec<&Opening>),
    design: &Design,
    places: usize,
    work: &WorkDone,
) -> PressureTrade {
    let (id, exits) = place;
    let at = ProbePoint { study, design, id: *id };
    let now = study.case.numbers.value(*id);
    let whole = |value: f64| (value / STEP).round() * STEP;
    let low = whole((now - 0.2).min(-0.4).max(RANGE.0));
    let scale = design.exit_area / study.exits.area;
    let area_here: f64 = exits.iter().map(|exit| exit.open_pieces() * exit.area() * scale).sum();
    let keep = design.state.reached().then(|| at.highest(now, |c| at.left(c) >= -MET_WITHIN));
    let kept = keep.flatten();
    // at the end of the accepted range there is nothing to add 0.05 to
    let more = kept.map(|kept| kept + STEP).filter(|more| *more <= RANGE.1);
    let larger = more.and_then(|more| at.larger(more));
    let before = kept.and_then(|kept| at.fit(kept));
    let after = more.and_then(|more| at.fit(more));
    let possible = before.as_ref().zip(kept).and_then(|(before, kept)| {
        let last = std::cell::RefCell::new(before.clone());
        at.highest(kept, |coefficient| {
            let found = at.fit_from(coefficient, &last.borrow());
            let holds = found.is_some();
            found.into_iter().for_each(|fit| *last.borrow_mut() = fit);
            holds
        })
    });
    let within = study.meter.fits_within(0.5 / places as f64);
    let steps = if work.whole { STEPS.min(within) } else { 0 };
    // fewer steps where the work would be too much, over the same range
    let apart = STEP * (STEPS as f64 - 1.0) / (steps.max(2) as f64 - 1.0);
    let points: Vec<Option<PressurePoint>> = (0..steps)
        .into_par_iter()
        .map(|step| {
            let coefficient = (low + apart * step as f64).min(RANGE.1);
            // beyond the end of what can be done there is nothing to look for
            let beyond = possible.is_some_and(|end| coefficient > end);
            let found = point(&at, coefficient, !beyond);
            work.step();
            found
        })
        .collect();
    let mut points: Vec<PressurePoint> = points.into_iter().flatten().collect();
    let end = possible.filter(|_| work.whole);
    points.extend(end.and_then(|end| point(&at, end, true)).filter(|point| point.feasible));
    points.sort_by(|a, b| a.pressure_coefficient.total_cmp(&b.pressure_coefficient));
    let mut pressure = PressureTrade {
        address: study.case.numbers.fact(*id).address.clone(),
        exits: exits.iter().map(|exit| exit.name.clone()).collect(),
        position: position(study.case, exits[0]),
        pressure_coefficient: now,
        exit_area_m2: design.exit_area,
        area_here_m2: area_here,
        sizes_as_drawn: design.as_drawn,
        keep_at_or_below: kept,
        exit_for_0_05_more_m2: larger.map(|factor| area_here * (factor - 1.0)),
        inlet_for_0_05_more_m2: before.zip(after).map(|(before, after)| after.area - before.area),
        possible_up_to: possible,
        sentence: String::new(),
        points,
    };
    pressure.sentence = sentence(&pressure, keep.is_some());
    pressure
}

fn point(at: &ProbePoint, coefficient: f64, search: bool) -> Option<PressurePoint> {
    let case = at.case(coefficient);
    let state = at.state(&case)?;
    let fit = if search { at.fit(coefficient) } else { None };
    Some(PressurePoint {
        pressure_coefficient: coefficient,
        inlet_area_m2: fit.as_ref().map(|fit| fit.area),
        least_margin: state.least_margin(),
        least_temperature_margin_K: state.least_kelvin().0,
        cooling_drag_N: state.drag(at.study.drag_at),
        bay_pressure_Pa: state.bay().map(|bay| bay.0),
        bay_temperature_C: state.bay().map(|bay| bay.1),
        feasible: fit.is_some(),
    })
}

/// Where on the body an exit lies.
fn position(case: &Case, exit: &Opening) -> Option<String> {
    let name = case.passages[exit.passage].elements[exit.element].text(&PLACE)?;
    let place = case.places.iter().find(|place| place.name == name)?;
    place.values.text(&t::POSITION).map(str::to_string)
}

/// A coefficient with its sign, to two places; cut towards what is safe.
fn signed(value: f64) -> String {
    let text = format!("{:+.2}", ((value + 2.0 * CLOSE) * 100.0).floor() / 100.0);
    if text.ends_with("0.00") { "0".to_string() } else { text.replace('-', "−") }
}

/// What to ask of whoever does the aerodynamics.
fn sentence(pressure: &PressureTrade, reached: bool) -> String {
    let place = pressure.address.strip_suffix("/pressure_coefficient").unwrap_or(&pressure.address);
    let place = place.trim_start_matches("place/").trim_start_matches("passage/");
    let place = match &pressure.position {
        Some(position) => format!("{place} ({position})"),
        None => place.to_string(),
    };
    if !reached {
        return format!(
            "At {place} no exit area and no inlets within their bounds reach the margins asked for at a pressure coefficient of {}: the lower it can be made the better, and it alone may not be enough",
            signed(pressure.pressure_coefficient)
        );
    }
    let reserve = format!("Reserve {} of exit at {place}", area(pressure.area_here_m2));
    let Some(keep) = pressure.keep_at_or_below else {
        return format!(
            "{reserve}; with it the pressure there may be anything up to a coefficient of +1 and every margin asked for is still reached"
        );
    };
    let mut text = format!("{reserve} and keep the pressure coefficient there at or below {}", signed(keep));
    let inlet = pressure.inlet_for_0_05_more_m2.filter(|area| *area > 0.0);
    match (pressure.exit_for_0_05_more_m2, inlet) {
        (Some(exit), Some(inlet)) => text.push_str(&format!(
            "; each 0.05 more costs {} of exit there, or else {} of inlets",
            area(exit),
            area(inlet)
        )),
        (Some(exit), None) => {
            text.push_str(&format!(
                "; each 0.05 more costs {} of exit there, and larger inlets do not make up for it",
                area(exit)
            ));
        }
        (None, Some(inlet)) => text.push_str(&format!(
            "; no larger exit there makes up for 0.05 more, only {} more of inlets",
            area(inlet)
        )),
        (None, None) => text.push_str("; nothing makes up for 0.05 more"),
    }
    if let Some(possible) = pressure.possible_up_to.filter(|_| inlet.is_some()) {
        text.push_str(&format!(". Above {} no inlets within their bounds make up for it", signed(possible)));
    }
    text
}
