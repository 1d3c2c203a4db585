//! A model changed in place for a draw against one built anew with the same numbers.

use slowcorner::case::{Case, load};
use slowcorner::draws::{Car, Guesses};
use slowcorner::numerics::sobol::Sobol;
use slowcorner::point::{Model, Operation, PointSolver};

const DRAWS: u32 = 24;

/// Margins of every condition and part of a case as it stands; none where a condition has no steady state.
fn anew(case: &Case) -> Option<Vec<f64>> {
    let model = Model::new(case).ok()?;
    let mut margins = Vec::new();
    for condition in &case.conditions {
        let mut solver = PointSolver::new(&model);
        solver.prepare(&model, &Operation::of_condition(case, &model, &condition.values));
        solver.solve().ok()?;
        // a store of heat has no margin
        let parts = solver.network.parts.iter().enumerate().filter(|(_, law)| law.has_limit());
        margins.extend(parts.map(|(part, law)| law.limit - solver.state.part_temperature(part)));
    }
    Some(margins)
}

fn compare(name: &str, text: &str) {
    let case = load(text, &[]).unwrap_or_else(|faults| panic!("{name}: {faults:?}")).case;
    let guesses = Guesses::of(&case);
    assert!(guesses.list.len() >= 8, "{name}: {}", guesses.list.len());
    let sobol = Sobol::new(guesses.dimensions, 11);
    let mut point = vec![0.0; guesses.dimensions];
    let mut car = Car::new(&case, &guesses).expect("a car");
    let (mut compared, mut moved) = (0, 0.0_f64);
    let taken = anew(&case);
    for index in 0..DRAWS {
        sobol.point(index, &mut point);
        if car.take(&point).is_err() {
            continue;
        }
        let mut in_place = Vec::new();
        let mut solved = true;
        for condition in 0..car.conditions() {
            solved &= car.solve(condition);
            in_place
                .extend((0..car.parts()).map(|part| car.margin(part)).filter(|margin| margin.is_finite()));
        }
        let Some(anew) = anew(car.case()).filter(|_| solved) else { continue };
        for (got, wanted) in in_place.iter().zip(&anew) {
            assert!((got - wanted).abs() < 1e-4, "{name}, draw {index}: {got} in place, {wanted} anew");
        }
        compared += 1;
        if let Some(taken) = &taken {
            moved = in_place.iter().zip(taken).fold(moved, |most, (a, b)| most.max((a - b).abs()));
        }
    }
    assert!(compared * 10 >= DRAWS * 8, "{name}: {compared} draws of {DRAWS} compared");
    assert!(moved > 5.0, "{name}: draws move nothing, {moved}");
}

#[test]
fn demo_cases() {
    compare("quarry sprinter", include_str!("../../cases/quarry-sprinter.toml"));
    compare("causeway trike", include_str!("../../cases/causeway-trike.toml"));
    compare("orchard cyclecar", include_str!("../../cases/orchard-cyclecar.toml"));
    compare("stubble buggy", include_str!("../../cases/stubble-buggy.toml"));
}

#[test]
fn everything_that_may_be_drawn_at_once() {
    let text = include_str!("../diagnostics/base.toml")
        .replace(r#"temperature = "27 degC""#, r#"temperature = "27 degC ± 4 K""#)
        .replace(r#"tyre_radius = "271 mm""#, r#"tyre_radius = "271 mm ± 6 mm""#)
        .replace(r#"["5000 rpm", "31 kW"]"#, r#"["5000 rpm", "30 kW ± 1 kW"]"#)
        .replace(r#"oil = "5 %""#, r#"oil = "5 % ± 1 %""#)
        .replace(r#"share = "6 %" }"#, r#"share = "6 % ± 4 %" }"#)
        .replace(r#"angle = "40 deg", radius"#, r#"angle = "40 deg ± 5 deg", radius"#)
        .replace(r#"width = "150 mm""#, r#"width = "150 mm ± 5 mm""#)
        .replace(r#"["0.3 m3/s", "900 Pa"]"#, r#"["0.3 m3/s", "900 Pa ± 60 Pa"]"#)
        .replace(r#"speed = "40 km/h""#, r#"speed = "36..44 km/h""#)
        .replace(r#"area = "48 cm2""#, r#"area = "48 cm2 ± 5 %""#)
        .replace(r#"exit", area = "190 cm2", edge"#, r#"exit", area = "190 cm2 ± 8 %", edge"#);
    compare("everything", &text);
}
