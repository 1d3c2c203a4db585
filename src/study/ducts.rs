//! What stands behind the openings: how much the moulds keep for each, and the ducts as they are made.

use super::templates::result::{HoleShape, LineName, Template, Templates};
use crate::case::{Case, PassageTable};
use crate::element::bend::{ANGLE as BEND_ANGLE, RADIUS as BEND_RADIUS};
use crate::element::duct::{HOSE, LENGTH};
use crate::element::exit::EDGE_RADIUS;
use crate::element::size::{DIAMETER, HEIGHT, WIDTH};
use crate::element::{Law, Role};
use crate::keys::word::words;
use crate::outline::flat::{self, Blank};
use crate::point::Model;
use serde::Serialize;
use std::f64::consts::PI;

/// Bores in which air hose is sold (m): 2, 2½, 3, 3½, 4, 5 and 6 inches (common practice, from memory).
const HOSES: [f64; 7] = [0.051, 0.063, 0.076, 0.089, 0.102, 0.127, 0.152];
/// Radius kept for a lip where the case says none (m) (common practice).
const LIP: f64 = 0.008;
/// Depth kept behind an opening without a duct (m) (common practice).
const DEPTH: f64 = 0.05;
/// From bolt to bolt round an insert plate (m) (common practice).
const BOLTS: f64 = 0.08;

/// Moulds and ducts of a case.
#[derive(Clone, Debug, Serialize)]
pub struct Behind {
    /// What the mould keeps for each opening.
    pub moulds: Vec<Mould>,
    /// Pieces of duct, passage by passage.
    pub ducts: Vec<Piece>,
}

/// What the mould keeps for an opening.
#[derive(Clone, Debug, Serialize)]
pub struct Mould {
    pub opening: String,
    /// How many.
    pub pieces: usize,
    /// The largest line that is ever wanted.
    pub line: LineName,
    /// The hole at that line.
    pub hole_width_m: f64,
    pub hole_height_m: f64,
    /// Radius of the lip, and whether the case says it.
    pub lip_radius_m: f64,
    /// Whether the case says that.
    pub lip_said: bool,
    /// Flat skin to keep: the hole with lip and land all round.
    pub keep_width_m: f64,
    pub keep_height_m: f64,
    /// Room behind it, along the air: the straight duct, or what a hand needs.
    pub depth_m: f64,
    /// Bolts of an insert plate of that size.
    pub bolts: usize,
}

words! {
    /// The shape of a cross-section.
    pub enum DuctShape {
        Round = "round",
        Rectangle = "rectangle",
    }
}

/// A cross-section.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DuctSection {
    /// Round or not.
    pub shape: DuctShape,
    /// Diameter, or width.
    pub width_m: f64,
    /// Diameter, or height.
    pub height_m: f64,
}

/// A piece of duct.
#[derive(Clone, Debug, Serialize)]
pub struct Piece {
    pub passage: String,
    /// How many in the whole car.
    pub pieces: usize,
    pub address: String,
    /// Its kind of element.
    pub kind: &'static str,
    /// Whether the air turns in it.
    #[serde(skip)]
    pub turns: bool,
    /// Where the air enters going forward.
    pub from: DuctSection,
    /// Where it leaves.
    pub to: DuctSection,
    /// Along the axis.
    pub length_m: f64,
    /// By how much a bend turns, or the included angle of a diffuser (deg).
    pub angle_deg: Option<f64>,
    /// Radius of a bend's centre line; none where it is mitred.
    pub radius_m: Option<f64>,
    /// The next hose that is sold, as wide or wider; none where none is.
    pub hose_m: Option<f64>,
    /// Area of sheet, without laps.
    pub sheet_m2: Option<f64>,
    /// Its flat blank.
    #[serde(skip)]
    pub blank: Option<Blank>,
}

