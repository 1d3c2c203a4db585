//! What stands under a short screen: the hazard at stake, what else there is to read, and what it does not replace.

use crate::output::text::beyond::holds_oil;
use crate::output::text::layout::{MISSED, QUIET, STRONG, item, paragraph, width, wrap};
use crate::output::text::{address, margins, words};
use crate::point::result::Condition;
use crate::study::compare::result::Comparison;
use crate::study::document::Report;
use crate::warnings::weight::{self, Weight};
use crate::warnings::{CHAMBER_OVER_LIMIT, PANEL_TEMPERATURE, meaning};

/// Warnings that spoil the answer and are printed.
const PRINTED: usize = 5;
/// Warnings of layouts that are printed.
const BROUGHT: usize = 2;
/// Excess over its limit from which oil is a fire hazard (K).
const FIRE: f64 = 20.0;
/// Tip speed from which a wheel asks for a guard strong enough and nobody in its plane (m/s; common practice).
const FAST_TIPS: f64 = 80.0;

/// Oil so far over its limit that nobody is to drive there.
pub(in crate::output::text) fn fire(conditions: &[Condition]) -> Option<String> {
    let oil_over = conditions.iter().flat_map(|condition| {
        let oil =
            condition.parts.iter().filter(|part| holds_oil(std::slice::from_ref(condition), &part.name));
        oil.map(move |part| (condition, part))
    });
    let worst = oil_over.min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
    let (condition, part) = worst.filter(|(_, part)| part.temperature_margin_K < -FIRE)?;
    Some(format!(
        "{} so far over its limit (in {}) is a fire, not a margin: do not drive it so.",
        words::sentence(&part.name),
        words::name(&condition.name)
    ))
}

/// The one hazard that the answer touches.
pub(super) fn hazard(report: &Report) -> Option<String> {
    let conditions = &report.conditions;
    if let Some(fire) = fire(conditions) {
        return Some(fire);
    }
    let fans = conditions.iter().flat_map(|condition| &condition.fans);
    let fastest = fans.filter_map(|fan| Some((fan, fan.tip_speed_m_s?))).max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((fan, tips)) = fastest.filter(|(_, tips)| *tips > FAST_TIPS) {
        return Some(format!(
            "Blade tips of the fan in {} reach {} m/s: a guard that holds a broken blade, and nobody in its plane.",
            fan.passage,
            words::whole(tips)
        ));
    }
    let wakes = conditions.iter().filter(|condition| condition.rpm <= 0.0).flat_map(|c| &c.fans);
    if let Some(fan) = wakes.into_iter().find(|fan| fan.rpm > 0.0) {
        return Some(format!(
            "The fan in {} turns with the engine off, and may start by itself: pull its fuse before a hand goes in.",
            fan.passage
        ));
    }
    // a chamber with a limit of its own is told by that
    let is_hot = |name: &str| {
        let place = format!("chamber/{name}");
        report.warnings.iter().any(|w| w.code == PANEL_TEMPERATURE && w.place.as_deref() == Some(&place))
    };
    let chambers = conditions
        .iter()
        .flat_map(|condition| condition.chambers.iter().map(move |chamber| (condition, chamber)))
        .filter(|(_, chamber)| is_hot(&chamber.name));
    let hottest = chambers.max_by(|a, b| a.1.temperature_C.total_cmp(&b.1.temperature_C));
    hottest.map(|(condition, chamber)| {
        format!(
            "Air of {} in {} meets resin that softens at 60 to 80 °C, hoses and fuel lines in {}; hotter still after stopping.",
            words::celsius(chamber.temperature_C),
            chamber.name,
            words::name(&condition.name)
        )
    })
}

/// Chambers whose air is hotter than the limit that was typed for them.
pub(super) fn chambers_over(out: &mut String, report: &Report) {
    for warning in report.warnings.iter().filter(|warning| warning.code == CHAMBER_OVER_LIMIT) {
        let seen = format!("{}.", words::sentence(what_was_seen(&warning.message)));
        // of several conditions the worst is enough where all of them take a second line
        let told = match (seen.split_once(" (in "), seen.split_once("; worst in ")) {
            (Some((begin, _)), Some((_, worst))) if wrap(&seen, width()).len() > 1 => {
                format!("{begin} (worst in {worst}")
            }
            _ => seen,
        };
        paragraph(out, MISSED, &told);
    }
}

/// The same of runs in time: oil far over its limit.
pub(super) fn hazard_of_runs(report: &Report) -> Option<String> {
    let over = report.stints.iter().flat_map(|stint| {
        let parts = stint
            .parts
            .iter()
            .filter(|(name, part)| holds_oil(&report.conditions, name) && part.temperature_margin_K < -FIRE);
        parts.map(move |(name, _)| (stint, name))
    });
    over.into_iter().next().map(|(stint, name)| {
        format!(
            "{} so far over its limit (in \"{}\") is a fire, not a margin: do not drive it so.",
            words::sentence(name),
            stint.name
        )
    })
}

