//! Submerged ramp inlets in a surface: recovery of total pressure, and the plan of the ramp.
//!
//! Reports: NACA ACR 5I20 (1945) and RM A7I30 (1948), whose abstracts were read; figures and ordinates are from memory.

use super::boundary_layer::dynamic_pressure_share;

/// Recovery of a thin skin layer by velocity ratio (from memory, ±0.1).
const THIN: [(f64, f64); 5] = [(0.2, 0.85), (0.4, 0.90), (0.6, 0.90), (0.8, 0.87), (1.0, 0.80)];
/// By how much it is less where the layer is as thick as the inlet is deep: 0.55 to 0.75 are left (from memory, ±0.1).
const THICK_COSTS: f64 = 0.22;
/// Velocity ratio below which the recovery is held.
pub const LEAST_RATIO: f64 = 0.3;

/// Recovery of a submerged inlet with a 7° ramp and divergent walls (-).
///
/// ```text
///   η = thin(V_i/V) − 0.22 δ/h                  up to δ/h = 1
///   η = [thin(V_i/V) − 0.22] r(h/δ)/r(1)        beyond
/// ```
///
/// `velocity_ratio` V_i/V in the lip plane over the stream, 0.3..1 (held outside); `layer_over_height` δ/h of the skin's layer over
/// the lip's height, 0..1. Beyond, where nothing is known, the recovery falls as the mean r by mass of the dynamic pressure over
/// the lip's height does (1/7 law), which is our choice: held, it would soon be better than a forward inlet in the same
/// layer. Total pressure behind the lip over the dynamic pressure of the stream.
/// Source: NACA ACR 5I20, RM A7I30; the figures from memory, ±0.1.
pub fn recovery(velocity_ratio: f64, layer_over_height: f64) -> (f64, f64) {
    let (thin, slope) = along(&THIN, velocity_ratio);
    if layer_over_height <= 1.0 {
        return (thin - THICK_COSTS * layer_over_height, slope);
    }
    let left = dynamic_pressure_share(0.0, 1.0 / layer_over_height) / dynamic_pressure_share(0.0, 1.0);
    (left * (thin - THICK_COSTS), left * slope)
}

/// A curve by points in order, straight between them, held outside and below [`LEAST_RATIO`]; with its slope.
pub fn along(points: &[(f64, f64)], velocity_ratio: f64) -> (f64, f64) {
    let x = velocity_ratio.max(LEAST_RATIO);
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return (f64::NAN, 0.0) };
    if x <= first.0 {
        return (first.1, 0.0);
    }
    if x >= last.0 {
        return (last.1, 0.0);
    }
    let above = points.partition_point(|point| point.0 <= x).clamp(1, points.len() - 1);
    let ((x0, y0), (x1, y1)) = (points[above - 1], points[above]);
    let slope = (y1 - y0) / (x1 - x0);
    (y0 + slope * (x - x0), if velocity_ratio > LEAST_RATIO { slope } else { 0.0 })
}

/// Plan of the ramp: x/L from the lip to the ramp's beginning, half-width over the lip's width (from memory; a second-hand print
/// agrees within 0.003 except at 0.3).
pub const PLAN: [(f64, f64); 11] = [
    (0.0, 0.500),
    (0.1, 0.498),
    (0.2, 0.458),
    (0.3, 0.383),
    (0.4, 0.307),
    (0.5, 0.233),
    (0.6, 0.195),
    (0.7, 0.156),
    (0.8, 0.118),
    (0.9, 0.080),
    (1.0, 0.042),
];
/// Radius of the lip's nose over the depth (printed in the report).
pub const NOSE_RADIUS: f64 = 0.094;
/// Thickness of the lip over the depth (printed in the report).
pub const LIP_THICKNESS: f64 = 0.48;

/// Length of a ramp (m) that comes down to `height` (m) at `ramp_angle` (rad).
pub fn ramp_length(height: f64, ramp_angle: f64) -> f64 {
    height / ramp_angle.tan()
}

/// Half of the plan of a ramp: distance ahead of the lip and half-width there (m), of a lip of `width` and `height` (m) and a ramp at
/// `ramp_angle` (rad).
pub fn outline(width: f64, height: f64, ramp_angle: f64) -> Vec<(f64, f64)> {
    let length = ramp_length(height, ramp_angle);
    PLAN.iter().map(|(x, half)| (x * length, half * width)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_met_and_held() {
        // thin layer, V_i/V 0.4 to 1.0 (from memory, ±0.1: held here so that no slip changes what is remembered)
        for (ratio, wanted) in [(0.4, 0.90), (0.6, 0.90), (0.8, 0.87), (1.0, 0.80)] {
            assert!((recovery(ratio, 0.0).0 - wanted).abs() < 1e-12, "{ratio}");
        }
        assert_eq!(recovery(1.7, 0.0), (0.80, 0.0));
        assert_eq!(recovery(0.1, 0.0), recovery(0.3, 0.0));
        assert!((recovery(0.3, 0.0).0 - 0.875).abs() < 1e-12);
        assert!((recovery(0.6, 1.0).0 - 0.68).abs() < 1e-12);
    }

    #[test]
    fn falls_as_the_layer_grows_and_stays_below_a_forward_inlet() {
        for ratio in [0.2, 0.4, 0.7, 1.0] {
            let at = |tenths: i32| recovery(ratio, f64::from(tenths) / 10.0).0;
            assert!((0..50).all(|tenths| at(tenths + 1) < at(tenths)), "at {ratio}");
            let (below, above) = (recovery(ratio, 1.0 - 1e-9).0, recovery(ratio, 1.0 + 1e-9).0);
            assert!((below - above).abs() < 1e-8, "jumps at {ratio}");
            for tenths in 10..50 {
                let forward = dynamic_pressure_share(0.0, 10.0 / f64::from(tenths));
                assert!(at(tenths) < forward, "{ratio}, {tenths}");
            }
        }
        // mean by mass, exact: 0.6563 at z = 0.5, 0.8 at z = 1
        assert!((recovery(0.6, 2.0).0 - 0.68 * 0.6563 / 0.8).abs() < 1e-4);
    }

    #[test]
    fn plan_of_a_ramp() {
        // 40 mm deep at 7 degrees: 325.8 mm long
        let plan = outline(0.16, 0.04, 7f64.to_radians());
        assert!((plan[10].0 - 0.3258).abs() < 1e-4);
        assert_eq!(plan[0], (0.0, 0.08));
        assert!(plan.windows(2).all(|pair| pair[1].1 <= pair[0].1));
    }
}
