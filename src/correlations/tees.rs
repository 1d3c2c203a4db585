//! Tees and wyes: what a leg loses where flows join or split.
//!
//! The formulas are those of Crane, Technical Paper 410 (2009), in the form in which the library fluids 1.3.1 gives them; the
//! paper itself was not at hand. Every K stands on the velocity in the combined leg; q = flow of the side leg over the combined
//! flow, 0..1; b = area of the side leg over that of the combined leg (β² there), up to 1; the straight leg is as wide as the
//! combined one; the side leg's angle is 30 to 90°. A K may be negative: one leg then draws the other along, which pays for it. Where the paper lets a factor jump as q grows (by 2 to 6 %), the two branches are joined where they
//! meet.

use std::f64::consts::FRAC_PI_2;

/// K of the side leg where flows join.
///
/// ```text
///   K = C [1 + (q/b)² − 2 (1 − q)² − F q²/b]
///   C = 1 for b ≤ 0.35, else 0.9 (1 − q), at least 0.55
///   F = 1.74, 1.41, 1, 0 at 30, 45, 60, 90°, linear between
/// ```
///
/// `share` q, `area_ratio` b, `angle` (rad). Source: Crane TP-410 (2009), as given by fluids 1.3.1.
pub fn side_joining(share: f64, area_ratio: f64, angle: f64) -> f64 {
    let (q, b) = (share, area_ratio);
    let c = if b <= 0.35 { 1.0 } else { (0.9 * (1.0 - q)).max(0.55) };
    c * (1.0 + (q / b).powi(2) - 2.0 * (1.0 - q).powi(2) - drawn(angle, 0.0) * q * q / b)
}

/// K of the straight leg where flows join.
///
/// ```text
///   K = 1 − (1 − q)² − F q²/b below 75°, F = 1.74, 1.41, 1 at 30, 45, 60°;  1.55 q − q² from 75°
/// ```
///
/// Arguments and source as for [`side_joining`].
pub fn straight_joining(share: f64, area_ratio: f64, angle: f64) -> f64 {
    let (q, b) = (share, area_ratio);
    if angle >= 75.0_f64.to_radians() {
        return 1.55 * q - q * q;
    }
    1.0 - (1.0 - q).powi(2) - drawn(angle, 1.0) * q * q / b
}

/// F of the joining legs; beyond 60° on to `right_angle` at 90°.
fn drawn(angle: f64, right_angle: f64) -> f64 {
    let points = [(30.0, 1.74), (45.0, 1.41), (60.0, 1.0), (90.0, right_angle)];
    let degrees = angle.to_degrees().clamp(30.0, 90.0);
    for pair in points.windows(2) {
        let ((low, from), (high, to)) = (pair[0], pair[1]);
        if degrees <= high {
            return from + (to - from) * (degrees - low) / (high - low);
        }
    }
    right_angle
}

/// K of the side leg where the flow splits.
///
/// ```text
///   K = G [1 + H (q/b)² − J (q/b) cos α]
///   H = 1, J = 2 below 60° and for √b ≤ 2/3, else H = 0.3, J = 0
///   below 75°: G = 1.1 − 0.7 q, at least 0.85, for b ≤ 0.35;  1 − 0.6 q, at least 0.6, above
///   from 75°:  G = 1 for b ≤ 2/3, else 1 + 0.3 q²
/// ```
///
/// Arguments and source as for [`side_joining`].
pub fn side_splitting(share: f64, area_ratio: f64, angle: f64) -> f64 {
    let (q, b) = (share, area_ratio);
    let (g, h, j) = splitting(q, b, angle);
    let cosine = if angle >= FRAC_PI_2 { 0.0 } else { angle.cos() };
    g * (1.0 + h * (q / b).powi(2) - j * q / b * cosine)
}

/// G, H and J of the side leg where the flow splits.
fn splitting(share: f64, area_ratio: f64, angle: f64) -> (f64, f64, f64) {
    let (q, b) = (share, area_ratio);
    let sixty = 60.0_f64.to_radians();
    let (h, j) = if angle < sixty - 1e-12 || b.sqrt() <= 2.0 / 3.0 { (1.0, 2.0) } else { (0.3, 0.0) };
    let g = if angle < 75.0_f64.to_radians() {
        if b <= 0.35 { (1.1 - 0.7 * q).max(0.85) } else { (1.0 - 0.6 * q).max(0.6) }
    } else if b <= 2.0 / 3.0 {
        1.0
    } else {
        1.0 + 0.3 * q * q
    };
    (g, h, j)
}

