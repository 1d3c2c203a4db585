//! Fans: speed and flow against their curves.

use super::condition::{ElementInCondition, SolvedCondition};
use super::gather::{Finding, Findings};
use crate::air::{ZERO_CELSIUS, transport};
use crate::correlations::wheels;
use crate::element::fan;

/// Speed over that of the curve up to which the laws of similarity are trusted (common practice).
const TOO_FAST: f64 = 1.3;

/// Looks at the fans of a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    for turning in &at.condition.fans {
        let Some(over) = turning.over_reference.filter(|over| *over > TOO_FAST) else { continue };
        let tips = turning.tip_speed_m_s.map_or(String::new(), |tips| format!(", its tips at {tips:.0} m/s"));
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "fan-too-fast",
                place: Some(turning.address.clone()),
                seen: format!(
                    "the fan turns at {:.0} rpm{tips}: {:.2} times the speed of its curve",
                    turning.rpm, over
                ),
                what_to_do: format!(
                    "above {TOO_FAST} times neither the curve nor the blades are to be relied on: check the pulleys, give top_speed if the belt slips, or a curve taken at a higher speed"
                ),
                size: over,
            },
        );
    }
    for seen in at.elements() {
        if let Some(law) = seen.law.as_fan() {
            let mut law = law.clone();
            law.tell(at.operation.fans[seen.passage_index]);
            look_at_flow(at, &seen, &law, gathered);
            look_at_tips(at, &seen, &law, gathered);
        }
    }
}

/// A wheel whose usual curve was taken, at speeds for which that stands.
fn look_at_tips(at: &SolvedCondition, seen: &ElementInCondition, law: &fan::FanLaw, gathered: &mut Findings) {
    let speed = law.speed_at(at.condition.rpm);
    let (Some(diameter), true) = (law.usual_of(), speed > 0.0) else { return };
    let tips = wheels::tip_speed(diameter, speed);
    let entering = at.entering_temperature(seen);
    let viscosity = transport::viscosity(entering + ZERO_CELSIUS) / at.density_at(entering);
    let reynolds = tips * diameter / viscosity;
    let (code, plight, what_to_do, size) = if reynolds < wheels::LEAST_REYNOLDS {
        (
            "fan-reynolds",
            format!(
                "a Reynolds number of {reynolds:.1e} on the wheel ({:.0} mm, tips {tips:.0} m/s), under the {:.0e} from which its usual curve stands: it will do less",
                1e3 * diameter,
                wheels::LEAST_REYNOLDS
            ),
            "measure one point at that speed and give it as measured, or a curve",
            1.0 / reynolds,
        )
    } else if tips > wheels::MOST_TIP_SPEED {
        (
            "fan-tips-too-fast",
            format!(
                "tips at {tips:.0} m/s ({:.0} mm at {speed:.0} rpm), above the {:.0} m/s up to which its usual curve stands",
                1e3 * diameter,
                wheels::MOST_TIP_SPEED
            ),
            "check pulleys and diameter; wheels can burst: ask their maker for the highest speed, and keep a guard round them",
            tips,
        )
    } else {
        return;
    };
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code,
            place: Some(seen.values.address.clone()),
            seen: plight,
            what_to_do: what_to_do.to_string(),
            size,
        },
    );
}

fn look_at_flow(at: &SolvedCondition, seen: &ElementInCondition, law: &fan::FanLaw, gathered: &mut Findings) {
    let ratio = law.speed_at(at.condition.rpm) / law.reference_speed();
    let (first, last) = law.reaches();
    if ratio <= 0.0 {
        return;
    }
    let density = at.density_at(at.entering_temperature(seen));
    let pieces = crate::element::ElementLaw::pieces(law);
    let flow = seen.passage.mass_flow_kg_s / (density * pieces);
    let (begins, ends) = (first * ratio, last * ratio);
    let push = seen.element.push_Pa;
    let place = Some(seen.values.address.clone());
    // the solution's own error must not decide
    if flow > ends * (1.0 + 1e-6) {
        let (plight, what_to_do) = if push < 0.0 {
            (
                format!("and it stands in the way with {:.0} Pa: the air turns the fan", -push),
                "the ram drives the air through it: let the stream past the fan (a second inlet, a flap), gear the fan up, or make its inlet smaller",
            )
        } else {
            (
                format!("and its {push:.0} Pa there are a guess by the curve's last slope"),
                "give points of the curve further out, down to no pressure at all",
            )
        };
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "fan-overrun",
                place,
                seen: format!(
                    "{flow:.3} m³/s go through the fan, whose curve ends at {ends:.3} m³/s at that speed, {plight}"
                ),
                what_to_do: what_to_do.to_string(),
                size: flow / ends,
            },
        );
    } else if push < 0.0 && flow > 0.0 {
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "fan-windmills",
                place,
                seen: format!(
                    "{flow:.3} m³/s go through the fan, more than it can push at that speed: it stands in the way with {:.0} Pa, and the air turns it",
                    -push
                ),
                what_to_do: "the ram drives the air through it: let the stream past the fan (a second inlet, a flap), gear the fan up, or make its inlet smaller".to_string(),
                size: -push,
            },
        );
    } else if flow < begins - 1e-6 * ends {
        let (plight, what_to_do) = if flow < 0.0 {
            (
                "air is driven back through it",
                "lower the pressure behind the fan (larger exits), gear it up, or give it a space of its own",
            )
        } else {
            (
                "its pressure there is a guess by the curve's first slope, and it may surge",
                "lower the resistance behind the fan, or give points of the curve down to no flow",
            )
        };
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "fan-before-curve",
                place,
                seen: format!(
                    "{flow:.3} m³/s go through the fan, whose curve begins at {begins:.3} m³/s at that speed: {plight}"
                ),
                what_to_do: what_to_do.to_string(),
                size: (begins - flow) / ends,
            },
        );
    }
}
