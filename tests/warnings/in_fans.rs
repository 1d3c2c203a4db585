//! What a fan says once the air is known: its speed, its curve, its tips.

use crate::warnings::in_solution::day;
use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Probe, Seen, engine_speed, texts};

pub const PROBES: &[Probe] = &[
    Probe {
        code: "fan-too-fast",
        place: "passage/cylinders/fan",
        raised_by: &[Set("passage/cylinders/fan/drive_ratio", "2.0")],
        figures: |_| {
            let speed = 2.0 * engine_speed(135.0, 0.98);
            let tips = std::f64::consts::PI * 0.18 * speed / 60.0;
            vec![format!("{speed:.0} rpm"), format!("{:.2} times", speed / 7000.0), format!("{tips:.0} m/s")]
        },
        advice: "top_speed",
        not_by: &[Set("passage/cylinders/fan/drive_ratio", "1.7")],
    },
    Probe {
        code: "fan-overrun",
        place: "passage/oil cooler/fan",
        raised_by: &[Set("passage/oil cooler/fan/speed", "1100 rpm")],
        // 0.36 m³/s × 1100/2600
        figures: |seen| {
            let push = seen.passage("straight", "oil cooler").elements[4].push_Pa;
            vec!["ends at 0.152 m³/s".to_string(), format!("with {:.0} Pa", -push)]
        },
        advice: "gear the fan up",
        not_by: &[Set("passage/oil cooler/fan/speed", "2000 rpm")],
    },
    Probe {
        // a curve that goes on below no pressure
        code: "fan-windmills",
        place: "passage/oil cooler/fan",
        raised_by: &[Replace(
            r#"["0.2 m3/s", "110 Pa"], ["0.36 m3/s", "0 Pa"]]"#,
            r#"["0.1 m3/s", "60 Pa"], ["0.15 m3/s", "0 Pa"], ["0.6 m3/s", "-800 Pa"]]"#,
        )],
        figures: |seen| {
            let push = seen.passage("straight", "oil cooler").elements[4].push_Pa;
            vec![format!("in the way with {:.0} Pa", -push), "in straight".to_string()]
        },
        advice: "gear the fan up",
        not_by: &[],
    },
    Probe {
        // tips at π · 0.2 · 700/60 = 7.3 m/s: 1e5 is 7.5 m/s and 200 mm at 1.5e-5 m²/s
        code: "fan-reynolds",
        place: "passage/oil cooler/fan",
        raised_by: &[
            Set("passage/oil cooler/fan/wheel", "axial"),
            Set("passage/oil cooler/fan/wheel_diameter", "200 mm"),
            Set("passage/oil cooler/fan/speed", "700 rpm"),
        ],
        figures: |_| texts(["200 mm, tips 7 m/s", "under the 1e5"]),
        advice: "measure one point",
        not_by: &[
            Set("passage/oil cooler/fan/wheel", "axial"),
            Set("passage/oil cooler/fan/wheel_diameter", "200 mm"),
            Set("passage/oil cooler/fan/speed", "1100 rpm"),
        ],
    },
    Probe {
        code: "fan-tips-too-fast",
        place: "passage/cylinders/fan",
        raised_by: &[
            Set("passage/cylinders/fan/wheel", "axial"),
            Set("passage/cylinders/fan/drive_ratio", "2.6"),
        ],
        figures: |_| {
            let speed = 2.6 * engine_speed(135.0, 0.98);
            let tips = std::f64::consts::PI * 0.18 * speed / 60.0;
            vec![
                format!("tips at {tips:.0} m/s"),
                format!("at {speed:.0} rpm"),
                "above the 120 m/s".to_string(),
            ]
        },
        advice: "keep a guard",
        not_by: &[
            Set("passage/cylinders/fan/wheel", "axial"),
            Set("passage/cylinders/fan/drive_ratio", "2.3"),
        ],
    },
    Probe {
        code: "fan-before-curve",
        place: "passage/oil cooler/fan",
        raised_by: &[Replace(r#"["0 m3/s", "160 Pa"]"#, r#"["0.12 m3/s", "160 Pa"]"#)],
        figures: |seen| {
            let queue = seen.passage("queue", "oil cooler");
            // the fan's air enters at the core's outlet temperature
            let density = day().density_at(queue.elements[3].outlet_temperature_C + 273.15);
            vec!["begins at 0.120 m³/s".to_string(), format!("{:.3} m³/s go", queue.mass_flow_kg_s / density)]
        },
        advice: "down to no flow",
        not_by: &[Replace(r#"["0 m3/s", "160 Pa"]"#, r#"["0.04 m3/s", "160 Pa"]"#)],
    },
];

#[test]
fn a_fan_driven_back_is_told() {
    // an electric fan in a bay vent, against the pressure of the fan-fed bay
    let seen = Seen::with(&[Add(r#"
[[passage]]
name = "booster"
from = "outside"
to = "bay"
element = [
  { kind = "wall-inlet", area = "40 cm2" },
  { kind = "fan", speed = "1500 rpm", area = "40 cm2", reference_speed = "2600 rpm", curve = [["0 m3/s", "90 Pa"], ["0.1 m3/s", "0 Pa"]] },
]
"#)]);
    let straight = seen.passage("straight", "booster");
    assert!(straight.reversed);
    let message = seen.message("fan-before-curve", "passage/booster/fan");
    assert!(message.contains("driven back") && message.contains("m³/s"), "{message}");
    seen.message("inlet-blows-out", "passage/booster");
}
