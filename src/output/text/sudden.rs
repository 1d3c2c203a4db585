//! Sudden changes of area: the dearest, and what would help.

use super::layout::{QUIET, heading, item, paragraph};
use super::words;
use crate::study::check::sudden::SuddenChange;

/// The dearest sudden changes of area that nobody wrote.
pub(super) fn write(out: &mut String, changes: &[SuddenChange]) {
    if changes.is_empty() {
        return;
    }
    heading(out, "Sudden changes of area that nobody wrote, the dearest");
    for change in changes {
        item(out, 2, "", &format!("{}; {}", what(change), instead(change)));
    }
    paragraph(
        out,
        QUIET,
        "Charged wherever neighbours differ in area: Borda and Carnot, or a sharp contraction. Where yours is lofted write blended = true.",
    );
}

/// "oil cooler, ram-inlet to core (52 to 290 cm²): widens, 116 Pa in straight".
fn what(change: &SuddenChange) -> String {
    let area = |area: Option<f64>| area.map(words::square_centimetres);
    let areas = match (area(change.area_before_m2), area(change.area_after_m2)) {
        (Some(before), Some(after)) => format!("{before} to {after} cm²"),
        (Some(only), None) | (None, Some(only)) => format!("{only} cm²"),
        (None, None) => String::new(),
    };
    let word = if change.widens { "widens" } else { "narrows" };
    format!(
        "{}, {} to {} ({areas}): {word}, {} in {}",
        change.passage,
        change.behind,
        change.before,
        words::pascals(change.loss_Pa),
        words::name(&change.condition)
    )
}

/// "a diffuser of 240 mm (10°) leaves the oil 9 K cooler in straight, one of 120 mm 6 K".
fn instead(change: &SuddenChange) -> String {
    let mm = |length: f64| format!("{:.0} mm", 1e3 * length);
    let thing = match (change.length_m, change.radius_m) {
        (Some(length), _) => format!("a diffuser of {} (10°)", mm(length)),
        (None, Some(radius)) => format!("an edge of {} radius", mm(radius)),
        (None, None) => return String::new(),
    };
    let (Some(part), Some(condition), Some(fall)) =
        (&change.part, &change.part_condition, change.temperature_fall_K)
    else {
        return format!("{thing} gains no part anything where it is worst");
    };
    let half = match (change.length_m, change.half_length_temperature_fall_K) {
        (Some(length), Some(fall)) => format!(", one of {} by {}", mm(0.5 * length), words::kelvins(fall)),
        _ => String::new(),
    };
    format!("{thing} would cool the {part} in {} by {}{half}", words::name(condition), words::kelvins(fall))
}
