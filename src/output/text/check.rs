//! Every condition of a case.

use super::layout::{QUIET, heading, item, paragraph};
use super::margins::{self, PartInCondition};
use super::short::{self, Depth};
use super::way::{self, PressureBudget};
use super::{
    between, condition, defaults, doubt, everywhere, frame, meets, side_by_side, sudden, warnings, words,
};
use crate::study::check::ram_over_fan::{RamOverFan, RamOverFanIs};
use crate::study::document::Report;

/// The check of a case: verdict, margins, where the pressure goes, the conditions side by side,
/// warnings, what the case leaves open, and what was read. In short: what fits on one screen; all of it: each
/// condition in full and every warning as well. `file` is what the case is called, `sizable` whether it says which
/// openings are free.
pub fn check(report: &Report, echoes: &[String], depth: Depth, (file, sizable): (&str, bool)) -> String {
    if depth == Depth::Short {
        return short::check::check(report, file, sizable);
    }
    let detail = depth == Depth::All;
    let mut out = String::new();
    frame::head(&mut out, report);
    let (verdict, missed) = margins::verdict(report);
    frame::verdict(&mut out, &verdict, missed);
    between::write(&mut out, report);
    doubt::beside(&mut out, report);
    if !report.conditions.is_empty() {
        out.push_str(&margins::table(report));
        if let Some(stores) = margins::stores(report) {
            paragraph(&mut out, QUIET, &stores);
        }
        everywhere::write(&mut out, report, depth);
        pressure(&mut out, report);
        heading(&mut out, "Conditions side by side");
        out.push_str(&side_by_side::table(&report.conditions));
        out.push('\n');
        frame::drag_note(&mut out, report.conditions.iter().any(|c| c.cooling_drag_N <= -0.5));
    }
    if detail {
        report.conditions.iter().for_each(|each| condition::block(&mut out, each));
    } else if let Some(error) = report.conditions.iter().map(|c| c.residual).max_by(f64::total_cmp) {
        paragraph(&mut out, QUIET, &format!("Left-over error of the solution: {error:.0e} at most."));
    }
    ram_over_fan(&mut out, &report.ram_over_fan);
    sudden::write(&mut out, &report.sudden_changes);
    meets::stand_off(&mut out, &report.stand_off, detail);
    meets::unwritten(&mut out, &report.unwritten);
    warnings::write(&mut out, &report.warnings, detail);
    defaults::write(&mut out, &report.defaults, detail);
    frame::echoes(&mut out, echoes, detail);
    frame::cautions(&mut out, report.conditions.iter().any(|c| !c.fans.is_empty()));
    out
}

/// From which road speed the ram before each fan pushes more than it does.
fn ram_over_fan(out: &mut String, fans: &[RamOverFan]) {
    if fans.is_empty() {
        return;
    }
    heading(out, "Fan against ram");
    for fan in fans {
        let at = format!("{}, gear {}", words::speed(fan.at_m_s), fan.gear);
        let (ram, push) = (words::pascals(fan.ram_Pa), words::pascals(fan.fan_Pa));
        let inlet = fan.inlet.strip_prefix("passage/").unwrap_or(&fan.inlet);
        let text = match fan.is {
            RamOverFanIs::Never => {
                format!(
                    "pushes more than the ram of {inlet} at every speed; nearest at {at}: {push} against {ram}"
                )
            }
            RamOverFanIs::Always => format!(
                "the ram of {inlet} pushes more at every speed, from {at} on: {ram} against {push}; the fan helps only below"
            ),
            _ => format!("from {at} the ram of {inlet} alone pushes more: {ram} against {push}"),
        };
        item(out, 2, "", &format!("fan in {}: {text}", fan.passage));
    }
}

/// What takes the pressure on the way to each part where it is worst, and what runs backwards.
pub(super) fn pressure(out: &mut String, report: &Report) {
    // where sizes were looked for, only what counts there
    let counts = |at: &PartInCondition| {
        report.sizes.as_ref().is_none_or(|sizes| sizes.at.contains(&at.condition.name))
    };
    let mut parts = margins::parts(report);
    parts.iter_mut().for_each(|part| part.retain(counts));
    let worst: Vec<&PartInCondition> = parts.iter().filter_map(|part| margins::worst(part)).collect();
    if worst.is_empty() {
        return;
    }
    heading(out, "Where the pressure goes, for each part where it is worst");
    let mut chambers = Vec::new();
    for at in worst {
        let passages = way::passages_of(at.condition, &at.part.name);
        if passages.is_empty() {
            item(out, 2, "", &format!("{}: no passage cools it", at.part.name));
        }
        for passage in passages {
            let way = PressureBudget::of(at.condition, passage);
            let through = if passage.name == at.part.name {
                String::new()
            } else {
                format!(" through {}", passage.name)
            };
            let back = if passage.reversed {
                format!("{} flows back; ", way::what_runs_back(at.condition, passage))
            } else {
                String::new()
            };
            let text = format!(
                "{} in {}{through}: {back}{}",
                at.part.name,
                words::name(&at.condition.name),
                way::in_words(&way)
            );
            item(out, 2, "", &text);
            let told = way.takes.iter().take(2).filter_map(|(name, _)| name.strip_prefix("pressure in "));
            chambers.extend(told.map(str::to_string));
        }
    }
    chambers.sort();
    chambers.dedup();
    if !chambers.is_empty() {
        let text = format!(
            "Pressure in {} is what the air still needs to get out: a wider way out lowers it.",
            words::list(&chambers)
        );
        paragraph(out, QUIET, &text);
    }
    side_by_side::write_running_back(out, &side_by_side::running_back(&report.conditions));
}
