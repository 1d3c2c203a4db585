//! What changed between two cases, as a result shows it.

use super::Difference;
use crate::keys::word::words;
use crate::point::result::{ConditionMargin, OpeningRole};
use crate::thermal::MarginIs;
use serde::Serialize;

words! {
    /// What the tables of a case name.
    pub enum NamedThing {
        Part = "part",
        Condition = "condition",
        Passage = "passage",
        Chamber = "chamber",
    }
}

words! {
    /// What becomes of an opening.
    pub enum OpeningFate {
        Stays = "stays",
        MustGrow = "must grow",
        MustShrink = "must shrink",
        /// It will not do, and sizing gives no answer.
        NotEnough = "not enough",
        Gone = "gone",
    }
}

/// What changed from one case to another.
#[derive(Clone, Debug, Serialize)]
pub struct Changes {
    /// Addresses on which the two differ.
    pub differs: Vec<Difference>,
    /// What only one of them has.
    pub unmatched: Vec<Unmatched>,
    /// Margins of every part and condition that both have, the largest move first.
    pub margins: Vec<MarginMoved>,
    /// What becomes of each opening of the older case.
    pub openings: Vec<Fate>,
    /// What could not be told, and why.
    pub trouble: Vec<String>,
}

/// A part, condition, passage or chamber that only one of two cases has.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Unmatched {
    /// What it is.
    pub what: NamedThing,
    pub name: String,
    /// Whether it is the newer case that has it.
    pub added: bool,
}

/// How a margin moved.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct MarginMoved {
    pub part: String,
    pub condition: String,
    /// Limit less temperature before.
    pub temperature_margin_before_K: f64,
    /// Limit less temperature now.
    pub temperature_margin_after_K: f64,
    /// By how much it moved; below zero it shrank.
    pub moved_K: f64,
    /// Air over what is needed before.
    pub flow_margin_before: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_was: MarginIs,
    /// Air over what is needed now.
    pub flow_margin_after: Option<f64>,
    /// "value", "unlimited" or "impossible".
    pub margin_is: MarginIs,
    /// By which addresses: each table put into the older case on its own, the largest move first.
    pub because: Vec<TableMover>,
    /// What none of them moves on its own, but all of them together.
    pub together_K: f64,
}

/// A table whose change moves a margin.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct TableMover {
    /// The table, or tables that only make sense together: "place/tail left".
    pub table: String,
    /// Its addresses that differ.
    pub addresses: Vec<String>,
    /// By how much it moves the margin on its own.
    pub moved_K: f64,
}

/// What becomes of an opening of the older case.
#[derive(Clone, Debug, Serialize)]
pub struct Fate {
    pub passage: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many there are in the whole car.
    pub pieces: f64,
    /// Area of one in the older case.
    pub before_m2: f64,
    /// Area of one as the newer case draws it.
    pub drawn_m2: Option<f64>,
    /// Area of one when the newer case is sized anew; null where it is not free.
    pub sized_m2: Option<f64>,
    /// What becomes of it.
    pub fate: OpeningFate,
    /// Margins that hang on it and are missed with the old openings.
    pub missed: Vec<ConditionMargin>,
}
