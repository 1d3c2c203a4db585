//! Where the pressure goes on the way of the air through a passage.
//!
//! Between the ends of a passage every pascal that drives the air is spent: in its elements, as
//! the speed that dies where the air leaves, and against the pressure of the space it enters. What
//! stands in that space has still to be spent on the way out of it.

use super::result::{ChamberResult, Condition, Element, PassageResult};
use crate::element::{self, Push};

/// What drives the air of a passage along its real direction, and what takes it.
pub struct PressureBudget {
    /// What drives it: name and pascals.
    pub gives: Vec<(String, f64)>,
    /// What takes it, the largest first.
    pub takes: Vec<(String, f64)>,
}

impl PressureBudget {
    /// The way through a passage in a condition.
    pub fn of(condition: &Condition, passage: &PassageResult) -> PressureBudget {
        let direction = if passage.mass_flow_kg_s < 0.0 { -1.0 } else { 1.0 };
        let mut way = PressureBudget { gives: Vec::new(), takes: Vec::new() };
        let labels = labels(passage);
        for (element, label) in passage.elements.iter().zip(&labels) {
            way.takes.push((label.clone(), element.loss_Pa.max(0.0)));
            way.gives.push((label.clone(), (-element.loss_Pa).max(0.0)));
            way.drive(pusher(condition, element.kind, label), direction * element.push_Pa);
        }
        let end = if direction < 0.0 { &passage.from } else { &passage.to };
        let jet = if end == "outside" { "the jet".to_string() } else { format!("speed lost in {end}") };
        way.takes.push((jet, passage.last_velocity_head_Pa));
        for (end, sign) in [(&passage.from, 1.0), (&passage.to, -1.0)] {
            if let Some(chamber) = chamber(condition, end) {
                // a space below the day's pressure draws where one above it pushes
                let gives = direction * sign * chamber.gauge_pressure_Pa;
                let word =
                    if gives > 0.0 && chamber.gauge_pressure_Pa < 0.0 { "suction of" } else { "pressure in" };
                way.drive(format!("{word} {end}"), gives);
            }
        }
        for side in [&mut way.gives, &mut way.takes] {
            side.retain(|(_, pascals)| *pascals > 0.0);
            side.sort_by(|a, b| b.1.total_cmp(&a.1));
        }
        way
    }

    fn drive(&mut self, label: String, pascals: f64) {
        let side = if pascals >= 0.0 { &mut self.gives } else { &mut self.takes };
        side.push((label, pascals.abs()));
    }

    /// All that is taken (Pa).
    pub fn total(&self) -> f64 {
        self.takes.iter().map(|(_, pascals)| pascals).sum()
    }
}

fn pusher(condition: &Condition, kind: &str, label: &str) -> String {
    match element::kind(kind).map_or(Push::Own, |kind| kind.push) {
        Push::Own => label.to_string(),
        // no wind on the openings: what pushes there is air of another weight
        _ if condition.dynamic_pressure_Pa <= 0.0 => "warm air rising".to_string(),
        Push::Ram => "ram".to_string(),
        Push::Body => format!("body pressure at {label}"),
    }
}

/// The chamber of a name; none for outside and engine.
pub fn chamber<'c>(condition: &'c Condition, name: &str) -> Option<&'c ChamberResult> {
    condition.chambers.iter().find(|chamber| chamber.name == name)
}

/// The elements of a passage by name: their own, else the kind, numbered from the second on.
pub fn labels(passage: &PassageResult) -> Vec<String> {
    let all = passage.elements.iter().enumerate();
    all.map(|(index, element)| {
        let alike = |e: &&Element| (e.kind, e.implied) == (element.kind, element.implied);
        let before = passage.elements[..index].iter().filter(alike).count();
        match &element.name {
            Some(name) => name.clone(),
            None if before > 0 => format!("{} {}", element.word(), before + 1),
            None => element.word(),
        }
    })
    .collect()
}

/// The passages whose elements cool a part, the one with most air first.
pub fn passages_of<'c>(condition: &'c Condition, part: &str) -> Vec<&'c PassageResult> {
    let serves = |passage: &&PassageResult| passage.elements.iter().any(|e| e.part.as_deref() == Some(part));
    let mut passages: Vec<&PassageResult> = condition.passages.iter().filter(serves).collect();
    passages.sort_by(|a, b| b.mass_flow_kg_s.abs().total_cmp(&a.mass_flow_kg_s.abs()));
    passages
}

/// What runs back through a reversed passage.
pub fn what_runs_back(condition: &Condition, passage: &PassageResult) -> String {
    match chamber(condition, &passage.to) {
        Some(chamber) if chamber.temperature_C > condition.air_temperature_C + 10.0 => {
            format!("hot {} air", chamber.name)
        }
        Some(chamber) => format!("{} air", chamber.name),
        None => "outside air".to_string(),
    }
}
