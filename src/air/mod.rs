//! The state and the properties of the day's air, in plain `f64` and SI units.
//!
//! | module | what it gives |
//! | --- | --- |
//! | [`standard_atmosphere`] | pressure and temperature at a geopotential altitude (ISO 2533) |
//! | [`moist`] | saturation pressure, humidity ratio, gas constant, heat capacity |
//! | [`transport`] | viscosity |
//!
//! [`Air`] holds one day's air; density anywhere in the car follows from it by
//! [`Air::density_at`], since pressures in the ducts differ from the ambient one by about 3 % at
//! most.

pub mod moist;
pub mod standard_atmosphere;
pub mod transport;

/// Zero of the Celsius scale (K).
pub const ZERO_CELSIUS: f64 = 273.15;

/// Ratio of heat capacities of air, 1.4: diatomic gas at the temperatures of a car's ducts.
pub const HEAT_CAPACITY_RATIO: f64 = 1.4;

/// The air of one day at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Ambient static pressure (Pa).
    pub pressure: f64,
    /// Temperature of the air that the car meets (K): the weather's, plus what the track adds.
    pub temperature: f64,
    /// Mass of water vapour to mass of dry air (-).
    pub humidity_ratio: f64,
    /// Partial pressure of the water vapour (Pa).
    pub vapour_pressure: f64,
    /// Gas constant of the mixture (J kg⁻¹ K⁻¹).
    pub gas_constant: f64,
    /// Heat capacity of the mixture at constant pressure (J kg⁻¹ K⁻¹).
    pub heat_capacity: f64,
}

impl Air {
    /// The air at `pressure` (Pa) of a day whose weather report gives `temperature` (K) and
    /// `relative_humidity` (0..1), warmed by `over_track` (K) over the track.
    ///
    /// ```text
    ///   p_v = φ p_sat(T)      w = 0.621945 p_v/(p − p_v)
    /// ```
    ///
    /// The humidity belongs to the weather's temperature; w and p_v stay as the track warms the
    /// air. Valid for p_v well below p.
    pub fn new(pressure: f64, temperature: f64, over_track: f64, relative_humidity: f64) -> Self {
        let vapour_pressure = relative_humidity * moist::saturation_pressure(temperature);
        let humidity_ratio = moist::humidity_ratio(pressure, vapour_pressure);
        Self {
            pressure,
            temperature: temperature + over_track,
            humidity_ratio,
            vapour_pressure,
            gas_constant: moist::gas_constant(humidity_ratio),
            heat_capacity: moist::heat_capacity(humidity_ratio),
        }
    }

    /// Density (kg/m³) of this air at another temperature.
    ///
    /// ```text
    ///   ρ = p/(R T)
    /// ```
    ///
    /// p the ambient pressure (Pa), T = `kelvin`. Ideal gas: within 0.1 % of real moist air at
    /// ambient pressure. Gauge pressures are left out: 1 kPa is 1 %.
    #[inline]
    pub fn density_at(&self, kelvin: f64) -> f64 {
        self.pressure / (self.gas_constant * kelvin)
    }

    /// Density (kg/m³) of the day's air.
    pub fn density(&self) -> f64 {
        self.density_at(self.temperature)
    }

    /// Partial pressure of the dry air (Pa), which power corrections are written for.
    pub fn dry_pressure(&self) -> f64 {
        self.pressure - self.vapour_pressure
    }

    /// Dynamic viscosity (Pa s) of the day's air, taken as dry ([`transport::viscosity`]).
    pub fn viscosity(&self) -> f64 {
        transport::viscosity(self.temperature)
    }

    /// Speed of sound (m/s).
    ///
    /// ```text
    ///   a = √(1.4 R T)
    /// ```
    ///
    /// Source: Newton-Laplace, ideal diatomic gas.
    pub fn speed_of_sound(&self) -> f64 {
        (HEAT_CAPACITY_RATIO * self.gas_constant * self.temperature).sqrt()
    }

    /// Pressure above ambient (Pa) of air brought to rest from `air_speed` (m/s).
    ///
    /// ```text
    ///   q = ½ ρ V² (1 + M²/4)      M = V/a
    /// ```
    ///
    /// The bracket is the first term of the isentropic relation expanded in M². Left out is
    /// M⁴/40: 4e-5 at 250 km/h.
    /// Source: Liepmann & Roshko, Elements of Gasdynamics (series for small M).
    pub fn dynamic_pressure(&self, air_speed: f64) -> f64 {
        let mach = air_speed / self.speed_of_sound();
        0.5 * self.density() * air_speed * air_speed * (1.0 + 0.25 * mach * mach)
    }

    /// Temperature (K) of air brought to rest from `air_speed` (m/s).
    ///
    /// ```text
    ///   T₀ = T + V²/(2 c_p)
    /// ```
    ///
    /// Source: steady-flow energy equation, adiabatic.
    pub fn total_temperature(&self, air_speed: f64) -> f64 {
        self.temperature + 0.5 * air_speed * air_speed / self.heat_capacity
    }
}

#[cfg(test)]
mod tests {
    use super::{Air, moist};

    #[test]
    fn dry_air_has_no_vapour() {
        let air = Air::new(95_000.0, 300.0, 0.0, 0.0);
        assert_eq!(air.vapour_pressure, 0.0);
        assert_eq!(air.humidity_ratio, 0.0);
        assert_eq!(air.dry_pressure(), 95_000.0);
        assert_eq!(air.heat_capacity, 1006.0);
    }

    #[test]
    fn the_track_warms_the_air_and_leaves_its_water() {
        let weather = Air::new(98_000.0, 303.15, 0.0, 0.5);
        let track = Air::new(98_000.0, 303.15, 6.0, 0.5);
        assert_eq!(track.humidity_ratio, weather.humidity_ratio);
        assert_eq!(track.vapour_pressure, weather.vapour_pressure);
        assert_eq!(track.temperature, 309.15);
        let ratio = track.density() / weather.density();
        assert!((ratio - 303.15 / 309.15).abs() < 1e-12);
        assert!(weather.vapour_pressure / moist::saturation_pressure(303.15) - 0.5 < 1e-12);
    }

    #[test]
    fn moist_air_is_lighter_and_holds_more_heat() {
        let dry = Air::new(101_325.0, 308.0, 0.0, 0.0);
        let moist = Air::new(101_325.0, 308.0, 0.0, 0.9);
        assert!(moist.density() < 0.985 * dry.density());
        assert!(moist.heat_capacity > 1.02 * dry.heat_capacity);
    }
}
