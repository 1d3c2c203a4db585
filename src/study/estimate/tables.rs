//! The table of what an estimate may be told, with the default, band and source of the rest.
//!
//! Keys that a case file has too are the case file's own; the others are shares and coefficients
//! that stand for what a case would measure.

use crate::case::tables::{self as case, ALTITUDE};
use crate::element::{exit, fan, fins};
use crate::engine::tables as engine;
use crate::keys::{Key, Kind, Need, Range};

/// Shaft power.
pub const POWER: Key = Key::required(
    "power",
    Kind::Power,
    Range::between(500.0, 500e3),
    "shaft power at full throttle, as made on the day; a claimed peak power will do",
);
/// Engine speed of the peak power.
pub const RPM: Key = Key::default(
    "rpm",
    Kind::RotationalSpeed,
    (5500.0, 4500.0, 6500.0),
    Range::between(500.0, 20_000.0),
    "small air-cooled four-strokes at peak power (from memory)",
    "engine speed of that power",
);
/// Brake mean effective pressure at peak power, instead of a displacement.
pub const BRAKE_PRESSURE: Key = Key::default(
    "brake_pressure",
    Kind::Pressure,
    (7.5e5, 6e5, 9e5),
    Range::between(1e5, 30e5),
    "unblown air-cooled four-strokes at peak power, 6 to 9 bar (from memory); not used where the displacement is given",
    "brake mean effective pressure at peak power, which stands for the displacement",
);
/// Swept volume.
pub const DISPLACEMENT: Key = Key::optional(
    "displacement",
    Kind::Volume,
    engine::DISPLACEMENT.range,
    "swept volume of all cylinders, instead of brake_pressure",
);
/// Air to fuel by mass.
pub const AIR_FUEL: Key = Key::default(
    "air_fuel",
    Kind::Ratio,
    (13.0, 12.0, 14.7),
    Range::between(8.0, 25.0),
    "petrol at full throttle, 12 to 14.7 by mass (common practice); not used where the displacement is given",
    "air breathed over fuel burnt, by mass",
);

/// Heads, barrels and oil together.
pub const HEAT_SHARE: Key = Key::default(
    "heat_share",
    Kind::Share,
    (0.20, 0.14, 0.30),
    Range::between(0.02, 0.6),
    "of air-cooled engines: fins 12 and oil 8 % of the fuel's heat (printed in a textbook's heat balance, weak); fins and oil 0.5 to 1.3 times the brake power (common practice)",
    "heat to heads, barrels and oil together, as a share of the fuel's heat at full power",
);
pub const OIL_PART: Key = Key::default(
    "oil_part",
    Kind::Share,
    (0.30, 0.20, 0.40),
    Range::between(0.0, 0.9),
    "20 to 40 % of the heat to fins and oil (common practice)",
    "the oil's part of heat_share",
);
/// The heads' part of what the fins get.
pub const HEADS_PART: Key = Key::default(
    "heads_part",
    Kind::Share,
    (0.60, 0.50, 0.70),
    Range::between(0.05, 0.95),
    "the heads hold the exhaust ports and get the larger part of the fins' heat (common practice)",
    "the heads' part of the heat to heads and barrels; the barrels get what is left",
);
/// Pipes and casings.
pub const REST_SHARE: Key = Key::default(
    "rest_share",
    Kind::Share,
    (0.025, 0.01, 0.05),
    Range::between(0.0, 0.3),
    "exhaust pipes and casings in a closed bay, 1 to 5 % of the fuel's heat (common practice)",
    "heat of pipes and casings to the bay's air, as a share of the fuel's heat at full power",
);

pub const HEADS_LIMIT: Key = Key::default(
    "heads_limit",
    Kind::Temperature,
    (468.15, 458.15, 477.15),
    Range::between(323.15, 700.0),
    "at the plug washer 177 to 190 degC is usual, 204 degC the alarm (common practice)",
    "highest temperature of the heads, where it is measured",
);
pub const BARRELS_LIMIT: Key = Key::default(
    "barrels_limit",
    Kind::Temperature,
    (453.15, 438.15, 468.15),
    Range::between(323.15, 700.0),
    "at the fin root 165 to 195 degC (from memory)",
    "highest temperature of the barrels at the fin root",
);
pub const OIL_LIMIT: Key = Key::default(
    "oil_limit",
    Kind::Temperature,
    (385.15, 378.15, 393.15),
    Range::between(313.15, 500.0),
    "limit 105 to 120 degC, briefly 130 to 140 (common practice)",
    "highest temperature of the oil into its cooler",
);
/// Worst cylinder over the mean.
pub const HOTTEST_ABOVE_MEAN: Key =
    Key { need: Need::Default(case::HOTTEST_OF_FINS), ..case::HOTTEST_ABOVE_MEAN };
