//! Keys that say how large an element is, and what follows from them.

use super::ElementContext;
use crate::keys::{Key, Kind, Range, Rule, RuleWords, Usual, ValueShape, View};
use std::f64::consts::PI;

/// A name of its own for an element.
pub const NAME: Key =
    Key::open("name", ValueShape::Text, "a name of its own, used in addresses instead of the kind");
/// Whether its ends are lofted into its neighbours.
pub const BLENDED: Key = Key::open(
    "blended",
    ValueShape::Flag,
    "true: lofted into its neighbours, or its own figure holds the change: no sudden change of area is charged on either side of it",
);
/// The element's kind.
pub const KIND: Key = Key::must("kind", ValueShape::Text, "what kind of element it is");
/// Least open area that is accepted (m²): 0.01 cm², a hole of a millimetre.
pub const LEAST_AREA: f64 = 1e-6;
/// Ways to give a size.
const ONE_SIZE: Rule = Rule::OneWay(&[&["area"], &["width", "height"], &["diameter"], &["share_of_inlets"]]);
/// Free area of one opening.
pub const AREA: Key = Key::optional(
    "area",
    Kind::Area,
    Range::above(0.0, 4.0),
    "free area of one, square to the flow at its narrowest",
)
.also(&["size"])
.rules(&[ONE_SIZE]);
/// The same of what must have a size.
pub const NEEDED_AREA: Key = AREA.rules(&[
    ONE_SIZE,
    Rule::Told(
        &Rule::AtLeastOne(&["area", "width", "diameter"]),
        &RuleWords::new(
            "size-missing",
            "{table} does not say how large it is",
            r#"give area = "90 cm2", or width and height, or diameter, of one"#,
        ),
    ),
]);
/// The same of what may be as large as a share of the inlets.
pub const AREA_OR_SHARE: Key = AREA.rules(&[
    ONE_SIZE,
    Rule::Told(
        &Rule::AtLeastOne(&["area", "width", "diameter", "share_of_inlets"]),
        &RuleWords::new(
            "size-missing",
            "{table} does not say how large it is",
            r#"give area = "90 cm2", or width and height, or diameter, of one; or share_of_inlets"#,
        ),
    ),
]);
/// Width of one opening.
pub const WIDTH: Key = Key::optional("width", Kind::Length, Range::above(0.0, 4.0), "clear width of one")
    .also(&["w"])
    .rules(&[Rule::Told(
        &Rule::Together(&["width", "height"]),
        &RuleWords::new(
            "size-incomplete",
            "{table} has a {given} and no {other}",
            "give {other} too, or area alone",
        ),
    )]);
/// Height of one opening.
pub const HEIGHT: Key =
    Key::optional("height", Kind::Length, Range::above(0.0, 4.0), "clear height of one").also(&["h"]);
/// Diameter of one opening.
pub const DIAMETER: Key =
    Key::optional("diameter", Kind::Length, Range::above(0.0, 2.0), "clear diameter of one")
        .also(&["dia", "d"]);
/// How many alike stand side by side.
pub const COUNT: Key = Key::default(
    "count",
    Kind::Count,
    (1.0, 1.0, 1.0),
    Range::between(1.0, 1000.0),
    "one, unless said otherwise",
    "how many alike stand side by side; what is written describes one",
)
.also(&["n", "number"]);
/// The place on the body that gives what the element leaves out.
pub const PLACE: Key = Key::open(
    "place",
    ValueShape::Name(crate::keys::ReferenceTarget::Place),
    "the [place] that gives what is left out here",
);
/// Mean height of the wall's roughness.
pub const ROUGHNESS: Key = Key::default(
    "roughness",
    Kind::Length,
    (0.0, 0.0, 0.0005),
    Range::between(0.0, 0.01),
    "smooth moulded wall; hand-laid laminate reaches some tenths of a millimetre (common practice)",
    "mean roughness of the wall; feel for it, or measure a cast of it",
)
.rules(&[Rule::ReplacedBy(&["hose"])]);
/// Surface pressures by the place on a body: wide bands, no more than a start.
pub const BODY_PLACES: &[Usual] = &[
    Usual::new("base", (-0.175, -0.25, -0.10), "the blunt rear end of a car, -0.10 to -0.25 (from memory)"),
    Usual::new(
        "mid-roof",
        (-0.45, -0.6, -0.3),
        "over the middle of a roof or of a high engine cover, -0.3 to -0.6 (from memory)",
    ),
    Usual::new("side", (-0.2, -0.3, -0.1), "along a side, clear of wheels, -0.1 to -0.3 (from memory)"),
    Usual::new(
        "foot of windscreen",
        (0.35, 0.2, 0.5),
        "where a screen rises from the bonnet, +0.2 to +0.5 (from memory)",
    ),
    Usual::new("wheel arch", (-0.2, -0.3, -0.1), "inside a wheel arch, -0.1 to -0.3 (from memory)"),
];
/// Surface pressure coefficient of an opening.
pub const PRESSURE_COEFFICIENT: Key = Key::default(
    "pressure_coefficient",
    Kind::Ratio,
    (0.0, -0.3, 0.3),
    Range::between(-2.0, 1.0),
    "undisturbed pressure; body surfaces commonly lie between -0.3 and +0.3 (from memory)",
    "surface pressure there over the dynamic pressure; from a flow picture, or a tube flush in the skin and a U-tube at a steady speed",
)
.or_word(BODY_PLACES)
.also(&["cp"]);

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PieceSize {
    /// Area (m²).
    pub area: f64,
    /// Hydraulic diameter: D, 2wh/(w+h), or √(4A/π) from an area alone (m).
    pub hydraulic_diameter: f64,
    /// Height over the skin: h, D, or √(4A/π) (m).
    pub height: f64,
}

