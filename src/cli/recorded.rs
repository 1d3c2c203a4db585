//! The recorded run that a stint names, read from its file.

use super::Failure;
use super::files::{folder_of, shown};
use crate::case::render::render;
use crate::case::tables as t;
use crate::keys::Values;
use crate::study::lap::record::{self, LARGEST, Record, RecordFaults};
use std::path::{Path, PathBuf};

/// Why a recorded run was not read.
pub(super) enum Unread {
    /// Its file cannot be read.
    File(Failure),
    /// What stands in it cannot be followed.
    Faulty(PathBuf, Box<RecordFaults>),
}

impl Unread {
    /// The refusal, faults shown as those of a case.
    pub fn failure(self) -> Failure {
        match self {
            Unread::File(failure) => failure,
            Unread::Faulty(path, faults) => {
                Failure::Refused(render(faults.faults.list(), &shown(&path), &faults.text))
            }
        }
    }

    /// The same in one line.
    pub fn in_short(&self) -> String {
        match self {
            Unread::File(Failure::Refused(why) | Failure::Failed(why) | Failure::Unsaid(why)) => {
                why.replace('\n', "; ")
            }
            Unread::Faulty(path, faults) => format!("{}, {}", shown(path), faults.in_short()),
        }
    }
}

/// Reads the recorded run of a stint, beside the file that names it where its path is relative; none where it names none.
pub(super) fn read_record(case: &Path, stint: &Values) -> Result<Option<Record>, Unread> {
    let Some(name) = stint.text(&t::TRACE) else { return Ok(None) };
    let path = folder_of(case).join(name);
    let refuse = |code: &'static str, what: &str, way_out: &str| {
        Unread::File(Failure::refused(code, &format!("{}: {what}", shown(&path)), way_out))
    };
    let unreadable = |error: std::io::Error| {
        let way_out = "check trace; its path is taken from the folder of the file that names it";
        refuse("run-unreadable", &format!("cannot be read: {error}"), way_out)
    };
    // looked at before it is opened: opening a pipe waits for whoever writes into it
    let metadata = std::fs::metadata(&path).map_err(unreadable)?;
    if !metadata.is_file() {
        let what = "it is no file, but a folder, a device or a pipe";
        return Err(refuse("run-not-plain", what, "name the CSV file itself"));
    }
    if metadata.len() > LARGEST {
        let (size, most) = (metadata.len() as f64 / 1e6, LARGEST as f64 / 1e6);
        return Err(refuse(
            "run-too-large",
            &format!("it has {size:.0} MB, and at most {most:.0} MB are read"),
            "make several files of it, log at a lower rate, or leave out columns that are not needed",
        ));
    }
    let file = std::fs::File::open(&path).map_err(unreadable)?;
    match record::read(file, &record::NamedColumns::of(stint)) {
        Ok(record) => Ok(Some(record)),
        Err(faults) => Err(Unread::Faulty(path.clone(), faults)),
    }
}
