//! Chains of draws from what is left of the unknowns, led by the curvature where they most likely lie and by polynomials through
//! what was looked at.

use super::emulator::{Emulator, LookedScores, features};
use super::forward::add_beside;
use super::hamiltonian::{WayGuide, WayRoom};
use super::linear::Linear;
use super::newton::{Likeliest, Problem};
use super::result::Chains;
use super::target::{ChainTarget, Reference};
use super::unknowns::Unknown;
use crate::numerics::chains::{Agreement, agreement};
use crate::numerics::sobol::{mix, share};
use crate::numerics::{cholesky, normal};
use rayon::prelude::*;

/// Chains, each with a seed of its own.
pub const CHAINS: usize = 4;
/// Looks of each chain after which reference and polynomials are learnt anew, and how much of the scatter of the chains is then
/// believed, the rest being that of the curvature.
const BEGIN: [(usize, f64); 3] = [(120, 0.7), (150, 0.9), (150, 0.95)];
/// The first looks lie so much wider than the curvature has it (spread), so many for each feature of the polynomials.
const ABOUT: f64 = 1.1;
const FOR_EACH: f64 = 2.2;
/// Most unknowns whose squares and products are followed, and what of the readings (variance, in shares of their own) such a one
/// moves at least.
const BENT: usize = 20;
const MOVES: f64 = 0.02;
/// Looks of a round.
const ROUND: usize = 100;
/// Most rounds.
const ROUNDS: usize = 56;
/// Ways through the polynomials between two looks.
const WAYS: usize = 3;
/// One look in so many lies a short step away.
const NEAR: usize = 4;
/// Looks between two looks at the length of short steps.
const LENGTH: usize = 30;
/// Effective number below which nothing is told.
pub const FEWEST: f64 = 400.0;
/// Times that number with which chains stop.
const ENOUGH: f64 = 1.5;
/// Rounds after which chains that are worth less than such a share of enough begin once more with what they learnt, and twice as
/// many the next time.
const PATIENCE: usize = 8;
const POOR: f64 = 0.6;
/// Rounds at least.
const LEAST: usize = 3;
/// Split-chain agreement above which nothing is told.
pub const AGREED: f64 = 1.05;

/// What was looked at by a chain.
type LookedAt = Vec<LookedScores>;

/// One chain.
struct WalkingChain<'c> {
    problem: Problem<'c>,
    seed: u64,
    step: u64,
    scores: Vec<f64>,
    /// −ln of the target there.
    loss: f64,
    /// Of each short way to step: how far, how many of the last steps were made, and how many taken.
    strides: [f64; 2],
    made: [usize; 2],
    accepted: [usize; 2],
    taken: usize,
    shown: Vec<f64>,
    /// What is shown where the chain stands.
    here: Vec<f64>,
    looked: LookedAt,
    draws: Vec<Vec<f64>>,
    room: WayRoom,
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

    /// Draws count from here on.
    fn count_anew(&mut self) {
        self.draws.clear();
        self.taken = 0;
    }

    fn noise(&mut self) -> Vec<f64> {
        (0..self.scores.len()).map(|_| normal::quantile(self.share())).collect()
    }

    /// Looks at a place, and keeps what is shown there.
    fn look(&mut self, target: &ChainTarget, scores: &[f64]) -> f64 {
        let loss = target.loss(&mut self.problem, scores, &mut self.shown);
        if loss.is_finite() {
            // what is beside the car is known, and followed by no polynomial
            let mut shown = self.shown.clone();
            let away: Vec<f64> = scores.iter().map(|z| -z).collect();
            add_beside(self.problem.unknowns, &away, &mut shown);
            self.looked.push(LookedScores { scores: scores.to_vec(), shown, loss });
        }
        loss
    }

    /// One short step, of the one kind or the other.
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
    fn go(&mut self, reference: &Reference, target: &ChainTarget, kind: usize) {
        let count = self.scores.len();
        let mut noise = self.noise();
        cholesky::backward(&reference.factor, count, &mut noise);
        let stride = self.strides[kind];
        let from = &self.scores;
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
        let loss = self.look(target, &next);
        let gain = self.loss - loss + back;
        self.made[kind] += 1;
        self.accepted[kind] += usize::from(self.decide(next, loss, gain));
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

    /// Far away: ways through the polynomials alone, the end of which is looked at and taken as the target is likelier than
    /// these have it. It leaves the target as it is however wrong they are.
    /// Source: J. S. Liu, Monte Carlo Strategies in Scientific Computing (2001), 9.4.3, surrogate transitions.
    fn go_far(&mut self, reference: &Reference, target: &ChainTarget, guide: &WayGuide) {
        let mut room = std::mem::take(&mut self.room);
        let mut at = self.scores.clone();
        let (mut begun, mut loss) = (f64::NAN, f64::NAN);
        for way in 0..WAYS {
            let (mut momentum, length, taken) = (self.noise(), self.share(), self.share());
            let gone = guide.go(reference, &at, &mut momentum, length, &mut room);
            if way == 0 {
                (begun, loss) = (gone.begun, gone.begun);
            }
            if taken.ln() < gone.fallen {
                (at, loss) = (gone.scores, gone.loss);
            }
        }
        self.room = room;
        let exact = self.look(target, &at);
        self.decide(at, exact, self.loss - exact + loss - begun);
    }

    /// One look after another, mostly far away where there are polynomials.
    fn walk(
        &mut self,
        (reference, guide): (&Reference, Option<&WayGuide>),
        target: &ChainTarget,
        looks: usize,
        mut keep: impl FnMut(&mut Self, usize),
    ) {
        for look in 0..looks {
            match guide {
                Some(guide) if look % NEAR > 0 => self.go_far(reference, target, guide),
                Some(_) => self.go(reference, target, look / NEAR % 2),
                None => self.go(reference, target, look % 2),
            }
            keep(self, look);
        }
    }

    /// Keeps where the chain stands, with linear unknowns drawn anew.
    fn keep(&mut self, target: &ChainTarget) {
        let mut scores = self.scores.clone();
        if let Some(linear) = target.linear {
            let mut noise: Vec<f64> = linear.places.iter().map(|_| normal::quantile(self.share())).collect();
            linear.draw(&self.problem, &self.here, &mut noise, &mut scores);
        }
        self.draws.push(scores);
    }

    /// Learns how long short steps may be.
    fn learn_strides(&mut self) {
        for (kind, wanted) in [0.5, 0.3].into_iter().enumerate() {
            if self.made[kind] < LENGTH / 2 {
                continue;
            }
            let taken = self.accepted[kind] as f64 / self.made[kind] as f64;
            let most = if kind == 0 { 1.0 } else { 2.0 };
            self.strides[kind] = (self.strides[kind] * (taken / wanted).clamp(0.6, 1.5)).clamp(0.02, most);
            (self.made[kind], self.accepted[kind]) = (0, 0);
        }
    }
}

