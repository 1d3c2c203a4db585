//! Fans: speed and flow against their curves.

use super::gather::{Gathered, Sight};
use super::scene::{Scene, Seen};
use crate::element::{Law, fan};

/// Speed over that of the curve up to which the laws of similarity are trusted (common practice).
const TOO_FAST: f64 = 1.3;

/// Looks at the fans of a solved condition.
pub(super) fn look(scene: &Scene, gathered: &mut Gathered) {
    for turning in scene.condition.fans.iter().filter(|fan| fan.over_reference > TOO_FAST) {
        let tips = turning.tip_speed_m_s.map_or(String::new(), |tips| format!(", its tips at {tips:.0} m/s"));
        gathered.in_condition(
            &scene.condition.name,
            Sight {
                code: "fan-too-fast",
                place: Some(turning.address.clone()),
                seen: format!(
                    "the fan turns at {:.0} rpm{tips}: {:.2} times the speed of its curve",
                    turning.rpm, turning.over_reference
                ),
                what_to_do: format!(
                    "above {TOO_FAST} times neither the curve nor the blades are to be relied on: check the pulleys, give top_speed if the belt slips, or a curve taken at a higher speed"
                ),
                size: turning.over_reference,
            },
        );
    }
    for seen in scene.elements() {
        if let Law::Fan(law) = seen.law {
            look_at_flow(scene, &seen, law, gathered);
        }
    }
}

fn look_at_flow(scene: &Scene, seen: &Seen, law: &fan::Fan, gathered: &mut Gathered) {
    let ratio = law.speed_at(scene.condition.rpm) / law.reference_speed();
    let points = scene.case.view(seen.values).pairs(&fan::CURVE);
    let (Some((first, _)), Some((last, _))) = (points.first(), points.last()) else { return };
    if ratio <= 0.0 {
        return;
    }
    let density = scene.density_at(scene.entering_temperature(seen));
    let pieces = crate::element::ElementLaw::pieces(law);
    let flow = seen.passage.mass_flow_kg_s / (density * pieces);
    let (begins, ends) = (first * ratio, last * ratio);
    let push = seen.element.push_Pa;
    let place = Some(seen.values.address.clone());
    // the solution's own error must not decide
    if flow > ends * (1.0 + 1e-6) {
        let (plight, what_to_do) = if push < 0.0 {
            (
                format!("and it stands in the way with {:.0} Pa", -push),
                "the ram drives the air through it: let the stream past the fan (a second inlet, a flap), gear the fan up, or make its inlet smaller",
            )
        } else {
            (
                format!("and its {push:.0} Pa there are a guess by the curve's last slope"),
                "give points of the curve further out, down to no pressure at all",
            )
        };
        gathered.in_condition(
            &scene.condition.name,
            Sight {
                code: "fan-overrun",
                place,
                seen: format!(
                    "{flow:.3} m³/s go through the fan, whose curve ends at {ends:.3} m³/s at that speed, {plight}"
                ),
                what_to_do: what_to_do.to_string(),
                size: flow / ends,
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
            &scene.condition.name,
            Sight {
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