impl DuctSection {
    fn of(area: f64, round: bool, aspect: f64) -> DuctSection {
        if round {
            let diameter = (4.0 * area / PI).sqrt();
            return DuctSection { shape: DuctShape::Round, width_m: diameter, height_m: diameter };
        }
        let height = (area / aspect).sqrt();
        DuctSection { shape: DuctShape::Rectangle, width_m: aspect * height, height_m: height }
    }

    /// Whether it is of an area (m²), to a hundredth.
    fn fits(&self, area: f64) -> bool {
        (0.25 * PI * self.equivalent().powi(2) / area - 1.0).abs() < 0.01
    }

    /// Diameter of a circle of its area (m).
    pub fn equivalent(&self) -> f64 {
        if self.shape == DuctShape::Round {
            self.width_m
        } else {
            (4.0 * self.width_m * self.height_m / PI).sqrt()
        }
    }
}

/// Moulds and ducts behind the templates of a case, at the sizes of its model.
pub fn behind(case: &Case, model: &Model, templates: &Templates) -> Behind {
    let ducts: Vec<Piece> =
        (0..case.passages.len()).flat_map(|passage| pieces(case, model, passage, templates)).collect();
    let moulds = templates.openings.iter().filter_map(|template| mould(case, template, &ducts)).collect();
    Behind { moulds, ducts }
}

fn passage_of<'c>(case: &'c Case, template: &Template) -> Option<&'c PassageTable> {
    let name = template.opening.split('/').next()?;
    case.passages.iter().find(|passage| passage.name == name)
}

fn mould(case: &Case, template: &Template, ducts: &[Piece]) -> Option<Mould> {
    let largest = template.lines.last()?;
    let passage = passage_of(case, template)?;
    let said = passage.opening().and_then(|element| {
        let view = case.view(&passage.elements[element]);
        let of_lip = view.number(&crate::element::ram_inlet::EDGE_RADIUS);
        of_lip.or(view.number(&EDGE_RADIUS))
    });
    let lip = said.unwrap_or(LIP);
    // what is straight behind an inlet, or before an exit
    let own = ducts.iter().filter(|piece| piece.passage == passage.name);
    let straight: f64 = own.filter(|piece| !piece.turns).map(|piece| piece.length_m).sum();
    let keep = |side: f64| side + 2.0 * (lip + template.land_m);
    let (width, height) = (keep(largest.hole_width_m), keep(largest.hole_height_m));
    Some(Mould {
        opening: template.opening.clone(),
        pieces: template.pieces,
        line: largest.line,
        hole_width_m: largest.hole_width_m,
        hole_height_m: largest.hole_height_m,
        lip_radius_m: lip,
        lip_said: said.is_some(),
        keep_width_m: width,
        keep_height_m: height,
        depth_m: straight.max(DEPTH),
        bolts: ((2.0 * (width + height) / BOLTS).ceil() as usize).max(4),
    })
}

