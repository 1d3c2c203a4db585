//! Where searches begin.

use super::Sizing;
use crate::point::opening::Opening;

/// Primes of a sequence that fills a space evenly, one for each axis.
const PRIMES: [usize; 12] = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37];

/// A member of Halton's sequence, 0 to 1 (Halton 1960).
pub(super) fn halton(index: usize, axis: usize) -> f64 {
    let base = PRIMES[axis % PRIMES.len()];
    let (mut left, mut share, mut value) = (index, 1.0, 0.0);
    while left > 0 {
        share /= base as f64;
        value += share * (left % base) as f64;
        left /= base;
    }
    value
}

impl Sizing<'_> {
    /// Between which sizes openings usually end, as logarithms, within the bounds.
    pub(super) fn usual(&self) -> (Vec<f64>, Vec<f64>) {
        let low = self.logs(|v| v.lower.max(1e-3).min(v.upper));
        let high = self.logs(|v| v.upper.min(0.12).max(v.lower));
        (low, high)
    }

    /// Starts that lie well apart: the case as it stands, and small, middling and large inlets with small,
    /// middling and large exits.
    pub(super) fn starts(&self) -> Vec<Vec<f64>> {
        let (low, high) = self.usual();
        let mut starts = vec![self.drawn()];
        let exits: Vec<usize> =
            (0..self.variables.len()).filter(|i| self.is_exit(&self.variables[*i])).collect();
        for exit in [0.85, 0.6, 0.35] {
            for inlet in [0.3, 0.6, 0.85] {
                let share = |i: usize| if exits.contains(&i) { exit } else { inlet };
                let start = (0..low.len()).map(|i| low[i] + (high[i] - low[i]) * share(i));
                starts.push(start.collect());
            }
            // without exits, or without inlets, one in three is enough
        }
        // unequal splits, where several exits are free on their own
        if exits.len() > 1 {
            for chosen in &exits {
                let mut start = starts[2].clone();
                for other in exits.iter().filter(|e| *e != chosen) {
                    start[*other] = self.variables[*other].lower.max(1e-3).ln();
                }
                starts.push(start);
            }
        }
        // where the case has exits alone, or inlets alone, several of these are the same
        let mut distinct: Vec<Vec<f64>> = Vec::new();
        for start in starts {
            let same = |other: &Vec<f64>| other.iter().zip(&start).all(|(a, b)| (a - b).abs() < 1e-9);
            if !distinct.iter().any(same) {
                distinct.push(start);
            }
        }
        distinct
    }

    /// Whether two sets of sizes differ clearly: some opening, or the sum of exits of which only the sum counts,
    /// by so much in the logarithm of its area.
    pub(super) fn clearly_apart(&self, a: &[f64], b: &[f64], clearly: f64) -> bool {
        let groups = self.alike();
        let area = |group: &[usize], point: &[f64]| -> f64 {
            let pieces = |i: usize| self.variables[i].members.iter().map(Opening::open_pieces).sum::<f64>();
            group.iter().map(|i| pieces(*i) * point[*i].exp()).sum()
        };
        groups.iter().any(|group| (area(group, a) / area(group, b)).ln().abs() > clearly)
    }

    /// Variables of which only the sum counts, together; the others alone.
    fn alike(&self) -> Vec<Vec<usize>> {
        let first = |i: usize| self.variables[i].members.first();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for i in 0..self.variables.len() {
            let with = groups.iter_mut().find(|group| match (first(group[0]), first(i)) {
                (Some(a), Some(b)) => super::remarks::only_the_sum_counts(self.case, a, b),
                _ => false,
            });
            match with {
                Some(group) => group.push(i),
                None => groups.push(vec![i]),
            }
        }
        groups
    }

    /// The sizes of the case as a point, within the bounds.
    pub(super) fn drawn(&self) -> Vec<f64> {
        self.logs(|v| v.members.first().map_or(1e-2, Opening::area).clamp(v.lower, v.upper))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn the_sequence_fills_the_unit_interval() {
        let first: Vec<f64> = (1..=4).map(|i| halton(i, 0)).collect();
        assert_eq!(first, [0.5, 0.25, 0.75, 0.125]);
        assert_relative_eq!(halton(2, 1), 2.0 / 3.0);
    }
}
