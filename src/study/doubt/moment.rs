//! What a drawn car is looked at in: a condition of its case, or a road speed in a gear.

use crate::case::Case;
use crate::study::model::day;
use crate::study::sweep::{self, Geared};
use crate::study::{Gearing, Model, Operation};

/// What a drawn car is looked at in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moment {
    /// A condition of the case, by its index.
    Condition(usize),
    /// A road speed in a gear.
    Driven(Driven),
}

/// A road speed in a gear, without wind and nothing taped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driven {
    /// Road speed (m/s).
    pub speed: f64,
    /// The gear, 1 the first.
    pub gear: usize,
    /// Load; none for that of the sweep.
    pub load: Option<f64>,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// The condition whose day it is; none for the day of the case.
    pub day: Option<usize>,
}

impl From<&Geared> for Moment {
    fn from(point: &Geared) -> Moment {
        Moment::Driven(Driven {
            speed: point.speed,
            gear: point.gear,
            load: None,
            clear_air: 1.0,
            day: None,
        })
    }
}

impl Moment {
    /// Every condition of a case.
    pub fn conditions(case: &Case) -> Vec<Moment> {
        (0..case.conditions.len()).map(Moment::Condition).collect()
    }

    /// What a car meets and does there; the engine follows the road as the case's gears have it.
    pub fn operation(&self, case: &Case, model: &Model) -> Operation {
        match self {
            Moment::Condition(index) => {
                Operation::of_condition(case, model, &case.conditions[*index].values)
            }
            Moment::Driven(driven) => {
                let gears = Gearing::read(case, model);
                let ratio = gears.and_then(|g| g.rpm_per_speed.get(driven.gear.max(1) - 1).copied());
                let rpm = ratio.unwrap_or(f64::NAN) * driven.speed;
                let load = driven.load.unwrap_or_else(|| sweep::load(case));
                let mut operation = Operation::at_speed(case, driven.speed, rpm, load);
                operation.clear_air = driven.clear_air;
                if let Some(condition) = driven.day {
                    operation.air = day(case, Some(&case.conditions[condition].values));
                }
                operation
            }
        }
    }

    /// Whether a solution there is likely to lie beside that of another: the same gear, load and day.
    pub fn beside(&self, other: &Moment) -> bool {
        match (self, other) {
            (Moment::Driven(one), Moment::Driven(two)) => Driven { speed: two.speed, ..*one } == *two,
            _ => false,
        }
    }
}
