//! What instruments show as polynomials of the unknowns, from all that was looked at so far: a guide for where to look next,
//! never an answer.

use crate::numerics::cholesky;

/// Added to the diagonal, as a share of it: of what is straight, and of what is bent.
const RIDGE: (f64, f64) = (1e-7, 1e-4);

/// What is missed far out, in spreads of what is missed on the whole: where air turns round, temperatures have an edge that no
/// polynomial follows.
const TAILS: f64 = 2.0;

/// Somewhere that was looked at.
#[derive(Clone, Debug)]
pub struct LookedScores {
    pub scores: Vec<f64>,
    /// What was shown there, of the unknowns that are followed alone.
    pub shown: Vec<f64>,
    /// −ln of how likely it is there.
    pub loss: f64,
}

/// Polynomials of the unknowns, one for each reading.
///
/// ```text
///   y = c + b·x + x'ᵀ S x' + Σ q x'³,   x = (z − m)/w
/// ```
///
/// z the scores, m and w where they lie and how widely, x' the first of them.
#[derive(Clone, Debug)]
pub struct Emulator {
    /// The unknowns.
    places: Vec<usize>,
    /// How many of them are bent, from the first.
    bent: usize,
    middle: Vec<f64>,
    width: Vec<f64>,
    constant: Vec<f64>,
    straight: Vec<f64>,
    squares: Vec<f64>,
    cubes: Vec<f64>,
    /// Covariance of what the readings are missed by, as far as it matters to ways that must not stay away from anywhere.
    pub missed: Vec<f64>,
}

/// Room for a look.
#[derive(Clone, Debug, Default)]
pub struct EmulatorRoom {
    x: Vec<f64>,
    /// S x, reading by reading.
    turned: Vec<f64>,
}

/// How many features polynomials have of so many unknowns, of which so many are bent.
pub fn features(unknowns: usize, bent: usize) -> usize {
    1 + unknowns + bent + bent * (bent + 1) / 2
}

impl Emulator {
    /// Least squares through what was looked at, of which each counts so much; of the unknowns the first `bent` have squares,
    /// products and cubes. None where too little was looked at.
    pub fn of(looked: &[LookedScores], counts: &[f64], places: &[usize], bent: usize) -> Option<Emulator> {
        let size = looked.first()?.shown.len();
        let all: f64 = counts.iter().sum();
        let mean = |value: &dyn Fn(&LookedScores) -> f64| {
            looked.iter().zip(counts).map(|(one, weight)| weight * value(one)).sum::<f64>() / all
        };
        let middle: Vec<f64> = places.iter().map(|place| mean(&|one| one.scores[*place])).collect();
        let width: Vec<f64> = (places.iter().zip(&middle))
            .map(|(place, m)| mean(&|one| (one.scores[*place] - m).powi(2)).sqrt().max(1e-6))
            .collect();
        let d = places.len();
        let count = features(d, bent);
        if looked.len() < count + count / 2 {
            return None;
        }
        let mut matrix = vec![0.0; count * count];
        let mut right = vec![0.0; count * size];
        let mut row = vec![0.0; count];
        for (one, weight) in looked.iter().zip(counts) {
            row[0] = 1.0;
            for (k, place) in places.iter().enumerate() {
                row[1 + k] = (one.scores[*place] - middle[k]) / width[k];
            }
            let mut at = 1 + d;
            for i in 0..bent {
                let x = row[1 + i];
                row[at] = x * x * x;
                at += 1;
                for j in 0..=i {
                    row[at] = x * row[1 + j];
                    at += 1;
                }
            }
            for (i, x) in row.iter().enumerate() {
                let x = weight * x;
                matrix[i * count..][..=i].iter_mut().zip(&row).for_each(|(sum, y)| *sum += x * y);
                right[i * size..][..size].iter_mut().zip(&one.shown).for_each(|(sum, y)| *sum += x * y);
            }
        }
        for i in 0..count {
            matrix[i * count + i] *= 1.0 + if i <= d { RIDGE.0 } else { RIDGE.1 };
        }
        let factor = cholesky::factor(&matrix, count)?;
        let mut emulator = Emulator {
            places: places.to_vec(),
            bent,
            middle,
            width,
            constant: vec![0.0; size],
            straight: vec![0.0; size * d],
            squares: vec![0.0; size * bent * bent],
            cubes: vec![0.0; size * bent],
            missed: vec![0.0; size * size],
        };
        let mut column = vec![0.0; count];
        for reading in 0..size {
            (0..count).for_each(|i| column[i] = right[i * size + reading]);
            cholesky::solve(&factor, count, &mut column);
            emulator.constant[reading] = column[0];
            emulator.straight[reading * d..][..d].copy_from_slice(&column[1..=d]);
            let mut at = 1 + d;
            for i in 0..bent {
                emulator.cubes[reading * bent + i] = column[at];
                at += 1;
                for j in 0..=i {
                    let own = if i == j { column[at] } else { 0.5 * column[at] };
                    emulator.squares[(reading * bent + i) * bent + j] = own;
                    emulator.squares[(reading * bent + j) * bent + i] = own;
                    at += 1;
                }
            }
        }
        let (mut room, mut shown) = (EmulatorRoom::default(), vec![0.0; size]);
        for (one, weight) in looked.iter().zip(counts) {
            emulator.show(&one.scores, &mut room, &mut shown);
            shown.iter_mut().zip(&one.shown).for_each(|(about, shown)| *about -= shown);
            for (row, off) in emulator.missed.chunks_exact_mut(size).zip(&shown) {
                let weight = TAILS * TAILS * weight * off / all;
                row.iter_mut().zip(&shown).for_each(|(sum, other)| *sum += weight * other);
            }
        }
        Some(emulator)
    }

