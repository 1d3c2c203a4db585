//! How long temperatures take to stand.

use super::march::March;
use crate::point::{Model, Operation};

/// So many time constants until a reading stands: 5 % of the way are then left.
const CONSTANTS: f64 = 3.0;

/// How long temperatures take to stand in a steady moment (s): three times the longest time constant of a part with a
/// limit; none where the case does not say what its parts store.
pub(in crate::study) fn settles(model: &Model, operation: &Operation) -> Option<f64> {
    let parts = &model.network.parts;
    if parts.iter().any(|part| part.heat_capacity.is_none()) {
        return None;
    }
    let steady = March::steady(model, operation, None).ok()?;
    let steady = (0..model.network.parts.len()).map(|part| steady.part_temperature(part)).collect();
    let constants = March::new(model, steady).time_constants(operation).ok()?;
    let longest = constants.iter().zip(parts).filter(|(_, part)| part.has_limit());
    longest
        .map(|(constant, _)| *constant)
        .collect::<Option<Vec<f64>>>()?
        .into_iter()
        .reduce(f64::max)
        .map(|longest| CONSTANTS * longest)
}
