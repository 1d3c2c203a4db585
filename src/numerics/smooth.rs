//! The one place where laws are made smooth near zero flow.
//!
//! A published loss law is made for flow that runs: Δp = R ṁ|ṁ| has slope 0 at rest, where Newton's
//! method divides by it, and Δp = R ṁ|ṁ|ⁿ⁻¹ an infinite second one. Both ills go when |x| is replaced by
//! a u(x) that does not reach zero. Within |x| < s, with t = x/s,
//!
//! ```text
//!   u(x) = s (3/8 + 3/4 t² − 1/8 t⁴)
//! ```
//!
//! and u = |x| outside. It is the only even quartic that meets |x| at s with the same value (1), slope
//! (3/2 − 1/2 = 1) and curvature (3/2 − 3/2 = 0): laws made with it are exact outside ±s and twice
//! differentiable everywhere. x u rises everywhere, with slope 3/8 s at rest; it leaves x|x| by at most
//! 0.17 s², at |x| = 0.24 s.

/// |x| made smooth below `scale` s ≥ 0 (in the unit of x): value and slope.
#[inline]
pub fn magnitude(x: f64, scale: f64) -> (f64, f64) {
    if x.abs() >= scale {
        return (x.abs(), 1.0_f64.copysign(x));
    }
    let t = x / scale;
    (scale * (0.375 + t * t * (0.75 - 0.125 * t * t)), t * (1.5 - 0.5 * t * t))
}

/// The quadratic law x|x| made smooth below `scale`: value and slope.
#[inline]
pub fn signed_square(x: f64, scale: f64) -> (f64, f64) {
    let (size, slope) = magnitude(x, scale);
    (x * size, size + x * slope)
}

/// A rise from 0 at x ≤ 0 to 1 at x ≥ 1 without a kink: 3x² − 2x³, and its slope.
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
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn slopes_are_finite_differences() {
        for scale in [1e-6, 0.3, 4.0] {
            for i in -60..=60 {
                let x = f64::from(i) * 0.0503 * scale;
                let step = 1e-6 * scale;
                for law in [magnitude, signed_square] {
                    let difference = (law(x + step, scale).0 - law(x - step, scale).0) / (2.0 * step);
                    assert_relative_eq!(
                        law(x, scale).1,
                        difference,
                        epsilon = 1e-5 * scale.max(1.0),
                        max_relative = 1e-5
                    );
                }
            }
        }
        for i in 1..20 {
            let x = f64::from(i) * 0.05;
            let difference = (smooth_step(x + 1e-6).0 - smooth_step(x - 1e-6).0) / 2e-6;
            assert_relative_eq!(smooth_step(x).1, difference, epsilon = 1e-8);
        }
    }

    #[test]
    fn exact_outside_and_rising_inside() {
        assert_eq!(signed_square(-2.0, 0.5), (-4.0, 4.0));
        assert_eq!(signed_square(0.0, 0.0).0, 0.0);
        let mut before = f64::NEG_INFINITY;
        for i in -100..=100 {
            let (value, slope) = signed_square(f64::from(i) * 0.01, 0.8);
            assert!(value > before && slope > 0.0);
            before = value;
        }
    }

    #[test]
    fn curvature_meets_at_the_scale() {
        // the slope of the slope on either side of s: 0 outside, and 0 in the limit inside
        let inside = (magnitude(1.0 - 1e-7, 1.0).1 - magnitude(1.0 - 2e-7, 1.0).1) / 1e-7;
        assert!(inside.abs() < 1e-6);
    }
}
