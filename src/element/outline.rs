//! How an opening is cut: the keys that all kinds of opening share.
//!
//! They change no law: sizes are found by areas, and these say what an area looks like on the skin.

use super::written::WrittenElement;
use crate::keys::{Key, Kind, Range, Rule, ValueShape, View};
use std::f64::consts::PI;

pub const SHAPE: Key = Key::open(
    "shape",
    ValueShape::Word(&["rectangle", "slot", "ellipse", "trapezium"]),
    "what it is cut as; default a rectangle, of an opening with a diameter a circle",
);
/// Width over height.
pub const ASPECT: Key = Key::optional(
    "aspect",
    Kind::Ratio,
    Range::between(0.1, 20.0),
    "width over height, square to the flow; default as width and height have it, 1.5 where an area alone is given",
)
.rules(&[Rule::OneOf(&["aspect", "fixed_width"]), Rule::OneOf(&["aspect", "fixed_height"])]);
/// A width that stays.
pub const FIXED_WIDTH: Key = Key::optional(
    "fixed_width",
    Kind::Length,
    Range::between(0.005, 4.0),
    "width on the skin that stays whatever the area is, instead of aspect",
)
.rules(&[Rule::OneOf(&["fixed_width", "fixed_height"])]);
/// A height that stays.
pub const FIXED_HEIGHT: Key = Key::optional(
    "fixed_height",
    Kind::Length,
    Range::between(0.005, 4.0),
    "height on the skin that stays whatever the area is, instead of aspect",
);
/// Shorter over longer side of a trapezium.
pub const NARROW_SIDE: Key = Key::optional(
    "narrow_side",
    Kind::Share,
    Range::between(0.2, 1.0),
    "upper side of a trapezium over its lower one; default 75 %",
);
/// Room across.
pub const MOST_WIDTH: Key = Key::optional(
    "most_width",
    Kind::Length,
    Range::above(0.0, 4.0),
    "skin that there is across, from flange to flange; the cut keeps the land on either side; a tape measure",
);
/// Room up and down.
pub const MOST_HEIGHT: Key = Key::optional(
    "most_height",
    Kind::Length,
    Range::above(0.0, 4.0),
    "skin that there is up and down, from flange to flange; the cut keeps the land on either side; a tape measure",
);
pub const CORNER_RADIUS: Key = Key::default(
    "corner_radius",
    Kind::Length,
    (0.010, 0.010, 0.010),
    Range::between(0.0, 0.2),
    "10 mm: no crack starts there, and a hole saw of 20 mm cuts it (common practice)",
    "least radius of its corners",
);
pub const LAND: Key = Key::default(
    "land",
    Kind::Length,
    (0.020, 0.020, 0.020),
    Range::between(0.0, 0.3),
    "20 mm: a bonded flange or a row of screws finds room (common practice)",
    "strip of sound skin to be kept all round the largest line",
);
/// Wall of a bonded lip.
pub const BONDED_LIP: Key = Key::default(
    "bonded_lip",
    Kind::Length,
    (0.0, 0.0, 0.0),
    Range::between(0.0, 0.1),
    "no lip: the edge of the skin is the opening's own",
    "how much larger all round the hole is cut than the opening: wall of the lip or duct bonded into it; callipers",
);
pub const SKIN_ANGLE: Key = Key::default(
    "skin_angle",
    Kind::Angle,
    (0.5 * PI, 0.5 * PI, 0.5 * PI),
    Range::between(PI / 18.0, 0.5 * PI),
    "the skin stands square to the air that goes through it",
    "angle between the skin and the air that goes through it, 90 deg square: areas are square to the flow, and the hole is longer by 1/sin; a bevel gauge",
);
/// Along which side it slopes.
pub const SLOPES_ALONG: Key = Key::open(
    "slopes_along",
    ValueShape::Word(&["height", "width"]),
    "side of the opening that lies along the slope, and is cut longer: height (default) or width",
);
/// Radius of the skin.
pub const CURVATURE_RADIUS: Key = Key::optional(
    "curvature_radius",
    Kind::Length,
    Range::between(0.03, 100.0),
    "radius of the skin along the opening's width: the template is laid round it; a card cut to fit",
)
.rules(&[Rule::OneOf(&["curvature_radius", "bulge"])]);
/// Bulge of the skin.
pub const BULGE: Key = Key::optional(
    "bulge",
    Kind::Length,
    Range::between(0.0, 0.3),
    "gap under a straight edge laid on the skin across the opening, instead of curvature_radius: what a flat template is then wrong by is told",
);
/// Pair.
pub const MIRROR: Key = Key::open(
    "mirror",
    ValueShape::Flag,
    "true: one on the left and one on the right, each with a sheet of its own",
);
/// Which way the skin looks.
pub const FACES: Key = Key::open(
    "faces",
    ValueShape::Word(&["left", "right", "front", "rear", "top", "bottom"]),
    "where the skin's outer face looks; default front for a ram inlet, rear for an exit, top for a flush inlet, left for a plain one; of a mirrored pair the left one's",
);

