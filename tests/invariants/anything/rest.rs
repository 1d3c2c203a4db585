//! Nothing moves and nothing burns: a car at rest has an answer too.

use super::cars;
use super::support::Ready;
use crate::network::balance;
use proptest::prelude::*;

/// A condition at rest.
fn at_rest(name: &str, rpm: &str) -> String {
    format!("name = {name:?}\nspeed = \"0 km/h\"\nrpm = \"{rpm}\"")
}

proptest! {
    #![proptest_config(crate::invariants::config(200))]

    #[test]
    fn a_car_at_rest_is_solved(car in cars::car()) {
        let mut car = car;
        car.conditions = vec![at_rest("engine off", "0 rpm"), at_rest("engine running", "3000 rpm")];
        let ready = Ready::of(&car);
        for (index, condition) in ready.solve().iter().enumerate() {
            let at = format!("{}\n{}", car.text(), condition.name);
            let errors = balance::errors(&ready.case, &ready.model, condition, index);
            prop_assert!(errors.worst() <= 2e-9, "{at}: {errors:?}");
            prop_assert_eq!(condition.dynamic_pressure_Pa, 0.0);
            prop_assert!(condition.cooling_drag_area_m2.is_none());
            prop_assert!(condition.chambers.iter().all(|c| c.pressure_coefficient.is_none()));
        }
    }

    #[test]
    fn nothing_moves_and_all_is_as_warm_as_the_day(car in cars::car()) {
        let mut car = car;
        for element in car.ways.iter_mut().flat_map(|way| way.elements.iter_mut()) {
            // a fan that an electric motor turns would go on
            *element = element.replace(r#""fan", speed"#, r#""fan", drive_ratio = 1.0, top_speed"#);
        }
        car.conditions = vec![at_rest("engine off", "0 rpm")];
        let ready = Ready::of(&car);
        for condition in ready.solve() {
            for passage in &condition.passages {
                prop_assert!(passage.mass_flow_kg_s.abs() < 1e-5, "{}\n{}", car.text(), passage.name);
            }
            for chamber in &condition.chambers {
                prop_assert!(chamber.gauge_pressure_Pa.abs() < 1e-6, "{}\n{}", car.text(), chamber.name);
                prop_assert!((chamber.temperature_C - condition.air_temperature_C).abs() < 1e-6, "{}\n{}", car.text(), chamber.name);
            }
            prop_assert!(condition.cooling_drag_N.abs() < 1e-6 && condition.fan_power_W == 0.0);
        }
    }
}
