//! Where the margins are to be reached: conditions, and points of the sweep.

use super::super::describe::{ZERO_CELSIUS, margin_word};
use super::super::model::{Model, day};
use super::super::operation::{Gearing, Operation, Runner};
use super::super::result::LimitedBy;
use super::super::sweep::{self, Geared};
use crate::case::{Case, tables as t};

/// A moment at which the margins count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::study) enum Counted {
    /// A condition of the case.
    Condition(usize),
    /// A point of the sweep.
    Sweep(Geared),
    /// A road speed in a gear, whatever else is.
    Driven(Driven),
}

/// A road speed in a gear, without wind and nothing taped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::study) struct Driven {
    /// Speed, gear and engine speed.
    pub point: Geared,
    /// Load.
    pub load: f64,
    /// Share of the dynamic pressure left behind another car.
    pub clear_air: f64,
    /// The condition whose day it is; none for the day of the case.
    pub day: Option<usize>,
}

impl Counted {
    /// What the car meets and does then.
    pub fn operation(&self, case: &Case, model: &Model) -> Operation {
        match self {
            Counted::Condition(index) => {
                Operation::of_condition(case, model, &case.conditions[*index].values)
            }
            Counted::Sweep(point) => sweep::operation(case, &geared(case, model, point)),
            Counted::Driven(driven) => {
                let point = geared(case, model, &driven.point);
                let mut operation = Operation::at_speed(case, point.speed, point.rpm, driven.load);
                operation.clear_air = driven.clear_air;
                if let Some(condition) = driven.day {
                    operation.air = day(case, Some(&case.conditions[condition].values));
                }
                operation
            }
        }
    }

    /// Road speed (m/s) and gear, where it is no condition.
    pub fn driven(&self) -> Option<(f64, usize)> {
        match self {
            Counted::Condition(_) => None,
            Counted::Sweep(point) | Counted::Driven(Driven { point, .. }) => Some((point.speed, point.gear)),
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
            Counted::Condition(index) => &case.conditions[*index].name,
            Counted::Sweep(_) | Counted::Driven(_) => t::SWEEP_WORD,
        }
    }

    /// The condition's name, or which point of the sweep it is.
    pub fn label(&self, case: &Case) -> String {
        self.limited(case, "").when()
    }

    /// The condition, where it is one.
    pub fn condition(&self) -> Option<usize> {
        match self {
            Counted::Condition(index) => Some(*index),
            Counted::Sweep(_) | Counted::Driven(_) => None,
        }
    }

    /// A part, then, as what holds the sizes where they are.
    pub fn limited(&self, case: &Case, part: &str) -> LimitedBy {
        let driven = self.driven();
        LimitedBy {
            part: part.to_string(),
            condition: self.name(case).to_string(),
            speed_m_s: driven.map(|(speed, _)| speed),
            gear: driven.map(|(_, gear)| gear),
            at: None,
        }
    }

    /// The same with how the part fares there in the present solution.
    pub fn limited_at(&self, case: &Case, model: &Model, runner: &mut Runner, part: usize) -> LimitedBy {
        let mut limited = self.limited(case, &case.parts[part].name);
        let mut margins = Vec::new();
        runner.margins(model, &mut margins);
        let temperature = runner.state.part_temperature(part);
        limited.at = Some(super::super::result::SweepPart {
            temperature_C: temperature - ZERO_CELSIUS,
            temperature_margin_K: runner.network.parts[part].limit - temperature,
            margin_band_K: None,
            likelihood: None,
            flow_margin: margins[part].flow_margin,
            margin_is: margin_word(margins[part].is),
        });
        limited
    }
}

/// A point with the engine speed that the gears of a case give it there, which may be guessed.
fn geared(case: &Case, model: &Model, point: &Geared) -> Geared {
    let gears = Gearing::read(case, model);
    let ratio = gears.and_then(|g| g.rpm_per_speed.get(point.gear.max(1) - 1).copied());
    Geared { rpm: ratio.map_or(point.rpm, |ratio| ratio * point.speed), ..*point }
}
