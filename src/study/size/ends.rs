//! Where searches end: which end is better than another, and which are the same.

use super::MET;
use crate::numerics::constrained::{Evaluation, Minimum};

/// Distance (in the logarithm of an area) below which two sets of sizes are one.
const SAME: f64 = 0.02;
/// Drags that differ by less than this share are alike when ends are compared.
pub(super) const LIKE: f64 = 1e-5;

/// Whether one end is better than another.
pub(super) fn better(a: &Evaluation, b: &Evaluation) -> bool {
    let (va, vb) = (a.violation(), b.violation());
    if va <= MET && vb <= MET { a.objective < b.objective } else { va < vb }
}

/// Whether another set costs the same drag with no opening clearly smaller: nothing to be told of.
pub(super) fn only_larger(best: &Minimum, end: &Minimum) -> bool {
    let alike = (end.value.objective - best.value.objective).abs() <= LIKE * best.value.objective.abs();
    alike && best.point.iter().zip(&end.point).all(|(best, end)| *end > best - 0.05)
}

/// How far two sets of sizes lie apart, in the logarithm of an area.
pub(super) fn apart(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).fold(0.0, |most, (a, b)| most.max((a - b).abs()))
}

pub(super) fn feasible(outcome: &Minimum) -> bool {
    outcome.value.violation() <= MET
}

/// The best first.
pub(super) fn sort(pool: &mut [Minimum]) {
    pool.sort_by(|a, b| match (better(&a.value, &b.value), better(&b.value, &a.value)) {
        (true, _) => std::cmp::Ordering::Less,
        (_, true) => std::cmp::Ordering::Greater,
        _ => std::cmp::Ordering::Equal,
    });
}

/// Keeps one of those that are the same.
pub(super) fn thin(pool: &mut Vec<Minimum>) {
    let mut kept: Vec<Minimum> = Vec::new();
    for end in pool.drain(..) {
        if !kept.iter().any(|other| apart(&other.point, &end.point) < SAME) {
            kept.push(end);
        }
    }
    *pool = kept;
}
