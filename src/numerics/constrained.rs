//! Minimisation under constraints, by sequential quadratic programmes in a trust region.
//!
//! The penalty is the largest violation (an exact penalty in the maximum norm), so that a start
//! from which nothing is feasible ends where the worst violation is least: see Fletcher, Practical
//! Methods of Optimization, 2nd ed., ch. 14.

use super::quadratic;

/// Objective, and constraints that must not be negative.
#[derive(Clone, Debug)]
pub struct Evaluation {
    /// What is made smallest.
    pub objective: f64,
    /// What must be zero or more.
    pub constraints: Vec<f64>,
}

impl Evaluation {
    /// The largest violation.
    pub fn violation(&self) -> f64 {
        self.constraints.iter().fold(0.0, |most, c| most.max(-c))
    }

    fn penalised(&self, weight: f64) -> f64 {
        self.objective + weight * self.violation()
    }
}

/// Where a minimisation ended.
#[derive(Clone, Debug)]
pub struct Minimum {
    pub point: Vec<f64>,
    /// What it gives.
    pub value: Evaluation,
    /// Steps taken.
    pub steps: usize,
}

/// Difference step of the slopes, in the variables' own scale.
const DIFFERENCE: f64 = 1e-5;

/// How far a minimisation goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// Steps at most.
    pub steps: usize,
    /// Fall of the penalised objective, over one and the objective, below which no further step is taken.
    pub close: f64,
}

impl Effort {
    /// As close as differences allow.
    pub const fn fine(steps: usize) -> Effort {
        Effort { steps, close: 1e-11 }
    }
}

/// Minimises from a start within bounds. The variables should be of order one (logarithms do);
/// `evaluate` gives none where it cannot tell.
pub fn minimise(
    mut evaluate: impl FnMut(&[f64]) -> Option<Evaluation>,
    start: &[f64],
    lower: &[f64],
    upper: &[f64],
    effort: Effort,
) -> Option<Minimum> {
    let n = start.len();
    let mut x: Vec<f64> =
        start.iter().zip(lower.iter().zip(upper)).map(|(x, (l, u))| x.clamp(*l, *u)).collect();
    let mut value = evaluate(&x)?;
    let m = value.constraints.len();
    let mut hessian = identity(n, 0.1);
    let mut weight = 10.0;
    let mut radius: f64 = 0.5;
    let Some((mut gradient, mut slopes)) = differences(&mut evaluate, &x, &value, lower, upper) else {
        return Some(Minimum { point: x, value, steps: 0 });
    };
    let mut steps = 0;
    while steps < effort.steps && radius > 1e-9 {
        steps += 1;
        let Some((d, violation, found)) =
            subproblem(&hessian, &gradient, &slopes, &value, &x, lower, upper, radius, weight)
        else {
            break;
        };
        let sum: f64 = found.iter().sum();
        if sum > 0.9 * weight && weight < 1e4 && (value.violation() > 1e-9 || violation > 1e-9) {
            weight *= 8.0;
            continue;
        }
        let linear: f64 = gradient.iter().zip(&d).map(|(g, d)| g * d).sum();
        let curved: f64 = (0..n).map(|i| (0..n).map(|j| d[i] * hessian[i * n + j] * d[j]).sum::<f64>()).sum();
        let predicted = weight * (value.violation() - violation) - linear - 0.5 * curved;
        let length = d.iter().fold(0.0_f64, |most, s| most.max(s.abs()));
        if predicted < effort.close * (1.0 + value.objective.abs()) || length < 1e-10 {
            break;
        }
        let trial: Vec<f64> = x
            .iter()
            .zip(&d)
            .zip(lower.iter().zip(upper))
            .map(|((x, d), (l, u))| (x + d).clamp(*l, *u))
            .collect();
        let Some(next) = evaluate(&trial) else {
            radius = 0.3 * length;
            continue;
        };
        let actual = value.penalised(weight) - next.penalised(weight);
        let ratio = actual / predicted;
        if ratio < 0.05 {
            radius = 0.35 * length;
            continue;
        }
        if ratio > 0.7 && length > 0.8 * radius {
            radius = (2.0 * radius).min(1.5);
        } else if ratio < 0.3 {
            radius = (0.5 * length).max(1e-9);
        }
        let Some((next_gradient, next_slopes)) = differences(&mut evaluate, &trial, &next, lower, upper)
        else {
            radius = 0.3 * length;
            continue;
        };
        let lagrangian = |gradient: &[f64], slopes: &[f64]| -> Vec<f64> {
            (0..n).map(|j| gradient[j] - (0..m).map(|i| found[i] * slopes[i * n + j]).sum::<f64>()).collect()
        };
        let before = lagrangian(&gradient, &slopes);
        let after = lagrangian(&next_gradient, &next_slopes);
        let step: Vec<f64> = trial.iter().zip(&x).map(|(a, b)| a - b).collect();
        let change: Vec<f64> = after.iter().zip(&before).map(|(a, b)| a - b).collect();
        update(&mut hessian, &step, &change);
        (x, value, gradient, slopes) = (trial, next, next_gradient, next_slopes);
    }
    Some(Minimum { point: x, value, steps })
}

fn identity(n: usize, scale: f64) -> Vec<f64> {
    (0..n * n).map(|k| if k / n == k % n { scale } else { 0.0 }).collect()
}

