//! Where the pressure goes; conditions, parts, passages and their elements.

use super::parts::{Align, cell, table};
use crate::output::terms;
use crate::output::text::way::{PressureBudget, labels, what_runs_back};
use crate::output::text::{beyond, margins, side_by_side, words};
use crate::point::result::{Condition, PassageResult};
use crate::study::everything::Everything;
use maud::{Markup, html};

/// The budget of every passage in every condition, and what runs back.
pub(super) fn pressure(all: &Everything) -> Markup {
    let conditions = &all.report.conditions;
    let back = side_by_side::running_back(conditions);
    let sides = |sides: &[(String, f64)]| {
        let said: Vec<String> = sides
            .iter()
            .filter(|(_, pascals)| *pascals >= 0.5)
            .map(|(name, pascals)| format!("{} {}", terms::of(name), words::whole(*pascals)))
            .collect();
        if said.is_empty() { "< 1".to_string() } else { said.join(", ") }
    };
    html! {
        @if back.is_empty() {
            p { "Nowhere does the air run backwards." }
        } @else {
            ul { @for sentence in &back { li { strong { (words::sentence(sentence)) "." } } } }
        }
        @for condition in conditions {
            (table(
                &format!("Pressure in {}, in Pa, along the air's real way", words::name(&condition.name)),
                &[(Align::Text, "passage"), (Align::Figure, "air, g/s"), (Align::Text, "driven by"), (Align::Text, "taken by"), (Align::Figure, "in all")],
                condition.passages.iter().map(|passage| {
                    let way = PressureBudget::of(condition, passage);
                    vec![
                        name(passage),
                        cell(flow(condition, passage)),
                        cell(sides(&way.gives)),
                        cell(sides(&way.takes)),
                        cell(words::whole(way.total())),
                    ]
                }).collect(),
            ))
        }
        p.note { "Pressure in a chamber is what the air still needs to get out: a wider way out lowers it." }
    }
}

fn name(passage: &PassageResult) -> Markup {
    html! {
        @if passage.count > 1 { (passage.count) " × " }
        (passage.name)
        span.where { (passage.from) " → " (passage.to) }
    }
}

fn flow(condition: &Condition, passage: &PassageResult) -> String {
    let size = words::grams(passage.mass_flow_kg_s);
    if passage.reversed { format!("back {size}: {}", what_runs_back(condition, passage)) } else { size }
}

pub(super) fn conditions(all: &Everything) -> Markup {
    let conditions = &all.report.conditions;
    html! {
        (side(conditions))
        (parts_table(all))
        h3 { "Passages and their elements" }
        @for condition in conditions { (elements(condition)) }
        p.note {
            "Cooling drag is the momentum that the air loses on its way through. Not in it: spilling round an inlet that is too large, and "
            "what the slow air along the skin would have cost anyway. Largest left-over error of any balance: "
            (format!("{:.0e}", conditions.iter().map(|c| c.residual).fold(0.0, f64::max))) "."
        }
    }
}

fn side(conditions: &[Condition]) -> Markup {
    let mut heads = vec![(Align::Text, "")];
    heads[0].1 = "what";
    heads.extend(conditions.iter().map(|c| (Align::Figure, c.name.as_str())));
    let rows = side_by_side::lines(conditions).into_iter().flatten().map(|line| {
        let mut row = vec![cell(&line.name)];
        row.extend(line.cells.iter().map(cell));
        row
    });
    table("Conditions side by side", &heads, rows.collect())
}

fn parts_table(all: &Everything) -> Markup {
    let conditions = &all.report.conditions;
    let parts = margins::parts(&all.report);
    let drawn = all.drawn.as_ref();
    let mut heads = vec![
        (Align::Text, "part, and condition"),
        (Align::Figure, "temperature"),
        (Align::Figure, "limit for the mean"),
        (Align::Figure, "margin"),
        (Align::Text, "air"),
    ];
    if drawn.is_some() {
        heads.push((Align::Figure, "margin as drawn"));
    }
    let rows = parts.iter().flatten().map(|at| {
        let cold = match (at.part.below_least, at.condition.warm) {
            (true, true) => ", too cold",
            (true, false) => ", still cold",
            (false, _) => "",
        };
        let mut row = vec![
            html! { (at.part.name) " in " (words::name(&at.condition.name)) },
            html! { (beyond::celsius(conditions, &at.part.name, at.part.temperature_C)) (cold) },
            cell(words::celsius(at.part.limit_C)),
            cell(words::margin(at.part.temperature_margin_K)),
            cell(words::air(at.part.flow_margin, at.part.margin_is)),
        ];
        if let Some(drawn) = drawn {
            let before = drawn.conditions.iter().find(|c| c.name == at.condition.name);
            let part = before.and_then(|c| c.parts.iter().find(|part| part.name == at.part.name));
            row.push(cell(part.map_or(String::new(), |part| words::margin(part.temperature_margin_K))));
        }
        row
    });
    table("Parts in every condition", &heads, rows.collect())
}

fn elements(condition: &Condition) -> Markup {
    let rows = condition.passages.iter().flat_map(|passage| {
        passage.elements.iter().zip(labels(passage)).map(move |(element, label)| {
            let pieces = element.count * passage.count;
            let area = element.area_m2.map_or(String::new(), |area| {
                let times = if pieces == 1 { String::new() } else { format!("{pieces} × ") };
                format!("{times}{}", words::square_centimetres(area))
            });
            let push = if element.push_Pa == 0.0 { String::new() } else { words::whole(element.push_Pa) };
            let part = element.part.as_deref().filter(|part| *part != label);
            vec![
                html! { (passage.name) ": " (label) @if let Some(part) = part { span.where { "cools " (part) } } },
                cell(if passage.reversed { "back" } else { "" }),
                cell(area),
                cell(element.velocity_m_s.map_or(String::new(), words::whole)),
                cell(push),
                cell(words::whole(element.loss_Pa)),
                cell(words::celsius(element.outlet_temperature_C)),
            ]
        })
    });
    let heads = [
        (Align::Text, "passage and element"),
        (Align::Text, "runs"),
        (Align::Figure, "open, cm²"),
        (Align::Figure, "air, m/s"),
        (Align::Figure, "push, Pa"),
        (Align::Figure, "loss, Pa"),
        (Align::Figure, "air behind it"),
    ];
    table(&format!("Elements in {}", words::name(&condition.name)), &heads, rows.collect())
}
