//! The carburettor's air.

use super::condition::SolvedCondition;
use super::gather::{Finding, Findings};
use super::words;
use crate::air::ZERO_CELSIUS;
use crate::keys::figures;

/// Rise over the day's air above which the carburettor's air counts as warm (K).
const WARM: f64 = 5.0;
/// The same where it comes by a duct of its own from outside (K).
const WARM_OUTSIDE: f64 = 10.0;

/// Looks at what the engine breathes in a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let Some(carburettor) = &at.condition.carburettor else { return };
    if at.condition.rpm <= 0.0 {
        return;
    }
    for passage in at.condition.passages.iter().filter(|p| p.to == "engine") {
        let own_duct = passage.from == "outside";
        // at rest every opening breathes some of the car's own warm air
        if own_duct && at.standing() {
            continue;
        }
        let rise = passage.outlet_temperature_C - (at.moment.total_temperature - ZERO_CELSIUS);
        if rise <= if own_duct { WARM_OUTSIDE } else { WARM } {
            continue;
        }
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "carburettor-on-warm-air",
                place: Some(format!("passage/{}", passage.name)),
                seen: format!(
                    "the carburettor breathes air from {} at {}, {rise:.0} K warmer than outside; with all its air the engine gives {} of its power in the day's air",
                    passage.from,
                    words::celsius(passage.outlet_temperature_C),
                    figures::close_share((carburettor.power_factor * 1e2).round() / 1e2)
                ),
                what_to_do: if own_duct {
                    "move its mouth away from exits and hot parts, or check recirculation there"
                } else {
                    "lead a duct from outside to the carburettor, sealed at its mouth"
                }
                .to_string(),
                size: rise,
            },
        );
    }
}