    /// What would be shown, about.
    pub fn show(&self, scores: &[f64], room: &mut EmulatorRoom, shown: &mut [f64]) {
        let (d, bent) = (self.places.len(), self.bent);
        room.x.clear();
        let each = self.places.iter().zip(self.middle.iter().zip(&self.width));
        room.x.extend(each.map(|(place, (middle, width))| (scores[*place] - middle) / width));
        room.turned.resize(self.constant.len() * bent, 0.0);
        let x = &room.x[..bent];
        for (reading, shown) in shown.iter_mut().enumerate() {
            let straight = &self.straight[reading * d..][..d];
            let mut sum = self.constant[reading] + dot(straight, &room.x);
            let turned = &mut room.turned[reading * bent..][..bent];
            let rows = self.squares[reading * bent * bent..][..bent * bent].chunks_exact(bent.max(1));
            for (turned, row) in turned.iter_mut().zip(rows) {
                *turned = dot(row, x);
            }
            let cubes = &self.cubes[reading * bent..][..bent];
            for ((x, turned), cube) in x.iter().zip(&*turned).zip(cubes) {
                sum += x * (turned + cube * x * x);
            }
            *shown = sum;
        }
    }

    /// Adds to a slope with the scores what the last look has there, each reading counting `pulls`.
    pub fn lean(&self, room: &EmulatorRoom, pulls: &[f64], slope: &mut [f64]) {
        let (d, bent) = (self.places.len(), self.bent);
        for (k, (place, width)) in self.places.iter().zip(&self.width).enumerate() {
            let mut sum = 0.0;
            for (reading, pull) in pulls.iter().enumerate() {
                let mut own = self.straight[reading * d + k];
                if k < bent {
                    let x = room.x[k];
                    own +=
                        2.0 * room.turned[reading * bent + k] + 3.0 * self.cubes[reading * bent + k] * x * x;
                }
                sum += pull * own;
            }
            slope[*place] += sum / width;
        }
    }
}

/// The sum of products, in four lanes.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (fours, others) = (a.chunks_exact(4), b.chunks_exact(4));
    let left: f64 = fours.remainder().iter().zip(others.remainder()).map(|(a, b)| a * b).sum();
    for (a, b) in fours.zip(others) {
        sums.iter_mut().zip(a.iter().zip(b)).for_each(|(sum, (a, b))| *sum += a * b);
    }
    sums[0] + sums[1] + sums[2] + sums[3] + left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::sobol::Sobol;

    #[test]
    fn a_polynomial_is_found_again_with_its_slopes() {
        let truth =
            |z: &[f64]| vec![1.0 + 2.0 * z[0] - z[2] * z[0] + 0.5 * z[2].powi(3) - z[1], 3.0 * z[2] * z[2]];
        let sobol = Sobol::new(3, 5);
        let looked: Vec<LookedScores> = (0..64)
            .map(|index| {
                let mut scores = vec![0.0; 3];
                sobol.point(index, &mut scores);
                let shown = truth(&scores);
                LookedScores { scores, shown, loss: 0.0 }
            })
            .collect();
        let counts = vec![1.0; 64];
        let emulator = Emulator::of(&looked, &counts, &[0, 2, 1], 2).expect("enough was looked at");
        let (mut room, mut shown) = (EmulatorRoom::default(), [0.0; 2]);
        for z in [[0.2, 0.9, 0.4], [0.7, 0.1, 0.8]] {
            emulator.show(&z, &mut room, &mut shown);
            let wanted = truth(&z);
            // Allowed: what the ridge draws to nought
            assert!(shown.iter().zip(&wanted).all(|(a, b)| (a - b).abs() < 1e-3), "{shown:?} {wanted:?}");
            let mut slope = [0.0; 3];
            emulator.lean(&room, &[1.0, 0.5], &mut slope);
            // by hand
            let by_hand = [2.0 - z[2], -1.0, -z[0] + 1.5 * z[2] * z[2] + 3.0 * z[2]];
            assert!(slope.iter().zip(&by_hand).all(|(a, b)| (a - b).abs() < 1e-2), "{slope:?} {by_hand:?}");
        }
        assert!(Emulator::of(&looked[..10], &counts[..10], &[0, 2, 1], 2).is_none());
    }
}
