//! `size`, `exits`, `compare` and `lap` on one screen each.

use super::{foot, head};
use crate::output::text::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, item, paragraph,
};
use crate::output::text::{between, beyond, columns, compare, exits, lap, limits, size, words};
use crate::study::compare::result::{Comparison, LayoutResult, WorseUncounted};
use crate::study::document::Report;
use crate::warnings::meaning;

/// What cutting asks for.
const CUTTING: &str = "Exits before inlets, and short of the line. Cut wet with a P3 mask on, the carburettor covered, nothing live behind the skin.";

/// What a stop does.
const STOPPING: &str = "Resin softens, fuel boils and hoses age in the heat after stopping too: the soak stands under --detail. No lap time is meant.";

/// Sizes: what is cut first, what will do, what holds, and the trap on the way.
pub fn of_size(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    let Some(sizes) = &report.sizes else { return out };
    head(&mut out, report, &format!("sizes for {}", words::list(&sizes.at)));
    foot::nothing_asked(&mut out, report);
    paragraph(&mut out, if sizes.feasible { STRONG } else { MISSED }, &size::verdict(report, sizes));
    // where the sweep counts for the sizes it is told with them
    let swept = sizes.at.iter().any(|name| name == "sweep");
    if !swept || report.between.as_ref().is_some_and(|found| found.over > 0) {
        between::write(&mut out, report);
    }
    columns::beside(&mut out, report, sizes);
    if sizes.columns.is_empty() {
        out.push('\n');
        size::openings(&mut out, sizes);
    } else {
        columns::table(&mut out, sizes);
        size::goes_with(&mut out, sizes, " at the sizes of the values taken");
    }
    out.push('\n');
    if let Some(trap) = sizes.remarks.first() {
        let label = if trap.contains("hot air") { "Trap  " } else { "Note  " };
        let trap = beyond::told(&report.conditions, trap);
        item(&mut out, 0, label, &format!("{}.", words::sentence(&trap).trim_end_matches('.')));
    }
    item(&mut out, 0, "Mind  ", CUTTING);
    let new = sizes.new_warnings.len();
    if new > 0 {
        let mut told: Vec<&str> = sizes.new_warnings.iter().map(|w| meaning(w.code)).collect();
        told.dedup();
        let text =
            format!("these sizes bring {}: {}. --detail", words::count(new, "warning"), told.join("; "));
        item(&mut out, 0, "Also  ", &text);
    }
    foot::written(&mut out, written);
    foot::estimate(&mut out);
    // what stands above a table and what begins one each leave a line of air
    while out.contains("\n\n\n") {
        out = out.replace("\n\n\n", "\n\n");
    }
    out
}

/// The trade behind an exit size: the sizes that have a name, and how often they hold.
pub fn of_exits(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    let Some(found) = &report.exits else { return out };
    head(&mut out, report, "exits");
    let missed = !found.as_drawn.reached_as_drawn;
    foot::nothing_asked(&mut out, report);
    paragraph(&mut out, if missed { MISSED } else { STRONG }, &exits::verdict(found));
    out.push('\n');
    exits::trade(&mut out, found, 0, &report.conditions);
    exits::chances(&mut out, found);
    let mut none_yet = false;
    for (name, area, reason) in exits::sizes(found) {
        // the reason why there is none is told once
        let reason = if none_yet && area.is_none() && name == "knee" { "none either" } else { reason };
        none_yet |= area.is_none();
        let area = area.map_or(String::new(), |area| format!(", {} cm²", words::square_centimetres(area)));
        item(&mut out, 2, "", &format!("{}{area}: {reason}.", words::sentence(name)));
    }
    // the remark that tells of a reversal on the way, where there is one
    let reversal = found.remarks.iter().find(|remark| remark.contains("hot air"));
    if let Some(trap) = reversal {
        out.push('\n');
        let trap = beyond::told(&report.conditions, trap);
        item(&mut out, 0, "Trap  ", &format!("{}.", words::sentence(&trap)));
    }
    out.push('\n');
    item(&mut out, 0, "Mind  ", CUTTING);
    foot::written(&mut out, written);
    foot::estimate(&mut out);
    out
}

/// Layouts: which is better if any, least margins, openings, what each cures and harms.
pub fn of_compare(report: &Report, comparison: &Comparison, written: &[String]) -> String {
    let mut out = String::new();
    head(&mut out, report, if comparison.sized { "layouts, each sized" } else { "layouts, as drawn" });
    if let Some(chances) = &comparison.chances {
        paragraph(&mut out, STRONG, &compare::better(chances));
    }
    if let Some(best) = &comparison.ranking.best {
        paragraph(&mut out, PLAIN, &compare::best_is(best, comparison));
    }
    out.push('\n');
    compare::chances(&mut out, comparison);
    compare::trouble(&mut out, comparison);
    least(&mut out, comparison);
    compare::identical(comparison).iter().for_each(|text| paragraph(&mut out, PLAIN, text));
    between_of(&mut out, comparison);
    uncounted(&mut out, comparison);
    foot::brought(&mut out, comparison);
    foot::written(&mut out, written);
    paragraph(&mut out, QUIET, "Every condition, what differs, and the traps: --detail");
    foot::estimate(&mut out);
    out
}

