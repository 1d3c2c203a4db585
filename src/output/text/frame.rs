//! What stands round every result: whose it is, what was read, what was written, what to mind.

use super::layout::{MISSED, QUIET, STRONG, heading, item, paragraph, styled, width, wrap};
use crate::case::Warning;
use crate::study::document::Report;
use std::fmt::Write;

/// Warnings that something has no answer, or not the whole of it.
pub(super) const MISSING: &[&str] =
    &[crate::point::budget::LEFT_OUT, crate::point::budget::STOPPED, "condition-unsolved"];
/// Of these, told in full.
const TOLD: usize = 5;
/// Digits of the case's checksum that are enough to tell two apart.
const CHECKSUM: usize = 12;

/// Title, revision, date, author, checksum, program, and what was set on the command line.
pub(super) fn head(out: &mut String, report: &Report) {
    for line in wrap(title(report), width()) {
        let _ = writeln!(out, "{}", styled(STRONG, &line));
    }
    let mut facts: Vec<String> = Vec::new();
    facts.extend(report.revision.clone());
    facts.extend(report.date.clone());
    facts.extend(report.author.clone());
    facts.push(checksum(report, CHECKSUM));
    facts.push(format!("{} {}", report.program.name, report.program.version));
    paragraph(out, QUIET, &facts.join(" · "));
    what_if(out, report);
    out.push('\n');
    missing(out, report);
}

/// What the case calls itself.
pub(super) fn title(report: &Report) -> &str {
    report.title.as_deref().unwrap_or("A case without a title")
}

/// The first digits of the case's checksum.
pub(super) fn checksum(report: &Report, digits: usize) -> String {
    format!("case {}", report.case_sha256.chars().take(digits).collect::<String>())
}

/// What was set on the command line.
pub(super) fn what_if(out: &mut String, report: &Report) {
    if !report.set.is_empty() {
        let set: Vec<String> =
            report.set.iter().map(|set| format!("{} = {}", set.address, set.value)).collect();
        paragraph(out, STRONG, &format!("What if: {}", set.join("; ")));
    }
}

/// What has no answer, or was left out: before everything else, since the rest does not speak of it.
pub(super) fn missing(out: &mut String, report: &Report) {
    let missing: Vec<&Warning> =
        report.warnings.iter().filter(|warning| MISSING.contains(&warning.code)).collect();
    for warning in missing.iter().take(TOLD) {
        let place = warning.place.as_ref();
        let place = place.map_or(String::new(), |place| format!("{}: ", super::address::in_words(place)));
        paragraph(
            out,
            MISSED,
            &format!("{}.", super::words::sentence(&format!("{place}{}", warning.message))),
        );
    }
    if missing.len() > TOLD {
        paragraph(out, MISSED, &format!("And {} more: --json.", missing.len() - TOLD));
    }
    if !missing.is_empty() {
        out.push('\n');
    }
}

pub(super) fn verdict(out: &mut String, text: &str, missed: bool) {
    paragraph(out, if missed { MISSED } else { STRONG }, text);
    out.push('\n');
}

/// What was read, so that a slip is seen: each a line, or in full.
pub(super) fn echoes(out: &mut String, echoes: &[String], full: bool) {
    if echoes.is_empty() {
        return;
    }
    heading(out, "As it was read");
    let mut cut = false;
    for echo in echoes {
        let lines = wrap(echo, width() - 4);
        match lines.as_slice() {
            [first, second, _, ..] if !full => {
                cut = true;
                let _ = writeln!(out, "  {first}\n  {second} …");
            }
            _ => item(out, 2, "", echo),
        }
    }
    if cut {
        paragraph(out, QUIET, "in full: --all");
    }
}

/// Files that were written.
pub(super) fn written(out: &mut String, files: &[String]) {
    if !files.is_empty() {
        heading(out, "Written");
        for file in files {
            item(out, 2, "", file);
        }
    }
}

/// What no reckoning replaces, and what a closed bay and a fan ask for.
pub(super) fn cautions(out: &mut String, fans: bool) {
    let guard = if fans { " Guard every fan." } else { "" };
    out.push('\n');
    paragraph(
        out,
        QUIET,
        &format!(
            "An estimate. It does not replace temperature gauges, the engine maker's limits, the sporting rules \
             or a competent engineer's judgement. Fire: a closed bay collects fuel and oil; give it a drain, a \
             vent low down and a fuel cut-off in reach. Fumes: seal the bulkhead and fit a carbon monoxide \
             alarm.{guard}"
        ),
    );
}

/// What the figure of the cooling drag holds and what it leaves out.
pub(super) fn drag_note(out: &mut String, thrust: bool) {
    let thrust = if thrust {
        " Below zero is a small thrust: right for a fan that draws air in at rest and blows it out behind."
    } else {
        ""
    };
    paragraph(
        out,
        QUIET,
        &format!(
            "Cooling drag is the momentum that the air loses on its way through. Not in it: spilling round an \
             inlet that is too large, and what the slow air along the skin would have cost anyway.{thrust}"
        ),
    );
}
