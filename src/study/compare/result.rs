//! Layouts side by side, as a result shows them.

use super::super::changes::Difference;
use crate::case::Warning;
use crate::keys::word::words;
use crate::point::result::{Band, ByName, ChamberResult, ConditionMargin, OpeningRole, PartResult, Worst};
use crate::study::size::result::Sizes;
use crate::study::sweep::between::Between;
use crate::study::sweep::result::Sweep;
use serde::Serialize;

words! {
    /// What decides between layouts that keep every limit.
    pub enum RankedBy {
        Drag = "drag",
        OpeningArea = "opening area",
        Margin = "margin",
    }
}

words! {
    /// What goes wrong in a layout.
    pub enum TrapKind {
        /// Air runs back.
        Reversal = "reversal",
        /// An inlet spills.
        Spilling = "spilling",
        /// The engine draws warm air.
        HotIntake = "hot intake",
        TwoStates = "two states",
    }
}

/// The base case and its layouts.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// The base case first, then the layouts in the order of the file.
    pub compare: Vec<Compared>,
    /// Which is best and which worst, and why.
    pub ranking: LayoutRanking,
    /// Whether the free openings of each were sized first.
    pub sized: bool,
    /// Which is better over all that the guesses may turn out to be.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chances: Option<Chances>,
}

/// Layouts against one another, draw by draw.
#[derive(Clone, Debug, Serialize)]
pub struct Chances {
    /// The one that is better than each other; none where it is too close to call.
    pub best: Option<String>,
    /// By the middle of the least margin, the greatest first.
    pub order: Vec<String>,
    /// Those that are too close to the first to call.
    pub level: Vec<String>,
    /// Each against each other.
    pub pairs: Vec<LayoutPair>,
    /// Draws, the same for all.
    pub draws: usize,
}

/// Two layouts.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct LayoutPair {
    /// The one whose middle is greater.
    pub better: String,
    /// The other.
    pub than: String,
    /// Share of the draws in which its least margin is greater; equal ones count half.
    pub share: f64,
    /// Middle of what its least margin has over the other's.
    pub middle_gap_K: f64,
    /// Whether it is better in fewer than 90 of 100 draws, or its middle gap is under 1 K.
    pub too_close: bool,
}

/// What the draws say of a layout.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct LayoutInDraws {
    /// Share of the draws in which every part holds in every condition that counts.
    pub all_hold: f64,
    pub standard_error: f64,
    /// Where the least margin lies.
    pub least_K: Band,
    /// Parts that hold at least as often as not, are better than in the base case in 90 of 100 draws, and did not
    /// hold as often there.
    pub cures: Vec<String>,
    /// Parts that are worse than in the base case in 90 of 100 draws, and not sure to hold.
    pub harms: Vec<String>,
}

/// The order of the layouts, and the reasons for its ends.
#[derive(Clone, Debug, Serialize)]
pub struct LayoutRanking {
    /// Names from the best to the worst; those that could not be solved last.
    pub order: Vec<String>,
    pub best: Option<String>,
    /// Why.
    pub best_because: String,
    /// The worst, where there is more than one.
    pub worst: Option<String>,
    /// Why.
    pub worst_because: String,
    /// Conditions that count.
    pub counts: Vec<String>,
    /// What decides between layouts that keep every limit.
    pub decided_by: RankedBy,
}

/// One layout.
#[derive(Clone, Debug, Serialize)]
pub struct Compared {
    /// Its name; that of the base case is "base".
    pub layout: String,
    /// Whether it is the case without any layout.
    pub base: bool,
    /// Addresses on which it differs from the base case, as written.
    pub differs: Vec<Difference>,
    /// Why there is no answer, or what the answer lacks.
    pub trouble: Option<String>,
    /// What the draws of the guesses say of it.
    #[serde(rename = "doubt", skip_serializing_if = "Option::is_none")]
    pub seen: Option<LayoutInDraws>,
    /// The answer, where there is one.
    #[serde(flatten)]
    pub answer: Option<LayoutResult>,
}

/// What became of a layout.
#[derive(Clone, Debug, Serialize)]
pub struct LayoutResult {
    /// Whether every limit is kept in the conditions that count.
    pub kept: bool,
    pub conditions: Vec<LayoutInCondition>,
    /// The worst condition of each part.
    pub worst: ByName<Worst>,
    /// The least margin in the conditions that count.
    pub least: Option<ConditionMargin>,
    /// Total area of the openings that take cooling air in.
    pub opening_area_in_m2: f64,
    /// Total area of the openings that let it out.
    pub opening_area_out_m2: f64,
    pub openings: Vec<OpeningArea>,
    /// Air that runs back, inlets that spill, air that enters hot.
    pub traps: Vec<LayoutTrap>,
    /// What a builder should see of it that the base case does not have, by code and address.
    pub new_warnings: Vec<Warning>,
    /// Parts over their limits, and further than in the base case, in conditions that do not count.
    pub worse_uncounted: Vec<WorseUncounted>,
    /// Sizes found, where they were looked for.
    pub sizes: Option<Sizes>,
    /// Whether the sweep finds anything between the conditions; null without gears.
    pub between: Option<Between>,
    /// Margin against speed, for the charts.
    #[serde(skip)]
    pub sweep: Option<Sweep>,
}

/// A part in the condition that does not count in which it is furthest over its limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(non_snake_case)]
pub struct WorseUncounted {
    pub part: String,
    pub condition: String,
    pub temperature_margin_K: f64,
    /// The same in the base case.
    pub base_K: f64,
}

#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct LayoutInCondition {
    /// The condition.
    pub name: String,
    /// Whether it counts in the ranking.
    pub counts: bool,
    /// Road speed.
    pub speed_m_s: f64,
    pub parts: Vec<PartResult>,
    pub chambers: Vec<ChamberResult>,
    /// Speed in each ram inlet over that of the stream; null where the air runs back or the car stands.
    pub velocity_ratios: ByName<Option<f64>>,
    /// Passages whose air runs back, leaks aside.
    pub runs_back: Vec<String>,
    pub cooling_drag_N: f64,
    /// Cooling drag times road speed.
    pub cooling_power_W: f64,
    /// Shaft power of all fans.
    pub fan_power_W: f64,
}

/// An opening to the outside.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpeningArea {
    pub passage: String,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many there are in the whole car.
    pub pieces: f64,
    /// Open area of one, nothing taped.
    pub area_m2: f64,
}

/// Something that goes wrong.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LayoutTrap {
    /// What it is.
    pub trap: TrapKind,
    /// The address it belongs to.
    #[serde(rename = "where")]
    pub place: String,
    /// What was seen, in which conditions, and what to do about it.
    pub message: String,
}
