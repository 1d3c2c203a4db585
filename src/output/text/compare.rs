//! Layouts side by side.

use super::doubt::how_often;
use super::layout::{KEPT, MISSED, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph};
use super::side_by_side::{SideBySideLine, columns};
use super::{beyond, differences, frame, words};
use crate::case::Warning;
use crate::point::result::{OpeningRole, PartResult};
use crate::study::compare::result::{
    Chances, Compared, Comparison, LayoutInCondition, LayoutInDraws, LayoutPair, LayoutResult, OpeningArea,
    RankedBy, TrapKind,
};
use crate::study::document::Report;
use crate::thermal::MarginIs;

/// Margins closer than this are the same (K).
const SAME: f64 = 0.5;
/// What stands where a layout has no such thing.
const NONE: &str = "–";

/// A comparison as it is told: the case itself stands in it as drawn, or, where each was sized first, as the case sized.
pub fn told(comparison: &Comparison) -> Comparison {
    let mut told = comparison.clone();
    let new = if told.sized { "the case itself" } else { "as drawn" };
    let Some(base) = told.compare.iter_mut().find(|compared| compared.base) else { return told };
    let old = std::mem::replace(&mut base.layout, new.to_string());
    let rename = |name: &mut String| {
        if *name == old {
            *name = new.to_string();
        }
    };
    let ranking = &mut told.ranking;
    ranking.order.iter_mut().chain(&mut ranking.best).chain(&mut ranking.worst).for_each(rename);
    for because in [&mut ranking.best_because, &mut ranking.worst_because] {
        *because = renamed(because, &old, new);
    }
    let least = told.compare.iter().filter_map(|compared| {
        let answer = compared.answer.as_ref()?;
        let least = answer.least.as_ref()?;
        let parts = answer.conditions.iter().flat_map(|at| &at.parts);
        let limit = parts.filter(|part| part.name == least.part).map(|part| part.limit_C).next()?;
        let lost = beyond::is_lost(&[], &least.part, limit - least.temperature_margin_K, limit);
        lost.then(|| format!("{} over", words::kelvins(-least.temperature_margin_K)))
    });
    for figure in least.collect::<Vec<_>>() {
        ranking.best_because = ranking.best_because.replace(&figure, beyond::BEYOND);
        ranking.worst_because = ranking.worst_because.replace(&figure, beyond::BEYOND);
    }
    if let Some(chances) = &mut told.chances {
        chances.order.iter_mut().chain(&mut chances.level).chain(&mut chances.best).for_each(rename);
        chances.pairs.iter_mut().flat_map(|pair| [&mut pair.better, &mut pair.than]).for_each(rename);
    }
    told
}

/// A text in which a word stands for another, layouts in quotation marks left alone.
fn renamed(text: &str, old: &str, new: &str) -> String {
    let words = |text: &str| {
        let each = text.split(' ').map(|word| match word.strip_prefix(old) {
            Some(rest) if rest.chars().all(|sign| sign.is_ascii_punctuation()) => format!("{new}{rest}"),
            _ => word.to_string(),
        });
        each.collect::<Vec<_>>().join(" ")
    };
    let pieces = text.split('"').enumerate();
    let told = pieces.map(|(place, piece)| if place % 2 == 0 { words(piece) } else { piece.to_string() });
    told.collect::<Vec<_>>().join("\"")
}

/// A comparison: the verdict, what differs, the table, the traps, and the files written.
pub(super) fn compare(report: &Report, comparison: &Comparison, written: &[String]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    if let Some(text) = comparison.chances.as_ref().map(better) {
        paragraph(&mut out, STRONG, &text);
        out.push('\n');
    }
    verdict(&mut out, comparison);
    chances(&mut out, comparison);
    trouble(&mut out, comparison);
    table(&mut out, comparison);
    identical(comparison).iter().for_each(|text| paragraph(&mut out, QUIET, text));
    traps(&mut out, comparison);
    new_warnings(&mut out, comparison);
    heading(&mut out, "What differs from the case itself");
    for compared in comparison.compare.iter().filter(|compared| !compared.base) {
        differences::write(&mut out, &compared.layout, &compared.differs);
    }
    out.push('\n');
    let all = comparison.compare.iter().filter_map(|c| c.answer.as_ref()).flat_map(|a| &a.conditions);
    frame::drag_note(&mut out, all.clone().any(|at| at.cooling_drag_N <= -0.5));
    let fans = all.clone().any(|at| at.fan_power_W > 0.0);
    frame::written(&mut out, written);
    frame::cautions(&mut out, fans);
    out
}

/// "Best is own exit: …"; what the draws call stands before it.
pub(super) fn best_is(best: &str, comparison: &Comparison) -> String {
    let best_is = if comparison.chances.is_some() { "With the values taken best is" } else { "Best is" };
    format!("{best_is} {best}: {}.", comparison.ranking.best_because)
}

