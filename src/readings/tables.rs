//! The tables of keys of the readings file.

use crate::case::tables as t;
use crate::case::tables::{TableForm, TableSection};
use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, RuleWords, ValueShape};

/// Grammar of the file.
pub const FORMAT: Key =
    Key::required("format", Kind::Count, Range::between(1.0, 1.0), "the grammar of the file: 1");
/// Title.
pub const TITLE: Key = Key::open("title", ValueShape::Text, "what was read, for whoever finds the file");
/// Date.
pub const DATE: Key = Key::open("date", ValueShape::Text, "the day on which it was read");
/// Remarks.
pub const ABOUT: Key = Key::open("about", ValueShape::Text, "remarks");
/// The printed card.
pub const CARD: Key =
    Key::open("card", ValueShape::Text, "what stands on the printed card, where there is one");
/// The case.
pub const CASE_SHA256: Key = Key::open(
    "case_sha256",
    ValueShape::Text,
    "which state of the case file the readings were planned for: its SHA-256, or how that begins",
);
/// Top of the file.
pub const TOP: &[Key] = &[FORMAT, TITLE, DATE, ABOUT, CARD, CASE_SHA256];

/// What an instrument reads.
pub const READS: Key = Key::must(
    "reads",
    ValueShape::Word(&["temperature", "pressure"]),
    "what it reads: temperature or pressure",
);
/// How well one reading is taken.
pub const WITHIN: Key = Key::open(
    "within",
    ValueShape::Either(&[Kind::TemperatureDifference, Kind::Pressure, Kind::Length]),
    "how well one reading is taken, 9 times in 10 within, where the reading has no ± of its own; of a tube a length along it",
)
.within(Range::POSITIVE)
.also(&["resolution", "accuracy"]);
/// What all readings of an instrument may be off by alike.
pub const ZERO: Key = Key::open(
    "zero",
    ValueShape::Either(&[Kind::TemperatureDifference, Kind::Pressure, Kind::Length]),
    "what all its readings may be off by alike, 9 times in 10 within; left out: nothing but what each is off by itself",
)
.within(Range::NOT_NEGATIVE)
.also(&["offset"]);
/// What all readings may be too large by.
pub const SCALE: Key = Key::optional(
    "scale",
    Kind::Share,
    Range::between(0.0, 0.5),
    "share of itself that every reading may be too large or too small by alike, 9 times in 10 within; of a temperature, share of what it stands over 0 °C",
);
/// How slow it is.
pub const LAG: Key = Key::optional(
    "lag",
    Kind::Time,
    Range::NOT_NEGATIVE,
    "time in which it goes two thirds of the way to what it reads; a test is held five times as long",
);
/// How far a tube is laid over.
pub const SLOPE: Key = Key::optional(
    "slope",
    Kind::Ratio,
    Range::between(1.0, 30.0),
    "of a tube: length along it for each length upright, 10 for a leg laid over at 1:10",
);
/// What is in the tube.
pub const FLUID: Key = Key::open(
    "fluid",
    ValueShape::Word(&["water", "alcohol", "oil"]),
    "of a tube: what is in it, water (1000 kg/m3), alcohol (790) or light gauge oil (830); its readings may then be lengths along it",
);
/// `[instrument.NAME]`.
pub const INSTRUMENT: &[Key] = &[READS, WITHIN, ZERO, SCALE, LAG, SLOPE, FLUID];

/// What a model of this kind is likely to be off by, the car known: temperatures (K), pressures as a share of themselves (9
/// times in 10 within; from memory).
pub const KELVINS_OFF: f64 = 8.0;
/// See [`KELVINS_OFF`].
pub const SHARE_OFF: f64 = 0.1;

/// The model's own error at a part.
pub const ERROR_OF_PARTS: Key = Key::default(
    "parts",
    Kind::TemperatureDifference,
    (KELVINS_OFF, KELVINS_OFF, KELVINS_OFF),
    Range::between(1.0, 100.0),
    "what a model of this kind is likely to be off by, the car known (from memory)",
    "what a part's temperature may be off by with all guesses right, 9 times in 10 within; never nought",
);
/// The model's own error of the air.
pub const ERROR_OF_AIR: Key = Key::default(
    "air",
    Kind::TemperatureDifference,
    (KELVINS_OFF, KELVINS_OFF, KELVINS_OFF),
    Range::between(1.0, 100.0),
    "what a model of this kind is likely to be off by, the car known (from memory)",
    "the same of air in a chamber or behind an element",
);
/// The model's own error of pressures.
pub const ERROR_OF_PRESSURES: Key = Key::default(
    "pressures",
    Kind::Share,
    (SHARE_OFF, SHARE_OFF, SHARE_OFF),
    Range::between(0.01, 1.0),
    "what a model of this kind is likely to be off by, the car known (from memory)",
    "the same of a difference of pressure, as a share of it",
);
/// `[model_error]`.
pub const MODEL_ERROR: &[Key] = &[ERROR_OF_PARTS, ERROR_OF_AIR, ERROR_OF_PRESSURES];

