//! Formulas worked out by hand from the equations that their books print, at points that no figure from outside reaches: each branch
//! on both sides of where it begins. These hold slips of a digit or a sign; that a law is right is for the other files to show.

use crate::published::support::{above, within, within_share};
use slowcorner::correlations::finned_cylinder::{Cylinder, free_stream_coefficient};
use slowcorner::correlations::natural_convection::{PLATE, still_air_and_slopes, vertical_plate};
use slowcorner::correlations::{
    LossCoefficient, area_change, boundary_layer, discharge, effectiveness, flush_inlet, tees,
};

#[test]
fn inside_the_skin_layer_and_just_above_it() {
    // Worked out by hand: 0.875 z^(8/7) and 0.7 z^(10/7) at z = 0.5; above the layer z − 1/8 and z − 3/10, at z = 1.02.
    // Allowed: rounding.
    within_share("flow, z 0.5", boundary_layer::flow_within(0.5), 0.396_254_103_1, 1e-9);
    within_share("power, z 0.5", boundary_layer::power_within(0.5), 0.260_049_000_6, 1e-9);
    within_share("flow, z 1.02", boundary_layer::flow_within(1.02), 0.895, 1e-12);
    within_share("power, z 1.02", boundary_layer::power_within(1.02), 0.72, 1e-12);
    let by_mass = boundary_layer::dynamic_pressure_share(0.0, 1.02);
    within_share("by mass, z 1.02", by_mass, 0.72 / 0.895, 1e-12);
}

#[test]
fn cones_on_both_sides_of_half_the_diameter() {
    // Worked out by hand from the formulas beside the law, β 0.49 and 0.51, 40° and 90°.
    // Allowed: rounding.
    for (beta, degrees, k) in [
        (0.51, 40.0_f64, 0.561_454_387_4),
        (0.51, 90.0, 0.604_934_471_1),
        (0.49, 40.0, 0.585_719_427_5),
        (0.49, 90.0, 0.635_482_248_0),
    ] {
        let ours = area_change::conical_diffuser(beta, degrees.to_radians()).fixed;
        within_share(&format!("β {beta}, {degrees}°"), ours, k, 1e-9);
    }
    // a loss with friction in it brought to another area: (1 + 2 · 0.02) · 3
    let brought = (LossCoefficient { fixed: 1.0, per_friction: 2.0 } * 3.0).at(0.02);
    within_share("brought to another area", brought, 3.12, 1e-12);
}

#[test]
fn edges_of_holes() {
    // Worked out by hand from the formulas beside the law: rounding and thickness apart, and together.
    // Allowed: rounding.
    for (radius, thickness, wanted) in [
        (0.1, 0.0, 0.764_166_590_4),
        (0.1, 0.5, 0.796_097_516_7),
        (0.02, 0.3, 0.687_941_205_8),
        (0.0, 0.7, 0.716_347_231_7),
        // beyond 2.4 as 2.4; at the end of both the loss of 0.03 is left
        (0.0, 2.5, 0.82),
        (1.0, 2.4, 0.985_329_278_2),
    ] {
        let ours = discharge::by_edge(radius, thickness);
        within_share(&format!("r/d {radius}, t/d {thickness}"), ours, wanted, 1e-9);
    }
}

#[test]
fn still_air_at_other_numbers() {
    // Worked out by hand: {0.825 + 0.387 Ra^(1/6)/[1 + (0.492/Pr)^(9/16)]^(8/27)}².
    // Allowed: rounding.
    for (rayleigh, prandtl, nusselt) in
        [(1e9, 0.71, 122.856_534_9), (1e5, 0.71, 9.212_736_0), (1e9, 7.0, 152.522_640_7)]
    {
        within_share(
            &format!("Ra {rayleigh:e}, Pr {prandtl}"),
            (PLATE + vertical_plate(rayleigh, prandtl).0).powi(2),
            nusselt,
            1e-8,
        );
    }
    // a plate as much colder as another is warmer, at the same mean, takes what that one gives
    let ratio =
        still_air_and_slopes(0.3, 290.0, 310.0, 1e5).0 / still_air_and_slopes(0.3, 310.0, 290.0, 1e5).0;
    within("colder over warmer", ratio, 1.0, 1e-12);
}

#[test]
fn a_flush_inlet_in_a_layer_thicker_than_it_is_deep() {
    // Worked out by hand from recoveries that are from memory: the mean by mass below the edge goes with z^(2/7), so that
    // 0.68 at δ/h 1 leaves 0.68 (h/δ)^(2/7).
    // Allowed: rounding.
    for (layer, wanted) in [(1.02, 0.676_163_495_9), (1.5, 0.605_615_698_7)] {
        within_share(&format!("δ/h {layer}"), flush_inlet::recovery(0.6, layer).0, wanted, 1e-9);
    }
}

