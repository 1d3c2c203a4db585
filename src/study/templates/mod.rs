//! Openings as they are cut, full size: what the areas of sizing look like on the skin.
//!
//! | file | what it does |
//! | --- | --- |
//! | `shape` | an opening's outline at an area: shape, slope and curve of the skin, room, lip |
//! | `lines` | the four lines of each opening, each within the next |
//! | `solved` | every line solved again with the area that is drawn |
//! | `result` | the shape of what is found |

mod lines;
pub mod result;
mod shape;
mod solved;

use super::check::openings::{OpeningFacts, openings};
use super::size::Sized;
use crate::case::Case;
use crate::element::outline::{OUTLINE, RAMP_OUTLINE};
use crate::point::Model;
use crate::point::opening::Opening;
use lines::{Areas, lines_of};
use result::{Template, Templates};
use shape::OpeningCut;
use solved::Looked;

/// Largest share by which the area on a sheet may differ from the one that was solved with.
const ALIKE: f64 = 0.005;
/// Most that a flat template may be too narrow by on a skin that bulges (mm).
const FLAT: f64 = 1.0;

/// Why no templates can be drawn.
#[derive(Clone, Debug, thiserror::Error)]
pub enum NotDrawn {
    /// The case has no opening whose size is known.
    #[error("the case has no opening to be cut")]
    NoOpening,
    /// A flat template would be too far off.
    #[error(
        "{address}: laid flat, a template {width:.0} mm wide is {error:.1} mm too narrow for a skin that bulges so; 1 mm is the most"
    )]
    Curved {
        /// The outline.
        address: String,
        /// How wide it is (mm).
        width: f64,
        /// By how much it is off (mm).
        error: f64,
    },
    /// No size has the area.
    #[error("{address}: no size with that fixed side has the {area_cm2:.0} cm² that are needed")]
    NoSize {
        /// The outline.
        address: String,
        /// The area (cm²).
        area_cm2: f64,
    },
    /// The sheet shows another area than was solved with: a fault of the program.
    #[error("{opening}: the sheet has {sheet_cm2:.1} cm² and the solution {solved_cm2:.1} cm²")]
    AreasDiffer {
        opening: String,
        /// On the sheet (cm²).
        sheet_cm2: f64,
        /// Solved with (cm²).
        solved_cm2: f64,
    },
}

impl NotDrawn {
    /// Its code, what to do about it, and whether the case is at fault; else the program is.
    pub fn told(&self) -> (&'static str, &'static str, bool) {
        match self {
            NotDrawn::NoOpening => (
                "opening-missing",
                "write an inlet or an exit with a size, and [size] with free = [ … ]",
                true,
            ),
            NotDrawn::Curved { .. } => (
                "template-curved",
                "give curvature_radius in place of bulge: the template is then drawn to be laid round the skin",
                true,
            ),
            NotDrawn::NoSize { .. } => ("outline-without-size", "give aspect, or another fixed side", true),
            NotDrawn::AreasDiffer { .. } => ("areas-differ", "report it", false),
        }
    }
}

/// Full-size templates of a case: of what sizing found where that is given, of what is drawn else.
///
/// # Errors
/// [`NotDrawn`]
pub fn templates(case: &Case, sized: Option<&Sized>) -> Result<Templates, NotDrawn> {
    let base = sized.map_or(case, |sized| &sized.case);
    let facts = openings(base, case, sized.map(|sized| &sized.sizes));
    let mut drawn = Vec::new();
    for fact in facts {
        let Some(opening) = opening_of(base, &fact) else { continue };
        let element = &base.passages[opening.passage].elements[opening.element];
        let described = element.table(&OUTLINE).or_else(|| element.table(&RAMP_OUTLINE));
        if sized.is_some() && !fact.free && described.is_none() {
            continue;
        }
        let areas = Areas::of(sized.map(|sized| &sized.sizes), &opening, &fact);
        let cut = OpeningCut::of(base, &opening, &fact);
        let fits = |area: f64| {
            let mut case = base.clone();
            opening.set(&mut case, area);
            Model::new(&case).is_ok()
        };
        let lines = lines_of(&cut, &areas, &fits)?;
        drawn.push((opening, template(&cut, fact, lines)));
    }
    if drawn.is_empty() {
        return Err(NotDrawn::NoOpening);
    }
    let mut looked = Looked::new(base, sized);
    let lines = looked.lines(&drawn)?;
    let columns = sized.is_some_and(|sized| !sized.sizes.columns.is_empty());
    Ok(Templates {
        lines,
        openings: drawn.into_iter().map(|(_, template)| template).collect(),
        sized: sized.is_some(),
        can_be_done: sized.is_none_or(|sized| sized.sizes.feasible),
        hopeless: sized.is_some_and(Sized::is_hopeless),
        by_draws: columns,
    })
}

/// The opening that some facts are about.
fn opening_of(case: &Case, fact: &OpeningFacts) -> Option<Opening> {
    let passage = case.passages.iter().find(|passage| {
        fact.name == passage.name || fact.name.strip_prefix(&format!("{}/", passage.name)).is_some()
    })?;
    let element = fact.name.strip_prefix(&format!("{}/", passage.name));
    Opening::find(case, &passage.name, element)
}

fn template(cut: &OpeningCut, fact: OpeningFacts, lines: Vec<result::CutLine>) -> Template {
    let mut assumed = cut.assumed.clone();
    assumed.sort();
    Template {
        opening: fact.name,
        kind: fact.kind,
        role: fact.role,
        pieces: fact.pieces,
        hands: cut.hands(),
        shape: cut.shape(),
        faces: cut.faces,
        place: fact.place,
        position: fact.position,
        edge: fact.edge,
        louvres: fact.louvres.filter(|open| *open < 1.0),
        corner_radius_m: 1e-3 * cut.corner,
        land_m: 1e-3 * cut.land,
        bonded_lip_m: 1e-3 * cut.lip,
        skin_angle_deg: cut.skin.angle.to_degrees(),
        stretch: cut.skin.stretch(),
        slopes_along: cut.slopes_along,
        curvature_radius_m: cut.skin.radius.map(|radius| 1e-3 * radius),
        flat_error_m: lines.last().map_or(0.0, |line| 1e-3 * cut.flat_error(1e3 * line.width_m)),
        lines,
        assumed,
    }
}
