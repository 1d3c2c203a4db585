//! Numbers that carry their slopes along.
//!
//! f + f′ε with ε² = 0: every rule of differentiation becomes a rule of reckoning, so that a law written once gives
//! its slopes too (forward differentiation; Wengert 1964, from memory).

use super::smooth;
use std::ops::{Add, Mul, Neg, Sub};

/// A value with its slopes by two variables.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Dual {
    pub value: f64,
    /// Its slopes.
    pub by: [f64; 2],
}

impl Dual {
    /// A value that does not change.
    pub fn fixed(value: f64) -> Dual {
        Dual { value, by: [0.0; 2] }
    }

    /// Two variables.
    pub fn variables(first: f64, second: f64) -> (Dual, Dual) {
        (Dual { value: first, by: [1.0, 0.0] }, Dual { value: second, by: [0.0, 1.0] })
    }

    /// A function of it, of which value and slope are known.
    #[inline]
    pub fn through(self, (value, slope): (f64, f64)) -> Dual {
        Dual { value, by: self.by.map(|by| slope * by) }
    }

    /// |x| made smooth below a scale: see [`smooth::magnitude`].
    #[inline]
    pub fn magnitude(self, scale: f64) -> Dual {
        self.through(smooth::magnitude(self.value, scale))
    }

    /// A rise from 0 to 1: see [`smooth::smooth_step`].
    #[inline]
    pub fn smooth_step(self) -> Dual {
        self.through(smooth::smooth_step(self.value))
    }

    /// 1/x.
    #[inline]
    pub fn inverse(self) -> Dual {
        let inverse = 1.0 / self.value;
        self.through((inverse, -inverse * inverse))
    }

    /// The larger of it and a number.
    #[inline]
    pub fn at_least(self, least: f64) -> Dual {
        if self.value >= least { self } else { Dual::fixed(least) }
    }
}

impl Add for Dual {
    type Output = Dual;
    #[inline]
    fn add(self, other: Dual) -> Dual {
        Dual { value: self.value + other.value, by: [self.by[0] + other.by[0], self.by[1] + other.by[1]] }
    }
}

impl Neg for Dual {
    type Output = Dual;
    #[inline]
    fn neg(self) -> Dual {
        Dual { value: -self.value, by: self.by.map(|by| -by) }
    }
}

impl Sub for Dual {
    type Output = Dual;
    #[inline]
    fn sub(self, other: Dual) -> Dual {
        self + -other
    }
}

impl Mul for Dual {
    type Output = Dual;
    // the product rule adds
    #[allow(clippy::suspicious_arithmetic_impl)]
    #[inline]
    fn mul(self, other: Dual) -> Dual {
        let by = |i: usize| self.by[i] * other.value + self.value * other.by[i];
        Dual { value: self.value * other.value, by: [by(0), by(1)] }
    }
}

impl Mul<Dual> for f64 {
    type Output = Dual;
    #[inline]
    fn mul(self, other: Dual) -> Dual {
        Dual { value: self * other.value, by: other.by.map(|by| self * by) }
    }
}

#[cfg(test)]
mod tests {
    use super::Dual;

    #[test]
    fn slopes_are_finite_differences() {
        let law = |x: f64, y: f64| {
            let (x, y) = Dual::variables(x, y);
            let whole = x.magnitude(0.3) + y.magnitude(0.3);
            let share = x * whole.inverse();
            (2.0 * share * share - y * share).smooth_step() * (Dual::fixed(1.0) - x).at_least(0.4) - y
        };
        for i in 0..20 {
            let (x, y) = (0.07 * f64::from(i) - 0.6 + 0.013, 0.9 - 0.05 * f64::from(i));
            let step = 1e-6;
            let differences = [
                law(x + step, y).value - law(x - step, y).value,
                law(x, y + step).value - law(x, y - step).value,
            ];
            for (difference, slope) in differences.iter().zip(law(x, y).by) {
                assert!((difference / (2.0 * step) - slope).abs() < 1e-6, "{x} {y}");
            }
        }
    }
}
