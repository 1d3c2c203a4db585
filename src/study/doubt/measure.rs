//! What the guesses are ranked by: the least margin among those that are in doubt.

use crate::case::Case;
use crate::keys::word::words;
use crate::point::result::Condition;
use serde::Serialize;

words! {
    /// Which margins guesses and readings are asked about.
    pub enum MarginsAsked {
        /// Those that may hold or not.
        InDoubt = "in doubt",
        /// Nothing is in doubt.
        All = "all",
    }
}

/// A part holds for sure, or does not, beyond these shares of the draws.
const IN_DOUBT: (f64, f64) = (0.05, 0.95);

/// A part in a condition.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AskedMargin {
    pub condition: String,
    pub part: String,
}

/// The margins of which the least is looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct LeastOver {
    /// Conditions and parts, by their places in the case, in order.
    pub places: Vec<(usize, usize)>,
    /// Whether they are those that may hold or not, and not all there are.
    pub in_doubt: bool,
    /// What is over its limit in more than 19 of 20 draws whatever the guesses are.
    pub lost: Vec<(usize, usize)>,
}

impl LeastOver {
    /// Which margins they are.
    pub fn asked(&self) -> MarginsAsked {
        if self.in_doubt { MarginsAsked::InDoubt } else { MarginsAsked::All }
    }

    /// Every part in every condition.
    pub fn all(case: &Case) -> LeastOver {
        let parts = case.parts.len();
        let places = (0..case.conditions.len() * parts).map(|place| (place / parts, place % parts));
        LeastOver { places: places.collect(), in_doubt: false, lost: Vec::new() }
    }

    /// The parts that hold in some draws and not in others, of conditions with their likelihood: what they turn out
    /// to be decides whether all holds, as far as measuring can tell. Where one is lost whatever the guesses are, it
    /// would hide the others, and no gauge saves it; where nothing is in doubt, everything counts.
    pub fn of(case: &Case, conditions: &[Condition]) -> LeastOver {
        let solved = conditions.iter().flat_map(|condition| {
            let index = case.condition(&condition.name);
            let parts = condition.parts.iter().enumerate();
            parts.filter_map(move |(part, solved)| Some(((index?, part), solved.likelihood?)))
        });
        LeastOver::by_likelihood(case, solved)
    }

    /// The same from conditions and parts by their places, and how likely each holds.
    pub fn by_likelihood(case: &Case, likely: impl Iterator<Item = ((usize, usize), f64)>) -> LeastOver {
        let mut found = LeastOver { places: Vec::new(), in_doubt: true, lost: Vec::new() };
        for (place, share) in likely {
            if share < IN_DOUBT.0 {
                found.lost.push(place);
            } else if share <= IN_DOUBT.1 {
                found.places.push(place);
            }
        }
        if found.places.is_empty() { LeastOver { lost: found.lost, ..LeastOver::all(case) } } else { found }
    }

    /// The conditions that are looked at, in order.
    pub fn conditions(&self) -> Vec<usize> {
        let mut all: Vec<usize> = self.places.iter().map(|(condition, _)| *condition).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Places by name.
    pub fn named(case: &Case, places: &[(usize, usize)]) -> Vec<AskedMargin> {
        let one = |(condition, part): &(usize, usize)| AskedMargin {
            condition: case.conditions[*condition].name.clone(),
            part: case.parts[*part].name.clone(),
        };
        places.iter().map(one).collect()
    }
}
