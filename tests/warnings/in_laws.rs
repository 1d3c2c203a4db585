//! Warnings that show while the elements' laws are made.

use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Probe, Seen, texts};

/// A second way into the bay with a bell of a hose; what stands before its end is put in.
const HOSE: &str = r#"
[[passage]]
name = "hose"
from = "outside"
to = "bay"
element = [
  { kind = "ram-inlet", area = "20 cm2", recovery = 0.9 },
  { kind = "diffuser", angle = "8 deg", area_after = "40 cm2" },
  { kind = "duct", area = "40 cm2", length = "300 mm" },
]
"#;

/// The barrels' fins by their figures, and by their geometry without a baffle.
const FINS: &str = r#"part = "barrels", reference_flow = "0.3 kg/s", conductance = "80 W/K", pressure_drop = "230 Pa", area = "180 cm2""#;
const OPEN: &str = r#"part = "barrels", area = "180 cm2", baffled = false, fin_pitch = "6 mm", fin_thickness = "1.5 mm", fin_length = "20 mm", root_diameter = "90 mm", fin_count = 15, cylinders = 4"#;
/// The oil cooler by its figures, and by a rating at 4 m/s.
const CORE: &str =
    r#"reference_flow = "0.2 kg/s", conductance = "95 W/K", pressure_drop = "220 Pa", oil_flow"#;
const RATED: &str = r#"rated = { heat = "7.87 kW", air_speed = "4 m/s", difference = "70 K" }, oil_flow"#;

/// The engine's fan by its wheel instead of its curve.
const USUAL: crate::warnings::support::Edit = Set("passage/cylinders/fan/wheel", "axial");

/// An electric fan that is switched off.
const BOOSTER: &str = r#"
[[passage]]
name = "booster"
from = "outside"
to = "bay"
element = [
  { kind = "wall-inlet", area = "40 cm2" },
  { kind = "fan", off = true, reference_speed = "2600 rpm", curve = [["0 m3/s", "90 Pa"], ["0.1 m3/s", "0 Pa"]] },
]
"#;

