//! Work that a study may take, counted and not timed, so that answers do not depend on the machine.
//!
//! The unit is a visit of an element by the solver: some 30 ns of one core of a common machine (2020s). A
//! study that shares its work among threads gives each task a part of its own, known before it begins, so
//! that what is left out does not depend on which thread comes first.

use crate::case::{Case, Warning};

/// What each study may take, in seconds of one core of a common machine. What one command runs adds up to less
/// than five.
pub mod seconds {
    /// All conditions of a case.
    pub const CHECK: f64 = 0.8;
    /// What leaks and hot air would cost that nobody wrote down.
    pub const OFFERS: f64 = 0.4;
    /// Draws of the guesses, where no number of them is asked for.
    pub const DOUBT: f64 = 1.5;
    /// What each guess is worth.
    pub const SHARES: f64 = 2.0;
    /// Where ram pushes more than a fan.
    pub const RAM_OVER_FAN: f64 = 0.2;
    /// Inlets further off the skin.
    pub const STAND_OFF: f64 = 0.3;
    /// The dearest sudden changes, and what would help.
    pub const SUDDEN: f64 = 0.3;
    /// What to do next.
    pub const NEXT: f64 = 0.4;
    /// The worst point of each part.
    pub const EVERYWHERE: f64 = 2.6;
    /// The sweep between the conditions, beside an answer about these.
    pub const BETWEEN: f64 = 0.3;
    /// Margin against speed.
    pub const SWEEP: f64 = 1.0;
    /// Sizes of the free openings, and what holds them.
    pub const SIZE: f64 = 1.6;
    /// What can be cut first, and what holds.
    pub const HOLDS: f64 = 1.9;
    /// Draws of the guesses at the sizes found.
    pub const DOUBT_OF_SIZES: f64 = 0.5;
    /// The trade behind an exit size.
    pub const EXITS: f64 = 1.8;
    /// Draws of the guesses at each exit size that has a name.
    pub const EXITS_DRAWN: f64 = 0.3;
    /// What decides one part: larger elements, and every number.
    pub const WHY: f64 = 1.8;
    /// Layouts side by side, all of them together.
    pub const COMPARE: f64 = 2.2;
    /// Layouts side by side on the same draws of the guesses.
    pub const CHANCES: f64 = 1.2;
    /// What changed since an older case.
    pub const CHANGES: f64 = 3.0;
    /// Draws of the guesses in runs in time.
    pub const LAP_DRAWS: f64 = 0.8;
    /// Draws of the guesses from line to line of the cut.
    pub const STEPS: f64 = 2.4;
    /// Draws behind the choice of a test card.
    pub const CARD: f64 = 1.0;
    /// What each reading of a card should show.
    pub const EXPECTED: f64 = 0.5;
    /// Cells of the tape card, and their bands.
    pub const TAPE: f64 = 3.0;
    /// Runs in time without recorded runs.
    pub const LAP: f64 = 3.0;
}

/// Visits of an element in about a second of one core.
const SECOND: f64 = 2.5e7;
/// Visits that take as long as making the laws of one element.
const LAW: u64 = 30;

/// Work that may still be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Budget {
    left: u64,
}

impl Budget {
    /// What takes so many seconds of one core of a common machine.
    pub fn seconds(seconds: f64) -> Budget {
        Budget { left: (seconds * SECOND) as u64 }
    }

    /// So many visits.
    pub fn of(visits: u64) -> Budget {
        Budget { left: visits }
    }

    /// Visits that are left.
    pub fn left(&self) -> u64 {
        self.left
    }

    /// A share of what is left, 0 to 1.
    pub fn share(&self, share: f64) -> Budget {
        Budget { left: (self.left as f64 * share) as u64 }
    }

    /// Twice what is left: what work whose cost was guessed may take at most.
    pub fn twice(&self) -> Budget {
        Budget { left: self.left.saturating_mul(2) }
    }

    /// What each of so many tasks may do.
    pub fn each_of(&self, tasks: usize) -> Budget {
        Budget { left: self.left / tasks.max(1) as u64 }
    }

    /// Takes off work that was done.
    pub fn spend(&mut self, work: u64) {
        self.left = self.left.saturating_sub(work);
    }

    /// The work that was done when only `rest` was left.
    pub fn spent_of(&self, rest: &Budget) -> u64 {
        self.left.saturating_sub(rest.left)
    }

    /// Whether nothing is left.
    pub fn is_spent(&self) -> bool {
        self.left == 0
    }

    /// Whether so much work was within it.
    pub fn allows(&self, work: u64) -> bool {
        work <= self.left
    }

    /// How often a task of so much work may be done.
    pub fn times(&self, work: u64) -> usize {
        (self.left / work.max(1)) as usize
    }
}

/// Code of the warning that something was left out.
pub const LEFT_OUT: &str = "left-out";

/// Code of the warning that work was stopped by hand.
pub const STOPPED: &str = "stopped-by-hand";

/// The warning that something was left out since the work would have been too much.
pub fn left_out(what: impl Into<String>) -> Warning {
    Warning {
        code: LEFT_OUT,
        message: format!("the case is so large that the run stopped at its budget: {}", what.into()),
        place: None,
    }
}

/// Work of one look at all conditions of a case, about; where it is far more, a look tells.
pub fn about(case: &Case, model: &super::model::Model) -> u64 {
    let elements = model.network.laws.len() as u64;
    let size = (2 * model.network.chambers.len() + model.network.parts.len()) as u64;
    let step = 2 * elements + size * size * size / 100;
    making(case) + case.conditions.len() as u64 * (reading(case) + STEPS * step)
}

/// Work of a solution that begins at one beside it, about.
pub fn beside(case: &Case, model: &super::model::Model) -> u64 {
    let elements = model.network.laws.len() as u64;
    let size = (2 * model.network.chambers.len() + model.network.parts.len()) as u64;
    reading(case) + BESIDE * (2 * elements + size * size * size / 100)
}

/// Steps of a solution begun anew, about.
const STEPS: u64 = 8;
/// Steps of one that begins beside another.
const BESIDE: u64 = 3;

/// Work of taking up a moment and reading off its margins, beside the solution itself.
pub fn reading(case: &Case) -> u64 {
    let elements: u64 = case.passages.iter().map(|passage| passage.elements.len() as u64).sum();
    20 + 2 * elements
}

/// Work of making a case ready once.
pub fn making(case: &Case) -> u64 {
    LAW * case.passages.iter().map(|passage| passage.elements.len() as u64 + 1).sum::<u64>()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_is_taken_off_and_shared() {
        let mut budget = Budget::seconds(2.0);
        let half = budget.each_of(2);
        assert_eq!(half, Budget::seconds(1.0));
        budget.spend(3 * SECOND as u64 / 2);
        assert_eq!(budget, Budget::seconds(0.5));
        assert!(budget.allows(SECOND as u64 / 2) && !budget.allows(SECOND as u64));
        budget.spend(u64::MAX);
        assert!(budget.is_spent() && budget.times(1) == 0);
    }
}