/// Slopes of the objective and of the constraints (row by row) by differences that stay inside the
/// bounds.
fn differences(
    evaluate: &mut impl FnMut(&[f64]) -> Option<Evaluation>,
    x: &[f64],
    value: &Evaluation,
    lower: &[f64],
    upper: &[f64],
) -> Option<(Vec<f64>, Vec<f64>)> {
    let n = x.len();
    let m = value.constraints.len();
    let mut gradient = vec![0.0; n];
    let mut slopes = vec![0.0; m * n];
    let mut moved = x.to_vec();
    for j in 0..n {
        let step = if x[j] + DIFFERENCE <= upper[j] || upper[j] - x[j] > x[j] - lower[j] {
            DIFFERENCE
        } else {
            -DIFFERENCE
        };
        moved[j] = x[j] + step;
        let other = evaluate(&moved)?;
        moved[j] = x[j];
        gradient[j] = (other.objective - value.objective) / step;
        for i in 0..m {
            slopes[i * n + j] = (other.constraints[i] - value.constraints[i]) / step;
        }
    }
    Some((gradient, slopes))
}

/// The quadratic programme of one step, with one variable for the violation that is left. Gives
/// the step, that violation and the constraints' multipliers.
#[allow(clippy::too_many_arguments)]
fn subproblem(
    hessian: &[f64],
    gradient: &[f64],
    slopes: &[f64],
    value: &Evaluation,
    x: &[f64],
    lower: &[f64],
    upper: &[f64],
    radius: f64,
    weight: f64,
) -> Option<(Vec<f64>, f64, Vec<f64>)> {
    let n = x.len();
    let m = value.constraints.len();
    let wide = n + 1;
    let mut matrix = vec![0.0; wide * wide];
    for i in 0..n {
        matrix[i * wide..i * wide + n].copy_from_slice(&hessian[i * n..(i + 1) * n]);
    }
    matrix[wide * wide - 1] = 1e-6;
    let mut linear = gradient.to_vec();
    linear.push(weight);
    // a constraint that no step within the radius can reach says nothing
    let can_fall =
        |i: usize| slopes[i * n..(i + 1) * n].iter().map(|slope| slope.abs() * radius).sum::<f64>();
    let near: Vec<usize> = (0..m).filter(|i| value.constraints[*i] <= can_fall(*i)).collect();
    let last = near.len();
    let count = last + 1 + 2 * n;
    let mut rows = vec![0.0; count * wide];
    let mut bounds = vec![0.0; count];
    for (row, i) in near.iter().copied().enumerate() {
        rows[row * wide..row * wide + n].copy_from_slice(&slopes[i * n..(i + 1) * n]);
        rows[row * wide + n] = 1.0;
        bounds[row] = -value.constraints[i];
    }
    rows[last * wide + n] = 1.0;
    for j in 0..n {
        let row = last + 1 + 2 * j;
        rows[row * wide + j] = 1.0;
        bounds[row] = (lower[j] - x[j]).max(-radius);
        rows[(row + 1) * wide + j] = -1.0;
        bounds[row + 1] = -(upper[j] - x[j]).min(radius);
    }
    let (mut d, found) = quadratic::minimise(&matrix, &linear, &rows, &bounds)?;
    let violation = d.pop()?.max(0.0);
    let mut multipliers = vec![0.0; m];
    near.iter().zip(&found).for_each(|(i, multiplier)| multipliers[*i] = *multiplier);
    for (j, step) in d.iter_mut().enumerate() {
        *step = step.clamp((lower[j] - x[j]).max(-radius), (upper[j] - x[j]).min(radius));
    }
    Some((d, violation, multipliers))
}

/// BFGS with Powell's damping, so that the matrix stays positive definite.
fn update(hessian: &mut [f64], step: &[f64], change: &[f64]) {
    let n = step.len();
    let product: Vec<f64> = (0..n).map(|i| (0..n).map(|j| hessian[i * n + j] * step[j]).sum()).collect();
    let curved: f64 = step.iter().zip(&product).map(|(s, p)| s * p).sum();
    let found: f64 = step.iter().zip(change).map(|(s, c)| s * c).sum();
    if curved <= 1e-16 {
        return;
    }
    let blend = if found >= 0.2 * curved { 1.0 } else { 0.8 * curved / (curved - found) };
    let mixed: Vec<f64> = change.iter().zip(&product).map(|(c, p)| blend * c + (1.0 - blend) * p).collect();
    let mixed_curve: f64 = step.iter().zip(&mixed).map(|(s, c)| s * c).sum();
    for i in 0..n {
        for j in 0..n {
            hessian[i * n + j] += mixed[i] * mixed[j] / mixed_curve - product[i] * product[j] / curved;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn curved_objective_on_a_circle() {
        // min x + y on x² + y² ≤ 2: (−1, −1)
        let evaluate = |x: &[f64]| {
            Some(Evaluation { objective: x[0] + x[1], constraints: vec![2.0 - x[0] * x[0] - x[1] * x[1]] })
        };
        let found =
            minimise(evaluate, &[0.7, -0.2], &[-5.0; 2], &[5.0; 2], Effort::fine(100)).expect("solved");
        assert_relative_eq!(found.point[0], -1.0, epsilon = 1e-5);
        assert_relative_eq!(found.point[1], -1.0, epsilon = 1e-5);
    }

    #[test]
    fn what_cannot_be_met_ends_at_the_least_violation() {
        // x ≥ 1 and x ≤ −1: the least violation, 1, lies at 0
        let evaluate = |x: &[f64]| {
            Some(Evaluation { objective: 0.01 * x[0], constraints: vec![x[0] - 1.0, -1.0 - x[0]] })
        };
        let found = minimise(evaluate, &[3.0], &[-5.0], &[5.0], Effort::fine(200)).expect("solved");
        assert_relative_eq!(found.value.violation(), 1.0, epsilon = 1e-3);
    }
}
