//! What chains are led by, and what they draw from.

use super::linear::Linear;
use super::newton::{Likeliest, Problem};
use crate::numerics::cholesky;

/// The reference is so much wider (variance) than what was found: a chain that strays must find back.
const WIDER: f64 = 1.15;

/// A normal distribution that leads the steps.
#[derive(Clone)]
pub struct Reference {
    /// Its middle.
    pub mean: Vec<f64>,
    /// Lower factor of the inverse of its covariance.
    pub factor: Vec<f64>,
}

impl Reference {
    /// ½ (z − m)ᵀ L Lᵀ (z − m).
    pub fn half_square(&self, scores: &[f64]) -> f64 {
        let count = scores.len();
        let away: Vec<f64> = scores.iter().zip(&self.mean).map(|(z, m)| z - m).collect();
        let row = |j: usize| (j..count).map(|i| self.factor[i * count + j] * away[i]).sum::<f64>();
        0.5 * (0..count).map(|j| row(j).powi(2)).sum::<f64>()
    }

    /// One that follows what chains found of the unknowns that readings see.
    pub fn learnt(
        likeliest: &Likeliest,
        seen: &[usize],
        draws: &[&Vec<f64>],
        believed: f64,
    ) -> Option<Reference> {
        let count = likeliest.scores.len();
        let n = draws.len() as f64;
        let mut mean = vec![0.0; count];
        for place in seen {
            mean[*place] = draws.iter().map(|z| z[*place]).sum::<f64>() / n;
        }
        let mut covariance = vec![0.0; count * count];
        (0..count).for_each(|i| covariance[i * count + i] = 1.0);
        for i in seen {
            for j in seen {
                let found = draws.iter().map(|z| (z[*i] - mean[*i]) * (z[*j] - mean[*j])).sum::<f64>() / n;
                let curved = likeliest.covariance[i * count + j];
                covariance[i * count + j] = WIDER * (believed * found + (1.0 - believed) * curved);
            }
        }
        let inverse = cholesky::inverse(&cholesky::factor(&covariance, count)?, count);
        Some(Reference { mean, factor: cholesky::factor(&inverse, count)? })
    }
}

/// What is drawn from: everything, or what is left once the linear unknowns are taken out.
pub struct ChainTarget<'t> {
    /// The linear unknowns, where they are taken out.
    pub linear: Option<&'t Linear>,
}

impl ChainTarget<'_> {
    /// −ln of how likely the scores are, but for a constant; without end where a test has no steady state.
    pub fn loss(&self, problem: &mut Problem, scores: &[f64], shown: &mut [f64]) -> f64 {
        if !problem.show(scores, shown) {
            return f64::INFINITY;
        }
        match self.linear {
            Some(linear) => linear.loss(problem, scores, shown),
            None => problem.loss_of(scores, shown),
        }
    }

    /// −ln of how likely what was read is where so much is shown; its slope with what each reading shows goes to `pulls`.
    pub fn pulls(&self, problem: &Problem, shown: &[f64], pulls: &mut Vec<f64>) -> f64 {
        if let Some(linear) = self.linear {
            return linear.pulls(problem, shown, pulls);
        }
        let terms = problem.terms(shown);
        pulls.clear();
        pulls.extend(terms.iter().map(|term| term.slope));
        terms.iter().map(|term| term.loss).sum()
    }

    /// Linear unknowns stand at nought while the others move.
    pub fn hold(&self, scores: &mut [f64]) {
        self.linear.iter().flat_map(|linear| &linear.places).for_each(|place| scores[*place] = 0.0);
    }
}