/// What the sweep finds between the conditions, layout by layout, where it finds anything.
fn between_of(out: &mut String, comparison: &Comparison) {
    let found = comparison.compare.iter().filter_map(|compared| {
        let worst = between::worst_parts(compared.answer.as_ref()?.between.as_ref()?);
        (!worst.is_empty()).then(|| format!("{}: {worst}", compared.layout))
    });
    let found: Vec<String> = found.collect();
    if !found.is_empty() {
        paragraph(
            out,
            PLAIN,
            &format!("Worse between the conditions. {}.", words::sentence(&found.join("; "))),
        );
    }
}

/// What layouts make worse where it does not count.
fn uncounted(out: &mut String, comparison: &Comparison) {
    let found = comparison.compare.iter().filter_map(|compared| {
        let each = compared.answer.as_ref()?.worse_uncounted.iter().map(|worse| {
            let margin = |kelvin: f64| words::margin(kelvin);
            let WorseUncounted { part, condition, temperature_margin_K, base_K } = worse;
            format!("{part} {} in {condition} ({} as drawn)", margin(*temperature_margin_K), margin(*base_K))
        });
        let each: Vec<String> = each.collect();
        (!each.is_empty()).then(|| format!("{}: {}", compared.layout, each.join(", ")))
    });
    let found: Vec<String> = found.collect();
    if !found.is_empty() {
        let told = words::sentence(&found.join("; "));
        paragraph(out, PLAIN, &format!("Worse where it does not count. {told}."));
    }
}

/// The least margin of each part in what counts, and the openings: layouts down.
fn least(out: &mut String, comparison: &Comparison) {
    let solved: Vec<(&str, &LayoutResult)> =
        comparison.compare.iter().filter_map(|c| Some((c.layout.as_str(), c.answer.as_ref()?))).collect();
    let Some((_, first)) = solved.first() else { return };
    let counts = &comparison.ranking.counts;
    let mut columns = vec![(TextColumn::Wrapped, "least margin, K".to_string())];
    let names: Vec<&str> = first.worst.iter().map(|(name, _)| name).collect();
    columns.extend(names.iter().map(|name| (TextColumn::Right, name.to_string())));
    columns.push((TextColumn::Right, "inlets, cm²".into()));
    columns.push((TextColumn::Right, "exits, cm²".into()));
    let mut table = TextTable::new(columns);
    for (layout, answer) in &solved {
        let mut row = vec![TextCell::new(STRONG, *layout)];
        for name in &names {
            let at = answer.conditions.iter().filter(|at| counts.is_empty() || counts.contains(&at.name));
            let parts = at.flat_map(|at| at.parts.iter()).filter(|part| part.name == *name);
            let kelvin = parts.map(|part| part.temperature_margin_K).fold(f64::INFINITY, f64::min);
            let limit = answer.conditions.iter().flat_map(|at| &at.parts).find(|part| part.name == *name);
            let limit = limit.map_or(f64::INFINITY, |part| part.limit_C);
            row.push(match kelvin {
                kelvin if !kelvin.is_finite() => TextCell::from("–"),
                kelvin if beyond::is_lost(&[], name, limit - kelvin, limit) => {
                    TextCell::new(MISSED, beyond::BEYOND)
                }
                kelvin if kelvin < -0.5 => TextCell::new(MISSED, format!("over {}", words::whole(-kelvin))),
                kelvin => TextCell::from(format!("+{}", words::whole(kelvin.max(0.0)))),
            });
        }
        row.push(TextCell::from(words::square_centimetres(answer.opening_area_in_m2)));
        row.push(TextCell::from(words::square_centimetres(answer.opening_area_out_m2)));
        table.row(row);
    }
    table.write(out);
}

/// Runs in time: each stint's verdict and its peaks.
pub fn of_lap(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    head(&mut out, report, &words::count(report.stints.len(), "run"));
    for stint in &report.stints {
        let missed = stint.parts.iter().any(|(_, part)| part.temperature_margin_K < 0.0);
        let style = if missed { MISSED } else { STRONG };
        paragraph(&mut out, style, &format!("{}: {}", words::sentence(&stint.name), lap::verdict(stint)));
        lap::chambers_over(stint).iter().for_each(|text| paragraph(&mut out, MISSED, text));
        lap::assumed(stint).into_iter().for_each(|line| item(&mut out, 2, "", &line));
        lap::all_the_way(&mut out, stint);
        lap::parts(&mut out, report, stint);
        lap::measured(stint).iter().for_each(|line| item(&mut out, 2, "", line));
        if let Some(text) = lap::after_the_end(stint) {
            paragraph(&mut out, PLAIN, &text);
        }
        out.push('\n');
    }
    if let Some(text) = limits::for_the_mean(report) {
        paragraph(&mut out, QUIET, &text);
    }
    if foot::spoils(&mut out, report, |code| code.starts_with("run-")) > 0 {
        paragraph(&mut out, QUIET, "and more of them: --detail");
    }
    if let Some(text) = foot::hazard_of_runs(report) {
        item(&mut out, 0, "Mind  ", &text);
    }
    item(&mut out, 0, "Mind  ", STOPPING);
    lap::without_pipes(report).for_each(|text| item(&mut out, 0, "Note  ", &text));
    foot::written(&mut out, written);
    paragraph(&mut out, QUIET, "Step by step, standing still, and how each run was read: --detail");
    foot::estimate(&mut out);
    out
}
