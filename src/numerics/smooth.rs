//! The one place where laws are made smooth near zero flow.
//!
//! A published loss law is made for flow that runs: Δp = R ṁ|ṁ| has slope 0 at rest, where a
//! Newton solver divides by it, and Δp = R sgn(ṁ)|ṁ|ⁿ with n < 1, or ṁ as a function of Δp, has
//! an infinite one. Both ills go when |x| is replaced by
//!
//! ```text
//!   u(x) = √(x² + s²)
//! ```
//!
//! with s a small scale of the same kind as x. u is even and smooth, never below s and never
//! below |x|; value and slope come from the same expression, so they agree to rounding. How far
//! a law moves follows from expanding in (s/x)²:
//!
//! ```text
//!   x u     = x|x| [1 + ½ (s/x)² + …]
//!   x uⁿ⁻¹  = sgn(x)|x|ⁿ [1 + ½ (n − 1)(s/x)² + …]
//! ```
//!
//! so that with s a thousandth of the flow the quadratic law is off by 5e-7 of itself, with a
//! millionth by 5e-13, and in the worst case (x ≪ s) by no more than its value at x = s. The
//! slope at rest is s (quadratic law) or sⁿ⁻¹: small or large, but finite and not zero. Every
//! law here rises with x wherever its exponent is positive.

/// The quadratic law x|x| made smooth: value and slope.
///
/// ```text
///   y  = x √(x² + s²)
///   y' = (2x² + s²)/√(x² + s²)
/// ```
///
/// `scale` s ≥ 0 in the unit of x; 0 gives x|x| and 2|x|. Odd in x, rising everywhere, y' ≥ s.
#[inline]
pub fn signed_square(x: f64, scale: f64) -> (f64, f64) {
    let root = (x * x + scale * scale).sqrt();
    if root == 0.0 {
        return (0.0, 0.0);
    }
    (x * root, root + x * x / root)
}

/// The power law sgn(x)|x|ⁿ made smooth: value and slope.
///
/// ```text
///   u² = x² + s²
///   y  = x uⁿ⁻¹
///   y' = uⁿ⁻¹ [1 + (n − 1) x²/u²]
/// ```
///
/// `exponent` n > 0; `scale` s > 0 in the unit of x (0 only where x is never 0 or n ≥ 1). Odd in
/// x and rising everywhere.
#[inline]
pub fn signed_power(x: f64, exponent: f64, scale: f64) -> (f64, f64) {
    if exponent == 2.0 {
        return signed_square(x, scale);
    }
    let square = x * x + scale * scale;
    if square == 0.0 && exponent >= 1.0 {
        return (0.0, if exponent == 1.0 { 1.0 } else { 0.0 });
    }
    let factor = square.powf(0.5 * (exponent - 1.0));
    (x * factor, factor * (1.0 + (exponent - 1.0) * x * x / square))
}

/// A power of the size of x, |x|ⁿ, made smooth: value and slope.
///
/// ```text
///   y  = (x² + s²)^(n/2)
///   y' = n x (x² + s²)^(n/2 − 1)
/// ```
///
/// `exponent` n of either sign; `scale` s > 0 in the unit of x. Even in x, slope 0 at rest:
/// for a conductance that goes with |ṁ|ⁿ and a number of transfer units that goes with |ṁ|ⁿ⁻¹.
#[inline]
pub fn power_of_size(x: f64, exponent: f64, scale: f64) -> (f64, f64) {
    let square = x * x + scale * scale;
    let value = square.powf(0.5 * exponent);
    (value, exponent * x * value / square)
}

/// A step from 0 to 1 with a cubic between: value and slope.
///
/// ```text
///   y = 0 (x ≤ 0),  x² (3 − 2x),  1 (x ≥ 1)
/// ```
///
/// Value and slope are continuous; the slope is 1.5 at most, in the middle.
#[inline]
pub fn smooth_step(x: f64) -> (f64, f64) {
    if x <= 0.0 {
        (0.0, 0.0)
    } else if x >= 1.0 {
        (1.0, 0.0)
    } else {
        (x * x * (3.0 - 2.0 * x), 6.0 * x * (1.0 - x))
    }
}

