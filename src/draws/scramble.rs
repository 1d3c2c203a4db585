//! One scramble of the points of the draws, and the points taken instead where a draw is no car.

use super::car::NoCar;
use crate::numerics::sobol::{Sobol, mix};
use std::sync::OnceLock;

/// Seed of the points where no other is asked for: every study looks at the same cars.
pub const SEED: u64 = 1;
/// So often another point is taken for a draw that is no car.
const AGAIN: usize = 8;

/// The points of one scramble.
pub struct Scramble {
    seed: u64,
    number: usize,
    first: Sobol,
    /// Scrambles of the points taken instead, made once they are needed.
    again: [OnceLock<Sobol>; AGAIN],
}

impl Scramble {
    /// The scramble of a number.
    pub fn new(dimensions: usize, seed: u64, number: usize) -> Scramble {
        let first = Sobol::new(dimensions, seed_of(seed, number, 0));
        Scramble { seed, number, first, again: [const { OnceLock::new() }; AGAIN] }
    }

    /// Where a draw has every guess, 0 to 1.
    pub fn point(&self, draw: u32, point: &mut [f64]) {
        self.first.point(draw, point);
    }

    /// Takes a draw's point, or the first of those instead that is a car. Gives what came of it, and how many were left
    /// out; `point` then holds the last one tried.
    pub fn take<T>(
        &self,
        draw: u32,
        point: &mut [f64],
        mut take: impl FnMut(&[f64]) -> Result<T, NoCar>,
    ) -> (Result<T, NoCar>, usize) {
        self.first.point(draw, point);
        let mut taken = take(point);
        let mut left_out = 0;
        for again in &self.again {
            if taken.is_ok() {
                break;
            }
            left_out += 1;
            let seed = seed_of(self.seed, self.number, left_out as u64);
            again.get_or_init(|| Sobol::new(self.first.dimensions(), seed)).point(draw, point);
            taken = take(point);
        }
        (taken, left_out)
    }
}

/// The seed of one scramble; `attempt` counts points taken again.
pub fn seed_of(seed: u64, scramble: usize, attempt: u64) -> u64 {
    mix(seed ^ mix(scramble as u64 ^ attempt << 32))
}
