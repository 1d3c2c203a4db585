//! Ranges of figures from the bands of the values they rest on.

use super::inputs::{EstimateValue, Inputs};
use super::reckon::{Reckoned, ValueSet, reckon};
use super::result::{FigureRange, KeyMover};

/// How the ranges are formed, in words.
pub const METHOD: &str = "The likely figure has every value at its likely place. Each value is then moved alone to the two ends of \
its band; the factors by which a figure rises are put together as the root of the sum of their squared logarithms, and those by \
which it falls likewise. The guesses are independent of one another: that all of them are wrong the same way at once is next to \
impossible, so that adding up extremes would give ranges too wide to be of use, while one at a time hides how they add up. \
Logarithms are taken since every figure is a product: so no area falls below nothing.";

/// The reckoning at the likely values and with each value moved alone.
pub(super) struct Variants<'a> {
    likely: Reckoned,
    moved: Vec<(&'a EstimateValue, Reckoned, Reckoned)>,
}

impl<'a> Variants<'a> {
    /// Reckons them all.
    pub fn new(inputs: &'a Inputs) -> Variants<'a> {
        let set = |moved: Option<(&EstimateValue, f64)>| ValueSet {
            values: inputs
                .values
                .iter()
                .map(|value| match moved {
                    Some((other, at)) if other.key.name == value.key.name => (value.key.name, at),
                    _ => (value.key.name, value.likely),
                })
                .collect(),
        };
        let moved = inputs.values.iter().filter(|value| value.is_guess()).map(|value| {
            let at = |end| reckon(&set(Some((value, end))));
            (value, at(value.low), at(value.high))
        });
        Variants { likely: reckon(&set(None)), moved: moved.collect() }
    }

    /// The likely value of a figure.
    pub fn likely(&self, figure: impl Fn(&Reckoned) -> f64) -> f64 {
        figure(&self.likely)
    }

    /// The range of a positive figure.
    pub fn band(&self, figure: impl Fn(&Reckoned) -> f64) -> FigureRange {
        let likely = figure(&self.likely);
        if !(likely > 0.0 && likely.is_finite()) {
            return FigureRange { low: likely, likely, high: likely };
        }
        let (mut up, mut down) = (0.0, 0.0);
        for (_, low, high) in &self.moved {
            let (a, b) = (log_ratio(figure(low), likely), log_ratio(figure(high), likely));
            up += a.max(b).max(0.0).powi(2);
            down += a.min(b).min(0.0).powi(2);
        }
        FigureRange { low: likely * (-f64::sqrt(down)).exp(), likely, high: likely * f64::sqrt(up).exp() }
    }

    /// The values that move a figure most, the foremost first.
    pub fn movers(&self, figure: impl Fn(&Reckoned) -> f64, most: usize) -> Vec<KeyMover> {
        let likely = figure(&self.likely);
        if !(likely > 0.0 && likely.is_finite()) {
            return Vec::new();
        }
        let mut movers: Vec<(f64, KeyMover)> = self
            .moved
            .iter()
            .map(|(value, low, high)| {
                let (at_low, at_high) = (figure(low) / likely, figure(high) / likely);
                let strength = log_ratio(at_low, 1.0).abs().max(log_ratio(at_high, 1.0).abs());
                (strength, KeyMover { key: value.key.name, at_low, at_high })
            })
            .filter(|(strength, _)| *strength > 0.01)
            .collect();
        movers.sort_by(|a, b| b.0.total_cmp(&a.0));
        movers.into_iter().take(most).map(|(_, mover)| mover).collect()
    }
}

/// ln(value/likely); without bound where the value has none.
fn log_ratio(value: f64, likely: f64) -> f64 {
    let ratio = value / likely;
    if ratio.is_nan() { f64::INFINITY } else { ratio.ln() }
}
