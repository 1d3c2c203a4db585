//! The verdict in one sentence, and the table of margins.

use super::layout::{KEPT, MISSED, PLAIN, STRONG, TextCell, TextColumn, TextTable};
use super::words::{self, is_missed};
use super::{beyond, limits};
use crate::point::result::{Condition, PartResult};
use crate::study::document::Report;
use crate::thermal::MarginIs;

pub(in crate::output) struct PartInCondition<'r> {
    pub(in crate::output) condition: &'r Condition,
    /// The part there.
    pub(in crate::output) part: &'r PartResult,
}

impl PartInCondition<'_> {
    pub(in crate::output) fn missed(&self) -> bool {
        is_missed(self.part.flow_margin, self.part.margin_is)
    }

    /// Its condition alone.
    fn here(&self) -> &[Condition] {
        std::slice::from_ref(self.condition)
    }

    fn too_cold(&self) -> bool {
        self.part.below_least && self.condition.warm
    }
}

/// A part in every condition.
fn everywhere<'r>(report: &'r Report, index: usize) -> Vec<PartInCondition<'r>> {
    let conditions = report.conditions.iter();
    conditions.filter_map(|c| c.parts.get(index).map(|part| PartInCondition { condition: c, part })).collect()
}

/// Every part of the case that has a limit, in every condition.
pub(in crate::output) fn parts(report: &Report) -> Vec<Vec<PartInCondition<'_>>> {
    every(report, true)
}

fn every(report: &Report, limited: bool) -> Vec<Vec<PartInCondition<'_>>> {
    let Some(first) = report.conditions.first() else { return Vec::new() };
    let parts = first.parts.iter().enumerate().filter(|(_, part)| part.has_limit() == limited);
    parts.map(|(index, _)| everywhere(report, index)).collect()
}

/// "pipes 401 to 655 °C, hottest in straight": parts without a limit, in one line.
pub(in crate::output) fn stores(report: &Report) -> Option<String> {
    let told = every(report, false).into_iter().filter_map(|part| {
        let by = |a: &&PartInCondition, b: &&PartInCondition| {
            a.part.temperature_C.total_cmp(&b.part.temperature_C)
        };
        let (least, most) = (part.iter().min_by(by)?, part.iter().max_by(by)?);
        Some(format!(
            "{} {} to {}, hottest in {}",
            most.part.name,
            words::whole(least.part.temperature_C),
            words::celsius(most.part.temperature_C),
            words::name(&most.condition.name)
        ))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("Stores of heat, of which nothing is asked: {}.", told.join("; ")))
}

/// The condition in which a part comes closest to its limit or goes furthest over it: by air.
pub(in crate::output) fn worst<'a, 'r>(part: &'a [PartInCondition<'r>]) -> Option<&'a PartInCondition<'r>> {
    part.iter().min_by(|a, b| {
        let rank = |at: &PartInCondition| words::rank(at.part.flow_margin, at.part.margin_is);
        let ((a, x), (b, y)) = (rank(a), rank(b));
        a.cmp(&b).then(x.total_cmp(&y))
    })
}

/// The condition in which a part has the fewest kelvins left.
pub(in crate::output) fn fewest_kelvins<'a, 'r>(
    part: &'a [PartInCondition<'r>],
) -> Option<&'a PartInCondition<'r>> {
    part.iter().min_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K))
}

/// Said where no part has a limit that could be held or missed.
const NOTHING_CHECKED: &str = "Nothing is checked: no part has a limit. What the air does stands under --detail; write a [part.NAME] with its limit, and its share of the heat.";

/// How every part fares in every condition, in one sentence; and whether a margin is missed.
pub(in crate::output) fn verdict(report: &Report) -> (String, bool) {
    let parts = parts(report);
    if report.conditions.is_empty() {
        return ("The case names no condition to check.".to_string(), false);
    }
    if parts.is_empty() {
        return (NOTHING_CHECKED.to_string(), true);
    }
    let over: Vec<String> = parts.iter().filter_map(|part| over(part)).collect();
    let cold: Vec<String> = parts.iter().filter_map(|part| cold(part)).collect();
    let faults = over.iter().chain(&cold).cloned().collect::<Vec<_>>().join("; ");
    let all = parts.len();
    let kept = all - over.len();
    let everywhere = match report.conditions.as_slice() {
        [only] => format!("in {}", words::name(&only.name)),
        _ => "in every condition".to_string(),
    };
    let mut text = match (kept, all) {
        (0, 1) => String::new(),
        (0, _) => format!("None of the {all} parts stays below its limit {everywhere}: "),
        (1, 1) => format!("{} stays below its limit {everywhere}; ", words::sentence(&parts[0][0].part.name)),
        (1, _) => format!("1 of {all} parts stays below its limit {everywhere}; "),
        (kept, all) if kept == all => format!("All {all} parts stay below their limit {everywhere}; "),
        (kept, all) => format!("{kept} of {all} parts stay below their limit {everywhere}; "),
    };
    text.push_str(&if faults.is_empty() { closest(&parts) } else { faults });
    text.push('.');
    (words::sentence(&text), !(over.is_empty() && cold.is_empty()))
}

