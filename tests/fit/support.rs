use slowcorner::case::{Loaded, load};
use slowcorner::readings::file;
use slowcorner::readings::taken::Readings;
use slowcorner::study::doubt::LeastOver;
use slowcorner::study::fit::{FittedLeft, fit, result::Fit};
use std::path::Path;
use std::process::Command;

/// Standard normal deviate that 9 in 10 stay within, as in tables.
pub const NINE_IN_TEN: f64 = 1.644_853_626_951;

/// A small engine whose car has no part, and the spaces and passages that are given: all that a blower on the bench meets.
pub fn spaces(body: &str) -> String {
    format!("{BENCH}{body}{RUN}")
}

const BENCH: &str = r#"format = 1
[day]
temperature = "25 degC"
[engine]
displacement = "500 cm3"
power = [["2000 rpm", "8 kW"], ["5000 rpm", "20 kW"]]
brake_efficiency = "25 %"
friction_pressure = "1.2 bar"
heat_exponent = 0.75
[engine.heat]
bay = "2 %"
"#;
const RUN: &str = r#"[[condition]]
name = "run"
speed = "50 km/h"
rpm = "3000 rpm"
load = "50 %"
"#;

/// Two hot blocks in the open, nothing guessed but what a test gives a band.
pub const BLOCKS: &str = r#"format = 1
title = "Two blocks"
[day]
temperature = "20 degC"
over_track = "0 K"
altitude = "0 m"
humidity = "0 %"
[engine]
displacement = "1000 cm3"
power = [["1000 rpm", "10 kW"], ["6000 rpm", "60 kW"]]
brake_efficiency = "25 %"
volumetric_efficiency = "85 %"
friction_pressure = "1.2 bar"
heat_exponent = 0.75
[engine.heat]
heads = "6 %"
barrels = "4 %"
[part.heads]
limit = "320 degC"
measured_at = "plug washer"
hottest_above_mean = "40 K"
bay_conductance = "40 W/K"
chamber = "outside"
source_temperature = "700 degC"
from_friction = "0 %"
share_at = "280 degC"
[part.barrels]
limit = "320 degC"
hottest_above_mean = "40 K"
bay_conductance = "40 W/K"
chamber = "outside"
source_temperature = "700 degC"
from_friction = "0 %"
share_at = "280 degC"
[[passage]]
name = "carburettor"
from = "outside"
to = "engine"
element = [{ kind = "ram-inlet", area = "30 cm2", recovery = 1, entry_loss = 0.05 }]
[[condition]]
name = "run"
speed = "50 km/h"
rpm = "3000 rpm"
load = "50 %"
[[condition]]
name = "hard run"
speed = "80 km/h"
rpm = "5000 rpm"
load = "80 %"
"#;

/// A case and what was read of it.
pub fn read(case: &str, readings: &str) -> (Loaded, Readings) {
    let loaded = load(case, &[]).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let readings = file::load(readings, &loaded).unwrap_or_else(|faults| panic!("{faults:#?}"));
    (loaded, readings)
}

/// The fit of a case to readings.
pub fn fitted(case: &str, readings: &str) -> (Fit, FittedLeft) {
    let (loaded, readings) = read(case, readings);
    fit(&loaded.case, &readings, &[], &LeastOver::all(&loaded.case), &|_| true)
        .unwrap_or_else(|why| panic!("{why:?}"))
}

/// Mean and spread of a guess, in normal scores.
pub fn score(left: &FittedLeft, address: &str) -> (f64, f64) {
    let guess = left.guesses.iter().find(|guess| guess.addresses.iter().any(|known| known.0 == address));
    let guess = guess.unwrap_or_else(|| panic!("{address} was not seen"));
    (guess.mean, guess.factor.iter().map(|x| x * x).sum::<f64>().sqrt())
}

/// The temperature of a part as `check` has it (°C).
pub fn temperature(case: &str, condition: usize, part: usize) -> f64 {
    let loaded = load(case, &[]).expect("a sound case");
    let model = slowcorner::point::Model::new(&loaded.case).expect("a model");
    let solved = slowcorner::point::conditions::solved_within(
        &loaded.case,
        &model,
        slowcorner::point::budget::Budget::seconds(5.0),
    );
    solved.conditions[condition].parts[part].temperature_C
}

/// The program.
pub fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_slowcorner"))
}

/// A demo's text.
pub fn demo(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("cases/{name}.toml"));
    std::fs::read_to_string(path).expect("a demo")
}
