//! Wheels by their coefficients and the laws of fans.

use crate::support::{within, within_share};
use slowcorner::correlations::wheels::{self, Tips};
use slowcorner::numerics::monotone_cubic::MonotoneCubic;

#[test]
fn coefficients_lie_where_handbooks_have_them() {
    // From memory, general handbooks of fans (ψ on ½ρU², φ on the disc of the wheel): pressure with the outlet shut
    // axial 0.15-0.6, backward-curved 0.8-1.2, radial 1.1-1.7, forward-curved 1.8-2.8; most flow axial 0.2-0.4,
    // backward-curved 0.2-0.4, radial 0.15-0.35, forward-curved 0.4-1.2. Bands, never pinned.
    for (word, shut, open) in [
        ("axial", 0.15..0.6, 0.2..0.4),
        ("backward-curved", 0.8..1.2, 0.2..0.4),
        ("radial", 1.1..1.7, 0.15..0.35),
        ("forward-curved", 1.8..2.8, 0.4..1.2),
    ] {
        let points = wheels::wheel(word).unwrap().points;
        assert!(shut.contains(&points[0].1), "{word}: {} shut", points[0].1);
        assert!(open.contains(&points.last().unwrap().0), "{word}: {} open", points.last().unwrap().0);
        assert!(points.windows(2).all(|pair| pair[1].1 < pair[0].1), "{word} rises with flow");
    }
}

/// Pressure shut (Pa) and flow into the open (m³/s), where the head of the air's own speed is all that is left, of an
/// axial fan.
fn axial(diameter: f64, speed: f64, head: f64, flow: f64) -> (f64, f64) {
    let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
    let points = Tips::new(diameter, speed, 1.2).points(wheels::wheel("axial").unwrap(), head, flow);
    let curve = MonotoneCubic::new(&points).unwrap();
    let is_static = |flow: f64| curve.value_and_slope(flow).0 - 0.6 * (flow / area).powi(2);
    let open =
        slowcorner::numerics::root::bracketed(is_static, 0.01, 0.9, is_static(0.01), is_static(0.9), 1e-9);
    (points[0].1, open)
}

#[test]
fn everyday_axial_fans() {
    // Common practice: flat electric fans for coolers, 280 to 300 mm at 2500 to 3000 rpm, have 100 to 250 Pa shut and
    // 0.3 to 0.6 m3/s into the open. They are the weakest of their kind: the low end of the band.
    let (shut, open) = axial(0.29, 2700.0, wheels::HEAD_BAND.0, wheels::FLOW_BAND.0);
    within("flat, shut, Pa", shut, 175.0, 75.0);
    within("flat, open, m3/s", open, 0.45, 0.15);
    // Common practice: plate-mounted fans of 250 mm at 2600 to 2800 rpm have 120 to 250 Pa and 0.4 to 0.6 m3/s.
    let (shut, open) = axial(0.25, 2700.0, 1.0, 1.0);
    within("plate, shut, Pa", shut, 185.0, 65.0);
    within("plate, open, m3/s", open, 0.5, 0.1);
}

#[test]
fn laws_of_fans() {
    // Any handbook: flow ∝ n D³, pressure ∝ ρ n² D².
    let base = Tips::new(0.2, 3000.0, 1.2);
    let fast = Tips::new(0.2, 4500.0, 1.2);
    let wide = Tips::new(0.3, 3000.0, 1.2);
    let thin = Tips::new(0.2, 3000.0, 0.9);
    within_share("flow, speed", fast.flow / base.flow, 1.5, 1e-12);
    within_share("pressure, speed", fast.pressure / base.pressure, 2.25, 1e-12);
    within_share("flow, diameter", wide.flow / base.flow, 3.375, 1e-12);
    within_share("pressure, diameter", wide.pressure / base.pressure, 2.25, 1e-12);
    within_share("pressure, density", thin.pressure / base.pressure, 0.75, 1e-12);
    // by hand: π · 0.2 · 50 = 31.416 m/s; ½ · 1.2 · 986.96 = 592.18 Pa; 31.416 · 0.031416 = 0.98696 m³/s
    within("tip speed", wheels::tip_speed(0.2, 3000.0), 31.4159, 1e-4);
    within("pressure", base.pressure, 592.18, 0.01);
    within("flow", base.flow, 0.98696, 1e-5);
}
