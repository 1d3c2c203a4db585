//! The traps of a layout: air that runs back, inlets that spill, air that enters hot.

use super::result::{LayoutTrap, TrapKind};
use crate::air::ZERO_CELSIUS;
use crate::case::Case;
use crate::point::model::Model;
use crate::point::operation::Operation;
use crate::point::result::Condition;
use crate::warnings;

/// Warnings that tell of a trap, by their code.
const CODES: &[(&str, TrapKind)] = &[
    ("inlet-blows-out", TrapKind::Reversal),
    ("exit-draws-in", TrapKind::Reversal),
    ("passage-runs-back", TrapKind::Reversal),
    ("inlet-spills", TrapKind::Spilling),
    ("carburettor-on-warm-air", TrapKind::HotIntake),
    ("two-steady-states", TrapKind::TwoStates),
];
/// Rise over the day's air from which what enters counts as hot (K).
const HOT: f64 = 5.0;

/// All traps in the conditions of a case.
pub(super) fn traps(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<LayoutTrap> {
    let mut traps: Vec<LayoutTrap> = Vec::new();
    for warning in warnings::of_conditions(case, model, conditions) {
        if let Some((_, trap)) = CODES.iter().find(|(code, _)| *code == warning.code) {
            let place = warning.place.unwrap_or_default();
            traps.push(LayoutTrap { trap: *trap, place, message: warning.message });
        }
    }
    traps.extend(hot_intakes(case, model, conditions));
    traps
}

/// Inlets that draw in warm air again: from an exit before them.
fn hot_intakes(case: &Case, model: &Model, conditions: &[Condition]) -> Vec<LayoutTrap> {
    let mut found: Vec<(String, f64, f64, Vec<String>)> = Vec::new();
    for condition in conditions {
        let Some(named) = case.conditions.iter().find(|named| named.name == condition.name) else { continue };
        let operation = Operation::of_condition(case, model, &named.values);
        let moment = operation.free_stream();
        for passage in condition.passages.iter().filter(|p| p.from == "outside" && p.mass_flow_kg_s > 0.0) {
            let Some(inlet) = passage.elements.first() else { continue };
            let rise = inlet.outlet_temperature_C - (moment.total_temperature - ZERO_CELSIUS);
            if rise <= HOT {
                continue;
            }
            match found.iter_mut().find(|known| known.0 == passage.name) {
                Some(known) => {
                    known.3.push(condition.name.clone());
                    if rise > known.1 {
                        (known.1, known.2) = (rise, inlet.outlet_temperature_C);
                    }
                }
                None => found.push((
                    passage.name.clone(),
                    rise,
                    inlet.outlet_temperature_C,
                    vec![condition.name.clone()],
                )),
            }
        }
    }
    let tell = |(passage, rise, celsius, conditions): (String, f64, f64, Vec<String>)| LayoutTrap {
        trap: TrapKind::HotIntake,
        place: format!("passage/{passage}"),
        message: format!(
            "its air enters at up to {celsius:.0} °C, {rise:.0} K warmer than outside (in {}); move it or the exit that it draws from",
            conditions.join(", ")
        ),
    };
    found.into_iter().map(tell).collect()
}
