//! The one place that writes files: each appears whole or not at all, and nothing that somebody made is lost.
//!
//! All targets are tried before the first is written. A file that this run read, or that the case names, is never a
//! target, by whichever link it is reached; nor is a folder, a device or a pipe. A table or a case that already stands
//! there is overwritten only where its [`seal`] says that this program wrote it and nobody changed it since, or where
//! `--replace` allows it.

use super::moved::moved;
use super::temporary::Temporary;
use super::{Failure, seal, terminal};
use crate::case::render::harmless;
use crate::output::charts::{ChartError, Picture};
use rayon::prelude::*;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether this run has written anything.
static WRITTEN: AtomicBool = AtomicBool::new(false);

/// Whether this run has written anything.
pub(super) fn anything_written() -> bool {
    WRITTEN.load(Ordering::Relaxed)
}

/// Files of one run, kept until all of them are made.
pub(super) struct Outputs {
    folder: PathBuf,
    /// Files that stay whatever is asked for.
    read: Vec<PathBuf>,
    replace: bool,
    files: Vec<Output>,
    left_out: Vec<String>,
}

struct Output {
    path: PathBuf,
    bytes: Vec<u8>,
    what: FileContent,
}

/// What a file holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum FileContent {
    /// A chart or a page: made anew each time.
    Picture,
    /// A case.
    Case,
    /// Numbers.
    Table,
}

