//! The answers that have a screen of their own and a whole one: which of the two is shown.

use super::short::{Depth, studies};
use super::{compare as layouts, exits as trade, lap as runs, size as sizes};
use crate::study::compare::result::Comparison;
use crate::study::document::Report;

/// Sizes, with the files written.
pub fn size(report: &Report, written: &[String], depth: Depth) -> String {
    match depth {
        Depth::Short if report.sizes.is_some() => studies::of_size(report, written),
        _ => sizes::size(report, written),
    }
}

/// The trade behind an exit size, with the files written.
pub fn exits(report: &Report, written: &[String], depth: Depth) -> String {
    match depth {
        Depth::Short if report.exits.is_some() => studies::of_exits(report, written),
        _ => trade::exits(report, written),
    }
}

/// Layouts side by side, with the files written.
pub fn compare(report: &Report, comparison: &Comparison, written: &[String], depth: Depth) -> String {
    match depth {
        Depth::Short => studies::of_compare(report, comparison, written),
        _ => layouts::compare(report, comparison, written),
    }
}

/// Runs in time, with the files written.
pub fn lap(report: &Report, written: &[String], depth: Depth) -> String {
    match depth {
        Depth::Short => studies::of_lap(report, written),
        _ => runs::lap(report, written),
    }
}