#[cfg(test)]
mod tests {
    use super::{power_of_size, signed_power, signed_square, smooth_step};

    fn slope_agrees(law: impl Fn(f64) -> (f64, f64), x: f64, step: f64) {
        let difference = (law(x + step).0 - law(x - step).0) / (2.0 * step);
        let slope = law(x).1;
        let size = slope.abs().max(difference.abs()).max(1e-12);
        assert!((slope - difference).abs() < 1e-6 * size + 1e-9, "{x}: {slope} {difference}");
    }

    #[test]
    fn slopes_are_finite_differences_near_zero_and_far_from_it() {
        let scale = 0.01;
        for x in [-3.0, -0.2, -0.011, -0.001, 0.0, 1e-4, 0.009, 0.04, 0.5, 7.0] {
            let step = 1e-6 * (scale + f64::abs(x));
            slope_agrees(|x| signed_square(x, scale), x, step);
            for exponent in [0.3, 0.65, 1.0, 1.75, 1.8, 2.0] {
                slope_agrees(|x| signed_power(x, exponent, scale), x, step);
            }
            for exponent in [-0.35, 0.65, 1.0] {
                slope_agrees(|x| power_of_size(x, exponent, scale), x, step);
            }
        }
        for x in [-0.5, 0.001, 0.3, 0.5, 0.97, 1.2] {
            slope_agrees(smooth_step, x, 1e-6);
        }
    }

    #[test]
    fn far_from_zero_the_law_is_the_published_one() {
        for x in [-2.0, 2.0] {
            let (value, slope) = signed_square(x, 2e-6);
            assert!((value - x * x.abs()).abs() < 1e-11);
            assert!((slope - 4.0).abs() < 1e-11);
            let (value, slope) = signed_power(x, 1.8, 2e-6);
            assert!((value.abs() - 2.0_f64.powf(1.8)).abs() < 1e-11);
            assert!((slope - 1.8 * 2.0_f64.powf(0.8)).abs() < 1e-11);
            assert!((power_of_size(x, 0.65, 2e-6).0 - 2.0_f64.powf(0.65)).abs() < 1e-11);
        }
    }

    #[test]
    fn the_error_is_half_the_square_of_the_ratio_of_scale_to_flow() {
        let error = signed_square(1.0, 1e-3).0 - 1.0;
        assert!((error - 0.5e-6).abs() < 1e-12);
        let error = signed_power(1.0, 1.8, 1e-3).0 - 1.0;
        assert!((error - 0.4e-6).abs() < 1e-12);
    }

    #[test]
    fn laws_are_odd_and_finite_at_rest() {
        assert_eq!(signed_square(0.0, 0.0), (0.0, 0.0));
        assert_eq!(signed_square(0.0, 0.02), (0.0, 0.02));
        assert_eq!(signed_square(-3.0, 0.0), (-9.0, 6.0));
        assert_eq!(signed_power(0.0, 1.8, 0.0), (0.0, 0.0));
        assert_eq!(signed_power(0.0, 1.0, 0.0), (0.0, 1.0));
        for exponent in [0.5, 1.8] {
            let (there, back) = (signed_power(0.3, exponent, 0.1), signed_power(-0.3, exponent, 0.1));
            assert_eq!((there.0, there.1), (-back.0, back.1));
        }
    }

    #[test]
    fn step_meets_both_ends() {
        assert_eq!(smooth_step(-1.0), (0.0, 0.0));
        assert_eq!(smooth_step(0.5), (0.5, 1.5));
        assert_eq!(smooth_step(2.0), (1.0, 0.0));
    }
}
