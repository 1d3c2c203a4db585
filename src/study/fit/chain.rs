//! Chains of draws from what is left of the unknowns, led by the curvature where they most likely lie.

use super::emulator::Emulator;
use super::linear::Linear;
use super::newton::{Likeliest, Problem};
use super::result::Chains;
use crate::numerics::chains::{Agreement, agreement};
use crate::numerics::sobol::{mix, share};
use crate::numerics::{cholesky, normal};
use rayon::prelude::*;

/// Chains, each with a seed of its own.
pub const CHAINS: usize = 4;
/// Steps after which the reference is learnt anew, and how much of the scatter of the chains is then believed, the rest being
/// that of the curvature.
const BEGIN: [(usize, f64); 3] = [(300, 0.6), (300, 0.8), (240, 0.9)];
/// The reference is so much wider (variance) than what was found: a chain that strays must find back.
const WIDER: f64 = 1.15;
/// Steps of a round.
const ROUND: usize = 300;
/// Most rounds.
const ROUNDS: usize = 40;
/// Steps by the emulator between two looks.
const FAR: usize = 36;
/// Places kept of each chain for it.
const LOOKED: usize = 1200;
/// Steps between two looks at their length.
const LOOK: usize = 30;
/// Effective number below which nothing is told.
pub const FEWEST: f64 = 400.0;
/// Split-chain agreement above which nothing is told.
pub const AGREED: f64 = 1.05;

/// A normal distribution that leads the steps.
#[derive(Clone)]
struct Reference {
    mean: Vec<f64>,
    /// Lower factor of the inverse of its covariance.
    factor: Vec<f64>,
}

impl Reference {
    /// ½ (z − m)ᵀ L Lᵀ (z − m).
    fn half_square(&self, scores: &[f64]) -> f64 {
        let count = scores.len();
        let away: Vec<f64> = scores.iter().zip(&self.mean).map(|(z, m)| z - m).collect();
        let row = |j: usize| (j..count).map(|i| self.factor[i * count + j] * away[i]).sum::<f64>();
        0.5 * (0..count).map(|j| row(j).powi(2)).sum::<f64>()
    }

    /// One that follows what chains found of the unknowns that readings see.
    fn learnt(
        likeliest: &Likeliest,
        seen: &[usize],
        draws: &[&Vec<f64>],
        believed: f64,
    ) -> Option<Reference> {
        let count = likeliest.scores.len();
        let n = draws.len() as f64;
        let mut mean = vec![0.0; count];
        for place in seen {
            mean[*place] = draws.iter().map(|z| z[*place]).sum::<f64>() / n;
        }
        let mut covariance = vec![0.0; count * count];
        (0..count).for_each(|i| covariance[i * count + i] = 1.0);
        for i in seen {
            for j in seen {
                let found = draws.iter().map(|z| (z[*i] - mean[*i]) * (z[*j] - mean[*j])).sum::<f64>() / n;
                let curved = likeliest.covariance[i * count + j];
                covariance[i * count + j] = WIDER * (believed * found + (1.0 - believed) * curved);
            }
        }
        let inverse = cholesky::inverse(&cholesky::factor(&covariance, count)?, count);
        Some(Reference { mean, factor: cholesky::factor(&inverse, count)? })
    }
}

/// One chain.
struct WalkingChain<'c> {
    problem: Problem<'c>,
    seed: u64,
    step: u64,
    scores: Vec<f64>,
    /// −ln of the target there.
    loss: f64,
    /// Of each way to step: how far, and how many of the last steps were taken.
    strides: [f64; 2],
    accepted: [usize; 2],
    taken: usize,
    shown: Vec<f64>,
    /// What is shown where the chain stands.
    here: Vec<f64>,
    /// Places looked at, and what was shown there.
    looked: Vec<(Vec<f64>, Vec<f64>)>,
    draws: Vec<Vec<f64>>,
}