/// A flush inlet into the bay.
pub const SUNK: crate::warnings::support::Edit = Add(r#"
[[passage]]
name = "sunk"
from = "outside"
to = "bay"
element = [{ kind = "flush-inlet", width = "160 mm", height = "40 mm", boundary_layer = { run = "0.5 m" } }, { kind = "screen", open_fraction = 0.4 }]
"#);

/// Two bends with a piece of duct between.
const SNAKE: crate::warnings::support::Edit = Add(r#"
[[passage]]
name = "snake"
from = "outside"
to = "bay"
element = [
  { kind = "ram-inlet", diameter = "80 mm", recovery = 0.9 },
  { kind = "bend", diameter = "80 mm", angle = "45 deg", radius = "120 mm" },
  { kind = "duct", diameter = "80 mm", length = "150 mm" },
  { kind = "bend", diameter = "80 mm", angle = "45 deg", radius = "120 mm" },
]
"#);

pub const PROBES: &[Probe] = &[
    Probe {
        code: "diffuser-stalls",
        place: "passage/hose/diffuser",
        raised_by: &[Add(HOSE), Set("passage/hose/diffuser/angle", "30 deg")],
        // common practice: about 15° for an area ratio of 2
        figures: |_| texts(["30°", "area ratio 2.00", "above 15°"]),
        advice: "make it longer",
        not_by: &[Add(HOSE), Set("passage/hose/diffuser/angle", "12 deg")],
    },
    Probe {
        code: "diffuser-into-chamber",
        place: "passage/hose/diffuser",
        raised_by: &[
            Add(HOSE),
            Replace(",\n  { kind = \"duct\", area = \"40 cm2\", length = \"300 mm\" },\n", "\n"),
        ],
        // (1 − 20/40)² by hand
        figures: |_| texts(["straight into bay", "K = 0.25, Borda"]),
        advice: "put a duct",
        not_by: &[Add(HOSE)],
    },
    Probe {
        code: "exit-pushed-in",
        place: "place/tail/pressure_coefficient",
        raised_by: &[Set("place/tail/pressure_coefficient", "0.15")],
        figures: |_| texts(["pushes in", "+0.15"]),
        advice: "check the sign",
        not_by: &[Set("place/tail/pressure_coefficient", "-0.02")],
    },
    Probe {
        code: "fan-slower-than-engine",
        place: "passage/cylinders/fan",
        // pulleys of 130 mm on the engine and 100 mm on the fan, the wrong way round
        raised_by: &[Replace("drive_ratio = 1.3", r#"pulleys = { engine = "100 mm", fan = "130 mm" }"#)],
        figures: |_| texts(["0.77 times"]),
        advice: "upside down",
        not_by: &[Replace("drive_ratio = 1.3", r#"pulleys = { engine = "130 mm", fan = "100 mm" }"#)],
    },
    Probe {
        code: "fan-size-beyond-range",
        place: "passage/cylinders/fan/wheel_diameter",
        raised_by: &[USUAL, Set("passage/cylinders/fan/wheel_diameter", "650 mm")],
        figures: |_| texts(["650 mm wide", "80 to 600 mm"]),
        advice: "check the unit",
        not_by: &[USUAL, Set("passage/cylinders/fan/wheel_diameter", "590 mm")],
    },
    Probe {
        code: "fan-point-off-band",
        place: "passage/cylinders/fan/measured",
        // tips at π · 0.18 · 7000/60 = 66.0 m/s: by hand ψ 0.28 · 2612 Pa · 1.4 = 1024 Pa at most, shut
        raised_by: &[
            USUAL,
            Set(
                "passage/cylinders/fan/measured",
                r#"{ flow = "0 m3/s", pressure = "1100 Pa", speed = "7000 rpm" }"#,
            ),
        ],
        // √(1100/731.2)
        figures: |_| {
            texts(["0.000 m³/s at 1100 Pa and 7000 rpm lie above", "180 mm", "turning 1.23 times as fast"])
        },
        advice: "check the units",
        not_by: &[
            USUAL,
            Set(
                "passage/cylinders/fan/measured",
                r#"{ flow = "0 m3/s", pressure = "1000 Pa", speed = "7000 rpm" }"#,
            ),
        ],
    },
    Probe {
        code: "standing-fan-without-size",
        place: "passage/booster/fan",
        raised_by: &[Add(BOOSTER)],
        figures: |_| texts(["costs no pressure", "ten velocity heads"]),
        advice: "give diameter",
        not_by: &[Add(BOOSTER), Replace("off = true", "off = true, area = \"40 cm2\"")],
    },
    Probe {
        code: "roughness-beyond-range",
        place: "passage/hose/duct/roughness",
        raised_by: &[Add(HOSE), Set("passage/hose/duct/roughness", "5 mm")],
        // a round duct of 40 cm² measures 71.4 mm
        figures: |_| texts(["7 % of its diameter", "up to 5 %"]),
        advice: "measure the duct",
        not_by: &[Add(HOSE), Set("passage/hose/duct/roughness", "3 mm")],
    },
    Probe {
        code: "vanes-beyond-range",
        place: "passage/hose/bend/vanes",
        raised_by: &[
            Add(HOSE),
            Replace(
                r#"{ kind = "duct", area = "40 cm2", length = "300 mm" }"#,
                r#"{ kind = "bend", area = "40 cm2", angle = "45 deg", vanes = true }"#,
            ),
        ],
        figures: |_| texts(["bend of 45°", "for 90°"]),
        advice: "leave the vanes out",
        not_by: &[
            Add(HOSE),
            Replace(
                r#"{ kind = "duct", area = "40 cm2", length = "300 mm" }"#,
                r#"{ kind = "bend", area = "40 cm2", angle = "80 deg", vanes = true }"#,
            ),
        ],
    },
    Probe {
        code: "negative-loss",
        place: "passage/hose/loss/k",
        raised_by: &[
            Add(HOSE),
            Replace(
                r#"{ kind = "duct", area = "40 cm2", length = "300 mm" }"#,
                r#"{ kind = "loss", area = "40 cm2", k = -0.2 }"#,
            ),
        ],
        figures: |_| texts(["-0.20"]),
        advice: "slip in the sign",
        not_by: &[
            Add(HOSE),
            Replace(
                r#"{ kind = "duct", area = "40 cm2", length = "300 mm" }"#,
                r#"{ kind = "loss", area = "40 cm2", k = 0 }"#,
            ),
        ],
    },
    Probe {
        code: "bends-close",
        place: "passage/snake/bend 2/interaction",
        raised_by: &[SNAKE],
        // 150 mm of duct between two bends of 80 mm
        figures: |_| texts(["1.9 diameters", "0.7 to 1.5", "1.00 is taken"]),
        advice: "more straight duct",
        // four diameters and more
        not_by: &[SNAKE, Set("passage/snake/duct/length", "330 mm")],
    },
    Probe {
        code: "flush-ramp",
        place: "passage/sunk/flush-inlet/ramp_angle",
        raised_by: &[SUNK, Set("passage/sunk/flush-inlet/ramp_angle", "9.5 deg")],
        // 40 mm deep: 40/tan 7 degrees = 326 mm
        figures: |_| texts(["9.5°", "326 mm long"]),
        advice: "make the ramp",
        not_by: &[SUNK],
    },
    Probe {
        code: "flush-proportions",
        place: "passage/sunk/flush-inlet/height",
        raised_by: &[SUNK, Set("passage/sunk/flush-inlet/width", "90 mm")],
        figures: |_| texts(["2.2 times as wide as high", "3 to 5"]),
        advice: "change its proportions",
        not_by: &[SUNK],
    },
    Probe {
        code: "exit-thickness-beyond-range",
        place: "passage/exits/exit/thickness",
        raised_by: &[
            Set("passage/exits/exit/thickness", "210 mm"),
            Set("passage/exits/exit/diameter", "60 mm"),
        ],
        figures: |_| texts(["3.5 hydraulic diameters", "up to 2.4"]),
        advice: "a duct before the exit",
        not_by: &[Set("passage/exits/exit/thickness", "40 mm")],
    },
    Probe {
        code: "exit-radius-beyond-range",
        place: "passage/exits/exit/edge_radius",
        raised_by: &[
            Set("passage/exits/exit/edge_radius", "150 mm"),
            Set("passage/exits/exit/diameter", "120 mm"),
        ],
        figures: |_| texts(["1.2 hydraulic diameters", "up to 1"]),
        advice: "check the radius",
        not_by: &[Set("passage/exits/exit/edge_radius", "12 mm")],
    },
    Probe {
        code: "exit-edge-of-louvres",
        place: "passage/exits/exit/edge_radius",
        raised_by: &[
            Set("passage/exits/exit/edge_radius", "6 mm"),
            Set("passage/exits/exit/louvres", "45 %"),
        ],
        // 150 cm²: as a circle 138 mm across
        figures: |_| texts(["the 138 mm of the whole louvred field"]),
        advice: "write discharge instead",
        not_by: &[Set("passage/exits/exit/discharge", "0.6"), Set("passage/exits/exit/louvres", "45 %")],
    },
    Probe {
        code: "fins-beyond-tests",
        place: "passage/cylinders/fins/fin_length",
        raised_by: &[Replace(FINS, OPEN), Set("passage/cylinders/fins/fin_length", "12 mm")],
        figures: |_| texts(["fin_length is 12 mm", "from 16 mm to 41 mm"]),
        advice: "measure it",
        not_by: &[Replace(FINS, OPEN)],
    },
    Probe {
        code: "rating-near-limit",
        place: "passage/oil cooler/core/rated",
        raised_by: &[Replace(CORE, RATED)],
        // 1.2 · 4 · 0.024 · 1006 = 115.9 W/K; 7870/70 = 112.4 W/K, 97 % of it
        figures: |_| texts(["97 % of what the air can carry", "116 W/K", "up to 5"]),
        advice: "check the rating",
        not_by: &[Replace(CORE, RATED), Set("passage/oil cooler/core/rated/heat", "5 kW")],
    },
];

#[test]
fn a_diffuser_that_leads_elsewhere_is_not_one_into_a_chamber() {
    // to the carburettor: the engine is no chamber
    let seen = Seen::with(&[Replace(
        r#"recovery = 0.9 }]"#,
        r#"recovery = 0.9 }, { kind = "diffuser", angle = "8 deg", area_after = "24 cm2" }]"#,
    )]);
    assert!(!seen.warnings.iter().any(|w| w.code == "diffuser-into-chamber"), "{:#?}", seen.warnings);
}
