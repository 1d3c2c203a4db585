//! Joints: a leg that the other draws along, air that runs the third way.

use super::condition::{ElementInCondition, SolvedCondition};
use super::gather::{Finding, Findings};
use super::words;
use crate::element::tee::TeeLeg;
use crate::point::result::STILL;

/// Looks at the joints of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    // the joint is the chamber at the end at which the tee stands; towards it counts as positive
    let legs: Vec<(bool, &String, f64, ElementInCondition)> = at
        .elements()
        .filter_map(|seen| {
            let law = seen.law.as_tee()?;
            let passage = seen.passage;
            let (joint, sign) = if law.joint_behind() { (&passage.to, 1.0) } else { (&passage.from, -1.0) };
            Some((law.leg() == TeeLeg::Combined, joint, sign * passage.mass_flow_kg_s, seen))
        })
        .collect();
    for (combined, joint, flow, seen) in &legs {
        if *combined {
            continue;
        }
        look_at_gain(at, seen, gathered);
        let others = legs.iter().filter(|(combined, other, _, _)| !combined && other == joint);
        let against =
            others.map(|other| other.2).find(|other| other * flow < 0.0 && other.abs() > flow.abs());
        if against.is_some() && flow.abs() > STILL {
            gathered.in_condition(
                &at.condition.name,
                Finding {
                    code: "tee-runs-against",
                    place: Some(seen.values.address.clone()),
                    seen: format!(
                        "{} run{} through this leg of the tee against the other one; the formulas know flows that join, and flows that split",
                        words::mass_flow(flow.abs()),
                        if *flow > 0.0 { " in" } else { " out" }
                    ),
                    what_to_do: "raise what drives this leg, or shut it there; where it is meant, write the legs for this way of the air".to_string(),
                    size: flow.abs(),
                },
            );
        }
    }
}

/// A leg that the other draws along.
fn look_at_gain(at: &SolvedCondition, seen: &ElementInCondition, gathered: &mut Findings) {
    if seen.element.loss_Pa >= -0.5 {
        return;
    }
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code: "negative-loss",
            place: Some(seen.values.address.clone()),
            seen: format!(
                "this leg of the tee gains {:.0} Pa from the other, which draws it along; more than one state may exist",
                -seen.element.loss_Pa
            ),
            what_to_do: "right for a tee, whose other leg pays for it".to_string(),
            size: -seen.element.loss_Pa,
        },
    );
}
