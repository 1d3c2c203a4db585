//! The table of keys of a part.

use crate::keys::{Assumed, Key, Kind, Range, ReferenceTarget, Rule, RuleWords, Usual, ValueShape};

/// Limit of a part.
pub const LIMIT: Key = Key::optional(
    "limit",
    Kind::Temperature,
    Range::between(273.15, 1000.0),
    "highest temperature allowed, where it is measured; left out: a store of heat without a margin, as exhaust pipes, which then needs share_at",
)
.also(&["max", "max_temperature"]);
/// What belongs to a limit, without one.
const LIMIT_MISSING: RuleWords = RuleWords::new(
    "limit-missing",
    "{table} has {given} and no limit to go with it",
    "give limit too; without one the part is a store of heat alone, of which nothing is asked",
);
/// Lower limit of a part.
pub const LEAST: Key = Key::optional(
    "least",
    Kind::Temperature,
    Range::between(233.15, 1000.0),
    "lowest temperature wanted when warm",
)
.rules(&[Rule::Told(&Rule::Needs("least", &["limit"]), &LIMIT_MISSING)]);
/// Where the limit is measured.
pub const MEASURED_AT: Key = Key::open(
    "measured_at",
    ValueShape::Text,
    "where the limit is measured; plug washer, fin root and exhaust side differ by 30 to 60 K",
)
.rules(&[Rule::Told(&Rule::Needs("measured_at", &["limit"]), &LIMIT_MISSING)]);
/// Hottest spot over the mean.
pub const HOTTEST_ABOVE_MEAN: Key = Key::default(
    "hottest_above_mean",
    Kind::TemperatureDifference,
    (0.0, 0.0, 0.0),
    Range::between(0.0, 200.0),
    "one temperature all over, as of oil",
    "how much the worst cylinder stands above the mean; a thermocouple under every plug",
)
.where_cooled_by(&[(crate::element::fins::KIND.name, HOTTEST_OF_FINS)])
.rules(&[
    Rule::OnlyWith("limit"),
    Rule::Told(&Rule::Needs("hottest_above_mean", &["limit"]), &LIMIT_MISSING),
]);
/// The same of a part that fins cool.
pub const HOTTEST_OF_FINS: Assumed = Assumed {
    value: 15.0,
    low: 5.0,
    high: 30.0,
    source: "the hottest cylinder of an air-cooled engine stands 5 to 30 K above the mean (common practice)",
};
/// Share of a part's heat that goes with friction.
pub const FROM_FRICTION: Key = Key::default(
    "from_friction",
    Kind::Share,
    (0.0, 0.0, 0.0),
    Range::between(0.0, 1.0),
    "all of its heat comes from the charge, as of heads and barrels",
    "share of its heat that goes with the engine's friction, so with its speed alone: oil stays warm at part load; steady oil temperature at one engine speed and two loads",
)
.where_cooled_by(&[(crate::element::core::KIND.name, FRICTION_OF_OIL)]);
/// The same of oil that a core cools.
pub const FRICTION_OF_OIL: Assumed = Assumed {
    value: 0.5,
    low: 0.3,
    high: 0.75,
    source: "two water-cooled car engines gave their oil about 70 % by friction (an engine maker's experimental reports of 1927 and 1934, one page of each read); hot crankcases and heads give that of an air-cooled engine more by conduction (from memory)",
};
pub const HEAT_CAPACITY: Key = Key::optional(
    "heat_capacity",
    Kind::HeatCapacity,
    Range::POSITIVE,
    "heat to warm it by one kelvin, for runs in time; or mass and material",
)
.rules(&[
    Rule::OneOf(&["heat_capacity", "mass"]),
    Rule::Instead(&[&["heat_capacity"], &["mass", "material"]]),
]);
pub const MASS: Key =
    Key::optional("mass", Kind::Mass, Range::POSITIVE, "its mass, with material, instead of heat_capacity")
        .rules(&[Rule::Told(
            &Rule::Together(&["mass", "material"]),
            &RuleWords::new(
                "mass-and-material",
                "{table} has a {given} without its {other}",
                r#"give both, as in mass = "14 kg", material = "aluminium"; or heat_capacity alone"#,
            ),
        )]);
/// Materials that a part may be made of, with their specific heats (J/(kg K)) (handbook values, from memory).
pub const MATERIALS: [(&str, f64); 5] =
    [("aluminium", 900.0), ("cast iron", 500.0), ("steel", 480.0), ("magnesium", 1020.0), ("oil", 2100.0)];
