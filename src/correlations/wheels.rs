//! Fans known by their wheel alone: pressure and flow over those of the blade tips.
//!
//! ```text
//!   ψ = Δp/(½ρU²)      φ = Q/(U π D²/4)      U = π D n
//! ```
//!
//! Δp the rise of total pressure, D and n diameter and speed of the wheel, U the speed of its tips. Fans of one shape
//! share one curve ψ(φ) at every size, speed and density as long as Reynolds and Mach number do not tell.

use crate::numerics::monotone_cubic::MonotoneCubic;
use std::f64::consts::PI;

/// Diameters (m) for which the curves stand.
pub const DIAMETERS: (f64, f64) = (0.08, 0.6);
/// Least Reynolds number U D/ν: below, small fans fall behind their likes (from memory).
pub const LEAST_REYNOLDS: f64 = 1e5;
/// Highest tip speed (m/s): above, air is no longer incompressible to a few per cent, and small wheels are seldom
/// built for it (common practice).
pub const MOST_TIP_SPEED: f64 = 120.0;
/// Band of the pressure at the same share of the flow (from memory): flat electric fans lie at its low end, wheels in a
/// long ring with many blades at its high one.
pub const HEAD_BAND: (f64, f64) = (0.6, 1.4);
/// Band of the flow at the same share of the pressure (from memory).
pub const FLOW_BAND: (f64, f64) = (0.65, 1.35);

/// A shape of wheel with its usual curve.
#[derive(Debug)]
pub struct Wheel {
    /// The word for it.
    pub word: &'static str,
    /// Points (φ, ψ) from a shut outlet to the flow at which no total pressure is left.
    pub points: &'static [(f64, f64)],
}

/// Every shape.
///
/// Typical small wheels without guide vanes in a ring or a scroll, as handbooks of fans draw them; not one maker's
/// curve. What a fan does left of its summit (stall, surge) is left out: pressure never rises with flow here.
/// Source: general handbooks of fans, from memory.
pub const WHEELS: &[Wheel] = &[
    Wheel { word: "axial", points: &[(0.0, 0.28), (0.08, 0.25), (0.16, 0.19), (0.24, 0.10), (0.30, 0.0)] },
    Wheel {
        word: "backward-curved",
        points: &[(0.0, 1.08), (0.07, 1.03), (0.14, 0.86), (0.21, 0.52), (0.28, 0.0)],
    },
    Wheel { word: "radial", points: &[(0.0, 1.40), (0.05, 1.34), (0.11, 1.12), (0.18, 0.65), (0.25, 0.0)] },
    Wheel {
        word: "forward-curved",
        points: &[(0.0, 2.20), (0.15, 2.12), (0.30, 1.80), (0.45, 1.15), (0.60, 0.0)],
    },
];

/// The wheel behind a word.
pub fn wheel(word: &str) -> Option<&'static Wheel> {
    WHEELS.iter().find(|wheel| wheel.word == word)
}

/// What a wheel's coefficients are multiplied by: tip speed, area and density.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tips {
    /// Pressure of ψ = 1: ½ρU² (Pa).
    pub pressure: f64,
    /// Flow of φ = 1: U π D²/4 (m³/s).
    pub flow: f64,
}

impl Tips {
    /// Of a wheel of `diameter` (m) at a `speed` (rev/min) in air of a `density` (kg/m³).
    pub fn new(diameter: f64, speed: f64, density: f64) -> Tips {
        let tips = tip_speed(diameter, speed);
        Tips { pressure: 0.5 * density * tips * tips, flow: tips * PI / 4.0 * diameter * diameter }
    }

    /// Points of flow (m³/s) and pressure (Pa) of a wheel, its usual curve multiplied by `head` and `flow`.
    pub fn points(&self, wheel: &Wheel, head: f64, flow: f64) -> Vec<(f64, f64)> {
        let point = |&(phi, psi): &(f64, f64)| (phi * flow * self.flow, psi * head * self.pressure);
        wheel.points.iter().map(point).collect()
    }
}

/// Speed of the blade tips (m/s): π D n, `speed` in rev/min.
pub fn tip_speed(diameter: f64, speed: f64) -> f64 {
    PI * diameter * speed / 60.0
}

/// Factor by which a curve must grow along its system lines to pass through a measured point: as by a wheel that turns
/// that much faster.
///
/// ```text
///   Q = s Q*,  Δp = s² Δp*,   (Q*, Δp*) where the curve meets the system line Δp ∝ Q² through the point
/// ```
///
/// `points` of flow and pressure, falling to none; a point of no flow is met at the curve's beginning.
/// None where the points are no curve, or the measured pressure is not above zero.
pub fn growth(points: &[(f64, f64)], (flow, pressure): (f64, f64)) -> Option<f64> {
    let curve = MonotoneCubic::new(points)?;
    if !(pressure > 0.0 && flow >= 0.0) {
        return None;
    }
    if flow == 0.0 {
        return Some((pressure / curve.value_and_slope(0.0).0).sqrt());
    }
    // the curve falls and the line rises: halved until nothing is left to halve
    let (mut low, mut high) = (0.0, points.last()?.0);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        let line = pressure * (middle / flow) * (middle / flow);
        if curve.value_and_slope(middle).0 > line { low = middle } else { high = middle }
    }
    let meets = 0.5 * (low + high);
    (meets > 0.0).then(|| flow / meets)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_of_the_curve_itself_changes_nothing() {
        for wheel in WHEELS {
            let points = Tips::new(0.2, 3000.0, 1.2).points(wheel, 1.0, 1.0);
            let curve = MonotoneCubic::new(&points).unwrap();
            for share in [0.2, 0.6, 0.95] {
                let flow = share * points.last().unwrap().0;
                let grown = growth(&points, (flow, curve.value_and_slope(flow).0)).unwrap();
                assert!((grown - 1.0).abs() < 1e-9, "{}: {grown}", wheel.word);
            }
        }
    }

    #[test]
    fn twice_the_flow_on_the_same_system_line_is_twice_the_speed() {
        let points = Tips::new(0.2, 3000.0, 1.2).points(&WHEELS[0], 1.0, 1.0);
        let faster = MonotoneCubic::new(&Tips::new(0.2, 6000.0, 1.2).points(&WHEELS[0], 1.0, 1.0)).unwrap();
        let flow = 0.25;
        let grown = growth(&points, (flow, faster.value_and_slope(flow).0)).unwrap();
        assert!((grown - 2.0).abs() < 1e-9, "{grown}");
        // shut: pressures with the square of the speed
        assert!((growth(&points, (0.0, 4.0 * points[0].1)).unwrap() - 2.0).abs() < 1e-12);
    }
}
