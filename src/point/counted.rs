//! Where the margins are to be reached: conditions, and points of the sweep.

use super::gearing::Gearing;
use super::model::{Model, day, weather};
use super::operation::Operation;
use super::speeds::{Geared, Loads};
use crate::case::{Case, tables as t};
use crate::keys::NumberId;
use crate::keys::figures;
use crate::point::speeds;

/// A moment at which the margins count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Counted {
    /// A condition of the case.
    Condition(usize),
    /// A point of the sweep.
    Sweep(Geared),
    /// A road speed in a gear, whatever else is.
    Driven(DrivingPoint),
    /// A condition in other weather, with tape.
    Taped(Taped),
    /// On the bench, engine and fans off, a blower on an opening.
    Blown(Blown),
}

/// A blower on the bench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blown {
    /// The passage onto whose opening it is taped.
    pub into: usize,
    /// Air that it gives (kg/s).
    pub flow: f64,
    /// Whether it is taped onto the end of the passage, and blows towards its beginning.
    pub backwards: bool,
    /// The number of the case that this is; none where it is `flow`.
    pub number: Option<NumberId>,
    /// The condition in which it blows; none with everything open, engine and fans off.
    pub condition: Option<usize>,
}

/// A condition in other weather, one more opening taped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Taped {
    pub condition: usize,
    /// The passage whose opening is taped, and the share.
    pub tape: Option<(usize, f64)>,
    /// Temperature in the shade (K); what the track adds, and humidity, stay as they are.
    pub temperature: f64,
    /// Whether it rains: the air is full of water, and the track adds nothing.
    pub wet: bool,
    /// Share of the dynamic pressure left behind another car, where that is not the condition's own.
    pub clear_air: Option<f64>,
}

/// A road speed in a gear, without wind and nothing taped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrivingPoint {
    /// Speed, gear and engine speed.
    pub point: Geared,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// The condition whose day it is; none for the day of the case.
    pub day: Option<usize>,
    /// The number of the case that its load is; none where it is that of the point.
    pub load: Option<NumberId>,
}

impl DrivingPoint {
    /// In clear air on the day of the case.
    pub fn at(point: Geared) -> DrivingPoint {
        DrivingPoint { point, clear_air: 1.0, day: None, load: None }
    }
}

impl Counted {
    /// What the car meets and does then.
    pub fn operation(&self, case: &Case, model: &Model) -> Operation {
        match self {
            Counted::Condition(index) => {
                Operation::of_condition(case, model, &case.conditions[*index].values)
            }
            Counted::Sweep(point) => {
                // the load may be guessed too
                let load = Loads::of(case).at(point.speed);
                speeds::operation(case, &Geared { load, ..geared(case, model, point) })
            }
            Counted::Driven(driven) => {
                let point = geared(case, model, &driven.point);
                let load = driven.load.map_or(point.load, |id| case.numbers.value(id));
                let mut operation = Operation::at_speed(case, point.speed, point.rpm, load);
                operation.clear_air = driven.clear_air;
                if let Some(condition) = driven.day {
                    operation.air = day(case, Some(&case.conditions[condition].values));
                }
                operation
            }
            Counted::Blown(blown) => {
                let mut operation = match blown.condition {
                    Some(index) => Operation::of_condition(case, model, &case.conditions[index].values),
                    None => Operation::at_speed(case, 0.0, 0.0, 0.0),
                };
                // the blower's air is the only one that is told of, unless the condition says more
                let says = |index: usize| case.conditions[index].values.written(&t::FANS);
                if !blown.condition.is_some_and(says) {
                    operation.fans_off();
                }
                let flow = blown.number.map_or(blown.flow, |id| case.numbers.value(id));
                operation.blower = Some((blown.into, if blown.backwards { -flow } else { flow }));
                operation
            }
            Counted::Taped(taped) => {
                let values = &case.conditions[taped.condition].values;
                let mut operation = Operation::of_condition(case, model, values);
                operation.air = weather(case, values, taped.temperature, taped.wet);
                if let Some((passage, share)) = taped.tape {
                    operation.taped[passage] = share;
                }
                if let Some(clear_air) = taped.clear_air {
                    operation.clear_air = clear_air;
                }
                operation
            }
        }
    }

    /// Road speed (m/s) and gear, where it is no condition.
    pub fn driven(&self) -> Option<(f64, usize)> {
        match self {
            Counted::Condition(_) | Counted::Taped(_) | Counted::Blown(_) => None,
            Counted::Sweep(point) | Counted::Driven(DrivingPoint { point, .. }) => {
                Some((point.speed, point.gear))
            }
        }
    }

    /// Whether a solution here is likely to lie beside that of another: the same gear, load and day.
    pub fn lies_beside(&self, other: &Counted) -> bool {
        match (self, other) {
            (Counted::Sweep(one), Counted::Sweep(two)) => one.gear == two.gear,
            _ => false,
        }
    }

    /// The condition's name, or the word for the sweep.
    pub fn name<'c>(&self, case: &'c Case) -> &'c str {
        match self {
            Counted::Condition(index) | Counted::Taped(Taped { condition: index, .. }) => {
                &case.conditions[*index].name
            }
            Counted::Sweep(_) | Counted::Driven(_) => t::SWEEP_WORD,
            Counted::Blown(_) => "bench",
        }
    }

    /// The condition's name, or which point of the sweep it is.
    pub fn label(&self, case: &Case) -> String {
        when(self.name(case), self.driven())
    }

    /// The condition, where it is one.
    pub fn condition(&self) -> Option<usize> {
        match self {
            Counted::Condition(index) => Some(*index),
            Counted::Sweep(_) | Counted::Driven(_) | Counted::Taped(_) | Counted::Blown(_) => None,
        }
    }
}

/// "hairpin", or "the sweep at 43 km/h (gear 1)".
pub fn when(condition: &str, driven: Option<(f64, usize)>) -> String {
    match driven {
        Some((speed, gear)) => format!("the sweep at {} (gear {gear})", figures::speed(speed)),
        None => condition.to_string(),
    }
}

/// A point with the engine speed that the gears of a case give it there, which may be guessed.
fn geared(case: &Case, model: &Model, point: &Geared) -> Geared {
    let gears = Gearing::read(case, &model.engine);
    let ratio = gears.and_then(|g| g.rpm_per_speed.get(point.gear.max(1) - 1).copied());
    Geared { rpm: ratio.map_or(point.rpm, |ratio| ratio * point.speed), ..*point }
}