fn verdict(out: &mut String, comparison: &Comparison) {
    let ranking = &comparison.ranking;
    let Some(best) = &ranking.best else {
        frame::verdict(out, "None of the layouts could be solved.", true);
        return;
    };
    let kept =
        comparison.compare.iter().any(|c| &c.layout == best && c.answer.as_ref().is_some_and(|a| a.kept));
    let mut text = best_is(best, comparison);
    if let Some(worst) = &ranking.worst {
        text.push_str(&format!(" Worst is {worst}: {}.", ranking.worst_because));
    }
    frame::verdict(out, &text, !kept);
    if ranking.order.len() > 2 {
        paragraph(out, QUIET, &format!("From best to worst: {}.", ranking.order.join(", ")));
    }
    let counts: Vec<String> = ranking.counts.iter().map(|name| words::name(name)).collect();
    let by = match ranking.decided_by {
        RankedBy::Drag => "the least drag",
        RankedBy::OpeningArea => "the least area of openings",
        _ => "the least margin in kelvins",
    };
    let text = format!(
        "What counts is {}; between layouts that keep every limit there {by} decides, between others the least margin. {}",
        words::list(&counts),
        if comparison.sized {
            "Each with its openings sized first."
        } else {
            "Each as drawn: --sized sizes its openings first."
        }
    );
    paragraph(out, QUIET, &text);
    out.push('\n');
}

/// "Own exit is better in 97 of 100; the other three are too close to call."
pub(super) fn better(found: &Chances) -> String {
    let Some(best) = &found.best else {
        let all: Vec<String> = found.order.iter().take(1).chain(&found.level).cloned().collect();
        return format!("Too close to call: {}.", words::list(&all));
    };
    let of = |pair: &&LayoutPair| &pair.better == best;
    let least = found.pairs.iter().filter(of).map(|pair| pair.share).fold(1.0, f64::min);
    let in_hundred = words::whole((100.0 * least).floor());
    let mut text = match least >= 1.0 {
        true => format!("{} is better in every draw", words::sentence(best)),
        false => format!("{} is better in {in_hundred} of 100", words::sentence(best)),
    };
    let mut others = found.pairs.iter().filter(|pair| !of(pair)).peekable();
    if others.peek().is_some() && others.all(|pair| pair.too_close) {
        text.push_str("; the others are too close to one another to call");
    }
    text.push('.');
    text
}

/// What the draws say of each layout.
pub(super) fn chances(out: &mut String, comparison: &Comparison) {
    let seen: Vec<(&Compared, &LayoutInDraws)> =
        comparison.compare.iter().filter_map(|c| Some((c, c.seen.as_ref()?))).collect();
    if seen.is_empty() {
        return;
    }
    let columns = [
        (TextColumn::Wrapped, "layout"),
        (TextColumn::Right, "all stay cool"),
        (TextColumn::Right, "least margin, 5 to 95 in 100"),
        (TextColumn::Left, "cures"),
        (TextColumn::Left, "harms"),
    ];
    let mut table = TextTable::new(columns.map(|(column, head)| (column, head.to_string())).to_vec());
    let list = |names: &[String]| if names.is_empty() { NONE.to_string() } else { words::list(names) };
    for (compared, seen) in seen {
        table.row(vec![
            TextCell::new(STRONG, &compared.layout),
            TextCell::from(how_often(seen.all_hold)),
            TextCell::from(super::doubt::span(&seen.least_K)),
            TextCell::from(list(&seen.cures)),
            TextCell::from(list(&seen.harms)),
        ]);
    }
    table.write(out);
    out.push('\n');
}

/// Layouts that cannot be told from another: none of their parts differs by half a kelvin anywhere.
pub(super) fn identical(comparison: &Comparison) -> Vec<String> {
    let same = |a: &LayoutResult, b: &LayoutResult| {
        let parts = |answer: &LayoutResult| -> Vec<f64> {
            let parts = answer.conditions.iter().flat_map(|at| &at.parts);
            parts.filter(|part| part.has_limit()).map(|part| part.temperature_margin_K).collect()
        };
        let (a, b) = (parts(a), parts(b));
        a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| (a - b).abs() < SAME)
    };
    let mut told = Vec::new();
    for (index, later) in comparison.compare.iter().enumerate() {
        let Some(answer) = &later.answer else { continue };
        let earlier = comparison.compare[..index]
            .iter()
            .find(|earlier| earlier.answer.as_ref().is_some_and(|earlier| same(earlier, answer)));
        if let Some(earlier) = earlier {
            let why = if !later.base && later.differs.is_empty() { ": it changes nothing" } else { "" };
            let other = if earlier.base { "the case as drawn" } else { &earlier.layout };
            told.push(format!(
                "{} is the same as {other} to half a kelvin in every condition{why}.",
                words::sentence(&later.layout)
            ));
        }
    }
    told
}

