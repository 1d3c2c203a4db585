//! The load that a car's speeding up, its drag and its rolling ask for, by hand.

use crate::lap::load;
use slowcorner::point::Operation;
use slowcorner::study::lap::pace::Finder;

fn car(more: &str) -> String {
    format!(
        r#"
format = 1
[day]
temperature = "15 degC"
pressure = "1013.25 hPa"
[engine]
displacement = "900 cm3"
power = [["1000 rpm", "30 kW"], ["6000 rpm", "30 kW"]]
power_basis = "as-measured"
[engine.heat]
body = 0.05
[part.body]
limit = "200 degC"
chamber = "outside"
bay_conductance = "50 W/K"
heat_capacity = "6 kJ/K"
[drive]
tyre_radius = "300 mm"
final_drive = 4
gears = [2, 1]
car = {{ mass = "400 kg", drag_area = "0.5 m2", rolling_resistance = 0.015{more} }}
[[passage]]
name = "through"
from = "outside"
to = "outside"
element = [{{ kind = "wall-inlet", area = "10 cm2" }}, {{ kind = "exit", area = "10 cm2" }}]
[[condition]]
name = "on"
speed = "0 km/h"
rpm = "3000 rpm"
"#
    )
}

fn found(text: &str, speed: f64, acceleration: f64) -> f64 {
    let (case, model) = load(text);
    let operation = Operation::at_speed(&case, speed, 3000.0, 1.0);
    Finder::new(&case, &model, &operation).load(speed, 3000.0, acceleration)
}

/// 20 m/s, 1 m/s²: 1.05 × 400 × 1 + ½ × 1.2250 × 0.5 × 400 + 0.015 × 400 × 9.80665 = 601.3 N, 12 026.8 W at the wheels;
/// over 0.92 (the default, common practice) and 30 kW a load of 0.4358; 5 % of the mass turn (common practice).
#[test]
fn the_load_of_a_car_that_speeds_up() {
    let wanted: f64 = 20.0 * (420.0 + 122.5 + 58.84) / (0.92 * 30e3);
    assert!((wanted - 0.4358).abs() < 1e-4);
    let load = found(&car(""), 20.0, 1.0);
    assert!((load - wanted).abs() < 2e-4, "{load} for {wanted}");
    // what is written of the driveline is taken
    let better = found(&car(", efficiency = \"97 %\""), 20.0, 1.0);
    assert!((better / load - 0.92 / 0.97).abs() < 1e-9, "{better}");
}

#[test]
fn a_car_that_slows_down_by_itself_asks_for_nothing() {
    // drag and rolling are 181 N: at 0.4 m/s² and more the car slows down by itself
    assert_eq!(found(&car(""), 20.0, -0.5), 0.0);
    assert!(found(&car(""), 20.0, -0.4) > 0.0);
    // more than the engine has is its full load
    assert_eq!(found(&car(""), 20.0, 4.0), 1.0);
}

/// The lowest gear that is usable; the clutch slips below it, and above the last gear the engine overruns.
#[test]
fn engine_speed_by_the_gear() {
    let (case, model) = load(&car(""));
    let operation = Operation::at_speed(&case, 20.0, 3000.0, 1.0);
    let finder = Finder::new(&case, &model, &operation);
    // 60/(2π 0.3 m) × 2 × 4 = 254.65 rpm a m/s in first gear
    for (speed, rpm) in [(10.0, 2546.5), (30.0, 3819.7), (1.0, 1000.0), (60.0, 7639.4)] {
        let got = finder.rpm(speed).expect("gears");
        assert!((got - rpm).abs() < 0.1, "{speed} m/s: {got} for {rpm}");
    }
}
