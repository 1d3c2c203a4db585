//! What a sizing finds, in the shape in which `--json` gives it.

use crate::case::Case;
use crate::draws::doubt::PartDecides;
use crate::keys::word::words;
use crate::point::counted::{self, Counted};
use crate::point::result::{Band, ByName, OpeningRole};
use crate::study::sweep::result::SweepPart;
use serde::Serialize;

words! {
    /// What was made smallest.
    pub enum MadeSmallest {
        Area = "area",
        Drag = "drag",
    }
}

words! {
    /// What holds sizes where they are.
    pub enum SizesHeldBy {
        /// Margins that are missed where an opening is smaller.
        Margins = "margins",
        /// All are as small as allowed.
        Bounds = "bounds",
        /// It is least by itself.
        Drag = "drag",
        /// The case is refused, or has no steady state, with anything smaller.
        Walls = "walls",
    }
}

words! {
    /// A bound that an opening ends at.
    pub enum SizeBound {
        Least = "least",
        Most = "most",
        /// What is cut already.
        Cut = "cut",
    }
}

words! {
    /// One of the sets of sizes that draws are asked about.
    pub enum SizesColumn {
        /// What hardly any car does without.
        CutFirst = "cut first",
        ValuesTaken = "values taken",
        /// What holds in as many draws as were asked for.
        Holds = "holds",
    }
}

words! {
    /// The unit of a number that goes with an opening.
    pub enum ScaledUnit {
        SquareMetres = "m2",
        Metres = "m",
    }
}

/// Sizes found.
#[derive(Clone, Debug, Serialize)]
pub struct Sizes {
    /// Area of one opening, by passage or passage/element.
    pub areas_m2: ByName<f64>,
    /// What was made smallest (m² or N).
    pub objective: f64,
    /// Whether the objective is an area or a drag.
    pub smallest: MadeSmallest,
    /// The least flow margin over the conditions that count.
    pub least_margin: Option<f64>,
    /// Whether every margin is reached.
    pub feasible: bool,
    /// The conditions that count.
    pub at: Vec<String>,
    /// Layouts that the same openings are to do for, beside the case itself.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub layouts: Vec<String>,
    /// What holds the sizes where they are: each was left out in a trial, and smaller would then do; where it
    /// cannot be done, what is missed most.
    pub limited_by: Vec<LimitedBy>,
    /// What holds them; none where nothing tried does.
    pub held_by: Option<SizesHeldBy>,
    /// Openings that end at a bound.
    pub at_bound: ByName<SizeBound>,
    /// Clearly other sets within 1 % of the objective.
    pub as_good: Vec<AsGood>,
    /// Starts that were followed to their end.
    pub starts: usize,
    /// The openings, one by one.
    pub openings: Vec<SizedOpening>,
    /// Numbers of elements that go with an opening.
    pub scaled: Vec<ScaledNumber>,
    /// What a builder should know of the way to these sizes.
    pub remarks: Vec<String>,
    /// Warnings at these sizes that the case as drawn does not have.
    pub new_warnings: Vec<crate::case::Warning>,
    /// What 1 mm all round each opening does.
    pub hand_cut: Vec<HandCut>,
    /// What can be cut first, what will do with the values taken, and what holds, each opening at least as large as in
    /// the column before; none where nothing is guessed or doubt is left out.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub columns: Vec<SizesInDraws>,
    /// What it takes to hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub holds: Option<Holds>,
}

/// What 1 mm all round an opening does, the others as they are.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct HandCut {
    pub opening: String,
    /// By how much one becomes larger.
    pub area_m2: f64,
    /// By how much the least margin then rises, of all that counts.
    pub larger_K: Option<f64>,
    /// The same 1 mm smaller.
    pub smaller_K: Option<f64>,
    /// What loses most, larger or smaller: part, where, and by how much it falls (K).
    pub hits: Option<(String, String, f64)>,
}