/// K of the straight leg where the flow splits.
///
/// ```text
///   K = M q²,  M = 0.4 for b ≤ 0.4, else 2 (2q − 1) for q ≤ 0.5, else 0.3 (2q − 1)
/// ```
///
/// Arguments and source as for [`side_joining`].
pub fn straight_splitting(share: f64, area_ratio: f64) -> f64 {
    let (q, b) = (share, area_ratio);
    straight_factor(q, b) * q * q
}

/// M of the straight leg where the flow splits.
fn straight_factor(share: f64, area_ratio: f64) -> f64 {
    let (q, b) = (share, area_ratio);
    match (b <= 0.4, q <= 0.5) {
        (true, _) => 0.4,
        (false, true) => 2.0 * (2.0 * q - 1.0),
        (false, false) => 0.3 * (2.0 * q - 1.0),
    }
}

/// Loss of a leg at a joint over the combined flow squared, from the signed flows of both legs.
///
/// The formulas above times the combined flow squared, m² = (own + other)², written so that they run on smoothly where one leg is small or
/// turns round while the other goes on: with q m for the side leg's flow and (1 − q) m for the straight one's, squares with their signs.
/// `side`: whether it is the side leg; `own` and `other` flows (any unit) counted along the net flow: towards the joint where flows
/// join, away from it where they split; `joins` which of the two it is; `share` q of the side leg, on which the factors C, G and M hang, may
/// be that of a moment before. Positive takes total pressure along the net flow.
/// Outside the formulas where the two have opposite signs.
pub fn loss_of_leg(
    (side, joins): (bool, bool),
    (own, other): (f64, f64),
    share: f64,
    area_ratio: f64,
    angle: f64,
) -> f64 {
    let (b, q) = (area_ratio, share);
    let square = |flow: f64| flow * flow.abs();
    let whole = own + other;
    let (lateral, straight) = if side { (own, other) } else { (other, own) };
    match (side, joins) {
        (true, true) => {
            let c = if b <= 0.35 { 1.0 } else { (0.9 * (1.0 - q)).max(0.55) };
            let lateral = square(lateral);
            c * (square(whole) + lateral / (b * b) - 2.0 * square(straight) - drawn(angle, 0.0) * lateral / b)
        }
        (false, true) if angle >= 75.0_f64.to_radians() => 1.55 * lateral * whole - square(lateral),
        (false, true) => square(whole) - square(straight) - drawn(angle, 1.0) * square(lateral) / b,
        (true, false) => {
            let (g, h, j) = splitting(q, b, angle);
            let cosine = if angle >= FRAC_PI_2 { 0.0 } else { angle.cos() };
            g * (square(whole) + h * square(lateral) / (b * b) - j * lateral * whole * cosine / b)
        }
        (false, false) => straight_factor(q, b) * square(lateral),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// With both flows along the net flow it is the published formula.
    #[test]
    fn signed_flows_give_the_same_as_shares() {
        for angle in [30.0, 60.0, 90.0_f64].map(f64::to_radians) {
            for b in [0.3, 0.5, 1.0] {
                for q in (1..20).map(|i| f64::from(i) / 20.0) {
                    let (lateral, straight) = (q * 0.3, (1.0 - q) * 0.3);
                    let near =
                        |a: f64, k: f64| assert!((a - k * 0.09).abs() < 1e-12, "{angle} {b} {q}: {a} {k}");
                    near(
                        loss_of_leg((true, true), (lateral, straight), q, b, angle),
                        side_joining(q, b, angle),
                    );
                    near(
                        loss_of_leg((true, false), (lateral, straight), q, b, angle),
                        side_splitting(q, b, angle),
                    );
                    near(
                        loss_of_leg((false, true), (straight, lateral), q, b, angle),
                        straight_joining(q, b, angle),
                    );
                    near(
                        loss_of_leg((false, false), (straight, lateral), q, b, angle),
                        straight_splitting(q, b),
                    );
                }
            }
        }
    }

    /// No leg gets more out of the other than the other pays: the power lost in the whole tee, by mass, is never negative.
    #[test]
    fn a_tee_as_a_whole_never_gains() {
        for angle in [30.0, 45.0, 60.0, 70.0, 80.0, 90.0_f64].map(f64::to_radians) {
            for b in [0.2, 0.35, 0.5, 0.7, 1.0] {
                for q in (1..20).map(|i| f64::from(i) / 20.0) {
                    let joined = q * side_joining(q, b, angle) + (1.0 - q) * straight_joining(q, b, angle);
                    let split = q * side_splitting(q, b, angle) + (1.0 - q) * straight_splitting(q, b);
                    assert!(joined >= 0.0, "joining at {angle} b {b} q {q}: {joined}");
                    assert!(split >= 0.0, "splitting at {angle} b {b} q {q}: {split}");
                }
            }
        }
    }
}