#[test]
fn transfer_units_out_of_reach() {
    // Worked out by hand: two streams alike reach 1 − exp(−NTU^0.22) = 0.99949 with ten thousand transfer units; 0.9996 is out of
    // reach, 0.9994 is not.
    // Allowed: a reach between 9000 and 10 000 units.
    assert_eq!(effectiveness::transfer_units(0.9996, 1.0), None);
    let found = effectiveness::transfer_units(0.9994, 1.0).expect("within reach");
    above("units for 0.9994", found, 5000.0);
}

#[test]
fn fins_without_a_baffle_end_where_no_air_comes_between() {
    // Worked out by hand: 0.0247 − 0.00148 L^0.8/p^0.4 is 0.0051 with fins of 50.5 mm at 4 mm, 0.0047 with 51.9 mm, and below 0.005
    // nothing is said. Half the way round: π (D + L)/4.
    // Allowed: rounding.
    let found = free_stream_coefficient(0.0505, 0.004, 60.0 / 3.6).expect("just above");
    within_share("L 50.5 mm", found, 24.524_967_81, 1e-9);
    assert_eq!(free_stream_coefficient(0.0519, 0.004, 60.0 / 3.6), None);
    let cylinder = Cylinder {
        pitch: 0.008,
        thickness: 0.002,
        length: 0.03,
        diameter: 0.09,
        fins: 10.0,
        conductivity: 160.0,
        baffled: false,
    };
    within_share("way", cylinder.way(), std::f64::consts::PI * 0.03, 1e-12);
}

#[test]
fn tees_on_both_sides_of_every_branch() {
    // Worked out by hand from the formulas beside the law: area ratios, angles and shares on both sides of where a factor changes.
    // Allowed: rounding.
    type Law = fn(f64, f64, f64) -> f64;
    /// Share of the flow, ratio of the areas, angle in degrees, and the loss.
    type Worked = (f64, f64, f64, f64);
    let alone: Law = |q, b, _| tees::straight_splitting(q, b);
    let cases: [(&str, Law, &[Worked]); 4] = [
        (
            "side joins",
            tees::side_joining,
            &[
                (0.2, 0.36, 45.0, -0.092_177_777_8),
                (0.2, 0.35, 45.0, -0.114_612_244_9),
                (0.3, 0.5, 32.0, 0.047_073_6),
                (0.3, 0.5, 37.5, 0.060_795),
                (0.3, 0.5, 52.5, 0.102_753),
                (0.3, 0.5, 70.0, 0.1638),
            ],
        ),
        (
            "straight joins",
            tees::straight_joining,
            &[
                (0.3, 0.5, 76.0, 0.375),
                (0.3, 0.5, 74.0, 0.33),
                (0.3, 0.5, 37.5, 0.2265),
                (0.3, 0.5, 52.5, 0.2931),
            ],
        ),
        (
            "side splits",
            tees::side_splitting,
            &[
                (0.2, 0.3, 45.0, 0.481_569_986_7),
                (0.5, 0.3, 45.0, 1.207_641_897_7),
                (0.3, 0.36, 45.0, 0.423_065_176_8),
                (0.9, 0.36, 45.0, 2.228_679_656_4),
                (0.2, 0.35, 74.0, 0.971_055_831_7),
                (0.2, 0.35, 76.0, 1.050_048_445_8),
                (0.4, 0.44, 70.0, 0.915_489_521_0),
                (0.4, 0.45, 70.0, 0.940_148_148_1),
                (0.4, 0.68, 90.0, 1.156_788_927_3),
                (0.4, 0.66, 90.0, 1.110_192_837_5),
            ],
        ),
        (
            "straight splits",
            alone,
            &[(0.3, 0.4, 90.0, 0.036), (0.3, 0.41, 90.0, -0.072), (0.7, 0.41, 90.0, 0.0588)],
        ),
    ];
    for (what, law, points) in cases {
        for &(q, b, degrees, k) in points {
            within(&format!("{what}, q {q}, b {b}, {degrees}°"), law(q, b, degrees.to_radians()), k, 1e-9);
        }
    }
}

#[test]
fn a_tee_run_through_from_side_to_straight_leg() {
    // Worked out by hand, 90°, b 0.5, 0.2 kg/s in through the side leg and 0.1 out through the straight one: w = σ(2/3) = 20/27,
    // J = 0.55 (0.01 + 0.16 + 0.02) = 0.1045, S = −0.01 − 1.2 · 0.04 = −0.058, carried along 2 · 0.2 · 0.02/0.3; half of
    // 20/27 J − 7/27 S and that. Almost at rest, half as fast as the laws are smooth: u = 0.5546875, so ½ · 0.5 · 0.0546875.
    // Allowed: rounding.
    let right = std::f64::consts::FRAC_PI_2;
    let through = tees::loss_of_leg(true, (0.2, -0.1), 0.0, 0.5, right).value;
    within_share("through", through, 0.059_555_555_56, 1e-9);
    let at_rest = tees::loss_of_leg(false, (0.0, -0.005), 0.01, 0.5, right).value;
    within_share("almost at rest", at_rest, -0.5 * 0.5 * 0.054_687_5 * 1e-4, 1e-9);
}
