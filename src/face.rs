//! What a program that reckons with this library sees: a case read, changed, solved and sized, and an estimate without one.

use crate::case::render::render;
use crate::case::{Case, Diagnostics, load};
use crate::point::conditions::{ConditionUnsolved, check};
use crate::point::result::Condition;
pub use crate::point::result::OpeningRole;
use crate::point::{Model, result as r};
use crate::study::estimate::{Inputs, WAYS, result::FigureRange};
use crate::study::size::{NotSized, Sizing};
use crate::thermal::MarginIs;
use serde::Serialize;

/// A case file that was read and found to be sound.
///
/// ```
/// use slowcorner::CaseFile;
///
/// let text = std::fs::read_to_string("cases/stubble-buggy.toml")?;
/// let case = CaseFile::read(&text)?;
/// let corner = &case.solve()?[0];
/// assert_eq!(corner.name, "slalom pole");
/// let heads = corner.parts.iter().find(|part| part.name == "heads").expect("a part");
/// println!("heads keep {:.0} K", heads.margin_K.unwrap_or(f64::INFINITY));
///
/// let hotter = case.with(&[("day/temperature", "36 degC")])?;
/// let there = hotter.solve()?[0].parts[0].temperature_C;
/// assert!(there > corner.parts[0].temperature_C + 10.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug)]
pub struct CaseFile {
    text: String,
    set: Vec<(String, String)>,
    case: Case,
}

/// Why there is no answer.
#[derive(Clone, Debug, thiserror::Error)]
#[non_exhaustive]
pub enum CaseError {
    /// The case was refused.
    #[error("{}", shown(.0))]
    Refused(Vec<CaseFault>),
    /// A condition has no steady state.
    #[error("{0}")]
    Unsolved(String),
    /// There is nothing to be sized, or no sizes could be tried.
    #[error("{0}")]
    NotSized(String),
}

/// One fault of a case.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct CaseFault {
    /// A code in words, which stays the same.
    pub code: String,
    /// What is wrong.
    pub message: String,
    /// What can be done about it.
    pub what_to_do: String,
    /// All of it with its place in the file, as the command line shows it.
    pub shown: String,
}

/// A condition of the case, solved.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
#[non_exhaustive]
pub struct ConditionAnswer {
    /// Its name.
    pub name: String,
    /// Road speed.
    pub speed_m_s: f64,
    /// The parts.
    pub parts: Vec<PartAnswer>,
    /// The passages.
    pub passages: Vec<PassageAnswer>,
    /// Drag that the cooling air makes.
    pub cooling_drag_N: f64,
    /// Largest relative error of any balance.
    pub residual: f64,
}

/// A part in a condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
#[non_exhaustive]
pub struct PartAnswer {
    /// Its name.
    pub name: String,
    /// Its temperature.
    pub temperature_C: f64,
    /// Its limit less that; none where it has no limit.
    pub margin_K: Option<f64>,
    /// Air over what is needed.
    pub air: AirMargin,
}

/// Air through a part's elements over what it needs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum AirMargin {
    /// So much more, as a share: 0.15 is 15 % more than is needed.
    Value(f64),
    /// None is needed.
    Unlimited,
    /// No amount would do.
    Impossible,
    /// The part has no limit.
    None,
}

/// A passage in a condition.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
#[non_exhaustive]
pub struct PassageAnswer {
    /// Its name.
    pub name: String,
    /// Air through all of its kind, positive in the way in which the passage is written.
    pub mass_flow_kg_s: f64,
    /// Temperature of the air where it leaves.
    pub outlet_temperature_C: f64,
}

/// Sizes of the free openings.
#[derive(Clone, Debug, Serialize)]
#[non_exhaustive]
pub struct SizesAnswer {
    /// Whether every margin is reached with them.
    pub feasible: bool,
    /// The openings.
    pub openings: Vec<OpeningAnswer>,
}

