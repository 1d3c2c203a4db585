//! Sizes of the free openings.

use super::layout::{
    MISSED, PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph,
};
use super::words::{self, is_missed};
use super::{between, beyond, check, frame, margins, sudden, warnings};
use crate::element::Role;
use crate::point::result::{Condition, PartResult};
use crate::study::document::Report;
use crate::study::size::result::{
    LimitedBy, MadeSmallest, ScaledUnit, SizeBound, SizedOpening, Sizes, SizesHeldBy,
};
use std::collections::BTreeSet;

/// The sizes found for a case: verdict, openings before and after, what limits them, the margins
/// at these sizes, and the files written.
pub(super) fn size(report: &Report, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    let Some(sizes) = &report.sizes else {
        frame::verdict(&mut out, "No sizes were looked for.", true);
        return out;
    };
    frame::verdict(&mut out, &verdict(report, sizes), !sizes.feasible);
    between::write(&mut out, report);
    super::columns::beside(&mut out, report, sizes);
    openings(&mut out, sizes);
    out.push('\n');
    super::columns::table(&mut out, sizes);
    super::columns::hand_cut(&mut out, sizes);
    as_good(&mut out, sizes);
    areas(&mut out, &report.conditions);
    if !sizes.remarks.is_empty() {
        heading(&mut out, "On the way to these sizes");
        for remark in &sizes.remarks {
            let remark = beyond::told(&report.conditions, remark);
            item(&mut out, 2, "", &format!("{}.", words::sentence(&remark).trim_end_matches('.')));
        }
    }
    heading(&mut out, "Margins at these sizes");
    out.push_str(&margins::table(report));
    check::pressure(&mut out, report);
    sudden::write(&mut out, &report.sudden_changes);
    out.push('\n');
    warnings::of_sizes(&mut out, &sizes.new_warnings, &report.warnings);
    paragraph(
        &mut out,
        QUIET,
        "Cut exits before inlets, and stop short of the line: an exit too large can be taped, an inlet too large spills.",
    );
    frame::written(&mut out, written);
    frame::cautions(&mut out, report.conditions.iter().any(|c| !c.fans.is_empty()));
    out
}

/// Whether it can be done, and what was made smallest or stands in the way.
pub(in crate::output) fn verdict(report: &Report, sizes: &Sizes) -> String {
    if !sizes.feasible {
        // of several points of the sweep that stop a part one says it
        let mut swept = BTreeSet::new();
        let told = sizes.limited_by.iter().filter(|limit| limit.at.is_none() || swept.insert(&limit.part));
        let stops: Vec<String> = told.map(|limit| stop(report, limit)).collect();
        let what = if stops.is_empty() { String::new() } else { format!(": {}", stops.join("; ")) };
        // what counts is told before
        let beside = not_asked(report, |condition| !sizes.at.contains(&condition.name));
        return format!(
            "It cannot be done within the bounds{what}. What follows is the least that comes within 1 K, or 1 % of the heat, of the best that can be had.{beside}"
        );
    }
    let objective = match sizes.smallest {
        MadeSmallest::Drag => format!("{} of cooling drag", words::newtons(sizes.objective)),
        MadeSmallest::Area => {
            format!("{} cm² of free openings in all", words::square_centimetres(sizes.objective))
        }
    };
    let held = held(report, sizes);
    let beside = not_asked(report, |_| true);
    format!("It can be done with {objective}, the least that was found; {held}.{beside}")
}

/// What holds the sizes, as it was tried.
fn held(report: &Report, sizes: &Sizes) -> String {
    let holders: Vec<String> = sizes.limited_by.iter().map(|limit| holder(report, limit)).collect();
    match sizes.held_by {
        _ if !holders.is_empty() => format!("held there by {}", words::list(&holders)),
        Some(SizesHeldBy::Bounds) => "every free opening is as small as allowed".to_string(),
        Some(SizesHeldBy::Drag) => {
            "no margin holds it there, larger and smaller openings cost more drag".to_string()
        }
        Some(SizesHeldBy::Walls) => {
            "no margin holds it there: anything smaller is refused or has no steady state".to_string()
        }
        _ => "no margin and no bound was found that holds it there, and no smaller set that does".to_string(),
    }
}

