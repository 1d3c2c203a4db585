//! Speed of a jet once it has reached ambient pressure.

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
