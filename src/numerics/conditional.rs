//! How much of a result's variance is explained once some other quantities are known, from draws of all of them.

use super::lu::solve_in_place;
use super::normal;
use super::sobol_shares::{Share, mean_and_error};
use std::ops::Range;

/// Added to the diagonal, as a share of it: columns that say the same are told from each other by nothing else.
const RIDGE: f64 = 1e-9;
/// Largest degree of a polynomial of so many quantities.
const CUBIC: usize = 3;
/// Beyond so many, products of different ones are left out.
const CROSSED: usize = 12;

/// The share of the variance of f that knowing y₁ … y_k explains.
///
/// ```text
///   S = var E[f | y]/var f = 1 − E[(f − E[f | y])²]/var f
/// ```
///
/// E[f | y] is a polynomial of the normal scores of y's ranks (of degree 3 for up to three quantities, 2 for up to twelve,
/// squares alone beyond), fitted by least squares to all blocks of draws but one and judged by that one, in turn. The
/// mean over the blocks is the estimate, their scatter its standard error; what a polynomial cannot follow is left
/// unexplained, so that S is rather too small. Zero where f does not vary.
/// Source: regression of a model's result on simulated data: Strong, Oakley, Brennan & Breeze, Estimating the expected
/// value of sample information using the probabilistic sensitivity analysis sample, Medical Decision Making 35 (2015)
/// 570-583; left-out blocks: Stone, Cross-validatory choice and assessment of statistical predictions, J. Royal
/// Statistical Society B 36 (1974) 111-147.
pub fn explained(f: &[f64], scores: &[&[f64]], blocks: &[Range<usize>]) -> Share {
    let rows = blocks.iter().map(Range::len).sum::<usize>() as f64;
    let all = || blocks.iter().flat_map(|block| &f[block.clone()]);
    let mean = all().sum::<f64>() / rows;
    let variance = all().map(|f| (f - mean).powi(2)).sum::<f64>() / rows;
    if variance <= 0.0 || variance.is_nan() || scores.is_empty() {
        return Share { value: 0.0, error: 0.0 };
    }
    let features = Features::new(scores.len());
    let size = features.count();
    let mut row = vec![0.0; size];
    let mut sums: Vec<(Vec<f64>, Vec<f64>)> = Vec::new();
    for block in blocks {
        let mut sum = (vec![0.0; size * size], vec![0.0; size]);
        for index in block.clone() {
            features.write(scores, index, &mut row);
            for (i, x) in row.iter().enumerate() {
                sum.1[i] += x * (f[index] - mean);
                sum.0[i * size..][..=i].iter_mut().zip(&row).for_each(|(sum, y)| *sum += x * y);
            }
        }
        sums.push(sum);
    }
    let judged = blocks.iter().enumerate().map(|(left_out, block)| {
        let mut matrix = vec![0.0; size * size];
        let mut fit = vec![0.0; size];
        for (_, (squares, products)) in sums.iter().enumerate().filter(|(other, _)| *other != left_out) {
            matrix.iter_mut().zip(squares).for_each(|(sum, x)| *sum += x);
            fit.iter_mut().zip(products).for_each(|(sum, x)| *sum += x);
        }
        for i in 0..size {
            matrix[i * size + i] *= 1.0 + RIDGE;
            matrix[i * size + i] += RIDGE;
            (0..i).for_each(|j| matrix[j * size + i] = matrix[i * size + j]);
        }
        if !solve_in_place(&mut matrix, size, &mut fit) {
            return 0.0;
        }
        let mut row = vec![0.0; size];
        let missed = block.clone().map(|index| {
            features.write(scores, index, &mut row);
            let found: f64 = row.iter().zip(&fit).map(|(x, factor)| x * factor).sum();
            (f[index] - mean - found).powi(2)
        });
        1.0 - missed.sum::<f64>() / (block.len() as f64 * variance)
    });
    mean_and_error(judged.collect::<Vec<f64>>().into_iter())
}

/// The monomials of a polynomial, each as the quantities that are multiplied.
struct Features(Vec<Vec<usize>>);

impl Features {
    fn new(quantities: usize) -> Features {
        let mut all: Vec<Vec<usize>> = vec![Vec::new()];
        let degree = if quantities <= CUBIC { 3 } else { 2 };
        let mut last = all.clone();
        for _ in 0..degree {
            let longer = |known: &Vec<usize>| {
                let from = known.last().copied().unwrap_or(0);
                let one = |next: usize| known.iter().copied().chain([next]).collect::<Vec<usize>>();
                (from..quantities).map(one).collect::<Vec<_>>()
            };
            last = last.iter().flat_map(longer).collect();
            all.extend(last.iter().cloned());
        }
        if quantities > CROSSED {
            all.retain(|factors| factors.windows(2).all(|pair| pair[0] == pair[1]));
        }
        Features(all)
    }

    fn count(&self) -> usize {
        self.0.len()
    }

