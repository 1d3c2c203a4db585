//! Where the margins are to be reached: conditions, and points of the sweep.

use super::super::describe::{ZERO_CELSIUS, margin_word};
use super::super::model::Model;
use super::super::operation::{Operation, Runner};
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
}

impl Counted {
    /// What the car meets and does then.
    pub fn operation(&self, case: &Case, model: &Model) -> Operation {
        match self {
            Counted::Condition(index) => {
                Operation::of_condition(case, model, &case.conditions[*index].values)
            }
            Counted::Sweep(point) => sweep::operation(case, point),
        }
    }

    /// The condition's name, or the word for the sweep.
    pub fn name<'c>(&self, case: &'c Case) -> &'c str {
        match self {
            Counted::Condition(index) => &case.conditions[*index].name,
            Counted::Sweep(_) => t::SWEEP_WORD,
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
            Counted::Sweep(_) => None,
        }
    }

    /// A part, then, as what holds the sizes where they are.
    pub fn limited(&self, case: &Case, part: &str) -> LimitedBy {
        let sweep = match self {
            Counted::Condition(_) => None,
            Counted::Sweep(point) => Some(point),
        };
        LimitedBy {
            part: part.to_string(),
            condition: self.name(case).to_string(),
            speed_m_s: sweep.map(|point| point.speed),
            gear: sweep.map(|point| point.gear),
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
