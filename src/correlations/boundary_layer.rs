//! The skin's slow air in front of an inlet: turbulent flat plate, one-seventh power profile.
//!
//! Heights are counted in boundary-layer thicknesses, z = y/δ. The speed is z^(1/7) of the free
//! one up to z = 1 and equal to it above.

/// Thickness (m) of a turbulent boundary layer on a flat plate.
///
/// ```text
///   δ = 0.37 x Re_x^−0.2      Re_x = ρ V x/μ
/// ```
///
/// x = `run` (m) along the skin, Re_x = `reynolds` (-) on it, 5e5..1e7. Turbulent from the
/// leading edge, no pressure gradient. Prints differ between 0.37 and 0.382 (3 %).
/// Source: Prandtl (1927), in Schlichting, Boundary-Layer Theory.
pub fn thickness(run: f64, reynolds: f64) -> f64 {
    0.37 * run * (-0.2 * reynolds.ln()).exp()
}

/// Volume flow between the skin and z, over that of free speed through δ (-).
///
/// ```text
///   D(z) = 7/8 z^(8/7) up to z = 1, then z − 1/8
/// ```
///
/// z = `height_over_delta` ≥ 0. 1 − D(1) = 1/8 is the displacement thickness over δ.
/// Source: integral of the one-seventh power profile.
pub fn flow_within(height_over_delta: f64) -> f64 {
    let z = height_over_delta;
    if z < 1.0 { 0.875 * z.powf(8.0 / 7.0) } else { z - 0.125 }
}

/// Dynamic pressure times volume flow between the skin and z, over their free values (-).
///
/// ```text
///   N(z) = 7/10 z^(10/7) up to z = 1, then z − 3/10
/// ```
///
/// z = `height_over_delta` ≥ 0.
/// Source: integral of the one-seventh power profile.
pub fn power_within(height_over_delta: f64) -> f64 {
    let z = height_over_delta;
    if z < 1.0 { 0.7 * z.powf(10.0 / 7.0) } else { z - 0.3 }
}

/// Mean dynamic pressure of the air that an inlet takes in, over the free one; mean by mass.
///
/// ```text
///   r = [N(b) − N(a)]/[D(b) − D(a)]      a = gap/δ, b = a + height/δ
/// ```
///
/// `gap_over_delta` kept between skin and opening, `height_over_delta` of the opening; both ≥ 0.
/// The mean by mass is what mixing in the duct conserves. It is taken over the opening's own
/// height at free speeds, whatever the inlet swallows. No height: the share at the gap itself.
/// Source: integrals of the one-seventh power profile.
pub fn dynamic_pressure_share(gap_over_delta: f64, height_over_delta: f64) -> f64 {
    let (a, b) = (gap_over_delta, gap_over_delta + height_over_delta);
    if a >= 1.0 {
        return 1.0;
    }
    // both integrals from one seventh root
    let within = |z: f64| {
        if z <= 0.0 {
            return (0.0, 0.0);
        } else if z >= 1.0 {
            return (power_within(z), flow_within(z));
        }
        let root = (z.ln() / 7.0).exp();
        (0.7 * z * root * root * root, 0.875 * z * root)
    };
    let (power_below, flow_below) = within(a);
    let (power, flow) = within(b);
    let flow = flow - flow_below;
    if flow < 1e-9 {
        return a.powf(2.0 / 7.0);
    }
    (power - power_below) / flow
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_height_gives_the_share_at_the_gap() {
        for gap in [0.0, 0.1, 0.6] {
            let at_gap = f64::powf(gap, 2.0 / 7.0);
            assert_eq!(dynamic_pressure_share(gap, 0.0), at_gap);
        }
        let thin = dynamic_pressure_share(0.3, 1e-6);
        assert!((thin - 0.3_f64.powf(2.0 / 7.0)).abs() < 1e-5);
    }

    #[test]
    fn clear_of_the_layer_nothing_is_lost() {
        assert_eq!(dynamic_pressure_share(1.0, 0.4), 1.0);
    }

    #[test]
    fn integrals_meet_at_the_edge_of_the_layer() {
        assert!((flow_within(1.0 - 1e-12) - flow_within(1.0)).abs() < 1e-11);
        assert!((power_within(1.0 - 1e-12) - power_within(1.0)).abs() < 1e-11);
    }
}
