//! From the elements of a passage to its flow.

use super::figure;
use super::inputs::{found, of_table};
use super::result::{PressureShare, Spent, WhyLink};
use crate::case::Case;
use crate::point::pressure_budget::{PressureBudget, labels};
use crate::point::result::{Condition, Element, PassageResult};

/// Where the pressure goes in a passage.
pub(super) fn spent(condition: &Condition, passage: &PassageResult) -> Spent {
    let way = PressureBudget::of(condition, passage);
    let side = |list: &[(String, f64)]| {
        let all: f64 = list.iter().map(|(_, pascals)| pascals).sum();
        let pressure = |(what, pascals): &(String, f64)| PressureShare {
            what: what.clone(),
            pressure_Pa: *pascals,
            share: if all > 0.0 { pascals / all } else { 0.0 },
        };
        list.iter().map(pressure).collect()
    };
    Spent {
        passage: passage.name.clone(),
        mass_flow_kg_s: passage.mass_flow_kg_s,
        gives: side(&way.gives),
        takes: side(&way.takes),
    }
}

/// Every element of a passage with its law, or one of them alone.
pub(super) fn chain(case: &Case, condition: &Condition, passage: usize, only: Option<usize>) -> Vec<WhyLink> {
    let Some(solved) = condition.passages.get(passage) else { return Vec::new() };
    let table = &case.passages[passage];
    let total = PressureBudget::of(condition, solved).total();
    let mut links = Vec::new();
    let mut written = 0;
    for (element, label) in solved.elements.iter().zip(labels(solved)) {
        if element.implied {
            if only.is_none() {
                links.push(sudden(element, &label, solved, total));
            }
            continue;
        }
        let index = written;
        written += 1;
        if only.is_some_and(|only| only != index) {
            continue;
        }
        let Some(kind) = table.kind(index) else { continue };
        let mut inputs = of_table(case, &table.elements[index]);
        inputs.push(found("air", figure(solved.mass_flow_kg_s, "kg/s")));
        links.push(WhyLink {
            what: format!("{label} of {}", table.name),
            formula: kind.summary.into(),
            source: kind.source.into(),
            inputs,
            result: does(element, total),
        });
    }
    links.push(flow(condition, solved));
    links
}

/// A change of area that nobody wrote.
fn sudden(element: &Element, label: &str, passage: &PassageResult, total: f64) -> WhyLink {
    let formula = if element.widens == Some(true) {
        "the way widens suddenly: K = (1 − A₁/A₂)² on the smaller area A₁, nothing into a chamber"
    } else {
        "the way narrows suddenly: K = 0.0696 (1 − β⁵) λ² + (λ − 1)², λ = 1 + 0.622 (1 − 0.215 β² − 0.785 β⁵), β² = A₂/A₁, on the smaller area A₂; nothing into an exit, a screen, fins, a core or a fan, whose own figures hold it"
    };
    WhyLink {
        what: format!("{label} in {}", passage.name),
        formula: formula.into(),
        source: "neighbours of unlike area with nothing written between them; Borda (1766), Carnot (1803); Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1".into(),
        inputs: vec![found("air", figure(passage.mass_flow_kg_s, "kg/s"))],
        result: does(element, total),
    }
}

/// "loses 43 Pa, 12 % of the way; 18 m/s on 46 cm², K 0.21 there".
fn does(element: &Element, total: f64) -> String {
    let mut parts = Vec::new();
    if element.push_Pa != 0.0 {
        parts.push(format!("pushes with {}", figure(element.push_Pa, "Pa")));
    }
    let share = if total > 0.0 && element.loss_Pa > 0.0 {
        format!(", {:.0} % of all that is spent on this way", 100.0 * element.loss_Pa / total)
    } else {
        String::new()
    };
    parts.push(format!("loses {}{share}", figure(element.loss_Pa, "Pa")));
    if let (Some(area), Some(speed)) = (element.area_m2, element.velocity_m_s) {
        parts.push(format!("{} on {}", figure(speed, "m/s"), figure(1e4 * area, "cm²")));
    }
    parts.push(format!("the air leaves it at {}", figure(element.outlet_temperature_C, "°C")));
    parts.join("; ")
}

/// What drives and what takes, in balance.
fn flow(condition: &Condition, passage: &PassageResult) -> WhyLink {
    let way = PressureBudget::of(condition, passage);
    let side = |list: &[(String, f64)]| -> Vec<String> {
        list.iter().map(|(what, pascals)| format!("{what} {}", figure(*pascals, "Pa"))).collect()
    };
    let inputs = vec![
        found("what drives the air", side(&way.gives).join(", ")),
        found("what takes it", side(&way.takes).join(", ")),
    ];
    let back = if passage.reversed { ", running back" } else { "" };
    WhyLink {
        what: format!("air through {}", passage.name),
        formula: "Σ pushes = Σ losses + last velocity head;  Σ ṁ = 0 in every chamber".into(),
        source: "balances of mass and total pressure, all passages at once".into(),
        inputs,
        result: format!("{}{back}", figure(passage.mass_flow_kg_s.abs(), "kg/s")),
    }
}