/// Clearly other sets that do it as well.
fn as_good(out: &mut String, sizes: &Sizes) {
    for set in &sizes.as_good {
        let pieces = |name: &str| {
            let opening = sizes.openings.iter().find(|opening| opening.name == name)?;
            Some(if opening.pieces > 1 { format!("{} × ", opening.pieces) } else { String::new() })
        };
        let areas = set.areas_m2.iter().filter_map(|(name, area)| {
            Some(format!("{name} {}{} cm²", pieces(name)?, words::square_centimetres(*area)))
        });
        let areas: Vec<String> = areas.collect();
        let more = 100.0 * (set.objective - sizes.objective) / sizes.objective.abs().max(f64::MIN_POSITIVE);
        let more = if more.abs() < 0.05 {
            "the same".to_string()
        } else {
            format!("{} % more", words::fixed(more, 1))
        };
        let what = sizes.smallest;
        paragraph(out, PLAIN, &format!("As good: {} ({more} {what}).", words::list(&areas)));
    }
}

fn part_at<'r>(report: &'r Report, limit: &LimitedBy) -> Option<&'r PartResult> {
    let condition = report.conditions.iter().find(|c| c.name == limit.condition)?;
    condition.parts.iter().find(|part| part.name == limit.part)
}

/// "the oil in hairpin (+6 K, 9 % more air than needed)".
fn holder(report: &Report, limit: &LimitedBy) -> String {
    let at_part = part_at(report, limit).map(|p| (p.temperature_margin_K, p.flow_margin, p.margin_is));
    let at_sweep = limit.at.as_ref().map(|at| (at.temperature_margin_K, at.flow_margin, at.margin_is));
    let margin = at_part.or(at_sweep).map_or(String::new(), |(kelvin, flow, is)| {
        format!(" ({}, {})", words::margin(kelvin), words::air(flow, is))
    });
    format!("the {} {}{margin}", limit.part, when(limit))
}

/// "in hairpin", or "at 43 km/h in gear 1".
fn when(limit: &LimitedBy) -> String {
    match (limit.speed_m_s, limit.gear) {
        (Some(speed), Some(gear)) => format!("at {} in gear {gear}", words::speed(speed)),
        _ => format!("in {}", words::name(&limit.condition)),
    }
}

fn stop(report: &Report, limit: &LimitedBy) -> String {
    let name = &limit.part;
    let when = when(limit);
    let at_part = part_at(report, limit).map(|p| (p.temperature_margin_K, p.flow_margin, p.margin_is));
    let at_sweep = limit.at.as_ref().map(|at| (at.temperature_margin_K, at.flow_margin, at.margin_is));
    match at_part.or(at_sweep) {
        None => format!("{name} {when} stands in the way"),
        Some((kelvin, flow, is)) if is_missed(flow, is) => {
            let over = beyond::over(&report.conditions, name, kelvin);
            format!("the {name} {} still {over} {when}", words::is_or_are(name))
        }
        Some((kelvin, flow, is)) => format!(
            "the {name} {} hardly further than {} from the limit {when}, {}",
            if words::is_plural(name) { "get" } else { "gets" },
            words::kelvins(kelvin),
            words::air(flow, is)
        ),
    }
}

/// " Not asked for, and over: oil in queue (12 K over).": parts over their limit in conditions that did not count, of those that are
/// to be told; nothing where there are none.
fn not_asked(report: &Report, is_told: impl Fn(&Condition) -> bool) -> String {
    let missed = report.conditions.iter().filter(|condition| is_told(condition)).flat_map(|condition| {
        let parts = condition.parts.iter().filter(|p| is_missed(p.flow_margin, p.margin_is));
        parts.map(move |part| {
            let here = std::slice::from_ref(condition);
            let by = beyond::over(here, &part.name, part.temperature_margin_K);
            format!("{} in {} ({by})", part.name, words::name(&condition.name))
        })
    });
    match words::list(&missed.collect::<Vec<_>>()) {
        none if none.is_empty() => none,
        over => format!(" Not asked for, and over: {over}."),
    }
}

