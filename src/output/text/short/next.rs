//! What to do next: at most three things, each with what it wins and the command or the edit that does it.

use crate::output::text::layout::heading;
use crate::output::text::{command, words};
use crate::study::check::advice::NextStep;

/// So many are told.
const MOST: usize = 3;
/// Longest edit that is written out beside a step.
const LONGEST: usize = 60;

/// A step as it is told: what, what it wins, how.
pub(super) struct NextStepLine {
    pub what: String,
    pub wins: String,
    pub how: String,
}

impl NextStepLine {
    /// A change that was tried; `sizing` tells the command that finds sizes, where the case says which are free.
    pub fn of(step: &NextStep, sizing: &str) -> NextStepLine {
        let wins = words::kelvins_signed(step.least_margin_rise_K);
        let how = match step.set.as_slice() {
            [] => String::new(),
            [one] if one.address.len() + one.value.len() < LONGEST => command::as_set(one),
            _ => sizing.to_string(),
        };
        NextStepLine { what: step.what.clone(), wins, how }
    }
}

/// Writes them.
pub(super) fn write(out: &mut String, steps: &[NextStepLine]) {
    if steps.is_empty() {
        return;
    }
    heading(out, "Do next");
    for (index, step) in steps.iter().take(MOST).enumerate() {
        let wins = match (step.wins.is_empty(), step.how.is_empty()) {
            (true, true) => ".".to_string(),
            (true, false) => ":".to_string(),
            (false, _) => format!(": {}", step.wins),
        };
        let text = format!("{}{wins}", step.what);
        command::under_mark(out, &format!("{}  ", index + 1), &text, &step.how);
    }
}