    fn write(&self, scores: &[&[f64]], index: usize, row: &mut [f64]) {
        for (value, factors) in row.iter_mut().zip(&self.0) {
            *value = factors.iter().map(|column| scores[*column][index]).product();
        }
    }
}

/// The normal scores of numbers: of the r-th smallest of n the z under which (r − ½)/n of a normal distribution lies;
/// numbers that are the same share the mean of their ranks, and numbers that are all the same have nothing to tell.
pub fn normal_scores(numbers: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..numbers.len()).collect();
    order.sort_by(|a, b| numbers[*a].total_cmp(&numbers[*b]));
    let mut scores = vec![0.0; numbers.len()];
    let mut begin = 0;
    while begin < order.len() {
        let mut end = begin + 1;
        while end < order.len() && numbers[order[end]] == numbers[order[begin]] {
            end += 1;
        }
        let share = 0.5 * (begin + end) as f64 / numbers.len() as f64;
        order[begin..end].iter().for_each(|index| scores[*index] = normal::quantile(share));
        begin = end;
    }
    scores
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::sobol::Sobol;

    /// Independent normal numbers in blocks.
    fn drawn(columns: usize) -> (Vec<Vec<f64>>, Vec<Range<usize>>) {
        let (blocks, each) = (8, 128);
        let mut all = vec![Vec::new(); columns];
        for block in 0..blocks {
            let sobol = Sobol::new(columns, 90 + block as u64);
            for index in 0..each {
                for (column, numbers) in all.iter_mut().enumerate() {
                    numbers.push(normal::quantile(sobol.coordinate(index, column)));
                }
            }
        }
        (all, (0..blocks).map(|block| block * each as usize..(block + 1) * each as usize).collect())
    }

    fn found(f: &[f64], known: &[&[f64]], blocks: &[Range<usize>]) -> Share {
        let scores: Vec<Vec<f64>> = known.iter().map(|column| normal_scores(column)).collect();
        let scores: Vec<&[f64]> = scores.iter().map(Vec::as_slice).collect();
        explained(f, &scores, blocks)
    }

    /// Of normal f and y with covariances c and Σ, S = cᵀ Σ⁻¹ c/var f exactly (Anderson, An Introduction to
    /// Multivariate Statistical Analysis, theorem 2.5.1).
    #[test]
    fn readings_with_noise_explain_what_they_exactly_do() {
        let (z, blocks) = drawn(6);
        let f: Vec<f64> = (0..z[0].len()).map(|i| 3.0 * z[0][i] + 2.0 * z[1][i] + z[2][i]).collect();
        // y1 = z1 + z2 + half of noise, y2 = z1 − z2 + noise
        let y1: Vec<f64> = (0..f.len()).map(|i| z[0][i] + z[1][i] + 0.5 * z[3][i]).collect();
        let y2: Vec<f64> = (0..f.len()).map(|i| z[0][i] - z[1][i] + z[4][i]).collect();
        // var f 14; var y1 2.25, var y2 3, cov(y1, y2) 0; cov(f, y1) 5, cov(f, y2) 1
        for (known, exact) in [
            (vec![&y1[..]], 25.0 / 2.25 / 14.0),
            (vec![&y2[..]], 1.0 / 3.0 / 14.0),
            (vec![&y1[..], &y2[..]], (25.0 / 2.25 + 1.0 / 3.0) / 14.0),
            (vec![&z[0][..], &z[1][..], &z[2][..], &z[5][..]], 1.0),
            (vec![&z[5][..]], 0.0),
        ] {
            let share = found(&f, &known, &blocks);
            assert!(share.error < 0.02, "{exact}: {}", share.error);
            assert!((share.value - exact).abs() < 4.0 * share.error + 0.01, "{exact}: {}", share.value);
        }
    }

    /// f = y² + z, both normal: var y² = 2 beside var z = 1, so that y explains two thirds, and no straight line any.
    #[test]
    fn what_bends_is_followed() {
        let (z, blocks) = drawn(2);
        let f: Vec<f64> = (0..z[0].len()).map(|i| z[0][i].powi(2) + z[1][i]).collect();
        let share = found(&f, &[&z[0]], &blocks);
        assert!((share.value - 2.0 / 3.0).abs() < 4.0 * share.error + 0.01, "{}", share.value);
    }

    #[test]
    fn scores_of_equal_numbers_are_equal_and_of_all_equal_nothing() {
        let scores = normal_scores(&[3.0, 1.0, 3.0, 2.0]);
        assert_eq!(scores[0], scores[2]);
        assert!(scores[1] < scores[3] && scores[3] < scores[0]);
        assert_eq!(normal_scores(&[7.0; 5]), vec![0.0; 5]);
        let same = explained(&[2.0; 8], &[&[0.0; 8]], &[0..4, 4..8]);
        assert_eq!(same, Share { value: 0.0, error: 0.0 });
    }
}
