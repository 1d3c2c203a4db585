//! An opening's outline at an area.

use super::result::{HoleShape, OpeningSide, TemplateHand};
use super::{ALIKE, FLAT, NotDrawn};
use crate::case::Case;
use crate::correlations::flush_inlet::outline as ramp_plan;
use crate::element::SkinFace;
use crate::element::flush_inlet::RAMP_ANGLE;
use crate::element::outline as o;
use crate::element::size::{DIAMETER, HEIGHT, WIDTH};
use crate::keys::{Need, View};
use crate::outline::shapes::{KeptShape, OutlineForm, drawn, ramp, sides_for};
use crate::outline::skin::{Skin, flat_error, flat_error_of};
use crate::outline::{Extents, Outline};
use crate::point::opening::{ASPECT, Opening};
use crate::study::check::openings::OpeningFacts;
use std::f64::consts::PI;

/// Upper over lower side of a trapezium that does not say it.
const NARROW: f64 = 0.75;

/// How an opening is cut, lengths in millimetres.
pub(super) struct OpeningCut {
    /// Address of its outline.
    pub address: String,
    form: OutlineForm,
    /// Lip width over height, and the ramp's angle, of a submerged inlet.
    ramp: Option<(f64, f64)>,
    kept: KeptShape,
    pub corner: f64,
    pub land: f64,
    pub lip: f64,
    pub skin: Skin,
    pub slopes_along: OpeningSide,
    bulge: Option<f64>,
    /// Widest and highest opening that finds room.
    room: (f64, f64),
    mirror: bool,
    pub faces: SkinFace,
    /// What was taken where the case does not say.
    pub assumed: Vec<String>,
}

/// An outline at an area.
pub(super) struct Shaped {
    pub width: f64,
    pub height: f64,
    pub air: Outline,
    /// Area that the flow sees (mm²).
    pub seen: f64,
    /// Whether it ends at a flange.
    pub at_flange: bool,
}

fn default_of(key: &crate::keys::Key) -> f64 {
    match key.need {
        Need::Default(assumed) => assumed.value,
        _ => 0.0,
    }
}

