//! Moist air as an ideal mixture of dry air and water vapour.

/// Molar mass of water over that of dry air (-).
pub const MASS_RATIO: f64 = 0.621945;
/// Specific gas constant of dry air (J kg⁻¹ K⁻¹).
pub const DRY_GAS_CONSTANT: f64 = 287.052874;
/// Heat capacity of dry air at constant pressure (J kg⁻¹ K⁻¹); within 1 % over −10..120 °C.
pub const DRY_HEAT_CAPACITY: f64 = 1006.0;
/// Heat capacity of water vapour at constant pressure (J kg⁻¹ K⁻¹).
pub const VAPOUR_HEAT_CAPACITY: f64 = 1860.0;

/// Saturation pressure (Pa) of water vapour over liquid water.
///
/// ```text
///   ln p = c₁/T + c₂ + c₃ T + c₄ T² + c₅ T³ + c₆ ln T
///   c₁ = −5.8002206e3   c₂ = 1.3914993       c₃ = −4.8640239e-2
///   c₄ = 4.1764768e-5   c₅ = −1.4452093e-8   c₆ = 6.5459673
/// ```
///
/// T = `kelvin` (K). Published for 0..200 °C; used below 0 °C as well, since meteorology gives
/// relative humidity over water there too.
/// Source: Hyland & Wexler, ASHRAE Transactions 89 (1983), as in ASHRAE Handbook Fundamentals,
/// chapter Psychrometrics.
pub fn saturation_pressure(kelvin: f64) -> f64 {
    let t = kelvin;
    let polynomial = 1.3914993 + t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8));
    (-5.8002206e3 / t + polynomial + 6.5459673 * t.ln()).exp()
}

/// Humidity ratio (-): mass of vapour to mass of dry air.
///
/// ```text
///   w = 0.621945 p_v/(p − p_v)
/// ```
///
/// p = `pressure` of the mixture (Pa), p_v = `vapour_pressure` (Pa), below p.
/// Source: ASHRAE Handbook Fundamentals, chapter Psychrometrics.
pub fn humidity_ratio(pressure: f64, vapour_pressure: f64) -> f64 {
    MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)
}

/// Gas constant (J kg⁻¹ K⁻¹) of the mixture.
///
/// ```text
///   R = R_dry (1 + w/0.621945)/(1 + w)
/// ```
///
/// w = `humidity_ratio` (-), R_dry = 287.052874 J/(kg K).
/// Source: ideal mixture (Dalton).
pub fn gas_constant(humidity_ratio: f64) -> f64 {
    DRY_GAS_CONSTANT * (1.0 + humidity_ratio / MASS_RATIO) / (1.0 + humidity_ratio)
}

/// Heat capacity (J kg⁻¹ K⁻¹) of the mixture at constant pressure.
///
/// ```text
///   c_p = (1006 + 1860 w)/(1 + w)
/// ```
///
/// w = `humidity_ratio` (-); the same at every temperature: within 1 % over −10..120 °C.
/// Source: ideal mixture; constants of ASHRAE Handbook Fundamentals, chapter Psychrometrics.
pub fn heat_capacity(humidity_ratio: f64) -> f64 {
    (DRY_HEAT_CAPACITY + VAPOUR_HEAT_CAPACITY * humidity_ratio) / (1.0 + humidity_ratio)
}
