//! Templates, in the shape in which `--json` gives them.

use crate::element::SkinFace;
use crate::keys::word::words;
use crate::outline::{Corner, Outline};
use crate::point::result::OpeningRole;
use serde::{Serialize, Serializer};

words! {
    /// A line of a template, the smallest first.
    pub enum LineName {
        Pilot = "PILOT",
        Next = "NEXT",
        Final = "FINAL",
        NeverBeyond = "NEVER BEYOND",
    }
}

words! {
    /// Which of a mirrored pair.
    pub enum TemplateHand {
        Left = "left",
        Right = "right",
        /// It is none of a pair.
        Neither = "",
    }
}

words! {
    pub enum HoleShape {
        Rectangle = "rectangle",
        Slot = "slot",
        Ellipse = "ellipse",
        Circle = "circle",
        Trapezium = "trapezium",
        Ramp = "ramp",
    }
}

words! {
    pub enum OpeningSide {
        Width = "width",
        Height = "height",
    }
}

words! {
    /// What stands in the way of a larger line.
    pub enum LineEndsAt {
        Flange = "flange",
    }
}

/// All templates of a case.
#[derive(Clone, Debug, Serialize)]
pub struct Templates {
    /// What each line means in this case, the smallest first.
    pub lines: Vec<Meaning>,
    pub openings: Vec<Template>,
    /// Whether sizes were looked for; else all is as drawn.
    pub sized: bool,
    /// Whether the margins can be reached within the bounds.
    pub can_be_done: bool,
    /// Whether all parts stay cool in fewer than 1 in 20 of the draws at the best of sizes.
    pub hopeless: bool,
    /// Whether the lines stand on draws of the guesses.
    pub by_draws: bool,
}

/// A line of all openings together.
#[derive(Clone, Debug, Serialize)]
#[allow(non_snake_case)]
pub struct Meaning {
    /// Which it is.
    pub line: LineName,
    /// When it may be cut.
    pub when: String,
    /// Share of the draws in which every part then holds, before sizes were rounded.
    pub all_hold: Option<f64>,
    /// The least margin with the values taken, solved with the areas that are drawn.
    pub least_K: Option<f64>,
    /// The part that has it.
    pub part: Option<String>,
    /// Where.
    pub condition: Option<String>,
}

/// The template of an opening.
#[derive(Clone, Debug, Serialize)]
pub struct Template {
    /// PASSAGE, or PASSAGE/ELEMENT.
    pub opening: String,
    /// Its kind of element.
    pub kind: &'static str,
    /// Whether air goes in or out.
    pub role: OpeningRole,
    /// How many there are in the whole car.
    pub pieces: usize,
    /// Those that have a sheet each.
    pub hands: Vec<TemplateHand>,
    pub shape: HoleShape,
    /// Where the skin's outer face looks.
    pub faces: SkinFace,
    /// The place on the body by name.
    pub place: Option<String>,
    /// Where that is.
    pub position: Option<String>,
    /// The edge to be finished, in words.
    pub edge: String,
    /// Open share of the louvres in the field.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub louvres: Option<f64>,
    /// Least radius of its corners.
    pub corner_radius_m: f64,
    /// Sound skin to be kept all round the largest line.
    pub land_m: f64,
    /// How much larger all round the hole is than the opening.
    pub bonded_lip_m: f64,
    /// Angle between skin and flow.
    pub skin_angle_deg: f64,
    /// How many times as long the hole is along the slope.
    pub stretch: f64,
    /// The side that lies along the slope.
    pub slopes_along: OpeningSide,
    /// Radius of the skin along its width.
    pub curvature_radius_m: Option<f64>,
    /// What a flat template of the largest line is too narrow by; it is drawn so that this is made good where a radius is given.
    pub flat_error_m: f64,
    /// The lines, each within the next.
    pub lines: Vec<CutLine>,
    /// What was taken where the case does not say.
    pub assumed: Vec<String>,
}

/// A line to be cut.
#[derive(Clone, Debug, Serialize)]
pub struct CutLine {
    /// Which it is.
    pub line: LineName,
    /// Width of the opening on the skin, whole millimetres.
    pub width_m: f64,
    pub height_m: f64,
    /// Width of the hole that is cut for it.
    pub hole_width_m: f64,
    pub hole_height_m: f64,
    /// Area of one, square to the flow, as sizing found it.
    pub found_m2: f64,
    /// The same as drawn, and as it was solved again.
    pub area_m2: f64,
    /// The same reckoned back from the hole on the sheet.
    pub sheet_m2: f64,
    /// Area of the hole on the skin.
    pub hole_m2: f64,
    /// What stands in the way of more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends_at: Option<LineEndsAt>,
    /// Whether the case says that as much is cut already.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub cut_already: bool,
    /// The hole: corners in metres from the datum, x to the right and y up on the outer face, each with the bulge of the side
    /// that begins there.
    #[serde(rename = "hole", serialize_with = "corners")]
    pub hole: Outline,
    /// The opening itself, where a lip makes it smaller than the hole.
    #[serde(skip)]
    pub air: Outline,
}

#[derive(Serialize)]
struct TemplateRow {
    x_m: f64,
    y_m: f64,
    bulge: f64,
}

fn corners<S: Serializer>(outline: &Outline, serializer: S) -> Result<S::Ok, S::Error> {
    let written =
        |corner: &Corner| TemplateRow { x_m: 1e-3 * corner.x, y_m: 1e-3 * corner.y, bulge: corner.bulge };
    serializer.collect_seq(outline.corners().iter().map(written))
}
