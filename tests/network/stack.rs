//! Warm air that rises through a standing car, added up by hand from what is told of it.

use slowcorner::point::{Model, conditions};

const STANDING: &str = r#"format = 1
[day]
temperature = "20 degC"
pressure = "1000 hPa"
[engine]
displacement = "900 cm3"
power = [["1000 rpm", "8 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
bay = "10 %"
[chamber.bay]
skin_conductance = "6 W/K"
[place.low]
pressure_coefficient = 0
above_ground = "250 mm"
[place.high]
pressure_coefficient = 0
above_ground = "950 mm"
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{ kind = "wall-inlet", area = "60 cm2", place = "low" }, { kind = "duct", area = "60 cm2", length = "300 mm" }]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{ kind = "duct", area = "80 cm2", length = "200 mm" }, { kind = "exit", area = "80 cm2", place = "high" }]
[[condition]]
name = "stands"
speed = "0 km/h"
rpm = "1200 rpm"
"#;

/// Each opening is driven by g (z − z_mean)(ρ_day − ρ_bay) outward; what drives less what is lost on the way is the
/// difference of pressure between its ends.
#[test]
fn warm_air_rises_as_it_is_told() {
    let case = slowcorner::case::load(STANDING, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    let solved = conditions::check(&case, &model).expect("a steady state");
    let found = &solved[0];
    let bay = &found.chambers[0];
    assert!(bay.temperature_C > 40.0, "{}", bay.temperature_C);
    // ρ T is the same in both
    let lighter = found.air_density_kg_m3 * (1.0 - 293.15 / (bay.temperature_C + 273.15));
    // from the mean of 0.6 m: in below it, against the way it is written; out above it
    let risen = 9.806_65 * 0.35 * lighter;
    for (passage, opening, gained) in [(0, 0, bay.gauge_pressure_Pa), (1, 1, -bay.gauge_pressure_Pa)] {
        let passage = &found.passages[passage];
        assert!(passage.mass_flow_kg_s > 1e-3, "{}: {}", passage.name, passage.mass_flow_kg_s);
        let told = passage.written().nth(opening).expect("an opening").push_Pa;
        assert!((told / risen - 1.0).abs() < 1e-6, "{}: {told}, not {risen}", passage.name);
        let sum: f64 = passage.elements.iter().map(|e| e.push_Pa - e.loss_Pa).sum();
        let sum = sum - passage.last_velocity_head_Pa;
        assert!((sum - gained).abs() < 1e-6 * risen, "{}: {sum}, not {gained}", passage.name);
    }
}
