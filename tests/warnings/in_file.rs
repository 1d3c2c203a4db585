//! Warnings that show in the file alone.

use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Probe, Seen, texts};

const GEARBOX: &str = r#"
[part.gearbox]
limit = "110 degC"
measured_at = "drain plug"
bay_conductance = "2 W/K"
"#;

const COOLER: &str = r#"{ kind = "core", part = "oil", area = "240 cm2", reference_flow = "0.2 kg/s", conductance = "95 W/K", pressure_drop = "220 Pa", oil_flow = "12 L/min" }"#;
const FINNED_SUMP: &str = r#"{ kind = "fins", part = "oil", area = "240 cm2", reference_flow = "0.2 kg/s", conductance = "95 W/K", pressure_drop = "220 Pa" }"#;

const STOP: &str = r#"
[[condition]]
name = "pits"
speed = "0 km/h"
rpm = "0 rpm"

[[stint]]
name = "home"
start = "80 degC"
step = [{ condition = "straight", time = "30 s" }, { condition = "pits", time = "600 s" }]
"#;
const PIPES: &str = r#"
[part.pipes]
share_at = "300 degC"
mass = "4 kg"
material = "steel"
surface = "0.3 m2"
"#;

pub const PROBES: &[Probe] = &[
    Probe {
        code: "stop-without-pipes",
        place: "engine/heat/bay",
        raised_by: &[Add(STOP)],
        // 1 % of the fuel's heat at full load and the speed of the straight
        figures: |seen| {
            let factor = seen.model.engine.air_factor(&slowcorner::point::model::day(&seen.case, None));
            let straight = seen.conditions.iter().find(|c| c.name == "straight").expect("the straight");
            let heat = 0.01 * seen.model.engine.running(straight.rpm, 1.0, factor).heat_of_share;
            vec!["home".to_string(), format!("{heat:.0} W that went to bay"), "4 kg of steel".to_string()]
        },
        advice: "write the pipes as a part without limit",
        not_by: &[Add(STOP), Add(PIPES)],
    },
    Probe {
        code: "oil-without-friction-share",
        place: "part/oil/from_friction",
        raised_by: &[Replace(COOLER, FINNED_SUMP)],
        // 5 % of 24.6 kW/(0.26 α), half of it
        figures: |seen| {
            let air = slowcorner::point::model::day(&seen.case, None);
            let heat = 0.05 * 24.6 / 0.26 / seen.model.engine.air_factor(&air);
            vec![
                format!("{heat:.1} kW"),
                format!("half of it {:.1} kW", 0.5 * heat),
                "30 to 75 %".to_string(),
            ]
        },
        advice: "write from_friction",
        not_by: &[Replace(COOLER, FINNED_SUMP), Set("part/oil/from_friction", "40 %")],
    },
    Probe {
        code: "friction-heat-unusual",
        place: "part/oil/from_friction",
        raised_by: &[Set("part/oil/from_friction", "100 %")],
        // 1.2 bar × 740 cm3 × 5500/120 a second = 4.07 kW
        figures: |_| texts(["100 %", "4.1 kW"]),
        advice: "check friction_pressure",
        not_by: &[Set("part/oil/from_friction", "80 %")],
    },
    Probe {
        code: "recovery-assumed",
        place: "passage/carburettor/ram-inlet/recovery",
        raised_by: &[Replace(r#"area = "12 cm2", recovery = 0.9"#, r#"area = "12 cm2""#)],
        figures: |_| texts(["1.00"]),
        advice: "pitot tube",
        not_by: &[Set("passage/carburettor/ram-inlet/recovery", "1.0")],
    },
    Probe {
        code: "flush-recovery-from-place",
        place: "passage/carburettor/flush-inlet",
        raised_by: &[Replace(
            r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
            r#""flush-inlet", width = "70 mm", height = "20 mm", place = "flank""#,
        )],
        figures: |_| texts(["0.85 of place/flank/recovery"]),
        advice: "take it out of the place",
        // its own number is its own affair
        not_by: &[Replace(
            r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
            r#""flush-inlet", width = "70 mm", height = "20 mm", place = "flank", recovery = 0.85"#,
        )],
    },
    Probe {
        code: "inlet-in-suction",
        place: "passage/carburettor/wall-inlet/pressure_coefficient",
        raised_by: &[Replace(
            r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
            r#""wall-inlet", area = "12 cm2", pressure_coefficient = -0.2"#,
        )],
        figures: |_| texts(["-0.20"]),
        advice: "check the sign",
        not_by: &[Replace(
            r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
            r#""wall-inlet", area = "12 cm2", pressure_coefficient = 0.1"#,
        )],
    },
    Probe {
        code: "chamber-names-alike",
        place: "chamber/bey",
        raised_by: &[Add(r#"
[[passage]]
name = "slot"
from = "outside"
to = "bey"
element = [{ kind = "leak", area = "4 cm2" }]
[[passage]]
name = "seam of the box"
from = "bey"
to = "outside"
element = [{ kind = "leak", area = "4 cm2" }]
"#)],
        figures: |_| texts(["2 passages", "3 passages", "\"bay\""]),
        advice: "rename one",
        not_by: &[Add(r#"
[[passage]]
name = "slot"
from = "outside"
to = "bay 2"
element = [{ kind = "leak", area = "4 cm2" }]
[[passage]]
name = "seam of the box"
from = "bay 2"
to = "outside"
element = [{ kind = "leak", area = "4 cm2" }]
"#)],
    },
    Probe {
        code: "bay-conductance-missing",
        place: "part/heads/bay_conductance",
        raised_by: &[Replace("bay_conductance = \"2 W/K\"\n", "")],
        figures: |_| texts(["0 W/K"]),
        advice: "some W/K",
        not_by: &[Set("part/heads/bay_conductance", "0 W/K")],
    },
    Probe {
        code: "part-without-air",
        place: "part/gearbox",
        raised_by: &[Add(GEARBOX), Replace("bay = \"1 %\"", "bay = \"1 %\"\ngearbox = \"2 %\"")],
        // 2 W/K over 110 − 24 K; 2 % of 24.6 kW/(0.26 α)
        figures: |seen| {
            let heat = 0.02 * 24.6 / 0.26 / seen.condition("straight").air_factor;
            vec!["172 W".to_string(), format!("{heat:.1} kW"), "110 °C".to_string()]
        },
        advice: "name it by part",
        not_by: &[
            Add(GEARBOX),
            Replace("bay = \"1 %\"", "bay = \"1 %\"\ngearbox = \"2 %\""),
            Set("part/gearbox/bay_conductance", "40 W/K"),
        ],
    },
    Probe {
        code: "part-without-heat",
        place: "part/oil",
        raised_by: &[Replace("oil = \"5 %\"\n", "")],
        figures: |_| texts(["0 W", "1 element"]),
        advice: "[engine.heat]",
        not_by: &[Set("engine/heat/oil", "3 %")],
    },
    Probe {
        code: "part-unused",
        place: "part/gearbox",
        raised_by: &[Add(GEARBOX)],
        figures: |_| texts(["0 W"]),
        advice: "take the part out",
        not_by: &[Add(GEARBOX), Replace("bay = \"1 %\"", "bay = \"1 %\"\ngearbox = \"2 %\"")],
    },
    Probe {
        code: "place-unused",
        place: "place/roof",
        raised_by: &[Add("\n[place.roof]\npressure_coefficient = -0.3\n")],
        figures: |_| texts(["16 elements"]),
        advice: "take it out",
        not_by: &[Add(r#"
[place.roof]
pressure_coefficient = -0.3
[[layout]]
name = "exits on the roof"
remove = ["seams"]
[[layout.passage]]
name = "roof exit"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "90 cm2", place = "roof" }]
"#)],
    },
    Probe {
        code: "limit-measured-where",
        place: "part/oil/measured_at",
        raised_by: &[Replace("measured_at = \"sump\"\n", "")],
        figures: |_| texts(["oil (125 °C)", "30 to 60 K"]),
        advice: "same spot",
        not_by: &[Replace("measured_at = \"sump\"", "measured_at = \"before the cooler\"")],
    },
    Probe {
        code: "pressure-above-sea-level",
        place: "day/pressure",
        raised_by: &[Set("day/pressure", "1024 hPa")],
        // ISO 2533: 1013.25 hPa at 0 m, 966.11 hPa at 400 m
        figures: |_| texts(["1024 hPa", "1013 hPa", "966 hPa"]),
        advice: "altitude",
        not_by: &[Set("day/pressure", "1012 hPa")],
    },
    Probe {
        code: "power-correction-beyond-range",
        place: "day",
        raised_by: &[Set("day/altitude", "1500 m")],
        // by hand: (990/(845.56 − 0.45 × 29.85))^1.2 (297.15/298)^0.6; ISO 2533 gives 845.56 hPa,
        // steam tables 29.85 hPa at 24 °C
        figures: |_| texts(["α = 1.230", "81.3 %", "in queue, hairpin, straight"]),
        advice: "as-measured",
        not_by: &[Set("day/altitude", "400 m")],
    },
    Probe {
        code: "engine-air-shares",
        place: "passage/carburettor/demand/share",
        raised_by: &[Replace(
            r#"recovery = 0.9 }]"#,
            r#"recovery = 0.9 }, { kind = "demand", share = "80 %" }]"#,
        )],
        figures: |_| texts(["80 %", "1 passage"]),
        advice: "add up to 100 %",
        not_by: &[Replace(
            r#"recovery = 0.9 }]"#,
            r#"recovery = 0.9 }, { kind = "demand", share = "100 %" }]"#,
        )],
    },
    Probe {
        code: "limit-unusual",
        place: "part/oil/limit",
        raised_by: &[Set("part/oil/limit", "250 degC")],
        figures: |_| texts(["250 °C", "121 °C"]),
        advice: "its unit",
        not_by: &[Set("part/oil/limit", "140 degC")],
    },
    Probe {
        code: "chamber-dead-end",
        place: "passage/slot",
        raised_by: &[Add(r#"
[[passage]]
name = "slot"
from = "outside"
to = "pocket"
element = [{ kind = "leak", area = "4 cm2" }]
"#)],
        figures: |_| texts(["1 way"]),
        advice: "from and to",
        not_by: &[Add(r#"
[[passage]]
name = "slot"
from = "outside"
to = "pocket"
element = [{ kind = "leak", area = "4 cm2" }]
[[passage]]
name = "seam"
from = "pocket"
to = "outside"
element = [{ kind = "leak", area = "4 cm2" }]
"#)],
    },
    Probe {
        code: "cooling-share-unusual",
        place: "engine/heat",
        raised_by: &[Set("engine/heat/heads", "2 %")],
        figures: |_| texts(["9 %", "10 % to 26 %"]),
        advice: "heat_shares_of",
        not_by: &[Set("engine/heat/heads", "10 %")],
    },
    Probe {
        code: "oil-share-unusual",
        place: "engine/heat",
        raised_by: &[Set("engine/heat/oil", "12 %")],
        figures: |_| texts(["12 %", "3 % to 10 %"]),
        advice: "heat_shares_of",
        not_by: &[Set("engine/heat/oil", "10 %")],
    },
    Probe {
        code: "wind-cut",
        place: "condition/hairpin/wind",
        raised_by: &[Set("condition/hairpin/wind", "-60 km/h")],
        figures: |_| texts(["60 km/h", "45 km/h", "at 15 km/h", "in hairpin"]),
        advice: "head wind is positive",
        not_by: &[Set("condition/hairpin/wind", "-40 km/h")],
    },
];

#[test]
fn limits_that_say_nothing_make_one_note() {
    let seen = Seen::with(&[
        Replace("measured_at = \"sump\"\n", ""),
        Replace("measured_at = \"plug washer\"\n", ""),
    ]);
    let message = seen.message("limit-measured-where", "part/heads/measured_at");
    assert!(message.contains("heads (215 °C), of oil (125 °C)"), "{message}");
    assert_eq!(seen.warnings.iter().filter(|w| w.code == "limit-measured-where").count(), 1);
}

#[test]
fn what_a_place_gives_is_named_at_the_place() {
    // the inlets at the nose take their recovery from it: nothing is assumed
    let given = Seen::with(&[]);
    assert!(given.warnings.is_empty());
    let assumed =
        Seen::with(&[Replace("pressure_coefficient = 0.6\nrecovery = 0.95", "pressure_coefficient = 0.6")]);
    let message = assumed.message("recovery-assumed", "passage/cylinders/ram-inlet/recovery");
    assert!(message.contains("0.7 to 0.95"), "{message}");
}

#[test]
fn a_condition_with_a_day_of_its_own_is_named_there() {
    let seen = Seen::with(&[Replace(
        "name = \"hairpin\"",
        "name = \"hairpin\"\nday = { pressure = \"1030 hPa\", temperature = \"2 degC\" }",
    )]);
    let pressure = seen.message("pressure-above-sea-level", "condition/hairpin/day/pressure");
    assert!(pressure.contains("1030 hPa") && pressure.contains("in hairpin"), "{pressure}");
    let power = seen.message("power-correction-beyond-range", "condition/hairpin/day");
    assert!(power.contains("(in hairpin)"), "{power}");
    assert!(!seen.warnings.iter().any(|w| w.place.as_deref() == Some("day")));
}

#[test]
fn power_as_measured_is_not_corrected() {
    let seen = Seen::with(&[
        Set("day/altitude", "1500 m"),
        Replace("brake_efficiency", "power_basis = \"as-measured\"\nbrake_efficiency"),
    ]);
    assert!(!seen.warnings.iter().any(|w| w.code == "power-correction-beyond-range"));
}

#[test]
fn a_sweep_may_go_beyond_the_power_curve() {
    let sweep = Add("\n[sweep]\nfrom = \"30 km/h\"\nto = \"150 km/h\"\n");
    let inside = Seen::with(&[sweep]);
    assert_eq!(inside.warnings, []);
    let beyond = Seen::with(&[sweep, Set("drive/highest", "6600 rpm"), Set("drive/lowest", "1400 rpm")]);
    let high = beyond.message("power-above-curve", "engine/power");
    assert!(high.contains("6600 rpm") && high.contains("6200 rpm") && high.contains("23.0 kW"), "{high}");
    let low = beyond.message("power-below-curve", "engine/power");
    assert!(low.contains("1400 rpm") && low.contains("1600 rpm") && low.contains("7.2 kW"), "{low}");
}

#[test]
fn shares_of_brake_power_are_judged_as_shares_of_fuel() {
    // 46 % and 27 % of brake power at 26 % efficiency are 19 % of the fuel's heat; 20 % are 5.2 %;
    // 10 % and 27 % are 9.6 %
    let of_power = |heads| {
        Seen::with(&[
            Replace("[engine.heat]", "heat_shares_of = \"brake power\"\n[engine.heat]"),
            Set("engine/heat/heads", heads),
            Set("engine/heat/barrels", "27 %"),
            Set("engine/heat/oil", "20 %"),
        ])
    };
    let unusual = |seen: Seen| seen.warnings.iter().any(|w| w.code.ends_with("-share-unusual"));
    assert!(!unusual(of_power("46 %")));
    assert!(unusual(of_power("10 %")));
}