pub(super) fn trouble(out: &mut String, comparison: &Comparison) {
    let troubled: Vec<(&Compared, &String)> =
        comparison.compare.iter().filter_map(|c| c.trouble.as_ref().map(|trouble| (c, trouble))).collect();
    if troubled.is_empty() {
        return;
    }
    for (compared, trouble) in troubled {
        paragraph(out, MISSED, &format!("{}: {trouble}.", compared.layout));
    }
    out.push('\n');
}

/// What a line says of an answer.
type AnswerTell<'a> = dyn Fn(&LayoutResult) -> Option<String> + 'a;

fn table(out: &mut String, comparison: &Comparison) {
    let solved: Vec<(&str, &LayoutResult)> =
        comparison.compare.iter().filter_map(|c| c.answer.as_ref().map(|a| (c.layout.as_str(), a))).collect();
    let line = |name: String, tell: &AnswerTell| SideBySideLine {
        name,
        cells: solved.iter().map(|(_, answer)| tell(answer).unwrap_or_else(|| NONE.to_string())).collect(),
    };
    let each = |of: &dyn Fn(&LayoutResult) -> Vec<String>| {
        let mut names: Vec<String> = Vec::new();
        for (_, answer) in &solved {
            names.extend(of(answer).into_iter().filter(|name| !names.contains(name)).collect::<Vec<_>>());
        }
        names
    };
    let conditions = each(&|answer| answer.conditions.iter().map(|at| at.name.clone()).collect());
    let parts = each(&|answer| answer.worst.iter().map(|(name, _)| name.to_string()).collect());
    let mut groups: Vec<Vec<SideBySideLine>> = Vec::new();
    let of_parts = |what: &str, tell: &dyn Fn(&PartResult) -> String| {
        let mut lines = vec![SideBySideLine::title(what, solved.len())];
        for condition in &conditions {
            for part in &parts {
                lines.push(line(format!("{KEPT}{KEPT}{condition}: {part}"), &|answer| {
                    let at = answer.conditions.iter().find(|at| &at.name == condition)?;
                    at.parts.iter().find(|known| &known.name == part).map(tell)
                }));
            }
        }
        lines
    };
    groups.push(of_parts("temperature, and margin", &|part| {
        let sign = if part.temperature_margin_K >= 0.0 { "+" } else { "" };
        format!("{}, {sign}{} K", words::celsius(part.temperature_C), words::whole(part.temperature_margin_K))
    }));
    groups.push(of_parts("air over what is needed", &air));
    let mut worst = vec![SideBySideLine::title("worst condition", solved.len())];
    for part in &parts {
        worst.push(line(format!("{KEPT}{KEPT}{part}"), &|answer| {
            answer.worst.get(part).map(|w| w.condition.clone())
        }));
    }
    groups.push(worst);
    let mut openings = vec![
        line("openings in, cm²".into(), &|answer| {
            Some(words::square_centimetres(answer.opening_area_in_m2))
        }),
        line("openings out, cm²".into(), &|answer| {
            Some(words::square_centimetres(answer.opening_area_out_m2))
        }),
    ];
    for name in each(&|answer| answer.openings.iter().map(called).collect()) {
        openings.push(line(format!("{KEPT}{KEPT}{name}"), &|answer| {
            let opening = answer.openings.iter().find(|opening| called(opening) == name)?;
            let area = words::square_centimetres(opening.area_m2);
            Some(if opening.pieces == 1.0 { area } else { format!("{} × {area}", opening.pieces) })
        }));
    }
    groups.push(openings);
    let in_condition = |name: &String, of: &dyn Fn(&LayoutInCondition) -> Option<String>| {
        line(format!("{KEPT}{KEPT}{name}"), &|answer| {
            answer.conditions.iter().find(|at| &at.name == name).and_then(of)
        })
    };
    let of_conditions = |what: &str, of: &dyn Fn(&LayoutInCondition) -> Option<String>| {
        let mut lines = vec![SideBySideLine::title(what, solved.len())];
        lines.extend(conditions.iter().map(|name| in_condition(name, of)));
        lines
    };
    groups.push(of_conditions("cooling drag, N", &|at| Some(words::whole(at.cooling_drag_N))));
    if solved.iter().any(|(_, answer)| answer.conditions.iter().any(|at| at.fan_power_W > 0.0)) {
        groups.push(of_conditions("shaft power of fans, W", &|at| Some(words::whole(at.fan_power_W))));
    }
    let inlets = each(&|answer| {
        let first = answer.conditions.first();
        first.map_or(Vec::new(), |at| at.velocity_ratios.iter().map(|(name, _)| name.to_string()).collect())
    });
    let moving = |name: &&String| {
        solved.iter().any(|(_, a)| a.conditions.iter().any(|at| &at.name == *name && at.speed_m_s > 0.0))
    };
    let mut ratios = vec![SideBySideLine::title("speed in the inlet over that of the stream", solved.len())];
    for condition in conditions.iter().filter(moving) {
        for inlet in &inlets {
            ratios.push(line(format!("{KEPT}{KEPT}{condition}: {inlet}"), &|answer| {
                let at = answer.conditions.iter().find(|at| &at.name == condition)?;
                Some(match at.velocity_ratios.get(inlet)? {
                    Some(ratio) => words::fixed(*ratio, 2),
                    None => "runs back".to_string(),
                })
            }));
        }
    }
    if !inlets.is_empty() {
        groups.push(ratios);
    }
    groups.push(of_traps(comparison, &line));
    let heads: Vec<&str> = solved.iter().map(|(name, _)| *name).collect();
    out.push_str(&columns(&heads, &groups));
}

