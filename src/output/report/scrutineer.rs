//! The sheet for scrutineering: what can be looked at and felt, with boxes to fill in. It says nothing of how near a limit is.

use super::parts::{Align, area_of_one, blank, cell, clear_size, identity, place, table, tick};
use crate::output::text::words;
use crate::point::result::{Condition, OpeningRole};
use crate::study::check::openings::OpeningFacts;
use crate::study::everything::Everything;
use maud::{Markup, html};

pub(super) fn sheet(all: &Everything) -> Markup {
    html! {
        section.sheet id="scrutineer" aria-labelledby="scrutineer-heading" {
            p.kind { "Cooling openings: sheet 3, for the scrutineer" }
            h2 id="scrutineer-heading" { "Hot air, openings, guards, bulkhead, drains" }
            (identity(&all.report))
            p { strong { "Check your rule book. " } "Nothing here says that the car complies with any rule. Rule book and edition: " (blank("rule book and edition")) }
            (hot_air(all))
            (openings(all))
            (checks(all))
            p.note {
                "Temperatures are estimates, each as if its condition lasted indefinitely. Panels near exhaust pipes get hotter than the air "
                "beside them: measure them. After stopping, a bay gets hotter before it cools: moments with the engine off are left out."
            }
            p.sign { "Entrant " (blank("entrant")) " scrutineer " (blank("scrutineer")) " date " (blank("date")) }
        }
    }
}

fn openings(all: &Everything) -> Markup {
    let rows = all.openings.iter().map(|opening| {
        vec![
            html! { (opening.name) span.where { (if opening.role == OpeningRole::Exit { "air out" } else { "air in" }) } },
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

/// The warning of an exit that blows at people or at what burns.
const NEAR: &str = "exit-near-hazard";

/// Where a passage opens: near what, as the case or the words of its place say, and its position.
fn whereabouts(all: &Everything, passage: &str, role: OpeningRole, opens: &str) -> (bool, String) {
    let of =
        |name: &str| name == passage || name.strip_prefix(passage).is_some_and(|rest| rest.starts_with('/'));
    let opening = all.openings.iter().find(|opening| opening.role == role && of(&opening.name));
    let position = opening.and_then(|opening| opening.position.clone());
    // of a passage that is open at both ends, that end alone
    let own = opening.map_or(passage, |opening| opening.name.as_str());
    let address = format!("passage/{own}");
    let near = all.report.warnings.iter().find_map(|warning| {
        let at = warning.place.as_deref().is_some_and(|place| {
            place.strip_prefix(&address).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
        });
        let told = warning.message.split(';').next()?.rsplit_once(" near ")?.1;
        (warning.code == NEAR && at).then(|| format!("near {told}"))
    });
    let is_near = near.is_some();
    let told: Vec<String> = [Some(opens.to_string()), near, position].into_iter().flatten().collect();
    (is_near, told.join("; "))
}

/// Air that leaves, and air beside the panels, in each condition: first where it comes out at people.
fn hot_air(all: &Everything) -> Markup {
    let all_of_them = &all.report.conditions;
    // with the engine off everything has gone cold in the end, and says nothing of a bay just stopped
    let runs: Vec<&Condition> = all_of_them.iter().filter(|condition| condition.rpm > 0.0).collect();
    let conditions = if runs.is_empty() { all_of_them.iter().collect() } else { runs };
    let Some(shape) = conditions.first() else { return html! {} };
    let cells =
        |tell: &dyn Fn(&Condition) -> String| conditions.iter().map(|c| cell(tell(c))).collect::<Vec<_>>();
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
    let hottest = |index: usize| {
        let out = conditions.iter().map(|c| c.passages[index].outlet_temperature_C);
        out.fold(f64::NEG_INFINITY, f64::max)
    };
    let row = |name: &str, place: &str, cells: Vec<Markup>, what: String| {
        let mut row = vec![html! { (name) span.where { (place) } }];
        row.extend(cells);
        row.push(blank(&what));
        row
    };
    // at people first, then what was meant to take air in, then the rest; of these the hotter first
    let mut ranked: Vec<((bool, bool, f64), Vec<Markup>)> = Vec::new();
    for (index, passage) in shape.passages.iter().enumerate() {
        let name = &passage.name;
        let measured = format!("air leaving {name} as measured");
        let blows = |c: &Condition| passage.from == "outside" && c.passages[index].reversed;
        if passage.to == "outside" {
            let (near, place) = whereabouts(all, name, OpeningRole::Exit, "air that leaves");
            let told = cells(&|c| leaving(c, index));
            ranked.push(((near, false, hottest(index)), row(name, &place, told, measured)));
        } else if conditions.iter().any(|c| blows(c)) {
            let (near, place) = whereabouts(all, name, OpeningRole::Inlet, "an inlet that blows out");
            let told = cells(&|c| match blows(c) {
                true => words::celsius(c.passages[index].outlet_temperature_C),
                false => "draws in".to_string(),
            });
            ranked.push(((near, true, hottest(index)), row(name, &place, told, measured)));
        }
    }
    ranked.sort_by(|(a, _), (b, _)| (b.0, b.1).cmp(&(a.0, a.1)).then(b.2.total_cmp(&a.2)));
    let mut rows: Vec<Vec<Markup>> = ranked.into_iter().map(|(_, row)| row).collect();
    for (index, chamber) in shape.chambers.iter().enumerate() {
        let told = cells(&|c| words::celsius(c.chambers[index].temperature_C));
        let measured = format!("panels of {} as measured", chamber.name);
        rows.push(row(&chamber.name, "air beside its panels", told, measured));
    }
    let mut heads = vec![(Align::Text, "hot air")];
    heads.extend(conditions.iter().map(|c| (Align::Figure, c.name.as_str())));
    heads.push((Align::Text, "as measured"));
    table("Where hot air comes out, first at people; and air beside panels", &heads, rows)
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
