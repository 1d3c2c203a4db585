//! Every solution closes: mass, heat and pressure, added up again from what is published of it.

use super::cars;
use super::support::Ready;
use crate::network::balance;
use proptest::prelude::*;

proptest! {
    #![proptest_config(crate::invariants::config(300))]

    #[test]
    fn any_car_is_solved_and_closes(car in cars::car()) {
        let ready = Ready::of(&car);
        for (index, condition) in ready.solve().iter().enumerate() {
            let at = format!("{}\n{}", car.text(), condition.name);
            prop_assert!(condition.residual <= 1e-9, "{at}: {}", condition.residual);
            let errors = balance::errors(&ready.case, &ready.model, condition, index);
            // twice: a part that nothing cools is given 1e-12 W/K, which is not published
            prop_assert!(errors.worst() <= 2e-9, "{at}: {errors:?}");
        }
    }
}
