//! Many cars side by side, a lane for each scramble: what each of them says.

use super::scramble::{SEED, Scramble};
use super::{Car, Guesses};
use crate::numerics::sobol::mix;
use crate::point::budget::Budget;
use rayon::prelude::*;

/// How many draws are made, and what they may take.
#[derive(Clone, Copy, Debug)]
pub struct DrawsWithin {
    pub draws: usize,
    pub within: Budget,
}

impl DrawsWithin {
    /// All that somebody asked for, whatever they take.
    pub fn asked(draws: usize) -> DrawsWithin {
        DrawsWithin { draws, within: Budget::of(u64::MAX) }
    }
}

/// What `say` has of every draw, lane by lane: it gets the car, whether the draw could be taken, and a seed of the draw's own.
/// The lanes are the same on any number of threads. A lane that has had its part of the budget ends there: draws without a
/// steady state take far longer than any that have one.
pub fn lanes<Row: Send>(
    car: &Car,
    guesses: &Guesses,
    scrambles: usize,
    wanted: DrawsWithin,
    say: impl Fn(&mut Car, bool, u64) -> Option<Row> + Sync,
) -> Vec<Vec<Row>> {
    let each = (wanted.draws / scrambles).max(1);
    let lane = |scramble: usize| -> Vec<Row> {
        let mut car = car.clone();
        let points = Scramble::new(guesses.dimensions, SEED, scramble);
        let mut point = vec![0.0; guesses.dimensions];
        let begun = car.work();
        let part = wanted.within.each_of(scrambles);
        let mut rows = Vec::with_capacity(each);
        for draw in 0..each {
            let taken = points.take(draw as u32, &mut point, |point| car.take(point)).0.is_ok();
            rows.extend(say(&mut car, taken, mix((draw * scrambles + scramble) as u64)));
            if !part.allows(car.work() - begun) {
                break;
            }
        }
        rows
    };
    (0..scrambles).into_par_iter().map(lane).collect()
}
