//! The table of keys of runs in time.

use super::{FANS, NAME};
use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, RuleWords, ValueShape};

/// Start of a stint.
pub const START: Key = Key::open(
    "start",
    ValueShape::NumberOrMap(Kind::Temperature, None, ReferenceTarget::Part),
    "temperature of the parts at the start; left out: steady in the first step",
)
.within(Range::between(223.15, 1000.0));
pub const STEP_CONDITION: Key =
    Key::must("condition", ValueShape::Name(ReferenceTarget::Condition), "the condition of the step");
pub const STEP_TIME: Key = Key::required("time", Kind::Time, Range::above(0.0, 1e6), "how long it lasts");
/// Steps of a stint.
pub const STEP: Key = Key::open(
    "step",
    ValueShape::Tables(&[STEP_CONDITION, STEP_TIME, FANS]),
    "conditions one after another: { condition, time }, and fans where they do something else than in the condition",
)
.rules(&[
    Rule::OneOf(&["step", "trace", "leg"]),
    Rule::Told(&Rule::AtLeastOne(&["step", "trace", "leg"]), &STINT_EMPTY),
    Rule::Instead(&[&["step"], &["trace"], &["leg"]]),
]);
/// Nothing to be driven.
pub const STINT_EMPTY: RuleWords = RuleWords::new(
    "stint-empty",
    "{table} has no steps",
    r#"give step = [ { condition = "hairpin", time = "6 s" } ], leg = [ … ], or trace = "run.csv""#,
);
/// A recorded run.
pub const TRACE: Key =
    Key::open("trace", ValueShape::Text, "a recorded run, CSV with units in its headings, instead of step");
const LEG_NAME: Key = Key::open("name", ValueShape::Text, "what it is: a corner, a straight");
/// Road speed where a leg begins.
pub const SPEED_IN: Key = Key::optional(
    "speed_in",
    Kind::Speed,
    Range::between(0.0, 150.0),
    "road speed where it begins; default where the one before ends",
);
/// Least road speed of a leg.
pub const LEAST_SPEED: Key = Key::optional(
    "least_speed",
    Kind::Speed,
    Range::between(0.0, 150.0),
    "least road speed, taken halfway through: a corner",
)
.rules(&[Rule::Told(
    &Rule::OneOf(&["least_speed", "top_speed"]),
    &RuleWords::new(
        "leg-turns-twice",
        "{table} has both least_speed and top_speed",
        "make two legs of it: a corner has a least speed, a straight a top speed",
    ),
)]);
/// Highest road speed of a leg.
pub const TOP_SPEED: Key = Key::optional(
    "top_speed",
    Kind::Speed,
    Range::between(0.0, 150.0),
    "highest road speed, where the brakes go on: a straight",
);
/// Road speed where a leg ends.
pub const SPEED_OUT: Key = Key::optional(
    "speed_out",
    Kind::Speed,
    Range::between(0.0, 150.0),
    "road speed where it ends; default where the next begins",
);
pub const LEG_TIME: Key = Key::required("time", Kind::Time, Range::above(0.0, 1e5), "how long it takes");
/// Corners and straights.
pub const LEG: Key = Key::open(
    "leg",
    ValueShape::Tables(&[LEG_NAME, LEG_TIME, SPEED_IN, LEAST_SPEED, TOP_SPEED, SPEED_OUT]),
    "a lap by stopwatch, instead of step: corners and straights one after another, gear and load found",
);
/// Repeats.
pub const LAPS: Key = Key::default(
    "laps",
    Kind::Count,
    (1.0, 1.0, 1.0),
    Range::between(1.0, 100_000.0),
    "once",
    "how many times it is repeated",
);
/// The condition that says what legs and a recorded run leave open.
pub const AS_IN: Key = Key::open(
    "as_in",
    ValueShape::Name(ReferenceTarget::Condition),
    "condition from which legs, or a recorded run, take clear air, wind, tape and day; default the open road",
);
pub const COLUMN_TIME: Key = Key::open("time", ValueShape::Text, "heading of the times");
/// The column of road speeds.
pub const COLUMN_SPEED: Key = Key::open("speed", ValueShape::Text, "heading of the road speeds");
/// The column of engine speeds.
pub const COLUMN_RPM: Key = Key::open("rpm", ValueShape::Text, "heading of the engine speeds");
pub const COLUMN_LOAD: Key =
    Key::open("load", ValueShape::Text, "heading of the loads").also(&["throttle", "pedal"]);
/// The column of pedal travel.
pub const COLUMN_THROTTLE: Key = Key::open("throttle", ValueShape::Text, "heading of the pedal's travel");
/// Which columns of a recorded run are meant.
pub const COLUMNS: Key = Key::open(
    "columns",
    ValueShape::Table(&[COLUMN_TIME, COLUMN_SPEED, COLUMN_RPM, COLUMN_LOAD, COLUMN_THROTTLE]),
    "which columns of the recorded run are meant, where their headings are not known: { rpm = \"N_ENG\" }",
);
/// What was measured in a recorded run.
pub const MEASURED: Key = Key::open(
    "measured",
    ValueShape::NameLists(ReferenceTarget::PartOrChamber),
    "columns of the recorded run in which temperatures were measured, by part or chamber: { heads = \"CHT 2\" }",
);
/// `[(stint)]`.
pub const STINT: &[Key] = &[NAME, START, STEP, TRACE, LEG, LAPS, AS_IN, COLUMNS, MEASURED];
