//! Road speeds of the sweep, in the gears really used.

use crate::case::{Case, tables as t};
use crate::point::model::Model;
use crate::point::operation::{Gearing, Operation};

/// Why a sweep could not be run.
#[derive(Debug, thiserror::Error)]
pub enum NotSwept {
    /// The case has no `[drive]`.
    #[error("the case has no [drive]: no gear belongs to a road speed")]
    NoDrive,
    /// No speed of the range lies in a gear.
    #[error(
        "between {from:.0} and {to:.0} km/h no gear keeps the engine between {lowest:.0} and {highest:.0} rpm"
    )]
    NoSpeed {
        /// Lowest speed asked for (km/h).
        from: f64,
        /// Highest speed asked for (km/h).
        to: f64,
        /// Lowest engine speed.
        lowest: f64,
        /// Highest engine speed.
        highest: f64,
    },
}

/// A road speed of the sweep in the gear that belongs to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Geared {
    /// Road speed (m/s).
    pub speed: f64,
    /// The gear, 1 the first.
    pub gear: usize,
    /// Engine speed (rev/min).
    pub rpm: f64,
}

/// Ends of the sweep (m/s).
fn ends(case: &Case, gearing: &Gearing) -> (f64, f64) {
    let (low, high) = gearing.range();
    let view = case.sweep.as_ref().map(|values| case.view(values));
    let read = |key: &crate::keys::Key| view.as_ref().and_then(|v| v.number(key));
    (read(&t::SWEEP_FROM).unwrap_or(low), read(&t::SWEEP_TO).unwrap_or(high))
}

/// Load at every speed of the sweep.
pub fn load(case: &Case) -> f64 {
    let view = case.sweep.as_ref().map(|values| case.view(values));
    view.and_then(|view| view.number(&t::LOAD)).unwrap_or(1.0)
}

/// What the car meets and does at a point of the sweep.
pub fn operation(case: &Case, point: &Geared) -> Operation {
    Operation::at_speed(case, point.speed, point.rpm, load(case))
}

/// The speeds of `[sweep]`, or of the geared range, in `points` even steps; those without a gear left out.
///
/// # Errors
/// [`NotSwept`] where no speed lies in a gear.
pub fn points(case: &Case, model: &Model, points: usize) -> Result<Vec<Geared>, NotSwept> {
    let gearing = Gearing::read(case, model).ok_or(NotSwept::NoDrive)?;
    let (from, to) = ends(case, &gearing);
    let steps = points.max(2) - 1;
    let speeds = (0..=steps).map(|step| from + (to - from) * step as f64 / steps as f64);
    let geared = speeds.filter_map(|speed| {
        let (gear, rpm) = gearing.gear_at(speed)?;
        Some(Geared { speed, gear, rpm })
    });
    let geared: Vec<Geared> = geared.collect();
    if geared.is_empty() {
        return Err(NotSwept::NoSpeed {
            from: from * 3.6,
            to: to * 3.6,
            lowest: gearing.lowest,
            highest: gearing.highest,
        });
    }
    Ok(geared)
}

/// Where each gear ends within the sweep, before and behind the change.
pub fn changes_of_gear(case: &Case, model: &Model) -> Vec<Geared> {
    let Some(gearing) = Gearing::read(case, model) else { return Vec::new() };
    let (from, to) = ends(case, &gearing);
    let ends = gearing.rpm_per_speed.iter().map(|ratio| gearing.highest / ratio);
    ends.flat_map(|end| [end * (1.0 - 1e-9), end * (1.0 + 1e-9)])
        .filter(|speed| (from..=to).contains(speed))
        .filter_map(|speed| gearing.gear_at(speed).map(|(gear, rpm)| Geared { speed, gear, rpm }))
        .collect()
}