/// The margin that is least, in kelvins.
fn closest(parts: &[Vec<PartInCondition>]) -> String {
    let least = parts.iter().filter_map(|part| fewest_kelvins(part));
    match least.min_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K)) {
        Some(at) => format!(
            "closest to it {} the {} in {}: {}, {}",
            words::is_or_are(&at.part.name),
            at.part.name,
            words::name(&at.condition.name),
            words::margin(at.part.temperature_margin_K),
            words::air(at.part.flow_margin, at.part.margin_is)
        ),
        None => String::new(),
    }
}

/// "the oil is 97 K over in hairpin", and how often else.
fn over(part: &[PartInCondition]) -> Option<String> {
    let missed: Vec<&PartInCondition> = part.iter().filter(|at| at.missed()).collect();
    let hottest =
        missed.iter().min_by(|a, b| a.part.temperature_margin_K.total_cmp(&b.part.temperature_margin_K))?;
    let mut text = format!(
        "the {} {} {} in {}",
        hottest.part.name,
        words::is_or_are(&hottest.part.name),
        beyond::over(hottest.here(), &hottest.part.name, hottest.part.temperature_margin_K),
        words::name(&hottest.condition.name)
    );
    if hottest.part.margin_is == MarginIs::Impossible {
        text.push_str(", where more of the air that comes is no use");
    }
    let others = missed.len() - 1;
    if others > 0 && hottest.part.margin_is == MarginIs::Impossible {
        text.push(',');
    }
    if others == 1 {
        let other = missed.iter().find(|at| at.condition.name != hottest.condition.name);
        text.push_str(&format!(
            " and over in {} too",
            other.map_or(String::new(), |at| words::name(&at.condition.name))
        ));
    } else if others > 1 {
        text.push_str(&format!(" and over in {others} other conditions"));
    }
    Some(text)
}

/// "the oil is 12 K below its lower limit in straight", where the car is warm.
fn cold(part: &[PartInCondition]) -> Option<String> {
    let shortfall = |at: &PartInCondition| at.part.least_C.map_or(0.0, |least| least - at.part.temperature_C);
    let cold: Vec<&PartInCondition> = part.iter().filter(|at| at.too_cold()).collect();
    let coldest = cold.iter().max_by(|a, b| shortfall(a).total_cmp(&shortfall(b)))?;
    let name = &coldest.part.name;
    let (verb, their) = if words::is_plural(name) { ("are", "their") } else { ("is", "its") };
    let short = words::kelvins(shortfall(coldest));
    Some(format!(
        "the {name} {verb} {short} below {their} lower limit in {}",
        words::name(&coldest.condition.name)
    ))
}

/// The margins of every part in every condition: kelvins, then the temperature, then the air.
pub(in crate::output) fn table(report: &Report) -> String {
    let columns = [
        (TextColumn::Wrapped, "part, and condition"),
        (TextColumn::Right, "margin"),
        (TextColumn::Right, "at"),
        (TextColumn::Left, "air"),
        (TextColumn::Wrapped, ""),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for (index, part) in parts(report).iter().enumerate() {
        if index > 0 {
            table.space();
        }
        if let Some(at) = part.first() {
            table.title(TextCell::new(STRONG, title(report, at.part)));
        }
        let worst = worst(part).map(|at| &at.condition.name);
        let fewest = fewest_kelvins(part).map(|at| &at.condition.name);
        for at in part {
            let name = &at.condition.name;
            let mark = match (worst == Some(name), fewest == Some(name)) {
                _ if part.len() == 1 => None,
                (true, true) => Some("worst"),
                (true, false) => Some("least air"),
                (false, true) => Some("fewest kelvins"),
                (false, false) => None,
            };
            table.row(row(at, mark));
        }
    }
    let mut out = String::new();
    table.write(&mut out);
    out
}

/// "oil, limit 114 °C, not below 92 °C, at the cooler return".
pub(in crate::output) fn title(report: &Report, part: &PartResult) -> String {
    let mut title = format!("{}, limit {}", part.name, limits::in_full(report, &part.name, part.limit_C));
    if let Some(least) = part.least_C {
        title.push_str(&format!(", not below {}", words::celsius(least)));
    }
    if let Some(spot) = &part.measured_at {
        title.push_str(&format!(", at the {}", spot.trim_start_matches("the ")));
    }
    title
}

fn row(at: &PartInCondition, mark: Option<&str>) -> Vec<TextCell> {
    let style = if at.missed() { MISSED } else { PLAIN };
    let cold = match (at.part.below_least, at.condition.warm) {
        (true, true) => Some("too cold"),
        (true, false) => Some("still cold"),
        (false, _) => None,
    };
    // no heat in the long run is no answer: what matters is the soak
    let off = (at.condition.rpm <= 0.0).then_some("engine off: see lap");
    let notes: Vec<&str> = mark.into_iter().chain(cold).chain(off).collect();
    vec![
        format!("{KEPT}{KEPT}{}", at.condition.name).into(),
        TextCell::new(style, words::margin(at.part.temperature_margin_K)),
        beyond::celsius(at.here(), &at.part.name, at.part.temperature_C).into(),
        TextCell::new(style, words::air(at.part.flow_margin, at.part.margin_is)),
        TextCell::new(if at.missed() || at.too_cold() { MISSED } else { STRONG }, notes.join(", ")),
    ]
}
