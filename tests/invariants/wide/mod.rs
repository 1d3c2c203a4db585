//! Cars of any kind, more of them and stranger than the other properties try: every one is solved.
//!
//! A few of one fixed seed are tried in every run; `SLOWCORNER_CARS=100000 cargo test --release --test laws invariants::wide --
//! --nocapture` tries as many as asked for (from `SLOWCORNER_FIRST_CAR` on) and prints how many steps they took
//! (`docs/solver.md` tells what came of it).

mod cars;
mod dice;
mod elements;
mod swept;

use crate::network::balance;
use slowcorner::case::{Case, load};
use slowcorner::point::{Model, Operation, PointSolver, describe};
use std::collections::BTreeMap;

/// Cars tried where the environment asks for no other number.
const CARS: u64 = 1500;
/// Codes by which some of them are refused: chance writes what does not fit.
const REFUSED: &[&str] = &[
    "chamber-closed",
    "chamber-unjoined",
    "demand-shares-over-one",
    "fan-beyond-air",
    "fan-curve-rises",
    "heat-shut-in",
    "no-inlet-area",
    "opening-too-small",
    "out-of-range",
    "unknown-name",
];
/// Cars that are known not to be solved, and why `docs/solver.md` says so.
const UNSOLVED: &[u64] = &[];
/// What balances may be off when they are added up again from the published numbers.
const ADDED_UP: f64 = 2e-9;
/// Temperature of a chamber's air beyond which nothing is added up again (°C): published figures round there, and no car is
/// near it.
const BEYOND: f64 = 1000.0;
/// How far below the day's air rounding may put a temperature (K).
const COLDER: f64 = 1e-6;

/// A car read and made ready; none where it is refused as chance may write it.
fn ready(seed: u64) -> Option<(Case, Model)> {
    let text = cars::car(seed);
    let made = load(&text, &[]).and_then(|loaded| Model::new(&loaded.case).map(|model| (loaded.case, model)));
    match made {
        Ok(made) => Some(made),
        Err(faults) => {
            for fault in faults.list() {
                assert!(REFUSED.contains(&fault.code), "seed {seed}: {fault:?}\n{text}");
            }
            None
        }
    }
}

/// Solves every condition of a car from a cold start, and gives the steps each took; what cannot be solved, or does not add up, is added to a list.
fn solved(seed: u64, case: &Case, model: &Model, faults: &mut Vec<String>) -> Vec<usize> {
    let mut solver = PointSolver::new(model);
    let mut steps = Vec::new();
    for (index, named) in case.conditions.iter().enumerate() {
        let at = || format!("seed {seed}, condition {index}");
        let operation = Operation::of_condition(case, model, &named.values);
        solver.prepare(model, &operation);
        solver.forget();
        if let Err(error) = solver.solve() {
            faults.push(format!("{}: {error}", at()));
            continue;
        }
        assert!(solver.residual <= 1e-9, "{}: {:e}", at(), solver.residual);
        steps.push(solver.steps());
        // nothing is colder than all that surrounds it, and the day's air is the coldest of all
        let day = operation.air.temperature;
        let chambers = (0..case.chambers.len()).map(|chamber| solver.state.chamber_temperature(chamber));
        let parts = (0..case.parts.len()).map(|part| solver.state.part_temperature(part));
        for temperature in chambers.chain(parts) {
            assert!(temperature >= day - COLDER, "{}: {temperature} K on a day of {day} K", at());
        }
        // and adds up from what is published of it; what grows hotter without end has nothing to add up to
        let found = describe::condition(case, model, &mut solver, &operation, index);
        let outlets = found.passages.iter().flat_map(|passage| &passage.elements);
        for outlet in outlets.map(|element| element.outlet_temperature_C) {
            assert!(outlet + slowcorner::air::ZERO_CELSIUS >= day - COLDER, "{}: {outlet} °C", at());
        }
        let ends = found.chambers.iter().all(|chamber| chamber.temperature_C < BEYOND);
        let surfaces = model.network.parts.iter().any(|part| part.surface.is_some());
        let written = model.seams.is_empty() && model.hot_air.is_none();
        if ends && written && !surfaces {
            let errors = balance::errors(case, model, &found, index);
            if errors.worst() > ADDED_UP {
                faults.push(format!("{}: {errors:?}", at()));
            }
        }
    }
    steps
}

#[test]
fn every_car_is_solved() {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    let cars = number("SLOWCORNER_CARS").unwrap_or(CARS);
    let first = number("SLOWCORNER_FIRST_CAR").unwrap_or(0);
    let mut faults = Vec::new();
    let mut tried = 0;
    let mut took: BTreeMap<usize, usize> = BTreeMap::new();
    for seed in first..first + cars {
        let Some((case, model)) = ready(seed) else { continue };
        tried += 1;
        let before = faults.len();
        let took_here = solved(seed, &case, &model, &mut faults);
        if UNSOLVED.contains(&seed) {
            faults.truncate(before);
        }
        if before == 0 && !faults.is_empty() {
            println!("{}", cars::car(seed));
        }
        for steps in took_here {
            let up_to = [5, 10, 15, 20, 30, 50, 100, 200, 500, 1000, 2000, 5000]
                .into_iter()
                .find(|bound| steps <= *bound);
            *took.entry(up_to.unwrap_or(usize::MAX)).or_default() += 1;
        }
    }
    // most are cars, and not refusals
    assert!(tried * 10 >= cars * 8, "{tried} of {cars}");
    println!("{tried} cars; conditions by the most steps they took: {took:?}");
    assert!(faults.is_empty(), "{} of {tried} cars: {faults:#?}", faults.len());
}
