//! The oil that goes through a core: how far it cools there.

use super::condition::{ElementInCondition, SolvedCondition, address};
use super::gather::{Finding, Findings};
use super::words;
use crate::case::Case;
use crate::element::{ElementLaw, core};
use crate::keys::figures;
use crate::point::model::Model;
use crate::point::result::{Condition, STILL};

/// Fall of the oil (K) below which its flow is hardly believed (common practice: 5 to 30 K).
const LEAST_FALL: f64 = 0.5;
/// Heat (W) above which the fall says something of the flow.
const WORTH_A_LOOK: f64 = 500.0;

/// Heat that the oil leaves in a core (W), and how far it cools (K).
fn fall(at: &SolvedCondition, seen: &ElementInCondition) -> Option<(f64, f64)> {
    let core = seen.law.as_core()?;
    let flow = seen.passage.mass_flow_kg_s.abs();
    if flow < STILL {
        return None;
    }
    let mut core = core.clone();
    core.prepare(&at.moment, 0.0);
    let rise = seen.element.outlet_temperature_C - at.entering_temperature(seen);
    let heat = flow * at.operation.air.heat_capacity * rise;
    (core.oil_capacity() > 0.0).then(|| (heat, heat / core.oil_capacity()))
}

/// Looks at the oil of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    for seen in at.elements() {
        let Some((heat, fall)) = fall(at, &seen).filter(|(heat, _)| *heat > WORTH_A_LOOK) else {
            continue;
        };
        if fall >= LEAST_FALL {
            continue;
        }
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "oil-flow-unusual",
                place: Some(address(at.case, seen.values, &core::OIL_FLOW)),
                seen: format!(
                    "the oil leaves {} there and cools by {}, as good as not at all; 5 to 30 K is usual (common practice)",
                    figures::power(heat),
                    format_args!("{fall:.2} K")
                ),
                what_to_do: "check the unit of oil_flow (L/min, not L/s) and oil_flow_at; a pump for a small engine moves 5 to 30 L/min (common practice)".to_string(),
                size: LEAST_FALL / fall,
            },
        );
    }
}

/// How far the oil of each core cools, over the conditions.
pub(super) fn lines(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<String> {
    let scenes: Vec<SolvedCondition> =
        conditions.iter().filter_map(|c| SolvedCondition::new(case, model, c)).collect();
    let Some(first) = scenes.first() else { return Vec::new() };
    let cores = first.elements().filter(|seen| seen.law.as_core().is_some());
    cores
        .map(|core| {
            let view = case.view(core.values);
            let at = view.number(&core::OIL_FLOW_AT).map_or(String::new(), |rpm| format!(" at {rpm:.0} rpm"));
            let falls: Vec<String> = scenes
                .iter()
                .filter_map(|at| {
                    let seen = at.elements().find(|seen| seen.values.address == core.values.address)?;
                    Some(format!("{} in {}", kelvins(fall(at, &seen)?.1), words::name(&at.condition.name)))
                })
                .collect();
            let cools = if falls.is_empty() {
                "no air cools it".to_string()
            } else {
                format!("it cools by {}", falls.join(", "))
            };
            format!(
                "oil through {}: {} L/min{at}; {cools}",
                core.values.address,
                crate::keys::kind::short_number(6e4 * view.required(&core::OIL_FLOW))
            )
        })
        .collect()
}

fn kelvins(fall: f64) -> String {
    if fall.abs() < 2.0 { format!("{fall:.1} K") } else { format!("{fall:.0} K") }
}
