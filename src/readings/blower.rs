//! A blower on the bench: what it gives, from what is written, from a bellmouth or an orifice before it, or unknown.

use super::drives;
use super::file::{Begun, File};
use super::operator::{GaugeEnd, Quantity};
use super::tables as r;
use crate::case::{Case, FaultPlace};
use crate::keys::{Kind, Spread, Values, View};
use crate::point::counted::{Blown, Counted};
use crate::point::model::day;

/// How well a discharge coefficient is known that is written without a ± (share of itself, from memory).
const DISCHARGE_WITHIN: f64 = 0.02;

/// Air (kg/s) through a throat that draws from still air.
///
/// ```text
///   m = C (π/4) d² √(2 ρ Δp)
/// ```
///
/// C the discharge coefficient, d [m] the diameter of the throat or bore, ρ [kg/m³] the density of the still air, Δp [Pa] how far
/// the pressure at the throat (of an orifice: behind it) lies under that of the still air.
/// Valid: Δp up to 2 kPa, where the air's expansion takes less than a hundredth; nothing narrower within five diameters before it.
/// Source: the equation of ISO 5167-1 with the area ratio of a free inlet, nought; a bellmouth's C as ISO 5801 has inlet nozzles
/// (from memory).
pub fn through_a_throat(discharge: f64, diameter: f64, density: f64, difference: f64) -> f64 {
    let area = 0.25 * std::f64::consts::PI * diameter * diameter;
    discharge * area * (2.0 * density * difference).sqrt()
}

impl File<'_> {
    /// The moment of a test whose condition stands in a case; what its blower gives becomes a number of that case.
    pub(super) fn moment(&mut self, test: &Begun, index: usize, case: &mut Case) -> Counted {
        let at = Counted::Condition(index);
        let Some(blower) = test.values.table(&r::BLOWER).cloned() else { return at };
        let place: FaultPlace = test.values.place_of(&r::BLOWER).into();
        let view = case.view(&case.conditions[index].values);
        let runs = view.number(&crate::case::tables::RPM).is_none_or(|rpm| rpm > 0.0);
        if !test.bench || runs {
            let message = format!(
                "{} has a blower, and {}",
                test.values.address,
                if test.bench { "its engine runs" } else { "is on the track" }
            );
            let way_out = "a blower belongs to the bench, engine off: on = \"bench\", without gear and rpm";
            self.fault("blower-and-engine", message, place, way_out);
            return at;
        }
        let Some(into) = blower.text(&r::INTO).and_then(|name| case.passage(name)) else { return at };
        let named = &case.passages[into];
        // into an exit it blows against the way in which the passage is told
        let sign = match (&named.from[..], &named.to[..]) {
            ("outside", to) if to != "engine" => 1.0,
            (_, "outside") => -1.0,
            _ => {
                let message =
                    format!("no blower can be taped onto {}: it has no opening to outside", named.name);
                let way_out = "name a passage that begins or ends outside, other than the engine's own";
                self.fault("blower-without-opening", message, place, way_out);
                return at;
            }
        };
        let flow = self.flow(&blower, case, index);
        let number = match flow {
            Some((value, within)) => {
                drives::flow(case, &test.condition, value, Spread::Within { half_width: within })
            }
            None => drives::unknown_flow(case, &test.condition),
        };
        let value = case.numbers.value(number);
        Counted::Blown(Blown {
            into,
            flow: value,
            backwards: sign < 0.0,
            number: Some(number),
            condition: Some(index),
        })
    }

    /// What a blower gives (kg/s), and within what that is known; none where nobody says.
    fn flow(&mut self, blower: &Values, case: &Case, index: usize) -> Option<(f64, f64)> {
        let air = day(case, Some(&case.conditions[index].values));
        if let Some(id) = blower.id(&r::BLOWER_FLOW) {
            let fact = self.numbers.fact(id);
            let factor = if fact.kind == Kind::VolumeFlow { air.density() } else { 1.0 };
            let within = fact.band().map_or(DISCHARGE_WITHIN * fact.value, |(low, high)| 0.5 * (high - low));
            return Some((factor * fact.value, factor * within));
        }
        let meter = blower.table(&r::METER)?;
        let view = View { values: meter, numbers: &self.numbers };
        let (throat, shows) = (view.number(&r::THROAT)?, view.number(&r::METER_SHOWS)?);
        let discharge = view.number(&r::METER_DISCHARGE).unwrap_or(r::BELLMOUTH);
        let half = |key, usual: f64| {
            let band = meter.id(key).and_then(|id| self.numbers.fact(id).band());
            band.map_or(usual, |(low, high)| 0.5 * (high - low))
        };
        let gauge =
            Quantity::Difference { of: GaugeEnd::StillAir, over: GaugeEnd::StillAir }.tool(case).within;
        let within = (half(&r::METER_DISCHARGE, DISCHARGE_WITHIN * discharge) / discharge)
            .hypot(2.0 * half(&r::THROAT, 0.0) / throat)
            .hypot(0.5 * half(&r::METER_SHOWS, gauge) / shows);
        let flow = through_a_throat(discharge, throat, air.density(), shows);
        Some((flow, within * flow))
    }
}

#[cfg(test)]
mod tests {
    use super::through_a_throat;

    /// By hand: 60 mm, C 0.97, 1.2 kg/m³, 500 Pa: 28.87 m/s through 28.274 cm² are 0.0980 kg/s, less 3 %.
    #[test]
    fn a_bellmouth_tells_the_air_that_it_draws() {
        let flow = through_a_throat(0.97, 0.06, 1.2, 500.0);
        assert!((flow - 0.0950).abs() < 1e-4, "{flow}");
        // four times the pressure is twice the air
        assert!((through_a_throat(0.97, 0.06, 1.2, 2000.0) / flow - 2.0).abs() < 1e-12);
    }
}
