//! How much of an answer rests on guesses: what the command line asks for, progress, and stopping half-way.

use super::progress::Progress;
use super::stop::Keeping;
use crate::case::Warning;
use crate::draws::TallyWanted;
use crate::draws::doubt::Doubt;
use crate::point::budget::{Budget, STOPPED, left_out};
use clap::Args;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering::Relaxed;

/// Fewer draws than these say little.
pub(super) const FEWEST_DRAWS: usize = 512;

/// Hears the share of the work that is done, and says whether to go on.
pub(super) type ShareHeard<'t> = dyn Fn(f64) -> bool + Sync + 't;

#[derive(Debug, Args)]
pub(super) struct DrawingArgs {
    /// Leave out how much of the answer rests on guesses
    #[arg(long)]
    plain: bool,
    /// Most draws of the guesses; all of them are made
    #[arg(long, value_name = "NUMBER", conflicts_with = "plain", value_parser = clap::value_parser!(u32).range(16..=1_000_000))]
    draws: Option<u32>,
}

impl DrawingArgs {
    /// Whether doubt is left out.
    pub fn is_plain(&self) -> bool {
        self.plain
    }

    /// Draws that were asked for.
    pub fn asked(&self) -> Option<usize> {
        self.draws.map(|draws| draws as usize)
    }

    /// What is wanted of draws at each of several sizes: so many as were asked for, else at most `most` and what so many
    /// seconds of a common machine allow, where one takes `draw`; none where that is plain or would say little.
    pub fn wanted(&self, most: usize, within: f64, draw: u64) -> Option<TallyWanted> {
        let within = Budget::seconds(within);
        let usual = TallyWanted { most, within, ..TallyWanted::default() };
        match self.draws {
            _ if self.plain => None,
            Some(draws) => Some(TallyWanted { most: draws as usize, all: true, ..usual }),
            None => (within.times(draw) >= FEWEST_DRAWS).then_some(usual),
        }
    }

    /// Tells that doubt was left out, where it was not meant to be.
    pub fn left_out(&self, left: &mut Vec<Warning>) {
        if !self.plain {
            left.push(left_out("how much of the answer rests on guesses was left out; --draws asks for it"));
        }
    }

    /// Makes the draws: so many as were asked for, else as the work allows, where one takes `draw`. What is left out
    /// or was stopped is told.
    pub fn doubt(
        &self,
        usual: TallyWanted,
        draw: u64,
        left: &mut Vec<Warning>,
        make: impl FnOnce(TallyWanted, &ShareHeard) -> Option<Doubt>,
    ) -> Option<Doubt> {
        if self.plain {
            return None;
        }
        let wanted = match self.draws {
            Some(draws) => TallyWanted { most: draws as usize, all: true, ..usual },
            None if usual.within.times(draw) < FEWEST_DRAWS.min(usual.most) => {
                self.left_out(left);
                return None;
            }
            None => usual,
        };
        let work = LongWork::new("drawing");
        let doubt = make(wanted, &|share| work.told(share));
        if let Some(doubt) = doubt.as_ref().filter(|_| work.was_stopped()) {
            left.push(stopped(&format!("after {} of at most {} draws", doubt.draws, wanted.most)));
        }
        doubt
    }
}

/// Long work that may be stopped half-way.
pub(super) struct LongWork {
    progress: Progress,
    keeping: Keeping,
    stopped: AtomicBool,
}

impl LongWork {
    pub fn new(doing: &str) -> LongWork {
        LongWork { progress: Progress::new(doing), keeping: Keeping::new(), stopped: AtomicBool::new(false) }
    }

    /// Tells which share is done, and whether to go on.
    pub fn told(&self, share: f64) -> bool {
        self.progress.share(share);
        let go_on = self.keeping.go_on();
        if !go_on && share < 1.0 {
            self.stopped.store(true, Relaxed);
        }
        go_on
    }

    /// Whether it was stopped before its end.
    pub fn was_stopped(&self) -> bool {
        self.stopped.load(Relaxed)
    }
}

/// The warning that work was stopped by hand.
pub(super) fn stopped(when: &str) -> Warning {
    Warning {
        code: STOPPED,
        message: format!("stopped by hand {when}; what is shown rests on these"),
        place: None,
    }
}
