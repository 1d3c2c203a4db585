//! Tees and wyes: what a leg loses where flows join or split.
//!
//! The formulas are those of Crane, Technical Paper 410 (2009), in the form in which the library fluids 1.3.1 gives them; the
//! paper itself was not at hand. Every K stands on the velocity in the combined leg; q = flow of the side leg over the combined
//! flow, 0..1; b = area of the side leg over that of the combined leg (β² there), up to 1; the straight leg is as wide as the
//! combined one; the side leg's angle is 30 to 90°. A K may be negative: one leg then draws the other along, which pays for it. Where the paper lets a factor jump as q grows (by 2 to 6 %), the two branches are joined where they
//! meet.

use crate::numerics::dual::Dual;
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
    let g = side_factor(Dual::fixed(q), b, angle).value;
    let (h, j) = turned(b, angle);
    g * (1.0 + h * (q / b).powi(2) - j * q / b)
}

/// H, and J cos α, of the side leg where the flow splits.
fn turned(area_ratio: f64, angle: f64) -> (f64, f64) {
    let cosine = if angle >= FRAC_PI_2 { 0.0 } else { angle.cos() };
    let wide = angle >= 60.0_f64.to_radians() - 1e-12 && area_ratio.sqrt() > 2.0 / 3.0;
    if wide { (0.3, 0.0) } else { (1.0, 2.0 * cosine) }
}

/// G of the side leg where the flow splits.
fn side_factor(share: Dual, area_ratio: f64, angle: f64) -> Dual {
    let (q, b) = (share, area_ratio);
    match (angle < 75.0_f64.to_radians(), b) {
        (true, ..=0.35) => (Dual::fixed(1.1) - 0.7 * q).at_least(0.85),
        (true, _) => (Dual::fixed(1.0) - 0.6 * q).at_least(0.6),
        (false, b) if b <= 2.0 / 3.0 => Dual::fixed(1.0),
        (false, _) => Dual::fixed(1.0) + 0.3 * q * q,
    }
}

/// K of the straight leg where the flow splits.
///
/// ```text
///   K = M q²,  M = 0.4 for b ≤ 0.4, else 2 (2q − 1) for q ≤ 0.5, else 0.3 (2q − 1)
/// ```
///
/// Arguments and source as for [`side_joining`].
pub fn straight_splitting(share: f64, area_ratio: f64) -> f64 {
    straight_factor(Dual::fixed(share), area_ratio).value * share * share
}

/// M of the straight leg where the flow splits.
fn straight_factor(share: Dual, area_ratio: f64) -> Dual {
    let beyond = 2.0 * share - Dual::fixed(1.0);
    match (area_ratio <= 0.4, share.value <= 0.5) {
        (true, _) => Dual::fixed(0.4),
        (false, true) => 2.0 * beyond,
        (false, false) => 0.3 * beyond,
    }
}

/// What a stream pays to carry along one that runs in from the third side: K = 1 − (1 − q)², about 2q, as of the straight leg where
/// flows join.
const THROUGH: f64 = 2.0;

/// Loss of a leg at a joint, towards the joint, over the specific volume on the combined leg's area squared (kg²/s²): half of K times
/// the combined flow squared; with its slopes by the flows of the side and the straight leg.
///
/// ```text
///   w J(l, s) − (1 − w) S(−l, −s),   w = σ((1 + (l + s)/(|l| + |s|))/2),   σ(x) = 3x² − 2x³
/// ```
///
/// `side`: whether it is the side leg's loss; `lateral` l and `straight` s, flows of the side and the straight leg counted towards the
/// joint (kg/s). J and S are the formulas above for flows that join and that split, times the combined flow squared, with squares
/// that keep their signs: q (l + s) = l and (1 − q)(l + s) = s. Where both flows run the same way w is 1 or 0, and what is published
/// holds as it stands. Where they run against one another (in through one leg, out through the other) nothing is published: this is the
/// one place where joining is made to pass into splitting without a jump, in value and slope, and the factors C, G and M
/// hang on |l|/(|l| + |s|). |x| is smooth below `scale`, see [`crate::numerics::smooth`]; there, and only there, a leg also resists its own
/// flow, since some of the formulas know none and at rest nothing else would hold it.
pub fn loss_of_leg(
    side: bool,
    (lateral, straight): (f64, f64),
    scale: f64,
    area_ratio: f64,
    angle: f64,
) -> Dual {
    let (l, s) = Dual::variables(lateral, straight);
    let sizes = l.magnitude(scale) + s.magnitude(scale);
    if sizes.value <= 0.0 {
        return Dual::default();
    }
    let inverse = sizes.inverse();
    let share = l.magnitude(scale) * inverse;
    let joins = (Dual::fixed(0.5) + 0.5 * ((l + s) * inverse)).smooth_step();
    let square = |flow: Dual| flow * flow.magnitude(scale);
    let tee = (area_ratio, angle);
    let joining = joined(side, (l, s), share, square, tee);
    let splitting = split(side, (-l, -s), share, square, tee);
    let own = if side { l } else { s };
    let at_rest = own * (own.magnitude(scale) - own.magnitude(0.0));
    let through = if lateral * straight < 0.0 { -THROUGH * own * l * s * inverse } else { Dual::default() };
    0.5 * (joins * joining - (Dual::fixed(1.0) - joins) * splitting + at_rest + through)
}

