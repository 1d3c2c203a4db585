//! Air that stands while something heats it.

use super::condition::SolvedCondition;
use super::gather::{Finding, Findings};
use super::words;

/// Rise over the day's air from which standing air is worth a word (K).
const WARMED: f64 = 5.0;

/// Looks at the chambers of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let condition = at.condition;
    let day = condition.air_temperature_C;
    for chamber in &condition.chambers {
        let place = Some(format!("chamber/{}/skin_conductance", chamber.name));
        let rise = chamber.temperature_C - day;
        if chamber.without_end {
            gathered.in_condition(
                &condition.name,
                Finding {
                    code: "heat-without-end",
                    place,
                    seen: format!(
                        "the air in {} stands and its walls take none of its heat: it grows hotter indefinitely, and no temperature shown of it, or of what it touches, means anything",
                        chamber.name
                    ),
                    what_to_do: "write what its walls let through (skin_conductance, 2 W/K is usual), give above_ground at the places of its openings so that warm air can rise, or see with `lap` how long it may last".to_string(),
                    size: rise,
                },
            );
        } else if chamber.stands && rise > WARMED && !at.standing() {
            gathered.in_condition(
                &condition.name,
                Finding {
                    code: "air-stands",
                    place,
                    seen: format!(
                        "nothing moves the air in {}: its walls and what is in it alone hold it at {}",
                        chamber.name,
                        words::celsius(chamber.temperature_C)
                    ),
                    what_to_do: "look for what drives its air: openings whose places push alike move nothing"
                        .to_string(),
                    size: rise,
                },
            );
        }
    }
}
