//! A part that must be kept below a temperature, or that stores heat.

use crate::correlations::natural_convection::still_air;
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
    /// Its emissivity.
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
        let given = |temperature: f64, around: f64| {
            let still = surface.area * still_air(surface.height, temperature, around, pressure);
            (self.bay_conductance.powi(3) + still.powi(3)).cbrt() * (temperature - around)
        };
        // the properties of air run smoothly: a difference is as good as the slope
        let step = 0.01;
        let slope = |up: f64, down: f64| (up - down) / (2.0 * step);
        (
            given(temperature, around),
            slope(given(temperature + step, around), given(temperature - step, around)),
            slope(given(temperature, around + step), given(temperature, around - step)),
        )
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