fn of_traps(
    comparison: &Comparison,
    line: &dyn Fn(String, &AnswerTell) -> SideBySideLine,
) -> Vec<SideBySideLine> {
    let traps = comparison.compare.iter().filter_map(|c| c.answer.as_ref()).flat_map(|a| &a.traps);
    let mut kinds: Vec<TrapKind> = Vec::new();
    for trap in traps {
        if !kinds.contains(&trap.trap) {
            kinds.push(trap.trap);
        }
    }
    let count = |kind: &TrapKind| {
        line(format!("traps: {kind}"), &|answer| {
            Some(match answer.traps.iter().filter(|trap| trap.trap == *kind).count() {
                0 => "none".to_string(),
                number => number.to_string(),
            })
        })
    };
    kinds.iter().map(count).collect()
}

/// What a layout brings with it, and what the sizes found bring, layout by layout; what stands among the traps is not said
/// twice.
fn new_warnings(out: &mut String, comparison: &Comparison) {
    let of_layout = |answer: &'_ LayoutResult| answer.new_warnings.clone();
    let of_sizes = |answer: &'_ LayoutResult| {
        let all = answer.sizes.iter().flat_map(|sizes| sizes.new_warnings.clone());
        all.filter(|warning| !answer.new_warnings.contains(warning)).collect()
    };
    told_of(out, comparison, "What a layout brings with it", &of_layout);
    told_of(out, comparison, "What the sizes found bring with them", &of_sizes);
}

fn told_of(
    out: &mut String,
    comparison: &Comparison,
    title: &str,
    of: &dyn Fn(&LayoutResult) -> Vec<Warning>,
) {
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for compared in &comparison.compare {
        let Some(answer) = &compared.answer else { continue };
        for warning in of(answer) {
            if answer.traps.iter().any(|trap| trap.message == warning.message) {
                continue;
            }
            let place = warning.place.as_ref().map_or(String::new(), |place| format!("{place}: "));
            let text = format!("{place}{} ({})", words::on_paper(&warning.message), warning.code);
            match told.iter_mut().find(|known| known.0 == text) {
                Some(known) => known.1.push(&compared.layout),
                None => told.push((text, vec![&compared.layout])),
            }
        }
    }
    if told.is_empty() {
        return;
    }
    heading(out, title);
    for (text, layouts) in told {
        item(out, 2, &format!("{}: ", layouts.join(", ")), &text);
    }
}

fn called(opening: &OpeningArea) -> String {
    format!("{} {}", opening.passage, if opening.role == OpeningRole::Exit { "out" } else { "in" })
}

/// Short enough for a column.
fn air(part: &PartResult) -> String {
    match (part.margin_is, part.flow_margin) {
        (MarginIs::Unlimited, _) => "needs none".to_string(),
        (MarginIs::Impossible, _) => "no use".to_string(),
        (_, Some(margin)) if margin > 1.0 => "over twice".to_string(),
        (_, Some(margin)) if margin >= 0.0 => format!("+{} %", words::whole(100.0 * margin)),
        (_, Some(margin)) => format!("{} %", words::whole(100.0 * margin)),
        (_, None) => NONE.to_string(),
    }
}

fn traps(out: &mut String, comparison: &Comparison) {
    let mut told: Vec<(String, Vec<&str>)> = Vec::new();
    for compared in &comparison.compare {
        for trap in compared.answer.iter().flat_map(|answer| &answer.traps) {
            let text = format!("{}, {}: {}", trap.trap, trap.place, words::on_paper(&trap.message));
            match told.iter_mut().find(|known| known.0 == text) {
                Some(known) => known.1.push(&compared.layout),
                None => told.push((text, vec![&compared.layout])),
            }
        }
    }
    if told.is_empty() {
        return;
    }
    heading(out, "Traps");
    for (text, layouts) in told {
        item(out, 2, &format!("{}: ", layouts.join(", ")), &text);
    }
}
