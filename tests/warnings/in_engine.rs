//! What the running engine says: power, heat, mixture, and the air that its carburettor gets.

use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Probe, Seen, engine_speed, texts};

pub const PROBES: &[Probe] = &[
    Probe {
        code: "heat-over-fuel",
        place: "engine/heat",
        raised_by: &[Set("part/heads/source_temperature", "215 degC")],
        figures: |seen| {
            let excess = seen.conditions.iter().map(|c| {
                c.brake_power_W + c.heat_to.iter().map(|(_, heat)| heat).sum::<f64>() - c.fuel_power_W
            });
            vec![format!("{:.1} kW more", excess.fold(0.0, f64::max) / 1e3)]
        },
        advice: "check share_at",
        not_by: &[Set("part/heads/source_temperature", "500 degC")],
    },
    Probe {
        code: "rpm-above-range",
        place: "drive/highest",
        raised_by: &[Set("drive/highest", "5200 rpm")],
        figures: |_| vec![format!("{:.0} rpm", engine_speed(135.0, 0.98)), "5200 rpm".to_string()],
        advice: "taller gear",
        not_by: &[Set("drive/highest", "5400 rpm")],
    },
    Probe {
        code: "rpm-below-range",
        place: "drive/lowest",
        raised_by: &[Set("drive/lowest", "1800 rpm")],
        figures: |_| texts(["1700 rpm", "1800 rpm", "in queue"]),
        advice: "lower gear",
        not_by: &[Set("drive/lowest", "1700 rpm")],
    },
    Probe {
        code: "power-above-curve",
        place: "engine/power",
        raised_by: &[Set("condition/straight/rpm", "6500 rpm")],
        figures: |_| texts(["6500 rpm", "6200 rpm", "23.0 kW"]),
        advice: "points of power",
        not_by: &[Set("condition/straight/rpm", "6200 rpm")],
    },
    Probe {
        code: "power-below-curve",
        place: "engine/power",
        raised_by: &[Set("condition/queue/rpm", "1500 rpm")],
        figures: |_| texts(["1500 rpm", "1600 rpm", "7.2 kW"]),
        advice: "point of power",
        not_by: &[Set("condition/queue/rpm", "1650 rpm")],
    },
    Probe {
        code: "air-fuel-ratio",
        place: "engine/brake_efficiency",
        raised_by: &[Set("engine/displacement", "460 cm3")],
        figures: |seen| {
            let ratios = seen.conditions.iter().map(|c| c.air_fuel_ratio.unwrap());
            vec![format!("{:.1} by mass", ratios.fold(f64::INFINITY, f64::min)), "rich".to_string()]
        },
        advice: "PS taken for kW",
        not_by: &[Set("engine/displacement", "640 cm3")],
    },
    Probe {
        code: "heat-scaled-down",
        place: "engine/heat",
        raised_by: &[Set("engine/friction_pressure", "0 bar"), Set("condition/queue/load", "1 %")],
        figures: |_| {
            // without friction x = F/F_r is power over peak power; of the shares of 0.25 half of the oil's 0.05 goes with
            // engine speed, so that what is left of the fuel's heat over them is
            // (1 − 0.26) x/(0.225 x^0.75 + 0.025 N/N_r)
            let power_at_1700 = 7.2 + 0.1 / 1.3 * (14.5 - 7.2);
            let x: f64 = 0.01 * power_at_1700 / 24.6;
            let about = 0.74 * x / (0.225 * x.powf(0.75) + 0.025 * 1700.0 / 5500.0);
            // the curve between its points is not straight: to the whole per cent
            vec![format!("at {:.0}.", (100.0 * about).floor())]
        },
        advice: "friction_pressure",
        not_by: &[Set("condition/queue/load", "1 %")],
    },
    Probe {
        code: "engine-stands",
        place: "condition/queue/rpm",
        raised_by: &[Set("condition/queue/rpm", "0 rpm")],
        figures: |_| texts(["0 rpm"]),
        advice: "after stopping",
        not_by: &[Set("condition/queue/rpm", "1650 rpm")],
    },
    Probe {
        code: "carburettor-on-warm-air",
        place: "passage/carburettor",
        raised_by: &[
            Replace("from = \"outside\"\nto = \"engine\"", "from = \"bay\"\nto = \"engine\""),
            Replace(
                r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
                r#""duct", area = "12 cm2", length = "90 mm""#,
            ),
        ],
        figures: |seen| {
            let hottest = seen.conditions.iter().map(|c| c.chambers[0].temperature_C).fold(0.0, f64::max);
            vec![format!("{hottest:.0} °C"), "in queue, hairpin, straight".to_string()]
        },
        advice: "duct from outside",
        // an air box that nothing heats
        not_by: &[
            Replace("from = \"outside\"\nto = \"engine\"", "from = \"air box\"\nto = \"engine\""),
            Replace(
                r#""ram-inlet", area = "12 cm2", recovery = 0.9"#,
                r#""duct", area = "12 cm2", length = "90 mm""#,
            ),
            Add(r#"
[[passage]]
name = "snorkel"
from = "outside"
to = "air box"
element = [{ kind = "ram-inlet", area = "12 cm2", recovery = 0.9 }]
"#),
        ],
    },
];

#[test]
fn a_peak_alone_is_not_trusted_far_beyond_it() {
    let peak = |at| {
        let points = r#"power = [["1600 rpm", "7.2 kW"], ["2900 rpm", "14.5 kW"], ["4300 rpm", "21.5 kW"], ["5500 rpm", "24.6 kW"], ["6200 rpm", "23 kW"]]"#;
        Seen::with(&[Replace(points, at)])
    };
    let near = peak("peak_power = \"24 kW\"\npeak_power_at = \"5000 rpm\"");
    assert!(!near.warnings.iter().any(|w| w.code == "power-above-curve"), "{:#?}", near.warnings);
    let far = peak("peak_power = \"24 kW\"\npeak_power_at = \"4500 rpm\"");
    let message = far.message("power-above-curve", "engine/peak_power_at");
    let ratio = engine_speed(135.0, 0.98) / 4500.0;
    assert!(message.contains(&format!("is {ratio:.2} times")), "{message}");
}

#[test]
fn a_lean_mixture_is_told_from_a_rich_one() {
    let seen = Seen::with(&[Set("engine/displacement", "980 cm3")]);
    let message = seen.message("air-fuel-ratio", "engine/brake_efficiency");
    assert!(message.contains("lean") && message.contains("at the wheels"), "{message}");
}