impl OpeningCut {
    /// How an opening of a case is cut.
    pub fn of(case: &Case, opening: &Opening, fact: &OpeningFacts) -> OpeningCut {
        let element = &case.passages[opening.passage].elements[opening.element];
        let view = case.view(element);
        let outline: Option<View> = view.table(&o::OUTLINE);
        let mut assumed = Vec::new();
        let mut assume = |what: String| assumed.push(what);
        let millimetres = |key: &crate::keys::Key| {
            let written = outline.and_then(|outline| outline.number(key));
            1e3 * written.unwrap_or_else(|| default_of(key))
        };
        let given = |key: &crate::keys::Key| outline.and_then(|outline| outline.number(key));
        let word = |key: &crate::keys::Key| outline.and_then(|outline| outline.values.text(key));
        let own = match (view.number(&WIDTH), view.number(&HEIGHT)) {
            (Some(width), Some(height)) => Some(width / height),
            _ => view.number(&DIAMETER).map(|_| 1.0),
        };
        let ramp = view.number(&RAMP_ANGLE).map(|angle| (own.unwrap_or(1.0), angle));
        let corner = millimetres(&o::CORNER_RADIUS);
        let narrow = given(&o::NARROW_SIDE);
        let form = match word(&o::SHAPE) {
            Some("slot") => OutlineForm::Slot,
            Some("ellipse") => OutlineForm::Oval,
            Some("trapezium") => {
                if narrow.is_none() {
                    assume(format!("upper side {:.0} % of the lower one", 100.0 * NARROW));
                }
                OutlineForm::Trapezium { corner, narrow: narrow.unwrap_or(NARROW) }
            }
            Some(_) => OutlineForm::Rectangle { corner },
            None if view.number(&DIAMETER).is_some() => OutlineForm::Oval,
            None => {
                if ramp.is_none() {
                    assume("shape: a rectangle".to_string());
                }
                OutlineForm::Rectangle { corner }
            }
        };
        let rounded =
            matches!(form, OutlineForm::Rectangle { .. } | OutlineForm::Trapezium { .. }) && ramp.is_none();
        let angle = given(&o::SKIN_ANGLE).unwrap_or(0.5 * PI);
        let skin = Skin { angle, radius: given(&o::CURVATURE_RADIUS).map(|radius| 1e3 * radius) };
        let slopes_along = match word(&o::SLOPES_ALONG) {
            Some("width") => OpeningSide::Width,
            _ => OpeningSide::Height,
        };
        let by_sides = (given(&o::FIXED_WIDTH), given(&o::FIXED_HEIGHT));
        let kept = match by_sides {
            (Some(width), _) => KeptShape::Width(1e3 * width),
            (_, Some(height)) => KeptShape::Height(1e3 * height),
            _ => {
                let aspect = given(&o::ASPECT).or(own).unwrap_or_else(|| {
                    assume(format!("width {ASPECT} times the height"));
                    ASPECT
                });
                // as it lies on the slope
                KeptShape::Aspect(if slopes_along == OpeningSide::Width {
                    aspect * skin.stretch()
                } else {
                    aspect / skin.stretch()
                })
            }
        };
        if ramp.is_none() && angle == 0.5 * PI && given(&o::SKIN_ANGLE).is_none() {
            assume("the skin stands square to the air that goes through".to_string());
        }
        if skin.radius.is_none() && given(&o::BULGE).is_none() {
            assume("the skin is flat".to_string());
        }
        for (key, what, counts) in [
            (&o::CORNER_RADIUS, "radius of corners", rounded),
            (&o::LAND, "land", true),
            (&o::BONDED_LIP, "bonded lip", ramp.is_none()),
        ] {
            if counts && outline.is_none_or(|outline| !outline.values.written(key)) {
                assume(format!("{what} {:.0} mm", millimetres(key)));
            }
        }
        let (land, lip) = (millimetres(&o::LAND), millimetres(&o::BONDED_LIP));
        let room = |key: &crate::keys::Key| {
            given(key).map_or(f64::INFINITY, |most| (1e3 * most - 2.0 * land - 2.0 * lip).floor().max(1.0))
        };
        let sides = crate::element::kind(fact.kind).and_then(|kind| kind.sides);
        let usual = sides.map_or(SkinFace::Rear, |sides| sides.faces);
        let faces = word(&o::FACES).and_then(face).unwrap_or_else(|| {
            assume(format!("outer face looks to the {usual}"));
            usual
        });
        OpeningCut {
            address: format!("{}/outline", element.address),
            form,
            ramp,
            kept,
            corner: if rounded { corner } else { 0.0 },
            land,
            lip,
            skin,
            slopes_along,
            bulge: given(&o::BULGE).map(|bulge| 1e3 * bulge),
            room: (room(&o::MOST_WIDTH), room(&o::MOST_HEIGHT)),
            mirror: outline.is_some_and(|outline| outline.values.flag(&o::MIRROR)),
            faces,
            assumed,
        }
    }

    /// The hands that have a sheet each.
    pub fn hands(&self) -> Vec<TemplateHand> {
        if self.mirror { vec![TemplateHand::Left, TemplateHand::Right] } else { vec![TemplateHand::Neither] }
    }

    /// The shape in a word.
    pub fn shape(&self) -> HoleShape {
        match (self.ramp, self.form, self.kept) {
            (Some(_), _, _) => HoleShape::Ramp,
            (_, OutlineForm::Oval, KeptShape::Aspect(aspect)) if (aspect - 1.0).abs() < 1e-9 => {
                HoleShape::Circle
            }
            (_, OutlineForm::Oval, _) => HoleShape::Ellipse,
            (_, OutlineForm::Slot, _) => HoleShape::Slot,
            (_, OutlineForm::Trapezium { .. }, _) => HoleShape::Trapezium,
            (_, OutlineForm::Rectangle { .. }, _) => HoleShape::Rectangle,
        }
    }

    /// What a flat template so wide is too narrow by (mm).
    pub fn flat_error(&self, width: f64) -> f64 {
        match (self.skin.radius, self.bulge) {
            (Some(radius), _) => flat_error_of(width, radius),
            (None, Some(bulge)) => flat_error(width, bulge),
            _ => 0.0,
        }
    }

