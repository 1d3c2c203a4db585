//! The bounds of the search, read from the case.

use super::result::{DaySearched, GearSearched, Within};
use crate::air::{Air, ZERO_CELSIUS};
use crate::case::{Case, tables as t};
use crate::point::gearing::Gearing;
use crate::point::model::{Model, day};
use crate::point::operation::Operation;
use crate::point::speeds::{Loads, NotSwept};

/// What a case bounds.
///
/// | what | bounds |
/// | --- | --- |
/// | gear | each one of `[drive]` |
/// | speed | where the gear keeps the engine between `lowest` and `highest`; within `from` and `to` of `[sweep]`, widened to the conditions that are driven |
/// | load | least to most of `[sweep]` and of the conditions that are driven |
/// | clear air | the least of the conditions, to clear air |
/// | day | that of `[day]`, and each one of a condition |
///
/// No opening is taped and there is no wind, as in a sweep; a car that stands is a matter of time.
#[derive(Clone, Debug)]
pub(super) struct SearchBounds {
    pub gears: Vec<Gear>,
    pub load: (f64, f64),
    pub clear_air: (f64, f64),
    pub days: Vec<Day>,
}

/// A gear and its speeds.
#[derive(Clone, Debug)]
pub(super) struct Gear {
    /// 1 the first.
    pub number: usize,
    /// Engine speed (rev/min) for one metre a second.
    pub rpm_per_speed: f64,
    /// Lowest and highest road speed (m/s).
    pub speed: (f64, f64),
    /// Whether the engine's own range, and not the speeds asked for, ends it below and above.
    pub by_engine: (bool, bool),
}

#[derive(Clone, Debug)]
pub(super) struct Day {
    pub name: String,
    /// The condition whose day it is; none for that of the case.
    pub condition: Option<usize>,
    pub air: Air,
}

impl SearchBounds {
    /// Reads the bounds of a case.
    pub fn read(case: &Case, model: &Model) -> Result<SearchBounds, NotSwept> {
        let gearing = Gearing::read(case, &model.engine).ok_or(NotSwept::NoDrive)?;
        let sweep = case.sweep.as_ref().map(|values| case.view(values));
        let asked = |key: &crate::keys::Key| sweep.as_ref().and_then(|view| view.number(key));
        let (from, to) = (asked(&t::SWEEP_FROM), asked(&t::SWEEP_TO));
        let mut speeds = (from.unwrap_or(0.0), to.unwrap_or(f64::INFINITY));
        let loads = Loads::of(case);
        let mut load = if loads.is_written() { loads.range() } else { (f64::INFINITY, f64::NEG_INFINITY) };
        let mut clear_air = (1.0, 1.0);
        let mut days =
            vec![Day { name: "the day of the case".to_string(), condition: None, air: day(case, None) }];
        for (index, condition) in case.conditions.iter().enumerate() {
            let operation = Operation::of_condition(case, model, &condition.values);
            widen(&mut clear_air, operation.clear_air);
            if days.iter().all(|known| known.air != operation.air) {
                days.push(Day {
                    name: format!("the day of {:?}", condition.name),
                    condition: Some(index),
                    air: operation.air,
                });
            }
            if operation.speed > 0.0 && condition.values.has(&t::GEAR) {
                widen(&mut load, operation.load);
                widen(&mut speeds, operation.speed);
            }
        }
        if load.0 > load.1 {
            load = (1.0, 1.0);
        }
        let gears: Vec<Gear> = (gearing.rpm_per_speed.iter().enumerate())
            .filter_map(|(index, ratio)| {
                let engine = (gearing.lowest / ratio, gearing.highest / ratio);
                let speed = (engine.0.max(speeds.0), engine.1.min(speeds.1));
                let by_engine = (speed.0 == engine.0, speed.1 == engine.1);
                let number = index + 1;
                (speed.0 <= speed.1).then_some(Gear { number, rpm_per_speed: *ratio, speed, by_engine })
            })
            .collect();
        if gears.is_empty() {
            let (from, to) = (speeds.0 * 3.6, speeds.1 * 3.6);
            return Err(NotSwept::NoSpeed { from, to, lowest: gearing.lowest, highest: gearing.highest });
        }
        Ok(SearchBounds { gears, load, clear_air, days })
    }

    /// Pairs of gear and day.
    pub fn pairs(&self) -> usize {
        self.gears.len() * self.days.len()
    }

    /// The bounds as a result shows them.
    pub fn within(&self, solved: usize, unsolved: usize) -> Within {
        let gear =
            |gear: &Gear| GearSearched { gear: gear.number, from_m_s: gear.speed.0, to_m_s: gear.speed.1 };
        let day = |day: &Day| DaySearched {
            day: day.name.clone(),
            air_temperature_C: day.air.temperature - ZERO_CELSIUS,
        };
        Within {
            gears: self.gears.iter().map(gear).collect(),
            load: [self.load.0, self.load.1],
            clear_air: [self.clear_air.0, self.clear_air.1],
            days: self.days.iter().map(day).collect(),
            solved,
            unsolved,
        }
    }
}

fn widen(range: &mut (f64, f64), value: f64) {
    *range = (range.0.min(value), range.1.max(value));
}
