//! What is asked of the draws, and a model of it near a set of sizes from the few draws that decide.

use super::fleet::{ALL, DrawAsked, MarginPlace, MarginTable, NO_STATE, SizingFleet};

/// A moment whose parts all have so much more (K) than what decides is not looked at.
const FAR: f64 = 60.0;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asks {
    /// All parts at all moments keep so many kelvins.
    All(f64),
    /// One margin, by its place, reaches 0 K.
    One(usize),
}

/// What is asked of how many draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawsWatch {
    pub asks: Asks,
    /// Share of the draws.
    pub share: f64,
}

impl DrawsWatch {
    /// What a draw has over what is asked (K).
    pub fn of(&self, row: &[f64]) -> f64 {
        match self.asks {
            Asks::All(kelvin) => {
                let (cold, margins) = (row[row.len() - 1], &row[..row.len() - 1]);
                (margins.iter().copied().fold(f64::INFINITY, f64::min) - kelvin).min(cold)
            }
            Asks::One(place) => row[place],
        }
    }

    /// Draws that may miss it.
    pub fn may_miss(&self, draws: usize) -> usize {
        (((1.0 - self.share) * draws as f64 + 1e-9) as usize).min(draws.saturating_sub(1))
    }

    /// What the draw that decides has over what is asked (K): not below zero where enough of them keep it.
    pub fn reached(&self, table: &MarginTable) -> f64 {
        let mut all: Vec<f64> = table.rows().map(|row| self.of(row)).collect();
        let place = self.may_miss(all.len());
        *all.select_nth_unstable_by(place, f64::total_cmp).1
    }

    /// Draws that keep what is asked.
    pub fn kept(&self, table: &MarginTable) -> usize {
        table.rows().filter(|row| self.of(row) >= 0.0).count()
    }
}

/// A watch near a set of sizes: the draws about the one that decides.
pub struct Local {
    watch: DrawsWatch,
    pub asked: Vec<DrawAsked>,
    /// What the draw that decides has over the mean of these.
    over: f64,
}

impl Local {
    /// From a table of the first draws at the sizes; so many `near` draws stand for all.
    pub fn new(watch: DrawsWatch, fleet: &SizingFleet, table: &MarginTable, near: usize) -> Local {
        let values: Vec<f64> = table.rows().map(|row| watch.of(row)).collect();
        let mut order: Vec<usize> = (0..values.len()).collect();
        order.sort_by(|a, b| values[*a].total_cmp(&values[*b]).then(a.cmp(b)));
        let place = watch.may_miss(values.len());
        let near = near.min(values.len());
        let from = place.saturating_sub(near / 2).min(values.len() - near);
        let chosen = &order[from..from + near];
        let asked = chosen.iter().map(|draw| DrawAsked {
            draw: *draw,
            moments: moments(watch, fleet.places(), table.row(*draw), values[*draw]),
        });
        let mean = middle(chosen.iter().map(|draw| values[*draw]).collect());
        Local { watch, asked: asked.collect(), over: values[order[place]] - mean }
    }

    /// What the draw that decides would have over what is asked, from rows of those asked for (K).
    pub fn at<'r>(&self, rows: impl Iterator<Item = &'r [f64]>) -> f64 {
        middle(rows.map(|row| self.watch.of(row)).collect()) + self.over
    }
}

/// The moments that may decide for a draw.
pub fn moments(watch: DrawsWatch, places: &[MarginPlace], row: &[f64], value: f64) -> u128 {
    let bit = |place: &MarginPlace| 1_u128.checked_shl(place.of_all as u32).unwrap_or(0);
    match watch.asks {
        Asks::One(place) => bit(&places[place]),
        // where it has no steady state anything may be
        Asks::All(_) if value <= 1.0 - NO_STATE => ALL,
        Asks::All(_) => {
            let near = places.iter().zip(row).filter(|(_, margin)| **margin <= value.max(0.0) + FAR);
            let found = near.fold(0, |all, (place, _)| all | bit(place));
            if found == 0 { ALL } else { found }
        }
    }
}

/// Mean of the middle half: the draws about one that decides, none of which can pull it by itself.
fn middle(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let cut = values.len() / 4;
    let kept = &values[cut..values.len() - cut];
    kept.iter().sum::<f64>() / kept.len().max(1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_that_leaps_does_not_pull_the_middle() {
        assert_eq!(middle(vec![1.0, 2.0, 3.0, 4.0]), 2.5);
        assert_eq!(middle(vec![-1000.0, 2.0, 3.0, 4.0]), 2.5);
        assert_eq!(middle(vec![7.0]), 7.0);
    }

    #[test]
    fn so_many_may_miss() {
        let watch = |share| DrawsWatch { asks: Asks::All(0.0), share };
        assert_eq!(watch(0.9).may_miss(1024), 102);
        assert_eq!(watch(0.9).may_miss(10), 1);
        assert_eq!(watch(0.1).may_miss(1000), 900);
        assert_eq!(watch(1.0).may_miss(64), 0);
    }
}
