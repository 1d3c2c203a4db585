//! How fast the solver is, as ratios to one chained `f64::powf` measured in the same run.
//!
//! Ratios travel between machines better than seconds do. Run with `cargo bench`, or `cargo bench -- draws` for
//! the draws of the guesses alone; whole processes are timed from outside.

use slowcorner::air::Air;
use slowcorner::case::load;
use slowcorner::draws::{Car, Guesses, TallyWanted, draws};
use slowcorner::element::{ConstantLoss, FreeStream, Law, Resistance};
use slowcorner::network::{BoundaryConditions, Chamber, Network, NetworkState, PassageEnd, Solver};
use slowcorner::numerics::sobol::Sobol;
use slowcorner::point::counted::Counted;
use slowcorner::point::{Gearing, Model, Operation, PointSolver, speeds};
use slowcorner::study::lap::march::March;
use std::hint::black_box;
use std::time::Instant;

const DEMO: &str = include_str!("../cases/quarry-sprinter.toml");
const NETWORKS: &str = include_str!("../tests/network/networks.json");
const ROUNDS: usize = 15;

/// Least time of one call over several rounds (µs).
fn time(calls: usize, mut work: impl FnMut()) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..ROUNDS {
        let begun = Instant::now();
        for _ in 0..calls {
            work();
        }
        least = least.min(begun.elapsed().as_secs_f64() * 1e6 / calls as f64);
    }
    least
}

fn main() {
    let mut x = 1.5_f64;
    let power = time(200_000, || x = black_box(x).powf(black_box(1.000_1)).min(3.0));
    println!("one chained powf: {power:.4} µs = 1 unit");
    let line = |what: &str, micros: f64, most: f64| {
        let units = micros / power;
        println!("{what:<58} {micros:9.3} µs  {units:8.1} units  (at most {most:.0})");
    };

    let loaded = load(DEMO, &[]).unwrap_or_else(|faults| panic!("{faults}"));
    let case = &loaded.case;
    let model = Model::new(case).unwrap_or_else(|faults| panic!("{faults}"));
    let gearing = Gearing::read(case, &model.engine).expect("the demo case has a drive");
    let operations: Vec<Operation> = (0..200)
        .filter_map(|i| {
            let speed = (22.0 + 133.0 * f64::from(i) / 199.0) / 3.6;
            gearing.gear_at(speed).map(|(_, rpm)| Operation::at_speed(case, speed, rpm, 0.5))
        })
        .collect();
    let mut solver = PointSolver::new(&model);
    let count = operations.len() as f64;
    let mut worst: f64 = 0.0;
    let mut sweep = |forget: bool, solve: bool| {
        time(20, || {
            for operation in &operations {
                solver.prepare(&model, operation);
                if forget {
                    solver.forget();
                }
                if solve {
                    solver.solve().expect("the demo case solves");
                    worst = worst.max(solver.residual);
                }
            }
        }) / count
    };
    let only_draws = std::env::args().any(|argument| argument == "draws");
    if only_draws {
        let warm = sweep(false, true);
        let mut margins = Vec::new();
        let mut at = runner_for(&model);
        at.prepare(&model, &operations[60]);
        at.solve().expect("the demo case solves");
        let read = time(2000, || at.margins(&model, black_box(&mut margins)));
        line("coupled point of the demo case, warm", warm, 140.0);
        drawn(case, warm + read);
        return;
    }
    let prepare = sweep(false, false);
    let warm = sweep(false, true);
    let warm_steps = steps_of(&mut runner_for(&model), &model, &operations, false);
    let mut sweep_cold = runner_for(&model);
    let cold = time(20, || {
        for operation in &operations {
            sweep_cold.prepare(&model, operation);
            sweep_cold.forget();
            sweep_cold.solve().expect("the demo case solves");
        }
    }) / count;
    line("of which taking up the next operating point", prepare, f64::NAN);
    line("coupled point of the demo case, warm", warm, 140.0);
    println!("  {warm_steps:.2} steps a point, largest left-over error {worst:.1e}");
    let mut margins = Vec::new();
    let mut at = runner_for(&model);
    at.prepare(&model, &operations[60]);
    at.solve().expect("the demo case solves");
    let read = time(2000, || at.margins(&model, black_box(&mut margins)));
    line("its margins", read, 60.0);
    drawn(case, warm + read);
    line("coupled point, cold", cold, 400.0);
    let cold_steps = steps_of(&mut runner_for(&model), &model, &operations, true);
    println!("  {cold_steps:.2} steps a point");
    line("networks of plain resistances, warm, mean", networks(), 40.0);
    growth();
    in_time(&model);
    processes();
}

