//! A part that must be kept below a temperature, or that stores heat.

use crate::correlations::natural_convection::still_air_and_slopes;
use crate::correlations::radiation;

/// A part with its limit and what it gives to its surroundings.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Working limit (K): the limit less what the hottest spot stands above the mean. Infinite where nothing is
    /// asked of it: a store of heat, as exhaust pipes.
    pub limit: f64,
    /// Lower limit (K).
    pub least: Option<f64>,
    /// Conductance to the air of its chamber (W/K).
    pub bay_conductance: f64,
    /// Its hot surface towards the chamber, where the case gives one.
    pub surface: Option<HotSurface>,
    /// Its chamber; none: outside.
    pub chamber: Option<usize>,
    /// Effective temperature of the gas or surface that heats it (K).
    pub source_temperature: f64,
    /// Part temperature at which the share of heat holds (K).
    pub reference_temperature: f64,
    /// Heat capacity (J/K), for runs in time.
    pub heat_capacity: Option<f64>,
}

/// A hot surface: still air takes heat from it, and it radiates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HotSurface {
    /// Its area (m²).
    pub area: f64,
    /// Its height (m).
    pub height: f64,
    pub emissivity: f64,
}

impl Part {
    /// Whether it must be kept below a temperature.
    #[inline]
    pub fn has_limit(&self) -> bool {
        self.limit < f64::INFINITY
    }

    /// The temperature (K) from which its own is told: its working limit, of a store that at which its share of heat
    /// holds.
    #[inline]
    pub fn mark(&self) -> f64 {
        if self.has_limit() { self.limit } else { self.reference_temperature }
    }

    /// Heat that the part gives to its chamber's air (W), with slopes by its own temperature and the air's.
    ///
    /// ```text
    ///   Q = G (T − T_air) + ε σ A (T⁴ − T_air⁴),   G³ = G_bay³ + (h A)³
    /// ```
    ///
    /// G_bay is `bay_conductance` (W/K), h A that of still air over the part's own surface A, joined as forced and
    /// natural convection are: Incropera, Fundamentals of Heat and Mass Transfer, ch. 9, Nuⁿ with n = 3. What the
    /// surface radiates goes to the chamber's walls, for which its air stands, at rest and at speed. Without a
    /// surface Q = G_bay (T − T_air). T `temperature`, T_air `around` (K); `pressure` (Pa) of the day.
    #[inline]
    pub fn given_to_air(&self, temperature: f64, around: f64, pressure: f64) -> (f64, f64, f64) {
        match self.surface {
            None => {
                let given = self.bay_conductance * (temperature - around);
                (given, self.bay_conductance, -self.bay_conductance)
            }
            Some(surface) => {
                let still = self.given_to_still_air(surface, temperature, around, pressure);
                let (heat, up, down) =
                    radiation::exchanged(surface.emissivity, surface.area, temperature, around);
                (still.0 + heat, still.1 + up, still.2 + down)
            }
        }
    }

    fn given_to_still_air(
        &self,
        surface: HotSurface,
        temperature: f64,
        around: f64,
        pressure: f64,
    ) -> (f64, f64, f64) {
        let (still, by_part, by_air) = still_air_and_slopes(surface.height, temperature, around, pressure);
        let still = surface.area * still;
        let conductance = match self.bay_conductance {
            0.0 => still,
            forced => (forced.powi(3) + still.powi(3)).cbrt(),
        };
        // dG = (h A/G)² d(h A)
        let weight = surface.area * (still / conductance).powi(2);
        let difference = temperature - around;
        (conductance * difference, conductance + weight * by_part, weight * by_air - conductance)
    }

    /// Heat that the part takes at a temperature, and its slope.
    ///
    /// ```text
    ///   Q = Q_share (T_source − T)/(T_source − T_ref)
    /// ```
    ///
    /// `share_heat` Q_share (W) at T_ref; T (K). Heat comes from a source of an effective
    /// temperature, so that a part takes less as it gets hotter and never exceeds the source.
    /// Source: the effective gas temperature of Pinkel, NACA TR 612 (1938) (values from memory).
    #[inline]
    pub fn heat_taken(&self, share_heat: f64, temperature: f64) -> (f64, f64) {
        let per_kelvin = share_heat / (self.source_temperature - self.reference_temperature);
        (per_kelvin * (self.source_temperature - temperature), -per_kelvin)
    }
}

#[cfg(test)]
mod tests {
    use super::{HotSurface, Part};

    #[test]
    fn slopes_are_those_of_the_heat_given() {
        let surface = HotSurface { area: 0.3, height: 0.25, emissivity: 0.8 };
        for bay_conductance in [0.0, 2.0, 40.0] {
            let part = Part {
                limit: 480.0,
                least: None,
                bay_conductance,
                surface: Some(surface),
                chamber: None,
                source_temperature: 900.0,
                reference_temperature: 450.0,
                heat_capacity: None,
            };
            for (temperature, around) in [(470.0, 320.0), (310.0, 330.0), (800.0, 300.0), (300.5, 300.0)] {
                let heat = |t: f64, a: f64| part.given_to_air(t, a, 101_325.0).0;
                let (_, by_part, by_air) = part.given_to_air(temperature, around, 101_325.0);
                let step = 1e-3;
                let up = (heat(temperature + step, around) - heat(temperature - step, around)) / (2.0 * step);
                let down =
                    (heat(temperature, around + step) - heat(temperature, around - step)) / (2.0 * step);
                assert!((by_part / up - 1.0).abs() < 1e-6, "{by_part} {up}");
                assert!((by_air / down - 1.0).abs() < 1e-6, "{by_air} {down}");
            }
        }
    }
}
