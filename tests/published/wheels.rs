//! Wheels by the laws of fans and by Euler's work. Their usual curves are from memory, and so are the bands of handbooks: neither
//! judges the other, and that no published curve was at hand is said where the curves stand.

use crate::published::support::{below, within, within_share};
use slowcorner::correlations::wheels::{self, Tips};

#[test]
fn no_wheel_does_more_than_eulers_work() {
    // Euler (1754), worked out by hand: air that enters without swirl and leaves with c_u takes up ρ U c_u, and blades that are
    // not bent forward throw it no faster than their tips, c_u ≤ U: ψ ≤ 2, in tests far less for slip and loss. Blades bent
    // forward have no such bound.
    // Allowed: less than the bound; no more than that is known of the curves from outside.
    for word in ["axial", "backward-curved", "radial"] {
        for (phi, psi) in wheels::wheel(word).expect("a wheel").points {
            below(&format!("{word}, ψ at φ {phi}"), *psi, 2.0);
        }
    }
}

#[test]
fn laws_of_fans() {
    // Any handbook: flow ∝ n D³, pressure ∝ ρ n² D².
    // Exact ratios; the rest worked out by hand.
    // Allowed: rounding.
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
