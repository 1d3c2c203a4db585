//! Moments that are no conditions: speeds of the sweep, the worst points of a search, runs in time. A car of which only
//! the limit is doubted must have its bands about the margins of the values taken, and no other.

use slowcorner::case::{Case, load};
use slowcorner::draws::doubt::Doubt;
use slowcorner::draws::{Car, Guesses, TallyWanted};
use slowcorner::numerics::sobol::Sobol;
use slowcorner::point::budget::{Budget, seconds};
use slowcorner::point::counted::Counted;
use slowcorner::point::result::Band;
use slowcorner::point::{Model, Operation, PointSolver, conditions, speeds};
use slowcorner::study::doubt::{of_runs, of_sweep, of_worst};
use slowcorner::study::{everywhere, lap, sweep};

const DEMO: &str = include_str!("../../cases/stubble-buggy.toml");

/// The car of which nothing is doubted, driven: two gears, a day of its own in the wake of another, a run.
const DRIVEN: &str = r#"
[drive]
tyre_radius = "270 mm"
final_drive = 4.5
gears = [2.4, 1.2]
lowest = "1800 rpm"
highest = "4900 rpm"
[sweep]
load = "70 %"
[[condition]]
name = "wake"
speed = "60 km/h"
gear = 2
load = "90 %"
clear_air = 0.6
day = { temperature = "35 degC" }
[[stint]]
name = "out and back"
start = "60 degC"
step = [ { condition = "straight", time = "100 s" }, { condition = "wake", time = "60 s" } ]
"#;

