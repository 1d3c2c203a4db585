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
        _ => solve_many(matrix, n, rhs),
    }
}

/// Solves A x = b as [`solve_in_place`] does, on the diagonal as it stands: no row is exchanged, and which comes next
/// does not hang on the numbers.
///
/// For systems whose diagonal leads, as those of a network of resistances do, and where the one who asks notices a
/// poor answer and has another way. `false` as there, and where a pivot is no more than a 1e-9th of the entry that stood on
/// the diagonal: then `matrix` and `rhs` are worth nothing.
///
/// Source: as there, without row exchanges.
pub fn solve_on_diagonal(matrix: &mut [f64], n: usize, rhs: &mut [f64]) -> bool {
    if matrix.len() != n * n || rhs.len() != n {
        return false;
    }
    match n {
        3 => on_diagonal::<3>(matrix, rhs),
        4 => on_diagonal::<4>(matrix, rhs),
        5 => on_diagonal::<5>(matrix, rhs),
        6 => on_diagonal::<6>(matrix, rhs),
        7 => on_diagonal::<7>(matrix, rhs),
        8 => on_diagonal::<8>(matrix, rhs),
        9 => on_diagonal::<9>(matrix, rhs),
        10 => on_diagonal::<10>(matrix, rhs),
        11 => on_diagonal::<11>(matrix, rhs),
        12 => on_diagonal::<12>(matrix, rhs),
        _ => solve_in_place(matrix, n, rhs),
    }
}

/// The sign of the determinant of A, by elimination with partial pivoting; none where it is singular. `matrix` is used up.
pub fn determinant_sign(matrix: &mut [f64], n: usize) -> Option<f64> {
    let mut sign = 1.0;
    for column in 0..n {
        let size = |row: &usize| matrix[row * n + column].abs();
        let pivot = (column..n).max_by(|a, b| size(a).total_cmp(&size(b)))?;
        let value = matrix[pivot * n + column];
        if value == 0.0 || !value.is_finite() {
            return None;
        }
        if pivot != column {
            (0..n).for_each(|k| matrix.swap(pivot * n + k, column * n + k));
            sign = -sign;
        }
        sign *= value.signum();
        for row in column + 1..n {
            let factor = matrix[row * n + column] / value;
            (column..n).for_each(|k| matrix[row * n + k] -= factor * matrix[column * n + k]);
        }
    }
    Some(sign)
}

/// A pivot is no pivot where so little is left of the entry on the diagonal.
const LEFT: f64 = 1e-9;

/// Rows of a length that the compiler knows: whole rows are taken off one another, since what stands left of the pivot is
/// never read again.
fn on_diagonal<const N: usize>(matrix: &mut [f64], rhs: &mut [f64]) -> bool {
    let (rows, _) = matrix.as_chunks_mut::<N>();
    let (Ok(rows), Ok(rhs)) = (<&mut [[f64; N]; N]>::try_from(rows), <&mut [f64; N]>::try_from(rhs)) else {
        return false;
    };
    let least: [f64; N] = std::array::from_fn(|k| LEFT * rows[k][k].abs());
    let mut sound = true;
    let mut inverses = [0.0; N];
    for k in 0..N {
        let (above, below) = rows.split_at_mut(k + 1);
        let (pivot_line, pivot_rhs) = (&above[k], rhs[k]);
        sound &= pivot_line[k].abs() > least[k];
        let inverse = 1.0 / pivot_line[k];
        inverses[k] = inverse;
        for (line, value) in below.iter_mut().zip(&mut rhs[k + 1..]) {
            let factor = line[k] * inverse;
            if factor != 0.0 {
                for (entry, above) in line.iter_mut().zip(pivot_line) {
                    *entry -= factor * above;
                }
                *value -= factor * pivot_rhs;
            }
        }
    }
    for k in (0..N).rev() {
        let known: f64 = (k + 1..N).map(|column| rows[k][column] * rhs[column]).sum();
        rhs[k] = (rhs[k] - known) * inverses[k];
        sound &= rhs[k].is_finite();
    }
    sound
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
    use super::{determinant_sign, solve_in_place, solve_on_diagonal};

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
    fn the_sign_of_a_determinant_turns_with_rows_and_signs() {
        // det = −2; rows exchanged; a row's sign turned; a row that is the sum of the others
        let sign = |rows: [[f64; 3]; 3]| determinant_sign(&mut rows.concat(), 3);
        let (a, b, c) = ([1.0, 2.0, 0.0], [3.0, 4.0, 0.0], [5.0, 6.0, 1.0]);
        assert_eq!(sign([a, b, c]), Some(-1.0));
        assert_eq!(sign([b, a, c]), Some(1.0));
        assert_eq!(sign([a, b, c.map(|x| -x)]), Some(1.0));
        assert_eq!(sign([a, a, c]), None);
        assert_eq!(determinant_sign(&mut [], 0), Some(1.0));
    }

    #[test]
    fn a_leading_diagonal_needs_no_exchange() {
        for n in 1..=14 {
            // some zeros, as networks have them, and rows of very different size
            let mut matrix = scattered(n * n, 77 + n as u64);
            matrix.iter_mut().filter(|entry| entry.abs() < 0.15).for_each(|entry| *entry = 0.0);
            for (k, row) in matrix.chunks_mut(n).enumerate() {
                row[k] += 0.6 * n as f64;
                row.iter_mut().for_each(|entry| *entry *= 10.0_f64.powi(k as i32 % 7 - 3));
            }
            let rhs = scattered(n, 7000 + n as u64);
            let (mut work, mut quick) = (matrix.clone(), rhs.clone());
            assert!(solve_on_diagonal(&mut work, n, &mut quick), "{n}");
            let (mut work, mut exchanged) = (matrix, rhs);
            assert!(solve_in_place(&mut work, n, &mut exchanged));
            for (quick, exchanged) in quick.iter().zip(&exchanged) {
                assert!((quick - exchanged).abs() <= 1e-12 * exchanged.abs(), "{n}: {quick} {exchanged}");
            }
        }
    }

    #[test]
    fn a_lost_pivot_is_told() {
        // the second pivot is what rounding leaves of it
        let mut matrix = vec![1.0, 1.0, 2.0, 1.0, 1.0 + 1e-13, 1.0, 3.0, 1.0, 1.0];
        assert!(!solve_on_diagonal(&mut matrix, 3, &mut [1.0, 2.0, 3.0]));
        let mut matrix = vec![0.0, 1.0, 2.0, 1.0, 0.0, 1.0, 3.0, 1.0, 0.0];
        assert!(!solve_on_diagonal(&mut matrix, 3, &mut [1.0, 2.0, 3.0]));
        assert!(!solve_on_diagonal(&mut [1.0; 9], 4, &mut [1.0; 4]));
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
