//! What the properties share: solving a car, and comparing two solutions.

use super::cars::Car;
use slowcorner::case::Case;
use slowcorner::point::result::Condition;
use slowcorner::point::{Model, conditions};

/// A case read and made ready.
pub struct Ready {
    pub case: Case,
    pub model: Model,
}

impl Ready {
    pub fn new(text: &str) -> Ready {
        let case = slowcorner::case::load(text, &[]).unwrap_or_else(|f| panic!("{text}\n{f:?}")).case;
        let model = Model::new(&case).unwrap_or_else(|f| panic!("{text}\n{f:?}"));
        Ready { case, model }
    }

    pub fn of(car: &Car) -> Ready {
        Ready::new(&car.text())
    }

    /// All its conditions solved.
    pub fn solve(&self) -> Vec<Condition> {
        conditions::check(&self.case, &self.model).unwrap_or_else(|error| panic!("{error}"))
    }
}

/// The largest flow of a condition [kg/s], a gramme a second at least: what flows are measured
/// against.
fn largest(condition: &Condition) -> f64 {
    condition.passages.iter().fold(1e-3, |largest, p| p.mass_flow_kg_s.abs().max(largest))
}

/// Flow of the passages whose name begins so, together [kg/s].
fn flow(condition: &Condition, name: &str) -> f64 {
    let named = condition.passages.iter().filter(|p| p.name.starts_with(name));
    named.map(|p| p.mass_flow_kg_s).sum()
}

/// The largest difference of two solutions of the same car written in two ways: flows by name (those
/// of `together` added up), pressures and temperatures of chambers, temperatures of parts with their
/// share of heat, each against its size.
pub fn difference(one: &Condition, other: &Condition, together: &[&str]) -> f64 {
    let mut worst: f64 = 0.0;
    let mut note =
        |difference: f64| worst = if difference.is_nan() { f64::INFINITY } else { worst.max(difference) };
    let size = largest(one);
    let joined = |name: &str| together.iter().any(|t| name.starts_with(t));
    for passage in one.passages.iter().filter(|p| !joined(&p.name)) {
        note((passage.mass_flow_kg_s - flow(other, &passage.name)).abs() / size);
    }
    for name in together {
        note((flow(one, name) - flow(other, name)).abs() / size);
    }
    for chamber in &one.chambers {
        let Some(same) = other.chambers.iter().find(|c| c.name == chamber.name) else { return f64::INFINITY };
        let (a, b) = (chamber.gauge_pressure_Pa, same.gauge_pressure_Pa);
        note((a - b).abs() / a.abs().max(10.0));
        note((chamber.temperature_C - same.temperature_C).abs() / (chamber.temperature_C + 273.15));
    }
    for part in &one.parts {
        let Some(same) = other.parts.iter().find(|p| p.name == part.name) else { return f64::INFINITY };
        // the temperature of what neither takes nor gives heat is anybody's guess
        if one.brake_power_W > 0.0 {
            note((part.temperature_C - same.temperature_C).abs() / (part.temperature_C + 273.15));
        }
        // air that all but stands counts as standing, passage by passage
        let runs = part.flow_kg_s == 0.0 || part.flow_kg_s > 1e-4;
        if runs && part.margin_is != same.margin_is {
            note(1.0);
        }
    }
    worst
}