/// A set of sizes with what the draws of the guesses say of it.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct SizesInDraws {
    /// Which it is.
    pub column: SizesColumn,
    /// Whether it reaches what it is to reach.
    pub reached: bool,
    /// Area of one opening, as in the sizes.
    pub areas_m2: ByName<f64>,
    /// Open area of the free openings, all together.
    pub open_area_m2: f64,
    /// The condition of the drag.
    pub drag_at: Option<String>,
    /// Cooling drag there with the values taken.
    pub drag_N: Option<f64>,
    /// Share of the draws in which every part holds in everything that counts.
    pub all_hold: f64,
    pub standard_error: f64,
    pub draws: usize,
    /// Where the least margin lies.
    pub least_K: Band,
    /// What has the least margin, the most frequent first.
    pub decides: Vec<PartDecides>,
}

/// What it takes for all parts to hold in so many draws.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Holds {
    /// Share of the draws that was asked for.
    pub asked: f64,
    /// Kelvins that all parts keep in these.
    pub margin_K: f64,
    /// Whether any openings do it; else the column is the least area within one point of the best.
    pub reached: bool,
    /// The best share of the draws that was found.
    pub best: f64,
    pub draws: usize,
    /// Open area over that of the values taken.
    pub more_area_m2: f64,
    /// Drag over that of the values taken.
    pub more_drag_N: Option<f64>,
    /// Open area of the free openings beyond which larger ones buy nothing, where it is not reached.
    pub pointless_above_m2: Option<f64>,
    /// What is missed where it does not hold, the most frequent first.
    pub because: Vec<PartDecides>,
    /// The guesses that go most with the least margin.
    pub rests_on: Vec<RestsOn>,
    /// Openings that could be 2 % smaller for all the draws say.
    pub flat: Vec<String>,
    /// Whether a search ended at its budget, so that smaller openings may do the same.
    pub stopped: bool,
}

/// With the best sizes all parts stay cool in fewer of the draws than this: nothing that can be cut helps.
const HOPELESS: f64 = 0.05;

impl Holds {
    /// Whether nothing that can be cut keeps all parts cool.
    pub fn is_hopeless(&self) -> bool {
        !self.reached && self.best < HOPELESS
    }
}

/// A guess that goes with the least margin.
#[derive(Clone, Debug, Serialize)]
pub struct RestsOn {
    pub addresses: Vec<String>,
    /// Square of the correlation between where it lies in its band and the least margin.
    pub share: f64,
}

/// An opening and what becomes of it.
#[derive(Clone, Debug, Serialize)]
pub struct SizedOpening {
    /// PASSAGE, or PASSAGE/ELEMENT.
    pub name: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many there are in the whole car.
    pub pieces: usize,
    /// Area of one before.
    pub before_m2: f64,
    /// Area of one now.
    pub after_m2: f64,
    /// Open share of its louvres: areas are those of the field, of which this share is open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub louvres: Option<f64>,
    /// Width and height, or diameter, as the case gives them.
    pub lengths_m: ByName<f64>,
}

/// Another set of sizes that is as good.
#[derive(Clone, Debug, Serialize)]
pub struct AsGood {
    /// Area of one opening, as in the sizes.
    pub areas_m2: ByName<f64>,
    /// Its objective (m² or N).
    pub objective: f64,
}

/// A number of an element that goes with an opening.
#[derive(Clone, Debug, Serialize)]
pub struct ScaledNumber {
    pub address: String,
    /// The opening.
    pub with: String,
    /// Unit of the two values.
    pub unit: ScaledUnit,
    /// As drawn.
    pub before: f64,
    /// With the sizes found.
    pub after: f64,
}

/// A part in a condition that holds the sizes where they are.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitedBy {
    pub part: String,
    /// The condition; "sweep" for a point of the sweep.
    pub condition: String,
    /// Road speed of that point.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speed_m_s: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gear: Option<usize>,
    /// How the part fares at that point.
    #[serde(flatten)]
    pub at: Option<SweepPart>,
}

impl LimitedBy {
    /// A part at what counts.
    pub(in crate::study) fn of(counted: &Counted, case: &Case, part: &str) -> LimitedBy {
        let driven = counted.driven();
        LimitedBy {
            part: part.to_string(),
            condition: counted.name(case).to_string(),
            speed_m_s: driven.map(|(speed, _)| speed),
            gear: driven.map(|(_, gear)| gear),
            at: None,
        }
    }

    /// "hairpin", or "the sweep at 43 km/h (gear 1)".
    pub fn when(&self) -> String {
        counted::when(&self.condition, self.speed_m_s.zip(self.gear))
    }
}
