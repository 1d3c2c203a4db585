//! The invented car, edited, solved and looked at.

use slowcorner::case::{self, Case, Warning};
use slowcorner::point::Model;
use slowcorner::point::result::{Condition, PassageResult};
use slowcorner::warnings;

const CAR: &str = include_str!("base.toml");

/// One edit of the car's file.
#[derive(Clone, Copy, Debug)]
pub enum Edit {
    /// An address set to a value.
    Set(&'static str, &'static str),
    /// A piece of text in place of another, which must be there once.
    Replace(&'static str, &'static str),
    /// Tables added at the end.
    Add(&'static str),
}

/// What raises a code, and what does not.
pub struct Probe {
    /// The code.
    pub code: &'static str,
    /// Where it is raised.
    pub place: &'static str,
    /// The edit that raises it.
    pub raised_by: &'static [Edit],
    /// Figures that its message must hold.
    pub figures: fn(&Seen) -> Vec<String>,
    /// Words of its advice.
    pub advice: &'static str,
    /// A lesser edit that does not raise it.
    pub not_by: &'static [Edit],
}

/// An edited car with everything that was seen.
pub struct Seen {
    pub case: Case,
    pub model: Model,
    pub conditions: Vec<Condition>,
    pub warnings: Vec<Warning>,
}

impl Seen {
    /// The car with some edits.
    pub fn with(edits: &[Edit]) -> Seen {
        let mut text = CAR.to_string();
        let mut overrides = Vec::new();
        for edit in edits {
            match edit {
                Edit::Set(address, value) => overrides.push((address.to_string(), value.to_string())),
                Edit::Replace(from, to) => {
                    assert_eq!(text.matches(from).count(), 1, "{from:?} stands once in the car");
                    text = text.replace(from, to);
                }
                Edit::Add(tables) => text += tables,
            }
        }
        let case = match case::load(&text, &overrides) {
            Ok(loaded) => loaded.case,
            Err(faults) => panic!("{edits:?}: {faults}"),
        };
        let model = match Model::new(&case) {
            Ok(model) => model,
            Err(faults) => panic!("{edits:?}: {faults}"),
        };
        let conditions =
            slowcorner::point::conditions::check(&case, &model).unwrap_or_else(|e| panic!("{edits:?}: {e}"));
        let mut warnings = model.warnings.clone();
        warnings.extend(warnings::of_case(&case, &model));
        warnings.extend(warnings::of_conditions(&case, &model, &conditions));
        Seen { case, model, conditions, warnings }
    }

    /// The message of a code at an address.
    pub fn message(&self, code: &str, place: &str) -> &str {
        let found = self.warnings.iter().find(|w| w.code == code && w.place.as_deref() == Some(place));
        found.map_or_else(|| panic!("no {code} at {place}: {:#?}", self.warnings), |w| &w.message)
    }

    /// Lines that let a slip be seen.
    pub fn echoes(&self) -> Vec<String> {
        warnings::echoes(&self.case, &self.model, &self.conditions)
    }

    /// A condition.
    pub fn condition(&self, name: &str) -> &Condition {
        self.conditions.iter().find(|c| c.name == name).unwrap()
    }

    /// A passage in a condition.
    pub fn passage(&self, condition: &str, name: &str) -> &PassageResult {
        self.condition(condition).passages.iter().find(|p| p.name == name).unwrap()
    }
}

/// Figures that stand in the file or follow from it by hand.
pub fn texts<const N: usize>(figures: [&str; N]) -> Vec<String> {
    figures.iter().map(|figure| figure.to_string()).collect()
}

/// Engine speed [rev/min] of the car at a road speed [km/h] in a gear: 60 V/(2π r) × gear × final
/// drive, with the figures of the file.
pub fn engine_speed(kilometres_an_hour: f64, gear: f64) -> f64 {
    60.0 * kilometres_an_hour / 3.6 / (std::f64::consts::TAU * 0.258) * gear * 3.9
}
