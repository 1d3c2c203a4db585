//! Warnings, gathered by their code.

use super::layout::{QUIET, STRONG, heading, item, paragraph, styled};
use super::words;
use crate::case::Warning;
use std::fmt::Write;

/// All warnings; of several with one code the first in full and the addresses of the others, unless
/// `full` asks for all.
pub(super) fn write(out: &mut String, warnings: &[Warning], full: bool) {
    let warnings = &others(warnings)[..];
    if warnings.is_empty() {
        return;
    }
    heading(out, &format!("Warnings ({})", warnings.len()));
    for code in codes(warnings) {
        let alike: Vec<&Warning> = warnings.iter().filter(|warning| warning.code == code).collect();
        let _ = writeln!(out, "  {}", styled(STRONG, code));
        let told = if full { alike.len() } else { 1 };
        for warning in &alike[..told] {
            let place = warning.place.as_ref().map_or(String::new(), |place| format!("{place}: "));
            item(out, 4, "", &format!("{place}{}", words::on_paper(&warning.message)));
        }
        let others = &alike[told..];
        if !others.is_empty() {
            let places: Vec<&str> = others.iter().filter_map(|warning| warning.place.as_deref()).collect();
            let mut text = format!("and {} like it", others.len());
            if !places.is_empty() {
                let _ = write!(text, ": {}", words::list(&places));
            }
            item(out, 4, "", &text);
        }
    }
}

/// Those that the openings of the knee bring with them, in full; of the case as drawn only the number.
pub(super) fn of_knee(out: &mut String, new: &[Warning], drawn: &[Warning]) {
    told(out, "What the openings of the knee bring with them", new);
    count(out, drawn);
}

/// Those that the sizes found bring with them, in full; of all others only the number.
pub(super) fn of_sizes(out: &mut String, new: &[Warning], all: &[Warning]) {
    let others: Vec<Warning> = all.iter().filter(|warning| !new.contains(warning)).cloned().collect();
    told(out, "What the sizes found bring with them", new);
    count(out, &others);
}

/// Each in full, under a heading.
fn told(out: &mut String, title: &str, list: &[Warning]) {
    if list.is_empty() {
        return;
    }
    heading(out, title);
    for warning in list {
        let place = warning.place.as_ref().map_or(String::new(), |place| format!("{place}: "));
        item(out, 2, "", &format!("{place}{} ({})", words::on_paper(&warning.message), warning.code));
    }
    out.push('\n');
}

/// How many warnings there are and of which codes, where they are told elsewhere.
pub(super) fn count(out: &mut String, warnings: &[Warning]) {
    let warnings = &others(warnings)[..];
    if !warnings.is_empty() {
        let text = format!(
            "{} ({}): `slowcorner check` tells them.",
            words::count(warnings.len(), "warning"),
            codes(warnings).join(", ")
        );
        paragraph(out, QUIET, &text);
    }
}

/// All but what stands at the head of every answer.
fn others(warnings: &[Warning]) -> Vec<Warning> {
    warnings.iter().filter(|warning| !super::frame::MISSING.contains(&warning.code)).cloned().collect()
}

/// The codes in order, each once.
fn codes(warnings: &[Warning]) -> Vec<&str> {
    let mut codes: Vec<&str> = Vec::new();
    for warning in warnings {
        if !codes.contains(&warning.code) {
            codes.push(warning.code);
        }
    }
    codes
}
