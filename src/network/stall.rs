//! Air that all but stands at a turning fan.
//!
//! Where a passage's flow goes through zero every loss vanishes and every push of the stream stays, but
//! a fan pushes in proportion to the density of the air that reaches it: perhaps hot from one end, cold
//! from the other. Where the push is the weaker with the air moving forward, its jump at rest may leave
//! no flow at which the pressures close: forward the air is stopped, backward it is turned. The fan then
//! stalls, and what reaches it is a mixture of both. Below the speed at which the laws are smooth the
//! passage's rise is therefore made to pass from one direction's to the other's.

use super::boundary::{BoundaryConditions, Gas};
use super::state::NetworkState;
use super::topology::Network;
use super::workspace::{KNOWN, PartSlopes, Trace};
use crate::numerics::smooth::smooth_step;

/// What is added to the rise `own` of the present direction, `other` being that of the other one.
///
/// ```text
///   Δ = (1 − w) (other − own),   w = σ((1 + |ṁ|/s)/2),   σ(x) = 3x² − 2x³
/// ```
///
/// `flow` ṁ, `smoothing` s, both in kg/s, |ṁ| < s. Half of either at rest, all of `own` at s. Nothing
/// where the push is the stronger forward: each direction then keeps itself up. Gives Δ, the slope
/// ∂Δ/∂ṁ at fixed rises, and the other direction's share 1 − w.
fn ease(flow: f64, smoothing: f64, own: f64, other: f64) -> (f64, f64, f64) {
    let gap = other - own;
    if gap == 0.0 || (gap > 0.0) != (flow >= 0.0) {
        return (0.0, 0.0, 0.0);
    }
    let (weight, slope) = smooth_step(0.5 + 0.5 * flow.abs() / smoothing);
    ((1.0 - weight) * gap, -0.5 * slope / smoothing * 1.0_f64.copysign(flow) * gap, 1.0 - weight)
}

/// The other direction of motion of a passage that stalls.
pub(super) struct Other {
    /// What the passage does in that direction.
    pub trace: Trace,
    /// Column of the temperature at which its air would enter.
    pub column: usize,
}

impl Other {
    /// Joins it to the present direction. Gives the slope of the joined rise with the temperature of
    /// its own entering air.
    pub fn join(
        &self,
        flow: f64,
        smoothing: f64,
        trace: &mut Trace,
        rise_by_part: &mut [f64],
        other_by_part: &[f64],
    ) -> f64 {
        let (added, by_flow, share) = ease(flow, smoothing, trace.rise, self.trace.rise);
        trace.rise += added;
        trace.scale += share * (self.trace.scale - trace.scale);
        trace.rise_by_flow += by_flow + share * (self.trace.rise_by_flow - trace.rise_by_flow);
        trace.rise_by_start *= 1.0 - share;
        for (rise, other) in rise_by_part.iter_mut().zip(other_by_part) {
            *rise += share * (other - *rise);
        }
        if self.column == KNOWN { 0.0 } else { share * self.trace.rise_by_start }
    }
}

impl Network {
    /// Whether a passage's air all but stands at a turning fan.
    #[inline]
    pub(super) fn stalls(&self, index: usize, flow: f64, gas: &Gas) -> bool {
        self.passages[index].turning && flow.abs() < self.smoothing(index, gas)
    }

    /// What a solution's stalled passage has beside the rise of its present direction (Pa).
    pub(super) fn eased_rise(
        &self,
        index: usize,
        boundary: &BoundaryConditions,
        state: &NetworkState,
    ) -> f64 {
        let flow = state.flow[index];
        if !self.stalls(index, flow, &boundary.gas) {
            return 0.0;
        }
        let parts = &state.unknowns[2 * self.chambers.len()..][..self.parts.len()];
        let count = self.passages[index].parts.len();
        let mut room = vec![0.0; 5 * count + count * count];
        let mut rise = |forward| {
            let start = self.start(index, forward, boundary, &state.unknowns).0;
            let mut slopes = PartSlopes::within(&mut room, count);
            let mut found = Trace::default();
            self.trace(index, &boundary.gas, (flow, forward, start), parts, &mut slopes, &mut found);
            found.rise
        };
        let forward = flow >= 0.0;
        let (own, other) = (rise(forward), rise(!forward));
        ease(flow, self.smoothing(index, &boundary.gas), own, other).0
    }
}

#[cfg(test)]
mod tests {
    use super::ease;

    /// The joined rise at a flow, from what it is forward and backward.
    fn joined(flow: f64, forward: f64, backward: f64) -> (f64, f64) {
        let (own, other) = if flow >= 0.0 { (forward, backward) } else { (backward, forward) };
        let (added, slope, _) = ease(flow, 0.5, own, other);
        (own + added, slope)
    }

    #[test]
    fn falls_from_one_direction_to_the_other_without_a_jump() {
        let mut last = 90.0;
        for i in -50_i32..=50 {
            let flow = 0.5 * f64::from(i) / 50.0;
            let (rise, slope) = joined(flow, 60.0, 90.0);
            assert!(rise <= last && slope <= 0.0, "{flow}: {rise} after {last}");
            let step = 1e-6;
            let difference =
                (joined(flow + step, 60.0, 90.0).0 - joined(flow - step, 60.0, 90.0).0) / (2.0 * step);
            if i.abs() < 50 {
                assert!((difference - slope).abs() < 1e-3, "{flow}: {difference} {slope}");
            }
            last = rise;
        }
        assert_eq!(joined(0.0, 60.0, 90.0).0, 75.0);
        assert_eq!(joined(0.5, 60.0, 90.0).0, 60.0);
    }

    #[test]
    fn nothing_where_each_direction_keeps_itself_up() {
        assert_eq!(joined(0.1, 90.0, 60.0), (90.0, 0.0));
        assert_eq!(joined(-0.1, 90.0, 60.0), (60.0, 0.0));
    }
}