    /// The opening with an area (mm²) that the flow sees, whole millimetres, never less where there is room.
    pub fn at(&self, area: f64) -> Result<Shaped, NotDrawn> {
        if let Some((slenderness, _)) = self.ramp {
            let width = ((area * slenderness).sqrt() - 1e-6).ceil();
            let height = (area / width - 1e-6).ceil();
            return Ok(self.drawn(width, height));
        }
        let seen = |outline: &Outline| self.skin.seen(outline);
        let none = || NotDrawn::NoSize { address: self.address.clone(), area_cm2: 0.01 * area };
        let sides = |kept: KeptShape| sides_for(self.form, kept, area, seen);
        let (most_width, most_height) = self.room;
        let first = sides(self.kept);
        let fits = |(width, height): (f64, f64)| width <= most_width && height <= most_height;
        let mut found = first.filter(|sides| fits(*sides));
        // where one side ends at a flange, the other goes on
        if found.is_none() && most_width.is_finite() && !matches!(self.kept, KeptShape::Height(_)) {
            found = sides(KeptShape::Width(most_width)).filter(|sides| fits(*sides) && sides.1 >= 1.0);
        }
        if found.is_none() && most_height.is_finite() && !matches!(self.kept, KeptShape::Width(_)) {
            found = sides(KeptShape::Height(most_height)).filter(|sides| fits(*sides) && sides.0 >= 1.0);
        }
        let at_flange = found.is_none() && (most_width.is_finite() || most_height.is_finite());
        let (width, height) = match found {
            Some(sides) => sides,
            None if at_flange => {
                let (width, height) = first.unwrap_or((most_width, most_height));
                (
                    if most_width.is_finite() { most_width } else { width },
                    if most_height.is_finite() { most_height } else { height },
                )
            }
            None => return Err(none()),
        };
        let error = self.flat_error(width);
        if self.skin.radius.is_none() && error > FLAT {
            return Err(NotDrawn::Curved { address: self.address.clone(), width, error });
        }
        Ok(Shaped { at_flange, ..self.drawn(width, height) })
    }

    /// The opening so wide and so high on the skin (mm).
    pub fn drawn(&self, width: f64, height: f64) -> Shaped {
        if let Some((_, angle)) = self.ramp {
            let air = ramp(&plan(width, height, angle));
            return Shaped { width, height, air, seen: width * height, at_flange: false };
        }
        let air = drawn(self.form, width, height);
        Shaped { width, height, seen: self.skin.seen(&air), air, at_flange: false }
    }

    /// The hole that is cut for an opening.
    pub fn hole(&self, air: &Outline) -> Outline {
        if self.lip > 0.0 { air.grown(self.lip) } else { air.clone() }
    }

    /// Area of the opening as the sheet has it (mm²): from the hole back to what the flow sees.
    pub fn on_sheet(&self, hole: &Outline, height: f64) -> f64 {
        let opening = if self.lip > 0.0 { hole.grown(-self.lip) } else { hole.clone() };
        match self.ramp {
            // the lip lies where the plan is widest
            Some(_) => {
                let bounds: Extents = opening.bounds();
                bounds.height() * height
            }
            None => self.skin.seen(&opening),
        }
    }

    /// Whether two areas are the same as far as a sheet can tell.
    pub fn alike(a: f64, b: f64) -> bool {
        (a - b).abs() <= ALIKE * a.abs().max(b.abs())
    }
}

/// Half of a ramp's plan (mm).
fn plan(width: f64, height: f64, angle: f64) -> Vec<(f64, f64)> {
    let half = ramp_plan(1e-3 * width, 1e-3 * height, angle);
    half.into_iter().map(|(ahead, across)| (1e3 * ahead, 1e3 * across)).collect()
}

fn face(word: &str) -> Option<SkinFace> {
    use SkinFace::{Bottom, Front, Left, Rear, Right, Top};
    [Left, Right, Front, Rear, Top, Bottom].into_iter().find(|face| <&str>::from(*face) == word)
}
