//! Draws of the margin with what every reading shows in them: how much of the one the others explain.

use super::left::BandLeft;
use crate::draws::doubt::band;
use crate::numerics::conditional::{explained, normal_scores};
use crate::numerics::quantiles::Quantiles;
use crate::numerics::sobol_shares::Share;
use crate::point::result::Band;
use std::ops::Range;

/// A difference that is nothing: what reads the same in every draw.
const NOTHING: f64 = 1e-9;

/// The draws.
pub(in crate::study) struct Sample {
    least: Vec<f64>,
    blocks: Vec<Range<usize>>,
    /// Reading by reading: normal scores, where it is likely to be, and whether it says anything.
    scores: Vec<Vec<f64>>,
    pub shows: Vec<Band>,
    pub alive: Vec<bool>,
}

impl Sample {
    /// Of scrambles: margins, and what each of so many readings shows, its own error with it.
    pub fn new(readings: usize, scrambles: impl Iterator<Item = (Vec<f64>, Vec<Vec<f64>>)>) -> Sample {
        let (mut least, mut blocks) = (Vec::new(), Vec::new());
        let mut read: Vec<Vec<f64>> = vec![Vec::new(); readings];
        for (margins, here) in scrambles {
            let from = least.len();
            least.extend(margins);
            blocks.push(from..least.len());
            read.iter_mut().zip(here).for_each(|(all, here)| all.extend(here));
        }
        let shown = |numbers: &Vec<f64>| {
            let mut found = Quantiles::default();
            numbers.iter().for_each(|number| found.add(*number));
            band(&found)
        };
        let shows: Vec<Band> = read.iter().map(shown).collect();
        let tells = |(numbers, shows): (&Vec<f64>, &Band)| {
            numbers.iter().all(|x| x.is_finite()) && shows.p95 - shows.p05 > NOTHING
        };
        Sample {
            alive: read.iter().zip(&shows).map(tells).collect(),
            scores: read.iter().map(|numbers| normal_scores(numbers)).collect(),
            shows,
            least,
            blocks,
        }
    }

    /// Half the band of the margin.
    pub fn half(&self) -> f64 {
        let least = self.least();
        0.5 * (least.p95 - least.p05)
    }

    /// The band of the margin.
    pub fn least(&self) -> Band {
        let mut found = Quantiles::default();
        self.least.iter().for_each(|least| found.add(*least));
        band(&found)
    }

    /// The share of the margin's variance that some readings together explain.
    pub fn explained(&self, readings: &[usize]) -> Share {
        let scores: Vec<&[f64]> = readings.iter().map(|index| &self.scores[*index][..]).collect();
        explained(&self.least, &scores, &self.blocks)
    }

    /// What they would leave of half a band.
    pub fn left(&self, half: f64, readings: &[usize]) -> BandLeft {
        let share = self.explained(readings);
        BandLeft::of(half, share.value, share.error)
    }
}
