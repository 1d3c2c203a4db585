//! What the pictures of the air show, in short.

use super::layout::{QUIET, paragraph};
use super::short::{self, Depth};
use super::{frame, margins, side_by_side};
use crate::study::document::Report;

/// The verdict, what runs back in the conditions drawn (all where none is named), the air side by side, and the files written.
pub fn air(report: &Report, drawn: &[String], written: &[String], depth: Depth) -> String {
    let mut out = String::new();
    short::begin(&mut out, report, "the air", depth);
    let (verdict, missed) = margins::verdict(report);
    frame::verdict(&mut out, &verdict, missed);
    let shown: Vec<_> = report
        .conditions
        .iter()
        .filter(|condition| drawn.is_empty() || drawn.contains(&condition.name))
        .cloned()
        .collect();
    let back = side_by_side::running_back(&shown);
    if back.is_empty() {
        paragraph(&mut out, QUIET, "Nowhere does the air run backwards.");
    }
    side_by_side::write_running_back(&mut out, &back);
    if depth == Depth::Short {
        short::end(&mut out, written, "Flows, pressures and temperatures, condition by condition: --detail");
        return out;
    }
    out.push('\n');
    out.push_str(&side_by_side::table(&shown));
    frame::written(&mut out, written);
    frame::cautions(&mut out, report.conditions.iter().any(|c| !c.fans.is_empty()));
    out
}
