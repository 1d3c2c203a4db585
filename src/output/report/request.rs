//! The sheet for whoever does the aerodynamics: how much room to keep, which pressure to keep there.

use super::parts::{
    Align, area_as, area_of_one, blank, cell, clear_size, hit, identity, known, place, table,
};
use crate::element::{ElementKind, OpeningLies, kind};
use crate::output::text::words;
use crate::point::result::OpeningRole;
use crate::study::check::openings::OpeningFacts;
use crate::study::check::sensitivity::WORSE;
use crate::study::everything::Everything;
use maud::{Markup, html};

pub(super) fn sheet(all: &Everything) -> Markup {
    let rows = all.openings.iter().map(|opening| {
        vec![
            html! { (opening.name) span.where { (if opening.role == OpeningRole::Exit { "out" } else { "in" }) "; " (place(opening)) } },
            reserve(opening),
            keep(opening),
            from(opening),
            cost(all, opening),
            blank(&format!("new figure for {}", opening.name)),
        ]
    });
    let heads = [
        (Align::Text, "opening, and where"),
        (Align::Text, "reserve"),
        (Align::Text, "keep there"),
        (Align::Text, "present figure from"),
        (Align::Text, "each 0.05 worse costs"),
        (Align::Text, "new figure"),
    ];
    html! {
        section.sheet id="request" aria-labelledby="request-heading" {
            p.kind { "Cooling openings: sheet 2, for the aerodynamicist" }
            h2 id="request-heading" { "Room and pressure asked for" }
            (identity(&all.report))
            p {
                "Please keep these areas of skin free, and the pressure there as good as it was reckoned with. A pressure coefficient is the "
                "pressure on the skin less that of the day, over the free stream's dynamic pressure; a recovery is the total pressure that "
                "reaches the opening over the free stream's, the skin's slow air left aside."
            }
            (table("Area to reserve and pressure to keep, for each opening", &heads, rows.collect()))
            p.note {
                "The area is the clear opening, square to the flow; lips, flanges and louvres need room besides. What each 0.05 costs is reckoned at the "
                "openings of sheet 1, for the part that it leaves nearest to its limit; openings that share a place share its figure, and the cost is that of all of them. If a figure cannot be kept, send back the one that can, and the openings are reckoned anew."
            }
            p.sign { "Figures from " (blank("name and body state")) " date " (blank("date")) }
        }
    }
}

fn reserve(opening: &OpeningFacts) -> Markup {
    let total = opening.area_m2 * opening.pieces as f64;
    html! {
        strong { (area_as(opening, total)) }
        span.where {
            (opening.pieces) " × " (area_of_one(opening)) ", " (clear_size(opening))
            @if let Some(most) = opening.most_m2.filter(|most| opening.free && *most > opening.area_m2) {
                "; never more than " (opening.pieces) " × " (area_as(opening, most))
            }
        }
    }
}

fn keep(opening: &OpeningFacts) -> Markup {
    let figure = |value: f64| words::fixed(value, 2);
    match (opening.recovery, opening.pressure_coefficient, opening.role) {
        (Some(recovery), _, _) => html! { "recovery at " strong { (figure(recovery)) } " or above" },
        (None, Some(pressure), OpeningRole::Exit) => {
            html! { "pressure coefficient at " strong { (figure(pressure)) } " or below" }
        }
        (None, Some(pressure), _) => {
            html! { "pressure coefficient at " strong { (figure(pressure)) } " or above" }
        }
        (None, None, OpeningRole::Inlet)
            if kind(opening.kind).and_then(ElementKind::takes_in) == Some(OpeningLies::Sunk) =>
        {
            cell("the skin ahead smooth, its slow air no thicker than the lip is high")
        }
        (None, None, _) => cell("nothing"),
    }
}

fn from(opening: &OpeningFacts) -> Markup {
    if opening.coefficient_assumed {
        return html! { "nobody: the program's default. Please say." };
    }
    known(opening.source.as_deref(), "source of the present figure")
}

/// What a worse place costs.
fn cost(all: &Everything, opening: &OpeningFacts) -> Markup {
    debug_assert!((WORSE - 0.05).abs() < 1e-12, "the heading says 0.05");
    let step = all.deciding.worse_place.iter().find(|step| step.opening == opening.name);
    let Some(step) = step else { return cell("") };
    match &step.hits {
        _ if !step.solved => cell("no steady state"),
        Some(hit) => self::hit(hit),
        None => cell("no part loses 1 K"),
    }
}
