//! A lap by stopwatch: corners and straights with seconds and a few speeds.

use super::pace::{Finder, Pace};
use super::plausible::APART;
use crate::case::{Case, Diagnostic, FaultPlace, Warning, tables as t};
use crate::keys::Values;
use crate::keys::figures;
use crate::warnings::words;

/// Time between moments (s).
const EVERY: f64 = 0.2;
/// How hard a car brakes at the end of a straight (m/s²): an ordinary tyre (common practice).
const BRAKING: f64 = 7.0;

/// Share of the engine's power above which a leg asks for too much: what is found of a stopwatch's lap is no better.
const BEYOND: f64 = 1.25;

/// A leg as it is driven: speed by time, straight between the points.
type Points = Vec<(f64, f64)>;

/// The moments of a lap. Speed runs straight between what is given: in a corner to its least speed
/// halfway, on a straight to its top speed and from there down under the brakes.
///
/// # Errors
/// A leg whose speeds are not known.
pub fn moments(
    case: &Case,
    finder: &Finder,
    stint: &Values,
) -> Result<(Vec<Pace>, Vec<Warning>), Box<Diagnostic>> {
    let (points, mut warnings) = points(case, stint)?;
    let mut most: Option<(f64, f64, f64)> = None;
    let mut paces: Vec<Pace> = Vec::new();
    for pair in points.windows(2) {
        let ((from, v_from), (to, v_to)) = (pair[0], pair[1]);
        let acceleration = (v_to - v_from) / (to - from).max(1e-9);
        let pieces = ((to - from) / EVERY).ceil().max(1.0);
        // a change from throttle to brake is a jump: the two moments stand at one time
        for i in 0..=pieces as usize {
            let share = i as f64 / pieces;
            let speed = v_from + share * (v_to - v_from);
            let rpm = finder.rpm(speed).unwrap_or(0.0);
            let load = finder.load(speed, rpm, acceleration);
            let asked = finder.asked(speed, rpm, acceleration).filter(|(asked, full)| *asked > BEYOND * full);
            if let Some((asked, full)) =
                asked.filter(|(asked, _)| most.is_none_or(|(known, _, _)| *asked > known))
            {
                most = Some((asked, full, from + share * (to - from)));
            }
            paces.push(Pace { time: from + share * (to - from), speed, rpm, load });
        }
    }
    warnings.extend(most.map(|(asked, full, at)| beyond_power(case, stint, asked, full, at)));
    Ok((paces, warnings))
}

/// A leg that asks for more power than the engine has.
fn beyond_power(case: &Case, stint: &Values, asked: f64, full: f64, at: f64) -> Warning {
    let mut end = 0.0;
    let legs = stint.tables(&t::LEG);
    let leg = legs.iter().find(|leg| {
        end += case.view(leg).required(&t::LEG_TIME);
        at <= end + 1e-9
    });
    let leg = leg.or(legs.last());
    Warning {
        code: "leg-beyond-power",
        message: format!(
            "to speed up as this leg says takes {} at the engine where it has {}, {at:.0} s into the lap; the load is taken as full there; check its time and speeds, and the car's mass",
            figures::power(asked),
            figures::power(full)
        ),
        place: leg.map(|leg| leg.address.clone()),
    }
}

/// Speed by time through all legs.
fn points(case: &Case, stint: &Values) -> Result<(Points, Vec<Warning>), Box<Diagnostic>> {
    let mut warnings = Vec::new();
    let repeats = case.view(stint).required(&t::LAPS) > 1.5;
    let legs = stint.tables(&t::LEG);
    let speed = |leg: &Values, key| case.view(leg).number(key);
    let mut points: Points = Vec::new();
    let mut time = 0.0;
    for (index, leg) in legs.iter().enumerate() {
        let next = &legs[(index + 1) % legs.len()];
        let before = &legs[(index + legs.len() - 1) % legs.len()];
        let v_in = speed(leg, &t::SPEED_IN).or(speed(before, &t::SPEED_OUT));
        let v_out = speed(leg, &t::SPEED_OUT).or(speed(next, &t::SPEED_IN));
        let (Some(v_in), Some(v_out)) = (v_in, v_out) else {
            let (key, word) = if v_in.is_none() { (&t::SPEED_IN, "begins") } else { (&t::SPEED_OUT, "ends") };
            return Err(Box::new(Diagnostic::new(
                "leg-speed-missing",
                format!("how fast the car is where {} {word} is not said", leg.address),
                FaultPlace::from(leg.place_of(key)),
                format!("give {} there, or the speed of the leg next to it", key.name),
            )));
        };
        // where the one before says another speed, and is driven before
        if let Some(left) = speed(before, &t::SPEED_OUT)
            && (index > 0 || repeats)
            && (left - v_in).abs() > APART
        {
            warnings.push(Warning {
                code: "laps-do-not-meet",
                message: format!(
                    "the leg before ends at {} and this one begins at {}: no car does that; give one of the two speeds, the other follows from it",
                    words::speed(left),
                    words::speed(v_in)
                ),
                place: Some(leg.address_of(&t::SPEED_IN)),
            });
        }
        let lasts = case.view(leg).required(&t::LEG_TIME);
        if points.is_empty() {
            points.push((0.0, v_in));
        } else if points.last().is_some_and(|(_, v)| (v - v_in).abs() > 1e-9) {
            points.push((time, v_in));
        }
        if let Some(top) = speed(leg, &t::TOP_SPEED) {
            let braking = ((top - v_out) / BRAKING).clamp(0.0, 0.5 * lasts);
            points.push((time + lasts - braking, top));
        } else if let Some(least) = speed(leg, &t::LEAST_SPEED) {
            points.push((time + 0.5 * lasts, least));
        }
        time += lasts;
        if points.last().is_none_or(|(at, _)| time - at > 1e-9) {
            points.push((time, v_out));
        }
    }
    Ok((points, warnings))
}
