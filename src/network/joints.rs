//! Tees, whose legs hang on one another's flows: found by solving again with the flows found.

use super::{End, Network, State};
use crate::element::Law;
use crate::element::tee::JointFlow;

/// Relative change of a flow below which a joint stands.
const SETTLED: f64 = 1e-11;
/// So many rounds are made at most.
pub const ROUNDS: usize = 200;

/// The legs of all tees.
#[derive(Clone, Debug, Default)]
pub struct Joints {
    legs: Vec<Leg>,
}

/// A leg of a tee.
#[derive(Clone, Debug)]
struct Leg {
    /// Its law.
    element: usize,
    /// Its passage.
    passage: usize,
    /// The passages whose flows together are the combined flow.
    combined: Vec<usize>,
    /// What the law holds.
    held: JointFlow,
    /// By how much the combined flow and the leg's own moved last.
    moved: [f64; 2],
}

impl Joints {
    /// The legs of a network.
    pub fn new(network: &Network) -> Joints {
        let mut all = Vec::new();
        for (index, passage) in network.passages.iter().enumerate() {
            for element in passage.elements.clone() {
                if let Law::Tee(tee) = &network.laws[element] {
                    let joint = if tee.joint_behind() { passage.to } else { passage.from };
                    all.push((index, element, joint, tee.is_combined()));
                }
            }
        }
        let at = |joint: End, trunk: bool| -> Vec<usize> {
            let here = all.iter().filter(|leg| leg.2 == joint && (!trunk || leg.3));
            here.map(|leg| leg.0).collect()
        };
        let legs = all.iter().filter(|leg| !leg.3).map(|(passage, element, joint, _)| {
            let trunk = at(*joint, true);
            // without a combined leg of its own: both legs together
            let combined = if trunk.is_empty() { at(*joint, false) } else { trunk };
            let held = JointFlow { combined: 0.0, own: 0.0 };
            Leg { element: *element, passage: *passage, combined, held, moved: [0.0; 2] }
        });
        Joints { legs: legs.collect() }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.legs.is_empty()
    }

    /// Forgets what was found: the legs lose nothing until the first round is done.
    pub fn forget(&mut self, network: &mut Network) {
        for leg in &mut self.legs {
            leg.held = JointFlow { combined: 0.0, own: 0.0 };
            leg.moved = [0.0; 2];
            if let Law::Tee(tee) = &mut network.laws[leg.element] {
                tee.set_joint(leg.held);
            }
        }
    }

    /// Gives every leg the flows that a state has found; whether all of them stand.
    pub fn settle(&mut self, network: &mut Network, state: &State) -> bool {
        let mut settled = true;
        for leg in &mut self.legs {
            let combined: f64 = leg.combined.iter().map(|passage| state.flow[*passage].abs()).sum();
            let found = [combined, state.flow[leg.passage].abs()];
            let held = [leg.held.combined, leg.held.own];
            let mut next = held;
            for side in 0..2 {
                let move_by = found[side] - held[side];
                settled &= move_by.abs() <= SETTLED * combined.max(1e-6);
                // where it swings to and fro, half the way
                let step = if move_by * leg.moved[side] < 0.0 { 0.5 * move_by } else { move_by };
                leg.moved[side] = step;
                next[side] = held[side] + step;
            }
            leg.held = JointFlow { combined: next[0], own: next[1] };
            if let Law::Tee(tee) = &mut network.laws[leg.element] {
                tee.set_joint(leg.held);
            }
        }
        settled
    }
}
