//! What an engine sweeps and what it makes of its fuel.

/// Volume that the pistons sweep in a second (m³/s).
///
/// ```text
///   V̇ = V_d n/(60 s/2)
/// ```
///
/// V_d = `displacement` (m³) of all cylinders, n = `rpm`, s = `strokes` of a cycle (2 or 4): one
/// filling in s/2 turns. Times volumetric efficiency and density it is the air breathed.
/// Source: definition; Heywood, Internal Combustion Engine Fundamentals.
pub fn swept_volume_flow(displacement: f64, rpm: f64, strokes: f64) -> f64 {
    displacement * rpm / (30.0 * strokes)
}

/// Brake efficiency (-) from the specific fuel consumption.
///
/// ```text
///   η = 1/(b H)
/// ```
///
/// b = `consumption` (kg/J) of fuel per work at the brake (1 g/kWh = 1/3.6e9 kg/J),
/// H = `heating_value` (J/kg), the lower one.
/// Source: definition; Heywood, Internal Combustion Engine Fundamentals.
pub fn brake_efficiency(consumption: f64, heating_value: f64) -> f64 {
    1.0 / (consumption * heating_value)
}
