//! Small convex quadratic programmes.

use super::lu;

/// min ½ dᵀB d + gᵀd subject to A d ≥ b, by Mehrotra's primal-dual interior-point method
/// (Nocedal & Wright, Numerical Optimization, 2nd ed., ch. 16.6).
///
/// `hessian` B is n × n, symmetric and positive definite; `rows` A is m × n, row by row; both
/// dense. Gives d and the multipliers of the rows; none where no interior point was found or the
/// matrices are singular.
pub fn minimise(
    hessian: &[f64],
    gradient: &[f64],
    rows: &[f64],
    bounds: &[f64],
) -> Option<(Vec<f64>, Vec<f64>)> {
    let n = gradient.len();
    let m = bounds.len();
    let dot_row =
        |i: usize, d: &[f64]| -> f64 { rows[i * n..(i + 1) * n].iter().zip(d).map(|(a, d)| a * d).sum() };
    let mut d = vec![0.0; n];
    let mut slack: Vec<f64> = (0..m).map(|i| (dot_row(i, &d) - bounds[i]).max(1.0)).collect();
    let mut multiplier = vec![1.0; m];
    let mut matrix = vec![0.0; n * n];
    for _ in 0..80 {
        let mut dual: Vec<f64> = gradient.to_vec();
        for i in 0..n {
            dual[i] += (0..n).map(|j| hessian[i * n + j] * d[j]).sum::<f64>();
        }
        for i in 0..m {
            for j in 0..n {
                dual[j] -= rows[i * n + j] * multiplier[i];
            }
        }
        let primal: Vec<f64> = (0..m).map(|i| dot_row(i, &d) - slack[i] - bounds[i]).collect();
        let gap = if m > 0 {
            slack.iter().zip(&multiplier).map(|(s, l)| s * l).sum::<f64>() / m as f64
        } else {
            0.0
        };
        let size = |v: &[f64]| v.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
        if size(&dual) < 1e-9 && size(&primal) < 1e-11 && gap < 1e-12 {
            break;
        }
        let mut normal = hessian.to_vec();
        for i in 0..m {
            let row = &rows[i * n..(i + 1) * n];
            for (j, a) in row.iter().enumerate().filter(|(_, a)| **a != 0.0) {
                let weight = multiplier[i] / slack[i] * a;
                for (entry, b) in normal[j * n..(j + 1) * n].iter_mut().zip(row) {
                    *entry += weight * b;
                }
            }
        }
        // a factorisation for each of two right-hand sides: the systems are tiny
        let mut direction = |target: &dyn Fn(usize) -> f64| -> Option<(Vec<f64>, Vec<f64>, Vec<f64>)> {
            let mut right: Vec<f64> = dual.iter().map(|r| -r).collect();
            for i in 0..m {
                let weight = multiplier[i] / slack[i];
                let shift = -weight * primal[i] - (slack[i] * multiplier[i] - target(i)) / slack[i];
                for (entry, a) in right.iter_mut().zip(&rows[i * n..(i + 1) * n]) {
                    *entry += a * shift;
                }
            }
            matrix.copy_from_slice(&normal);
            if !lu::solve_in_place(&mut matrix, n, &mut right) {
                return None;
            }
            let ds: Vec<f64> = (0..m).map(|i| dot_row(i, &right) + primal[i]).collect();
            let dl = (0..m)
                .map(|i| (target(i) - slack[i] * multiplier[i] - multiplier[i] * ds[i]) / slack[i])
                .collect();
            Some((right, ds, dl))
        };
        let longest = |values: &[f64], steps: &[f64]| {
            values
                .iter()
                .zip(steps)
                .fold(1.0_f64, |most, (v, s)| if *s < 0.0 { most.min(-v / s) } else { most })
        };
        let (_, ds, dl) = direction(&|_| 0.0)?;
        let reach = longest(&slack, &ds).min(longest(&multiplier, &dl));
        let reached =
            (0..m).map(|i| (slack[i] + reach * ds[i]) * (multiplier[i] + reach * dl[i])).sum::<f64>()
                / (m.max(1)) as f64;
        let centring = if gap > 0.0 { (reached / gap).powi(3) } else { 0.0 };
        let (step, step_slack, step_multiplier) = direction(&|i| centring * gap - ds[i] * dl[i])?;
        let length = 0.995 * longest(&slack, &step_slack).min(longest(&multiplier, &step_multiplier));
        let length = length.min(1.0);
        for i in 0..n {
            d[i] += length * step[i];
        }
        for i in 0..m {
            slack[i] = (slack[i] + length * step_slack[i]).max(1e-300);
            multiplier[i] = (multiplier[i] + length * step_multiplier[i]).max(1e-300);
        }
        if !d.iter().all(|x| x.is_finite()) {
            return None;
        }
    }
    Some((d, multiplier))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn textbook_programme() {
        // Nocedal & Wright, example 16.4: min (x−1)² + (y−2.5)², solution (1.4, 1.7)
        let rows = [1.0, -2.0, -1.0, -2.0, -1.0, 2.0, 1.0, 0.0, 0.0, 1.0];
        let bounds = [-2.0, -6.0, -2.0, 0.0, 0.0];
        let (d, multipliers) =
            minimise(&[2.0, 0.0, 0.0, 2.0], &[-2.0, -5.0], &rows, &bounds).expect("solved");
        assert_relative_eq!(d[0], 1.4, epsilon = 1e-8);
        assert_relative_eq!(d[1], 1.7, epsilon = 1e-8);
        assert_relative_eq!(multipliers[0], 0.8, epsilon = 1e-7);
    }
}
