//! Steps of cutting, in the shape in which `--json` gives them.

use crate::point::result::{Band, OpeningRole, Setting};
use crate::readings::operator::ReadingKind;
use crate::study::size::result::HandCut;
use crate::study::templates::result::LineName;
use serde::Serialize;

/// All steps of a case.
#[derive(Clone, Debug, Serialize)]
pub struct Steps {
    /// Openings in the order in which they are cut at each step.
    pub order: Vec<String>,
    pub steps: Vec<CutStep>,
    /// Where margins fall before they rise.
    pub traps: Vec<MarginTrough>,
    /// What 1 mm all round does, with the values taken.
    pub hand_cut: Vec<HandCut>,
    /// Draws at each line.
    pub draws: usize,
    /// Whether the margins can be reached within the bounds.
    pub can_be_done: bool,
    /// Whether all parts stay cool in fewer than 1 in 20 of the draws at the best of sizes: nothing is to be cut by it yet.
    pub hopeless: bool,
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct CutStep {
    /// The line that all openings are cut to.
    pub line: LineName,
    pub cuts: Vec<NextCut>,
    /// Open area of the free openings then.
    pub open_area_m2: f64,
    /// More than at the line before.
    pub more_area_m2: Option<f64>,
    /// The least margin with the values taken.
    pub least_K: Option<f64>,
    /// The part that has it.
    pub part: Option<String>,
    /// Where.
    pub condition: Option<String>,
    /// More than at the line before.
    pub more_K: Option<f64>,
    /// Cooling drag with the values taken.
    pub drag_N: Option<f64>,
    /// Its condition.
    pub drag_at: Option<String>,
    /// More than at the line before.
    pub more_drag_N: Option<f64>,
    /// Share of the draws in which every part holds in all that counts.
    pub all_hold: Option<f64>,
    /// Where all parts hold in 19 of 20 draws: where it may be driven at this line.
    pub driven: Vec<Likely>,
    /// Conditions in which they do not.
    pub kept_from: Vec<Likely>,
    /// What instruments then show, in the moment that says most of those that may be driven.
    pub readings: Vec<ExpectedShown>,
    /// How long temperatures take to stand then; none where the case does not say what its parts store.
    pub settles_s: Option<f64>,
    /// The readings that say stop.
    pub stop: Option<StopReadings>,
    /// Why it is not stopped here to measure.
    pub jumped: Option<&'static str>,
    /// The same as what-ifs.
    pub set: Vec<Setting>,
}

/// An opening's cut.
#[derive(Clone, Debug, Serialize)]
pub struct NextCut {
    pub opening: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many.
    pub pieces: usize,
    /// Area of one, square to the flow.
    pub area_m2: f64,
    /// Open share of its louvres: the area is that of the field, of which this share is open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub louvres: Option<f64>,
    pub hole_width_m: f64,
    pub hole_height_m: f64,
}

/// How likely it is that all parts hold in a moment.
#[derive(Clone, Debug, Serialize)]
pub struct Likely {
    /// The moment in words.
    pub moment: String,
    /// Share of the draws.
    pub likelihood: f64,
}

/// What an instrument shows.
#[derive(Clone, Debug, Serialize)]
pub struct ExpectedShown {
    /// What is read, in words.
    pub reading: String,
    /// When.
    pub moment: String,
    /// What kind it is: temperatures in °C, pressures in Pa.
    pub kind: ReadingKind,
    /// Where it lies 9 times in 10.
    pub shows: Band,
    /// With what, and how.
    pub how: &'static str,
}

/// The readings that say stop.
#[derive(Clone, Debug, Serialize)]
pub struct StopReadings {
    /// When they are read.
    pub moment: String,
    /// What each gauge may show at most; all of them together say stop.
    pub limits: Vec<StopAt>,
    /// Share of the draws that may stop by it.
    pub share: f64,
    /// Of these, the share in which every part then holds in all that counts.
    pub holds: f64,
}

/// What a gauge may show at most.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct StopAt {
    pub part: String,
    pub most_C: f64,
}

/// Where margins fall before they rise.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct MarginTrough {
    pub part: String,
    pub condition: String,
    /// Open area of all free exits from which its margin falls.
    pub from_exits_m2: f64,
    /// Where it is least.
    pub worst_exits_m2: f64,
    /// Where it is back.
    pub to_exits_m2: f64,
    /// Its margin there: where it begins to fall.
    pub from_K: f64,
    /// And at its least.
    pub worst_K: f64,
    /// The line that lies behind it.
    pub line: LineName,
}
