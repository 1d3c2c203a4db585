//! Many cars side by side, a lane for each scramble: what each of them says.

use super::scramble::{SEED, Scramble};
use super::{Car, Guesses};
use crate::numerics::sobol::mix;
use rayon::prelude::*;

/// What `say` has of every draw, lane by lane: it gets the car, whether the draw could be taken, and a seed of the draw's own.
/// The lanes are the same on any number of threads.
pub fn lanes<Row: Send>(
    car: &Car,
    guesses: &Guesses,
    (scrambles, draws): (usize, usize),
    say: impl Fn(&mut Car, bool, u64) -> Option<Row> + Sync,
) -> Vec<Vec<Row>> {
    let each = (draws / scrambles).max(1);
    let lane = |scramble: usize| -> Vec<Row> {
        let mut car = car.clone();
        let points = Scramble::new(guesses.dimensions, SEED, scramble);
        let mut point = vec![0.0; guesses.dimensions];
        let row = |draw: usize| {
            let taken = points.take(draw as u32, &mut point, |point| car.take(point)).0.is_ok();
            say(&mut car, taken, mix((draw * scrambles + scramble) as u64))
        };
        (0..each).filter_map(row).collect()
    };
    (0..scrambles).into_par_iter().map(lane).collect()
}
