//! Where the unknowns most likely lie, and how sure that is: Gauss-Newton in normal scores.

use super::forward::{Forward, add_beside, counts, operators};
use super::runs::RunResponse;
use super::terms::{ReadingTerm, term};
use super::unknowns::Unknowns;
use crate::numerics::cholesky;
use crate::readings::Reading;

/// A guess counts as seen where readings leave less of its variance, or move its middle by more.
const SEEN: (f64, f64) = (0.97, 0.1);
/// Most steps.
const STEPS: usize = 40;
/// A step of less (in spreads) is none.
const STILL: f64 = 1e-3;
/// How far each score is moved aside for a slope.
const ASIDE: f64 = 0.1;

/// The problem, ready to be looked at anywhere.
#[derive(Clone)]
pub struct Problem<'p> {
    /// Unknowns and readings.
    pub unknowns: &'p Unknowns,
    forward: Forward<'p>,
    operators: Vec<Reading>,
    /// Spread of each reading, with what the bench may not tell.
    own: Vec<f64>,
    /// The same with what readings of runs in time are missed by.
    pub spreads: Vec<f64>,
    /// Readings that say nothing.
    left_out: Vec<usize>,
}

/// Where the unknowns lie most likely.
#[derive(Clone, Debug)]
pub struct Likeliest {
    /// Scores.
    pub scores: Vec<f64>,
    /// What instruments show there.
    pub shown: Vec<f64>,
    /// Slopes of what is shown with the scores, reading by reading.
    pub slopes: Vec<f64>,
    /// Terms of the readings there.
    pub terms: Vec<ReadingTerm>,
    /// Lower factor of the curvature (unit matrix + Σ w J Jᵀ).
    pub factor: Vec<f64>,
    /// Covariance.
    pub covariance: Vec<f64>,
}

impl Likeliest {
    /// Whether readings see an unknown.
    pub fn sees(&self, place: usize) -> bool {
        let count = self.scores.len();
        self.covariance[place * count + place] < SEEN.0 || self.scores[place].abs() > SEEN.1
    }
}

