//! States that a solver of smooth equations does not find by itself, with what is known of each.

use crate::network::balance;
use slowcorner::air::Air;
use slowcorner::case::{Case, load};
use slowcorner::element::{ConstantLoss, FreeStream, Law, Resistance};
use slowcorner::network::{BoundaryConditions, Network, NetworkState, PassageEnd, Solver};
use slowcorner::point::result::Condition;
use slowcorner::point::{Model, conditions};

/// A bay with heat, its passages and one condition.
fn solve(passages: &str, condition: &str) -> (Case, Condition) {
    let text = format!(
        r#"format = 1
[day]
temperature = "20 degC"
[engine]
displacement = "1200 cm3"
power = [["2000 rpm", "20 kW"], ["6000 rpm", "60 kW"]]
power_basis = "as-measured"
[engine.heat]
bay = "4 %"
[chamber.bay]
skin_conductance = "2 W/K"
{passages}
[[condition]]
name = "only"
{condition}
"#
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    let condition =
        conditions::check(&case, &model).unwrap_or_else(|error| panic!("{error}\n{text}")).remove(0);
    let errors = balance::errors(&case, &model, &condition, 0);
    assert!(errors.worst() <= 2e-9, "{errors:?}\n{text}");
    (case, condition)
}

#[test]
fn an_engine_that_runs_in_air_that_stands() {
    // nothing moves the air: all the heat of the bay goes through its skin, T = T_day + Q/U, however
    // absurd the temperature that this asks for
    let passages = r#"
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{ kind = "ram-inlet", area = "90 cm2", recovery = 0.9 }]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "120 cm2", pressure_coefficient = -0.1 }]
"#;
    for (rpm, load) in [(1000.0, 0.0), (6000.0, 1.0)] {
        let (_, found) = solve(passages, &format!("speed = \"0 km/h\"\nrpm = \"{rpm} rpm\"\nload = {load}"));
        let heat = *found.heat_to.get("bay").expect("heat");
        assert!(heat > 100.0);
        let rise = found.chambers[0].temperature_C - found.air_temperature_C;
        assert!((rise - heat / 2.0).abs() < 1e-5 * rise, "{rise} K for {heat} W");
        assert!(found.passages.iter().all(|p| p.mass_flow_kg_s.abs() < 1e-5));
    }
}

#[test]
fn a_fan_that_hot_air_stops_and_cold_air_turns() {
    // An electric fan blows out of the bay against the stream's pressure on its exit. Air that comes in
    // through the exit is cold and dense, and the fan would turn it round; air that the bay has heated
    // is thin, and the fan cannot hold it against the stream. The fan stalls: air all but stands there.
    let passages = r#"
[[passage]]
name = "seam"
from = "outside"
to = "bay"
element = [{ kind = "leak", area = "12 cm2", pressure_coefficient = -0.12 }]
[[passage]]
name = "fan"
from = "bay"
to = "outside"
count = 2
element = [
  { kind = "fan", speed = "3600 rpm", reference_speed = "6000 rpm", diameter = "150 mm", curve = [["0 m3/s", "880 Pa"], ["0.2 m3/s", "730 Pa"], ["0.5 m3/s", "0 Pa"]] },
  { kind = "exit", area = "200 cm2", pressure_coefficient = 0.21 },
]
"#;
    let (_, found) = solve(passages, "speed = \"136 km/h\"\nrpm = \"5500 rpm\"\nclear_air = 0.72");
    let fan = &found.passages[1];
    let speed = fan.elements[1].velocity_m_s.expect("an area");
    assert!(speed < 0.5, "{speed} m/s");
    // what the fan pushes lies between what it would push of the bay's air and of the day's
    let push = fan.elements[0].push_Pa;
    let cold = 0.36 * 880.0 * found.air_density_kg_m3 / 1.2;
    let hot = cold * (found.air_temperature_C + 273.15) / (found.chambers[0].temperature_C + 273.15);
    assert!(hot < push && push < cold, "{hot} {push} {cold} Pa");
}

#[test]
fn a_fan_that_draws_from_the_bay_starts_cold() {
    // More air, colder air, denser air, more push: two states keep themselves up, one of a blowing fan
    // and one of a bay so hot that the fan moves nothing. From the start that is always taken, with air
    // moving and everything lukewarm, the blowing one is found.
    let passages = r#"
[[passage]]
name = "seams"
from = "outside"
to = "bay"
element = [{ kind = "leak", area = "14 cm2", discharge = 0.6 }]
[[passage]]
name = "fan"
from = "bay"
to = "outside"
element = [
  { kind = "fan", drive_ratio = 2, reference_speed = "6000 rpm", diameter = "200 mm", curve = [["0 m3/s", "1500 Pa"], ["0.28 m3/s", "1240 Pa"], ["0.5 m3/s", "745 Pa"], ["0.65 m3/s", "0 Pa"]] },
  { kind = "exit", area = "90 cm2", discharge = 0.75, pressure_coefficient = 0.26 },
]
"#;
    let (_, found) = solve(passages, "speed = \"20 km/h\"\nrpm = \"5500 rpm\"\nload = 0.15");
    let temperature = found.chambers[0].temperature_C;
    assert!((20.0..120.0).contains(&temperature), "{temperature} °C");
    assert!(found.passages[1].mass_flow_kg_s > 0.01);
}

#[test]
fn what_is_not_a_number_is_no_solution() {
    let mut network = Network::new(Vec::new(), Vec::new());
    let law =
        ConstantLoss { area_of_one: 0.01, pieces: 1.0, resistance: Resistance::constant(f64::NAN, 0.01) };
    network.add_passage(PassageEnd::Outside, PassageEnd::Outside, vec![(Law::Loss(law), None)], None);
    let moment = FreeStream::new(Air::new(101_325.0, 293.15, 0.0, 0.0), 0.0, 0.0, 1.0, 0.0);
    network.prepare(&moment, &[0.0]);
    let load = BoundaryConditions::new(&moment, &network);
    let mut state = NetworkState::first_guess(&network, &load);
    assert!(Solver::new(&network).solve(&network, &load, &mut state).is_err());
}

#[test]
fn of_several_states_one_that_holds_itself_is_shown() {
    // A bay whose fan turns ever faster, the car standing: from 270 to 320 rpm the air can settle in two ways, and between
    // them lies a third state that no run in time stays in. What is shown follows one way all along.
    let text = include_str!("../../cases/stubble-buggy.toml");
    let mut before: Option<Vec<f64>> = None;
    for step in 0..=10 {
        let speed = format!("{} rpm", 270 + 5 * step);
        let set = [("passage/fan/fan/speed".to_string(), speed.clone())];
        let case = load(text, &set).expect("sound").case;
        let model = Model::new(&case).expect("ready");
        let found = conditions::check(&case, &model).expect("solved");
        let waiting = found.iter().find(|condition| condition.name == "waiting").expect("a condition");
        let parts: Vec<f64> = waiting.parts.iter().map(|part| part.temperature_C).collect();
        if let Some(before) = before.replace(parts.clone()) {
            let apart = parts.iter().zip(&before).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(apart < 6.0, "{speed}: {parts:?} after {before:?}");
        }
    }
}