impl Outputs {
    /// Outputs of a case into a folder, by default that of the case; tried before the work starts, made when it is done.
    /// Files that are `read` stay.
    pub fn of(case: &Path, read: Vec<PathBuf>, into: Option<&Path>) -> Result<Outputs, Failure> {
        let folder = into.map_or_else(|| folder_of(case), Path::to_path_buf);
        let folder = if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder };
        try_folder(&folder)?;
        Ok(Outputs { folder, read, replace: false, files: Vec::new(), left_out: Vec::new() })
    }

    /// The same, and where it is so asked in place of what somebody made.
    pub fn replacing(mut self, replace: bool) -> Outputs {
        self.replace = replace;
        self
    }

    /// Keeps one more file that was read from being overwritten.
    pub fn protect(&mut self, path: &Path) {
        self.read.push(path.to_path_buf());
    }

    /// Tries the place of a case of that name in the folder, before the work starts.
    pub fn try_case(&self, name: &str) -> Result<(), Failure> {
        let path = self.folder.join(name);
        // the folder was tried, and may not be there yet
        if path.symlink_metadata().is_ok() { self.target(&path, FileContent::Case).map(drop) } else { Ok(()) }
    }

    /// Tries the place of a table, before the work starts.
    pub fn try_table(&self, path: &Path) -> Result<(), Failure> {
        self.target(path, FileContent::Table)?;
        try_folder(&parent(path))
    }

    /// Keeps a file for the folder.
    pub fn add(&mut self, name: String, bytes: impl Into<Vec<u8>>) {
        let path = self.folder.join(name);
        self.files.push(Output { path, bytes: bytes.into(), what: FileContent::Picture });
    }

    /// Keeps a copy of a case for the folder; what the case names beside itself is found from there too.
    pub fn add_copy(&mut self, name: &str, text: &str, case: &Path) {
        let moved = moved(text, &parent(case), &self.folder);
        self.add_case(name, &moved);
    }

    /// Keeps a case for the folder, with its seal.
    pub fn add_case(&mut self, name: &str, text: &str) {
        let bytes = seal::sealed_case(text).into_bytes();
        self.files.push(Output { path: self.folder.join(name), bytes, what: FileContent::Case });
    }

    /// Keeps a table for a path of its own, with its seal.
    pub fn add_table(&mut self, path: &Path, text: &str) {
        let bytes = seal::sealed_table(text).into_bytes();
        self.files.push(Output { path: path.to_path_buf(), bytes, what: FileContent::Table });
    }

    /// Keeps a chart for the folder as SVG, and as PNG where that is wanted.
    pub fn add_chart(&mut self, name: &str, chart: &(impl Picture + Sync), png: bool) {
        self.add_charts(&[(name.to_string(), chart)], png);
    }

    /// Keeps several charts, drawn side by side: each picture is work of its own. One that cannot be drawn is left out and
    /// told of: it is no reason to lose the answer.
    pub fn add_charts(&mut self, charts: &[(String, impl Picture + Sync)], png: bool) {
        let kinds = if png { &["svg", "png"][..] } else { &["svg"] };
        let wanted: Vec<_> =
            charts.iter().flat_map(|chart| kinds.iter().map(move |kind| (chart, *kind))).collect();
        let drawn: Vec<Result<Vec<u8>, ChartError>> = wanted
            .par_iter()
            .map(|((_, chart), kind)| match *kind {
                "svg" => chart.svg().map(String::into_bytes),
                _ => chart.png(),
            })
            .collect();
        for (((name, _), kind), picture) in wanted.into_iter().zip(drawn) {
            match picture {
                Ok(picture) => self.add(format!("{name}.{kind}"), picture),
                Err(error) => {
                    let note = format!("note: the picture {name} is left out: {error}");
                    if !self.left_out.contains(&note) {
                        self.left_out.push(note);
                    }
                }
            }
        }
    }

    /// Writes them all, and gives their names.
    pub fn write(self) -> Result<Vec<String>, Failure> {
        let folders = Folders::make(&self.folder)?;
        let mut targets: Vec<PathBuf> = Vec::new();
        for output in &self.files {
            let target = self.target(&output.path, output.what)?;
            if targets.contains(&target) {
                let message = format!("two files of this run would be {}", shown(&output.path));
                return Err(Failure::refused("file-named-twice", &message, "give --csv another name"));
            }
            targets.push(target);
        }
        let mut ready = Vec::new();
        for (output, target) in self.files.iter().zip(targets) {
            let temporary = Temporary::new(&parent(&target), &output.bytes);
            ready.push((
                &output.path,
                temporary.map_err(|error| cannot_write(&output.path, &error))?,
                target,
            ));
        }
        let mut written = Vec::new();
        for (path, temporary, target) in ready {
            temporary.persist(&target).map_err(|error| cannot_write(path, &error))?;
            WRITTEN.store(true, Ordering::Relaxed);
            written.push(shown(path));
        }
        folders.keep();
        for note in &self.left_out {
            terminal::complain(note);
        }
        Ok(written)
    }

    /// Where a file really goes, links followed, if it may go there.
    fn target(&self, path: &Path, what: FileContent) -> Result<PathBuf, Failure> {
        let name = shown(path);
        if path.symlink_metadata().is_err() {
            let folder = parent(path).canonicalize().map_err(|error| cannot_write(path, &error))?;
            return Ok(path.file_name().map_or(folder.clone(), |name| folder.join(name)));
        }
        let metadata = path.metadata().map_err(|error| cannot_write(path, &error))?;
        if !metadata.is_file() {
            let message = format!("{name} is not a plain file, but a folder, a device or a pipe");
            return Err(Failure::refused("file-not-plain", &message, "name a file"));
        }
        if self.read.iter().any(|read| same(read, path)) {
            let message =
                format!("{name} is read by this run, or named by its case, and will not be overwritten");
            return Err(Failure::refused(
                "file-was-read",
                &message,
                "give the new file another name or folder",
            ));
        }
        // numbers are no newer state of a case
        let of_a_case = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
        let (ours, why, way_out) = match what {
            FileContent::Picture => (
                is_picture(path),
                "is there, and is no picture or sheet",
                "give the new file another folder, or move that one away",
            ),
            FileContent::Case | FileContent::Table => (
                seal::is_intact(path) && !(what == FileContent::Table && of_a_case),
                "is there, and was not written there by this program, or was changed since",
                "give the new file another name or folder, move that one away, or let it go with --replace",
            ),
        };
        // what is let go is the file of that name, and not another one behind it
        let is_link = path.symlink_metadata().is_ok_and(|metadata| metadata.is_symlink());
        let refused = match (ours, self.replace) {
            (true, _) => None,
            (false, false) => Some((why, way_out)),
            (false, true) => is_link.then_some((
                "is a link to a file that this program did not write",
                "take the link away, or give the new file another folder: --replace lets go what stands there itself",
            )),
        };
        if let Some((why, way_out)) = refused {
            return Err(Failure::refused("file-kept", &format!("{name} {why}: it is kept"), way_out));
        }
        path.canonicalize().map_err(|error| cannot_write(path, &error))
    }
}

