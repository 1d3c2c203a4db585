//! What readings left of the guesses together: independent coordinates turned into joint ones.

use crate::case::fitted::FittedRecord;
use crate::numerics::{cholesky, normal};

/// How near its ends a coordinate may lie.
const SURE: f64 = 1e-15;

/// A joint normal distribution of the normal scores of some coordinates.
///
/// ```text
///   z = m + L ε,   ε = Φ⁻¹(u),   u' = Φ(z)
/// ```
///
/// m the means, L Lᵀ the covariance, u the independent coordinates of a point, u' those with which guesses are drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct JointScores {
    /// The coordinates, in the order of the factor.
    pub dimensions: Vec<usize>,
    pub mean: Vec<f64>,
    /// Lower factor, row by row.
    pub factor: Vec<f64>,
}

impl JointScores {
    /// That of a fit, of the guesses that are still drawn: `dimension` gives the coordinate of each, and which way it lies.
    /// What is no longer drawn is left out of the covariance.
    pub fn of(
        fitted: &FittedRecord,
        dimension: impl Fn(usize) -> Option<(usize, bool)>,
    ) -> Option<JointScores> {
        let kept: Vec<(usize, usize, f64)> = (0..fitted.guesses.len())
            .filter_map(|guess| {
                let (dimension, turned) = dimension(guess)?;
                Some((guess, dimension, if turned { -1.0 } else { 1.0 }))
            })
            .collect();
        let size = kept.len();
        let mut covariance = vec![0.0; size * size];
        for (i, (one, _, sign)) in kept.iter().enumerate() {
            for (j, (other, _, other_sign)) in kept.iter().enumerate() {
                let rows = fitted.guesses[*one].factor.iter().zip(&fitted.guesses[*other].factor);
                covariance[i * size + j] = sign * other_sign * rows.map(|(a, b)| a * b).sum::<f64>();
            }
        }
        Some(JointScores {
            dimensions: kept.iter().map(|(_, dimension, _)| *dimension).collect(),
            mean: kept.iter().map(|(guess, _, sign)| sign * fitted.guesses[*guess].mean).collect(),
            factor: cholesky::factor(&covariance, size)?,
        })
    }

    /// Turns the coordinates of a point.
    pub fn turn(&self, point: &mut [f64]) {
        let size = self.dimensions.len();
        let scores: Vec<f64> =
            self.dimensions.iter().map(|d| normal::quantile(point[*d].clamp(SURE, 1.0 - SURE))).collect();
        for (i, dimension) in self.dimensions.iter().enumerate() {
            let row = &self.factor[i * size..=i * size + i];
            let z = self.mean[i] + row.iter().zip(&scores).map(|(l, e)| l * e).sum::<f64>();
            point[*dimension] = normal::below(z).clamp(SURE, 1.0 - SURE);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::case::fitted::FittedGuess;

    fn fitted() -> FittedRecord {
        let guess = |mean, factor: &[f64]| FittedGuess {
            addresses: Vec::new(),
            error_of: None,
            mean,
            factor: factor.to_vec(),
        };
        FittedRecord {
            model_error: 8.0,
            guesses: vec![guess(0.3, &[0.5]), guess(-0.2, &[-0.4, 0.3]), guess(1.0, &[0.1, 0.2, 0.9])],
            readings: Vec::new(),
        }
    }

    /// The covariance of what is left after the middle one is left out, by hand: 0.25, 0.05, 0.86.
    #[test]
    fn what_is_no_longer_drawn_is_left_out() {
        let joint = JointScores::of(&fitted(), |guess| (guess != 1).then_some((2 - guess, guess == 0)))
            .expect("a factor");
        assert_eq!(joint.dimensions, [2, 0]);
        assert_eq!(joint.mean, [-0.3, 1.0]);
        let [a, _, b, c] = joint.factor[..] else { panic!("two rows") };
        assert!(
            (a * a - 0.25).abs() < 1e-12
                && (a * b + 0.05).abs() < 1e-12
                && (b * b + c * c - 0.86).abs() < 1e-12
        );
    }

    #[test]
    fn turned_points_have_the_means_and_covariances_asked_for() {
        let joint = JointScores::of(&fitted(), |guess| Some((guess, false))).expect("a factor");
        let sobol = crate::numerics::sobol::Sobol::new(3, 7);
        let (mut sums, mut products) = ([0.0; 3], [[0.0; 3]; 3]);
        let count = 4096;
        for index in 0..count {
            let mut point = [0.0; 3];
            sobol.point(index, &mut point);
            joint.turn(&mut point);
            let z = point.map(normal::quantile);
            for i in 0..3 {
                sums[i] += z[i] / f64::from(count);
                (0..3).for_each(|j| products[i][j] += z[i] * z[j] / f64::from(count));
            }
        }
        let wanted = [[0.25, -0.2, 0.05], [-0.2, 0.25, 0.02], [0.05, 0.02, 0.86]];
        for i in 0..3 {
            assert!((sums[i] - [0.3, -0.2, 1.0][i]).abs() < 1e-3, "{i} {sums:?}");
            for j in 0..3 {
                assert!((products[i][j] - sums[i] * sums[j] - wanted[i][j]).abs() < 3e-3, "{i} {j}");
            }
        }
    }
}