/// What of the oil's heat goes with friction.
pub const FROM_FRICTION: Key = Key { need: Need::Default(case::FRICTION_OF_OIL), ..case::FROM_FRICTION };
/// How far the heads' air warms towards them.
pub const HEADS_EFFECTIVENESS: Key = Key::default(
    "heads_effectiveness",
    Kind::Ratio,
    (0.40, 0.28, 0.52),
    Range::between(0.02, 0.95),
    "baffled fins whose conductance is 0.33 to 0.73 of the air's heat capacity flow (common practice)",
    "warming of the air over the heads' fins, as a share of head less incoming air",
);
/// How far the barrels' air warms towards them.
pub const BARRELS_EFFECTIVENESS: Key = Key::default(
    "barrels_effectiveness",
    Kind::Ratio,
    (0.33, 0.22, 0.45),
    Range::between(0.02, 0.95),
    "baffled fins whose conductance is 0.25 to 0.6 of the air's heat capacity flow (common practice)",
    "warming of the air over the barrels' fins, as a share of barrel less incoming air",
);
/// How far the cooler's air warms towards the oil.
pub const OIL_EFFECTIVENESS: Key = Key::default(
    "oil_effectiveness",
    Kind::Ratio,
    (0.48, 0.35, 0.62),
    Range::between(0.02, 0.95),
    "small oil coolers, 0.35 to 0.62 (common practice)",
    "warming of the air through the oil cooler, as a share of oil less incoming air",
);
/// One rise for all.
pub const RISE: Key = Key::optional(
    "rise",
    Kind::TemperatureDifference,
    Range::between(1.0, 300.0),
    "how much the air warms over heads, barrels and cooler alike; instead of limits and effectiveness",
);

pub const AIR_TEMPERATURE: Key = Key::default(
    "air_temperature",
    Kind::Temperature,
    (303.15, 303.15, 303.15),
    crate::case::tables::TEMPERATURE.range,
    "a hot day: openings are made for one",
    "temperature of the air over the track",
);
/// The slow corner.
pub const SLOW: Key = Key::default(
    "slow",
    Kind::Speed,
    (40.0 / 3.6, 40.0 / 3.6, 40.0 / 3.6),
    Range::between(5.0 / 3.6, 150.0),
    "hairpins 30 to 45 km/h, slow corners of circuits 50 to 80 (common practice)",
    "road speed in the slowest corner",
);
/// The straight.
pub const FAST: Key = Key::default(
    "fast",
    Kind::Speed,
    (140.0 / 3.6, 140.0 / 3.6, 140.0 / 3.6),
    Range::between(5.0 / 3.6, 150.0),
    "a short straight",
    "road speed at full power",
);
/// Load in the slow corner.
pub const SLOW_LOAD: Key = Key::default(
    "slow_load",
    Kind::Share,
    (0.35, 0.20, 0.60),
    Range::between(0.0, 1.0),
    "braking, rolling and pulling out, averaged (common practice)",
    "brake power in the slow corner over full throttle at that engine speed",
);
/// Engine speed in the slow corner.
pub const SLOW_REVS: Key = Key::default(
    "slow_revs",
    Kind::Share,
    (0.75, 0.50, 0.95),
    Range::between(0.1, 1.1),
    "first or second gear (common practice)",
    "engine speed in the slow corner over that of peak power",
);