/// Whether a file begins as what this program draws and lays out does (SVG and HTML, PNG, PDF, DXF), or holds nothing; what
/// cannot be read is none.
fn is_picture(path: &Path) -> bool {
    let mut begins = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(8).read_to_end(&mut begins));
    let drawn: [&[u8]; 4] = [b"<", b"\x89PNG", b"%PDF", b"0\n"];
    read.is_ok() && (begins.is_empty() || drawn.iter().any(|magic| begins.starts_with(magic)))
}

/// Folders that were not there before, taken away again unless they are kept.
struct Folders(Vec<PathBuf>);

impl Folders {
    fn make(folder: &Path) -> Result<Folders, Failure> {
        let missing =
            folder.ancestors().take_while(|folder| !folder.as_os_str().is_empty() && !folder.exists());
        let folders = Folders(missing.map(Path::to_path_buf).collect());
        std::fs::create_dir_all(folder).map_err(|error| cannot_write(folder, &error))?;
        Ok(folders)
    }

    fn keep(mut self) {
        self.0.clear();
    }
}

impl Drop for Folders {
    fn drop(&mut self) {
        for folder in &self.0 {
            // one that somebody else has put something into stays
            let _ = std::fs::remove_dir(folder);
        }
    }
}

/// Tries to write into a folder, or into the nearest one above that is there.
fn try_folder(folder: &Path) -> Result<(), Failure> {
    let there = folder.ancestors().find(|above| above.as_os_str().is_empty() || above.exists());
    let there = there.filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    tempfile::tempfile_in(there).map(drop).map_err(|error| cannot_write(folder, &error))
}

/// Writes one file that must not exist yet: whole, or not at all.
pub(super) fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let exists = || {
        let way_out = "name a file that does not exist, or move that one away";
        Failure::refused("file-kept", &format!("{} exists and will not be overwritten", shown(path)), way_out)
    };
    if path.symlink_metadata().is_ok() {
        return Err(exists());
    }
    let file = Temporary::new(&parent(path), text.as_bytes()).map_err(|error| cannot_write(path, &error))?;
    match file.persist_new(path) {
        Ok(()) => WRITTEN.store(true, Ordering::Relaxed),
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => return Err(exists()),
        Err(error) => return Err(cannot_write(path, &error)),
    }
    Ok(())
}

fn cannot_write(path: &Path, error: &std::io::Error) -> Failure {
    let message = format!("cannot write {}: {}", shown(path), without_own_names(error));
    Failure::refused("file-not-writable", &message, "name a folder that is there and that you may write to")
}

/// What went wrong, without the name of the file on its way there, which is nobody's.
fn without_own_names(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" at path \"").next().unwrap_or(&text).to_string()
}

/// Whether two paths lead to one file, by whichever links.
#[cfg(unix)]
fn same(a: &Path, b: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let (Ok(a), Ok(b)) = (a.metadata(), b.metadata()) else { return false };
    (a.dev(), a.ino()) == (b.dev(), b.ino())
}

#[cfg(not(unix))]
fn same(a: &Path, b: &Path) -> bool {
    matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b)
}

/// The folder that a file is in.
fn parent(path: &Path) -> PathBuf {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new(".")).to_path_buf()
}

/// A path as it may be sent to a terminal.
pub(super) fn shown(path: &Path) -> String {
    harmless(&path.display().to_string())
}

/// The name of a case file without its ending.
pub(super) fn stem(path: &Path) -> String {
    path.file_stem().map_or_else(|| "case".to_string(), |stem| stem.to_string_lossy().into_owned())
}

/// The folder in which a case file stands.
pub(super) fn folder_of(path: &Path) -> PathBuf {
    path.parent().map(Path::to_path_buf).unwrap_or_default()
}

/// Names as parts of file names, each but once.
#[derive(Default)]
pub(super) struct Slugs(Vec<String>);

impl Slugs {
    /// Bytes of a name that go into a file's name, which has 255 in all.
    const LONGEST: usize = 120;

    /// A name as part of a file name; `other` where nothing is left of it.
    pub fn of(&mut self, name: &str, other: &str) -> String {
        let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        let text: String = name.chars().map(plain).collect();
        let text = text.split('-').filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-");
        let mut slug = if text.is_empty() { other.to_string() } else { text };
        while slug.len() > Slugs::LONGEST {
            slug.pop();
        }
        while self.0.contains(&slug) {
            slug.push('-');
        }
        self.0.push(slug.clone());
        slug
    }
}
