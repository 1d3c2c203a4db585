//! The zero of one function inside a bracket.

/// More halvings than an `f64` interval can take.
const MOST_STEPS: usize = 200;

/// The zero of `f` between `a` and `b`, where `fa` = f(a) and `fb` = f(b) differ in sign.
///
/// Inverse quadratic interpolation and secant steps, each refused in favour of a halving where
/// it leaves the bracket or shrinks too slowly; never slower than halving by more than a
/// bounded factor. Ends when the bracket is narrower than `x_tolerance` plus the rounding of x,
/// or at an exact zero. Where the signs agree there is nothing to close in on: the end with the
/// smaller |f| is returned, and the caller who cannot be sure has to look at the signs first.
///
/// Source: Brent, Algorithms for Minimization without Derivatives (1973), ch. 4.
pub fn bracketed(mut f: impl FnMut(f64) -> f64, a: f64, b: f64, fa: f64, fb: f64, x_tolerance: f64) -> f64 {
    // `best` has the smallest |f| so far, `other` lies across the zero from it.
    let (mut best, mut f_best) = (b, fb);
    let (mut other, mut f_other) = (a, fa);
    if fa.abs() < fb.abs() {
        (best, f_best, other, f_other) = (a, fa, b, fb);
    }
    if f_best == 0.0 || (f_best > 0.0) == (f_other > 0.0) {
        return best;
    }
    let (mut previous, mut f_previous) = (other, f_other);
    let mut step = other - best;
    let mut step_before = step;
    for _ in 0..MOST_STEPS {
        let tolerance = 2.0 * f64::EPSILON * best.abs() + 0.5 * x_tolerance;
        let half = 0.5 * (other - best);
        if half.abs() <= tolerance || f_best == 0.0 {
            break;
        }
        let proposal = interpolated(best, f_best, previous, f_previous, other, f_other);
        let within = proposal * half > 0.0 && proposal.abs() < 1.5 * half.abs();
        if within
            && step_before.abs() >= tolerance
            && f_previous.abs() > f_best.abs()
            && proposal.abs() < 0.5 * step_before.abs()
        {
            (step_before, step) = (step, proposal);
        } else {
            (step_before, step) = (half, half);
        }
        (previous, f_previous) = (best, f_best);
        best += if step.abs() > tolerance { step } else { tolerance.copysign(half) };
        f_best = f(best);
        if (f_best > 0.0) == (f_other > 0.0) {
            (other, f_other) = (previous, f_previous);
            step = best - previous;
            step_before = step;
        }
        if f_other.abs() < f_best.abs() {
            (previous, f_previous) = (best, f_best);
            (best, f_best) = (other, f_other);
            (other, f_other) = (previous, f_previous);
        }
    }
    best
}

/// The step from `b` to the zero of the curve through the three points (two of them may agree).
fn interpolated(b: f64, fb: f64, a: f64, fa: f64, c: f64, fc: f64) -> f64 {
    let s = fb / fa;
    if a == c {
        return s * (c - b) / (s - 1.0);
    }
    let (q, r) = (fa / fc, fb / fc);
    let p = s * ((c - b) * q * (q - r) - (b - a) * (r - 1.0));
    let divisor = (q - 1.0) * (r - 1.0) * (s - 1.0);
    -p / divisor
}

#[cfg(test)]
mod tests {
    use super::bracketed;

    type Case = (fn(f64) -> f64, f64, f64, f64);

    /// Functions with a known zero, some of them hard on interpolation.
    const CASES: [Case; 6] = [
        (|x| x * x - 2.0, 0.0, 2.0, std::f64::consts::SQRT_2),
        (|x| x.cos(), 0.0, 3.0, std::f64::consts::FRAC_PI_2),
        (|x| x.powi(9) - 1e-9, -1.0, 4.0, 0.1),
        (|x| (x - 0.3).signum() * (x - 0.3).abs().sqrt(), -5.0, 1.0, 0.3),
        (|x| x.exp() - 1e6, 0.0, 100.0, 13.815510557964274),
        (|x| (20.0 * (x - 0.7)).atan(), -40.0, 3.0, 0.7),
    ];

    #[test]
    fn closes_in_from_both_sides() {
        for (index, (f, low, high, zero)) in CASES.into_iter().enumerate() {
            for (a, b) in [(low, high), (high, low)] {
                let mut calls = 0;
                let counted = |x| {
                    calls += 1;
                    f(x)
                };
                let x = bracketed(counted, a, b, f(a), f(b), 1e-13);
                assert!((x - zero).abs() < 1e-11, "{index}: {x}");
                assert!(calls < 70, "{index}: {calls} calls");
            }
        }
    }

    #[test]
    fn tolerance_is_kept() {
        let f = |x: f64| x * x * x - 5.0;
        let zero = 5.0_f64.cbrt();
        for tolerance in [1e-2, 1e-5, 1e-9] {
            let x = bracketed(f, 0.0, 10.0, f(0.0), f(10.0), tolerance);
            assert!((x - zero).abs() <= tolerance, "{tolerance}: {x}");
        }
    }

    #[test]
    fn without_a_change_of_sign_the_better_end_is_returned() {
        let f = |x: f64| x + 1.0;
        assert_eq!(bracketed(f, 0.0, 5.0, 1.0, 6.0, 1e-9), 0.0);
        assert_eq!(bracketed(f, 5.0, -1.0, 6.0, 0.0, 1e-9), -1.0);
    }
}
