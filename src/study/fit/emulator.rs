//! What instruments show as polynomials of the unknowns, from all that chains have looked at so far: a guide for where to
//! look next, never an answer.

use crate::numerics::cholesky;

/// Added to the diagonal, as a share of it.
const RIDGE: f64 = 1e-7;

/// Polynomials of degree two, with cubes of each unknown, one for each reading.
#[derive(Clone, Debug)]
pub struct Emulator {
    /// The unknowns.
    places: Vec<usize>,
    /// Where they lie, and how widely.
    middle: Vec<f64>,
    width: Vec<f64>,
    /// Coefficients, reading by reading.
    coefficients: Vec<f64>,
    size: usize,
}

impl Emulator {
    /// Least squares through what was looked at: scores, and what was shown there.
    pub fn of(looked: &[(Vec<f64>, Vec<f64>)], places: &[usize]) -> Option<Emulator> {
        let size = looked.first()?.1.len();
        let n = looked.len() as f64;
        let middle: Vec<f64> =
            places.iter().map(|place| looked.iter().map(|(z, _)| z[*place]).sum::<f64>() / n).collect();
        let width: Vec<f64> = (places.iter().zip(&middle))
            .map(|(place, m)| {
                (looked.iter().map(|(z, _)| (z[*place] - m).powi(2)).sum::<f64>() / n).sqrt().max(1e-6)
            })
            .collect();
        let mut emulator =
            Emulator { places: places.to_vec(), middle, width, coefficients: Vec::new(), size };
        let count = emulator.features();
        if looked.len() < 2 * count {
            return None;
        }
        let mut matrix = vec![0.0; count * count];
        let mut right = vec![0.0; count * size];
        let mut row = vec![0.0; count];
        for (scores, shown) in looked {
            emulator.write(scores, &mut row);
            for (i, x) in row.iter().enumerate() {
                matrix[i * count..][..=i].iter_mut().zip(&row).for_each(|(sum, y)| *sum += x * y);
                right[i * size..][..size].iter_mut().zip(shown).for_each(|(sum, y)| *sum += x * y);
            }
        }
        for i in 0..count {
            matrix[i * count + i] *= 1.0 + RIDGE;
        }
        let factor = cholesky::factor(&matrix, count)?;
        let mut column = vec![0.0; count];
        emulator.coefficients = vec![0.0; size * count];
        for reading in 0..size {
            (0..count).for_each(|i| column[i] = right[i * size + reading]);
            cholesky::solve(&factor, count, &mut column);
            emulator.coefficients[reading * count..][..count].copy_from_slice(&column);
        }
        Some(emulator)
    }

    fn features(&self) -> usize {
        let d = self.places.len();
        1 + 2 * d + d * (d + 1) / 2
    }

    fn write(&self, scores: &[f64], row: &mut [f64]) {
        let d = self.places.len();
        row[0] = 1.0;
        for (k, place) in self.places.iter().enumerate() {
            row[1 + k] = (scores[*place] - self.middle[k]) / self.width[k];
        }
        let mut at = 1 + d;
        for i in 0..d {
            let x = row[1 + i];
            row[at] = x * x * x;
            at += 1;
            for j in 0..=i {
                row[at] = x * row[1 + j];
                at += 1;
            }
        }
    }

    /// What would be shown, about; `row` is room for the features.
    pub fn show(&self, scores: &[f64], row: &mut Vec<f64>, shown: &mut [f64]) {
        let count = self.features();
        row.resize(count, 0.0);
        self.write(scores, row);
        for (shown, coefficients) in
            shown.iter_mut().zip(self.coefficients.chunks_exact(count)).take(self.size)
        {
            *shown = coefficients.iter().zip(&*row).map(|(c, x)| c * x).sum();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::sobol::Sobol;

    #[test]
    fn a_polynomial_is_found_again() {
        let truth = |z: &[f64]| vec![1.0 + 2.0 * z[0] - z[2] * z[0] + 0.5 * z[2].powi(3), 3.0 * z[2] * z[2]];
        let sobol = Sobol::new(3, 5);
        let looked: Vec<(Vec<f64>, Vec<f64>)> = (0..64)
            .map(|index| {
                let mut z = vec![0.0; 3];
                sobol.point(index, &mut z);
                let shown = truth(&z);
                (z, shown)
            })
            .collect();
        let emulator = Emulator::of(&looked, &[0, 2]).expect("enough was looked at");
        let (mut row, mut shown) = (Vec::new(), [0.0; 2]);
        for z in [[0.2, 0.9, 0.4], [0.7, 0.1, 0.8]] {
            emulator.show(&z, &mut row, &mut shown);
            let wanted = truth(&z);
            assert!(shown.iter().zip(&wanted).all(|(a, b)| (a - b).abs() < 1e-4), "{shown:?} {wanted:?}");
        }
        assert!(Emulator::of(&looked[..10], &[0, 2]).is_none());
    }
}
