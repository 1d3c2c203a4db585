//! The tables of keys of the engine and of the drive.

use crate::keys::{Key, Kind, Range, ReferenceTarget, Rule, RuleWords, Usual, ValueShape};

/// Rolling radius of the driven tyre.
pub const TYRE_RADIUS: Key = Key::required(
    "tyre_radius",
    Kind::Length,
    Range::between(0.05, 2.0),
    "rolling radius of the driven tyre; roll the car one turn and divide by 2π",
)
.also(&["tyre", "wheel_radius"]);
/// Final drive ratio.
pub const FINAL_DRIVE: Key = Key::required(
    "final_drive",
    Kind::Ratio,
    Range::above(0.0, 50.0),
    "turns of the gearbox's output for one of the wheel",
)
.also(&["diff"]);
/// Gear ratios.
pub const GEARS: Key = Key::must("gears", ValueShape::Numbers(Kind::Ratio), "gear ratios, first gear first")
    .within(Range::above(0.0, 50.0))
    .also(&["ratios"]);
/// Lowest usable engine speed.
pub const LOWEST: Key = Key::optional(
    "lowest",
    Kind::RotationalSpeed,
    Range::NOT_NEGATIVE,
    "lowest engine speed used, for sweeps",
);
/// Highest usable engine speed.
pub const HIGHEST: Key =
    Key::optional("highest", Kind::RotationalSpeed, Range::POSITIVE, "highest engine speed used, for sweeps")
        .also(&["redline"]);

pub const CAR_MASS: Key = Key::required("mass", Kind::Mass, Range::POSITIVE, "mass of the car with driver");
/// Drag area of the car.
pub const DRAG_AREA: Key = Key::default(
    "drag_area",
    Kind::Area,
    (0.55, 0.3, 1.0),
    Range::above(0.0, 4.0),
    "a small open car: 0.3 to 1.0 m² (common practice)",
    "drag coefficient times frontal area; coast down from speed on a still day",
);
pub const ROLLING_RESISTANCE: Key = Key::default(
    "rolling_resistance",
    Kind::Ratio,
    (0.015, 0.01, 0.025),
    Range::between(0.0, 0.1),
    "car tyres on asphalt (common practice)",
    "rolling drag over weight; a spring balance and a level road",
);
pub const DRIVELINE_EFFICIENCY: Key = Key::default(
    "efficiency",
    Kind::Share,
    (0.92, 0.85, 0.97),
    Range::between(0.5, 1.0),
    "gearbox and final drive or chain (common practice)",
    "power at the wheels over that of the engine; rolling road against engine dynamometer",
);
/// The car that the engine moves.
pub const CAR: Key = Key::open(
    "car",
    ValueShape::Table(&[CAR_MASS, DRAG_AREA, ROLLING_RESISTANCE, DRIVELINE_EFFICIENCY]),
    "the car, so that the load of legs and recorded runs is found from how it speeds up: { mass, drag_area }",
);

/// `[drive]`: road speed to engine speed.
pub const DRIVE: &[Key] = &[TYRE_RADIUS, FINAL_DRIVE, GEARS, LOWEST, HIGHEST, CAR];

/// Swept volume.
pub const DISPLACEMENT: Key =
    Key::required("displacement", Kind::Volume, Range::between(1e-6, 0.05), "swept volume of all cylinders")
        .also(&["cc", "capacity"]);
/// Strokes of a working cycle.
pub const STROKES: Key = Key::default(
    "strokes",
    Kind::Count,
    (4.0, 4.0, 4.0),
    Range::between(2.0, 4.0),
    "a four-stroke, unless said otherwise",
    "2 or 4",
);
/// How power is given.
pub const GIVE_POWER: &str =
    r#"give power = [["2000 rpm", "12 kW"], ["5500 rpm", "35 kW"]], or peak_power and peak_power_at"#;