/// A test's name.
pub const NAME: Key =
    Key::must("name", ValueShape::Text, "its name, as it is told again beside what it says");
/// Where.
pub const ON: Key = Key::must(
    "on",
    ValueShape::Word(&["bench", "track"]),
    "bench: the car stands; its readings say nothing of surface pressures, recovery or heat. track: it is driven, or stands as it does in the queue",
)
.also(&["where", "place"]);
/// A condition of the case.
pub const CONDITION: Key = Key::open(
    "condition",
    ValueShape::Name(ReferenceTarget::Condition),
    "a condition of the case that it was read in; what stands beside it here takes its place",
);
/// A layout of the case.
pub const LAYOUT: Key = Key::open(
    "layout",
    ValueShape::Text,
    "the layout of the case that was read, such as the open frame of a former life; left out: the case as it stands",
);
/// How long it was held.
pub const HELD: Key =
    Key::optional("held", Kind::Time, Range::POSITIVE, "how long everything was held before it was read")
        .also(&["duration", "hold"]);
/// A stint of the case.
pub const STINT: Key = Key::open(
    "stint",
    ValueShape::Text,
    "a stint of the case that it was read in: what was read is held against the run in time, not against a steady state",
)
.rules(&[Rule::OneOf(&["stint", "trace"]), Rule::OneOf(&["stint", "condition"])]);
/// A recorded run.
pub const TRACE: Key = Key::open(
    "trace",
    ValueShape::Text,
    "a recorded run that it was read in, CSV as [[stint]] takes it, beside this file; condition then says what the run leaves open",
)
.also(&["csv", "log", "run"]);
/// Temperature of the parts when a run began.
pub const START: Key = Key::open(
    "start",
    ValueShape::NumberOrMap(Kind::Temperature, None, ReferenceTarget::Part),
    "of a run in time: temperature of the parts as it began; left out: as the stint says, as the columns begin, else steady in the first moment",
)
.within(Range::between(223.15, 1000.0));
/// How long the car stood after a run.
pub const SOAK: Key = Key::optional(
    "soak",
    Kind::Time,
    Range::above(0.0, 1e5),
    "of a run in time: how long the car then stood with everything off before strips were looked at; left out: they were looked at, or taken off, as it ended",
);
/// The instrument of measured columns.
pub const COLUMNS_WITH: Key = Key::open(
    "with",
    ValueShape::Text,
    "the instrument of the measured columns of a recorded run, by its name: how well it reads, and its lag",
);
/// The element of a passage through which a blower blows.
pub const INTO: Key = Key::must(
    "into",
    ValueShape::Name(ReferenceTarget::Passage),
    "the passage onto whose opening the blower is taped",
);
/// What the blower blows.
pub const BLOWER_FLOW: Key = Key::open(
    "flow",
    ValueShape::Either(&[Kind::MassFlow, Kind::VolumeFlow]),
    "air that it blows, with its ±; left out: unknown, and only the ratios of the readings say something",
)
.within(Range::POSITIVE)
.rules(&[Rule::OneOf(&["flow", "meter"])]);
/// Throat of a bellmouth or bore of an orifice.
pub const THROAT: Key =
    Key::required("throat", Kind::Length, Range::above(0.0, 1.0), "diameter of its throat or bore");
