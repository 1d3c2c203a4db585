//! Unknowns in which everything that is shown is linear: what instruments and the model are off by. They need no chain: what
//! is left of them, given the guesses, is known in full.

use super::newton::{Likeliest, Problem};
use super::unknowns::Unknown;
use crate::numerics::cholesky;
use crate::readings::taken::Shown;

/// The linear unknowns of a problem, taken out of it.
///
/// ```text
///   y = g(z) + B η + ε          −2 ln p(y | z) = rᵀ (D + B Bᵀ)⁻¹ r,   r = y − g(z)
///   η | z ~ N(V Bᵀ D⁻¹ r, V),   V = (1 + Bᵀ D⁻¹ B)⁻¹
/// ```
///
/// η the linear unknowns, B what each adds to each reading, D the readings' own variances.
#[derive(Clone, Debug)]
pub struct Linear {
    /// Which they are.
    pub places: Vec<usize>,
    /// Lower factor of D + B Bᵀ.
    factor: Vec<f64>,
    /// V Bᵀ D⁻¹, row by row.
    gain: Vec<f64>,
    /// Lower factor of V⁻¹.
    inverse: Vec<f64>,
}

impl Linear {
    /// Those of a problem; none where a strip tells only between which fields it lies.
    pub fn of(problem: &Problem, likeliest: &Likeliest) -> Option<Linear> {
        Linear::with(problem, likeliest, &[])
    }

    /// The same where what is shown is missed with that covariance.
    pub fn with(problem: &Problem, likeliest: &Likeliest, missed: &[f64]) -> Option<Linear> {
        let count = likeliest.scores.len();
        let size = likeliest.shown.len();
        let values =
            problem.unknowns.readings.iter().all(|seen| matches!(seen.taken.shown, Shown::Value { .. }));
        let is_linear =
            |place: &usize| !matches!(problem.unknowns.list[*place], Unknown::Guess { .. } | Unknown::Unused);
        let places: Vec<usize> = (0..count).filter(is_linear).collect();
        if !values || places.is_empty() {
            return None;
        }
        let known = places.len();
        let adds = |reading: usize, place: usize| likeliest.slopes[reading * count + places[place]];
        let mut covariance = vec![0.0; size * size];
        for i in 0..size {
            for j in 0..size {
                let together: f64 = (0..known).map(|k| adds(i, k) * adds(j, k)).sum();
                let own = if i == j { problem.spreads[i].powi(2) } else { 0.0 };
                covariance[i * size + j] = together + own + missed.get(i * size + j).copied().unwrap_or(0.0);
            }
        }
        let mut precision = vec![0.0; known * known];
        for i in 0..known {
            for j in 0..known {
                let each = (0..size).map(|r| adds(r, i) * adds(r, j) / problem.spreads[r].powi(2));
                precision[i * known + j] = each.sum::<f64>() + if i == j { 1.0 } else { 0.0 };
            }
        }
        let inverse = cholesky::factor(&precision, known)?;
        let mut gain = vec![0.0; known * size];
        let mut column = vec![0.0; known];
        for reading in 0..size {
            (0..known).for_each(|k| column[k] = adds(reading, k) / problem.spreads[reading].powi(2));
            cholesky::solve(&inverse, known, &mut column);
            (0..known).for_each(|k| gain[k * size + reading] = column[k]);
        }
        Some(Linear { places, factor: cholesky::factor(&covariance, size)?, gain, inverse })
    }

    /// How far each reading lies off what is shown without them.
    fn off(problem: &Problem, shown: &[f64]) -> Vec<f64> {
        let each = problem.unknowns.readings.iter().zip(shown).map(|(seen, shown)| match seen.taken.shown {
            Shown::Value { value, .. } => value - shown,
            Shown::Between { .. } => f64::NAN,
        });
        each.collect()
    }

    /// −ln of how likely the other unknowns are, whatever these are, where so much is shown; but for a constant.
    pub fn loss(&self, problem: &Problem, scores: &[f64], shown: &[f64]) -> f64 {
        let mut off = Linear::off(problem, shown);
        cholesky::forward(&self.factor, shown.len(), &mut off);
        0.5 * (scores.iter().map(|z| z * z).sum::<f64>() + off.iter().map(|x| x * x).sum::<f64>())
    }

    /// −ln of how likely what was read is, whatever these are, where so much is shown; its slope with what each reading shows is
    /// written to `pulls`.
    ///
    /// ```text
    ///   ½ rᵀ K⁻¹ r,   −K⁻¹ r,   K = D + B Bᵀ
    /// ```
    pub fn pulls(&self, problem: &Problem, shown: &[f64], pulls: &mut Vec<f64>) -> f64 {
        let off = Linear::off(problem, shown);
        pulls.clear();
        pulls.extend_from_slice(&off);
        cholesky::solve(&self.factor, shown.len(), pulls);
        pulls.iter_mut().for_each(|pull| *pull = -*pull);
        -0.5 * off.iter().zip(pulls).map(|(off, pull)| off * *pull).sum::<f64>()
    }

    /// Draws them, given the others and what is shown without them; `noise` are as many standard normal numbers.
    pub fn draw(&self, problem: &Problem, shown: &[f64], noise: &mut [f64], scores: &mut [f64]) {
        let off = Linear::off(problem, shown);
        cholesky::backward(&self.inverse, self.places.len(), noise);
        for (k, place) in self.places.iter().enumerate() {
            let row = &self.gain[k * off.len()..][..off.len()];
            scores[*place] = noise[k] + row.iter().zip(&off).map(|(gain, off)| gain * off).sum::<f64>();
        }
    }
}
