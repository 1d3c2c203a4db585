//! The table of keys of what the builder reads his car with.

use crate::keys::{Key, Kind, Range, ValueShape};

/// How well the level of a tube is read.
pub const LEVEL: Key = Key::optional(
    "resolution",
    Kind::Length,
    Range::above(0.0, 0.05),
    "how well the difference of its two levels is read, along the tube: 9 times in 10 within; 1 mm where it is not said",
)
.also(&["within", "accuracy"]);
/// What all readings of a tube may be off by alike.
pub const LEVEL_ALIKE: Key = Key::optional(
    "zero",
    Kind::Length,
    Range::between(0.0, 0.05),
    "what all its readings may be off by alike, along the tube: 9 times in 10 within; nothing where it is not said, since both levels are read",
)
.also(&["offset"]);
/// What is in the tube.
pub const FLUID: Key = Key::open(
    "fluid",
    ValueShape::Word(&["water", "alcohol", "oil"]),
    "what is in it: water (default, 1000 kg/m3), alcohol (790), or light gauge oil (830)",
);
/// How far it is laid over.
pub const SLOPE: Key = Key::optional(
    "slope",
    Kind::Ratio,
    Range::between(1.0, 30.0),
    "length along the tube for each length upright: 10 for a leg laid over at 1:10; 1 upright, as where it is not said",
);
/// What a tube is read in.
pub const SHOWS_LENGTH: Key = Key::open(
    "shows",
    ValueShape::Word(&["mm", "in"]),
    "what its scale is in, along the tube: mm (default) or in",
);
/// A tube with a liquid in it.
pub const U_TUBE: Key = Key::open(
    "u_tube",
    ValueShape::Table(&[LEVEL, LEVEL_ALIKE, FLUID, SLOPE, SHOWS_LENGTH]),
    "a clear hose in a U with a liquid in it: { resolution, zero, fluid, slope, shows }",
)
.also(&["manometer_tube", "water_gauge"]);
/// How well a pressure is read.
pub const PRESSURE_WITHIN: Key = Key::optional(
    "resolution",
    Kind::Pressure,
    Range::above(0.0, 5000.0),
    "how well a difference is read, its drift with it: 9 times in 10 within; 5 Pa where it is not said",
)
.also(&["within", "accuracy"]);
/// What all readings of a meter may be off by alike.
pub const PRESSURE_ALIKE: Key = Key::optional(
    "zero",
    Kind::Pressure,
    Range::between(0.0, 5000.0),
    "what all its readings may be off by alike: 9 times in 10 within; nothing where it is not said: set to nought before each",
)
.also(&["offset"]);
/// By which share all readings of a meter may be too large.
pub const PRESSURE_SCALE: Key = Key::optional(
    "scale",
    Kind::Share,
    Range::between(0.0, 0.5),
    "share of itself that every reading may be too large or too small by alike, 9 times in 10 within; 2 % where it is not said",
);
/// What a pressure is shown in.
pub const SHOWS_PRESSURE: Key = Key::open(
    "shows",
    ValueShape::Word(&["Pa", "hPa", "mbar", "mmH2O", "inH2O"]),
    "unit that it shows: Pa (default), hPa, mbar, mmH2O, inH2O",
);
/// A meter for differences of pressure.
pub const MANOMETER: Key = Key::open(
    "manometer",
    ValueShape::Table(&[PRESSURE_WITHIN, PRESSURE_ALIKE, PRESSURE_SCALE, SHOWS_PRESSURE]),
    "a meter for small differences of pressure, with two ports: { resolution, zero, scale, shows }",
);
/// How well a temperature is read.
pub const TEMPERATURE_WITHIN: Key = Key::optional(
    "resolution",
    Kind::TemperatureDifference,
    Range::above(0.0, 50.0),
    "how well it reads, how it is fixed with it: 9 times in 10 within; 5 K where it is not said",
)
.also(&["within", "accuracy"]);
/// What all readings of a thermometer may be off by alike.
pub const TEMPERATURE_ALIKE: Key = Key::optional(
    "zero",
    Kind::TemperatureDifference,
    Range::between(0.0, 50.0),
    "what all its readings may be off by alike, 9 times in 10 within; 2.5 K where it is not said; ice water and boiling water tell",
)
.also(&["offset"]);
/// By which share all readings of a thermometer may be too large.
pub const TEMPERATURE_SCALE: Key = Key::optional(
    "scale",
    Kind::Share,
    Range::between(0.0, 0.5),
    "share of what it stands over 0 degC that every reading may be too large or too small by alike, 9 times in 10 within; none where it is not said",
);
/// What a temperature is shown in.
pub const SHOWS_TEMPERATURE: Key =
    Key::open("shows", ValueShape::Word(&["degC", "degF"]), "unit that it shows: degC (default) or degF");
/// A gauge on a part.
pub const GAUGE: Key = Key::open(
    "gauge",
    ValueShape::Table(&[TEMPERATURE_WITHIN, TEMPERATURE_ALIKE, TEMPERATURE_SCALE, SHOWS_TEMPERATURE]),
    "thermocouples or gauges where limits are measured: { resolution, zero, scale, shows }",
)
.also(&["thermocouple", "thermometer"]);
/// A thermometer for air.
pub const PROBE: Key = Key::open(
    "probe",
    ValueShape::Table(&[TEMPERATURE_WITHIN, TEMPERATURE_ALIKE, TEMPERATURE_SCALE, SHOWS_TEMPERATURE]),
    "a thermometer for air in a stream, out of sight of hot metal: { resolution, zero, scale, shows }",
);
/// From field to field of a strip.
pub const STEP_OF_STRIPS: Key = Key::optional(
    "step",
    Kind::TemperatureDifference,
    Range::above(0.0, 100.0),
    "from one field to the next; 10 K where it is not said",
);
/// Strips that turn once.
pub const STRIPS: Key = Key::open(
    "strips",
    ValueShape::Table(&[STEP_OF_STRIPS, SHOWS_TEMPERATURE]),
    "strips whose fields turn once and for all where it was hotter: { step, shows }",
);
pub const LOGGER: Key = Key::open(
    "logger",
    ValueShape::Flag,
    "true: what gauges, probe and manometer show is recorded, and nobody has to read it on the move",
);
/// `[instruments]`.
pub const INSTRUMENTS: &[Key] = &[U_TUBE, MANOMETER, GAUGE, PROBE, STRIPS, LOGGER];
