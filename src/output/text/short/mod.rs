//! The short screens: the answer first, one table, what to do next, the hazard at stake; all else counted.

pub(super) mod check;
pub(super) mod foot;
mod grid;
mod next;
pub(super) mod studies;

use super::frame;
use super::layout::{QUIET, paragraph};
use crate::study::document::Report;

/// How much a screen shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// The answer, on one screen.
    #[default]
    Short,
    /// The whole of it.
    Detail,
    /// Every row, formula and source as well.
    All,
}

/// Digits of the case's checksum that are enough to tell two apart.
const CHECKSUM: usize = 8;

/// Whose answer it is, in one line; what was set on the command line, and what has no answer.
pub(super) fn head(out: &mut String, report: &Report, state: &str) {
    let mut facts = vec![frame::title(report).to_string()];
    facts.extend(report.revision.clone());
    facts.push(frame::checksum(report, CHECKSUM));
    facts.push(state.to_string());
    paragraph(out, QUIET, &facts.join(" · "));
    frame::what_if(out, report);
    frame::missing(out, report);
    out.push('\n');
}

/// How a screen begins that has a short and a long form.
pub(super) fn begin(out: &mut String, report: &Report, state: &str, depth: Depth) {
    match depth {
        Depth::Short => head(out, report, state),
        _ => frame::head(out, report),
    }
}

/// How a short screen ends: the files written, what else there is to read, and what it does not replace.
pub(super) fn end(out: &mut String, written: &[String], more: &str) {
    out.push('\n');
    foot::written(out, written);
    paragraph(out, QUIET, more);
    foot::estimate(out);
}
