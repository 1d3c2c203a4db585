//! The solved cases added up again: mass, heat and pressure must close to the error that the solver
//! claims, without its help.

use crate::network::balance;
use crate::network::solved_cases::CASES;
use slowcorner::point::{Model, conditions};

/// What the solver promises, with room for the rounding of temperatures that are published in
/// degrees Celsius: 6e-14 K of 300 K, times a few hundred watts to the kelvin.
const PROMISED: f64 = 1.01e-9;

#[test]
fn every_solved_case_closes() {
    let mut closed = 0;
    for (text, _) in CASES {
        let case = slowcorner::case::load(text, &[]).expect("a sound case").case;
        let model = Model::new(&case).expect("a sound model");
        let conditions = conditions::check(&case, &model).expect("a steady state");
        for (index, condition) in conditions.iter().enumerate() {
            let at = format!("{}, {}", case.title(), condition.name);
            assert!(condition.residual <= 1e-9, "{at}: {}", condition.residual);
            let errors = balance::errors(&case, &model, condition, index);
            assert!(errors.worst() <= PROMISED, "{at}: {errors:?}");
            closed += 1;
        }
    }
    assert_eq!(closed, 40, "conditions");
}

/// The re-addition is worth something only if it sees an error: each kind of number moved a little
/// must show.
#[test]
fn a_number_moved_is_found_out() {
    let (text, _) = CASES[0];
    let case = slowcorner::case::load(text, &[]).expect("a sound case").case;
    let model = Model::new(&case).expect("a sound model");
    let mut conditions = conditions::check(&case, &model).expect("a steady state");
    let hairpin = conditions.swap_remove(1);
    let moved = |change: &dyn Fn(&mut slowcorner::point::result::Condition)| {
        let mut condition = hairpin.clone();
        change(&mut condition);
        balance::errors(&case, &model, &condition, 1)
    };
    assert!(moved(&|c| c.passages[1].mass_flow_kg_s *= 1.0001).mass > 1e-6);
    assert!(moved(&|c| c.chambers[0].gauge_pressure_Pa += 0.01).pressure > 1e-6);
    assert!(moved(&|c| c.passages[0].elements[1].loss_Pa *= 1.0001).pressure > 1e-6);
    assert!(moved(&|c| c.parts[0].temperature_C += 0.01).part_heat > 1e-6);
    let fins = |c: &mut slowcorner::point::result::Condition| {
        let found = c.passages[0].elements.iter_mut().find(|e| e.part.is_some());
        found.expect("fins").outlet_temperature_C += 0.01;
    };
    assert!(moved(&fins).part_heat > 1e-6);
    assert!(moved(&|c| c.passages[0].outlet_temperature_C += 0.01).chamber_heat > 1e-6);
    assert!(moved(&|c| c.passages[3].outlet_temperature_C += 1.0).entering > 1e-6);
    assert!(moved(&|c| c.passages[4].last_velocity_head_Pa *= 1.0001).head > 1e-6);
}
