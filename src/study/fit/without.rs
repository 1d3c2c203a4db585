//! Readings and tests left out, as the slopes at the likeliest place have it.

use super::newton::Likeliest;
use super::terms::ReadingTerm;
use crate::numerics::cholesky;

/// What is left without some readings.
#[derive(Clone, Debug)]
pub struct Without {
    /// How far the likeliest place moves.
    pub moves: Vec<f64>,
    /// Covariance without them.
    pub covariance: Vec<f64>,
}

/// The fit without some readings.
///
/// ```text
///   δ = (H − Σ w J Jᵀ)⁻¹ Σ l' J
/// ```
///
/// H the curvature with all, the sums over what is left out: at the likeliest place the slopes of all add up to nothing.
pub fn without(likeliest: &Likeliest, left_out: &[usize]) -> Option<Without> {
    let count = likeliest.scores.len();
    let kept: Vec<ReadingTerm> = (likeliest.terms.iter().enumerate())
        .map(
            |(index, term)| {
                if left_out.contains(&index) { ReadingTerm { curve: 0.0, ..*term } } else { *term }
            },
        )
        .collect();
    let factor = cholesky::factor(&super::newton::curvature(&likeliest.slopes, &kept, count), count)?;
    let mut moves = vec![0.0; count];
    for index in left_out {
        let row = &likeliest.slopes[index * count..][..count];
        moves.iter_mut().zip(row).for_each(|(sum, slope)| *sum += likeliest.terms[*index].slope * slope);
    }
    cholesky::solve(&factor, count, &mut moves);
    Some(Without { moves, covariance: cholesky::inverse(&factor, count) })
}

impl Without {
    /// What a reading would be expected to show, from what it shows with all: mean and variance without its own error.
    pub fn shows(&self, slopes: &[f64], shown: f64) -> (f64, f64) {
        (shown + dot(slopes, &self.moves), square(slopes, &self.covariance))
    }
}

/// a · b.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// aᵀ C a.
pub fn square(a: &[f64], matrix: &[f64]) -> f64 {
    let count = a.len();
    a.iter().enumerate().map(|(i, x)| x * dot(&matrix[i * count..][..count], a)).sum()
}
