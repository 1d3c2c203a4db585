//! Ctrl-C: while work is done of which a part is worth something, the first ends the work and keeps that part; any
//! other ends the program.

use super::temporary;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::SeqCst};

static KEEPING: AtomicUsize = AtomicUsize::new(0);
static ASKED: AtomicBool = AtomicBool::new(false);

/// Work of which a part is worth something is being done as long as this lives.
pub(super) struct Keeping;

impl Keeping {
    pub fn new() -> Keeping {
        temporary::clear_when_told_to_stop();
        KEEPING.fetch_add(1, SeqCst);
        Keeping
    }

    /// Whether nobody has asked to stop.
    pub fn go_on(&self) -> bool {
        !ASKED.load(SeqCst)
    }
}

impl Drop for Keeping {
    fn drop(&mut self) {
        KEEPING.fetch_sub(1, SeqCst);
    }
}

/// Takes an interrupt: whether it was meant for the work alone.
pub(super) fn keeps() -> bool {
    KEEPING.load(SeqCst) > 0 && !ASKED.swap(true, SeqCst)
}
