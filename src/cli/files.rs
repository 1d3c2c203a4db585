//! The one place that writes files: each appears whole or not at all.

use super::Failure;
use crate::output::charts::{ChartError, Picture};
use rayon::prelude::*;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Files of one run, kept until all of them are made.
pub(super) struct Outputs {
    folder: PathBuf,
    files: Vec<(PathBuf, Vec<u8>)>,
}

impl Outputs {
    /// Outputs into a folder, made where it does not exist; tried before the work starts.
    pub fn into(folder: &Path) -> Result<Outputs, Failure> {
        let folder = if folder.as_os_str().is_empty() { PathBuf::from(".") } else { folder.to_path_buf() };
        let tried = std::fs::create_dir_all(&folder).and_then(|()| tempfile::tempfile_in(&folder));
        tried.map_err(|error| refuse(&folder, &error))?;
        Ok(Outputs { folder, files: Vec::new() })
    }

    /// Keeps a file for the folder.
    pub fn add(&mut self, name: String, bytes: impl Into<Vec<u8>>) {
        self.files.push((self.folder.join(name), bytes.into()));
    }

    /// Keeps a chart for the folder as SVG, and as PNG where that is wanted.
    pub fn add_chart(&mut self, name: &str, chart: &(impl Picture + Sync), png: bool) -> Result<(), Failure> {
        self.add_charts(&[(name.to_string(), chart)], png)
    }

    /// Keeps several charts, drawn side by side: each picture is work of its own.
    pub fn add_charts(&mut self, charts: &[(String, impl Picture + Sync)], png: bool) -> Result<(), Failure> {
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
            let picture = picture.map_err(|error| Failure::Failed(error.to_string()))?;
            self.add(format!("{name}.{kind}"), picture);
        }
        Ok(())
    }

    /// Keeps a file for a path of its own, tried at once.
    pub fn add_path(&mut self, path: &Path, bytes: impl Into<Vec<u8>>) {
        self.files.push((path.to_path_buf(), bytes.into()));
    }

    /// Writes them all. None may take the place of `input`.
    pub fn write(self, input: &Path) -> Result<Vec<String>, Failure> {
        let same = |path: &Path| match (path.canonicalize(), input.canonicalize()) {
            (Ok(a), Ok(b)) => a == b,
            _ => false,
        };
        let mut ready = Vec::new();
        for (path, bytes) in self.files {
            if same(&path) {
                return Err(Failure::Refused(format!(
                    "{} is the case itself and is not written over\nWhat to do: name another folder with --into",
                    path.display()
                )));
            }
            let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
            let mut file = tempfile::Builder::new()
                .prefix(".slowcorner-")
                .tempfile_in(folder)
                .map_err(|error| refuse(&path, &error))?;
            file.write_all(&bytes)
                .and_then(|()| file.as_file().sync_all())
                .map_err(|error| refuse(&path, &error))?;
            open_to_readers(file.as_file()).map_err(|error| refuse(&path, &error))?;
            ready.push((path, file));
        }
        let mut written = Vec::new();
        for (path, file) in ready {
            file.persist(&path).map_err(|error| refuse(&path, &error.error))?;
            written.push(path.display().to_string());
        }
        Ok(written)
    }
}

/// Writes one file that must not exist yet: whole, or not at all.
pub(super) fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let exists = || {
        Failure::Refused(format!(
            "{} exists and is not written over\nWhat to do: name a file that does not exist, or move that one away",
            path.display()
        ))
    };
    if path.symlink_metadata().is_ok() {
        return Err(exists());
    }
    let refuse = |error: std::io::Error| {
        Failure::Refused(format!(
            "cannot write {}: {error}\nWhat to do: name a file in a folder that exists and that you may write to",
            path.display()
        ))
    };
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::Builder::new().prefix(".slowcorner-").tempfile_in(folder).map_err(refuse)?;
    file.write_all(text.as_bytes()).and_then(|()| file.as_file().sync_all()).map_err(refuse)?;
    open_to_readers(file.as_file()).map_err(refuse)?;
    match file.persist_noclobber(path) {
        Ok(_) => Ok(()),
        Err(error) if error.error.kind() == std::io::ErrorKind::AlreadyExists => Err(exists()),
        Err(error) => Err(refuse(error.error)),
    }
}

/// Temporary files are private; a result is as readable as any file the user makes.
#[cfg(unix)]
fn open_to_readers(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn open_to_readers(_file: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}

fn refuse(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Refused(format!(
        "cannot write {}: {error}\nWhat to do: choose a folder you may write to with --into",
        path.display()
    ))
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
    /// A name as part of a file name; `other` where nothing is left of it.
    pub fn of(&mut self, name: &str, other: &str) -> String {
        let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        let text: String = name.chars().map(plain).collect();
        let text = text.split('-').filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-");
        let mut slug = if text.is_empty() { other.to_string() } else { text };
        while self.0.contains(&slug) {
            slug.push('-');
        }
        self.0.push(slug.clone());
        slug
    }
}
