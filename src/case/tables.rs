//! The tables of keys that belong to the case file itself.

mod body;
mod fitted;
mod instruments;
mod layout;
mod part;
mod stint;
mod tied;

pub use body::*;
pub use fitted::*;
pub use instruments::*;
pub use layout::*;
pub use part::*;
pub use stint::*;
pub use tied::*;

use crate::engine::tables::{DRIVE, ENGINE};
use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, RuleWords, ValueShape};

/// Grammar of the file.
pub const FORMAT: Key =
    Key::required("format", Kind::Count, Range::between(1.0, 1.0), "the grammar of the file: 1");
pub const TITLE: Key = Key::open("title", ValueShape::Text, "what the case is");
/// State of the design.
pub const REVISION: Key =
    Key::open("revision", ValueShape::Text, "state of the design, shown on every output");
pub const DATE: Key = Key::open("date", ValueShape::Text, "date, shown on every output");
pub const AUTHOR: Key = Key::open("author", ValueShape::Text, "who wrote it, shown on every output");
/// Remarks.
pub const ABOUT: Key = Key::open("about", ValueShape::Text, "remarks, shown on every output");

/// Temperature of the weather.
pub const TEMPERATURE: Key = Key::default(
    "temperature",
    Kind::Temperature,
    (293.15, 273.15, 313.15),
    Range::between(223.15, 333.15),
    "a mild day",
    "temperature in the shade; a thermometer in the shade, off the ground",
)
.also(&["temp", "ambient"]);
/// Air over the track.
pub const OVER_TRACK: Key = Key::default(
    "over_track",
    Kind::TemperatureDifference,
    (0.0, 0.0, 8.0),
    Range::between(0.0, 30.0),
    "air over dark asphalt is often 5 to 8 K hotter (common practice)",
    "how much hotter the air over the track is than in the shade; a shaded thermometer at the inlets' height",
);
pub const ALTITUDE: Key = Key::default(
    "altitude",
    Kind::Length,
    (0.0, 0.0, 500.0),
    Range::between(-1000.0, 11_000.0),
    "sea level",
    "altitude of the place; or pressure",
)
.rules(&[
    Rule::ReplacedBy(&["pressure"]),
    Rule::OneOf(&["altitude", "pressure"]),
    Rule::Instead(&[&["altitude"], &["pressure"]]),
]);
pub const PRESSURE: Key = Key::optional(
    "pressure",
    Kind::Pressure,
    Range::between(20_000.0, 115_000.0),
    "air pressure at the place, not reduced to sea level; instead of altitude",
);
/// Relative humidity.
pub const HUMIDITY: Key = Key::default(
    "humidity",
    Kind::Share,
    (0.0, 0.0, 0.8),
    Range::between(0.0, 1.0),
    "dry air",
    "relative humidity, at the temperature in the shade; the weather report's, or a hygrometer",
);
/// `[day]`.
pub const DAY: &[Key] = &[TEMPERATURE, OVER_TRACK, ALTITUDE, PRESSURE, HUMIDITY];

/// Conductance of a chamber's walls.
pub const SKIN_CONDUCTANCE: Key = Key::default(
    "skin_conductance",
    Kind::ThermalConductance,
    (2.0, 0.0, 20.0),
    Range::between(0.0, 1000.0),
    "a square metre of thin panel loses some W/K (common practice)",
    "heat per kelvin through the walls to the day's air; a fan heater of known power in the closed bay and two thermometers",
);
/// Limit of a chamber's air.
pub const CHAMBER_LIMIT: Key = Key::optional(
    "limit",
    Kind::Temperature,
    Range::between(273.15, 1000.0),
    "highest temperature of its air that resin, fuel line or wiring there will take; held against conditions and runs in time",
)
.also(&["max", "max_temperature"]);
pub const LIMIT_FOR: Key =
    Key::open("limit_for", ValueShape::Text, "what the limit is for, such as the resin of the hatch");
/// `[chamber.NAME]`.
pub const CHAMBER_KEYS: &[Key] = &[SKIN_CONDUCTANCE, CHAMBER_LIMIT, LIMIT_FOR];

pub const NAME: Key = Key::must("name", ValueShape::Text, "its name");
/// Where a passage begins.
pub const FROM: Key = Key::must("from", ValueShape::Text, "outside, or a chamber");
/// Where a passage ends.
pub const TO: Key = Key::must("to", ValueShape::Text, "a chamber, outside, or engine");
/// How many alike.
pub const COUNT: Key = crate::element::size::COUNT;
pub const ELEMENT: Key = Key::must("element", ValueShape::Elements, "the chain of elements");
/// `[(passage)]`.
pub const PASSAGE: &[Key] = &[NAME, FROM, TO, COUNT, ELEMENT];