/// K of a leg where flows join, times the combined flow squared; flows of side and straight leg towards the joint.
fn joined(
    side: bool,
    (lateral, straight): (Dual, Dual),
    share: Dual,
    square: impl Fn(Dual) -> Dual,
    (b, angle): (f64, f64),
) -> Dual {
    let whole = lateral + straight;
    if side {
        let c = if b <= 0.35 { Dual::fixed(1.0) } else { (Dual::fixed(0.9) - 0.9 * share).at_least(0.55) };
        let own = (1.0 / (b * b) - drawn(angle, 0.0) / b) * square(lateral);
        c * (square(whole) + own - 2.0 * square(straight))
    } else if angle >= 75.0_f64.to_radians() {
        1.55 * lateral * whole - square(lateral)
    } else {
        square(whole) - square(straight) - (drawn(angle, 1.0) / b) * square(lateral)
    }
}

/// K of a leg where the flow splits, times the combined flow squared; flows of side and straight leg away from the joint.
fn split(
    side: bool,
    (lateral, straight): (Dual, Dual),
    share: Dual,
    square: impl Fn(Dual) -> Dual,
    (b, angle): (f64, f64),
) -> Dual {
    let whole = lateral + straight;
    if side {
        let (h, j) = turned(b, angle);
        side_factor(share, b, angle)
            * (square(whole) + (h / (b * b)) * square(lateral) - (j / b) * lateral * whole)
    } else {
        straight_factor(share, b) * square(lateral)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// With both flows along the net flow it is the published formula, joining and splitting.
    #[test]
    fn signed_flows_give_the_same_as_shares() {
        for angle in [30.0, 60.0, 90.0_f64].map(f64::to_radians) {
            for b in [0.3, 0.5, 1.0] {
                for q in (1..20).map(|i| f64::from(i) / 20.0) {
                    let flows = (q * 0.3, (1.0 - q) * 0.3);
                    let near = |side: bool, sign: f64, k: f64| {
                        let towards = (sign * flows.0, sign * flows.1);
                        let found = sign * loss_of_leg(side, towards, 0.0, b, angle).value;
                        assert!((found - k * 0.045).abs() < 1e-12, "{angle} {b} {q}: {found} {k}");
                    };
                    near(true, 1.0, side_joining(q, b, angle));
                    near(true, -1.0, side_splitting(q, b, angle));
                    near(false, 1.0, straight_joining(q, b, angle));
                    near(false, -1.0, straight_splitting(q, b));
                }
            }
        }
    }

    /// All the way round (side and straight leg in and out) loss and slopes run without a jump, the slopes are differences,
    /// and the tee as a whole takes power from the air.
    #[test]
    fn every_way_of_the_air_passes_into_the_next() {
        for angle in [30.0, 45.0, 60.0, 70.0, 80.0, 90.0_f64].map(f64::to_radians) {
            for b in [0.05, 0.2, 0.35, 0.5, 0.7, 1.0] {
                let mut before: Option<[f64; 2]> = None;
                for i in 0..=3600 {
                    let turn = f64::from(i).to_radians() / 10.0 + 1e-4;
                    let (l, s) = turn.sin_cos();
                    let at =
                        |l: f64, s: f64| [true, false].map(|side| loss_of_leg(side, (l, s), 1e-3, b, angle));
                    let found = at(l, s);
                    let step = 1e-6;
                    let (up, down) = (at(l + step, s), at(l - step, s));
                    let (left, right) = (at(l, s - step), at(l, s + step));
                    for side in 0..2 {
                        let size = 1.0 / (b * b);
                        let by_l = (up[side].value - down[side].value) / (2.0 * step);
                        let by_s = (right[side].value - left[side].value) / (2.0 * step);
                        let off = (by_l - found[side].by[0]).abs() + (by_s - found[side].by[1]).abs();
                        assert!(off < 2e-3 * size, "{angle} {b} {turn}: {by_l} {by_s} {:?}", found[side]);
                    }
                    let values = found.map(|leg| leg.value);
                    let power = l * values[0] + s * values[1];
                    assert!(power > -1e-9, "{} {b} {turn}: {power}", angle.to_degrees());
                    if let Some(before) = before {
                        let moved = (values[0] - before[0]).abs() + (values[1] - before[1]).abs();
                        assert!(moved < 0.02 / (b * b), "{angle} {b} {turn}: {moved}");
                    }
                    before = Some(values);
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
