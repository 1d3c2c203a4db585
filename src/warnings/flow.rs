//! Which way the air goes, and whether the openings fit the stream.

use super::condition::SolvedCondition;
use super::gather::{Finding, Findings};
use super::words;
use crate::element::{Role, ram_inlet};
use crate::keys::figures;
use crate::point::result::PassageResult;

/// Speed in an inlet over that of the stream below which it spills (common practice).
const SPILLING: f64 = 0.3;
/// Share of an inlet's push above which the pressure behind it, not its size, keeps the air out.
const HELD_UP: f64 = 0.5;

/// Looks at the way of the air in a solved condition.
pub(super) fn look(at: &SolvedCondition, gathered: &mut Findings) {
    for (index, passage) in at.condition.passages.iter().enumerate() {
        if passage.reversed {
            look_at_reversed(at, index, passage, gathered);
        }
    }
    look_at_recirculation(at, gathered);
    look_at_inlets(at, gathered);
    look_at_rest(at, gathered);
}

/// The parts that a passage's air meets, in words.
fn parts_on_the_way(at: &SolvedCondition, index: usize) -> String {
    let Some(passage) = at.model.network.passages.get(index) else { return String::new() };
    let mut names: Vec<&str> = Vec::new();
    for part in passage.elements.clone().filter_map(|element| at.model.part_of[element]) {
        let name = at.case.parts[part].name.as_str();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if names.is_empty() { String::new() } else { format!(", and past {} on its way", names.join(", ")) }
}

fn look_at_reversed(at: &SolvedCondition, index: usize, passage: &PassageResult, gathered: &mut Findings) {
    let Some(table) = at.case.passages.get(index) else { return };
    let has = |role| table.first_of(role).is_some();
    let flow = words::mass_flow(passage.mass_flow_kg_s);
    let temperature = words::celsius(passage.outlet_temperature_C);
    let past = parts_on_the_way(at, index);
    let day = at.condition.air_temperature_C;
    let (code, seen, what_to_do) = if has(Role::Inlet) && passage.from == "outside" {
        let warmth = if passage.outlet_temperature_C > day + 5.0 { "hot air" } else { "air" };
        let from = if passage.to == "outside" { "the exit".to_string() } else { passage.to.clone() };
        (
            "inlet-blows-out",
            format!("{warmth} from {from} blows out of this inlet, {flow} at {temperature}{past}"),
            "lower the pressure behind it (larger exits, or exits where the body's pressure is lower), raise what drives it (a better place, a duct from the fan), or part it from the space that blows back".to_string(),
        )
    } else if has(Role::Exit) && passage.to == "outside" {
        (
            "exit-draws-in",
            format!("this exit draws air in, {flow}, and hands it on at {temperature}{past}"),
            "move it to where the body's pressure is lower (check the sign of its pressure coefficient), or close it: the other exits may do".to_string(),
        )
    } else if has(Role::Leak) && (passage.from == "outside" || passage.to == "outside") {
        // a seam has no right way round
        return;
    } else {
        (
            "passage-runs-back",
            format!(
                "the air runs back from {} to {}, {flow} at {temperature}{past}",
                passage.to, passage.from
            ),
            "look at the pressures of the two chambers, and swap from and to if this is meant".to_string(),
        )
    };
    gathered.in_condition(
        &at.condition.name,
        Finding {
            code,
            place: Some(format!("passage/{}", passage.name)),
            seen,
            what_to_do,
            size: passage.mass_flow_kg_s.abs(),
        },
    );
}

fn look_at_recirculation(at: &SolvedCondition, gathered: &mut Findings) {
    let passages = &at.condition.passages;
    for (inlet, table) in passages.iter().zip(&at.case.passages) {
        for recirculation in table.elements.iter().flat_map(|e| e.tables(&ram_inlet::RECIRCULATION)) {
            let from = recirculation.text(&ram_inlet::FROM).unwrap_or_default();
            let Some(exit) = passages.iter().find(|p| p.name == from) else { continue };
            let Some(reversed) = [inlet, exit].into_iter().find(|p| p.reversed) else { continue };
            let share = at.case.view(recirculation).required(&ram_inlet::SHARE);
            gathered.in_condition(
                &at.condition.name,
                Finding {
                    code: "recirculation-off",
                    place: Some(recirculation.address_of(&ram_inlet::SHARE)),
                    seen: format!(
                        "the {} of warm air drawn in again from {from:?} is left out, because {:?} runs back with {}",
                        figures::close_share(share),
                        reversed.name,
                        words::mass_flow(reversed.mass_flow_kg_s)
                    ),
                    what_to_do: "cure the passage that runs back first; until then the air that enters may be warmer than shown".to_string(),
                    size: reversed.mass_flow_kg_s.abs(),
                },
            );
        }
    }
}

fn look_at_inlets(at: &SolvedCondition, gathered: &mut Findings) {
    if at.standing() {
        return;
    }
    for seen in at.elements() {
        let (true, Some(area), Some(velocity)) =
            (seen.law.faces_stream(), seen.element.area_m2, seen.element.velocity_m_s)
        else {
            continue;
        };
        let ratio = velocity / at.moment.local_speed;
        if ratio >= SPILLING || seen.passage.reversed {
            continue;
        }
        let chamber = at.condition.chambers.iter().find(|c| c.name == seen.passage.to);
        let held_up = chamber.filter(|c| c.gauge_pressure_Pa > HELD_UP * seen.element.push_Pa);
        let what_to_do = if let Some(chamber) = held_up {
            format!(
                "it is held up by the {:.0} Pa of {} against its own push of {:.0} Pa: open the exits, or part it from what fills that space, before its size is judged",
                chamber.gauge_pressure_Pa, chamber.name, seen.element.push_Pa
            )
        } else {
            let smaller = figures::small_area(area * ratio / SPILLING);
            let or = if seen.passage.to == "engine" { "" } else { ", or open the exit" };
            format!(
                "make the inlet smaller (about {smaller} would take the same air at {SPILLING}) as far as the slow conditions allow{or}"
            )
        };
        gathered.in_condition(
            &at.condition.name,
            Finding {
                code: "inlet-spills",
                place: Some(seen.values.address.clone()),
                seen: format!(
                    "the air enters at {ratio:.2} of the speed of the stream ({} of {}); below {SPILLING} most of it spills round the lip, with a drag that is not counted",
                    words::speed(velocity),
                    words::speed(at.moment.local_speed)
                ),
                what_to_do,
                size: 1.0 - ratio,
            },
        );
    }
}

/// Engine running, no stream, no fan.
fn look_at_rest(at: &SolvedCondition, gathered: &mut Findings) {
    let condition = at.condition;
    if !at.standing() || condition.rpm <= 0.0 || condition.fans.iter().any(|fan| fan.rpm > 0.0) {
        return;
    }
    let heat: f64 = condition.heat_to.iter().map(|(_, heat)| heat.max(0.0)).sum();
    let fans = match condition.fans.len() {
        0 => "there is no fan".to_string(),
        1 => "the fan stands".to_string(),
        number => format!("all {number} fans stand"),
    };
    let rises = at.model.network.rises();
    let draught = if rises {
        "warm air rising alone moves the air here, and little of it"
    } else {
        "nothing moves the air here (the draught of warm air rising is not counted: give above_ground at the places for that)"
    };
    gathered.in_condition(
        &condition.name,
        Finding {
            code: "nothing-moves-the-air",
            place: Some(format!("condition/{}", condition.name)),
            seen: format!(
                "the engine gives off {} at {:.0} rpm, the stream stands and {fans}: {draught}",
                figures::power(heat),
                condition.rpm
            ),
            what_to_do: "see how long it can last rather than whether it settles, stop the engine in a queue, or add a fan".to_string(),
            size: heat,
        },
    );
}