/// Discharge coefficient of a smooth bellmouth.
pub const BELLMOUTH: f64 = 0.97;
/// Its discharge coefficient.
pub const METER_DISCHARGE: Key = Key::default(
    "discharge",
    Kind::Ratio,
    (BELLMOUTH, 0.95, 0.99),
    Range::between(0.5, 1.0),
    "a smooth bellmouth from still air (common practice); a sharp orifice from still air 0.6",
    "its discharge coefficient: a smooth bellmouth 0.97, a sharp orifice 0.6",
);
/// What it shows.
pub const METER_SHOWS: Key = Key::required(
    "shows",
    Kind::Pressure,
    Range::POSITIVE,
    "how far the pressure at its throat lies under that of the still air before it",
);
/// A bellmouth or an orifice before the blower.
pub const METER: Key = Key::open(
    "meter",
    ValueShape::Table(&[THROAT, METER_DISCHARGE, METER_SHOWS]),
    "a bellmouth or an orifice that the blower draws through, instead of its flow: { throat, discharge, shows }",
)
.also(&["bellmouth", "orifice"]);
/// A blower.
pub const BLOWER: Key = Key::open(
    "blower",
    ValueShape::Table(&[INTO, BLOWER_FLOW, METER]),
    "a blower taped onto an opening: { into, flow }, or { into, meter }",
);

/// What was read.
pub const READING: Key = Key::open(
    "reading",
    ValueShape::Tables(&[
        PART, PIECE, STRIP, AIR, BEHIND, BETWEEN, HOLE, SHOWS, TURNED, UNTURNED, SHUT, BESIDE, AT, WITH,
        SPOT, NOTE,
    ]),
    "what was read: { part = \"heads\", shows = \"171 degC\" }, { between = [\"bay\", \"left exit\"], shows = \"14 mmH2O\" }",
);
/// A part's temperature.
pub const PART: Key = Key::open(
    "part",
    ValueShape::Name(ReferenceTarget::Part),
    "temperature of a part, by a gauge where its limit is measured",
)
.rules(&[
    Rule::OneOf(&["part", "strip", "air", "behind", "between", "hole"]),
    Rule::Told(
        &Rule::AtLeastOne(&["part", "strip", "air", "behind", "between", "hole"]),
        &RuleWords::new(
            "key-missing",
            "{table} does not say of what it is a reading",
            r#"give one of part, strip, air, behind, between and hole, as in part = "heads""#,
        ),
    ),
]);
/// Which piece of it.
pub const PIECE: Key = Key::open(
    "piece",
    ValueShape::Word(&["hottest", "mean"]),
    "of several cylinders: the hottest (default: a gauge on each, and the highest is written), or the mean of all",
);
/// A strip on a part.
pub const STRIP: Key = Key::open(
    "strip",
    ValueShape::Name(ReferenceTarget::Part),
    "a strip where a part's limit is measured: its fields turn once and for all where it was hotter",
);
/// A chamber's air.
pub const AIR: Key = Key::open(
    "air",
    ValueShape::Text,
    "air in a chamber, by a probe in the middle of it, out of sight of hot metal",
);
/// Air behind an element.
pub const BEHIND: Key =
    Key::open("behind", ValueShape::Name(ReferenceTarget::Part), "air behind the fins or the core of a part");
/// Two places.
pub const BETWEEN: Key = Key::open(
    "between",
    ValueShape::Names(ReferenceTarget::Address),
    "two places of a pressure gauge, the first less the second: a chamber; a passage, for the skin beside its opening; a place of the body; or, where the car stands, still air",
);
/// What is said of a hole that shows something else than two pressures.
const TWO_PRESSURES: RuleWords = RuleWords::new(
    "hole-shows",
    "{table} has a hole in the tape, of which two pressures are read",
    "write shut, the pressure with everything taped, and beside, the one with the hole open: their ratio is worked out",
);
/// A hole in the tape.
pub const HOLE: Key = Key::optional(
    "hole",
    Kind::Area,
    Range::between(1e-5, 1.0),
    "on the bench, everything taped shut and a blower on: area of a hole that is then cut into the tape; the share of the pressure that is left beside it tells the leaks",
)
.rules(&[
    Rule::Told(&Rule::Without("shows", &["hole"]), &TWO_PRESSURES),
    Rule::Told(&Rule::Without("turned", &["hole"]), &TWO_PRESSURES),
    Rule::Told(&Rule::Without("unturned", &["hole"]), &TWO_PRESSURES),
]);
/// The pressure with everything taped shut.
pub const SHUT: Key = Key::open(
    "shut",
    ValueShape::Either(&[Kind::Pressure, Kind::Length]),
    "beside a hole: pressure of the bay over still air with everything taped shut, before the hole is cut",
)
.rules(&[Rule::Needs("shut", &["hole"])]);
/// The pressure beside the hole.
pub const BESIDE: Key = Key::open(
    "beside",
    ValueShape::Either(&[Kind::Pressure, Kind::Length]),
    "the same at the same setting of the blower, with the hole open",
)
.rules(&[Rule::Needs("beside", &["hole"])]);
/// What the gauge shows.
pub const SHOWS: Key = Key::open(
    "shows",
    ValueShape::Either(&[Kind::Temperature, Kind::Pressure, Kind::Length]),
    "what was read, in the instrument's unit, with ± or a..b where its own error is not that of the instrument; \"\" is not read yet",
)
.rules(&[Rule::OneOf(&["shows", "turned"]), Rule::OneOf(&["shows", "unturned"])]);
/// The hottest field that turned.
pub const TURNED: Key = Key::open(
    "turned",
    ValueShape::Either(&[Kind::Temperature]),
    "of a strip: the highest field that turned; left out where none did",
);
/// The coolest that did not.
pub const UNTURNED: Key = Key::open(
    "unturned",
    ValueShape::Either(&[Kind::Temperature]),
    "of a strip: the lowest field that did not turn; left out where all did",
);
/// When in a run it was read.
pub const AT: Key = Key::optional(
    "at",
    Kind::Time,
    Range::NOT_NEGATIVE,
    "of a gauge in a run in time: when it was read, from the start of the run; left out: as the run ended",
)
.also(&["time", "when"]);
/// The instrument.
pub const WITH: Key = Key::open(
    "with",
    ValueShape::Text,
    "the instrument, by its name: readings of one share what it is off by",
);
/// Where a gauge sits.
pub const SPOT: Key = Key::open(
    "spot",
    ValueShape::Text,
    "where the gauge sat; must be where the part's limit is measured: other spots are 30 to 60 K apart",
);
/// A remark.
pub const NOTE: Key = Key::open("note", ValueShape::Text, "a remark, told again beside the reading");

