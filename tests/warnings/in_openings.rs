//! What single openings and surfaces say at the flow that was found: laws beyond their tests, tape, legs.

use crate::warnings::in_laws::SUNK;
use crate::warnings::in_solution::{day, kilograms};
use crate::warnings::support::Edit::{Add, Replace, Set};
use crate::warnings::support::{Edit, Probe, texts};
use slowcorner::air::{Air, standard_atmosphere, transport};

/// A flush inlet to the carburettor, far too small.
const CARBURETTOR_SUNK: Edit = Replace(
    r#"element = [{ kind = "ram-inlet", area = "12 cm2", recovery = 0.9 }]"#,
    r#"element = [{ kind = "flush-inlet", width = "40 mm", height = "10 mm", boundary_layer = { run = "0.3 m" } }]"#,
);

/// Two inlets that join in a tee.
const TEE: Edit = Add(r#"
[[passage]]
name = "large"
from = "outside"
to = "joint"
element = [{ kind = "ram-inlet", diameter = "80 mm", recovery = 0.9 }, { kind = "tee", diameter = "80 mm", leg = "straight" }]
[[passage]]
name = "small"
from = "outside"
to = "joint"
element = [{ kind = "wall-inlet", diameter = "60 mm", pressure_coefficient = 0.9 }, { kind = "tee", diameter = "60 mm", leg = "side" }]
[[passage]]
name = "trunk"
from = "joint"
to = "bay"
element = [{ kind = "tee", diameter = "80 mm", leg = "combined" }, { kind = "duct", diameter = "80 mm", length = "300 mm" }]
"#);

/// A chamber with a ram inlet and an exit of some area.
macro_rules! chamber_with_exit {
    ($area:literal) => {
        concat!(
            r#"
[[passage]]
name = "box in"
from = "outside"
to = "box"
element = [{ kind = "ram-inlet", area = "100 cm2", recovery = 0.9 }]
[[passage]]
name = "box out"
from = "box"
to = "outside"
element = [{ kind = "exit", area = ""#,
            $area,
            r#"", cross_flow_loss = "0 %" }]
"#
        )
    };
}

/// Much too small, and large enough.
const BOX_SMALL: &str = chamber_with_exit!("20 cm2");
const BOX_LARGE: &str = chamber_with_exit!("60 cm2");

/// The barrels' fins by their figures, and as many fine and close ones.
const FINS: &str = r#"part = "barrels", reference_flow = "0.3 kg/s", conductance = "80 W/K", pressure_drop = "230 Pa", area = "180 cm2""#;

const CLOSE: &str = r#"part = "barrels", area = "180 cm2", fin_pitch = "2.5 mm", fin_thickness = "1 mm", fin_length = "18 mm", root_diameter = "90 mm", fin_count = 60, cylinders = 8"#;

pub const PROBES: &[Probe] = &[
    Probe {
        code: "sudden-change",
        place: "passage/cylinders/fan",
        raised_by: &[Replace(
            r#"{ kind = "ram-inlet", area = "125 cm2", place = "nose" },
  { kind = "step" },"#,
            r#"{ kind = "ram-inlet", area = "125 cm2", place = "nose" },"#,
        )],
        figures: |seen| {
            // a fan of 180 mm has 254.5 cm²: (1 − 125/254.5)² ½ρV² (Borda and Carnot, by hand)
            let straight = seen.conditions.iter().find(|c| c.name == "straight").expect("there");
            let inlet = &straight.passages[0].elements[0];
            let kelvin = |celsius: f64| celsius + 273.15;
            let density = straight.air_density_kg_m3 * kelvin(straight.air_temperature_C)
                / kelvin(inlet.outlet_temperature_C);
            let k = (1.0_f64 - 125.0 / (std::f64::consts::PI / 4.0 * 18.0 * 18.0)).powi(2);
            let loss = 0.5 * density * k * inlet.velocity_m_s.expect("an area").powi(2);
            vec!["widens suddenly from 125 cm² to 254 cm²".to_string(), format!("takes {loss:.0} Pa")]
        },
        advice: "put a diffuser",
        not_by: &[Replace(
            r#"{ kind = "ram-inlet", area = "125 cm2", place = "nose" },
  { kind = "step" },"#,
            r#"{ kind = "ram-inlet", area = "125 cm2", place = "nose", blended = true },"#,
        )],
    },
    Probe {
        code: "air-too-fast",
        place: "passage/carburettor/ram-inlet",
        raised_by: &[Set("passage/carburettor/ram-inlet/area", "1.2 cm2")],
        figures: |seen| {
            let inlets = seen.conditions.iter().map(|c| {
                let passage = c.passages.iter().find(|p| p.name == "carburettor").expect("there");
                passage.elements[0].velocity_m_s.expect("an area")
            });
            vec![format!("{:.0} m/s", inlets.fold(0.0, f64::max))]
        },
        advice: "check the area",
        not_by: &[Set("passage/carburettor/ram-inlet/area", "8 cm2")],
    },
    Probe {
        code: "skin-layer-reynolds",
        place: "place/flank/boundary_layer/run",
        raised_by: &[Set("place/flank/boundary_layer/run", "500 mm")],
        figures: |_| {
            let reynolds = day().density() * 12.5 * 0.5 / transport::viscosity(297.15);
            vec![format!("{reynolds:.1e}"), "500 mm".to_string(), "(in hairpin)".to_string()]
        },
        advice: "check run",
        not_by: &[Set("place/flank/boundary_layer/run", "700 mm")],
    },
    Probe {
        code: "screen-reynolds",
        place: "passage/oil cooler/screen/wire",
        raised_by: &[Set("passage/oil cooler/screen/wire", "0.2 mm")],
        figures: |seen| {
            // gap w √f/(1 − √f), speed V/f, viscosity of the air behind the step
            let queue = seen.passage("queue", "oil cooler");
            let kelvin = queue.elements[1].outlet_temperature_C + 273.15;
            let gap = 0.2e-3 * f64::sqrt(0.62) / (1.0 - f64::sqrt(0.62));
            let viscosity = transport::viscosity(kelvin) / day().density_at(kelvin);
            let reynolds = queue.elements[2].velocity_m_s.unwrap() / 0.62 * gap / viscosity;
            vec![format!("gap is {reynolds:.0};")]
        },
        advice: "coarser mesh",
        not_by: &[Set("passage/oil cooler/screen/wire", "0.8 mm")],
    },
    Probe {
        code: "fins-reynolds",
        place: "passage/cylinders/fins",
        raised_by: &[Replace(FINS, CLOSE)],
        figures: |seen| {
            // by hand: 8 cylinders × 2 ways × 60 spaces of 1.5 mm × 18 mm; D_h = 2sL/(s + L); air of 60 °C
            let flows = seen.conditions.iter().map(|c| c.passages[0].mass_flow_kg_s);
            let slowest = flows.fold(f64::INFINITY, f64::min);
            let flux = slowest / (8.0 * 2.0 * 60.0 * 0.0015 * 0.018);
            let diameter = 2.0 * 0.0015 * 0.018 / (0.0015 + 0.018);
            let reynolds = flux * diameter / transport::viscosity(333.15);
            vec![format!("between the fins is {reynolds:.0};"), "below 2300".to_string()]
        },
        advice: "reference_flow near the flow",
        not_by: &[
            Replace(FINS, CLOSE),
            Set("passage/cylinders/fins/cylinders", "1"),
            Set("passage/cylinders/fins/fin_pitch", "5 mm"),
        ],
    },
    Probe {
        code: "tape-left-on",
        place: "condition/hairpin/taped/oil cooler",
        raised_by: &[Set("condition/hairpin/taped/oil cooler", "85 %")],
        figures: |seen| {
            let oil = &seen.condition("hairpin").parts[2];
            vec![format!("{:.0} K over", -oil.temperature_margin_K), "85 %".to_string()]
        },
        advice: "take the tape off",
        not_by: &[Set("condition/hairpin/taped/oil cooler", "10 %")],
    },
    Probe {
        code: "flush-inlet-rising",
        place: "passage/sunk/flush-inlet",
        // so that the velocity ratio lies between 0.3 and 0.4 on the straight
        // from 0.3 to 0.6 the curve rises by 2.5 for each unit of the ratio r, its push by 2.5 q/(ρAV); screen (4.6 at 0.32)
        // and last head fall by 2 (4.6 + 1) r q/(ρAV): the push is ahead below r = 2.5/11.2 = 0.22 with the screen, up to
        // r = 0.6 without it
        raised_by: &[
            SUNK,
            Set("passage/sunk/screen/open_fraction", "0.97"),
            Set("passage/sunk/flush-inlet/recovery", "[[0.3, 0.15], [0.6, 0.9]]"),
        ],
        figures: |_| texts(["from a velocity ratio of 0.30 to 0.60"]),
        advice: "take a smaller lip",
        // the same curve behind a screen that takes more than it gains
        not_by: &[
            SUNK,
            Set("passage/sunk/screen/open_fraction", "0.32"),
            Set("passage/sunk/flush-inlet/recovery", "[[0.3, 0.15], [0.6, 0.9]]"),
        ],
    },
    Probe {
        code: "flush-layer-thick",
        place: "passage/sunk/flush-inlet",
        raised_by: &[SUNK, Set("passage/sunk/flush-inlet/boundary_layer/run", "3.5 m")],
        figures: |_| texts(["times the lip's height", "let fall"]),
        advice: "move it forward",
        not_by: &[SUNK],
    },
    Probe {
        code: "flush-beyond-tests",
        place: "passage/carburettor/flush-inlet",
        raised_by: &[CARBURETTOR_SUNK],
        figures: |seen| {
            let ratio = |name: &str, kmh: f64| {
                seen.passage(name, "carburettor").elements[0].velocity_m_s.unwrap_or(f64::NAN) * 3.6 / kmh
            };
            vec![format!("{:.2}", ratio("hairpin", 45.0).max(ratio("straight", 135.0)))]
        },
        advice: "make the lip larger",
        not_by: &[
            CARBURETTOR_SUNK,
            Set("passage/carburettor/flush-inlet/width", "100 mm"),
            Set("passage/carburettor/flush-inlet/height", "25 mm"),
        ],
    },
    Probe {
        code: "forward-inlet-better",
        place: "passage/sunk/flush-inlet",
        raised_by: &[SUNK],
        // 135 km/h at 24 °C and 120 m, where it is worst: the layer 0.37 x Re^-0.2 of a run of 0.5 m, on a lip of 40 mm; mean by
        // mass of the 1/7 law over more than the layer (z − 0.3)/(z − 0.125)
        figures: |seen| {
            let air = Air::new(standard_atmosphere::pressure(120.0), 297.15, 0.0, 0.45);
            let reynolds = air.density() * 37.5 * 0.5 / transport::viscosity(297.15);
            let z = 0.04 / (0.37 * 0.5 * reynolds.powf(-0.2));
            let forward = (z - 0.3) / (z - 0.125);
            let inlet = &seen.passage("straight", "sunk").elements[0];
            let q = seen.condition("straight").dynamic_pressure_Pa;
            vec![
                format!("{:.1} % of the dynamic pressure", 100.0 * forward),
                format!("{:.0} Pa less", q * forward - inlet.push_Pa),
                "brought to rest".into(),
            ]
        },
        advice: "as a [[layout]]",
        // recovers more than a forward one would there
        not_by: &[SUNK, Set("passage/sunk/flush-inlet/recovery", "0.95")],
    },
    Probe {
        code: "exit-jet-slow",
        place: "passage/exits/exit",
        raised_by: &[Replace(
            r#"count = 2
element = [{ kind = "exit", area = "150 cm2", place = "tail", cross_flow_loss = "0 %" }]"#,
            r#"count = 2
element = [{ kind = "exit", area = "150 cm2", place = "tail" }]"#,
        )],
        figures: |seen| {
            // on the straight: speed on the open area over the discharge coefficient, against 135 km/h
            let jet = seen.passage("straight", "exits").elements[0].velocity_m_s.unwrap_or(f64::NAN) / 0.62;
            let kept = 1.0 - 0.3 * (1.0 - jet * 3.6 / 135.0).powi(2);
            vec![
                format!("{:.0} km/h", 3.6 * jet),
                "135 km/h".into(),
                "30 %".into(),
                format!("{:.0} cm²", 150.0 * kept),
            ]
        },
        advice: "turn the jet to the rear",
        // what the case says of it, nothing included, it knows
        not_by: &[Set("passage/exits/exit/cross_flow_loss", "10 %")],
    },
    Probe {
        code: "tee-runs-against",
        place: "passage/small/tee",
        // a hole in the tail's suction instead of an inlet
        raised_by: &[TEE, Set("passage/small/wall-inlet/pressure_coefficient", "-1.5")],
        figures: |seen| vec![kilograms(seen.passage("straight", "small").mass_flow_kg_s), "out".into()],
        advice: "raise what drives this leg",
        not_by: &[TEE],
    },
    Probe {
        code: "exit-never-enough",
        place: "passage/box out/exit",
        raised_by: &[Add(BOX_SMALL)],
        // 0.62 × 20/100, by hand
        figures: |_| vec!["at 12 % of the road speed".to_string(), "100 cm²".to_string()],
        advice: "larger exits",
        not_by: &[Add(BOX_LARGE)],
    },
    Probe {
        code: "openings-close",
        place: "passage/exits/exit",
        raised_by: &[Set("passage/exits/exit/outline", r#"{ next_opening = "100 mm" }"#)],
        // 150 cm², one and a half times as wide as high
        figures: |_| vec!["100 mm away".to_string(), "(150 mm)".to_string()],
        advice: "move them apart",
        not_by: &[Set("passage/exits/exit/outline", r#"{ next_opening = "310 mm" }"#)],
    },
    Probe {
        code: "exit-near-hazard",
        place: "passage/exits/exit",
        raised_by: &[Set("place/tail/position", r#""over the fuel filler""#)],
        figures: |_| vec!["near the fuel filler".to_string()],
        advice: "turn the jet away",
        not_by: &[
            Set("place/tail/position", r#""over the fuel filler""#),
            Set("passage/exits/exit/outline", r#"{ near = "nothing" }"#),
            Set("passage/oil cooler/exit/outline", r#"{ near = "nothing" }"#),
        ],
    },
    Probe {
        code: "hole-through-flange",
        place: "passage/oil cooler/ram-inlet",
        raised_by: &[Set("passage/oil cooler/ram-inlet/outline", r#"{ most_width = "140 mm" }"#)],
        figures: |_| vec!["110 mm wide".to_string(), "20 mm to keep".to_string(), "140 mm apart".to_string()],
        advice: "ask whoever laminated it",
        not_by: &[Set("passage/oil cooler/ram-inlet/outline", r#"{ most_width = "150 mm" }"#)],
    },
];
