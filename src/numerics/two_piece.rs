//! The two-piece normal distribution: a value with a band that may be wider on one side.

use super::normal;

/// Two half normal distributions that meet at their common mode, where their densities are equal, cut to a
/// range.
///
/// ```text
///   f(x) = A exp(−(x − m)²/2σ²),   σ = σ₁ below m, σ₂ above,   A = √(2/π)/(σ₁ + σ₂)
/// ```
///
/// m the mode, σ₁ and σ₂ the spreads below and above it; the sides weigh σ₁ : σ₂, so that as one of them
/// shrinks to nothing the other alone is left, without a jump. Where the ends of a band stand 1.645 σ away, 9
/// draws in 10 fall within, whatever the two widths. A cut divides by what is left, so that nothing heaps up
/// at its ends.
/// Source: Fechner (1897); Wallis, The two-piece normal, binormal, or double Gaussian distribution, Statistical
/// Science 29 (2014) 106-112.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoPiece {
    mode: f64,
    below: f64,
    above: f64,
    low: f64,
    high: f64,
    /// Shares of the uncut distribution under `low` and over `high`.
    cut: (f64, f64),
}

impl TwoPiece {
    /// A value taken, with a band from `low` to `high` about it that holds 9 in 10.
    pub fn of_band(value: f64, low: f64, high: f64) -> TwoPiece {
        let width = |side: f64| side.max(0.0) / normal::NINE_IN_TEN;
        TwoPiece {
            mode: value,
            below: width(value - low),
            above: width(high - value),
            low: f64::NEG_INFINITY,
            high: f64::INFINITY,
            cut: (0.0, 0.0),
        }
    }

    /// The same, cut to a range; none where less than a thousandth of it is left.
    pub fn within(self, low: f64, high: f64) -> Option<TwoPiece> {
        let (low, high) = (self.low.max(low), self.high.min(high));
        let cut = (self.tail_below(low), self.tail_above(high));
        (low <= high && 1.0 - cut.0 - cut.1 > 1e-3).then_some(TwoPiece { low, high, cut, ..self })
    }

    /// Whether there is nothing to draw.
    pub fn is_sure(&self) -> bool {
        self.below + self.above <= 0.0
    }

    fn weights(&self) -> (f64, f64) {
        let sum = self.below + self.above;
        if sum > 0.0 { (self.below / sum, self.above / sum) } else { (0.5, 0.5) }
    }

    /// Share of the uncut distribution under `x`.
    fn tail_below(&self, x: f64) -> f64 {
        if x > self.mode {
            return 1.0 - self.tail_above(x);
        }
        if x == self.mode { self.weights().0 } else { side(self.weights().0, self.mode - x, self.below) }
    }

    /// Share of the uncut distribution over `x`.
    fn tail_above(&self, x: f64) -> f64 {
        if x < self.mode {
            return 1.0 - self.tail_below(x);
        }
        if x == self.mode { self.weights().1 } else { side(self.weights().1, x - self.mode, self.above) }
    }

    /// Share of the distribution under `x`.
    pub fn share_below(&self, x: f64) -> f64 {
        let left = 1.0 - self.cut.0 - self.cut.1;
        ((self.tail_below(x) - self.cut.0) / left).clamp(0.0, 1.0)
    }

    /// The x under which a share `u` of the distribution lies, 0 < u < 1.
    pub fn quantile(&self, u: f64) -> f64 {
        if self.is_sure() {
            return self.mode;
        }
        let left = 1.0 - self.cut.0 - self.cut.1;
        let (under, over) = (self.cut.0 + u * left, self.cut.1 + (1.0 - u) * left);
        let weights = self.weights();
        // each side by its own tail, which keeps its digits
        let x = if under < weights.0 {
            self.mode + self.below * normal::quantile(0.5 * under / weights.0)
        } else {
            self.mode - self.above * normal::quantile((0.5 * over / weights.1).min(0.5))
        };
        x.clamp(self.low, self.high)
    }
}

/// Share of a side of `weight` and `spread` that lies further than `distance` from the mode.
fn side(weight: f64, distance: f64, spread: f64) -> f64 {
    if spread > 0.0 { 2.0 * weight * normal::below(-distance / spread) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nine_in_ten_lie_within_the_band_whatever_its_sides() {
        for (low, high) in [(4.0, 6.0), (4.9, 9.0), (5.0, 8.0), (1.0, 5.0)] {
            let band = TwoPiece::of_band(5.0, low, high);
            assert!((band.share_below(high) - band.share_below(low) - 0.9).abs() < 1e-12, "{low} {high}");
        }
    }

    #[test]
    fn a_vanishing_side_is_reached_without_a_jump() {
        let (one_sided, nearly) = (TwoPiece::of_band(0.0, 0.0, 8.0), TwoPiece::of_band(0.0, -1e-9, 8.0));
        for i in 1..200 {
            let u = f64::from(i) / 200.0;
            assert!((one_sided.quantile(u) - nearly.quantile(u)).abs() < 1e-7, "{u}");
            assert!(one_sided.quantile(u) >= 0.0);
        }
    }

    #[test]
    fn a_cut_divides_by_what_is_left_and_heaps_nothing_up() {
        let band = TwoPiece::of_band(0.95, 0.9, 1.1);
        let cut = band.within(0.3, 1.0).expect("most of it is left");
        let left = band.share_below(1.0) - band.share_below(0.3);
        for i in 1..1000 {
            let u = f64::from(i) / 1000.0;
            let x = cut.quantile(u);
            assert!((0.3..1.0).contains(&x));
            assert!((cut.share_below(x) - u).abs() < 1e-12);
            assert!((band.share_below(x) - band.share_below(0.3) - u * left).abs() < 1e-12);
        }
        assert!(band.within(2.0, 3.0).is_none());
    }

    #[test]
    fn what_has_no_width_is_the_value_taken() {
        let sure = TwoPiece::of_band(3.0, 3.0, 3.0);
        assert!(sure.is_sure());
        assert_eq!(sure.quantile(0.01), 3.0);
    }
}
