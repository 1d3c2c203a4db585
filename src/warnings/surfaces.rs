//! Fins and cores whose figures were found and not measured: what was found, and where it holds.

use super::condition::{ElementInCondition, SolvedCondition};
use super::gather::{Finding, Findings};
use crate::case::Case;
use crate::correlations::finned_cylinder::FREE_STREAM_SPEEDS;
use crate::correlations::slots::LAMINAR_TO;
use crate::element::core::{self, Basis};
use crate::element::{ElementLaw, fins};
use crate::keys::Values;
use crate::keys::figures;
use crate::keys::kind::short_number;
use crate::point::model::Model;

/// A figure to three digits.
fn three(value: f64) -> String {
    let size = 10_f64.powi(2 - value.abs().max(f64::MIN_POSITIVE).log10().floor() as i32);
    short_number((value * size).round() / size)
}

/// What was found for each of them, for one piece.
pub(super) fn lines(case: &Case, model: &Model) -> Vec<String> {
    let mut lines = Vec::new();
    for (passage, table) in case.passages.iter().zip(&model.network.passages) {
        for (values, law) in passage.elements.iter().zip(&model.network.laws[table.elements.clone()]) {
            if let Some(fins) = law.as_fins() {
                lines.extend(fins.found().map(|found| fins_line(values, found)));
            } else if let Some(core) = law.as_core() {
                lines.extend(core.found().map(|found| core_line(values, found, core.pieces())));
            }
        }
    }
    lines
}

fn fins_line(values: &Values, found: &fins::FinPiece) -> String {
    let cylinder = &found.cylinder;
    format!(
        "fins {}, found from geometry{}: {} W/K and {:.0} Pa at {} kg/s ({:.0} m/s in {} between the fins, {} kg/m3), fin efficiency {:.0} %; the surface gives {:.0} W/(m² K) at Reynolds {:.0}; exponents {:.2} and {:.2}",
        values.address,
        if cylinder.baffled { "" } else { " without a baffle" },
        three(found.conductance),
        found.pressure_drop,
        three(found.flow),
        found.speed(found.flow),
        figures::small_area(found.free_area),
        short_number(found.density),
        100.0 * found.state.efficiency,
        found.state.coefficient,
        found.state.reynolds,
        found.conductance_exponent,
        found.pressure_exponent
    )
}

fn core_line(values: &Values, found: &core::PieceRating, pieces: f64) -> String {
    let from = match found.basis {
        Basis::Written => "its conductance as written",
        Basis::Rated => "from its rating",
        Basis::Share => "from its effectiveness",
    };
    let speed = found.speed.map_or(String::new(), |speed| format!(" ({speed:.1} m/s on the face)"));
    let reckoned = found.effectiveness.map_or(String::new(), |(effectiveness, units)| {
        format!(
            ", {:.0} % of what the smaller stream could carry between oil entering and air entering, by the core's own oil_flow ({} W/K) and air of {} kg/m3 ({units:.2} transfer units)",
            100.0 * effectiveness,
            three(found.oil),
            short_number(found.density)
        )
    });
    let each = if pieces > 1.0 { ", each" } else { "" };
    format!(
        "core {}, {from}{each}: {} W/K and {:.0} Pa{} at {} kg/s{speed}{reckoned}",
        values.address,
        three(found.conductance),
        found.pressure_drop,
        if found.drop_assumed { " (by face_loss)" } else { "" },
        three(found.flow)
    )
}

/// Air between fins found from geometry, slower (or faster) than their formula knows.
pub(super) fn look_at_fins(
    at: &SolvedCondition,
    seen: &ElementInCondition,
    found: &fins::FinPiece,
    pieces: f64,
    gathered: &mut Findings,
) {
    let flow = seen.passage.mass_flow_kg_s.abs() / pieces;
    let reynolds = found.reynolds(flow);
    let (told, size) = if found.cylinder.baffled {
        if reynolds >= LAMINAR_TO {
            return;
        }
        let told = format!(
            "the Reynolds number between the fins is {reynolds:.0}; below {LAMINAR_TO:.0} the air runs smoothly there, and gives and costs less than the exponents say, which hold about Reynolds {:.0}",
            found.state.reynolds
        );
        (told, 1.0 / reynolds)
    } else {
        let speed = found.speed(flow);
        let (low, high) = FREE_STREAM_SPEEDS;
        if (low..=high).contains(&speed) {
            return;
        }
        let told = format!(
            "the air between the fins runs at {speed:.1} m/s (Reynolds {reynolds:.0}); the tests behind the formula without a baffle ran from {low:.1} to {high:.1} m/s (from memory)"
        );
        (told, (speed / low).ln().abs().max((speed / high).ln().abs()))
    };
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code: "fins-reynolds",
            place: Some(seen.values.address.clone()),
            seen: told,
            what_to_do: "trust the heat carried less there; write a reference_flow near the flow of the condition that decides, or measure with thermometers".to_string(),
            size,
        },
    );
}
