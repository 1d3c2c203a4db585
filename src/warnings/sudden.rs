//! Sudden changes of area that take a good part of what drives the air.

use super::condition::SolvedCondition;
use super::gather::{Finding, Findings};
use crate::keys::figures;

/// Loss from which a change is told (Pa), and the share of its passage's losses.
const WORTH_A_WORD: (f64, f64) = (5.0, 0.1);

/// Looks at the changes of area of a solved condition that nobody wrote.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    let tables = at.case.passages.iter().zip(&at.model.network.passages);
    for (passage, (table, joined)) in at.condition.passages.iter().zip(tables) {
        let all: f64 = passage.elements.iter().map(|element| element.loss_Pa.max(0.0)).sum();
        let rows = passage.elements.iter().filter(|element| element.implied);
        for (row, change) in rows.zip(&joined.sudden) {
            if row.loss_Pa <= WORTH_A_WORD.0 || row.loss_Pa <= WORTH_A_WORD.1 * all {
                continue;
            }
            let widens = row.widens == Some(true);
            let named = change.between.1.or(change.between.0);
            let area = |area: f64| {
                if area.is_finite() { figures::small_area(area) } else { "a chamber".to_string() }
            };
            let (from, to) =
                if passage.mass_flow_kg_s < 0.0 { (change.areas.1, change.areas.0) } else { change.areas };
            let (word, way) = if widens {
                (
                    "widens",
                    "put a diffuser of 7 to 12 degrees there, or a larger opening before it; blended = true where it is lofted",
                )
            } else {
                (
                    "narrows",
                    "round the edge (a step with its radius), put a contraction there; blended = true where it is lofted",
                )
            };
            gathered.in_condition(
                &at.condition.name,
                Finding {
                    code: "sudden-change",
                    place: named.map(|place| table.elements[place].address.clone()),
                    seen: format!(
                        "the air's way {word} suddenly from {} to {}, which takes {:.0} Pa, {:.0} % of what the passage loses",
                        area(from),
                        area(to),
                        row.loss_Pa,
                        100.0 * row.loss_Pa / all
                    ),
                    what_to_do: way.to_string(),
                    size: row.loss_Pa,
                },
            );
        }
    }
}
