//! A solved condition together with what the case says of it.

use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::element::{FreeStream, Law};
use crate::keys::{Key, Values};
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::{Condition, Element, PassageResult};

/// Speed of the air past the car below which the car counts as standing (m/s): its dynamic
/// pressure is a tenth of a pascal.
pub(super) const STANDING: f64 = 0.5;

/// A solved condition, the case's own table of it, and the outer state there.
pub(super) struct SolvedCondition<'a> {
    pub case: &'a Case,
    pub model: &'a Model,
    pub condition: &'a Condition,
    pub values: &'a Values,
    pub operation: Operation,
    pub moment: FreeStream,
}

/// One element of a solved condition.
pub(super) struct ElementInCondition<'a> {
    pub passage_index: usize,
    /// Index in its passage.
    pub index: usize,
    pub passage: &'a PassageResult,
    /// What the solution says of it.
    pub element: &'a Element,
    /// What is written of it.
    pub values: &'a Values,
    /// Its law, not prepared for the condition.
    pub law: &'a Law,
}

impl<'a> SolvedCondition<'a> {
    /// The solved condition of a name; none where the case has no condition of that name.
    pub fn new(case: &'a Case, model: &'a Model, condition: &'a Condition) -> Option<SolvedCondition<'a>> {
        let values = &case.conditions.get(case.condition(&condition.name)?)?.values;
        let operation = Operation::of_condition(case, model, values);
        let moment = operation.free_stream();
        Some(SolvedCondition { case, model, condition, values, operation, moment })
    }

    /// Whether the air past the car as good as stands.
    pub fn standing(&self) -> bool {
        self.moment.local_speed < STANDING
    }

    /// Every element of every passage.
    pub fn elements(&self) -> impl Iterator<Item = ElementInCondition<'a>> {
        let (case, model) = (self.case, self.model);
        self.condition.passages.iter().enumerate().flat_map(move |(passage_index, passage)| {
            let laws = model.network.passages.get(passage_index).map(|p| p.elements.clone());
            let laws = &model.network.laws[laws.unwrap_or(0..0)];
            let written = case.passages.get(passage_index).map_or(&[][..], |p| &p.elements[..]);
            passage.written().zip(written).zip(laws).enumerate().map(
                move |(index, ((element, values), law))| ElementInCondition {
                    passage_index,
                    index,
                    passage,
                    element,
                    values,
                    law,
                },
            )
        })
    }

    /// Temperature (°C) of the air at one end of a passage.
    fn end_temperature(&self, name: &str) -> f64 {
        let chamber = self.condition.chambers.iter().find(|chamber| chamber.name == name);
        chamber.map_or(self.moment.total_temperature - ZERO_CELSIUS, |chamber| chamber.temperature_C)
    }

    /// Temperature (°C) of the air that enters an element in its direction of motion.
    pub fn entering_temperature(&self, seen: &ElementInCondition) -> f64 {
        let passage = seen.passage;
        if passage.mass_flow_kg_s >= 0.0 {
            match seen.index.checked_sub(1) {
                Some(before) => passage.written().nth(before).map_or(f64::NAN, |e| e.outlet_temperature_C),
                None => self.end_temperature(&passage.from),
            }
        } else {
            match passage.written().nth(seen.index + 1) {
                Some(behind) => behind.outlet_temperature_C,
                None => self.end_temperature(&passage.to),
            }
        }
    }

    /// Density (kg/m³) of air at a temperature (°C).
    pub fn density_at(&self, celsius: f64) -> f64 {
        self.operation.air.density_at(celsius + ZERO_CELSIUS)
    }
}

/// The address of a number where it is really written: what a place gives is at the place.
pub(super) fn address(case: &Case, values: &Values, key: &Key) -> String {
    values.id(key).map_or_else(|| values.address_of(key), |id| case.numbers.fact(id).address.clone())
}

/// Whether a number was left out and stands at its default.
pub(super) fn assumed(case: &Case, values: &Values, key: &Key) -> bool {
    let origin = values.id(key).map(|id| &case.numbers.fact(id).origin);
    matches!(origin, Some(crate::keys::Origin::Assumed(_)))
}
