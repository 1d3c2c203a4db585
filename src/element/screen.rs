//! A screen, mesh, grille or perforated plate.

use super::figure::{ElementFigure, axis, chart, curve};
use super::size::{AREA, BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, WIDTH};
use super::{AreaContinuity, ConstantLoss, ElementContext, ElementKind, Law, Push, Resistance, Role, Sign};
use crate::correlations::screens;
use crate::keys::{Key, Kind, Range, ValueShape, View};

/// Open share of the screen's area.
pub const OPEN_FRACTION: Key = Key::required(
    "open_fraction",
    Kind::Share,
    Range::between(0.2, 0.98),
    "open share of the area, clean; (1 − wire/pitch)² of a square mesh",
)
.also(&["mesh", "porosity", "open_area", "free_area", "open"]);
/// What it is made of.
const PATTERN: Key = Key::open(
    "pattern",
    ValueShape::Word(&["wire", "perforated"]),
    "woven wire (default) or a square-edged plate with holes",
);
/// Share of the openings that dirt or grass has closed.
const BLOCKED: Key = Key::default(
    "blocked",
    Kind::Share,
    (0.0, 0.0, 0.4),
    Range::between(0.0, 0.9),
    "a clean screen; grass and leaves close a third in an afternoon (common practice)",
    "share of the openings closed by dirt or grass; a photograph after an afternoon",
);
/// Diameter of the wire.
pub const WIRE: Key = Key::optional(
    "wire",
    Kind::Length,
    Range::above(0.0, 0.02),
    "diameter of the wire, to check the Reynolds number on the gap",
);

/// A screen.
pub const KIND: ElementKind = ElementKind {
    name: "screen",
    also: &["mesh", "grille"],
    sign: Some(Sign::Screen),
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Guarded,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        OPEN_FRACTION,
        PATTERN,
        BLOCKED,
        WIRE,
    ],
    summary: "A screen across the air; K on its gross area from the open fraction, dirt taken off; the size of the element before it where none is given.",
    range: "Woven wire: open fraction 0.05 and more, Reynolds number on the gap 400 and more. Plate: square edges, 0.05..1.",
    source: "Blevins, Applied Fluid Dynamics Handbook (1984), as general-purpose libraries give the formulas and the table; the book itself was not read",
    example: r#"{ kind = "screen", open_fraction = 0.65, area = "120 cm2" }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("screen.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a screen.
pub type Screen = ConstantLoss;

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let Some(size) =
        context.size.or(context.before.map(|neighbour| super::PieceSize::of_area(neighbour.area)))
    else {
        context.fault(
            "area-unknown",
            None,
            "the screen has no size, and neither has the element before it".into(),
            r#"give its gross area, for example area = "120 cm2""#.into(),
        );
        return None;
    };
    if context.size.is_none() && context.before.is_some_and(|neighbour| neighbour.count != context.count) {
        context.fault(
            "counts-differ",
            None,
            "the screen takes its size from the element before it, which stands another number of times"
                .into(),
            "give the screen a size of its own, or make the counts equal".into(),
        );
        return None;
    }
    let open = view.required(&OPEN_FRACTION) * (1.0 - view.required(&BLOCKED));
    if open < 0.05 {
        context.fault(
            "screen-closed",
            Some(&BLOCKED),
            format!("only {:.1} % of the screen is open; the formulas begin at 5 %", open * 100.0),
            "clean the screen, or write the passage as taped".into(),
        );
        return None;
    }
    let k = match view.values.text(&PATTERN) {
        Some("perforated") => screens::perforated_plate(open),
        _ => screens::woven(open),
    };
    Some(Law::Screen(ConstantLoss {
        area_of_one: size.area,
        pieces: context.pieces,
        resistance: Resistance::constant(k, size.area * context.pieces),
    }))
}

/// Reynolds number on the gap between the wires of a square mesh.
///
/// ```text
///   Re = V g/(ν f),   g = w √f/(1 − √f)
/// ```
///
/// V (m/s) before the screen, w (m) wire, f open fraction, ν (m²/s). The formulas hold from 400.
pub fn gap_reynolds(view: &View, speed: f64, kinematic_viscosity: f64) -> Option<f64> {
    let wire = view.number(&WIRE)?;
    let open = view.required(&OPEN_FRACTION) * (1.0 - view.required(&BLOCKED));
    let root = open.sqrt();
    Some(speed / open * wire * root / (1.0 - root) / kinematic_viscosity)
}

fn figure() -> Option<ElementFigure> {
    Some(chart(
        "Screens",
        axis("Open fraction", "%"),
        axis("K", "on the gross area"),
        vec![
            curve("plate with holes", (30.0, 98.0), |open| screens::perforated_plate(0.01 * open)),
            curve("woven wire", (30.0, 98.0), |open| screens::woven(0.01 * open)),
        ],
        "Dirt and grass take away from the open fraction.",
    ))
}
