//! Chains of draws from what is left of the unknowns, led by the curvature where they most likely lie.

use super::newton::{Likeliest, Problem};
use super::result::Chains;
use crate::numerics::chains::{Agreement, agreement};
use crate::numerics::sobol::mix;
use crate::numerics::{cholesky, normal};
use rayon::prelude::*;

/// Chains, each with a seed of its own.
pub const CHAINS: usize = 4;
/// Steps that are thrown away, and in which the length of steps is learnt.
const BEGIN: usize = 240;
/// Steps of a round.
const ROUND: usize = 300;
/// Most rounds.
const ROUNDS: usize = 12;
/// Steps between two looks at their length.
const LOOK: usize = 40;
/// Effective number below which nothing is told.
pub const FEWEST: f64 = 400.0;
/// Split-chain agreement above which nothing is told.
pub const AGREED: f64 = 1.05;

/// One chain.
struct Chain<'c> {
    problem: Problem<'c>,
    seed: u64,
    step: u64,
    scores: Vec<f64>,
    /// −ln of the target less −ln of the reference there.
    excess: f64,
    /// Share of each step that is new, 0 to 1.
    stride: f64,
    accepted: usize,
    shown: Vec<f64>,
    draws: Vec<Vec<f64>>,
}

/// What chains drew.
#[derive(Clone, Debug)]
pub struct Drawn {
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

impl Drawn {
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

impl Chain<'_> {
    /// A number between 0 and 1, by chain and place.
    fn share(&mut self) -> f64 {
        self.step += 1;
        ((mix(self.seed ^ mix(self.step)) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// One step: towards the likeliest place and out again along its curvature, taken with the share by which the target is
    /// more likely than the normal distribution there.
    ///
    /// ```text
    ///   z' = m + √(1 − β²) (z − m) + β C^½ ξ
    /// ```
    ///
    /// m the likeliest place, C its covariance, ξ normal numbers, β the stride: the step leaves N(m, C) as it is, however
    /// many unknowns there are.
    /// Source: Cotter, Roberts, Stuart & White, MCMC methods for functions, Statistical Science 28 (2013) 424-446.
    fn go(&mut self, likeliest: &Likeliest) {
        let count = self.scores.len();
        let mut noise: Vec<f64> = (0..count).map(|_| normal::quantile(self.share())).collect();
        cholesky::backward(&likeliest.factor, count, &mut noise);
        let keep = (1.0 - self.stride * self.stride).sqrt();
        let away = self.scores.iter().zip(&likeliest.scores).map(|(z, m)| z - m);
        let next: Vec<f64> = away
            .zip(&likeliest.scores)
            .zip(&noise)
            .map(|((away, m), noise)| m + keep * away + self.stride * noise)
            .collect();
        let excess = excess(&mut self.problem, likeliest, &next, &mut self.shown);
        let chance = self.share();
        if chance.ln() < self.excess - excess {
            self.scores = next;
            self.excess = excess;
            self.accepted += 1;
        }
    }
}

fn excess(problem: &mut Problem, likeliest: &Likeliest, scores: &[f64], shown: &mut [f64]) -> f64 {
    let loss = problem.loss(scores, shown);
    let count = scores.len();
    // ½ (z − m)ᵀ L Lᵀ (z − m)
    let away: Vec<f64> = scores.iter().zip(&likeliest.scores).map(|(z, m)| z - m).collect();
    let square: f64 = (0..count)
        .map(|j| (j..count).map(|i| likeliest.factor[i * count + j] * away[i]).sum::<f64>().powi(2))
        .sum();
    loss - 0.5 * square
}

/// Runs chains until they agree and are worth enough, or as far as they may go.
pub fn run(problem: &Problem, likeliest: &Likeliest, go_on: &(dyn Fn(f64) -> bool + Sync)) -> Drawn {
    let size = likeliest.shown.len();
    let count = likeliest.scores.len();
    let seen: Vec<usize> = (0..count).filter(|i| likeliest.covariance[i * count + i] < 0.98).collect();
    let mut chains: Vec<Chain> = (0..CHAINS)
        .map(|chain| Chain {
            problem: problem.clone(),
            seed: mix(0xf17 ^ (chain as u64) << 32),
            step: 0,
            scores: likeliest.scores.clone(),
            excess: f64::INFINITY,
            stride: 0.7,
            accepted: 0,
            shown: vec![0.0; size],
            draws: Vec::new(),
        })
        .collect();
    chains.par_iter_mut().for_each(|chain| {
        let Chain { problem, scores, shown, .. } = chain;
        chain.excess = excess(problem, likeliest, scores, shown);
        for step in 1..=BEGIN {
            chain.go(likeliest);
            if step % LOOK == 0 {
                let taken = chain.accepted as f64 / LOOK as f64;
                chain.stride = (chain.stride * (taken / 0.45).clamp(0.6, 1.4)).clamp(0.02, 1.0);
                chain.accepted = 0;
            }
        }
    });
    let mut found = Drawn { draws: Vec::new(), split: f64::NAN, effective: 0.0, accepted: 0.0, steps: 0 };
    for round in 1..=ROUNDS {
        chains.par_iter_mut().for_each(|chain| {
            for _ in 0..ROUND {
                chain.go(likeliest);
                chain.draws.push(chain.scores.clone());
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
        let enough = found.effective >= 2.0 * FEWEST && found.split <= 1.02;
        if enough || !go_on(round as f64 / ROUNDS as f64) {
            break;
        }
    }
    let taken: usize = chains.iter().map(|chain| chain.accepted).sum();
    found.accepted = taken as f64 / (CHAINS * found.steps) as f64;
    found.draws = chains.into_iter().flat_map(|chain| chain.draws).collect();
    found
}
