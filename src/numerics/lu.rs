//! Small dense systems of linear equations, solved in place.

/// Solves A x = b by Gaussian elimination with partial pivoting.
///
/// `matrix` holds A (n × n) row by row and is used up; `rhs` holds b and receives x. Nothing is
/// allocated. Meant for n of 1 to 40, where a general library would spend its time elsewhere.
///
/// `false` where A is singular: a pivot that is zero or not finite, or a solution that is not
/// finite; `matrix` and `rhs` are then worth nothing. A matrix that is nearly singular gives a
/// large x, which the caller has to judge. `false` as well where the slices do not hold n × n
/// and n numbers.
///
/// Source: Golub & Van Loan, Matrix Computations, algorithm of outer-product elimination with
/// row exchanges.
pub fn solve_in_place(matrix: &mut [f64], n: usize, rhs: &mut [f64]) -> bool {
    if matrix.len() != n * n || rhs.len() != n {
        return false;
    }
    match n {
        0 => true,
        1 => {
            rhs[0] /= matrix[0];
            matrix[0] != 0.0 && rhs[0].is_finite()
        }
        2 => solve_two(matrix, rhs),
        3 => solve_fixed::<3>(matrix, rhs),
        4 => solve_fixed::<4>(matrix, rhs),
        5 => solve_fixed::<5>(matrix, rhs),
        6 => solve_fixed::<6>(matrix, rhs),
        7 => solve_fixed::<7>(matrix, rhs),
        8 => solve_fixed::<8>(matrix, rhs),
        9 => solve_fixed::<9>(matrix, rhs),
        10 => solve_fixed::<10>(matrix, rhs),
        11 => solve_fixed::<11>(matrix, rhs),
        12 => solve_fixed::<12>(matrix, rhs),
        _ => solve_many(matrix, n, rhs),
    }
}

/// The same elimination, bit for bit, where the compiler knows the length of a row: whole rows are taken off one another,
/// what stands left of the pivot is never read again.
fn solve_fixed<const N: usize>(matrix: &mut [f64], rhs: &mut [f64]) -> bool {
    let (rows, _) = matrix.as_chunks_mut::<N>();
    let (Ok(rows), Ok(rhs)) = (<&mut [[f64; N]; N]>::try_from(rows), <&mut [f64; N]>::try_from(rhs)) else {
        return false;
    };
    for k in 0..N {
        let mut pivot_row = k;
        let mut largest = rows[k][k].abs();
        for row in k + 1..N {
            let size = rows[row][k].abs();
            if size > largest {
                largest = size;
                pivot_row = row;
            }
        }
        if largest == 0.0 || !largest.is_finite() {
            return false;
        }
        rows.swap(k, pivot_row);
        rhs.swap(k, pivot_row);
        let (pivot_line, pivot_rhs) = (rows[k], rhs[k]);
        let inverse = 1.0 / pivot_line[k];
        for row in k + 1..N {
            let factor = rows[row][k] * inverse;
            if factor != 0.0 {
                for column in 0..N {
                    rows[row][column] -= factor * pivot_line[column];
                }
                rhs[row] -= factor * pivot_rhs;
            }
        }
    }
    let mut finite = true;
    for k in (0..N).rev() {
        let known: f64 = (k + 1..N).map(|column| rows[k][column] * rhs[column]).sum();
        rhs[k] = (rhs[k] - known) / rows[k][k];
        finite &= rhs[k].is_finite();
    }
    finite
}

fn solve_two(m: &mut [f64], rhs: &mut [f64]) -> bool {
    if m[2].abs() > m[0].abs() {
        m.swap(0, 2);
        m.swap(1, 3);
        rhs.swap(0, 1);
    }
    let factor = m[2] / m[0];
    let pivot = m[3] - factor * m[1];
    if m[0] == 0.0 || pivot == 0.0 {
        return false;
    }
    rhs[1] = (rhs[1] - factor * rhs[0]) / pivot;
    rhs[0] = (rhs[0] - m[1] * rhs[1]) / m[0];
    rhs[0].is_finite() && rhs[1].is_finite()
}