fn pieces(case: &Case, model: &Model, passage: usize, templates: &Templates) -> Vec<Piece> {
    let table = &case.passages[passage];
    let (round, aspect) = shape_of(case, table, templates);
    let first = model.network.passages[passage].elements.start;
    let mut pieces = Vec::new();
    for (index, values) in table.elements.iter().enumerate() {
        let Some(kind) = table.kind(index).filter(|kind| kind.is_channel()) else {
            continue;
        };
        let law: &Law = &model.network.laws[first + index];
        let Some((before, after)) = law.ends() else { continue };
        let view = case.view(values);
        let own = match (view.number(&DIAMETER), view.number(&WIDTH), view.number(&HEIGHT)) {
            (Some(_), _, _) => (true, 1.0),
            (_, Some(width), Some(height)) => (false, width / height),
            _ => (round, aspect),
        };
        // an end takes the shape that the case gives what stands there, where that is of its area
        let beside =
            |index: Option<usize>, area: f64| beside(case, table, index).filter(|face| face.fits(area));
        let end = |index: Option<usize>, area: f64| {
            beside(index, area).unwrap_or_else(|| DuctSection::of(area, own.0, own.1))
        };
        let (from, to) = (end(index.checked_sub(1), before), end(Some(index + 1), after));
        let change = 0.5 * (to.equivalent() - from.equivalent()).abs();
        let angle = view.number(&BEND_ANGLE);
        let radius = view.number(&BEND_RADIUS);
        let bends = kind.turns_air();
        let length = match bends {
            true => radius.unwrap_or(0.0) * angle.unwrap_or(0.5 * PI),
            false => view
                .number(&LENGTH)
                .or_else(|| {
                    let angle = view.number(&crate::element::diffuser::ANGLE)?;
                    Some(change / (0.5 * angle).tan())
                })
                .unwrap_or(0.0),
        };
        let widens = kind.keys.iter().any(|key| key.name == crate::element::diffuser::ANGLE.name) && !bends;
        // a hose is bought, not rolled
        let is_hose = values.text(&HOSE).is_some();
        // from round to square is lofted by hand
        let blank = (!bends && length > 0.0 && !is_hose && from.shape == to.shape).then(|| {
            let mm = |section: &DuctSection| (1e3 * section.width_m, 1e3 * section.height_m);
            match from.shape {
                DuctShape::Round => flat::cone(mm(&from).0, mm(&to).0, 1e3 * length),
                DuctShape::Rectangle => flat::rectangles(mm(&from), mm(&to), 1e3 * length),
            }
        });
        let bore = from.equivalent();
        pieces.push(Piece {
            passage: table.name.clone(),
            pieces: law.pieces().round() as usize,
            address: values.address.clone(),
            kind: kind.name,
            turns: bends,
            from,
            to,
            length_m: length,
            angle_deg: if widens {
                Some(2.0 * (change / length).atan().to_degrees())
            } else {
                angle.map(f64::to_degrees)
            },
            radius_m: radius,
            hose_m: HOSES.into_iter().find(|hose| !widens && *hose >= bore - 5e-4),
            sheet_m2: blank.as_ref().map(|blank| 1e-6 * blank.outline.area()),
            blank,
        });
    }
    pieces
}

/// The face of what stands beside a piece of duct and is none itself, where the case gives its sides or diameter.
fn beside(case: &Case, table: &PassageTable, index: Option<usize>) -> Option<DuctSection> {
    let index = index.filter(|index| *index < table.elements.len())?;
    table.kind(index).filter(|kind| !kind.is_channel())?;
    let view = case.view(&table.elements[index]);
    match (view.number(&DIAMETER), view.number(&WIDTH), view.number(&HEIGHT)) {
        (Some(diameter), _, _) => {
            Some(DuctSection { shape: DuctShape::Round, width_m: diameter, height_m: diameter })
        }
        (_, Some(width), Some(height)) => {
            Some(DuctSection { shape: DuctShape::Rectangle, width_m: width, height_m: height })
        }
        _ => None,
    }
}

/// Whether a passage's ducts are round, and else their width over height: as its opening is drawn.
fn shape_of(case: &Case, table: &PassageTable, templates: &Templates) -> (bool, f64) {
    let drawn = templates
        .openings
        .iter()
        .find(|template| passage_of(case, template).is_some_and(|passage| passage.name == table.name));
    if let Some(template) = drawn
        && let Some(line) = template.lines.iter().find(|line| line.line == LineName::Final)
    {
        return (template.shape == HoleShape::Circle, line.width_m / line.height_m);
    }
    let opening =
        table.opening().filter(|index| table.kind(*index).is_some_and(|kind| kind.role != Role::Middle));
    let Some(view) = opening.map(|index| case.view(&table.elements[index])) else { return (true, 1.0) };
    match (view.number(&WIDTH), view.number(&HEIGHT)) {
        (Some(width), Some(height)) => (false, width / height),
        _ => (true, 1.0),
    }
}
