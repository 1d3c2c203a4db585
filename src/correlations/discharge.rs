//! Openings known by a discharge coefficient: exits, leaks, venturis.

/// Total-pressure loss and last velocity head together, on the opening's own area.
///
/// ```text
///   Δp = ½ ρ (Q/(C_d A))²      that is  K = 1/C_d²
/// ```
///
/// C_d = `discharge_coefficient`, above 0 and up to 1, into a large space from a large one;
/// Q the volume flow, A the opening. Turbulent.
/// Source: definition of C_d; Idelchik, Handbook of Hydraulic Resistance.
pub fn with_last_head(discharge_coefficient: f64) -> f64 {
    1.0 / (discharge_coefficient * discharge_coefficient)
}

/// The loss alone, on the opening's own area: what C_d costs beyond the velocity head.
///
/// ```text
///   K = 1/C_d² − 1
/// ```
///
/// Arguments, range and source as for [`with_last_head`].
pub fn before_last_head(discharge_coefficient: f64) -> f64 {
    with_last_head(discharge_coefficient) - 1.0
}