/// What of the readings (variance, in shares of their own) an unknown moves, as far as it is still open.
fn moves(problem: &Problem, likeliest: &Likeliest, place: usize) -> f64 {
    let count = likeliest.scores.len();
    let each = problem.spreads.iter().enumerate();
    let all = each.map(|(reading, spread)| (likeliest.slopes[reading * count + place] / spread).powi(2));
    all.sum::<f64>() * likeliest.covariance[place * count + place]
}

/// The unknowns that polynomials follow, the first so many bent.
struct Followed {
    places: Vec<usize>,
    bent: usize,
}

impl Followed {
    fn of(problem: &Problem, likeliest: &Likeliest, held: &dyn Fn(&usize) -> bool) -> Followed {
        let unknowns = problem.unknowns;
        let mut each: Vec<(usize, f64)> = (0..unknowns.coordinates)
            .filter(|place| unknowns.list[*place] != Unknown::Unused && !held(place))
            .map(|place| (place, moves(problem, likeliest, place)))
            .filter(|(_, moves)| *moves > 1e-4)
            .collect();
        // errors of the model are straight
        let straight = |place: usize| matches!(unknowns.list[place], Unknown::Part(_));
        each.sort_by(|a, b| straight(a.0).cmp(&straight(b.0)).then(b.1.total_cmp(&a.1)));
        let bent = each.iter().take_while(|(place, moves)| !straight(*place) && *moves > MOVES).count();
        Followed { places: each.into_iter().map(|(place, _)| place).collect(), bent: bent.min(BENT) }
    }

