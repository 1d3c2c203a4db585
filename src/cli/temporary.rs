//! Files on their way: beside their place under a name of their own, then renamed into it. None is left where the program
//! is told to stop.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, Once, PoisonError};
use tempfile::NamedTempFile;

/// Those that exist now. Whoever makes, renames or removes one holds the lock; whoever ends the program keeps it.
static THERE: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

fn there() -> MutexGuard<'static, Vec<PathBuf>> {
    THERE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A whole file that has yet to take its place.
pub(super) struct Temporary(NamedTempFile);

impl Temporary {
    /// A file with these bytes, in the folder in which it is to take its place.
    pub fn new(folder: &Path, bytes: &[u8]) -> std::io::Result<Temporary> {
        clear_when_told_to_stop();
        let mut file = {
            let mut there = there();
            let file =
                as_readable_as_any(tempfile::Builder::new().prefix(".slowcorner-")).tempfile_in(folder)?;
            there.push(file.path().to_path_buf());
            file
        };
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        Ok(Temporary(file))
    }

    /// Takes the place of whatever stands there.
    pub fn persist(self, path: &Path) -> std::io::Result<()> {
        let mut there = there();
        there.retain(|known| known != self.0.path());
        self.0.persist(path).map(drop).map_err(|failed| failed.error)
    }

    /// Takes a place in which nothing may stand.
    pub fn persist_new(self, path: &Path) -> std::io::Result<()> {
        let mut there = there();
        there.retain(|known| known != self.0.path());
        self.0.persist_noclobber(path).map(drop).map_err(|failed| failed.error)
    }
}

/// Temporary files are private by nature; a result is as readable as any file that the user makes.
#[cfg(unix)]
fn as_readable_as_any<'b, 'p, 's>(
    builder: &'b mut tempfile::Builder<'p, 's>,
) -> &'b mut tempfile::Builder<'p, 's> {
    use std::os::unix::fs::PermissionsExt;
    // what the user's mask forbids stays forbidden
    builder.permissions(std::fs::Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn as_readable_as_any<'b, 'p, 's>(
    builder: &'b mut tempfile::Builder<'p, 's>,
) -> &'b mut tempfile::Builder<'p, 's> {
    builder
}

/// From here on, being told to stop removes the files on their way first.
pub(super) fn clear_when_told_to_stop() {
    static WATCHED: Once = Once::new();
    WATCHED.call_once(watch);
}

/// Removes every file on its way. None can be made or renamed while the answer is kept.
fn clear() -> MutexGuard<'static, Vec<PathBuf>> {
    let there = there();
    for path in there.iter() {
        let _ = std::fs::remove_file(path);
    }
    there
}

/// Ends by the very signal that came, so that whoever called sees it.
#[cfg(unix)]
fn watch() {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;
    // without the watch a signal ends the program at once, as it does anywhere else
    let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else { return };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            if signal == SIGINT && super::interrupt::keeps() {
                continue;
            }
            let _kept = clear();
            let _ = emulate_default_handler(signal);
        }
    });
}

#[cfg(windows)]
fn watch() {
    /// What a console reports of a program that was told to stop.
    const STOPPED: i32 = 130;
    let _ = ctrlc::set_handler(|| {
        if super::interrupt::keeps() {
            return;
        }
        let _kept = clear();
        std::process::exit(STOPPED);
    });
}

#[cfg(not(any(unix, windows)))]
fn watch() {}
