//! The sheet for scrutineering: what can be looked at and felt, with boxes to fill in. It says nothing of how near a limit is.

use super::parts::{Align, area_of_one, blank, cell, clear_size, identity, place, table, tick};
use crate::output::text::words;
use crate::point::result::Condition;
use crate::study::check::openings::OpeningFacts;
use crate::study::everything::Everything;
use maud::{Markup, html};

pub(super) fn sheet(all: &Everything) -> Markup {
    html! {
        section.sheet id="scrutineer" aria-labelledby="scrutineer-heading" {
            p.kind { "Cooling openings: sheet 3, for the scrutineer" }
            h2 id="scrutineer-heading" { "Openings, guards, bulkhead, drains, hot air" }
            (identity(&all.report))
            p { strong { "Check your rule book. " } "Nothing here says that the car complies with any rule. Rule book and edition: " (blank("rule book and edition")) }
            (openings(all))
            (hot_air(all))
            (checks(all))
            p.note {
                "Temperatures are estimates, each as if its condition lasted for ever. Panels near exhaust pipes get hotter than the air "
                "beside them: measure them. After stopping, a bay gets hotter before it cools."
            }
            p.sign { "Entrant " (blank("entrant")) " scrutineer " (blank("scrutineer")) " date " (blank("date")) }
        }
    }
}

fn openings(all: &Everything) -> Markup {
    let rows = all.openings.iter().map(|opening| {
        vec![
            html! { (opening.name) span.where { (if opening.role == "exit" { "air out" } else { "air in" }) } },
            html! { (opening.pieces) " × " (area_of_one(opening)) span.where { (clear_size(opening)) } },
            html! { (place(opening)) },
            cell(guard(opening)),
            blank(&format!("{} as measured", opening.name)),
        ]
    });
    let heads = [
        (Align::Text, "opening"),
        (Align::Text, "clear size"),
        (Align::Text, "where"),
        (Align::Text, "guard"),
        (Align::Text, "as measured"),
    ];
    table("Openings in the body", &heads, rows.collect())
}

fn guard(opening: &OpeningFacts) -> &'static str {
    match (opening.fan, opening.screened) {
        (true, true) => "fan behind a screen",
        (true, false) => "fan; no screen in the case",
        (false, true) => "screen",
        (false, false) => "none",
    }
}

/// Air that leaves, and air beside the panels, in each condition.
fn hot_air(all: &Everything) -> Markup {
    let conditions = &all.report.conditions;
    let Some(shape) = conditions.first() else { return html! {} };
    let mut rows = Vec::new();
    let leaving = |c: &Condition, index: usize| {
        let passage = &c.passages[index];
        if passage.reversed {
            "draws in".to_string()
        } else if passage.mass_flow_kg_s < 1e-6 {
            "stands".to_string()
        } else {
            words::celsius(passage.outlet_temperature_C)
        }
    };
    for (index, passage) in shape.passages.iter().enumerate().filter(|(_, passage)| passage.to == "outside") {
        let mut row = vec![html! { (passage.name) span.where { "air that leaves" } }];
        row.extend(conditions.iter().map(|c| cell(leaving(c, index))));
        row.push(blank(&format!("air leaving {} as measured", passage.name)));
        rows.push(row);
    }
    // openings meant to take air in, where hot air comes out of them
    for (index, passage) in shape.passages.iter().enumerate() {
        let out = |c: &Condition| passage.from == "outside" && c.passages[index].reversed;
        if !conditions.iter().any(out) {
            continue;
        }
        let mut row = vec![html! { (passage.name) span.where { "an inlet that blows out" } }];
        row.extend(conditions.iter().map(|c| {
            cell(if out(c) {
                words::celsius(c.passages[index].outlet_temperature_C)
            } else {
                "draws in".to_string()
            })
        }));
        row.push(blank(&format!("air leaving {} as measured", passage.name)));
        rows.push(row);
    }
    for (index, chamber) in shape.chambers.iter().enumerate() {
        let mut row = vec![html! { (chamber.name) span.where { "air beside its panels" } }];
        row.extend(conditions.iter().map(|c| cell(words::celsius(c.chambers[index].temperature_C))));
        row.push(blank(&format!("panels of {} as measured", chamber.name)));
        rows.push(row);
    }
    let mut heads = vec![(Align::Text, "hot air")];
    heads.extend(conditions.iter().map(|c| (Align::Figure, c.name.as_str())));
    heads.push((Align::Text, "as measured"));
    table("Air that leaves the car, and air beside its panels", &heads, rows)
}

fn checks(all: &Everything) -> Markup {
    let chambers: Vec<&str> = all
        .report
        .conditions
        .first()
        .map_or(Vec::new(), |c| c.chambers.iter().map(|c| c.name.as_str()).collect());
    let spaces = if chambers.is_empty() { "closed spaces".to_string() } else { words::list(&chambers) };
    let mut items = vec![
        ("Bulkhead", "closed between engine and driver; every hole sealed".to_string()),
        ("Drains", format!("at the lowest points of {spaces}")),
        ("Low vent", "for fuel vapour, low down".to_string()),
        ("Fuel cut-off", "in reach, marked".to_string()),
        ("Extinguisher", format!("nozzle into {spaces}")),
        ("Carbon monoxide alarm", "where the driver breathes".to_string()),
        ("Edges and panels", "edges radiused, nothing loose".to_string()),
        ("Exit air", "clear of driver, tyres, people who push, fuel filler".to_string()),
    ];
    let fans: Vec<&str> = all.openings.iter().filter(|o| o.fan).map(|o| o.name.as_str()).collect();
    if !fans.is_empty() {
        items.insert(1, ("Fan guard", format!("no finger reaches the blades: {}", words::list(&fans))));
    }
    let rows = items.into_iter().map(|(what, how)| {
        vec![
            cell(what),
            cell(how),
            html! { (tick("yes")) " " (tick("no")) },
            blank(&format!("{what}: where, or what was seen")),
        ]
    });
    let heads = [
        (Align::Text, "to look at"),
        (Align::Text, "wanted"),
        (Align::Text, "found"),
        (Align::Text, "where, what was seen"),
    ];
    table("To look at on the car", &heads, rows.collect())
}
