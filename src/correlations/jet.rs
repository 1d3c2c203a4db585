//! Speed of a jet once it has reached ambient pressure, and what it does to drag.

/// Speed (m/s) of a jet expanded to ambient pressure.
///
/// ```text
///   ½ ρ V² = p₀      V = √(2 p₀/ρ), 0 where p₀ < 0
/// ```
///
/// p₀ = `total_gauge_pressure` (Pa) of the jet above ambient static pressure, ρ = `density`
/// (kg/m³) of the jet. Incompressible, no mixing before it has expanded.
/// Source: Küchemann & Weber, Aerodynamics of Propulsion (1953): internal drag is taken
/// far behind, at ambient pressure.
pub fn expanded_speed(total_gauge_pressure: f64, density: f64) -> f64 {
    (2.0 * total_gauge_pressure.max(0.0) / density).sqrt()
}

/// Momentum drag (N) of air taken in at one speed and let go backwards at another.
///
/// ```text
///   D = ṁ (V₁ − V₂)
/// ```
///
/// ṁ = `mass_flow` (kg/s), V₁ = `speed_in` relative to the car and V₂ = `speed_out` along its
/// axis, expanded to ambient pressure (m/s). Negative: a thrust.
/// Source: momentum balance, as Küchemann & Weber, Aerodynamics of Propulsion (1953).
pub fn momentum_drag(mass_flow: f64, speed_in: f64, speed_out: f64) -> f64 {
    mass_flow * (speed_in - speed_out)
}
