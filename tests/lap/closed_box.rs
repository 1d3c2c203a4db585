//! A hot body in a box through which no air moves: still air and radiation to walls that the day's air cools.

use crate::lap::run;

/// Seconds, body and box (°C): scipy's LSODA at 1e-11 over the same balance written out anew, `closed_box.py`
/// beside this file. At 520 °C nine tenths of the heat are radiated, at 54 °C a half.
const SOLVED: &[(f64, f64, f64)] = &[
    (30.0, 484.7349, 377.1321),
    (120.0, 398.0380, 284.9442),
    (300.0, 283.1709, 176.3376),
    (600.0, 179.0637, 98.2421),
    (1200.0, 89.6812, 48.0188),
    (1800.0, 54.2872, 32.2807),
];

fn closed_box(surface: &str, seconds: f64) -> String {
    format!(
        r#"
format = 1
[day]
temperature = "20 degC"
pressure = "1013.25 hPa"
[engine]
displacement = "500 cm3"
power = [["1000 rpm", "10 kW"], ["6000 rpm", "10 kW"]]
[engine.heat]
pipes = 0.02
[part.pipes]
chamber = "box"
mass = "4 kg"
material = "steel"
{surface}
source_temperature = "850 degC"
share_at = "500 degC"
[chamber.box]
skin_conductance = "6 W/K"
[[passage]]
name = "hole"
from = "box"
to = "outside"
element = [{{ kind = "exit", area = "1 cm2" }}]
[[condition]]
name = "stopped"
speed = "0 km/h"
rpm = "0 rpm"
[[stint]]
name = "soak"
start = "520 degC"
step = [{{ condition = "stopped", time = "{seconds} s" }}]
"#
    )
}

const SURFACE: &str = r#"surface = "0.3 m2"
surface_height = "60 mm"
emissivity = 0.75"#;

#[test]
fn a_hot_body_soaks_a_closed_box_as_solved() {
    for (seconds, body, air) in SOLVED {
        let stint = &run(&closed_box(SURFACE, *seconds), &[])[0];
        let (hot, around) = (
            stint.steps[0].parts.get("pipes").expect("the pipes").temperature_C,
            stint.steps[0].chambers.get("box").expect("the box").temperature_C,
        );
        // the step control keeps a body that nears its end within a few thousandths of a kelvin
        assert!((hot - body).abs() < 0.01, "{seconds} s: {hot} against {body}");
        assert!((around - air).abs() < 0.02, "{seconds} s: {around} against {air}");
    }
}

/// Of a part without limit nothing is asked: no margin, no time over a limit, and what it stores closes.
#[test]
fn a_store_of_heat_has_no_margin_in_time() {
    let stint = &run(&closed_box(SURFACE, 300.0), &[])[0];
    let over = stint.parts.get("pipes").expect("the pipes");
    assert!(over.limit_C.is_infinite() && over.temperature_margin_K.is_infinite());
    assert_eq!(over.over_limit_s, 0.0);
    assert!(over.energy_left_over.abs() < 1e-3, "{}", over.energy_left_over);
    let json = serde_json::to_value(stint).expect("a value");
    assert!(json["parts"]["pipes"]["limit_C"].is_null());
    assert!(json["parts"]["pipes"]["temperature_margin_K"].is_null());
    let soak = stint.standing.iter().find(|stands| stands.in_step.is_none()).expect("it stands at the end");
    assert_eq!(soak.parts.get("pipes").expect("the pipes").to_limit_s, None);
}
