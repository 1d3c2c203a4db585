//! Long ways through what polynomials have of the unknowns: Hamiltonian steps.

use super::emulator::{Emulator, EmulatorRoom};
use super::forward::add_beside;
use super::linear::Linear;
use super::newton::{Likeliest, Problem};
use super::target::{ChainTarget, Reference};
use crate::numerics::cholesky;

/// Steps of a way, and how long each is, in spreads of the reference: anywhere between.
const STEPS: usize = 6;
const STRIDE: (f64, f64) = (0.2, 0.36);

/// What a way hangs on: the polynomials, and the problem as they have it, in which what they miss by is one more error of each
/// reading, so that ways lead wherever they are wrong.
pub struct WayGuide<'w> {
    problem: Problem<'w>,
    linear: Option<Linear>,
    emulator: Emulator,
}

impl<'w> WayGuide<'w> {
    /// That of a problem.
    pub fn of(problem: &Problem<'w>, likeliest: &Likeliest, emulator: Emulator) -> WayGuide<'w> {
        let mut problem = problem.clone();
        let linear = Linear::with(&problem, likeliest, &emulator.missed);
        // with strips each reading by itself
        let size = problem.spreads.len();
        let own = emulator.missed.iter().step_by(size + 1);
        problem
            .spreads
            .iter_mut()
            .zip(own)
            .for_each(|(spread, missed)| *spread = spread.hypot(missed.sqrt()));
        WayGuide { linear, problem, emulator }
    }
}

/// Room for ways.
#[derive(Clone, Debug, Default)]
pub struct WayRoom {
    emulator: EmulatorRoom,
    shown: Vec<f64>,
    pulls: Vec<f64>,
    slope: Vec<f64>,
    next: Vec<f64>,
    stride: Vec<f64>,
}

/// A way, as it went.
pub struct GoneWay {
    /// Where it led.
    pub scores: Vec<f64>,
    /// The loss where it began, and where it led.
    pub begun: f64,
    pub loss: f64,
    /// By how much its energy has fallen: it is taken with the share e to that.
    pub fallen: f64,
}

impl WayGuide<'_> {
    /// −ln of how likely scores are by the polynomials, but for a constant; its slope then stands in the room.
    pub fn loss(&self, scores: &[f64], room: &mut WayRoom) -> f64 {
        room.shown.resize(self.problem.spreads.len(), 0.0);
        self.emulator.show(scores, &mut room.emulator, &mut room.shown);
        add_beside(self.problem.unknowns, scores, &mut room.shown);
        let target = ChainTarget { linear: self.linear.as_ref() };
        let loss = target.pulls(&self.problem, &room.shown, &mut room.pulls);
        room.slope.clear();
        room.slope.extend_from_slice(scores);
        self.emulator.lean(&room.emulator, &room.pulls, &mut room.slope);
        for (seen, pull) in self.problem.unknowns.readings.iter().zip(&room.pulls) {
            seen.beside.iter().for_each(|(place, weight)| room.slope[*place] += pull * weight);
        }
        target.hold(&mut room.slope);
        loss + 0.5 * scores.iter().map(|z| z * z).sum::<f64>()
    }

    /// One way from some scores, led by a reference; `momentum` are standard normal numbers, `share` sets the length of its steps.
    ///
    /// ```text
    ///   p' = p − ½ h L⁻¹ U',   z' = z + h L⁻ᵀ p',   p'' = p' − ½ h L⁻¹ U'
    /// ```
    ///
    /// U' the slope of the loss, L Lᵀ the inverse of the reference's covariance.
    /// Source: R. M. Neal, MCMC using Hamiltonian dynamics, in Handbook of Markov Chain Monte Carlo (2011), 5.2 and 5.4.
    pub fn go(
        &self,
        reference: &Reference,
        scores: &[f64],
        momentum: &mut [f64],
        share: f64,
        room: &mut WayRoom,
    ) -> GoneWay {
        let count = scores.len();
        let factor = &reference.factor;
        let stride = STRIDE.0 + share * (STRIDE.1 - STRIDE.0);
        ChainTarget { linear: self.linear.as_ref() }.hold(momentum);
        let energy = |p: &[f64]| 0.5 * p.iter().map(|x| x * x).sum::<f64>();
        let first = self.loss(scores, room);
        let mut at = first;
        let begun = first + energy(momentum);
        room.next.clear();
        room.next.extend_from_slice(scores);
        let push = |momentum: &mut [f64], room: &mut WayRoom, part: f64| {
            cholesky::forward(factor, count, &mut room.slope);
            momentum.iter_mut().zip(&room.slope).for_each(|(p, slope)| *p -= part * stride * slope);
        };
        push(momentum, room, 0.5);
        for step in 1..=STEPS {
            room.stride.clear();
            room.stride.extend_from_slice(momentum);
            cholesky::backward(factor, count, &mut room.stride);
            for (z, along) in room.next.iter_mut().zip(&room.stride) {
                *z += stride * along;
            }
            let next = std::mem::take(&mut room.next);
            at = self.loss(&next, room);
            room.next = next;
            push(momentum, room, if step == STEPS { 0.5 } else { 1.0 });
        }
        GoneWay { scores: room.next.clone(), begun: first, loss: at, fallen: begun - at - energy(momentum) }
    }
}
