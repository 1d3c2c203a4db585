//! What a case must hold to make sense.
//!
//! Reading has looked at every value alone; here they are held against one another. A value that
//! could not be read is left out of account: its fault is known already, and what follows from it
//! is no second one.

mod chambers;
mod conditions;
mod elements;
mod engine;
mod parts;
mod scales;
mod sizes;
mod tied;

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace};
use super::{Case, PassageTable};
use crate::element::Role;
use crate::keys::{Key, NumberId, Origin, SourceLocation, Values};

/// Adds the faults of meaning of a case, which may be half read.
pub fn check(case: &Case, faults: &mut Diagnostics) {
    let mut check = Checking { case, faults };
    check.engine();
    check.parts();
    check.passages();
    check.chambers();
    check.drive();
    check.conditions();
    check.sweep();
    check.stints();
    check.sizes();
}

/// Adds the faults of what a case ties together. A layout may lack some of it, so that only the case as written
/// is held to it.
pub fn check_ties(case: &Case, faults: &mut Diagnostics) {
    Checking { case, faults }.ties();
}

/// What is carried along while a case is checked.
struct Checking<'a> {
    case: &'a Case,
    faults: &'a mut Diagnostics,
}

impl Checking<'_> {
    fn fault(
        &mut self,
        code: &'static str,
        message: String,
        place: SourceLocation,
        way_out: impl Into<String>,
    ) {
        self.faults.push(Diagnostic::new(code, message, FaultPlace::from(place), way_out));
    }

    /// The number behind a key, canonical unit.
    fn number(&self, values: &Values, key: &Key) -> Option<f64> {
        self.case.view(values).number(key)
    }

    /// Where a number is written; where `values` says what `key` is, for one that is not.
    fn place_of_number(&self, id: NumberId, values: &Values, key: &Key) -> SourceLocation {
        match &self.case.numbers.fact(id).origin {
            Origin::Written(place) => place.clone(),
            Origin::Assumed(_) => values.place_of(key),
        }
    }

    /// Whether what is written behind a key could be read to the end.
    fn sound(&self, values: &Values, key: &Key) -> bool {
        if !values.written(key) {
            return true;
        }
        let (place, address) = (values.place_of(key), values.address_of(key));
        let beneath = |other: &str| {
            other == address || other.strip_prefix(&address).is_some_and(|rest| rest.starts_with('/'))
        };
        !self.faults.list().iter().any(|fault| match (&fault.place, &place) {
            (FaultPlace::Span(inner), SourceLocation::File(outer)) => {
                outer.start <= inner.start && inner.end <= outer.end
            }
            (FaultPlace::Override { address, .. } | FaultPlace::Address { address, .. }, _) => {
                beneath(address)
            }
            _ => false,
        })
    }
}

/// Whether the last element of a passage lets air out; none where that cannot be known.
fn ends_in_exit(passage: &PassageTable) -> Option<bool> {
    let last = passage.elements.len().checked_sub(1)?;
    passage.whole.then(|| passage.kind(last).is_some_and(|kind| kind.role == Role::Exit))
}
