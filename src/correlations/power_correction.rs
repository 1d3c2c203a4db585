//! Engine power on another day than the one it was measured on.

/// Factors that ISO 1585 accepts as a correction (from memory).
pub const ACCEPTED: std::ops::RangeInclusive<f64> = 0.93..=1.07;

/// ISO 1585 factor of a naturally aspirated spark-ignition engine (-).
///
/// ```text
///   α = (99 kPa/p_dry)^1.2 (T/298 K)^0.6
/// ```
///
/// p_dry = `dry_pressure` (Pa) of the dry air, T = `kelvin` of the air drawn in. Power in the
/// standard's reference air = α × power on the day; so power on the day = standard power/α.
/// Accepted as a correction where 0.93 ≤ α ≤ 1.07.
/// Source: ISO 1585, Road vehicles: engine test code, net power (formula from memory).
pub fn iso_1585(dry_pressure: f64, kelvin: f64) -> f64 {
    (99_000.0 / dry_pressure).powf(1.2) * (kelvin / 298.0).powf(0.6)
}
