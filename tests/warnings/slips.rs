//! Warnings of slips of the pen that give a believable answer.

use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Probe, engine_speed, texts};

pub const PROBES: &[Probe] = &[
    Probe {
        code: "tyre-radius-unusual",
        place: "drive/tyre_radius",
        raised_by: &[Set("drive/tyre_radius", "516 mm")],
        // at 5500 rpm in the gear of 0.98: twice 258 mm
        figures: |_| texts(["516 mm", "1032 mm", "280 km/h"]),
        advice: "write tyre_radius = \"258 mm\"",
        not_by: &[Set("drive/tyre_radius", "330 mm")],
    },
    Probe {
        code: "gears-rising",
        place: "drive/gears",
        raised_by: &[Replace("gears = [2.8, 1.9, 1.35, 0.98]", "gears = [0.36, 0.53, 0.74, 1.02]")],
        figures: |_| {
            texts(["gear 2 (0.53)", "gear 1 (0.36)", "[1.02, 0.74, 0.53, 0.36]", "[2.78, 1.89, 1.35, 0.98]"])
        },
        advice: "write first gear first",
        not_by: &[Replace("gears = [2.8, 1.9, 1.35, 0.98]", "gears = [2.8, 1.9, 1.35, 0.7]")],
    },
    Probe {
        code: "top-speed-unusual",
        place: "drive/gears",
        raised_by: &[Replace("gears = [2.8, 1.9, 1.35, 0.98]", "gears = [1.02, 0.74, 0.53, 0.36]")],
        // 5500 rpm, 258 mm, 3.9 × 0.36: 381 km/h; (2 × 24.6 kW/(1.2 × 0.3))^(1/3) = 51.5 m/s
        figures: |_| texts(["5500 rpm", "381 km/h", "185 km/h", "24.6 kW"]),
        advice: "not upside down",
        not_by: &[Replace("gears = [2.8, 1.9, 1.35, 0.98]", "gears = [2.8, 1.9, 1.35, 0.7]")],
    },
    Probe {
        code: "size-unusual",
        place: "passage/exits/exit/area",
        raised_by: &[Replace(
            "count = 2\nelement = [{ kind = \"exit\", area = \"150 cm2\"",
            "count = 2\nelement = [{ kind = \"exit\", area = \"2800 cm2\"",
        )],
        // 0.9 × 24.6 kW at 135 km/h: 0.70 m², by 0.4: 1.7 m² of front
        figures: |_| texts(["5600 cm²", "1.7 m²", "135 km/h"]),
        advice: "check its unit",
        not_by: &[Replace(
            "count = 2\nelement = [{ kind = \"exit\", area = \"150 cm2\"",
            "count = 2\nelement = [{ kind = \"exit\", area = \"1900 cm2\"",
        )],
    },
    Probe {
        code: "size-unusual",
        place: "passage/oil cooler/ram-inlet/width",
        raised_by: &[
            Set("passage/oil cooler/ram-inlet/width", "1100 mm"),
            Set("passage/oil cooler/ram-inlet/height", "5 mm"),
        ],
        figures: |_| texts(["width is 1.10 m", "110 mm"]),
        advice: "check the unit",
        not_by: &[
            Set("passage/oil cooler/ram-inlet/width", "990 mm"),
            Set("passage/oil cooler/ram-inlet/height", "5 mm"),
        ],
    },
    Probe {
        code: "fan-curve-unusual",
        place: "passage/cylinders/fan/curve",
        raised_by: &[Replace(
            r#"[["0 m3/s", "1400 Pa"], ["0.25 m3/s", "1150 Pa"], ["0.45 m3/s", "600 Pa"], ["0.62 m3/s", "0 Pa"]]"#,
            r#"[["0 m3/s", "1400 Pa"], ["0.25 m3/min", "1150 Pa"], ["0.45 m3/min", "600 Pa"], ["0.62 m3/min", "0 Pa"]]"#,
        )],
        // 0.62 m3/min through 254.5 cm²: 0.41 m/s
        figures: |_| texts(["0.010 m³/s", "180 mm", "0.4 m/s"]),
        advice: "check the units of the curve",
        // of a fan with twice the flow
        not_by: &[Replace(
            r#"[["0 m3/s", "1400 Pa"], ["0.25 m3/s", "1150 Pa"], ["0.45 m3/s", "600 Pa"], ["0.62 m3/s", "0 Pa"]]"#,
            r#"[["0 m3/s", "1400 Pa"], ["0.5 m3/s", "1150 Pa"], ["0.9 m3/s", "600 Pa"], ["1.24 m3/s", "0 Pa"]]"#,
        )],
    },
    Probe {
        code: "temperature-unusual",
        place: "day/temperature",
        raised_by: &[Set("day/temperature", "55 degC")],
        figures: |_| texts(["55 °C", "48 °C", "13 °C"]),
        advice: "55 °F would be",
        not_by: &[Set("day/temperature", "45 degC")],
    },
    Probe {
        code: "temperature-unusual",
        place: "part/heads/share_at",
        raised_by: &[Set("part/heads/share_at", "400 degC")],
        figures: |_| texts(["400 °C", "215 °C", "204 °C"]),
        advice: "400 °F would be",
        not_by: &[Set("part/heads/share_at", "230 degC")],
    },
    Probe {
        code: "temperature-unusual",
        place: "stint/a queue/start",
        raised_by: &[Add(
            "[[stint]]\nname = \"a queue\"\nstart = { heads = \"230 degC\" }\nstep = [{ condition = \"queue\", time = \"60 s\" }]\n",
        )],
        figures: |_| texts(["230 °C", "215 °C", "110 °C"]),
        advice: "230 °F would be",
        not_by: &[Add(
            "[[stint]]\nname = \"a queue\"\nstart = { heads = \"210 degC\" }\nstep = [{ condition = \"queue\", time = \"60 s\" }]\n",
        )],
    },
    Probe {
        code: "rpm-fits-no-gear",
        place: "condition/hairpin/rpm",
        // 45 km/h on 258 mm: 463 turns of the wheel a minute
        raised_by: &[Set("condition/hairpin/rpm", "460 rpm")],
        figures: |_| {
            vec![
                format!("{:.0} rpm", engine_speed(45.0, 0.98)),
                "463 rpm is what the wheels turn at".to_string(),
            ]
        },
        advice: "not the wheels'",
        // first gear, within what tyre and gauge are off
        not_by: &[Set("condition/hairpin/rpm", "4800 rpm")],
    },
    Probe {
        code: "oil-flow-unusual",
        place: "passage/oil cooler/core/oil_flow",
        raised_by: &[Set("passage/oil cooler/core/oil_flow", "12 L/s")],
        figures: |_| texts(["5 to 30 K"]),
        advice: "L/min, not L/s",
        not_by: &[Set("passage/oil cooler/core/oil_flow", "40 L/min")],
    },
    // in the sweep alone: nothing is that fast in the conditions
    Probe {
        code: "air-too-fast",
        place: "passage/carburettor/ram-inlet",
        raised_by: &[
            Set("passage/carburettor/ram-inlet/area", "2.6 cm2"),
            Replace("speed = \"135 km/h\"\ngear = 4", "speed = \"60 km/h\"\ngear = 4"),
            Set("condition/hairpin/load", "30 %"),
            Add("[sweep]\nfrom = \"40 km/h\"\nto = \"140 km/h\"\n"),
        ],
        figures: |_| texts(["(in sweep)"]),
        advice: "check the area",
        not_by: &[
            Replace("speed = \"135 km/h\"\ngear = 4", "speed = \"60 km/h\"\ngear = 4"),
            Add("[sweep]\nfrom = \"40 km/h\"\nto = \"140 km/h\"\n"),
        ],
    },
    Probe {
        code: "carburettor-on-warm-air",
        place: "passage/carburettor",
        raised_by: &[Replace(
            "area = \"12 cm2\", recovery = 0.9",
            "area = \"12 cm2\", recovery = 0.9, recirculation = { from = \"exits\", share = \"20 %\" }",
        )],
        figures: |_| texts(["K warmer than outside"]),
        advice: "move its mouth",
        not_by: &[Replace(
            "area = \"12 cm2\", recovery = 0.9",
            "area = \"12 cm2\", recovery = 0.9, recirculation = { from = \"exits\", share = \"5 %\" }",
        )],
    },
];