/// What is drawn from: everything, or what is left once the linear unknowns are taken out.
struct ChainTarget<'t> {
    linear: Option<&'t Linear>,
}

impl ChainTarget<'_> {
    /// −ln of how likely the scores are, but for a constant; without end where a test has no steady state.
    fn loss(&self, problem: &mut Problem, scores: &[f64], shown: &mut [f64]) -> f64 {
        if problem.show(scores, shown) { self.loss_of(problem, scores, shown) } else { f64::INFINITY }
    }

    /// The same where so much is shown.
    fn loss_of(&self, problem: &Problem, scores: &[f64], shown: &[f64]) -> f64 {
        match self.linear {
            Some(linear) => linear.loss(problem, scores, shown),
            None => problem.loss_of(scores, shown),
        }
    }

    /// Linear unknowns stand at nought while the others move.
    fn hold(&self, scores: &mut [f64]) {
        self.linear.iter().flat_map(|linear| &linear.places).for_each(|place| scores[*place] = 0.0);
    }
}

/// What chains drew.
#[derive(Clone, Debug)]
pub struct ChainDraws {
    /// Scores, draw by draw, chain after chain.
    pub draws: Vec<Vec<f64>>,
    /// The worst split-chain agreement of what readings see.
    pub split: f64,
    /// The least effective number of it.
    pub effective: f64,
    /// Share of the steps that were taken.
    pub accepted: f64,
    /// Steps of each chain.
    pub steps: usize,
}

impl ChainDraws {
    /// How the chains did, as it is told.
    pub fn told(&self) -> Chains {
        Chains {
            chains: CHAINS,
            steps: self.steps,
            effective: self.effective,
            agreement: self.split,
            accepted: self.accepted,
        }
    }
}

