//! How long an operating point may be held before a part passes its limit.

use super::march::March;
use super::standing::pursue;
use super::watch::LapWatch;
use crate::point::model::Model;
use crate::point::operation::Operation;

/// Seconds until a part passes its working limit where the parts begin at `from` (K) and the operating point is held
/// without end; none where a part has no heat capacity, where it is over from the start, where the limit is not
/// reached within an hour, or where some moment on the way has no solution.
pub fn seconds_to_limit(model: &Model, from: &[f64], operation: &Operation, part: usize) -> Option<f64> {
    let parts = &model.network.parts;
    if parts.iter().any(|law| law.heat_capacity.is_none()) || from.get(part)? >= &parts.get(part)?.limit {
        return None;
    }
    let mut march = March::new(model, from.to_vec());
    let mut operation = operation.clone();
    let mut watch = LapWatch::new(model, &[], false);
    march.turn_to(&operation).ok()?;
    watch.begin(0, 0.0, &march.temperature, &march.solver);
    pursue(&mut march, &mut operation, &mut watch).ok()?;
    watch.parts.get(part)?.first_over
}