    /// Polynomials through what was looked at, what is unlikely counting less.
    fn emulator(&self, looked: &[LookedScores], count: usize) -> Option<Emulator> {
        let least = looked.iter().map(|one| one.loss).fold(f64::INFINITY, f64::min);
        // −ln of how likely draws are lies half their number over its least, about
        let room = count as f64;
        let counts: Vec<f64> = (looked.iter())
            .map(|one| (-(one.loss - least - room).max(0.0) / (0.5 * room)).exp().max(1e-3))
            .collect();
        Emulator::of(looked, &counts, &self.places, self.bent)
    }
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
    let mut begin = likeliest.scores.clone();
    target.hold(&mut begin);
    let mut reference = Reference::learnt(likeliest, &seen, &[&begin], 0.0)
        .unwrap_or(Reference { mean: begin.clone(), factor: likeliest.factor.clone() });
    let walk = 2.4 / (seen.len().max(1) as f64).sqrt();
    let mut chains: Vec<WalkingChain> = (0..CHAINS)
        .map(|chain| WalkingChain {
            problem: problem.clone(),
            seed: mix(0xf17 ^ (chain as u64) << 32),
            step: 0,
            scores: begin.clone(),
            loss: f64::INFINITY,
            strides: [0.7, walk],
            made: [0; 2],
            accepted: [0; 2],
            taken: 0,
            shown: vec![0.0; size],
            here: vec![0.0; size],
            looked: Vec::new(),
            draws: Vec::new(),
            room: WayRoom::default(),
        })
        .collect();
    let followed = Followed::of(problem, likeliest, &held);
    let first = FOR_EACH * features(followed.places.len(), followed.bent) as f64 / CHAINS as f64;
    chains.par_iter_mut().for_each(|chain| {
        let WalkingChain { problem, scores, here, .. } = chain;
        chain.loss = target.loss(problem, scores, here);
        for _ in 0..first as usize {
            let mut noise = chain.noise();
            cholesky::backward(&reference.factor, count, &mut noise);
            let mut about: Vec<f64> =
                begin.iter().zip(&noise).map(|(begin, noise)| begin + ABOUT * noise).collect();
            target.hold(&mut about);
            chain.look(&target, &about);
        }
    });
    let gathered = |chains: &mut [WalkingChain]| -> LookedAt {
        chains.iter_mut().flat_map(|chain| std::mem::take(&mut chain.looked)).collect()
    };
    let mut looked = gathered(&mut chains);
    let guide =
        |looked: &[LookedScores]| Some(WayGuide::of(problem, likeliest, followed.emulator(looked, count)?));
    let mut led_by = guide(&looked);
    for (looks, believed) in BEGIN {
        // without polynomials it takes longer to get about
        let looks = if led_by.is_some() { looks } else { 2 * looks };
        let led = (&reference, led_by.as_ref());
        chains.par_iter_mut().for_each(|chain| {
            chain.draws.clear();
            chain.walk(led, &target, looks, |chain, _| {
                chain.draws.push(chain.scores.clone());
                chain.learn_strides();
            });
        });
        let draws: Vec<&Vec<f64>> = chains.iter().flat_map(|chain| &chain.draws[looks / 3..]).collect();
        reference = Reference::learnt(likeliest, &seen, &draws, believed).unwrap_or(reference);
        looked.extend(gathered(&mut chains));
        led_by = guide(&looked);
    }
    for chain in &mut chains {
        chain.count_anew();
    }
    let mut found =
        ChainDraws { draws: Vec::new(), split: f64::NAN, effective: 0.0, accepted: 0.0, steps: 0 };
    let (mut since, mut patience) = (0, PATIENCE);
    for round in 1..=ROUNDS {
        let led = (&reference, led_by.as_ref());
        chains.par_iter_mut().for_each(|chain| {
            chain.walk(led, &target, ROUND, |chain, _| chain.keep(&target));
        });
        since += 1;
        let each = seen.par_iter().map(|index| {
            let numbers: Vec<Vec<f64>> =
                chains.iter().map(|chain| chain.draws.iter().map(|z| z[*index]).collect()).collect();
            agreement(&numbers)
        });
        let each: Vec<Agreement> = each.collect();
        found.split = each.iter().map(|one| one.split).fold(1.0, f64::max);
        found.effective =
            each.iter().map(|one| one.effective).fold((CHAINS * ROUND * since) as f64, f64::min);
        found.steps = ROUND * since;
        let enough = since >= LEAST && found.effective >= ENOUGH * FEWEST && found.split <= 1.02;
        if enough || !go_on(round as f64 / ROUNDS as f64) {
            break;
        }
        if since < patience || round == ROUNDS {
            continue;
        }
        patience *= 2;
        if found.effective < POOR * ENOUGH * FEWEST {
            // learn from all that was looked at since, and begin once more
            let draws: Vec<&Vec<f64>> = chains.iter().flat_map(|chain| &chain.draws).collect();
            reference = Reference::learnt(likeliest, &seen, &draws, 1.0).unwrap_or(reference);
            looked.extend(gathered(&mut chains));
            led_by = guide(&looked);
            for chain in &mut chains {
                chain.count_anew();
            }
            since = 0;
        }
    }
    let taken: usize = chains.iter().map(|chain| chain.taken).sum();
    found.accepted = taken as f64 / (CHAINS * found.steps) as f64;
    found.draws = chains.into_iter().flat_map(|chain| chain.draws).collect();
    found
}
