//! Viscosity and conductivity of air.

/// Coefficient of the Sutherland formula (kg m⁻¹ s⁻¹ K⁻½), ISO 2533.
const COEFFICIENT: f64 = 1.458e-6;
/// Sutherland's temperature (K), ISO 2533.
const SUTHERLAND: f64 = 110.4;

/// Dynamic viscosity (Pa s) of air.
///
/// ```text
///   μ = 1.458e-6 T^1.5/(T + 110.4)
/// ```
///
/// T = `kelvin` (K). Dry air, ambient pressure, 100..1900 K (within 1 % over −20..150 °C).
/// Humidity of the weather lowers it by about 1 % at most.
/// Source: Sutherland (1893), constants of ISO 2533:1975.
#[inline]
pub fn viscosity(kelvin: f64) -> f64 {
    COEFFICIENT * kelvin * kelvin.sqrt() / (kelvin + SUTHERLAND)
}

/// [`viscosity`] and its slope with temperature (Pa s/K).
///
/// ```text
///   dμ/dT = μ [1.5/T − 1/(T + 110.4)]
/// ```
#[inline]
pub fn viscosity_and_slope(kelvin: f64) -> (f64, f64) {
    let value = viscosity(kelvin);
    (value, value * (1.5 / kelvin - 1.0 / (kelvin + SUTHERLAND)))
}

/// Thermal conductivity (W/(m K)) of air.
///
/// ```text
///   λ = 2.648151e-3 T^1.5/(T + 245.4 · 10^(−12/T))
/// ```
///
/// T = `kelvin` (K). Dry air at ambient pressure. Source: ISO 2533:1975.
pub fn conductivity(kelvin: f64) -> f64 {
    2.648_151e-3 * kelvin * kelvin.sqrt() / (kelvin + 245.4 * 10.0_f64.powf(-12.0 / kelvin))
}

/// [`conductivity`] and its slope with temperature (W/(m K²)).
///
/// ```text
///   dλ/dT = λ {1.5/T − [1 + e 12 ln 10/T²]/(T + e)},   e = 245.4 · 10^(−12/T)
/// ```
pub fn conductivity_and_slope(kelvin: f64) -> (f64, f64) {
    let exponent = -12.0 * std::f64::consts::LN_10 / kelvin;
    let effect = 245.4 * exponent.exp();
    let inverse = 1.0 / (kelvin + effect);
    let value = 2.648_151e-3 * kelvin * kelvin.sqrt() * inverse;
    (value, value * ((1.5 + exponent * effect * inverse) / kelvin - inverse))
}

#[cfg(test)]
mod tests {
    use super::{conductivity, conductivity_and_slope, viscosity, viscosity_and_slope};

    #[test]
    fn conductivity_of_the_standard_day() {
        // ISO 2533, table at 0 m: 0.025343 W/(m K)
        assert!((conductivity(288.15) - 0.025_343).abs() < 5e-7);
    }

    #[test]
    fn slope_is_the_finite_difference() {
        for kelvin in [250.0, 300.0, 400.0, 600.0] {
            let step = 1e-2;
            let difference = (viscosity(kelvin + step) - viscosity(kelvin - step)) / (2.0 * step);
            let (value, slope) = viscosity_and_slope(kelvin);
            assert_eq!(value, viscosity(kelvin));
            assert!((slope / difference - 1.0).abs() < 1e-7);
            let difference = (conductivity(kelvin + step) - conductivity(kelvin - step)) / (2.0 * step);
            let (value, slope) = conductivity_and_slope(kelvin);
            assert!((value / conductivity(kelvin) - 1.0).abs() < 1e-15);
            assert!((slope / difference - 1.0).abs() < 1e-7);
        }
    }
}
