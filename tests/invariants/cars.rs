//! Cars of random sizes in random conditions: each has a steady state, and its numbers add up.

use crate::invariants::text::{Car, Units, dice};
use crate::network::balance;
use proptest::prelude::*;
use slowcorner::case::load;
use slowcorner::point::{Model, Operation, PointSolver, conditions};

/// The solver's 1e-9, with room for the rounding of temperatures published in degrees Celsius.
const PROMISED: f64 = 1.01e-9;

proptest! {
    #![proptest_config(super::config(600))]

    #[test]
    fn mass_heat_and_pressure_close(dice in dice()) {
        let text = Car::new(&dice, Units::Metric).text();
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")).case;
        let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
        let conditions = conditions::check(&case, &model)
            .map_err(|error| TestCaseError::fail(format!("{error}\n{text}")))?;
        prop_assert!(conditions[0].residual <= 1e-9);
        let errors = balance::errors(&case, &model, &conditions[0], 0);
        prop_assert!(errors.worst() <= PROMISED, "{errors:?}\n{text}");
        // nothing is colder than the day, nothing hotter than its source or the chamber round it
        let found = &conditions[0];
        let hottest = found.chambers.iter().fold(600.0, |hottest: f64, c| hottest.max(c.temperature_C));
        for part in &found.parts {
            let allowed = found.air_temperature_C - 0.01..hottest + 0.01;
            prop_assert!(allowed.contains(&part.temperature_C), "{}: {} °C\n{text}", part.name, part.temperature_C);
        }
    }

    /// A sweep's points are begun from the one before: however it is cut into steps, it ends where one
    /// that begins there ends, unless a fan can be in two states.
    #[test]
    fn steps_of_a_sweep_do_not_show(dice in dice(), steps in 1_usize..9, from in 0.0..60.0_f64) {
        let text = Car::new(&dice, Units::Metric).text();
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}\n{text}")).case;
        let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
        let goal = Operation::of_condition(&case, &model, &case.conditions[0].values);
        let mut fresh = PointSolver::new(&model);
        fresh.prepare(&model, &goal);
        prop_assert!(fresh.solve().is_ok(), "{text}");
        let mut swept = PointSolver::new(&model);
        for step in 0..=steps {
            let share = step as f64 / steps as f64;
            let operation = Operation { speed: from + share * (goal.speed - from), ..goal.clone() };
            swept.prepare(&model, &operation);
            prop_assert!(swept.solve().is_ok(), "at {} m/s\n{text}", operation.speed);
        }
        prop_assert!(swept.residual <= 1e-9);
        // hot air thins a fan's push, so that a fan that blows, one that is blown through a little and one
        // that is blown through hard may each keep itself up; both states add up, and neither is wrong
        let blown_through = fresh.state.flow[0] < 0.0 || swept.state.flow[0] < 0.0;
        if blown_through && !text.contains("off = true") {
            return Ok(());
        }
        let largest = fresh.state.flow.iter().fold(1e-3, |largest: f64, flow| largest.max(flow.abs()));
        for (index, (one, two)) in fresh.state.flow.iter().zip(&swept.state.flow).enumerate() {
            prop_assert!((one - two).abs() <= 1e-4 * largest, "passage {index}: {one} {two}\n{text}");
        }
        for part in 0..3 {
            let (one, two) = (fresh.state.part_temperature(part), swept.state.part_temperature(part));
            prop_assert!((one - two).abs() <= 0.01, "part {part}: {one} {two}\n{text}");
        }
    }
}
