//! The tables of keys of the body: places on it, and what every body has.

use crate::element::leak::LEAK_WORDS;
use crate::element::ram_inlet::{GAP, LAYER_HEIGHT, RUN};
use crate::element::size::BODY_PLACES;
use crate::keys::{Key, Kind, Range, Usual, ValueShape};

/// Pressure coefficient of a place.
pub const PLACE_PRESSURE: Key = Key::optional(
    "pressure_coefficient",
    Kind::Ratio,
    Range::between(-2.0, 1.0),
    "surface pressure there over the dynamic pressure; from a flow picture, or a tube flush in the skin and a U-tube at a steady speed",
)
.or_word(BODY_PLACES)
.also(&["cp"]);
pub const PLACE_RECOVERY: Key = Key::optional(
    "recovery",
    Kind::Ratio,
    Range::between(0.0, 1.05),
    "total pressure there over the free stream's, for inlets",
);
/// Skin layer of a place.
pub const PLACE_LAYER: Key = Key::open(
    "boundary_layer",
    ValueShape::Table(&[RUN, GAP, LAYER_HEIGHT]),
    "the slow air of the skin there: { run, gap, height }",
);
/// Height of a place.
pub const ABOVE_GROUND: Key = Key::optional(
    "above_ground",
    Kind::Length,
    Range::between(0.0, 3.0),
    "height of the middle of an opening there, so that warm air rises through openings of different height",
);
pub const POSITION: Key = Key::open("position", ValueShape::Text, "where it is on the body");
pub const SOURCE: Key = Key::open("source", ValueShape::Text, "where the figures are from");
/// `[place.NAME]`.
pub const PLACE: &[Key] = &[
    PLACE_PRESSURE,
    PLACE_RECOVERY,
    crate::element::ram_inlet::RECOVERY_IS,
    PLACE_LAYER,
    ABOVE_GROUND,
    POSITION,
    SOURCE,
];

/// Leaks of the whole body.
pub const LEAKS: Key = Key::default(
    "leaks",
    Kind::Share,
    (0.0, 0.0, 0.3),
    Range::between(0.0, 1.0),
    "no leak, unless said otherwise; 5 to 15 % of the inlets' area where seams are sealed, about 30 % where not (common practice)",
    "area of all seams and gaps as a share of the inlets, beside leaks that are passages of their own; find them with smoke and a blower in the inlet",
)
.or_word(LEAK_WORDS);
/// Hot air drawn in again at rest.
pub const HOT_AIR_AT_REST: Key = Key::default(
    "hot_air_at_rest",
    Kind::Share,
    (0.0, 0.0, 0.4),
    Range::between(0.0, 0.9),
    "none, unless said otherwise; 10 to 40 % at rest (common practice)",
    "share of every inlet's air that comes from the exits while the car stands; from thermometers in an inlet, in an exit and in the shade",
)
.or_word(&[Usual::new("usual", (0.2, 0.1, 0.4), "exits and inlets of one body at rest, 10 to 40 % (common practice)")]);
/// Hot air drawn in again on the move.
pub const HOT_AIR_MOVING: Key = Key::default(
    "hot_air_moving",
    Kind::Share,
    (0.0, 0.0, 0.05),
    Range::between(0.0, 0.9),
    "none, unless said otherwise; 0 to 5 % on the move (common practice)",
    "share of every inlet's air that comes from the exits above 30 km/h; between there and rest the share lies between the two; from thermometers, as at rest",
)
.or_word(&[Usual::new("usual", (0.025, 0.0, 0.05), "exits behind the inlets, on the move, 0 to 5 % (common practice)")]);
/// Width of the tape that openings are taped with.
pub const TAPE_WIDTH: Key = Key::optional(
    "tape_width",
    Kind::Length,
    Range::between(0.005, 0.2),
    "width of the tape that openings are taped with, for the tape card; 48 mm where it is not said; a ruler across the roll",
);
/// `[body]`.
pub const BODY: &[Key] = &[LEAKS, HOT_AIR_AT_REST, HOT_AIR_MOVING, TAPE_WIDTH];