/// Full-throttle power curve.
pub const POWER: Key = Key::open(
    "power",
    ValueShape::Pairs(Kind::RotationalSpeed, Kind::Power),
    "full-throttle power at the flywheel against engine speed; or peak_power and peak_power_at",
)
.within(Range::between(0.0, 1e7))
.rules(&[
    Rule::OneOf(&["power", "peak_power"]),
    Rule::Told(
        &Rule::AtLeastOne(&["power", "peak_power"]),
        &RuleWords::new("power-missing", "the engine has neither power nor peak_power", GIVE_POWER),
    ),
    Rule::Instead(&[&["power"], &["peak_power", "peak_power_at"]]),
]);
pub const PEAK_POWER: Key = Key::optional(
    "peak_power",
    Kind::Power,
    Range::above(0.0, 1e7),
    "claimed peak power at the flywheel, instead of power",
)
.also(&["hp", "kw"]);
/// Its engine speed.
pub const PEAK_POWER_AT: Key = Key::optional(
    "peak_power_at",
    Kind::RotationalSpeed,
    Range::above(0.0, 30_000.0),
    "engine speed of the peak",
)
.rules(&[Rule::OneOf(&["power", "peak_power_at"]), Rule::Told(
    &Rule::Together(&["peak_power", "peak_power_at"]),
    &RuleWords::new(
        "peak-power-incomplete",
        "{given} stands without {other}",
        r#"give the peak and its engine speed, for example peak_power = "35 kW" and peak_power_at = "5500 rpm""#,
    ),
)]);
/// Air to which the power refers.
pub const POWER_BASIS: Key = Key::open(
    "power_basis",
    ValueShape::Word(&["standard", "as-measured"]),
    "air of the power: that of ISO 1585 (default), or as measured that day",
);
/// Brake efficiency at full throttle.
pub const BRAKE_EFFICIENCY: Key = Key::default(
    "brake_efficiency",
    Kind::Share,
    (0.25, 0.22, 0.28),
    Range::between(0.05, 0.5),
    "spark-ignition engines at full power, 25 to 28 % of the fuel's heat (Heywood, Internal Combustion Engine Fundamentals, table 12.1; from memory)",
    "brake power over the fuel's heat, at full throttle; fuel weighed over a run on the dynamometer at full power",
)
.also(&["efficiency"])
.rules(&[Rule::ReplacedBy(&["fuel_consumption"]), Rule::OneOf(&["brake_efficiency", "fuel_consumption"]), Rule::Instead(&[&["brake_efficiency"], &["fuel_consumption"]])]);
/// Specific fuel consumption at full throttle.
pub const FUEL_CONSUMPTION: Key = Key::optional(
    "fuel_consumption",
    Kind::FuelConsumption,
    Range::above(0.0, 1e-6),
    "fuel per work at full throttle, instead of brake_efficiency; 43 MJ/kg is taken",
)
.also(&["bsfc"]);
pub const VOLUMETRIC_EFFICIENCY: Key = Key::default(
    "volumetric_efficiency",
    Kind::Share,
    (0.85, 0.75, 0.95),
    Range::between(0.2, 1.5),
    "naturally aspirated engines at full throttle, 75 to 95 % (common practice)",
    "air drawn over swept volume at the intake's density; fuel burnt times air/fuel, or an orifice on a box before the intake",
);
/// Mean effective friction pressure.
pub const FRICTION_PRESSURE: Key = Key::default(
    "friction_pressure",
    Kind::Pressure,
    (1.2e5, 0.9e5, 1.7e5),
    Range::between(0.0, 1e6),
    "small engines at medium speed, 0.9 to 1.7 bar with pumping (common practice)",
    "mean effective pressure of friction and pumping; the dynamometer motoring the warm engine",
);
/// Exponent of heat with the fuel's heat.
pub const HEAT_EXPONENT: Key = Key::default(
    "heat_exponent",
    Kind::Ratio,
    (0.75, 0.55, 0.95),
    Range::between(0.5, 1.0),
    "gas-side heat transfer goes with the charge flow to the power 0.75: Taylor & Toong (1957) (from memory); flight tests at constant speed and fuel consumption ask for 0.55 to 0.66: Schey & Pinkel, NACA (1936)",
    "exponent of the fuel's heat in the heat to a part; steady temperatures at two loads with the same air",
);
/// What the heat shares are shares of.
pub const HEAT_SHARES_OF: Key = Key::open(
    "heat_shares_of",
    ValueShape::Word(&["fuel", "brake power"]),
    "what the shares are shares of: the fuel's heat (default) or the brake power",
);
/// Heat shares at rated power.
pub const HEAT: Key = Key::must(
    "heat",
    ValueShape::Map(Kind::Share, ReferenceTarget::PartOrChamber),
    "shares of heat at rated power, by part or chamber; what is left leaves in the exhaust",
)
.within(Range::between(0.0, 5.0))
.or_word(&[
    Usual::new("fins", (0.14, 0.10, 0.26), "all fins of an air-cooled engine: 12 % in a textbook's heat balance, weak; fins and oil 0.5 to 1.3 times the brake power (common practice)"),
    Usual::new("heads", (0.084, 0.05, 0.16), "the heads hold the exhaust ports and get 50 to 70 % of the fins' heat (common practice)"),
    Usual::new("barrels", (0.056, 0.03, 0.11), "the barrels get 30 to 50 % of the fins' heat (common practice)"),
    Usual::new("oil", (0.06, 0.03, 0.10), "20 to 40 % of the heat to fins and oil; 8 % in a textbook's heat balance, weak (common practice)"),
    Usual::new("pipes", (0.025, 0.01, 0.05), "exhaust pipes and casings in a closed bay (common practice)"),
]);

/// `[engine]`.
pub const ENGINE: &[Key] = &[
    DISPLACEMENT,
    STROKES,
    POWER,
    PEAK_POWER,
    PEAK_POWER_AT,
    POWER_BASIS,
    BRAKE_EFFICIENCY,
    FUEL_CONSUMPTION,
    VOLUMETRIC_EFFICIENCY,
    FRICTION_PRESSURE,
    HEAT_EXPONENT,
    HEAT_SHARES_OF,
    HEAT,
];