fn solve_many(matrix: &mut [f64], n: usize, rhs: &mut [f64]) -> bool {
    for k in 0..n {
        let mut pivot_row = k;
        let mut largest = matrix[k * n + k].abs();
        for row in k + 1..n {
            let size = matrix[row * n + k].abs();
            if size > largest {
                largest = size;
                pivot_row = row;
            }
        }
        if largest == 0.0 || !largest.is_finite() {
            return false;
        }
        let (above, below) = matrix.split_at_mut((k + 1) * n);
        let pivot_line = &mut above[k * n + k..];
        if pivot_row != k {
            let start = (pivot_row - k - 1) * n + k;
            pivot_line.swap_with_slice(&mut below[start..start + n - k]);
            rhs.swap(k, pivot_row);
        }
        let (inverse, tail) = (1.0 / pivot_line[0], &pivot_line[1..]);
        let pivot_rhs = rhs[k];
        for (line, value) in below.chunks_exact_mut(n).zip(&mut rhs[k + 1..]) {
            let factor = line[k] * inverse;
            if factor != 0.0 {
                for (entry, above) in line[k + 1..].iter_mut().zip(tail) {
                    *entry -= factor * above;
                }
                *value -= factor * pivot_rhs;
            }
        }
    }
    let mut finite = true;
    for k in (0..n).rev() {
        let line = &matrix[k * n + k..(k + 1) * n];
        let known: f64 = line[1..].iter().zip(&rhs[k + 1..]).map(|(a, x)| a * x).sum();
        rhs[k] = (rhs[k] - known) / line[0];
        finite &= rhs[k].is_finite();
    }
    finite
}

#[cfg(test)]
mod tests {
    use super::solve_in_place;

    /// Numbers without a pattern, the same in every run.
    fn scattered(count: usize, mut seed: u64) -> Vec<f64> {
        (0..count)
            .map(|_| {
                seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
                (seed >> 11) as f64 / (1u64 << 53) as f64 - 0.5
            })
            .collect()
    }

    #[test]
    fn solution_satisfies_the_equations_at_every_size() {
        for n in 1..=40 {
            let matrix = scattered(n * n, n as u64);
            let wanted = scattered(n, 1000 + n as u64);
            let rhs: Vec<f64> =
                matrix.chunks(n).map(|row| row.iter().zip(&wanted).map(|(a, x)| a * x).sum()).collect();
            let (mut work, mut x) = (matrix.clone(), rhs.clone());
            assert!(solve_in_place(&mut work, n, &mut x), "{n}");
            for (row, right) in matrix.chunks(n).zip(&rhs) {
                let left: f64 = row.iter().zip(&x).map(|(a, x)| a * x).sum();
                assert!((left - right).abs() < 1e-11, "{n}: {left} {right}");
            }
        }
    }

    #[test]
    fn rows_of_known_length_give_the_same_bits() {
        for n in 3..=12 {
            // some zeros, as networks have them
            let mut matrix = scattered(n * n, 77 + n as u64);
            matrix.iter_mut().filter(|entry| entry.abs() < 0.15).for_each(|entry| *entry = 0.0);
            (0..n).for_each(|k| matrix[k * n + k] += 0.3);
            let rhs = scattered(n, 7000 + n as u64);
            let (mut work, mut fixed) = (matrix.clone(), rhs.clone());
            assert!(solve_in_place(&mut work, n, &mut fixed));
            let (mut work, mut general) = (matrix, rhs);
            assert!(super::solve_many(&mut work, n, &mut general));
            assert_eq!(fixed, general, "{n}");
        }
    }

    #[test]
    fn zero_on_the_diagonal_is_only_a_matter_of_order() {
        let mut matrix = [0.0, 2.0, 0.0, 0.0, 0.0, 4.0, 5.0, 0.0, 0.0];
        let mut rhs = [6.0, 8.0, 5.0];
        assert!(solve_in_place(&mut matrix, 3, &mut rhs));
        assert_eq!(rhs, [1.0, 3.0, 2.0]);
        let (mut matrix, mut rhs) = ([0.0, 2.0, 4.0, 0.0], [2.0, 12.0]);
        assert!(solve_in_place(&mut matrix, 2, &mut rhs));
        assert_eq!(rhs, [3.0, 1.0]);
    }

    #[test]
    fn singular_is_said() {
        assert!(!solve_in_place(&mut [0.0], 1, &mut [1.0]));
        assert!(!solve_in_place(&mut [0.0], 1, &mut [0.0]));
        assert!(!solve_in_place(&mut [0.0; 4], 2, &mut [1.0, 1.0]));
        assert!(!solve_in_place(&mut [1.0, 2.0, 2.0, 4.0], 2, &mut [1.0, 1.0]));
        let mut rank_two = [1.0, 2.0, 3.0, 2.0, 4.0, 6.0, 1.0, 0.0, 1.0];
        assert!(!solve_in_place(&mut rank_two, 3, &mut [1.0, 2.0, 3.0]));
        let mut not_a_number = [1.0, f64::NAN, 0.0, 1.0, 1.0, 0.0, 0.0, 0.0, 1.0];
        assert!(!solve_in_place(&mut not_a_number, 3, &mut [1.0, 2.0, 3.0]));
    }

    #[test]
    fn sizes_that_do_not_match_are_refused() {
        assert!(!solve_in_place(&mut [1.0; 4], 3, &mut [1.0; 3]));
        assert!(!solve_in_place(&mut [1.0; 4], 2, &mut [1.0; 3]));
    }
}
