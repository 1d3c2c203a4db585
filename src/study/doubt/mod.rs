//! Doubt: what the answer would be with every guess drawn from its band.
//!
//! A band holds 9 in 10, whether the file states it or a default brings it: a normal distribution on each side of
//! the value taken ([`crate::numerics::two_piece`]), cut at what the number can be. One draw is one car, which all
//! conditions see.

mod effort;
pub mod left;
pub mod measure;
pub mod runs;
pub(in crate::study) mod sample;
pub mod shares;
mod speeds;
pub mod whole;
pub mod worth;

pub use measure::LeastOver;
pub use runs::{of_runs, work_of_runs};
pub use speeds::{of_sweep, of_worst, work_of_speeds};

use crate::case::Case;
use crate::draws::doubt::Doubt;
use crate::draws::{Guesses, TallyWanted, draws};
use crate::point::result::Condition;
use crate::point::{Model, budget};

/// Work of one draw, about, where all conditions of the case took so much.
pub fn work_of_a_draw(case: &Case, model: &Model, conditions: u64) -> u64 {
    // each begins from the solution with the values taken
    (budget::about(case, model) / 2).max(conditions / 3)
}

/// The doubt about the conditions of a case, written beside their margins; none where nothing is drawn.
pub fn of_conditions(
    case: &Case,
    conditions: &mut [Condition],
    wanted: TallyWanted,
    told: &(dyn Fn(f64) -> bool + Sync),
) -> Option<Doubt> {
    if conditions.is_empty() || case.parts.is_empty() {
        return None;
    }
    let guesses = Guesses::of(case);
    let tally = draws(case, &guesses, wanted, told)?;
    let doubt = Doubt::new(case, &guesses, &tally);
    doubt.write_beside(case, conditions, &tally);
    Some(doubt)
}
