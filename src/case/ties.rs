//! Which numbers of a case are guesses, and which of them hang together.

use crate::keys::{Fact, Origin};

/// Tables whose numbers say what the day or the driver does: their defaults are conventions, and only what the
/// file gives a band is a guess.
const OF_THE_DAY: &[&str] = &["day", "condition", "sweep", "stint"];
/// Tables that say what is wanted, not what is.
const WANTED: &[&str] = &["size", "layout"];

/// Whether a number is a guess about the car, or about the day where the file says so: it has a band, stated or
/// of its default.
pub fn is_drawn(fact: &Fact) -> bool {
    let table = fact.address.split('/').next().unwrap_or_default();
    let stated = matches!(fact.origin, Origin::Written(_));
    fact.band().is_some() && !WANTED.contains(&table) && (stated || !OF_THE_DAY.contains(&table))
}

/// Numbers joined into groups of one draw each, some of them the opposite way.
#[derive(Clone, Debug, Default)]
pub struct Ties {
    /// Of each number another of its group, and whether it lies the opposite way of that.
    up: Vec<(usize, bool)>,
}

impl Ties {
    /// Numbers of which none is tied.
    pub fn new(count: usize) -> Ties {
        Ties { up: (0..count).map(|index| (index, false)).collect() }
    }

    /// One number more, which is tied to none.
    pub fn add(&mut self) {
        self.up.push((self.up.len(), false));
    }

    /// The first of a number's group, and whether the number lies the opposite way of it.
    pub fn find(&self, mut index: usize) -> (usize, bool) {
        let mut turned = false;
        while self.up[index].0 != index {
            turned ^= self.up[index].1;
            index = self.up[index].0;
        }
        (index, turned)
    }

    /// Ties two numbers, the `opposite` way or not; false where they are tied the other way already.
    pub fn tie(&mut self, one: usize, other: usize, opposite: bool) -> bool {
        let ((a, a_turned), (b, b_turned)) = (self.find(one), self.find(other));
        let turned = a_turned ^ b_turned ^ opposite;
        if a == b {
            return !turned;
        }
        // the first in the file stays the first
        let (first, second) = (a.min(b), a.max(b));
        self.up[second] = (first, turned);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ties_carry_their_way_from_one_to_the_next() {
        let mut ties = Ties::new(6);
        assert!(ties.tie(4, 2, true));
        assert!(ties.tie(2, 5, true));
        assert!(ties.tie(1, 0, false));
        assert_eq!(ties.find(4).0, 2);
        assert_eq!(ties.find(4).1, ties.find(5).1);
        assert!(ties.tie(4, 5, false) && !ties.tie(4, 5, true));
        assert!(ties.tie(5, 0, true));
        assert_eq!(ties.find(2), (0, false));
        assert_eq!(ties.find(4), (0, true));
        assert_eq!(ties.find(3), (3, false));
    }
}
