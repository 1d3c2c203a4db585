//! How far long work has come and what is left of it, told on a terminal once it has lasted a second.

use std::io::{IsTerminal, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How long work may last in silence.
const SILENT: Duration = Duration::from_secs(1);
/// How often the line is drawn anew.
const EVERY: Duration = Duration::from_millis(200);

/// A line on standard error, in whole per cent, that goes away when this is dropped. Where standard
/// error is no terminal nothing is written.
pub(super) struct Progress {
    per_mille: Arc<AtomicU32>,
    line: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Begins to watch over work, named by what is being done.
    pub fn new(doing: &str) -> Progress {
        let per_mille = Arc::new(AtomicU32::new(0));
        let line = std::io::stderr().is_terminal().then(|| {
            let (done, told) = channel();
            let (doing, share) = (doing.to_string(), Arc::clone(&per_mille));
            let draw = move || {
                let begun = Instant::now();
                let mut wait = SILENT;
                while told.recv_timeout(wait) == Err(RecvTimeoutError::Timeout) {
                    wait = EVERY;
                    let mut terminal = std::io::stderr();
                    // the line is cleared first, so that nothing of a longer one is left
                    let share = share.load(Ordering::Relaxed);
                    let how_far = match share {
                        // work that is not counted
                        0 => String::new(),
                        share => format!(": {} %{}", share / 10, left(begun.elapsed(), share)),
                    };
                    let text = format!("\r\x1b[K{doing}{how_far} …");
                    let _ = terminal.write_all(text.as_bytes()).and_then(|()| terminal.flush());
                }
                if wait == EVERY {
                    let _ = std::io::stderr().write_all(b"\r\x1b[K");
                }
            };
            (done, std::thread::spawn(draw))
        });
        Progress { per_mille, line }
    }

    /// Tells which share is done; it never goes back.
    pub fn share(&self, share: f64) {
        self.per_mille.fetch_max((1000.0 * share.clamp(0.0, 1.0)) as u32, Ordering::Relaxed);
    }
}

/// The time left where so many of a thousand took so long, in words; nothing while too little is done to tell.
fn left(taken: Duration, per_mille: u32) -> String {
    if !(20..1000).contains(&per_mille) {
        return String::new();
    }
    let seconds = taken.as_secs_f64() * f64::from(1000 - per_mille) / f64::from(per_mille);
    match seconds {
        _ if seconds < 1.5 => ", about 1 s left".to_string(),
        _ if seconds < 100.0 => format!(", about {seconds:.0} s left"),
        _ => format!(", about {:.0} min left", seconds / 60.0),
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((done, line)) = self.line.take() {
            let _ = done.send(());
            let _ = line.join();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_told_once_it_can_be_known() {
        let after = |seconds: u64, per_mille: u32| left(Duration::from_secs(seconds), per_mille);
        assert_eq!(after(3, 10), "");
        assert_eq!(after(10, 250), ", about 30 s left");
        assert_eq!(after(100, 100), ", about 15 min left");
        assert_eq!(after(9, 900), ", about 1 s left");
        assert_eq!(after(9, 1000), "");
    }
}
