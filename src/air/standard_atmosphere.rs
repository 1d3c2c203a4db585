//! The standard atmosphere of ISO 2533, from 1 km below sea level to the tropopause.
//!
//! Altitudes are geopotential. At the altitudes of roads the geometric altitude of a map is the
//! same within its rounding (0.03 % at 2000 m).

/// Sea-level pressure (Pa).
pub const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
/// Sea-level temperature (K).
pub const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// Fall of temperature with geopotential altitude (K/m), up to 11 km.
pub const LAPSE_RATE: f64 = 0.0065;
/// Standard acceleration of free fall (m/s²).
pub const FREE_FALL: f64 = 9.80665;
/// Specific gas constant of dry air as the standard gives it (J kg⁻¹ K⁻¹).
pub const GAS_CONSTANT: f64 = 287.05287;

/// Temperature (K) of the standard atmosphere.
///
/// ```text
///   T = T₀ − β H
/// ```
///
/// H = `geopotential_altitude` (m), T₀ = 288.15 K, β = 0.0065 K/m. Valid −1000..11 000 m.
/// Source: ISO 2533:1975.
pub fn temperature(geopotential_altitude: f64) -> f64 {
    SEA_LEVEL_TEMPERATURE - LAPSE_RATE * geopotential_altitude
}

/// Pressure (Pa) of the standard atmosphere.
///
/// ```text
///   p = p₀ (T/T₀)^(g/(R β))      g/(R β) = 5.25588
/// ```
///
/// T from [`temperature`] at H = `geopotential_altitude` (m), p₀ = 101 325 Pa, g = 9.80665 m/s²,
/// R = 287.05287 J/(kg K), β = 0.0065 K/m. Valid −1000..11 000 m.
/// Source: ISO 2533:1975.
pub fn pressure(geopotential_altitude: f64) -> f64 {
    let ratio = temperature(geopotential_altitude) / SEA_LEVEL_TEMPERATURE;
    SEA_LEVEL_PRESSURE * ratio.powf(FREE_FALL / (GAS_CONSTANT * LAPSE_RATE))
}

/// Geopotential altitude (m) at which the standard atmosphere has a pressure.
///
/// ```text
///   H = (T₀/β) (1 − (p/p₀)^(R β/g))
/// ```
///
/// p = `pressure` (Pa); the inverse of [`pressure`], with its symbols. Valid −1000..11 000 m.
/// Source: ISO 2533:1975.
pub fn altitude(pressure: f64) -> f64 {
    let ratio = (pressure / SEA_LEVEL_PRESSURE).powf(GAS_CONSTANT * LAPSE_RATE / FREE_FALL);
    SEA_LEVEL_TEMPERATURE / LAPSE_RATE * (1.0 - ratio)
}