pub(super) fn openings(out: &mut String, sizes: &Sizes) {
    let columns = [
        (TextColumn::Wrapped, "opening"),
        (TextColumn::Right, "how many"),
        (TextColumn::Right, "was, cm²"),
        (TextColumn::Right, "becomes, cm²"),
        (TextColumn::Left, "clear size of one"),
        (TextColumn::Wrapped, ""),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    for opening in &sizes.openings {
        let bound = sizes.at_bound.get(&opening.name).copied();
        table.row(vec![
            TextCell::new(STRONG, &opening.name),
            format!("{} ×", opening.pieces).into(),
            words::square_centimetres(opening.before_m2).into(),
            TextCell::new(STRONG, words::square_centimetres(opening.after_m2)),
            of_field(opening, dimensions(opening)).into(),
            TextCell::new(
                if bound == Some(SizeBound::Most) { MISSED } else { PLAIN },
                bound.map_or("", bound_in_words),
            ),
        ]);
    }
    table.write(out);
    goes_with(out, sizes, "");
}

/// Elements that go with an opening, at the sizes of the values taken.
pub(super) fn goes_with(out: &mut String, sizes: &Sizes, at: &str) {
    if !sizes.scaled.is_empty() {
        let scaled = sizes.scaled.iter().map(|number| {
            let show = |value: f64| match number.unit {
                ScaledUnit::SquareMetres => words::area(value),
                ScaledUnit::Metres => format!("{} mm", words::whole(1e3 * value)),
            };
            let address = number.address.trim_start_matches("passage/");
            format!("{address} {} (was {})", show(number.after), show(number.before))
        });
        let scaled: Vec<String> = scaled.collect();
        paragraph(out, PLAIN, &format!("What goes with them{at}: {}.", words::list(&scaled)));
    }
}

/// Of louvres, how large the field is and what of it is open; else the dimensions alone.
pub(in crate::output) fn of_field(opening: &SizedOpening, dimensions: String) -> String {
    match opening.louvres {
        Some(open) => format!("{}; {dimensions}", words::louvred(opening.after_m2, open)),
        None => dimensions,
    }
}

/// "152 × 88 mm", "130 mm across", or how far across a round one of that area is.
fn dimensions(opening: &SizedOpening) -> String {
    let millimetres = |key: &str| opening.lengths_m.get(key).map(|metres| words::whole(metres * 1e3));
    match (millimetres("width"), millimetres("height"), millimetres("diameter")) {
        (Some(width), Some(height), _) => format!("{width} × {height} mm"),
        (_, _, Some(diameter)) => format!("{diameter} mm across"),
        _ => {
            let round = (4.0 * opening.after_m2 / std::f64::consts::PI).sqrt();
            format!("if round, {} mm across", words::whole(round * 1e3))
        }
    }
}

pub(in crate::output) fn bound_in_words(bound: SizeBound) -> &'static str {
    match bound {
        SizeBound::Least => "as small as allowed",
        SizeBound::Most => "as large as allowed",
        SizeBound::Cut => "stays as it is cut",
    }
}

/// Exits against inlets, over the whole car.
fn areas(out: &mut String, conditions: &[Condition]) {
    let (inlets, exits) = (open_area(conditions, false), open_area(conditions, true));
    if inlets > 0.0 && exits > 0.0 {
        let text = format!(
            "All exits {} cm², all cooling inlets {} cm²: {} to 1 (here; no rule).",
            words::square_centimetres(exits),
            words::square_centimetres(inlets),
            words::fixed(exits / inlets, 1)
        );
        paragraph(out, PLAIN, &text);
    }
}

/// Area of all inlets or of all exits (m²), without tape: the largest that any condition leaves open.
fn open_area(conditions: &[Condition], exits: bool) -> f64 {
    let role = |kind| crate::element::kind(kind).map(|kind| kind.role);
    let passages = conditions.first().map_or(0, |condition| condition.passages.len());
    let largest = |index: usize| {
        let each = conditions.iter().filter_map(|condition| {
            let passage = &condition.passages[index];
            let element = if exits { passage.elements.last() } else { passage.elements.first() }?;
            let is_opening = match exits {
                true => role(element.kind) == Some(Role::Exit) && passage.to == "outside",
                false => role(element.kind) == Some(Role::Inlet) && passage.to != "engine",
            };
            is_opening.then_some(element.area_m2? * (element.count * passage.count) as f64)
        });
        each.fold(0.0, f64::max)
    };
    (0..passages).map(largest).sum()
}
