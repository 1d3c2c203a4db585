//! The one-seventh power profile: figures worked out by exact integration, and an independent
//! integration of the profile by computer.

use crate::published::support::within;
use slowcorner::correlations::boundary_layer as layer;

/// Height over thickness and mean q/q∞ by mass, of an inlet flush with the skin:
/// computed by hand from the exact integrals, four digits.
const FLUSH: [(f64, f64); 6] =
    [(0.25, 0.5384), (0.5, 0.6563), (1.0, 0.8000), (1.5, 0.8727), (2.0, 0.9067), (3.0, 0.9391)];

#[test]
fn inlet_flush_with_the_skin() {
    // Allowed: half of the fourth digit.
    for (height, by_mass) in FLUSH {
        let mass = layer::dynamic_pressure_share(0.0, height);
        within("by mass", mass, by_mass, 0.5e-4);
    }
}

#[test]
fn inlet_with_a_gap_below() {
    // Gap and height over thickness, by mass: computed with scipy 1.17.1,
    // scipy.integrate.quad over u = min(z, 1)^(1/7) and u³.
    // Allowed: the digits of the integration.
    for (gap, height, by_mass) in [
        (0.0, 0.5, 0.6562682848),
        (0.2, 0.5, 0.7907228246),
        (0.3, 1.5, 0.9454388622),
        (0.9, 0.05, 0.9779569431),
        (1.2, 1.0, 1.0),
    ] {
        let mass = layer::dynamic_pressure_share(gap, height);
        within("by mass", mass, by_mass, 1e-9);
    }
}

#[test]
fn thickness_two_metres_along_the_skin() {
    // Computed by hand: ν 1.461e-5 m2/s, 40 m/s, x 2 m, coefficient 0.37: 33.23 mm.
    // Allowed: half of the fourth digit.
    let reynolds = 40.0 * 2.0 / 1.461e-5;
    within("mm", 1e3 * layer::thickness(2.0, reynolds), 33.23, 0.005);
}
