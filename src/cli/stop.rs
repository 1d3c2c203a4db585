//! Ctrl-C: while work is done of which a part is worth something, the first ends the work and keeps that part; any
//! other ends the program.

use super::{interrupt, temporary};

/// Work of which a part is worth something is being done as long as this lives.
pub(super) struct Keeping;

impl Keeping {
    pub fn new() -> Keeping {
        temporary::clear_when_told_to_stop();
        interrupt::keeping();
        Keeping
    }

    /// Whether nobody has asked to stop.
    pub fn go_on(&self) -> bool {
        !interrupt::asked()
    }
}

impl Drop for Keeping {
    fn drop(&mut self) {
        interrupt::kept();
    }
}