/// Clear distance to the next opening.
pub const NEXT_OPENING: Key = Key::optional(
    "next_opening",
    Kind::Length,
    Range::between(0.0, 10.0),
    "clear distance to the next opening on the skin; a tape measure",
);
pub const NEAR: Key = Key::open(
    "near",
    ValueShape::Word(&["driver", "tyre", "filler", "exhaust", "nothing"]),
    "what the air that leaves could meet; default what the words of its place say",
);

/// The outline of an opening.
pub const OUTLINE: Key = Key::open(
    "outline",
    ValueShape::Table(&[
        SHAPE,
        ASPECT,
        FIXED_WIDTH,
        FIXED_HEIGHT,
        NARROW_SIDE,
        MOST_WIDTH,
        MOST_HEIGHT,
        CORNER_RADIUS,
        LAND,
        BONDED_LIP,
        SKIN_ANGLE,
        SLOPES_ALONG,
        CURVATURE_RADIUS,
        BULGE,
        MIRROR,
        FACES,
        NEXT_OPENING,
        NEAR,
    ]),
    "how it is cut, for templates; no law hangs on it: { shape, aspect, most_width, … }",
);
/// The outline of a ramp, whose plan follows from its lip.
pub const RAMP_OUTLINE: Key = Key::open(
    "outline",
    ValueShape::Table(&[LAND, MIRROR, FACES]),
    "how the ramp is cut, for templates; no law hangs on it: { land, mirror, faces }",
);

/// A trapezium alone has a narrow side, and what is cut finds room.
pub(super) fn check(written: &mut WrittenElement) {
    let (view, element) = (written.view, written.values());
    let Some(outline) = element.table(&OUTLINE) else { return };
    let other = outline.text(&SHAPE).unwrap_or("rectangle");
    if outline.written(&NARROW_SIDE) && other != "trapezium" && written.sound(outline, &SHAPE) {
        written.fault(
            "narrow-side-without-trapezium",
            format!(
                "{}: narrow_side is the upper side of a trapezium, and the shape is a {other}",
                outline.address
            ),
            outline.place_of(&NARROW_SIDE),
            r#"write shape = "trapezium", or take narrow_side out"#,
        );
    }
    let number = |key: &Key| View { values: outline, ..view }.number(key);
    let Some(land) = number(&LAND) else { return };
    for (most, fixed) in [(&MOST_WIDTH, &FIXED_WIDTH), (&MOST_HEIGHT, &FIXED_HEIGHT)] {
        let Some(room) = number(most) else { continue };
        let needed = number(fixed).unwrap_or(0.0) + 2.0 * land;
        if needed >= room + 1e-9 || room <= 2.0 * land {
            let what = match outline.has(fixed) {
                true => format!("{} and the land on either side need", fixed.name),
                false => "the land on either side alone needs".to_string(),
            };
            written.fault(
                "outline-without-room",
                format!(
                    "{}: {what} {}, and {} leaves {}",
                    outline.address,
                    Kind::Length.show(needed),
                    most.name,
                    Kind::Length.show(room)
                ),
                outline.place_of(most),
                "measure the skin from flange to flange, keep less land, or cut elsewhere",
            );
        }
    }
}
