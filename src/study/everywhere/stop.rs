//! Whether to go on, and how far it is.

use std::sync::atomic::AtomicU64;
use std::sync::atomic::Ordering::Relaxed;

/// What [`SearchWatcher::share`] holds as long as nobody has asked to stop.
const GOES_ON: u64 = u64::MAX;

/// Somebody who hears how far a search is and may end it.
pub(super) struct SearchWatcher<'s> {
    told: &'s (dyn Fn(f64) -> bool + Sync),
    /// The share, as bits, at which it was ended.
    share: AtomicU64,
}

impl<'s> SearchWatcher<'s> {
    pub fn new(told: &'s (dyn Fn(f64) -> bool + Sync)) -> SearchWatcher<'s> {
        SearchWatcher { told, share: AtomicU64::new(GOES_ON) }
    }

    /// Tells which share is done, and whether to go on.
    pub fn told(&self, share: f64) -> bool {
        if !(self.told)(share) && share < 1.0 {
            // the first that is told so
            let _ = self.share.compare_exchange(GOES_ON, share.to_bits(), Relaxed, Relaxed);
        }
        self.goes_on()
    }

    pub fn goes_on(&self) -> bool {
        self.share.load(Relaxed) == GOES_ON
    }

    /// The share after which it was ended.
    pub fn stopped_at(&self) -> Option<f64> {
        Some(self.share.load(Relaxed)).filter(|bits| *bits != GOES_ON).map(f64::from_bits)
    }
}
