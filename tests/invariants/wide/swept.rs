//! Along a sweep the hotter of two states is found though it is not sought at every speed, but for ranges of few speeds.

use super::cars;
use slowcorner::case::load;
use slowcorner::point::budget::Budget;
use slowcorner::point::speeds::{operation, points};
use slowcorner::point::{Model, PointSolver};
use slowcorner::study::sweep::{POINTS, sweep_within};

/// Cars tried where the environment asks for no other number.
const CARS: u64 = 25;
/// Ranges of so many speeds are found: of every eight one is looked at passage by passage.
const NARROW: usize = 8;
/// Temperatures that are the same (K): no screen shows less.
const SAME: f64 = 0.01;
/// A drive for any engine.
const DRIVE: &str = "[drive]\ntyre_radius = \"300 mm\"\nfinal_drive = 4.5\ngears = [3.0, 1.8, 1.0]\n\
                     lowest = \"1200 rpm\"\nhighest = \"6000 rpm\"\n[sweep]\nload = 0.6\n";

#[test]
fn the_hotter_state_is_found_along_a_sweep() {
    let number = |name: &str| std::env::var(name).ok().and_then(|text| text.parse::<u64>().ok());
    let cars = number("SLOWCORNER_CARS").unwrap_or(CARS);
    let first = number("SLOWCORNER_FIRST_CAR").unwrap_or(0);
    let (mut compared, mut twofold, mut most_in_a_row) = (0, 0, 0);
    let mut missed = Vec::new();
    for seed in first..first + cars {
        let text = format!("{}{DRIVE}", cars::car(seed));
        let Ok(loaded) = load(&text, &[]) else { continue };
        let case = &loaded.case;
        let Ok(model) = Model::new(case) else { continue };
        // as much as it wants, so that no speed is left out
        let budget = Budget::seconds(100.0);
        let Ok(swept) = sweep_within(case, &model, POINTS, budget, &mut Vec::new()) else { continue };
        let geared = points(case, &model, POINTS).expect("swept just now");
        let mut solver = PointSolver::new(&model);
        let mut in_a_row = 0;
        for told in &swept.points {
            let point = geared.iter().find(|point| point.speed == told.speed_m_s).expect("the same speeds");
            solver.prepare(&model, &operation(case, point));
            if solver.solve().is_err() {
                continue;
            }
            let other = solver.turn_to_hotter();
            compared += 1;
            twofold += usize::from(other.is_some());
            let margins = told.parts.0.iter().map(|(_, part)| part.temperature_margin_K);
            let least = margins.fold(f64::INFINITY, f64::min);
            let parts = (0..told.parts.0.len())
                .map(|index| solver.network.parts[index].limit - solver.state.part_temperature(index));
            let full = parts.fold(f64::INFINITY, f64::min);
            if full < least - SAME {
                missed.push((seed, told.speed_m_s, least, full));
                in_a_row += 1;
            } else {
                in_a_row = 0;
            }
            most_in_a_row = most_in_a_row.max(in_a_row);
        }
    }
    println!("{compared} points, {twofold} with two states, missed: {missed:#?}");
    assert!(twofold > 0, "no car has two states");
    // of 182,000 points of 910 such cars 2,721 had two states, and the hotter of 15 was missed, three in a row at most
    assert!(most_in_a_row < NARROW && missed.len() * 100 <= twofold, "{missed:#?}");
}
