//! What the study of the exits may cost, and what it has cost so far.
//!
//! Sums of work are looked at between two stages only, never while threads share one, so that what is left out
//! does not depend on which thread comes first.

use crate::point::budget::Budget;
use std::sync::atomic::Ordering::Relaxed;
use std::sync::atomic::{AtomicBool, AtomicU64};
use std::sync::{Mutex, PoisonError};

/// Visits of an element that a search for inlets and a look at one state cost, how many there were, and what may
/// be done.
#[derive(Debug)]
pub(super) struct Meter {
    whole: Budget,
    fits: Sum,
    states: Sum,
    other: AtomicU64,
    cut: AtomicBool,
    left_out: Mutex<Vec<String>>,
}

#[derive(Debug, Default)]
struct Sum {
    count: AtomicU64,
    work: AtomicU64,
}

impl Sum {
    fn add(&self, work: u64) {
        self.count.fetch_add(1, Relaxed);
        self.work.fetch_add(work, Relaxed);
    }

    fn mean(&self) -> u64 {
        (self.work.load(Relaxed) / self.count.load(Relaxed).max(1)).max(1)
    }
}

/// A search may cost so many times the mean of those before.
const CAP: u64 = 6;
/// Of so many searches one may come to its cap before more is spent than is left.
const AT_THE_CAP: usize = 4;

impl Meter {
    pub fn new(whole: Budget) -> Meter {
        Meter {
            whole,
            fits: Sum::default(),
            states: Sum::default(),
            other: AtomicU64::new(0),
            cut: AtomicBool::new(false),
            left_out: Mutex::new(Vec::new()),
        }
    }

    /// Notes work of another kind.
    pub fn spent(&self, work: u64) {
        self.other.fetch_add(work, Relaxed);
    }

    /// Notes what is left out, in words.
    pub fn leave_out(&self, what: String) {
        self.left_out.lock().unwrap_or_else(PoisonError::into_inner).push(what);
    }

    /// What was left out.
    pub fn left_out(&self) -> Vec<String> {
        self.left_out.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// Notes a search for inlets.
    pub fn fitted(&self, work: u64, cut: bool) {
        self.fits.add(work);
        self.cut.fetch_or(cut, Relaxed);
    }

    /// Notes a look at one state.
    pub fn seen(&self, work: u64) {
        self.states.add(work);
    }

    /// Whether a search was cut short.
    pub fn cut(&self) -> bool {
        self.cut.load(Relaxed)
    }

    pub fn left(&self) -> Budget {
        let mut left = self.whole;
        let other = self.other.load(Relaxed);
        left.spend(self.fits.work.load(Relaxed) + self.states.work.load(Relaxed) + other);
        left
    }

    /// Searches that a share of what is left allows.
    pub fn fits_within(&self, share: f64) -> usize {
        self.left().share(share).times(self.fits.mean())
    }

    /// Looks that a share of what is left allows.
    pub fn states_within(&self, share: f64) -> usize {
        self.left().share(share).times(self.states.mean())
    }

    /// What one of so many searches may cost.
    pub fn cap(&self, searches: usize) -> Budget {
        if self.fits.count.load(Relaxed) == 0 {
            return self.left().share(0.5);
        }
        let usual = Budget::of(CAP * self.fits.mean());
        let most = self.left().each_of(searches.div_ceil(AT_THE_CAP));
        usual.max(self.left().share(0.5).each_of(searches)).min(most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_allows_so_many_more() {
        let meter = Meter::new(Budget::of(1000));
        assert_eq!(meter.cap(10), Budget::of(500));
        meter.fitted(100, false);
        meter.seen(10);
        assert_eq!((meter.left().left(), meter.fits_within(0.5), meter.states_within(1.0)), (890, 4, 89));
        assert_eq!(
            (meter.cap(1), meter.cap(5), meter.cap(1000)),
            (Budget::of(600), Budget::of(445), Budget::of(3))
        );
        meter.fitted(2000, true);
        assert!(meter.left().is_spent() && meter.cut() && meter.fits_within(1.0) == 0);
    }
}
