//! The bound on the heating of the engine's air holds a size where it is.

use crate::sizing::{case, sized};
use slowcorner::point::Model;
use slowcorner::point::conditions::check;

/// The engine draws from a box that 1 % of the fuel's heat warms: the smaller the box's inlet, the warmer its air.
const BOX: &str = r#"
format = 1
[day]
temperature = "20 degC"
[engine]
displacement = "900 cm3"
power = [["1000 rpm", "30 kW"], ["6000 rpm", "30 kW"]]
[engine.heat]
box = 0.01
[chamber.box]
skin_conductance = "0 W/K"
[[passage]]
name = "mouth"
from = "outside"
to = "box"
element = [{ kind = "ram-inlet", area = "60 cm2" }]
[[passage]]
name = "vent"
from = "box"
to = "outside"
element = [{ kind = "exit", area = "60 cm2", pressure_coefficient = -0.1 }]
[[passage]]
name = "carburettor"
from = "box"
to = "engine"
element = [{ kind = "duct", diameter = "60 mm", length = "200 mm", hose = "stretched" }]
[[condition]]
name = "straight"
speed = "100 km/h"
rpm = "5000 rpm"
[size]
free = ["mouth"]
least_area = "2 cm2"
most_carburettor_loss = "3 kPa"
most_carburettor_heating = "10 K"
"#;

#[test]
fn the_engines_air_warms_by_just_what_is_allowed() {
    let drawn = case(BOX);
    let found = sized(&drawn).sizes;
    assert!(found.feasible);
    let area = found.areas_m2.get("mouth").expect("sized");
    let text = BOX.replacen("area = \"60 cm2\"", &format!("area = \"{} cm2\"", area * 1e4), 1);
    let sized = case(&text);
    let model = Model::new(&sized).expect("a model");
    let solved = check(&sized, &model).expect("solved");
    let heating = solved[0].carburettor.as_ref().expect("a carburettor").temperature_C - 20.0;
    assert!((heating - 10.0).abs() < 0.05, "{heating} K at {} cm2", area * 1e4);
}