impl PieceSize {
    /// From an area alone.
    pub fn of_area(area: f64) -> PieceSize {
        let diameter = equivalent_diameter(area);
        PieceSize { area, hydraulic_diameter: diameter, height: diameter }
    }

    /// A rectangle: D_h = 2wh/(w+h).
    pub fn of_rectangle(width: f64, height: f64) -> PieceSize {
        let hydraulic_diameter = 2.0 * width * height / (width + height);
        PieceSize { area: width * height, hydraulic_diameter, height }
    }

    /// Reads the size keys of an element; the case reader has made sure that one way is used.
    pub fn read(view: &View) -> Option<PieceSize> {
        if let (Some(width), Some(height)) = (view.number(&WIDTH), view.number(&HEIGHT)) {
            return Some(PieceSize::of_rectangle(width, height));
        }
        if let Some(diameter) = view.number(&DIAMETER) {
            let area = PI / 4.0 * diameter * diameter;
            return Some(PieceSize { area, hydraulic_diameter: diameter, height: diameter });
        }
        view.number(&AREA).map(PieceSize::of_area)
    }
}

/// Diameter of the circle with an area: √(4A/π).
pub fn equivalent_diameter(area: f64) -> f64 {
    (4.0 * area / PI).sqrt()
}

/// Areas before and after an area change, from its own keys or its neighbours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// Area of one before (m²); infinite after a chamber.
    pub before: f64,
    /// Area of one after (m²); infinite before a chamber.
    pub after: f64,
}

impl Change {
    /// The smaller of the two.
    pub fn smaller(&self) -> f64 {
        self.before.min(self.after)
    }

    /// Diameter ratio d/D.
    pub fn beta(&self) -> f64 {
        (self.smaller() / self.before.max(self.after)).sqrt()
    }
}

/// Area before an area change.
pub const AREA_BEFORE: Key = Key::optional(
    "area_before",
    Kind::Area,
    Range::between(1e-6, 4.0),
    "area of one before the change; else that of the element before",
);
/// Area after an area change.
pub const AREA_AFTER: Key = Key::optional(
    "area_after",
    Kind::Area,
    Range::between(1e-6, 4.0),
    "area of one after the change; else that of the element behind",
);

/// The keys that say how large an element is, and whether they are areas; the others are lengths across.
pub const SCALED: &[(&Key, bool)] = &[
    (&AREA, true),
    (&AREA_BEFORE, true),
    (&AREA_AFTER, true),
    (&WIDTH, false),
    (&HEIGHT, false),
    (&DIAMETER, false),
];

/// Finds the areas of an area change; `open_ends` lets a chamber count as an infinite area.
pub fn change(context: &mut ElementContext, view: &View, open_ends: bool) -> Option<Change> {
    let before = side(context, view, true, open_ends);
    let after = side(context, view, false, open_ends);
    Some(Change { before: before?, after: after? })
}

fn side(context: &mut ElementContext, view: &View, before: bool, open_ends: bool) -> Option<f64> {
    let key = if before { &AREA_BEFORE } else { &AREA_AFTER };
    if let Some(area) = view.number(key) {
        return Some(area);
    }
    let (neighbour, at_end, word) = if before {
        (context.before, context.opens_before, "before")
    } else {
        (context.after, context.opens_behind, "behind")
    };
    if let Some(neighbour) = neighbour {
        if neighbour.count != context.count {
            context.fault(
                "counts-differ",
                Some(key),
                format!(
                    "the element {word} it stands {} times, this one {} times, so that the area of one cannot be taken from it",
                    neighbour.count, context.count
                ),
                format!("give {} of one piece, or make the counts equal", key.name),
            );
            return None;
        }
        return Some(neighbour.area);
    }
    if at_end && open_ends {
        return Some(f64::INFINITY);
    }
    context.fault(
        "area-unknown",
        Some(key),
        format!("no element {word} it has an area"),
        format!("give {}, or a size to the element {word} it", key.name),
    );
    None
}