fn driven() -> (Case, Model) {
    let sure = super::answers::SURE
        .replace("LIMIT", "200 degC ± 2 K")
        .replace("ABOVE", "10 K")
        .replace("chamber = \"outside\"", "chamber = \"outside\"\nheat_capacity = \"6 kJ/K\"");
    let case = load(&format!("{sure}{DRIVEN}"), &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case;
    let drawn = Guesses::of(&case).list.len();
    assert_eq!(drawn, 1, "something else is a guess");
    let model = Model::new(&case).expect("a model");
    (case, model)
}

fn wanted() -> TallyWanted {
    TallyWanted { most: 1024, all: true, ..TallyWanted::default() }
}

/// ± 2 K about a margin.
fn holds(band: Option<Band>, margin: f64, within: f64) {
    let band = band.expect("a band");
    for (found, exact) in [(band.p05, margin - 2.0), (band.p50, margin), (band.p95, margin + 2.0)] {
        assert!((found - exact).abs() < within, "{found} for {exact}");
    }
}

#[test]
fn bands_along_a_sweep_lie_about_its_margins() {
    let (case, model) = driven();
    let mut swept = sweep::sweep(&case, &model, 40).expect("swept");
    let doubt = of_sweep(&case, &mut swept, wanted(), &|_| true).expect("doubt");
    let mut least = f64::INFINITY;
    for part in swept.points.iter().map(|point| point.parts.get("heads").expect("the part")) {
        least = least.min(part.temperature_margin_K);
        if part.margin_band_K.is_some() {
            holds(part.margin_band_K, part.temperature_margin_K, 0.05);
        }
    }
    holds(doubt.least_K, least, 0.05);
    assert!(doubt.decides[0].share > 0.999 && doubt.decides[0].condition == "sweep");
}

#[test]
fn bands_of_the_worst_points_lie_about_their_margins() {
    let (case, model) = driven();
    let conditions = conditions::check(&case, &model).expect("solved");
    let budget = Budget::seconds(seconds::EVERYWHERE);
    let mut found =
        everywhere::everywhere_within(&case, &model, &conditions, budget, &mut Vec::new(), &|_| true)
            .expect("searched");
    let doubt = of_worst(&case, &mut found.worst, wanted(), &|_| true).expect("doubt");
    let worst = &found.worst[0];
    assert!(worst.clear_air < 0.7 && worst.day.contains("wake"), "{worst:?}");
    holds(worst.margin_band_K, worst.temperature_margin_K, 0.05);
    holds(doubt.least_K, worst.temperature_margin_K, 0.05);
}

#[test]
fn bands_of_runs_lie_about_their_peaks_and_what_stores_heat_is_drawn_too() {
    let (case, model) = driven();
    let run = |case: &Case, model: &Model, most: usize| -> (Vec<lap::result::Stint>, Doubt) {
        let mut stints = lap::lap(case, model, Vec::new()).expect("run");
        let wanted = TallyWanted { most, ..wanted() };
        let doubt = of_runs(case, &[], &mut stints, wanted, &|_| true).expect("doubt");
        (stints, doubt)
    };
    let (stints, doubt) = run(&case, &model, 256);
    let heads = stints[0].parts.get("heads").expect("the part");
    // steps in time four times as coarse: still within half a kelvin
    holds(heads.margin_band_K, heads.temperature_margin_K, 0.5);
    assert_eq!((doubt.draws, doubt.decides[0].condition.as_str()), (256, "out and back"));
    // a lighter part gets hotter: the band is wider, though no steady temperature hangs on it
    let text = format!(
        "{}{DRIVEN}",
        super::answers::SURE
            .replace("LIMIT", "200 degC ± 2 K")
            .replace("ABOVE", "10 K")
            .replace("chamber = \"outside\"", "chamber = \"outside\"\nheat_capacity = \"6 kJ/K ± 3 kJ/K\"")
    );
    let heavy = load(&text, &[]).expect("sound").case;
    assert_eq!((Guesses::of(&heavy).list.len(), Guesses::in_time(&heavy).list.len()), (1, 2));
    let (stints, _) = run(&heavy, &Model::new(&heavy).expect("a model"), 64);
    let band = stints[0].parts.get("heads").and_then(|part| part.margin_band_K).expect("a band");
    assert!(band.p95 - band.p05 > 8.0, "{band:?}");
}

/// Going on from one speed to the next, as every draw does, against each speed solved by itself.
#[test]
fn a_draw_along_a_sweep_is_what_each_speed_is_by_itself() {
    let case = load(DEMO, &[]).expect("sound").case;
    let guesses = Guesses::of(&case);
    let points = speeds::points(&case, &Model::new(&case).expect("a model"), 24).expect("speeds");
    let mut car = Car::at(&case, &guesses, points.into_iter().map(Counted::Sweep).collect()).expect("a car");
    let sobol = Sobol::new(guesses.dimensions, 3);
    let mut point = vec![0.0; guesses.dimensions];
    let mut compared = 0;
    for index in 0..6 {
        sobol.point(index, &mut point);
        car.take(&point).expect("a car");
        let mut along = Vec::new();
        for moment in 0..car.conditions() {
            let solved = car.solve(moment);
            along.push(
                (0..car.parts())
                    .map(|part| if solved { car.margin(part) } else { f64::NAN })
                    .collect::<Vec<_>>(),
            );
        }
        let drawn = car.case().clone();
        let model = Model::new(&drawn).expect("a model");
        let points = speeds::points(&drawn, &model, 24).expect("speeds");
        let mut solver = PointSolver::new(&model);
        for (speed, along) in points.iter().zip(&along) {
            let operation: Operation = speeds::operation(&drawn, speed);
            solver.prepare(&model, &operation);
            solver.forget();
            let alone = solver.solve().is_ok();
            for (part, found) in along.iter().enumerate() {
                // a store of heat without a limit has no margin
                if found.is_infinite() {
                    continue;
                }
                let kelvins = solver.network.parts[part].limit - solver.state.part_temperature(part);
                // a second steady state may be another one from another start
                let other = solver.other_state().map(|other| other.part_temperature(part));
                let second = other.map_or(f64::NAN, |other| solver.network.parts[part].limit - other);
                assert!(
                    alone && ((found - kelvins).abs() < 1e-3 || (found - second).abs() < 1e-3),
                    "{found} {kelvins}"
                );
                compared += 1;
            }
        }
    }
    assert!(compared > 300, "{compared}");
}