/// Draws of the guesses, against a warm point with its margins.
fn drawn(case: &slowcorner::case::Case, warm: f64) {
    let guesses = Guesses::of(case);
    let sobol = Sobol::new(guesses.dimensions, 1);
    let mut point = vec![0.0; guesses.dimensions];
    let points = speeds::points(case, &Model::new(case).expect("a model"), 60).expect("speeds");
    let points = points.into_iter().map(Counted::Sweep).collect();
    let mut car = Car::at(case, &guesses, points).expect("the demo case can be drawn");
    let mut alone = Car::new(case, &guesses).expect("the demo case can be drawn");
    let line = |what: &str, micros: f64, most: f64| {
        println!("{what:<58} {micros:9.3} µs  {:8.2} warm points  (at most {most})", micros / warm);
    };
    let mut index = 0;
    let mut next = |point: &mut Vec<f64>| {
        index += 1;
        sobol.point(index, point);
    };
    let taking = time(200, || {
        next(&mut point);
        let _ = black_box(car.take(&point));
    });
    let along = time(20, || {
        next(&mut point);
        let _ = car.take(&point);
        for moment in 0..car.conditions() {
            black_box(car.solve(moment));
        }
    });
    let conditions = alone.conditions() as f64;
    let lone = time(50, || {
        next(&mut point);
        let _ = alone.take(&point);
        for condition in 0..alone.conditions() {
            black_box(alone.solve(condition));
        }
    });
    line("of which setting a car to a draw", taking, f64::NAN);
    line("a point along one draw's speeds", (along - taking) / car.conditions() as f64, 1.3);
    line("a point of a lone new draw, all conditions, the car set", lone / conditions, 2.5);
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        let wanted = TallyWanted { most: 4096, all: true, ..TallyWanted::default() };
        pool.install(|| time(1, || drop(black_box(draws(case, &guesses, wanted, &|_| true)))))
    };
    println!("two threads draw {:.2} times as fast as one (at least 1.8)", with(1) / with(2));
}

/// Time of a warm solution of one chamber with ever more passages: it should grow with their number,
/// not faster.
fn growth() {
    let mut first = None;
    for count in [10, 20, 40, 80] {
        let edges: Vec<serde_json::Value> = (0..count)
            .map(|i| {
                let boundary = format!("b{}", i % 3);
                serde_json::json!({"from": boundary, "to": "c0", "K": 2.0 + f64::from(i % 7), "area_m2": 0.004})
            })
            .collect();
        let data = serde_json::json!({
            "density_kg_m3": 1.2, "chambers": ["c0"], "edges": edges,
            "boundary_gauge_Pa": {"b0": 300.0, "b1": 40.0, "b2": -120.0}
        });
        let micros = warm(&data);
        let per = micros / f64::from(count);
        let ratio = per / *first.get_or_insert(per);
        println!("{count:>3} passages: {micros:8.3} µs, {per:.4} µs each, {ratio:.2} of the first");
    }
}

