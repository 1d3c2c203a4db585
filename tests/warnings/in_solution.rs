//! Warnings that show in a solution.

use crate::warnings::support::Edit::{self, Add, Replace, Set};
use crate::warnings::support::{Probe, Seen, texts};
use slowcorner::air::{Air, standard_atmosphere};

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

pub fn kilograms(flow: f64) -> String {
    let size = flow.abs();
    if size >= 0.01 { format!("{size:.3} kg/s") } else { format!("{:.2} g/s", size * 1e3) }
}

/// The car's day: 24 °C, 45 %, 120 m.
pub fn day() -> Air {
    Air::new(standard_atmosphere::pressure(120.0), 297.15, 0.0, 0.45)
}

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
        code: "chamber-over-limit",
        place: "chamber/bay",
        raised_by: &[Set("engine/heat/bay", "5 %"), Set("chamber/bay/limit", "75 degC")],
        figures: |seen| {
            let hottest = seen.conditions.iter().map(|c| c.chambers[0].temperature_C).fold(0.0, f64::max);
            vec![format!("{hottest:.0} °C"), "over its limit, 75 °C".to_string()]
        },
        advice: "vent the chamber",
        // by its own limit it is cool enough, whatever polyester would say
        not_by: &[Set("engine/heat/bay", "5 %"), Set("chamber/bay/limit", "140 degC")],
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
fn a_limit_that_is_typed_takes_the_place_of_what_resin_stands() {
    for limit in ["75 degC", "140 degC"] {
        let seen = Seen::with(&[Set("engine/heat/bay", "5 %"), Set("chamber/bay/limit", limit)]);
        assert!(seen.warnings.iter().all(|warning| warning.code != "panel-temperature"), "{limit}");
    }
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
fn conditions_that_the_case_does_not_name_are_passed_over() {
    let mut seen = Seen::with(&[Set("engine/heat/bay", "5 %")]);
    for condition in &mut seen.conditions {
        condition.name = format!("point of {}", condition.name);
    }
    let found = slowcorner::warnings::of_conditions(&seen.case, &seen.model, &seen.conditions);
    assert_eq!(found, []);
}
