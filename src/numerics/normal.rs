//! The normal distribution with mean 0 and standard deviation 1.

use std::f64::consts::SQRT_2;

/// How many standard deviations lie on either side of the mean of 9 draws in 10.
pub const NINE_IN_TEN: f64 = 1.644_853_626_951_472_7;

/// Share of a normal distribution below `z`.
///
/// ```text
///   Φ(z) = ½ erfc(−z/√2)
/// ```
///
/// To the rounding of z, in the lower tail relative to itself; for the upper tail take Φ(−z).
pub fn below(z: f64) -> f64 {
    0.5 * libm::erfc(-z / SQRT_2)
}

/// The same kept so far off 0 and 1 that a band without an end has a quantile there.
pub fn inside(z: f64) -> f64 {
    const ROOM: f64 = 1e-12;
    below(z).clamp(ROOM, 1.0 - ROOM)
}

/// The z below which a share `p` of a normal distribution lies; ∓∞ at 0 and 1.
///
/// Rational functions in three ranges, relative accuracy about 1e-16.
/// Source: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484, PPND16.
pub fn quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * ratio(r, &CENTRE);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if tail <= 0.0 {
        return if q < 0.0 { f64::NEG_INFINITY } else { f64::INFINITY };
    }
    let r = (-tail.ln()).sqrt();
    let z = if r <= 5.0 { ratio(r - 1.6, &MIDDLE) } else { ratio(r - 5.0, &FAR) };
    if q < 0.0 { -z } else { z }
}

/// Coefficients of a numerator and a denominator, the highest power first.
type Rational = ([f64; 8], [f64; 8]);

fn ratio(r: f64, (above, below): &Rational) -> f64 {
    let value = |coefficients: &[f64; 8]| coefficients.iter().fold(0.0, |sum, c| sum * r + c);
    value(above) / value(below)
}

#[rustfmt::skip]
#[allow(clippy::excessive_precision)]
const CENTRE: Rational = (
    [2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
     1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080],
    [5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4,
     5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1.0],
);
#[rustfmt::skip]
#[allow(clippy::excessive_precision)]
const MIDDLE: Rational = (
    [7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258,
     3.64784832476320460504, 5.76949722146069140550, 4.63033784615654529590, 1.42343711074968357734],
    [1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1,
     6.89767334985100004550e-1, 1.67638483018380384940, 2.05319162663775882187, 1.0],
);
#[rustfmt::skip]
#[allow(clippy::excessive_precision)]
const FAR: Rational = (
    [2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
     2.96560571828504891230e-1, 1.78482653991729133580, 5.46378491116411436990, 6.65790464350110377720],
    [2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4,
     1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1.0],
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantile_and_share_undo_one_another() {
        for i in 1..400 {
            let z = -8.0 + f64::from(i) * 0.02;
            assert!((quantile(below(z)) - z).abs() < 1e-13 * (1.0 + z.abs()), "{z}");
        }
        assert_eq!(quantile(0.0), f64::NEG_INFINITY);
        assert_eq!(quantile(1.0), f64::INFINITY);
        assert_eq!(quantile(0.5), 0.0);
    }
}
