//! Where the pressure goes on the way of the air through a passage, in words.

use super::words;
use crate::output::terms;
pub(in crate::output) use crate::point::pressure_budget::{
    PressureBudget, labels, passages_of, what_runs_back,
};

/// Shares below this are not worth a word beside a larger one.
const WORTH_A_WORD: f64 = 0.2;

/// Pressure below which nothing is said to drive the air (Pa).
const DRIVES: f64 = 0.5;

/// Whether anything worth a word drives air through a passage.
pub(in crate::output) fn is_driven(way: &PressureBudget) -> bool {
    !way.takes.is_empty() && way.total() >= DRIVES
}

/// "of 412 Pa, fins take 61 % and pressure in bay 25 %".
pub(in crate::output) fn in_words(way: &PressureBudget) -> String {
    let total = way.total();
    let Some((first, most)) = way.takes.first() else {
        return "nothing drives air through it".to_string();
    };
    if total < DRIVES {
        return "< 1 Pa drives air through it".to_string();
    }
    let first = terms::of(first);
    let take = if words::is_plural(&first) { "take" } else { "takes" };
    let mut text = format!("of {}, {first} {take} {}", words::pascals(total), words::share(most / total));
    if let Some((second, pascals)) = way.takes.get(1)
        && pascals / total >= WORTH_A_WORD
    {
        text.push_str(&format!(", {} {}", terms::of(second), words::share(pascals / total)));
    }
    text
}