impl<'p> Problem<'p> {
    /// A problem of unknowns and the cars that show what they mean.
    pub fn new(unknowns: &'p Unknowns, mut forward: Forward<'p>) -> Option<Problem<'p>> {
        let operators = operators(&unknowns.readings);
        let mut spreads: Vec<f64> = unknowns.readings.iter().map(|seen| seen.spread).collect();
        // what the bench may not move is not known either: it counts as one more error of its readings
        let count = unknowns.count();
        let mut scores = vec![0.0; count];
        let size = operators.len();
        let (mut here, mut there) = (vec![0.0; size], vec![0.0; size]);
        if (0..size).any(|index| forward.on_the_bench(index))
            && forward.show(&scores, &operators, true, &mut here)
        {
            for coordinate in (0..unknowns.coordinates).filter(|c| forward.is_held(*c)).collect::<Vec<_>>() {
                scores[coordinate] = ASIDE;
                if forward.show(&scores, &operators, true, &mut there) {
                    for index in (0..size).filter(|index| forward.on_the_bench(*index)).collect::<Vec<_>>() {
                        spreads[index] = spreads[index].hypot((there[index] - here[index]) / ASIDE);
                    }
                }
                scores[coordinate] = 0.0;
            }
        }
        let own = spreads;
        Some(
            Problem { unknowns, forward, operators, spreads: own.clone(), own, left_out: Vec::new() }
                .missing(),
        )
    }

    /// The same with what was looked at of runs since.
    pub fn with_runs(mut self, runs: Vec<RunResponse<'p>>) -> Problem<'p> {
        self.forward = self.forward.with_runs(runs);
        self.missing()
    }

    /// The same as if some of the readings had never been taken.
    pub fn without(mut self, left_out: &[usize]) -> Problem<'p> {
        self.left_out = left_out.to_vec();
        self
    }

    fn missing(mut self) -> Problem<'p> {
        self.spreads.clone_from(&self.own);
        for (index, missed) in self.forward.missed() {
            self.spreads[index] = self.spreads[index].hypot(missed);
        }
        self
    }

    /// What instruments show, with what they are off by; whether there is a steady state.
    pub fn show(&mut self, scores: &[f64], shown: &mut [f64]) -> bool {
        let solved = self.forward.show(scores, &self.operators, false, shown);
        add_beside(self.unknowns, scores, shown);
        solved
    }

    /// −ln of how likely the unknowns are there, but for a constant; without end where there is no steady state.
    pub fn loss(&mut self, scores: &[f64], shown: &mut [f64]) -> f64 {
        if !self.show(scores, shown) {
            return f64::INFINITY;
        }
        self.loss_of(scores, shown)
    }

    /// The same where so much is shown.
    pub fn loss_of(&self, scores: &[f64], shown: &[f64]) -> f64 {
        let prior = 0.5 * scores.iter().map(|z| z * z).sum::<f64>();
        prior + self.terms(shown).iter().map(|term| term.loss).sum::<f64>()
    }

    /// The term of each reading.
    pub fn terms(&self, shown: &[f64]) -> Vec<ReadingTerm> {
        let all = self.unknowns.readings.iter().zip(shown).zip(&self.spreads);
        let mut terms: Vec<ReadingTerm> =
            all.map(|((seen, shown), spread)| term(&seen.taken.shown, *shown, *spread)).collect();
        for index in &self.left_out {
            terms[*index] = ReadingTerm { loss: 0.0, slope: 0.0, curve: 0.0 };
        }
        terms
    }

    /// Slopes of all readings at a place, by differences to both sides.
    fn slopes(&mut self, scores: &[f64]) -> Option<Vec<f64>> {
        let (count, size) = (self.unknowns.count(), self.operators.len());
        let mut slopes = vec![0.0; size * count];
        let mut moved = scores.to_vec();
        let (mut below, mut above) = (vec![0.0; size], vec![0.0; size]);
        let mut here = vec![0.0; size];
        if !self.forward.show(scores, &self.operators, false, &mut here) {
            return None;
        }
        for coordinate in (0..self.unknowns.coordinates).filter(|index| counts(self.unknowns, *index)) {
            moved[coordinate] = scores[coordinate] + ASIDE;
            let up = self.forward.show(&moved, &self.operators, false, &mut above);
            moved[coordinate] = scores[coordinate] - ASIDE;
            let down = self.forward.show(&moved, &self.operators, false, &mut below);
            moved[coordinate] = scores[coordinate];
            for index in 0..size {
                slopes[index * count + coordinate] = match (up, down) {
                    (true, true) => (above[index] - below[index]) / (2.0 * ASIDE),
                    (true, false) => (above[index] - here[index]) / ASIDE,
                    (false, true) => (here[index] - below[index]) / ASIDE,
                    (false, false) => 0.0,
                };
            }
        }
        for (index, seen) in self.unknowns.readings.iter().enumerate() {
            seen.beside.iter().for_each(|(unknown, weight)| slopes[index * count + unknown] += weight);
        }
        Some(slopes)
    }

    /// Where the unknowns lie most likely, from the middles of all bands.
    ///
    /// ```text
    ///   (1 + Jᵀ W J) δ = −(z + Jᵀ l')
    /// ```
    ///
    /// z the scores, J the slopes of what is shown, l' and W slopes and curvatures of the readings' terms; steps are
    /// shortened until the loss falls.
    pub fn likeliest(&mut self) -> Option<Likeliest> {
        let (count, size) = (self.unknowns.count(), self.operators.len());
        let mut scores = vec![0.0; count];
        let mut shown = vec![0.0; size];
        let mut loss = self.loss(&scores, &mut shown);
        if !loss.is_finite() {
            return None;
        }
        let mut tried = vec![0.0; size];
        for _ in 0..STEPS {
            let slopes = self.slopes(&scores)?;
            let terms = self.terms(&shown);
            let factor = cholesky::factor(&curvature(&slopes, &terms, count), count)?;
            let mut step: Vec<f64> = scores.iter().map(|z| -z).collect();
            for (index, term) in terms.iter().enumerate() {
                let row = &slopes[index * count..][..count];
                step.iter_mut().zip(row).for_each(|(step, slope)| *step -= slope * term.slope);
            }
            cholesky::solve(&factor, count, &mut step);
            let length = step.iter().map(|x| x * x).sum::<f64>().sqrt();
            let mut share = (3.0 / length).min(1.0);
            let mut fallen = false;
            for _ in 0..12 {
                let next: Vec<f64> = scores.iter().zip(&step).map(|(z, step)| z + share * step).collect();
                let new = self.loss(&next, &mut tried);
                if new < loss {
                    (scores, loss, fallen) = (next, new, true);
                    shown.copy_from_slice(&tried);
                    break;
                }
                share *= 0.5;
            }
            if !fallen || length * share < STILL {
                break;
            }
        }
        let slopes = self.slopes(&scores)?;
        let terms = self.terms(&shown);
        let factor = cholesky::factor(&curvature(&slopes, &terms, count), count)?;
        let covariance = cholesky::inverse(&factor, count);
        Some(Likeliest { scores, shown, slopes, terms, factor, covariance })
    }
}

/// 1 + Σ w J Jᵀ, of readings and unknowns.
pub fn curvature(slopes: &[f64], terms: &[ReadingTerm], count: usize) -> Vec<f64> {
    let mut matrix = vec![0.0; count * count];
    (0..count).for_each(|i| matrix[i * count + i] = 1.0);
    for (row, term) in slopes.chunks_exact(count).zip(terms) {
        for (i, one) in row.iter().enumerate().filter(|(_, slope)| **slope != 0.0) {
            let weight = term.curve * one;
            matrix[i * count..][..count].iter_mut().zip(row).for_each(|(sum, other)| *sum += weight * other);
        }
    }
    matrix
}
