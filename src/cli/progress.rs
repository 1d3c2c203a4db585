//! How far long work has come, on a terminal only.

use std::io::{IsTerminal, Write};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// Work shorter than this shows nothing.
const SILENT: Duration = Duration::from_secs(1);
/// A line is not written anew more often than this.
const BETWEEN: Duration = Duration::from_millis(100);

/// A line on standard error that says how far the work has come; it is wiped out at the end.
pub(super) struct Progress {
    what: &'static str,
    begun: Instant,
    /// When and up to where it was last shown; none where standard error is no terminal.
    shown: Option<Mutex<(Instant, f64, bool)>>,
}

impl Progress {
    pub fn new(what: &'static str) -> Progress {
        let begun = Instant::now();
        let shown = std::io::stderr().is_terminal().then(|| Mutex::new((begun, 0.0, false)));
        Progress { what, begun, shown }
    }

    /// Tells the share that is done, 0 to 1; from any thread.
    pub fn tell(&self, share: f64) {
        let Some(shown) = &self.shown else { return };
        let Ok(mut shown) = shown.lock() else { return };
        if self.begun.elapsed() < SILENT || shown.0.elapsed() < BETWEEN || share < shown.1 {
            return;
        }
        *shown = (Instant::now(), share, true);
        let _ = write!(std::io::stderr(), "\r{}: {:3.0} %", self.what, 100.0 * share);
        let _ = std::io::stderr().flush();
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        let written = self.shown.as_ref().and_then(|shown| shown.lock().ok()).is_some_and(|shown| shown.2);
        if written {
            let blank = " ".repeat(self.what.len() + 7);
            let _ = write!(std::io::stderr(), "\r{blank}\r");
            let _ = std::io::stderr().flush();
        }
    }
}