const MATERIAL_NAMES: [&str; MATERIALS.len()] = {
    let (mut names, mut index) = ([""; MATERIALS.len()], 0);
    while index < MATERIALS.len() {
        names[index] = MATERIALS[index].0;
        index += 1;
    }
    names
};
pub const MATERIAL: Key = Key::open("material", ValueShape::Word(&MATERIAL_NAMES), "what it is made of");
/// Conductance to the chamber's air.
pub const BAY_CONDUCTANCE: Key = Key::default(
    "bay_conductance",
    Kind::ThermalConductance,
    (0.0, 0.0, 10.0),
    Range::between(0.0, 1000.0),
    "no heat to the bay's air, on the safe side; some W/K are usual (common practice)",
    "heat per kelvin to the air of its chamber, duct or no duct; how fast it cools with its own air shut off, times its heat capacity",
);
/// Surface of a part in still air.
pub const SURFACE: Key = Key::optional(
    "surface",
    Kind::Area,
    Range::above(0.0, 20.0),
    "hot surface towards its chamber, fins counted once as an envelope: it radiates, and still air takes heat from it",
);
/// What is said of a surface, without one.
const SURFACE_MISSING: RuleWords = RuleWords::new(
    "surface-missing",
    "{table} has {given} and no surface, to which that belongs",
    r#"give surface too, as in surface = "0.2 m2""#,
);
pub const SURFACE_HEIGHT: Key = Key::optional(
    "surface_height",
    Kind::Length,
    Range::above(0.0, 2.0),
    "height of that surface; default the side of a square of its area",
)
.rules(&[Rule::Told(&Rule::Needs("surface_height", &["surface"]), &SURFACE_MISSING)]);
/// Emissivity of that surface.
pub const EMISSIVITY: Key = Key::default(
    "emissivity",
    Kind::Ratio,
    (0.8, 0.2, 0.95),
    Range::between(0.0, 1.0),
    "oxidised or painted metal; bright aluminium and new stainless steel 0.1 to 0.3 (handbook values, from memory)",
    "share of a black body's radiation that its surface gives; an infrared thermometer beside a thermocouple on it",
)
.rules(&[Rule::OnlyWith("surface"), Rule::Told(&Rule::Needs("emissivity", &["surface"]), &SURFACE_MISSING)]);
/// Chamber of a part.
pub const CHAMBER: Key = Key::open(
    "chamber",
    ValueShape::Name(ReferenceTarget::ChamberOrOutside),
    "the chamber it stands in; default the first named in the file",
);
/// Effective temperature of the source.
pub const SOURCE_TEMPERATURE: Key = Key::default(
    "source_temperature",
    Kind::Temperature,
    (873.15, 553.15, 1073.15),
    Range::between(373.15, 1500.0),
    "effective gas temperature, heads about 620 degC, barrels 315 degC: Pinkel, NACA TR 612 (1938) (from memory)",
    "effective temperature of the gas or surface that heats it; heat taken at two part temperatures with the same power, drawn on to no heat",
)
.or_word(&[
    Usual::new("head", (893.15, 773.15, 973.15), "effective gas temperature of cylinder heads, about 620 degC: Pinkel, NACA TR 612 (1938) (from memory)"),
    Usual::new("barrel", (588.15, 533.15, 693.15), "effective gas temperature of cylinder barrels, about 315 degC: Pinkel, NACA TR 612 (1938) (from memory)"),
]);
/// Temperature at which the share holds.
pub const SHARE_AT: Key = Key::optional(
    "share_at",
    Kind::Temperature,
    Range::between(273.15, 1300.0),
    "part temperature at which its heat share holds; default its working limit, must be given without one",
)
.rules(&[Rule::Told(
    &Rule::AtLeastOne(&["limit", "share_at"]),
    &RuleWords::new(
        "key-missing",
        "{table} has neither limit nor share_at",
        "give limit, the highest temperature allowed where it is measured. A store of heat that nothing limits, as exhaust pipes, has share_at in its place: the temperature at which its share of heat holds",
    ),
)]);
/// `[part.NAME]`.
pub const PART: &[Key] = &[
    LIMIT,
    LEAST,
    MEASURED_AT,
    HOTTEST_ABOVE_MEAN,
    FROM_FRICTION,
    HEAT_CAPACITY,
    MASS,
    MATERIAL,
    BAY_CONDUCTANCE,
    SURFACE,
    SURFACE_HEIGHT,
    EMISSIVITY,
    CHAMBER,
    SOURCE_TEMPERATURE,
    SHARE_AT,
];