/// Warnings that spoil the answer, each in one line, of the codes that count here. Gives how many codes are not shown.
pub(super) fn spoils(out: &mut String, report: &Report, counts: impl Fn(&str) -> bool) -> usize {
    let missing = crate::output::text::frame::MISSING;
    let spoils: Vec<_> = report
        .warnings
        .iter()
        .filter(|warning| weight::of(warning.code) == Weight::Spoils && counts(warning.code))
        .filter(|warning| !missing.contains(&warning.code))
        .collect();
    let mut codes: Vec<&str> = Vec::new();
    for warning in &spoils {
        if !codes.contains(&warning.code) {
            codes.push(warning.code);
        }
    }
    if codes.is_empty() {
        return 0;
    }
    out.push('\n');
    paragraph(out, STRONG, "Spoils the answer, or shows what does");
    // a chamber over its limit stands above already, and takes a line of the screen
    let over = report.warnings.iter().any(|warning| warning.code == CHAMBER_OVER_LIMIT);
    let printed = PRINTED - usize::from(over);
    for code in codes.iter().take(printed) {
        let alike = spoils.iter().filter(|warning| warning.code == *code).count() - 1;
        let Some(warning) = spoils.iter().find(|warning| warning.code == *code) else { continue };
        let place =
            warning.place.as_ref().map_or(String::new(), |place| format!("{}: ", address::in_words(place)));
        let more = if alike > 0 { format!(" (and {alike} like it)") } else { String::new() };
        in_one_line(out, &format!("{place}{}", what_was_seen(&warning.message)), &more);
    }
    codes.len().saturating_sub(printed)
}

/// What a warning saw, without what to do about it: up to the first semicolon that stands in no brackets.
fn what_was_seen(message: &str) -> &str {
    let mut depth = 0;
    let end = message.char_indices().find(|(_, sign)| {
        depth += i32::from(*sign == '(') - i32::from(*sign == ')');
        *sign == ';' && depth == 0
    });
    &message[..end.map_or(message.len(), |(at, _)| at)]
}

/// What fits into one line under a heading, cut where it is longer.
fn in_one_line(out: &mut String, text: &str, more: &str) {
    let lines = wrap(text, width() - 4 - more.chars().count());
    let cut = if lines.len() > 1 { " …" } else { "" };
    item(out, 2, "", &format!("{}{cut}{more}", lines[0]));
}

/// What layouts bring that the case as drawn does not have, each in one line: the heaviest first, of these what the best one
/// brings.
pub(super) fn brought(out: &mut String, comparison: &Comparison) {
    let layouts = comparison.compare.iter().filter_map(|c| Some((&c.layout, c.answer.as_ref()?)));
    let each = layouts.flat_map(|(layout, answer)| answer.new_warnings.iter().map(move |w| (layout, w)));
    let mut all: Vec<_> = each.filter(|(_, w)| weight::of(w.code) != Weight::Information).collect();
    let best = comparison.ranking.best.as_ref();
    all.sort_by_key(|(layout, warning)| (weight::of(warning.code), Some(*layout) != best));
    if all.is_empty() {
        return;
    }
    out.push('\n');
    let more = match all.len().saturating_sub(BROUGHT) {
        0 => String::new(),
        more => format!(" (and {more} more: --detail)"),
    };
    paragraph(out, STRONG, &format!("What a layout brings with it{more}"));
    for (layout, warning) in all.iter().take(BROUGHT) {
        in_one_line(out, &format!("{layout}: {}", meaning(warning.code)), "");
    }
}

/// Warnings: those that spoil the answer, each in one line; the others counted.
pub(super) fn warnings(out: &mut String, report: &Report) {
    let counted =
        |wanted: Weight| report.warnings.iter().filter(move |warning| weight::of(warning.code) == wanted);
    let unseen = spoils(out, report, |_| true);
    let mut also = Vec::new();
    if unseen > 0 {
        also.push(format!("{unseen} more that spoil it"));
    }
    let look = counted(Weight::LookAt).count();
    if look > 0 {
        also.push(format!("{look} to look at"));
    }
    let information = counted(Weight::Information).count();
    if information > 0 {
        also.push(format!("{information} for information"));
    }
    if !report.defaults.is_empty() {
        also.push(words::count(report.defaults.len(), "value") + " assumed");
    }
    if !also.is_empty() {
        out.push('\n');
        item(out, 0, "Also  ", &format!("{}: --detail", words::list(&also)));
    }
}

/// Files that were written, on one line.
pub(super) fn written(out: &mut String, files: &[String]) {
    if !files.is_empty() {
        item(out, 0, "Written  ", &words::files(files));
    }
}

/// Says where no part has a limit, so that sizes are found for next to nothing.
pub(super) fn nothing_asked(out: &mut String, report: &Report) {
    if margins::parts(report).is_empty() {
        let text = "No part has a limit: no heat is asked to be carried away, so these sizes say nothing of cooling.";
        paragraph(out, MISSED, text);
    }
}

/// What no reckoning replaces.
pub(super) fn estimate(out: &mut String) {
    paragraph(
        out,
        QUIET,
        "An estimate: gauges, the engine maker's limits, the rules and a competent engineer come first. Cautions: --detail",
    );
}