impl WalkingChain<'_> {
    /// A number between 0 and 1, by chain and place.
    fn share(&mut self) -> f64 {
        self.step += 1;
        share(self.seed ^ mix(self.step))
    }

    /// One step, of the one kind or the other in turn.
    ///
    /// ```text
    ///   z' = m + √(1 − β²) (z − m) + β C^½ ξ      taken as the target is likelier against N(m, C)
    ///   z' = z + s C^½ ξ                          taken as the target is likelier
    /// ```
    ///
    /// m and C those of the reference, ξ normal numbers. The first leaves the reference as it is, however many unknowns there
    /// are, and goes far; the second finds back from where the target has wider tails than the reference.
    /// Source: Cotter, Roberts, Stuart & White, MCMC methods for functions, Statistical Science 28 (2013) 424-446; Roberts,
    /// Gelman & Gilks, Annals of Applied Probability 7 (1997) 110-120 for the second.
    fn go(&mut self, reference: &Reference, target: &ChainTarget) {
        let kind = (self.step % 2) as usize;
        let (next, back) = self.propose(reference, target, &self.scores.clone(), kind);
        let loss = target.loss(&mut self.problem, &next, &mut self.shown);
        if loss.is_finite() && self.looked.len() < LOOKED {
            self.looked.push((next.clone(), self.shown.clone()));
        }
        let gain = self.loss - loss + back;
        self.accepted[kind] += usize::from(self.decide(next, loss, gain));
    }

    /// Where a step of a kind leads from a place, and what the reference gives back for it.
    fn propose(
        &mut self,
        reference: &Reference,
        target: &ChainTarget,
        from: &[f64],
        kind: usize,
    ) -> (Vec<f64>, f64) {
        let count = from.len();
        let mut noise: Vec<f64> = (0..count).map(|_| normal::quantile(self.share())).collect();
        // an even number of shares to a step, so that the kinds take turns
        if count % 2 == 1 {
            self.share();
        }
        cholesky::backward(&reference.factor, count, &mut noise);
        let stride = self.strides[kind];
        let mut next: Vec<f64> = match kind {
            0 => {
                let keep = (1.0 - stride * stride).sqrt();
                let away = from.iter().zip(&reference.mean);
                away.zip(&noise).map(|((z, m), noise)| m + keep * (z - m) + stride * noise).collect()
            }
            _ => from.iter().zip(&noise).map(|(z, noise)| z + stride * noise).collect(),
        };
        target.hold(&mut next);
        let back = if kind == 0 { reference.half_square(&next) - reference.half_square(from) } else { 0.0 };
        (next, back)
    }

    /// Takes a step with the share that its gain gives it; what it shows stands in `shown`.
    fn decide(&mut self, next: Vec<f64>, loss: f64, gain: f64) -> bool {
        let taken = self.share().ln() < gain;
        if taken {
            self.scores = next;
            self.loss = loss;
            std::mem::swap(&mut self.here, &mut self.shown);
            self.taken += 1;
        }
        taken
    }

    /// A long way: many steps by the emulator alone, the end of which is looked at and taken as the target is likelier than
    /// the emulator has it. It leaves the target as it is however wrong the emulator is.
    /// Source: J. S. Liu, Monte Carlo Strategies in Scientific Computing (2001), 9.4.3, surrogate transitions.
    fn go_far(&mut self, reference: &Reference, target: &ChainTarget, emulator: &Emulator) {
        let mut row = Vec::new();
        let mut shown = vec![0.0; self.shown.len()];
        let mut at = self.scores.clone();
        emulator.show(&at, &mut row, &mut shown);
        let begun = target.loss_of(&self.problem, &at, &shown);
        let mut loss = begun;
        for inner in 0..FAR {
            let (next, back) = self.propose(reference, target, &at, inner % 2);
            emulator.show(&next, &mut row, &mut shown);
            let new = target.loss_of(&self.problem, &next, &shown);
            if self.share().ln() < loss - new + back {
                (at, loss) = (next, new);
            }
        }
        let exact = target.loss(&mut self.problem, &at, &mut self.shown);
        self.decide(at, exact, self.loss - exact + loss - begun);
    }

    /// Keeps where the chain stands, with linear unknowns drawn anew.
    fn keep(&mut self, target: &ChainTarget) {
        let mut scores = self.scores.clone();
        if let Some(linear) = target.linear {
            let mut noise: Vec<f64> = linear.places.iter().map(|_| normal::quantile(self.share())).collect();
            if linear.places.len() % 2 == 1 {
                self.share();
            }
            linear.draw(&self.problem, &self.here, &mut noise, &mut scores);
        }
        self.draws.push(scores);
    }

    /// Steps whose length is learnt.
    fn begin(&mut self, reference: &Reference, target: &ChainTarget, steps: usize) {
        self.draws.clear();
        for step in 1..=steps {
            self.go(reference, target);
            self.draws.push(self.scores.clone());
            if step % LOOK == 0 {
                for (kind, wanted) in [0.5, 0.3].into_iter().enumerate() {
                    let taken = self.accepted[kind] as f64 / (LOOK / 2) as f64;
                    let most = if kind == 0 { 1.0 } else { 2.0 };
                    self.strides[kind] =
                        (self.strides[kind] * (taken / wanted).clamp(0.6, 1.5)).clamp(0.02, most);
                    self.accepted[kind] = 0;
                }
            }
        }
    }
}

/// Whether what is shown hangs on an unknown by more than a trifle of what readings tell.
fn feels(problem: &Problem, likeliest: &Likeliest, place: usize) -> bool {
    let count = likeliest.scores.len();
    let each = problem.spreads.iter().enumerate();
    each.map(|(reading, spread)| (likeliest.slopes[reading * count + place] / spread).powi(2)).sum::<f64>()
        > 4e-4
}

