//! Road speeds of the sweep, in the gears really used.

use crate::case::{Case, tables as t};
use crate::keys::word::words;
use crate::point::gearing::Gearing;
use crate::point::model::Model;
use crate::point::operation::{Operation, is_driven};

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
    /// Share of full-throttle power, 0 to 1.
    pub load: f64,
}

/// Ends of the sweep (m/s): those of `[sweep]`, else from the least usable speed of the lowest gear to the fastest
/// condition.
pub fn ends(case: &Case, gearing: &Gearing) -> (f64, f64) {
    let (low, high) = gearing.range();
    let view = case.sweep.as_ref().map(|values| case.view(values));
    let read = |key: &crate::keys::Key| view.as_ref().and_then(|v| v.number(key));
    let speeds = case.conditions.iter().map(|condition| case.view(&condition.values).required(&t::SPEED));
    let fastest = speeds.fold(0.0, f64::max);
    let fastest = if fastest > low { fastest.min(high) } else { high };
    (read(&t::SWEEP_FROM).unwrap_or(low), read(&t::SWEEP_TO).unwrap_or(fastest))
}

words! {
    /// Whose load a sweep has.
    pub enum LoadsOf {
        /// `[sweep]` says it.
        Sweep = "written",
        Conditions = "of the conditions",
        /// Nothing says.
        Nobody = "full",
    }
}

/// Load of the sweep by road speed: that of `[sweep]`, a number or a list; else that of the conditions, straight between
/// their speeds and held beyond them. Of the conditions those count in which the engine runs and the car moves; those
/// with clear air and no tape alone where there are any; of several at one speed the one with most load. Without any it
/// is full load.
#[derive(Clone, Debug, PartialEq)]
pub struct Loads {
    /// Road speed (m/s), and load there (0 to 1), by speed; at least one.
    points: Vec<(f64, f64)>,
    /// Whose they are.
    of: LoadsOf,
}

impl Loads {
    /// Those of a case.
    pub fn of(case: &Case) -> Loads {
        if let Some(view) = case.sweep.as_ref().map(|values| case.view(values)) {
            if let Some(load) = view.number(&t::SWEEP_LOAD) {
                return Loads { points: vec![(0.0, load)], of: LoadsOf::Sweep };
            }
            let points = view.pairs(&t::SWEEP_LOAD);
            if !points.is_empty() {
                return Loads { points, of: LoadsOf::Sweep };
            }
        }
        let mut points = Loads::of_conditions(case, true);
        if points.is_empty() {
            points = Loads::of_conditions(case, false);
        }
        points.sort_by(|a, b| a.0.total_cmp(&b.0).then(b.1.total_cmp(&a.1)));
        points.dedup_by(|later, first| later.0 - first.0 < SAME_SPEED);
        let of = if points.is_empty() { LoadsOf::Nobody } else { LoadsOf::Conditions };
        if points.is_empty() {
            points.push((0.0, 1.0));
        }
        Loads { points, of }
    }

    fn of_conditions(case: &Case, clear: bool) -> Vec<(f64, f64)> {
        let each = case.conditions.iter().filter_map(|condition| {
            let view = case.view(&condition.values);
            let is_clear = view.required(&t::CLEAR_AIR) >= 1.0 && condition.values.map(&t::TAPED).is_empty();
            (is_driven(case, condition) && (is_clear || !clear))
                .then(|| (view.required(&t::SPEED), view.required(&t::LOAD)))
        });
        each.collect()
    }

    /// The load at a road speed (m/s).
    pub fn at(&self, speed: f64) -> f64 {
        let above = self.points.partition_point(|(at, _)| *at <= speed);
        match (above.checked_sub(1).and_then(|i| self.points.get(i)), self.points.get(above)) {
            (Some((a, low)), Some((b, high))) => low + (high - low) * (speed - a) / (b - a),
            (Some((_, load)), None) | (None, Some((_, load))) => *load,
            (None, None) => 1.0,
        }
    }

    /// The one load of all speeds, where it is one.
    pub fn constant(&self) -> Option<f64> {
        let (_, first) = self.points.first()?;
        self.points.iter().all(|(_, load)| load == first).then_some(*first)
    }

    /// Least and most load.
    pub fn range(&self) -> (f64, f64) {
        self.points.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, load)| {
            (low.min(*load), high.max(*load))
        })
    }

    /// Whether `[sweep]` says so; else it is that of the conditions.
    pub fn is_written(&self) -> bool {
        self.of == LoadsOf::Sweep
    }

    pub fn whose(&self) -> LoadsOf {
        self.of
    }
}

/// Conditions closer than this (m/s) are at one speed.
const SAME_SPEED: f64 = 1e-6;

/// What the car meets and does at a point of the sweep.
pub fn operation(case: &Case, point: &Geared) -> Operation {
    Operation::at_speed(case, point.speed, point.rpm, point.load)
}

/// The speeds of `[sweep]`, or of the geared range, in `points` even steps; those without a gear left out.
///
/// # Errors
/// [`NotSwept`] where no speed lies in a gear.
pub fn points(case: &Case, model: &Model, points: usize) -> Result<Vec<Geared>, NotSwept> {
    let gearing = Gearing::read(case, &model.engine).ok_or(NotSwept::NoDrive)?;
    let (from, to) = ends(case, &gearing);
    let loads = Loads::of(case);
    let steps = points.max(2) - 1;
    let speeds = (0..=steps).map(|step| from + (to - from) * step as f64 / steps as f64);
    let geared = speeds.filter_map(|speed| {
        let (gear, rpm) = gearing.gear_at(speed)?;
        Some(Geared { speed, gear, rpm, load: loads.at(speed) })
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
    let Some(gearing) = Gearing::read(case, &model.engine) else { return Vec::new() };
    let loads = Loads::of(case);
    let (from, to) = ends(case, &gearing);
    let ends = gearing.rpm_per_speed.iter().map(|ratio| gearing.highest / ratio);
    ends.flat_map(|end| [end * (1.0 - 1e-9), end * (1.0 + 1e-9)])
        .filter(|speed| (from..=to).contains(speed))
        .filter_map(|speed| {
            let (gear, rpm) = gearing.gear_at(speed)?;
            Some(Geared { speed, gear, rpm, load: loads.at(speed) })
        })
        .collect()
}
