//! Nothing jumps: where one number of a case runs smoothly, so do flows, pressures and temperatures.
//!
//! Each scan is made twice, the second time with half the step. The largest change from one point to the next must then fall
//! to about a half; where something jumps it stays as it was.

use slowcorner::case::load;
use slowcorner::point::result::Condition;
use slowcorner::point::{Model, conditions};

const CAR: &str = r#"
format = 1
day = { temperature = "24 degC" }
[engine]
displacement = "900 cm3"
power = [["1500 rpm", "9 kW"], ["5600 rpm", "34 kW"]]
heat = { heads = "11 %", oil = "4 %", bay = "2 %" }
[part.heads]
limit = "205 degC"
bay_conductance = "4 W/K"
[part.oil]
limit = "122 degC"
bay_conductance = "8 W/K"
[[passage]]
name = "blower"
from = "outside"
to = "bay"
element = [
  { kind = "ram-inlet", area = "120 cm2", recovery = 0.6, edge = "rounded" },
  { kind = "fan", speed = "3000 rpm", diameter = "180 mm", reference_speed = "4000 rpm", curve = [["0 m3/s", "420 Pa"], ["0.2 m3/s", "300 Pa"], ["0.36 m3/s", "0 Pa"]] },
  { kind = "duct", area = "150 cm2", length = "200 mm" },
  { kind = "fins", part = "heads", area = "170 cm2", front_area = "210 cm2", reference_flow = "0.3 kg/s", conductance = "150 W/K", pressure_drop = "350 Pa" },
]
[[passage]]
name = "cooler"
from = "outside"
to = "bay"
element = [
  { kind = "flush-inlet", width = "120 mm", height = "30 mm", boundary_layer = { run = "1 m" } },
  { kind = "duct", area = "60 cm2", length = "300 mm" },
  { kind = "core", part = "oil", area = "200 cm2", reference_flow = "0.15 kg/s", conductance = "90 W/K", pressure_drop = "150 Pa", oil_flow = "9 L/min" },
]
[[passage]]
name = "hose"
from = "bay"
to = "outside"
element = [
  { kind = "duct", area = "90 cm2", length = "200 mm" },
  { kind = "exit", area = "70 cm2", pressure_coefficient = -0.1 },
]
[[passage]]
name = "exit"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "160 cm2", pressure_coefficient = -0.15 }]
[[condition]]
name = "moving"
speed = "50 km/h"
rpm = "4000 rpm"
load = "40 %"
[[condition]]
name = "standing"
speed = "0 km/h"
rpm = "1500 rpm"
load = "4 %"
"#;

/// What is looked at in each condition, each over its size in the whole scan: flows, pressures, temperatures.
fn figures(condition: &Condition) -> Vec<f64> {
    let flows = condition.passages.iter().map(|p| p.mass_flow_kg_s / 0.1);
    let pressures = condition.chambers.iter().map(|c| c.gauge_pressure_Pa / 50.0);
    let chambers = condition.chambers.iter().map(|c| c.temperature_C / 50.0);
    let parts = condition.parts.iter().map(|p| p.temperature_C / 100.0);
    flows.chain(pressures).chain(chambers).chain(parts).collect()
}

fn solved(address: &str, value: &str) -> Vec<Vec<f64>> {
    let case = load(CAR, &[(address.to_string(), value.to_string())]);
    let case = case.unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let conditions = conditions::check(&case, &model).expect("every point is solved");
    conditions.iter().map(figures).collect()
}

/// The largest change between neighbours of a scan of so many steps.
fn largest_step(address: &str, unit: &str, (from, to): (f64, f64), steps: usize) -> (f64, f64) {
    let at = |i: usize| {
        let value = from + (to - from) * i as f64 / steps as f64;
        (value, solved(address, &format!("{value} {unit}")))
    };
    let mut before = at(0);
    let mut worst = (0.0, from);
    for i in 1..=steps {
        let here = at(i);
        for (a, b) in before.1.iter().flatten().zip(here.1.iter().flatten()) {
            if (a - b).abs() > worst.0 {
                worst = ((a - b).abs(), here.0);
            }
        }
        before = here;
    }
    worst
}

fn scan(address: &str, unit: &str, range: (f64, f64)) {
    let (coarse, _) = largest_step(address, unit, range, 100);
    let (fine, at) = largest_step(address, unit, range, 200);
    assert!(coarse > 1e-5, "{address}: nothing moves");
    assert!(fine < 0.7 * coarse, "{address} jumps near {at}: {fine} after {coarse}");
}

/// Where the air can settle in two ways the hotter is found at every setting, not at every other one: what is least over its
/// limit runs smoothly but where a state ends.
#[test]
fn the_hotter_of_two_states_flickers_at_no_setting() {
    let text = include_str!("../../cases/stubble-buggy.toml");
    let least = |rpm: u32| {
        let set = [("passage/fan/fan/speed".to_string(), format!("{rpm} rpm"))];
        let loaded = load(text, &set).expect("a sound case");
        let model = Model::new(&loaded.case).expect("ready");
        let found = conditions::check(&loaded.case, &model).expect("solved");
        let waiting = found.iter().find(|condition| condition.name == "waiting").expect("there");
        (waiting.least_kelvins(), waiting.other_state.is_some())
    };
    let found: Vec<(f64, bool)> = (52..=66).map(|five| least(5 * five)).collect();
    assert!(found.iter().all(|(_, has_other)| *has_other), "{found:?}");
    assert!(found.windows(2).all(|pair| (pair[0].0 - pair[1].0).abs() < 10.0), "{found:?}");
}

#[test]
fn a_fan_that_slows_to_a_stop() {
    scan("passage/blower/fan/speed", "rpm", (60.0, 0.0));
    scan("passage/blower/fan/speed", "rpm", (3000.0, 0.0));
}

#[test]
fn tape_that_begins() {
    for passage in ["blower", "cooler", "exit"] {
        for condition in ["moving", "standing"] {
            scan(&format!("condition/{condition}/taped/{passage}"), "%", (0.0, 20.0));
        }
    }
}

#[test]
fn an_area_that_passes_its_neighbours() {
    // fan 254 cm², duct, shroud 210 cm²
    scan("passage/blower/duct/area", "cm2", (190.0, 280.0));
    // inlet 36 cm², duct, core 200 cm²
    scan("passage/cooler/duct/area", "cm2", (30.0, 45.0));
    scan("passage/cooler/duct/area", "cm2", (190.0, 210.0));
    // a plain end, and an exit that holds the way in
    scan("passage/hose/duct/area", "cm2", (60.0, 80.0));
}

#[test]
fn a_stream_that_passes_the_speed_in_an_inlet_and_comes_to_rest() {
    scan("condition/moving/speed", "km/h", (0.0, 60.0));
}