/// Runs chains until they agree and are worth enough, or as far as they may go.
pub fn run(problem: &Problem, likeliest: &Likeliest, go_on: &(dyn Fn(f64) -> bool + Sync)) -> ChainDraws {
    let size = likeliest.shown.len();
    let count = likeliest.scores.len();
    let linear = Linear::of(problem, likeliest);
    let target = ChainTarget { linear: linear.as_ref() };
    let held = |place: &usize| linear.as_ref().is_some_and(|linear| linear.places.contains(place));
    let seen: Vec<usize> =
        (0..count).filter(|i| likeliest.covariance[i * count + i] < 0.98 && !held(i)).collect();
    let first: Vec<&Vec<f64>> = vec![&likeliest.scores];
    let mut reference = Reference::learnt(likeliest, &seen, &first, 0.0)
        .unwrap_or(Reference { mean: likeliest.scores.clone(), factor: likeliest.factor.clone() });
    let mut begin = likeliest.scores.clone();
    target.hold(&mut begin);
    let walk = 2.4 / (seen.len().max(1) as f64).sqrt();
    let mut chains: Vec<WalkingChain> = (0..CHAINS)
        .map(|chain| WalkingChain {
            problem: problem.clone(),
            seed: mix(0xf17 ^ (chain as u64) << 32),
            step: 0,
            scores: begin.clone(),
            loss: f64::INFINITY,
            strides: [0.7, walk],
            accepted: [0; 2],
            taken: 0,
            shown: vec![0.0; size],
            here: vec![0.0; size],
            looked: Vec::new(),
            draws: Vec::new(),
        })
        .collect();
    chains.par_iter_mut().for_each(|chain| {
        let WalkingChain { problem, scores, here, .. } = chain;
        chain.loss = target.loss(problem, scores, here);
    });
    for (steps, believed) in BEGIN {
        chains.par_iter_mut().for_each(|chain| chain.begin(&reference, &target, steps));
        let draws: Vec<&Vec<f64>> = chains.iter().flat_map(|chain| &chain.draws[steps / 3..]).collect();
        reference = Reference::learnt(likeliest, &seen, &draws, believed).unwrap_or(reference);
    }
    let felt: Vec<usize> =
        (0..count).filter(|place| !held(place) && feels(problem, likeliest, *place)).collect();
    let looked: Vec<(Vec<f64>, Vec<f64>)> =
        chains.iter_mut().flat_map(|chain| std::mem::take(&mut chain.looked)).collect();
    let emulator = Emulator::of(&looked, &felt);
    for chain in &mut chains {
        chain.draws.clear();
        chain.taken = 0;
    }
    let mut found =
        ChainDraws { draws: Vec::new(), split: f64::NAN, effective: 0.0, accepted: 0.0, steps: 0 };
    for round in 1..=ROUNDS {
        chains.par_iter_mut().for_each(|chain| {
            for step in 0..ROUND {
                match &emulator {
                    Some(emulator) if step % 3 > 0 => chain.go_far(&reference, &target, emulator),
                    _ => chain.go(&reference, &target),
                }
                chain.keep(&target);
            }
        });
        let each = seen.par_iter().map(|index| {
            let numbers: Vec<Vec<f64>> =
                chains.iter().map(|chain| chain.draws.iter().map(|z| z[*index]).collect()).collect();
            agreement(&numbers)
        });
        let each: Vec<Agreement> = each.collect();
        found.split = each.iter().map(|one| one.split).fold(1.0, f64::max);
        found.effective =
            each.iter().map(|one| one.effective).fold((CHAINS * ROUND * round) as f64, f64::min);
        found.steps = ROUND * round;
        let enough = found.effective >= 1.5 * FEWEST && found.split <= 1.02;
        if enough || !go_on(round as f64 / ROUNDS as f64) {
            break;
        }
    }
    let taken: usize = chains.iter().map(|chain| chain.taken).sum();
    found.accepted = taken as f64 / (CHAINS * found.steps) as f64;
    found.draws = chains.into_iter().flat_map(|chain| chain.draws).collect();
    found
}
