//! When a test is stopped at once.

use super::result::StopAtOnce;
use crate::air::ZERO_CELSIUS;
use crate::case::{Case, tables as t};
use crate::point::Model;
use crate::readings::operator::gauge_at_limit;
use crate::warnings::PANELS;

/// Kelvins before a limit at which a test is stopped (common practice).
const BEFORE: f64 = 5.0;
/// Rubber hoses for fuel and oil (°C; common practice, from memory).
const HOSES: f64 = 100.0;

/// What a part's gauge shows where a test is stopped (°C), where it has a limit.
pub(in crate::study) fn of_part(case: &Case, model: &Model, index: usize) -> Option<f64> {
    gauge_at_limit(case, model, index).map(|limit| limit - BEFORE)
}

/// Of every part with a limit, of the air where panels are, of hoses.
pub(super) fn stops(case: &Case, model: &Model) -> Vec<StopAtOnce> {
    let mut all = Vec::new();
    for (index, part) in case.parts.iter().enumerate() {
        let Some(at) = of_part(case, model, index) else { continue };
        let spot = part.values.text(&t::MEASURED_AT).map_or(String::new(), |spot| format!(", {spot}"));
        all.push(StopAtOnce {
            what: part.name.clone(),
            at_C: at,
            source: format!("{BEFORE:.0} K under its limit{spot}"),
        });
    }
    for chamber in &case.chambers {
        let view = case.view(&chamber.values);
        let (limit, source) = match view.number(&t::CHAMBER_LIMIT) {
            Some(limit) => {
                let of = chamber.values.text(&t::LIMIT_FOR).unwrap_or("its limit");
                (limit - ZERO_CELSIUS - BEFORE, format!("{BEFORE:.0} K under {of}"))
            }
            None => (PANELS, "panels: resin softens at 60 to 80 °C (common practice)".to_string()),
        };
        all.push(StopAtOnce { what: format!("air in {}", chamber.name), at_C: limit, source });
    }
    all.push(StopAtOnce {
        what: "hoses".to_string(),
        at_C: HOSES,
        source: "rubber for fuel and oil (common practice); their makers know better".to_string(),
    });
    all
}