/// What of the ram arrives.
pub const RECOVERY: Key = Key::default(
    "recovery",
    Kind::Ratio,
    (0.85, 0.65, 0.95),
    Range::between(0.05, 1.05),
    "1 head-on in the stream, 0.7 to 0.95 on a flank, less in the skin's slow air (from memory)",
    "total pressure at the inlets over the free stream's, the skin's slow air included",
);
/// Speed in an inlet over the road speed.
pub const VELOCITY_RATIO: Key = Key::default(
    "velocity_ratio",
    Kind::Ratio,
    (0.6, 0.4, 0.9),
    Range::between(0.1, 3.0),
    "below 0.3 an inlet spills, above 1 its lip costs pressure (common practice)",
    "speed of the air in an inlet over the road speed, on ram alone",
);
/// What fins, core and ducts take.
pub const THROUGH_SHARE: Key = Key::default(
    "through_share",
    Kind::Share,
    (0.50, 0.35, 0.65),
    Range::between(0.05, 0.95),
    "a first cut: half for fins, core and ducts, half for the exit (common practice)",
    "share of the pressure that fins, core and ducts take; the exit gets what is left",
);
/// Surface pressure at the exits.
pub const EXIT_PRESSURE: Key = Key::default(
    "exit_pressure",
    Kind::Ratio,
    (-0.12, -0.25, 0.0),
    Range::between(-2.0, 0.6),
    "base and tail of a car, -0.10 to -0.25 (from memory); 0 where nothing sucks",
    "pressure coefficient of the surface at the exits",
);
/// Speed in the inlet of a fan.
pub const FAN_INLET_SPEED: Key = Key::default(
    "fan_inlet_speed",
    Kind::Speed,
    (12.0, 8.0, 20.0),
    Range::between(1.0, 60.0),
    "30 to 70 km/h, that is 8 to 20 m/s: keeps the entry loss to a tenth of a fan's pressure (common practice)",
    "speed of the air in the inlet of a fan where the ram does not make it faster",
);
/// Pressure of a fan on the engine.
pub const DRIVEN_FAN: Key = Key::default(
    "driven_fan_pressure",
    Kind::Pressure,
    (700.0, 400.0, 1200.0),
    Range::between(20.0, 5000.0),
    "blowers on the crankshaft or a belt, 400 to 1200 Pa at the flow they are made for (from memory)",
    "rise of total pressure over an engine-driven fan at the engine speed of peak power, air of 1.2 kg/m3",
);
/// Pressure of an electric fan.
pub const ELECTRIC_FAN: Key = Key::default(
    "electric_fan_pressure",
    Kind::Pressure,
    (200.0, 100.0, 350.0),
    Range::between(20.0, 2000.0),
    "flat electric axial fans, 100 to 350 Pa at the flow they are made for (from memory)",
    "rise of total pressure over an electric fan at its flow, air of 1.2 kg/m3",
);
pub const FAN_EFFICIENCY: Key = fan::EFFICIENCY.named("fan_efficiency");
/// Suction behind an open engine.
pub const OPEN_PRESSURE: Key = Key::default(
    "open_pressure",
    Kind::Ratio,
    (-0.4, -0.6, -0.2),
    Range::between(-2.0, 0.5),
    "in the lee of a bluff body, -0.2 to -0.6 (from memory)",
    "pressure coefficient behind the fins of an engine in an open frame",
);

/// Everything an estimate may be told.
pub const KEYS: &[Key] = &[
    POWER,
    RPM,
    DISPLACEMENT,
    BRAKE_PRESSURE,
    engine::STROKES,
    engine::BRAKE_EFFICIENCY,
    engine::VOLUMETRIC_EFFICIENCY,
    engine::FRICTION_PRESSURE,
    engine::HEAT_EXPONENT,
    AIR_FUEL,
    HEAT_SHARE,
    OIL_PART,
    HEADS_PART,
    REST_SHARE,
    FROM_FRICTION,
    HEADS_LIMIT,
    BARRELS_LIMIT,
    OIL_LIMIT,
    HOTTEST_ABOVE_MEAN,
    HEADS_EFFECTIVENESS,
    BARRELS_EFFECTIVENESS,
    OIL_EFFECTIVENESS,
    RISE,
    AIR_TEMPERATURE,
    ALTITUDE,
    SLOW,
    FAST,
    SLOW_LOAD,
    SLOW_REVS,
    RECOVERY,
    VELOCITY_RATIO,
    THROUGH_SHARE,
    EXIT_PRESSURE,
    exit::DISCHARGE,
    FAN_INLET_SPEED,
    DRIVEN_FAN,
    ELECTRIC_FAN,
    FAN_EFFICIENCY,
    OPEN_PRESSURE,
    fins::PRESSURE_EXPONENT,
];

/// Keys that are not used where another one is given.
pub(super) const REPLACED: &[(&str, &str)] = &[
    ("brake_pressure", "displacement"),
    ("air_fuel", "displacement"),
    ("heads_limit", "rise"),
    ("barrels_limit", "rise"),
    ("oil_limit", "rise"),
    ("hottest_above_mean", "rise"),
    ("heads_effectiveness", "rise"),
    ("barrels_effectiveness", "rise"),
    ("oil_effectiveness", "rise"),
];
