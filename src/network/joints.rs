//! Tees, whose legs hang on one another's flows: found by solving again with the flows found.

use super::{End, Network, State};
use crate::element::Law;
use crate::element::tee::{Leg as Which, OtherLeg};

/// Change of a flow, over the largest at the joint, below which a joint stands.
const SETTLED: f64 = 1e-10;
/// So many rounds are made at most.
pub const ROUNDS: usize = 1500;
/// So often the net flow of a joint may turn before its way is held: where nothing goes through on the whole, either will do.
const TURNS: usize = 3;

/// The side and straight legs of all tees.
#[derive(Clone, Debug, Default)]
pub struct Joints {
    legs: Vec<Leg>,
}

/// A side or straight leg.
#[derive(Clone, Debug)]
struct Leg {
    /// Its law.
    element: usize,
    /// Whether it is the side leg.
    side: bool,
    /// The chamber that is the joint.
    chamber: usize,
    /// Its passage, and 1 where a positive flow runs towards the joint.
    own: (usize, f64),
    /// The other's.
    other: (usize, f64),
    /// The other leg's flow towards the joint, as the law holds it; none before the first round.
    held: Option<OtherLeg>,
    /// By how much it moved last.
    moved: f64,
    /// What is taken of a move.
    pace: f64,
    /// How often the net flow has turned.
    turns: usize,
}

impl Joints {
    /// The legs of a network.
    pub fn new(network: &Network) -> Joints {
        let mut all: Vec<(usize, usize, End, f64, Which)> = Vec::new();
        for (index, passage) in network.passages.iter().enumerate() {
            for element in passage.elements.clone() {
                if let Law::Tee(tee) = &network.laws[element] {
                    let (joint, towards) =
                        if tee.joint_behind() { (passage.to, 1.0) } else { (passage.from, -1.0) };
                    all.push((index, element, joint, towards, tee.leg()));
                }
            }
        }
        let mut legs = Vec::new();
        for (passage, element, joint, towards, which) in all.iter().filter(|leg| leg.4 != Which::Combined) {
            let partner = |leg: &&(usize, usize, End, f64, Which)| {
                leg.2 == *joint && leg.4 != Which::Combined && leg.4 != *which
            };
            let (Some(other), End::Chamber(chamber)) = (all.iter().find(partner), *joint) else { continue };
            legs.push(Leg {
                element: *element,
                side: *which == Which::Side,
                chamber,
                own: (*passage, *towards),
                other: (other.0, other.3),
                held: None,
                moved: 0.0,
                pace: 1.0,
                turns: 0,
            });
        }
        Joints { legs }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.legs.is_empty()
    }

    /// Forgets what was found: the legs lose nothing until the first round is done.
    pub fn forget(&mut self, network: &mut Network) {
        for leg in &mut self.legs {
            leg.held = None;
            leg.moved = 0.0;
            leg.pace = 1.0;
            leg.turns = 0;
            if let Law::Tee(tee) = &mut network.laws[leg.element] {
                tee.set_other(None);
            }
        }
    }

    /// Gives every leg what a state has found of the other; the largest change, over the largest flow at the joint.
    pub fn settle(&mut self, network: &mut Network, state: &State) -> f64 {
        let mut most: f64 = 0.0;
        for leg in &mut self.legs {
            let flow = |(passage, towards): (usize, f64)| towards * state.flow[passage];
            let (own, other) = (flow(leg.own), flow(leg.other));
            let mut joins = own + other >= 0.0;
            let scale = own.abs().max(other.abs()).max(1e-7);
            let next = match leg.held {
                None => {
                    most = f64::INFINITY;
                    other
                }
                Some(held) => {
                    let move_by = other - held.towards;
                    let mut turned = held.joins != joins;
                    if turned && leg.turns >= TURNS {
                        (joins, turned) = (held.joins, false);
                    }
                    leg.turns += usize::from(turned);
                    most = most.max(if turned { 1.0 } else { move_by.abs() / scale });
                    // where it swings to and fro less and less of the way
                    leg.pace =
                        if move_by * leg.moved < 0.0 { 0.5 * leg.pace } else { (1.3 * leg.pace).min(1.0) };
                    leg.moved = leg.pace * move_by;
                    held.towards + leg.moved
                }
            };
            let sizes = own.abs() + other.abs();
            let lateral = if leg.side { own.abs() } else { other.abs() };
            let found = if sizes > 0.0 { lateral / sizes } else { 0.5 };
            let side_share =
                leg.held.map_or(found, |held| held.side_share + leg.pace * (found - held.side_share));
            let temperature = state.chamber_temperature(leg.chamber);
            let held = OtherLeg { towards: next, side_share, temperature, joins };
            leg.held = Some(held);
            if let Law::Tee(tee) = &mut network.laws[leg.element] {
                tee.set_other(Some(held));
            }
        }
        most
    }

    /// Whether a change is small enough for the joints to stand.
    pub fn stand(change: f64) -> bool {
        change <= SETTLED
    }
}
