//! What a case must hold to make sense.

/// Checks it.
pub fn check(_case: &super::Case, _faults: &mut super::Diagnostics) {}