/// The fastest that a car drives here (m/s).
pub const FASTEST: f64 = 150.0;
/// Road speed.
pub const SPEED: Key = Key::required("speed", Kind::Speed, Range::between(0.0, FASTEST), "road speed");
pub const GEAR: Key =
    Key::optional("gear", Kind::Count, Range::between(1.0, 20.0), "gear, 1 the first; or rpm").rules(&[
        Rule::OneOf(&["gear", "rpm"]),
        Rule::Told(
            &Rule::AtLeastOne(&["gear", "rpm"]),
            &RuleWords::new(
                "gear-or-rpm",
                "{table} says neither gear nor rpm",
                r#"give gear = 1, or rpm = "1000 rpm""#,
            ),
        ),
        Rule::Instead(&[&["gear"], &["rpm"]]),
    ]);
/// Engine speed.
pub const RPM: Key =
    Key::optional("rpm", Kind::RotationalSpeed, Range::between(0.0, 30_000.0), "engine speed; or gear");
pub const LOAD: Key = Key::default(
    "load",
    Kind::Share,
    (1.0, 1.0, 1.0),
    Range::between(0.0, 1.0),
    "full throttle, on the safe side",
    "share of full-throttle power at that engine speed, not pedal travel",
)
.also(&["throttle", "pedal"]);
pub const CLEAR_AIR: Key = Key::default(
    "clear_air",
    Kind::Share,
    (1.0, 1.0, 1.0),
    Range::between(0.0, 1.0),
    "nobody ahead; close behind another car 50 to 90 % (common practice)",
    "share of the dynamic pressure left behind another car; a pitot tube ahead of the nose, following and alone",
)
.also(&["tow", "draft", "slipstream", "following", "traffic", "wake"]);
pub const WIND: Key = Key::default(
    "wind",
    Kind::Speed,
    (0.0, 0.0, 0.0),
    Range::between(-60.0, 60.0),
    "still air",
    "head wind positive",
);
/// Tape.
pub const TAPED: Key = Key::open(
    "taped",
    ValueShape::Map(Kind::Share, ReferenceTarget::Passage),
    "share of a passage's opening blanked",
)
.within(Range::between(0.0, 0.95))
.also(&["tape"]);
/// What fans do.
pub const FANS: Key = Key::open(
    "fans",
    ValueShape::Fans,
    "what fans do here, whatever their elements say: \"off\" or \"as set\" for all, or by passage, a speed too: { \"fan scoop\" = \"off\", \"cooler fan\" = \"2400 rpm\" }",
);
pub const WARM: Key = Key::open("warm", ValueShape::Flag, "true: lower limits count as missed here");
pub const CONDITION_DAY: Key = Key::open("day", ValueShape::Table(DAY), "what differs from [day]");
/// `[(condition)]`.
pub const CONDITION: &[Key] =
    &[NAME, SPEED, GEAR, RPM, LOAD, CLEAR_AIR, WIND, TAPED, FANS, WARM, CONDITION_DAY];

/// Lowest speed of a sweep.
pub const SWEEP_FROM: Key = Key::optional(
    "from",
    Kind::Speed,
    Range::between(0.0, FASTEST),
    "lowest road speed; default the lowest usable in first gear",
);
/// Highest speed of a sweep.
pub const SWEEP_TO: Key = Key::optional(
    "to",
    Kind::Speed,
    Range::above(0.0, FASTEST),
    "highest road speed; default that of the fastest condition",
);
pub const SWEEP_LOAD: Key = Key::open(
    "load",
    ValueShape::NumberOrPairs(Kind::Speed, Kind::Share),
    "load at every speed, or a list [[speed, load], …], straight between; default that of the conditions, straight between their speeds",
)
.within(Range::between(0.0, 1.0))
.also(&["throttle", "pedal"]);
/// `[sweep]`.
pub const SWEEP: &[Key] = &[SWEEP_FROM, SWEEP_TO, SWEEP_LOAD];

/// Free openings.
pub const FREE: Key = Key::must(
    "free",
    ValueShape::Groups,
    "passages whose first inlet or exit may change; an inner list keeps equal areas",
);
/// Margin to reach.
pub const MARGIN: Key = Key::open(
    "margin",
    ValueShape::NumberOrMap(Kind::Share, Some(Kind::TemperatureDifference), ReferenceTarget::Part),
    "margin to reach, on airflow, or a table by part in % or K; default 0",
)
.within(Range::between(-0.9, 1000.0));
/// Conditions to reach it at.
pub const AT: Key = Key::open(
    "at",
    ValueShape::Names(ReferenceTarget::ConditionOrSweep),
    "conditions that count, and sweep for every point of the sweep too; default all conditions",
);
/// The word that stands for every point of the sweep among the conditions that count.
pub const SWEEP_WORD: &str = "sweep";
/// Elements that go with an opening.
pub const SCALE: Key = Key::open(
    "scale",
    ValueShape::NameLists(ReferenceTarget::Passage),
    "elements behind a free opening that grow and shrink with it, areas in the proportion drawn, by passage",
);
/// Objective.
pub const SMALLEST: Key = Key::open(
    "smallest",
    ValueShape::Word(&["area", "drag"]),
    "what is made smallest: area (default) or drag",
);
/// Condition of the drag.
pub const DRAG_AT: Key = Key::open(
    "drag_at",
    ValueShape::Name(ReferenceTarget::Condition),
    "condition at which the drag is made smallest",
);
pub const LEAST_AREA: Key = Key::open(
    "least_area",
    ValueShape::NumberOrMap(Kind::Area, None, ReferenceTarget::PassageOrOther),
    "smallest area of one opening, for all or by passage",
)
.within(Range::above(0.0, 4.0));
pub const MOST_AREA: Key = Key::open(
    "most_area",
    ValueShape::NumberOrMap(Kind::Area, None, ReferenceTarget::PassageOrOther),
    "largest area of one opening, for all or by passage",
)
.within(Range::above(0.0, 4.0));
pub const CUT: Key =
    Key::open("cut", ValueShape::Map(Kind::Area, ReferenceTarget::Passage), "already cut: can only grow")
        .within(Range::above(0.0, 4.0));
