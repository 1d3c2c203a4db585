//! Symmetric positive definite matrices: their factors, and what is solved with these.
//!
//! Matrices stand row by row in a slice; of a factor only the lower triangle counts.

/// The lower factor of a symmetric positive definite matrix of size `n`.
///
/// ```text
///   A = L Lᵀ
/// ```
///
/// None where A is not positive definite, to rounding, or where the slice does not hold n × n numbers.
/// Source: Golub & Van Loan, Matrix Computations, Cholesky's factorisation.
pub fn factor(matrix: &[f64], n: usize) -> Option<Vec<f64>> {
    if matrix.len() != n * n {
        return None;
    }
    let mut lower = vec![0.0; n * n];
    for i in 0..n {
        for j in 0..=i {
            let known: f64 =
                lower[i * n..i * n + j].iter().zip(&lower[j * n..j * n + j]).map(|(a, b)| a * b).sum();
            let left = matrix[i * n + j] - known;
            if i == j {
                if !left.is_finite() || left <= 1e-14 * matrix[i * n + i].abs() {
                    return None;
                }
                lower[i * n + i] = left.sqrt();
            } else {
                lower[i * n + j] = left / lower[j * n + j];
            }
        }
    }
    Some(lower)
}

/// Solves L Lᵀ x = b in place.
pub fn solve(lower: &[f64], n: usize, rhs: &mut [f64]) {
    forward(lower, n, rhs);
    backward(lower, n, rhs);
}

/// Solves L x = b in place.
pub fn forward(lower: &[f64], n: usize, rhs: &mut [f64]) {
    for i in 0..n {
        let known: f64 = lower[i * n..i * n + i].iter().zip(&*rhs).map(|(a, x)| a * x).sum();
        rhs[i] = (rhs[i] - known) / lower[i * n + i];
    }
}

/// Solves Lᵀ x = b in place.
pub fn backward(lower: &[f64], n: usize, rhs: &mut [f64]) {
    for i in (0..n).rev() {
        let known: f64 = (i + 1..n).map(|k| lower[k * n + i] * rhs[k]).sum();
        rhs[i] = (rhs[i] - known) / lower[i * n + i];
    }
}

/// The inverse of L Lᵀ.
pub fn inverse(lower: &[f64], n: usize) -> Vec<f64> {
    let mut inverse = vec![0.0; n * n];
    let mut column = vec![0.0; n];
    for j in 0..n {
        column.fill(0.0);
        column[j] = 1.0;
        solve(lower, n, &mut column);
        (0..n).for_each(|i| inverse[i * n + j] = column[i]);
    }
    inverse
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Worked by hand: L of the matrix of squares below is whole.
    const LOWER: [f64; 9] = [2.0, 0.0, 0.0, 6.0, 1.0, 0.0, -8.0, 5.0, 3.0];
    const MATRIX: [f64; 9] = [4.0, 12.0, -16.0, 12.0, 37.0, -43.0, -16.0, -43.0, 98.0];

    #[test]
    fn a_matrix_worked_by_hand_has_its_factor() {
        let lower = factor(&MATRIX, 3).expect("a positive definite matrix");
        lower.iter().zip(LOWER).for_each(|(found, wanted)| assert!((found - wanted).abs() < 1e-12));
        let mut x = [1.0, 2.0, 3.0];
        let b: Vec<f64> = MATRIX.chunks(3).map(|row| row.iter().zip(&x).map(|(a, x)| a * x).sum()).collect();
        x.copy_from_slice(&b);
        solve(&lower, 3, &mut x);
        x.iter().zip([1.0, 2.0, 3.0]).for_each(|(found, wanted)| assert!((found - wanted).abs() < 1e-9));
        let inverse = inverse(&lower, 3);
        for i in 0..3 {
            for j in 0..3 {
                let product: f64 = (0..3).map(|k| MATRIX[i * 3 + k] * inverse[k * 3 + j]).sum();
                assert!((product - if i == j { 1.0 } else { 0.0 }).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn what_is_not_positive_definite_has_none() {
        assert!(factor(&[1.0, 2.0, 2.0, 1.0], 2).is_none());
        assert!(factor(&[1.0, 1.0, 1.0, 1.0], 2).is_none());
        assert!(factor(&[f64::NAN], 1).is_none());
        assert!(factor(&[1.0; 4], 3).is_none());
    }
}