/// Operating points a second along a run in time, against the bare solution of the same moments.
fn in_time(model: &Model) {
    let rows: Vec<(f64, f64)> =
        (0..900).map(|i| f64::from(i) * 0.1).map(|t| (t, 22.0 + 9.0 * (0.2 * t).sin())).collect();
    let case = &load(DEMO, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let mut operation = Operation::at_speed(case, 20.0, 4000.0, 0.5);
    let mut march = March::new(model, vec![380.0; model.network.parts.len()]);
    march.turn_to(&operation).expect("solves");
    let before = march.solved;
    let begun = Instant::now();
    for pair in rows.windows(2) {
        let set = |share: f64, operation: &mut Operation| {
            operation.speed = pair[0].1 + share * (pair[1].1 - pair[0].1)
        };
        march.advance(pair[1].0 - pair[0].0, &mut operation, set, |_| {}).expect("solves");
    }
    let each = begun.elapsed().as_secs_f64() * 1e6 / (march.solved - before) as f64;
    let mut solver = PointSolver::new(model);
    let bare = time(5, || {
        for (_, speed) in &rows {
            operation.speed = *speed;
            solver.prepare(model, &operation);
            solver.solve().expect("solves");
        }
    }) / rows.len() as f64;
    println!(
        "run in time: {:.0} operating points a second, each {:.2} of the bare solution",
        1e6 / each,
        each / bare
    );
}

/// The demo case with a noisy recorded lap of 90 s, thirty times round.
fn recorded(folder: &std::path::Path) -> String {
    let mut rows = String::from("time (s),speed (km/h),rpm,load (%)\n");
    for i in 0..=900 {
        let t = 0.1 * f64::from(i);
        let noise = f64::from((i * 7919) % 101) / 101.0 - 0.5;
        let speed = 75.0 + 40.0 * (t * 0.21).sin() + noise;
        let load = if (t * 0.21).cos() > 0.0 { 95.0 + 8.0 * noise } else { 3.0 + 4.0 * noise };
        rows += &format!("{t:.1},{speed:.2},{:.0},{load:.1}\n", 2200.0 + 35.0 * speed + 60.0 * noise);
    }
    let case = format!(
        "{DEMO}\n[[stint]]\nname = \"recorded\"\nstart = \"90 degC\"\ntrace = \"run.csv\"\nlaps = 30\n"
    );
    let path = folder.join("car.toml");
    std::fs::write(folder.join("run.csv"), rows).expect("written");
    std::fs::write(&path, case).expect("written");
    path.to_string_lossy().into_owned()
}

/// Whole processes against the start of the system's Python, one after the other in turn.
fn processes() {
    let out = tempfile::tempdir().expect("a folder");
    let into = out.path().to_string_lossy().into_owned();
    let case = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/quarry-sprinter.toml");
    let program = env!("CARGO_BIN_EXE_slowcorner");
    let recorded = recorded(out.path());
    let runs: [(&str, Vec<&str>, f64); 10] = [
        ("check, plain", vec!["check", case, "--plain"], 1.0),
        ("check", vec!["check", case], 3.0),
        ("doubt", vec!["doubt", case, "--into", &into], 60.0),
        (
            "10,000 draws of a sweep",
            vec!["sweep", case, "--svg-only", "--draws", "10000", "--into", &into],
            200.0,
        ),
        ("sweep of 200 speeds, SVG", vec!["sweep", case, "--svg-only", "--into", &into], 8.0),
        ("sweep of 200 speeds, SVG and PNG", vec!["sweep", case, "--into", &into], 10.0),
        ("lap 90 s at 0.1 s, 30 times", vec!["lap", &recorded, "--stint", "recorded", "--into", &into], 80.0),
        ("size", vec!["size", case, "--into", &into], 60.0),
        ("exits with map", vec!["exits", case, "--into", &into], 120.0),
        ("report", vec!["report", case, "--into", &into], 100.0),
    ];
    let once = |name: &str, arguments: &[&str]| -> Option<f64> {
        let begun = Instant::now();
        let output = std::process::Command::new(name).args(arguments).output().ok()?;
        output.status.code()?;
        Some(begun.elapsed().as_secs_f64())
    };
    for (what, arguments, most) in runs {
        let mut ratios: Vec<f64> = (0..11)
            .filter_map(|_| {
                let reference = once("/usr/bin/python3", &["-c", "pass"])?;
                Some(once(program, &arguments)? / reference)
            })
            .collect();
        ratios.sort_by(f64::total_cmp);
        match ratios.get(ratios.len() / 2) {
            Some(median) => {
                println!("{what:<34} {median:6.2} starts of /usr/bin/python3 -c pass (at most {most:.0})")
            }
            None => println!("{what:<34} not compared: there is no /usr/bin/python3"),
        }
    }
}

fn runner_for(model: &Model) -> PointSolver {
    PointSolver::new(model)
}

fn steps_of(solver: &mut PointSolver, model: &Model, operations: &[Operation], forget: bool) -> f64 {
    let mut steps = 0;
    for operation in operations {
        solver.prepare(model, operation);
        if forget {
            solver.forget();
        }
        solver.solve().expect("the demo case solves");
        steps += solver.steps();
    }
    steps as f64 / operations.len() as f64
}

/// Mean time of a flow-only solution of the reference networks, warm: the boundary pressures change
/// by a few per cent from one solution to the next (µs).
fn networks() -> f64 {
    let data: serde_json::Value = serde_json::from_str(NETWORKS).expect("valid data");
    let list = data["networks"].as_array().expect("a list");
    let mut sum = 0.0;
    for network in list {
        sum += warm(network);
    }
    sum / list.len() as f64
}

/// Time of one warm solution (µs).
fn warm(network: &serde_json::Value) -> f64 {
    let (mut built, load) = build(network);
    let mut solver = Solver::new(&built);
    let mut state = NetworkState::first_guess(&built, &load);
    solver.solve(&built, &load, &mut state).expect("solves");
    let mut turn = false;
    time(3000, || {
        turn = !turn;
        let factor = if turn { 1.03 } else { 1.0 / 1.03 };
        for passage in &mut built.passages {
            for end in [&mut passage.from, &mut passage.to] {
                if let PassageEnd::Reservoir(pressure) = end {
                    *pressure *= factor;
                }
            }
        }
        solver.solve(&built, &load, &mut state).expect("solves");
    })
}

/// A reference network: K on an area is all that an edge loses, the last velocity head included.
fn build(data: &serde_json::Value) -> (Network, BoundaryConditions) {
    let density = data["density_kg_m3"].as_f64().expect("a density");
    let pressure = density * 287.052_874 * 293.15;
    let moment = FreeStream::new(Air::new(pressure, 293.15, 0.0, 0.0), 0.0, 0.0, 1.0, 0.0);
    let names: Vec<&str> =
        data["chambers"].as_array().expect("a list").iter().filter_map(|name| name.as_str()).collect();
    let end = |name: &str| match names.iter().position(|known| *known == name) {
        Some(chamber) => PassageEnd::Chamber(chamber),
        None => PassageEnd::Reservoir(data["boundary_gauge_Pa"][name].as_f64().expect("a pressure")),
    };
    let chambers = vec![Chamber { skin_conductance: 1.0 }; names.len()];
    let mut network = Network::new(chambers, Vec::new());
    for edge in data["edges"].as_array().expect("a list") {
        let area = edge["area_m2"].as_f64().expect("an area");
        let k = edge["K"].as_f64().expect("a coefficient");
        let law =
            ConstantLoss { area_of_one: area, pieces: 1.0, resistance: Resistance::constant(k - 1.0, area) };
        let (from, to) = (edge["from"].as_str().expect("a name"), edge["to"].as_str().expect("a name"));
        network.add_passage(end(from), end(to), vec![(Law::Loss(law), None)], None);
    }
    network.prepare(&moment, &vec![0.0; network.passages.len()]);
    let load = BoundaryConditions::new(&moment, &network);
    (network, load)
}
