//! Margins: parts down, conditions across; conditions down where the page is narrow.

use crate::output::text::beyond::{BEYOND, is_lost};
use crate::output::text::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, paragraph, width,
};
use crate::output::text::{doubt, limits, words};
use crate::point::result::{Band, Condition, PartResult};
use crate::study::document::Report;

/// Conditions that stand side by side.
const ACROSS: usize = 4;
/// Columns of the page below which conditions go down.
const NARROW: usize = 90;
/// Writes the margins of the conditions that are worst, and counts the others.
pub(super) fn write(out: &mut String, report: &Report) {
    let shown = worst(&report.conditions);
    if shown.is_empty() || shown[0].parts.is_empty() {
        return;
    }
    if width() < NARROW {
        down(out, report, &shown)
    } else {
        across(out, report, &shown)
    }
    let banded =
        shown.iter().any(|condition| condition.parts.iter().any(|part| bracket(condition, part).is_some()));
    let mut notes: Vec<String> = limits::for_the_mean(report).into_iter().collect();
    let others = report.conditions.len() - shown.len();
    if others > 0 {
        notes.push(format!("{} less near their limits: --detail.", words::count(others, "more condition")));
    }
    if banded {
        notes.push("In brackets: where it lies 9 times in 10, with what is guessed.".to_string());
    }
    if shown.iter().any(|condition| condition.rpm <= 0.0) {
        notes.push("Engine off: no heat in the long run, but a soak first: slowcorner lap.".to_string());
    }
    if !notes.is_empty() {
        paragraph(out, QUIET, &notes.join(" "));
    }
}

/// The conditions in which some part has least, in the order of the file.
fn worst(conditions: &[Condition]) -> Vec<&Condition> {
    let least = |index: &usize| conditions[*index].least_kelvins();
    let mut order: Vec<usize> = (0..conditions.len()).collect();
    order.sort_by(|a, b| least(a).total_cmp(&least(b)));
    order.truncate(ACROSS);
    order.sort_unstable();
    order.into_iter().map(|index| &conditions[index]).collect()
}

/// Parts that have a limit, with where they stand; others only store heat.
fn limited(condition: &Condition) -> impl Iterator<Item = (usize, &PartResult)> {
    condition.parts.iter().enumerate().filter(|(_, part)| part.has_limit())
}

fn across(out: &mut String, report: &Report, shown: &[&Condition]) {
    let mut columns = vec![(TextColumn::Left, "K below the limit".to_string())];
    columns.extend(shown.iter().map(|condition| (TextColumn::Wrapped, condition.name.clone())));
    let mut table = TextTable::new(columns);
    let mut driving = vec![TextCell::new(QUIET, "")];
    driving.extend(shown.iter().map(|condition| TextCell::new(QUIET, how(condition))));
    table.row(driving);
    for (index, part) in limited(shown[0]) {
        let mut row = vec![TextCell::new(
            STRONG,
            format!("{}, {}", part.name, limits::typed(report, &part.name, part.limit_C)),
        )];
        row.extend(shown.iter().map(|condition| margin(condition, &condition.parts[index])));
        table.row(row);
    }
    table.write(out);
}

fn down(out: &mut String, report: &Report, shown: &[&Condition]) {
    let mut columns = vec![(TextColumn::Wrapped, "K below the limit".to_string())];
    columns.extend(limited(shown[0]).map(|(_, part)| {
        (TextColumn::Wrapped, format!("{}, {}", part.name, limits::typed(report, &part.name, part.limit_C)))
    }));
    let mut table = TextTable::new(columns);
    for condition in shown {
        let mut row = vec![TextCell::new(STRONG, format!("{}, {}", condition.name, how(condition)))];
        row.extend(limited(condition).map(|(_, part)| margin(condition, part)));
        table.row(row);
    }
    table.write(out);
}

/// "74 km/h, 62 %", "standing".
pub(super) fn how(condition: &Condition) -> String {
    let load = words::load_at(condition);
    match condition.speed_m_s {
        speed if speed < 0.1 => format!("standing, {load}"),
        speed => format!("{}, {load}", words::speed(speed)),
    }
}

fn margin(condition: &Condition, part: &PartResult) -> TextCell {
    let missed = words::is_missed(part.flow_margin, part.margin_is);
    let mut text = match part.temperature_margin_K {
        _ if condition.rpm <= 0.0 => return TextCell::new(QUIET, "see lap"),
        _ if beyond_use(condition, part) => BEYOND.to_string(),
        kelvin if missed || kelvin < -0.5 => format!("over {}", words::whole(-kelvin)),
        kelvin if kelvin < 0.5 => "0".to_string(),
        kelvin => format!("+{}", words::whole(kelvin)),
    };
    if let Some(band) = bracket(condition, part) {
        let (low, high) = doubt::ends(&band);
        text.push_str(&format!(" ({low} {})", high.trim_end_matches(" K")));
    }
    if part.below_least {
        text.push_str(", too cold");
    }
    TextCell::new(if missed || (part.below_least && condition.warm) { MISSED } else { PLAIN }, text)
}

/// The band that stands behind a margin: not that of a part beyond any use, but where it may hold for all that.
fn bracket(condition: &Condition, part: &PartResult) -> Option<Band> {
    let shown = condition.rpm > 0.0;
    part.margin_band_K.filter(|band| shown && (!beyond_use(condition, part) || band.p95 > 0.0))
}

/// Whether a temperature only says that the part is lost.
pub(super) fn beyond_use(condition: &Condition, part: &PartResult) -> bool {
    is_lost(std::slice::from_ref(condition), &part.name, part.temperature_C, part.limit_C)
}