/// `[[test]]`.
pub const TEST: &[Key] = &[
    NAME,
    ON,
    DATE,
    CONDITION,
    LAYOUT,
    SPEED,
    GEAR,
    RPM,
    LOAD,
    t::CLEAR_AIR,
    t::WIND,
    t::TAPED,
    t::FANS,
    t::CONDITION_DAY,
    HELD,
    STINT,
    TRACE,
    t::COLUMNS,
    t::MEASURED,
    COLUMNS_WITH,
    START,
    SOAK,
    BLOWER,
    READING,
];
/// Road speed.
pub const SPEED: Key = Key::optional(
    "speed",
    Kind::Speed,
    Range::between(0.0, 150.0),
    "road speed; on the bench 0 where it is not said",
);
/// Gear.
pub const GEAR: Key =
    Key::optional("gear", Kind::Count, Range::between(1.0, 20.0), "gear, 1 the first; or rpm")
        .rules(&[Rule::OneOf(&["gear", "rpm"])]);
/// Engine speed.
pub const RPM: Key = Key::optional(
    "rpm",
    Kind::RotationalSpeed,
    Range::between(0.0, 30_000.0),
    "engine speed; or gear; on the bench 0 where it is not said",
);
/// Load.
pub const LOAD: Key = Key::optional(
    "load",
    Kind::Share,
    Range::between(0.0, 1.0),
    "share of full-throttle power at that engine speed, with its ±: as sure as you are of it",
)
.also(&["throttle", "pedal"]);
/// Keys of a test that say what the car did, which a run in time says itself.
pub const OF_STEADY_TESTS: &[&Key] = &[&SPEED, &GEAR, &RPM, &LOAD, &HELD, &BLOWER];
/// Keys of a test that only a run in time has.
pub const OF_RUNS: &[&Key] = &[&t::COLUMNS, &t::MEASURED, &COLUMNS_WITH, &START, &SOAK];
/// Keys of a test that a run in time takes from it, in each of its conditions.
pub const OF_CONDITIONS_IN_RUNS: &[&str] = &["clear_air", "wind", "taped", "fans", "day"];
/// Keys of a test that are those of a condition.
pub const OF_CONDITIONS: &[&str] =
    &["speed", "gear", "rpm", "load", "clear_air", "wind", "taped", "fans", "day"];

/// Every table of the file.
pub const SECTIONS: &[TableSection] = &[
    TableSection {
        name: "instrument",
        form: TableForm::Named,
        keys: INSTRUMENT,
        help: "what was read with: how well, and what all its readings are off by alike",
    },
    TableSection {
        name: "model_error",
        form: TableForm::One,
        keys: MODEL_ERROR,
        help: "what the model itself may be off by, with every guess right",
    },
    TableSection {
        name: "test",
        form: TableForm::List,
        keys: TEST,
        help: "a moment in which things were read",
    },
];
