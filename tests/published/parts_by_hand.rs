//! Margins and hot surfaces of parts, worked out by hand.

use crate::published::support::{within, within_share};
use slowcorner::correlations::natural_convection::still_air_and_slopes;
use slowcorner::thermal::margin::{Carrier, HeldAtLimit, margin};
use slowcorner::thermal::{HotSurface, MarginIs, Part};

/// Fins of a constant 50 W/K in 100 W/K of air at 300 K, which cool a part held at 400 K, and others in 40 W/K at 420 K that take up
/// half of what they can (as much at every flow) and warm it.
fn carriers() -> [Carrier; 2] {
    let cools =
        Carrier { air: 100.0, oil: None, conductance: 50.0, exponent: 0.0, entering: 300.0, flow: 0.1 };
    let conductance = 40.0 * std::f64::consts::LN_2;
    let warms = Carrier { air: 40.0, oil: None, conductance, exponent: 1.0, entering: 420.0, flow: 0.04 };
    [cools, warms]
}

#[test]
fn air_that_cools_beside_air_that_warms() {
    // Worked out by hand: 10 000 k (1 − exp(−0.5/k)) − 400 k W at k times the flow, 3535 W at k = 1 and never above 3656 W. 3000 W are
    // carried by 0.518, 3600 W by 1.167 times the flow, the root nearest 1 of two; 3700 W by none.
    // Allowed: what the root finder leaves.
    let of =
        |heat: f64, to_chamber: f64| margin(&HeldAtLimit { limit: 400.0, heat, to_chamber }, &carriers());
    within("3000 W", of(3000.0, 0.0).required_share.expect("a share"), 0.518_093_534, 1e-6);
    within("margin", of(3000.0, 0.0).flow_margin.expect("a margin"), 1.0 / 0.518_093_534 - 1.0, 1e-6);
    within("3600 W", of(3600.0, 0.0).required_share.expect("a share"), 1.167_083_470, 1e-6);
    assert_eq!(of(3700.0, 0.0).is, MarginIs::Impossible);
    // what the chamber takes alone is enough
    assert_eq!(of(3000.0, 3100.0).is, MarginIs::Unlimited);
    // one that cools alone: 10 000 k (1 − exp(−0.5/k)) = 3000 W
    let alone = margin(&HeldAtLimit { limit: 400.0, heat: 3000.0, to_chamber: 0.0 }, &carriers()[..1]);
    within("alone", alone.required_share.expect("a share"), 0.443_946_741, 1e-6);
}

#[test]
fn a_hot_surface_in_moving_air() {
    // Worked out by hand from h of still air: G³ = 7³ + (0.2 h)³ W/K, and 0.8 · 5.670374e-8 · 0.2 (400⁴ − 330⁴) = 124.66 W radiated.
    // Allowed: rounding; 1e-5 of the slopes, which differences give.
    let part = Part {
        limit: 500.0,
        least: None,
        bay_conductance: 7.0,
        surface: Some(HotSurface { area: 0.2, height: 0.3, emissivity: 0.8 }),
        chamber: None,
        source_temperature: 900.0,
        reference_temperature: 500.0,
        heat_capacity: None,
    };
    let still = 0.2 * still_air_and_slopes(0.3, 400.0, 330.0, 1e5).0;
    let radiated = 0.8 * 5.670_374_419e-8 * 0.2 * (400_f64.powi(4) - 330_f64.powi(4));
    let (heat, up, down) = part.given_to_air(400.0, 330.0, 1e5);
    within_share("heat, W", heat, (343.0 + still * still * still).cbrt() * 70.0 + radiated, 1e-12);
    let at = |warmer: f64, around: f64| part.given_to_air(400.0 + warmer, 330.0 + around, 1e5).0;
    within_share("by its temperature, W/K", up, (at(0.1, 0.0) - at(-0.1, 0.0)) / 0.2, 1e-5);
    within_share("by the air's, W/K", down, (at(0.0, 0.1) - at(0.0, -0.1)) / 0.2, 1e-5);
}
