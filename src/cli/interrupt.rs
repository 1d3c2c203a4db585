//! Whether an interrupt ends the work alone, of which a part is worth something, or the program.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering::SeqCst};

static KEEPING: AtomicUsize = AtomicUsize::new(0);
static ASKED: AtomicBool = AtomicBool::new(false);

/// Work of which a part is worth something begins.
pub(super) fn keeping() {
    KEEPING.fetch_add(1, SeqCst);
}

/// Such work has ended.
pub(super) fn kept() {
    KEEPING.fetch_sub(1, SeqCst);
}

/// Whether somebody has asked to stop.
pub(super) fn asked() -> bool {
    ASKED.load(SeqCst)
}

/// Takes an interrupt: whether it was meant for the work alone.
pub(super) fn keeps() -> bool {
    KEEPING.load(SeqCst) > 0 && !ASKED.swap(true, SeqCst)
}
