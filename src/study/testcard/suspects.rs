//! What moves a reading most: each guess taken to either end of its band by itself, the others as taken.

use super::drawn::Candidate;
use super::result::{Suspect, SuspectReads};
use crate::case::Case;
use crate::case::words::in_words;
use crate::draws::{Car, Guesses};
use crate::point::counted::Counted;
use crate::readings::drives::test_of;

/// Ends of a band, as shares of its distribution.
const ENDS: [f64; 2] = [0.05, 0.95];
/// So many are told, each that moves the reading at least so much of what the first does.
const MOST: usize = 3;
const WORTH: f64 = 0.25;

/// Of each of some candidates the guesses that move it most.
pub(super) fn suspects(
    case: &Case,
    guesses: &Guesses,
    runs: &[Counted],
    list: &[Candidate],
) -> Vec<Vec<Suspect>> {
    let none = || vec![Vec::new(); list.len()];
    let conditions = case.conditions.len();
    // the readings know their moments as they stand behind the conditions
    let mut moments: Vec<Counted> = (0..conditions).map(Counted::Condition).collect();
    moments.extend(runs);
    let Some(mut car) = Car::at(case, guesses, moments) else { return none() };
    let mut used: Vec<usize> = list.iter().map(|candidate| candidate.run.unwrap_or(0)).collect();
    used.sort_unstable();
    used.dedup();
    let mut point = guesses.taken_point();
    let look = |car: &mut Car, point: &[f64]| -> Option<Vec<f64>> {
        car.take(point).ok()?;
        let mut shown = vec![f64::NAN; list.len()];
        for run in &used {
            if !car.solve(conditions + run) {
                return None;
            }
            let own = list.iter().zip(&mut shown).filter(|(each, _)| each.run.unwrap_or(0) == *run);
            own.for_each(|(candidate, shown)| *shown = candidate.value(car));
        }
        Some(shown)
    };
    let mut moved: Vec<Vec<(usize, f64)>> = vec![Vec::new(); list.len()];
    for (place, guess) in guesses.list.iter().enumerate() {
        let taken = point[guess.dimension];
        let ends = ENDS.map(|end| {
            point[guess.dimension] = end;
            look(&mut car, &point)
        });
        point[guess.dimension] = taken;
        let [Some(low), Some(high)] = ends else { continue };
        for (moved, (low, high)) in moved.iter_mut().zip(low.iter().zip(&high)) {
            moved.push((place, high - low));
        }
    }
    let told = |mut moved: Vec<(usize, f64)>| {
        moved.retain(|(_, by)| by.is_finite() && *by != 0.0);
        moved.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
        let first = moved.first().map_or(0.0, |(_, by)| by.abs());
        let suspect = |(place, by): (usize, f64)| {
            let guess = &guesses.list[place];
            let address = case.numbers.fact(guess.numbers[0].0).address.clone();
            Suspect {
                words: match test_of(&address) {
                    // of the run in which it is read, and of no other
                    Some((_, key)) => format!("{key} really held"),
                    None if guess.numbers.len() > 1 => format!("{} (and the like)", in_words(&address)),
                    None => in_words(&address),
                },
                more: if by > 0.0 { SuspectReads::More } else { SuspectReads::Less },
                address,
                moves: by,
            }
        };
        moved.into_iter().take(MOST).filter(|(_, by)| by.abs() >= WORTH * first).map(suspect).collect()
    };
    moved.into_iter().map(told).collect()
}