/// Most loss before the carburettor.
pub const MOST_CARBURETTOR_LOSS: Key = Key::optional(
    "most_carburettor_loss",
    Kind::Pressure,
    Range::between(0.0, 20_000.0),
    "largest fall of total pressure to the carburettor",
);
/// Most heating before the carburettor.
pub const MOST_CARBURETTOR_HEATING: Key = Key::optional(
    "most_carburettor_heating",
    Kind::TemperatureDifference,
    Range::between(0.0, 200.0),
    "largest rise of the carburettor's air over the day's",
);
/// In how many draws of the guesses all parts are to hold.
pub const HOLDS: Key = Key::optional(
    "holds",
    Kind::Share,
    Range::between(0.5, 0.99),
    "how often all parts are to hold, of all that the guesses may turn out to be; default 0.9",
);
/// What they are to keep in these.
pub const HOLDS_MARGIN: Key = Key::optional(
    "holds_margin",
    Kind::TemperatureDifference,
    Range::between(0.0, 200.0),
    "kelvins that all parts keep then; default 0 K, since holding is the allowance for doubt already",
);
/// `[size]`.
pub const SIZE: &[Key] = &[
    FREE,
    SCALE,
    MARGIN,
    HOLDS,
    HOLDS_MARGIN,
    AT,
    SMALLEST,
    DRAG_AT,
    LEAST_AREA,
    MOST_AREA,
    CUT,
    MOST_CARBURETTOR_LOSS,
    MOST_CARBURETTOR_HEATING,
];

/// A table of the file: how it is written, and its keys.
#[derive(Debug)]
pub struct TableSection {
    /// The first word of its addresses.
    pub name: &'static str,
    /// How often and how it is written.
    pub form: TableForm,
    pub keys: &'static [Key],
    /// What it stands for.
    pub help: &'static str,
}

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableForm {
    /// Once.
    One,
    /// Once under each name.
    Named,
    /// A list of tables with a `name` each.
    List,
}

/// Keys at the top of the file.
pub const TOP: &[Key] = &[FORMAT, TITLE, REVISION, DATE, AUTHOR, ABOUT];

/// Every table of the file.
pub const SECTIONS: &[TableSection] = &[
    TableSection { name: "day", form: TableForm::One, keys: DAY, help: "the air" },
    TableSection { name: "drive", form: TableForm::One, keys: DRIVE, help: "road speed to engine speed" },
    TableSection {
        name: "engine",
        form: TableForm::One,
        keys: ENGINE,
        help: "power, fuel and where the heat goes",
    },
    TableSection {
        name: "part",
        form: TableForm::Named,
        keys: PART,
        help: "something that must be kept below a temperature",
    },
    TableSection {
        name: "chamber",
        form: TableForm::Named,
        keys: CHAMBER_KEYS,
        help: "a space with one pressure and one temperature",
    },
    TableSection {
        name: "body",
        form: TableForm::One,
        keys: BODY,
        help: "what every body has and nobody writes down: seams that leak, hot air drawn in again",
    },
    TableSection { name: "place", form: TableForm::Named, keys: PLACE, help: "a spot on the body" },
    TableSection {
        name: "passage",
        form: TableForm::List,
        keys: PASSAGE,
        help: "a chain of elements from one place to another",
    },
    TableSection {
        name: "condition",
        form: TableForm::List,
        keys: CONDITION,
        help: "a moment to be checked",
    },
    TableSection { name: "sweep", form: TableForm::One, keys: SWEEP, help: "the range of speeds for charts" },
    TableSection {
        name: "size",
        form: TableForm::One,
        keys: SIZE,
        help: "what may change, and what must be reached",
    },
    TableSection { name: "stint", form: TableForm::List, keys: STINT, help: "conditions one after another" },
    TableSection {
        name: "instruments",
        form: TableForm::One,
        keys: INSTRUMENTS,
        help: "what the car is read with, how well, and in which unit",
    },
    TableSection {
        name: "tied",
        form: TableForm::List,
        keys: TIED,
        help: "guesses that are wrong together: when one is high, so are the others",
    },
    TableSection { name: "layout", form: TableForm::List, keys: LAYOUT, help: "a variant of the case" },
    TableSection {
        name: "fitted",
        form: TableForm::One,
        keys: FITTED,
        help: "what readings made of the guesses, written by fit: leave it as it is",
    },
];
