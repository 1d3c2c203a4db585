//! What a report holds, in short.

use super::layout::{QUIET, heading, item, paragraph};
use super::{between, frame, margins, size, words};
use crate::study::everything::Everything;

/// The verdict, what decides it, what could not be run, and the file written.
pub fn report(all: &Everything, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, &all.report);
    if let Some(sizes) = &all.report.sizes {
        frame::verdict(&mut out, &size::verdict(&all.report, sizes), !sizes.feasible);
    }
    let (verdict, missed) = margins::verdict(&all.report);
    frame::verdict(&mut out, &verdict, missed);
    between::write(&mut out, &all.report);
    if let (Some(least), Some(first)) = (&all.deciding.least, all.deciding.assumptions.first()) {
        let text = format!(
            "Least margin where it counts: {}, {} in {}. The guess that decides it: {} ({}), which could take {} off the least margin of all; all guesses, if independent, about {}.",
            words::margin(least.temperature_margin_K),
            least.part,
            words::name(&least.condition),
            first.key,
            words::on_paper(&first.value),
            words::kelvins(first.falls_K),
            words::kelvins(all.deciding.together_falls_K)
        );
        paragraph(&mut out, QUIET, &text);
    }
    if !all.skipped.is_empty() {
        heading(&mut out, "Not in the report");
        for skipped in &all.skipped {
            item(&mut out, 2, "", &format!("{}: {}", skipped.study, skipped.why));
        }
    }
    frame::written(&mut out, written);
    frame::cautions(&mut out, all.report.conditions.iter().any(|c| !c.fans.is_empty()));
    out
}
