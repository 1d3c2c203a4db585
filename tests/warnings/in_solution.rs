//! Warnings that show in a solution.

use crate::in_laws::SUNK;
use crate::support::Edit::{self, Add, Replace, Set};
use crate::support::{Probe, Seen, engine_speed, texts};
use slowcorner::air::{Air, standard_atmosphere, transport};

const VENT: Edit = Add(r#"
[[passage]]
name = "vent"
from = "outside"
to = "bay"
element = [{ kind = "ram-inlet", area = "30 cm2", recovery = 0.9, recirculation = { from = "exits", share = "6 %" } }]
"#);

const GEARBOX_HEAT: Edit = Replace("bay = \"1 %\"", "bay = \"1 %\"\ngearbox = \"2 %\"");
const GEARBOX: Edit = Add(r#"
[part.gearbox]
limit = "140 degC"
measured_at = "sump"
bay_conductance = "1 W/K"

[[passage]]
name = "gearbox"
from = "outside"
to = "outside"
element = [
  { kind = "wall-inlet", area = "200 cm2" },
  { kind = "fan", speed = "3000 rpm", reference_speed = "3000 rpm", curve = [["0 m3/s", "450 Pa"], ["0.3 m3/s", "200 Pa"], ["0.5 m3/s", "0 Pa"]] },
  { kind = "fins", part = "gearbox", reference_flow = "0.2 kg/s", conductance = "40 W/K", pressure_drop = "150 Pa" },
  { kind = "exit", area = "200 cm2", pressure_coefficient = 0.5 },
]
"#);

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

/// A box whose two openings lie where the body pushes alike, so that nothing drives its air.
const BOX: Edit = Add(r#"
[[passage]]
name = "box in"
from = "outside"
to = "box"
element = [{ kind = "leak", area = "9 cm2" }]
[[passage]]
name = "box out"
from = "box"
to = "outside"
element = [{ kind = "leak", area = "9 cm2" }]
"#);
const BOX_HEAT: Edit = Replace("bay = \"1 %\"", "bay = \"1 %\"\nbox = \"0.05 %\"");
const BOX_WALLS: Edit = Add("[chamber.box]\nskin_conductance = \"2 W/K\"\n");
const BOX_WITHOUT_WALLS: Edit = Add("[chamber.box]\nskin_conductance = \"0 W/K\"\n");
const BOX_DRIVEN: Edit = Set("passage/box out/leak/pressure_coefficient", "-0.3");

fn kilograms(flow: f64) -> String {
    let size = flow.abs();
    if size >= 0.01 { format!("{size:.3} kg/s") } else { format!("{:.2} g/s", size * 1e3) }
}

/// The car's day: 24 °C, 45 %, 120 m.
fn day() -> Air {
    Air::new(standard_atmosphere::pressure(120.0), 297.15, 0.0, 0.45)
}

/// The barrels' fins by their figures, and as many fine and close ones.
const FINS: &str = r#"part = "barrels", reference_flow = "0.3 kg/s", conductance = "80 W/K", pressure_drop = "230 Pa", area = "180 cm2""#;
const CLOSE: &str = r#"part = "barrels", area = "180 cm2", fin_pitch = "2.5 mm", fin_thickness = "1 mm", fin_length = "18 mm", root_diameter = "90 mm", fin_count = 60, cylinders = 8"#;

pub const PROBES: &[Probe] = &[
    Probe {
        code: "inlet-blows-out",
        place: "passage/vent",
        raised_by: &[VENT],
        figures: |seen| {
            let vent = seen.passage("hairpin", "vent");
            let bay = seen.condition("hairpin").chambers[0].temperature_C;
            vec![kilograms(vent.mass_flow_kg_s), format!("{bay:.0} °C"), "hot air from bay".to_string()]
        },
        advice: "larger exits",
        // a seam has no right way round
        not_by: &[Add(r#"
[[passage]]
name = "vent"
from = "outside"
to = "bay"
element = [{ kind = "leak", area = "30 cm2" }]
"#)],
    },
    Probe {
        // fan: 450 Pa × 1.17/1.2 against 0.5 × 823 Pa, more with cold air, less with warm
        code: "two-steady-states",
        place: "passage/cylinders/fan",
        raised_by: &[GEARBOX, GEARBOX_HEAT],
        figures: |seen| {
            let part = &seen.condition("straight").parts[3];
            vec![format!("gearbox at {:.0} °C", part.temperature_C), "in straight".to_string()]
        },
        advice: "reckon with the hotter",
        not_by: &[GEARBOX, GEARBOX_HEAT, Set("passage/gearbox/exit/pressure_coefficient", "0.2")],
    },
    Probe {
        // 0.05 % of the fuel through 2 W/K of wall
        code: "air-stands",
        place: "chamber/box/skin_conductance",
        raised_by: &[BOX, BOX_HEAT, BOX_WALLS],
        figures: |seen| {
            let straight = seen.condition("straight");
            let held_at = straight.air_temperature_C + 0.0005 * straight.fuel_power_W / 2.0;
            vec![format!("hold it at {held_at:.0} °C"), "in straight".to_string()]
        },
        advice: "look for what drives its air",
        not_by: &[BOX, BOX_HEAT, BOX_WALLS, BOX_DRIVEN],
    },
    Probe {
        code: "heat-without-end",
        place: "chamber/box/skin_conductance",
        raised_by: &[BOX, BOX_HEAT, BOX_WITHOUT_WALLS],
        figures: |_| vec!["the air in box stands".to_string()],
        advice: "write what its walls let through",
        not_by: &[BOX, BOX_HEAT, BOX_WALLS],
    },
    Probe {
        code: "exit-draws-in",
        place: "passage/slot",
        raised_by: &[Add(r#"
[[passage]]
name = "slot"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "40 cm2", pressure_coefficient = 0.5 }]
"#)],
        figures: |seen| {
            let slot = seen.passage("straight", "slot");
            vec![kilograms(slot.mass_flow_kg_s), "at 25 °C".to_string(), "in straight".to_string()]
        },
        advice: "close it",
        not_by: &[Add(r#"
[[passage]]
name = "slot"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "40 cm2", pressure_coefficient = 0.05 }]
"#)],
    },
    Probe {
        code: "passage-runs-back",
        place: "passage/box to bay",
        raised_by: &[Add(r#"
[[passage]]
name = "box seams"
from = "outside"
to = "box"
element = [{ kind = "leak", area = "20 cm2" }]
[[passage]]
name = "box to bay"
from = "box"
to = "bay"
element = [{ kind = "duct", diameter = "40 mm", length = "200 mm" }]
"#)],
        figures: |seen| {
            let worst = ["queue", "hairpin", "straight"]
                .map(|name| seen.passage(name, "box to bay").mass_flow_kg_s)
                .into_iter()
                .fold(0.0, f64::min);
            vec![kilograms(worst), "from bay to box".to_string()]
        },
        advice: "swap from and to",
        not_by: &[Add(r#"
[[passage]]
name = "box seams"
from = "box"
to = "outside"
element = [{ kind = "leak", area = "20 cm2" }]
[[passage]]
name = "bay to box"
from = "bay"
to = "box"
element = [{ kind = "duct", diameter = "40 mm", length = "200 mm" }]
"#)],
    },
    Probe {
        code: "recirculation-off",
        place: "passage/vent/ram-inlet/recirculation/share",
        raised_by: &[VENT],
        figures: |seen| vec!["6 %".to_string(), kilograms(seen.passage("hairpin", "vent").mass_flow_kg_s)],
        advice: "cure the passage",
        not_by: &[Set("passage/oil cooler/ram-inlet/recirculation/share", "10 %")],
    },
    Probe {
        code: "inlet-spills",
        place: "passage/carburettor/ram-inlet",
        raised_by: &[Set("passage/carburettor/ram-inlet/area", "60 cm2")],
        figures: |seen| {
            // the slower of the two against its stream
            let ratio = |name: &str, speed: f64| {
                seen.passage(name, "carburettor").elements[0].velocity_m_s.unwrap() / speed
            };
            let worst = ratio("hairpin", 12.5).min(ratio("straight", 37.5));
            vec![format!("at {worst:.2} of"), format!("about {:.1} cm²", 60.0 * worst / 0.3)]
        },
        advice: "make the inlet smaller",
        not_by: &[Set("passage/carburettor/ram-inlet/area", "18 cm2")],
    },
    Probe {
        code: "nothing-moves-the-air",
        place: "condition/queue",
        raised_by: &[Set("passage/cylinders/fan/off", "true"), Set("passage/oil cooler/fan/off", "true")],
        figures: |seen| {
            let heat: f64 = seen.condition("queue").heat_to.iter().map(|(_, heat)| heat).sum();
            vec!["1700 rpm".to_string(), "all 2 fans stand".to_string(), format!("{heat:.0} W")]
        },
        advice: "add a fan",
        not_by: &[Set("passage/cylinders/fan/off", "true")],
    },
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
    Probe {
        code: "chamber-pressure",
        place: "chamber/bay",
        raised_by: &[
            Replace(
                r#"["0 m3/s", "1400 Pa"], ["0.25 m3/s", "1150 Pa"]"#,
                r#"["0 m3/s", "14000 Pa"], ["0.25 m3/s", "11500 Pa"]"#,
            ),
            Set("passage/exits/exit/area", "15 cm2"),
        ],
        figures: |seen| {
            let highest = seen.conditions.iter().map(|c| c.chambers[0].gauge_pressure_Pa).fold(0.0, f64::max);
            vec![format!("{highest:+.0} Pa"), format!("{:.1} % of", 100.0 * highest / day().pressure)]
        },
        advice: "fan's curve",
        not_by: &[Set("passage/exits/exit/area", "15 cm2")],
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
        code: "panel-temperature",
        place: "chamber/bay",
        raised_by: &[Set("engine/heat/bay", "5 %")],
        figures: |seen| {
            let hottest = seen.conditions.iter().map(|c| c.chambers[0].temperature_C).fold(0.0, f64::max);
            vec![format!("{hottest:.0} °C"), "60 to 80 °C".to_string()]
        },
        advice: "shield the panels",
        not_by: &[Set("engine/heat/bay", "1.5 %")],
    },
    Probe {
        code: "below-least",
        place: "part/oil/least",
        raised_by: &[Set("part/oil/least", "60 degC")],
        figures: |seen| {
            let oil = seen.condition("queue").parts[2].temperature_C;
            vec!["60 °C".to_string(), format!("{oil:.0} °C"), "(in queue)".to_string()]
        },
        advice: "warm = true",
        not_by: &[Set("part/oil/least", "40 degC")],
    },
    Probe {
        code: "least-missed",
        place: "part/oil/least",
        raised_by: &[Set("part/oil/least", "60 degC"), Set("condition/queue/warm", "true")],
        figures: |_| texts(["60 °C", "counts as missed"]),
        advice: "tape part of its opening",
        not_by: &[Set("part/oil/least", "40 degC"), Set("condition/queue/warm", "true")],
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
];

#[test]
fn one_warning_names_all_conditions_and_quotes_the_worst() {
    let seen = Seen::with(&[Set("engine/heat/bay", "5 %")]);
    let message = seen.message("panel-temperature", "chamber/bay");
    let bay = |name| seen.condition(name).chambers[0].temperature_C;
    assert!(bay("queue") < 80.0 && bay("hairpin") > 80.0 && bay("straight") > 80.0);
    let worst = if bay("hairpin") > bay("straight") { "hairpin" } else { "straight" };
    assert!(message.contains(&format!("(in hairpin, straight; worst in {worst})")), "{message}");
    assert!(message.contains(&format!("{:.0} °C", bay(worst))), "{message}");
}

#[test]
fn an_inlet_held_up_by_its_chamber_is_not_called_too_large() {
    let seen = Seen::with(&[VENT, Set("passage/vent/ram-inlet/recovery", "0.19")]);
    let straight = seen.condition("straight");
    assert!(straight.passages.last().unwrap().mass_flow_kg_s > 0.0);
    let message = seen.message("inlet-spills", "passage/vent/ram-inlet");
    let pressure = format!("held up by the {:.0} Pa of bay", straight.chambers[0].gauge_pressure_Pa);
    assert!(message.contains(&pressure) && !message.contains("smaller"), "{message}");
}

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

#[test]
fn conditions_that_the_case_does_not_name_are_passed_over() {
    let mut seen = Seen::with(&[Set("engine/heat/bay", "5 %")]);
    for condition in &mut seen.conditions {
        condition.name = format!("point of {}", condition.name);
    }
    let found = slowcorner::warnings::of_conditions(&seen.case, &seen.model, &seen.conditions);
    assert_eq!(found, []);
}