/// An opening with its size.
#[derive(Clone, Debug, Serialize)]
#[non_exhaustive]
pub struct OpeningAnswer {
    /// PASSAGE, or PASSAGE/ELEMENT.
    pub name: String,
    /// What it is.
    pub role: OpeningRole,
    /// Area of one.
    pub area_m2: f64,
    /// How many there are.
    pub pieces: usize,
}

/// A first estimate at one moment.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
#[non_exhaustive]
pub struct EstimateAnswer {
    /// "slow" or "fast": the slow corner, or full power.
    pub name: String,
    /// Heat of all parts.
    pub heat_W: EstimateRange,
    /// Air that takes it.
    pub mass_flow_kg_s: EstimateRange,
    /// Inlets in all, on ram alone.
    pub inlet_m2: EstimateRange,
    /// Exits in all, on ram alone.
    pub exit_m2: EstimateRange,
}

/// A figure with its range; an end that is not finite means that no amount, or no size, would do.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct EstimateRange {
    /// Low end.
    pub low: f64,
    /// The likely value.
    pub likely: f64,
    /// High end.
    pub high: f64,
}

impl CaseFile {
    /// Reads a case from the text of its file.
    ///
    /// # Errors
    /// [`CaseError::Refused`] with all faults at once.
    pub fn read(text: &str) -> Result<CaseFile, CaseError> {
        CaseFile::read_with(text, Vec::new())
    }

    fn read_with(text: &str, set: Vec<(String, String)>) -> Result<CaseFile, CaseError> {
        let loaded = load(text, &set).map_err(|faults| refused(&faults, text))?;
        Ok(CaseFile { text: text.to_string(), set, case: loaded.case })
    }

    /// The same case with some numbers changed: address and value as behind `--set`.
    ///
    /// # Errors
    /// [`CaseError::Refused`] where an address is unknown, a value cannot be read, or the case is no longer sound.
    pub fn with(&self, changes: &[(&str, &str)]) -> Result<CaseFile, CaseError> {
        let mut set = self.set.clone();
        for (address, value) in changes {
            set.retain(|(known, _)| known != address);
            set.push((address.to_string(), value.to_string()));
        }
        CaseFile::read_with(&self.text, set)
    }

    /// The number at an address, in SI units (temperatures in kelvin, rotational speeds in rpm); none where there is none.
    pub fn number(&self, address: &str) -> Option<f64> {
        self.case.numbers.find(address).map(|id| self.case.numbers.value(id))
    }

    /// Solves every condition.
    ///
    /// # Errors
    /// [`CaseError::Unsolved`] for the first condition without a steady state.
    pub fn solve(&self) -> Result<Vec<ConditionAnswer>, CaseError> {
        let model = Model::new(&self.case).map_err(|faults| refused(&faults, &self.text))?;
        let solved = check(&self.case, &model).map_err(|error| unsolved(&error))?;
        Ok(solved.iter().map(condition).collect())
    }

    /// Sizes the openings that `[size]` leaves free.
    ///
    /// ```
    /// use slowcorner::{CaseFile, OpeningRole};
    ///
    /// let case = CaseFile::read(&std::fs::read_to_string("cases/causeway-trike.toml")?)?;
    /// let sizes = case.size()?;
    /// assert!(sizes.openings.iter().any(|opening| opening.role == OpeningRole::Exit));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// [`CaseError::NotSized`] where there is no `[size]` or no start could be solved.
    pub fn size(&self) -> Result<SizesAnswer, CaseError> {
        let not_sized = |error: NotSized| CaseError::NotSized(error.to_string());
        let sized = Sizing::new(&self.case).and_then(|sizing| sizing.solve()).map_err(not_sized)?;
        let openings = sized.sizes.openings.iter().map(|opening| OpeningAnswer {
            name: opening.name.clone(),
            role: opening.role,
            area_m2: opening.after_m2,
            pieces: opening.pieces,
        });
        Ok(SizesAnswer { feasible: sized.sizes.feasible, openings: openings.collect() })
    }
}

