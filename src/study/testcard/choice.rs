//! Which readings: those that narrow the margin most, one after the other, each given those before it.

use crate::study::doubt::left::BandLeft;
use crate::study::doubt::sample::Sample;

/// A reading must take so much more off half the band (K) to be worth its place; the first few so much: they are taken
/// on one drive, and what contradicts the others is worth something too.
const ADDS: f64 = 1.0;
const ADDS_FIRST: f64 = 0.25;
const FIRST: usize = 6;
/// Readings closer than this (K) are as good as each other: one of a run that is made anyway is taken, or the one that
/// less harm; nor by more than this share of what the best of them takes off.
const EQUAL: f64 = 1.0;
const EQUAL_SHARE: f64 = 0.15;

/// A reading that was chosen.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chosen {
    pub candidate: usize,
    /// What it is worth by itself.
    pub alone: BandLeft,
    /// What half the band is once it and those before it are read (K).
    pub leaves: f64,
    /// What it takes off, given those before it (K).
    pub adds: f64,
}

/// Chooses among some candidates, at most so many; `harm` is the place of their runs in the order of harm.
pub(super) fn choose(
    sample: &Sample,
    allowed: &[usize],
    half: f64,
    most: usize,
    harm: &dyn Fn(usize) -> usize,
) -> Vec<Chosen> {
    let mut open: Vec<usize> = allowed.iter().copied().filter(|index| sample.alive[*index]).collect();
    let mut chosen: Vec<Chosen> = Vec::new();
    let mut taken: Vec<usize> = Vec::new();
    let mut now = half;
    let alone: Vec<(usize, BandLeft)> =
        open.iter().map(|index| (*index, sample.left(half, &[*index]))).collect();
    while chosen.len() < most && !open.is_empty() {
        let leaves = |index: usize| {
            let with: Vec<usize> = taken.iter().copied().chain([index]).collect();
            sample.left(half, &with).leaves_K
        };
        let each: Vec<(usize, f64)> = open.iter().map(|index| (*index, leaves(*index))).collect();
        let least = each.iter().map(|(_, leaves)| *leaves).fold(f64::INFINITY, f64::min);
        if now - least < if chosen.len() < FIRST { ADDS_FIRST } else { ADDS } {
            break;
        }
        let within = EQUAL.min(EQUAL_SHARE * (now - least));
        let equal = each.iter().filter(|(_, leaves)| *leaves <= least + within);
        // no further run for what one of those before tells as well
        let new = |index: usize| taken.iter().all(|known| harm(*known) != harm(index));
        let order = |a: &(usize, f64), b: &(usize, f64)| {
            (new(a.0), harm(a.0)).cmp(&(new(b.0), harm(b.0))).then(a.1.total_cmp(&b.1))
        };
        let Some((best, leaves)) = equal.copied().min_by(order) else { break };
        let Some((_, alone)) = alone.iter().find(|(index, _)| *index == best) else { break };
        chosen.push(Chosen { candidate: best, alone: *alone, leaves, adds: now - leaves });
        taken.push(best);
        open.retain(|index| *index != best);
        now = leaves;
    }
    chosen
}

/// One more that is read whatever it is worth; none where it shows the same in every draw.
pub(super) fn also(sample: &Sample, half: f64, chosen: &[Chosen], candidate: usize) -> Option<Chosen> {
    let with: Vec<usize> = chosen.iter().map(|known| known.candidate).chain([candidate]).collect();
    let before = chosen.last().map_or(half, |last| last.leaves);
    let leaves = sample.left(half, &with).leaves_K.min(before);
    let alone = sample.left(half, &[candidate]);
    sample.alive[candidate].then_some(Chosen { candidate, alone, leaves, adds: before - leaves })
}