/// Heat, air and first openings from what is known before there is a case: keys and values as the options of `slowcorner
/// estimate` take them, with underscores.
///
/// ```
/// let moments = slowcorner::estimate(&[("power", "30 kW"), ("displacement", "850 cm3")])?;
/// let full = moments.iter().find(|moment| moment.name == "fast").expect("full power");
/// assert!(full.heat_W.low < full.heat_W.likely && full.heat_W.likely < full.heat_W.high);
/// # Ok::<(), slowcorner::CaseError>(())
/// ```
///
/// # Errors
/// [`CaseError::Refused`] with all faults at once.
pub fn estimate(given: &[(&str, &str)]) -> Result<Vec<EstimateAnswer>, CaseError> {
    let given: Vec<_> = given.iter().map(|(key, value)| (key.to_string(), value.to_string())).collect();
    let inputs = Inputs::read(&given).map_err(|faults| {
        let fault = |fault: &crate::study::estimate::Fault| CaseFault {
            code: fault.code.to_string(),
            message: fault.message.clone(),
            what_to_do: fault.what_to_do.clone(),
            shown: format!(
                "fault: {}\n  {}\n  What to do: {}\n",
                fault.code, fault.message, fault.what_to_do
            ),
        };
        CaseError::Refused(faults.iter().map(fault).collect())
    })?;
    let found = crate::study::estimate::estimate(&inputs, &[WAYS[0]]);
    let moments = found.moments.iter().filter_map(|moment| {
        let (all, ram) = (moment.parts.last()?, moment.ways.first()?.openings.last()?);
        Some(EstimateAnswer {
            name: moment.name.to_string(),
            heat_W: range(all.heat_W),
            mass_flow_kg_s: range(all.mass_flow_kg_s),
            inlet_m2: range(ram.inlet_m2),
            exit_m2: range(ram.exit_m2),
        })
    });
    Ok(moments.collect())
}

fn range(band: FigureRange) -> EstimateRange {
    EstimateRange { low: band.low, likely: band.likely, high: band.high }
}

fn shown(faults: &[CaseFault]) -> String {
    faults.iter().map(|fault| fault.shown.trim_end()).collect::<Vec<_>>().join("\n\n")
}

fn refused(faults: &Diagnostics, text: &str) -> CaseError {
    let shown = |fault: &crate::case::Diagnostic| {
        let text = render(std::slice::from_ref(fault), "the case", text);
        let text = anstream::adapter::strip_str(&text).to_string();
        // without the count of faults and what the program did not write
        text.trim_end().rsplit_once('\n').map_or(String::new(), |(fault, _)| fault.trim_end().to_string())
    };
    let fault = |fault: &crate::case::Diagnostic| CaseFault {
        code: fault.code.to_string(),
        message: fault.message.clone(),
        what_to_do: fault.what_to_do.clone(),
        shown: shown(fault),
    };
    CaseError::Refused(faults.list().iter().map(fault).collect())
}

fn unsolved(error: &ConditionUnsolved) -> CaseError {
    CaseError::Unsolved(error.to_string())
}

fn condition(solved: &Condition) -> ConditionAnswer {
    let part = |part: &r::PartResult| PartAnswer {
        name: part.name.clone(),
        temperature_C: part.temperature_C,
        margin_K: part.has_limit().then_some(part.temperature_margin_K),
        air: match (part.margin_is, part.flow_margin) {
            (_, Some(margin)) => AirMargin::Value(margin),
            (MarginIs::Unlimited, _) => AirMargin::Unlimited,
            (MarginIs::Impossible, _) => AirMargin::Impossible,
            _ => AirMargin::None,
        },
    };
    let passage = |passage: &r::PassageResult| PassageAnswer {
        name: passage.name.clone(),
        mass_flow_kg_s: passage.mass_flow_kg_s,
        outlet_temperature_C: passage.outlet_temperature_C,
    };
    ConditionAnswer {
        name: solved.name.clone(),
        speed_m_s: solved.speed_m_s,
        parts: solved.parts.iter().map(part).collect(),
        passages: solved.passages.iter().map(passage).collect(),
        cooling_drag_N: solved.cooling_drag_N,
        residual: solved.residual,
    }
}
