//! The test card against cars drawn, built and solved here one by one.

use slowcorner::case::{Case, load, tables as t};
use slowcorner::draws::Guesses;
use slowcorner::draws::lanes::DrawsWithin;
use slowcorner::numerics::lu::solve_in_place;
use slowcorner::numerics::normal;
use slowcorner::numerics::sobol::mix;
use slowcorner::point::{Model, Operation, PointSolver};
use slowcorner::readings::operator::ReadingKind;
use slowcorner::study::testcard::result::RunWay;
use slowcorner::study::testcard::result::{Card, CardRun};
use slowcorner::study::testcard::testcard;

const DEMO: &str = include_str!("../../cases/stubble-buggy.toml");
const CARS: usize = 600;
/// What a gauge, all its readings alike, and the model may be off by (K), and what a driver holds a load within, 9 times in 10,
/// as the card has them.
const GAUGE: f64 = 5.0;
const ALIKE: f64 = 2.5;
const LOAD: f64 = 0.1;
const MODEL: f64 = 8.0;
const ZERO: f64 = 273.15;

fn case(text: &str) -> Case {
    load(text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case
}

/// Independent shares of one, each from a seed of its own.
fn share(seed: u64) -> f64 {
    ((mix(seed) >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

/// What one car says: the least margin of what the card looks at, and every gauge at every run, run by run.
struct Row {
    least: f64,
    gauges: Vec<f64>,
}

fn temperatures(case: &Case, model: &Model, operation: &Operation) -> Option<Vec<f64>> {
    let mut solver = PointSolver::new(model);
    solver.prepare(model, operation);
    solver.solve().ok()?;
    Some((0..case.parts.len()).map(|part| solver.state.part_temperature(part)).collect())
}

fn operation(case: &Case, model: &Model, run: &CardRun, off: f64) -> Operation {
    match &run.condition {
        Some(name) => {
            let index = case.condition(name).expect("a condition");
            Operation::of_condition(case, model, &case.conditions[index].values)
        }
        None => Operation::at_speed(
            case,
            run.speed_m_s.expect("a speed"),
            run.rpm.expect("rpm"),
            (run.load.expect("a load") + off).clamp(0.0, 1.0),
        ),
    }
}

fn row(case: &Case, card: &Card, car: u64) -> Option<Row> {
    let model = Model::new(case).ok()?;
    let mut least = f64::INFINITY;
    for condition in &case.conditions {
        let own = || card.of.iter().filter(|of| of.condition == condition.name);
        if own().next().is_none() {
            continue;
        }
        let found = temperatures(case, &model, &Operation::of_condition(case, &model, &condition.values))?;
        for of in own() {
            let part = case.part(&of.part).expect("a part");
            least = least.min(model.network.parts[part].limit - found[part]);
        }
    }
    let mut gauges = Vec::new();
    for (place, run) in card.runs.iter().filter(|run| run.way != RunWay::Bench).enumerate() {
        let deviate =
            |kind: u64, which: usize| normal::quantile(share(car << 24 ^ kind << 16 ^ which as u64));
        let off = LOAD / normal::NINE_IN_TEN * deviate(1, place);
        let found = temperatures(case, &model, &operation(case, &model, run, off))?;
        for (part, named) in case.parts.iter().enumerate() {
            let above = case.view(&named.values).number(&t::HOTTEST_ABOVE_MEAN).unwrap_or(0.0);
            let half = MODEL * 0.5_f64.sqrt();
            let errors = GAUGE * deviate(2, place << 4 | part)
                + ALIKE * deviate(3, 0)
                + half * (deviate(4, part) + deviate(5, place << 4 | part));
            gauges.push(found[part] + above - ZERO + errors / normal::NINE_IN_TEN);
        }
    }
    Some(Row { least, gauges })
}

/// Cars with every guess at a point of its own, from seeds that the program does not know.
fn cars(case: &Case, card: &Card) -> Vec<Row> {
    let guesses = Guesses::of(case);
    let mut drawn = case.clone();
    let one = |car: usize| {
        let seed = 0xca5e ^ (car as u64) << 32;
        let point: Vec<f64> = (0..guesses.dimensions).map(|place| share(seed ^ place as u64)).collect();
        guesses.set(&point, &mut drawn.numbers).ok()?;
        row(&drawn, card, seed)
    };
    (0..CARS).filter_map(one).collect()
}

/// Share of the margins' variance that a straight line in some gauges explains, judged on the second half by what the
/// first half says.
fn explained(rows: &[Row], gauges: &[usize]) -> f64 {
    let (first, second) = rows.split_at(rows.len() / 2);
    let size = gauges.len() + 1;
    let x = |row: &Row, place: usize| if place == 0 { 1.0 } else { row.gauges[gauges[place - 1]] / 100.0 };
    let mut matrix = vec![0.0; size * size];
    let mut fit = vec![0.0; size];
    for row in first {
        for i in 0..size {
            fit[i] += x(row, i) * row.least;
            (0..size).for_each(|j| matrix[i * size + j] += x(row, i) * x(row, j));
        }
    }
    assert!(solve_in_place(&mut matrix, size, &mut fit));
    let mean = second.iter().map(|row| row.least).sum::<f64>() / second.len() as f64;
    let variance: f64 = second.iter().map(|row| (row.least - mean).powi(2)).sum();
    let missed: f64 = second
        .iter()
        .map(|row| (row.least - (0..size).map(|i| x(row, i) * fit[i]).sum::<f64>()).powi(2))
        .sum();
    1.0 - missed / variance
}

fn with_gauges() -> (Case, Card) {
    let case = case(&format!("{DEMO}\n[instruments]\ngauge = {{ resolution = \"{GAUGE} K\" }}\n"));
    let model = Model::new(&case).expect("a model");
    let card = testcard(&case, &model, "demo", DrawsWithin::asked(2048)).expect("a card");
    (case, card)
}

/// The gauge of a reading: run by run without the bench, part by part.
fn gauge(case: &Case, card: &Card, run: usize, what: &str) -> usize {
    let part = case.parts.iter().position(|part| what.starts_with(&part.name)).expect("a part");
    let before = card.runs[..run].iter().filter(|run| run.way != RunWay::Bench).count();
    before * case.parts.len() + part
}

fn chosen(case: &Case, card: &Card) -> Vec<(usize, usize, usize)> {
    let mut all: Vec<(usize, usize, usize)> = Vec::new();
    for (run, told) in card.runs.iter().enumerate().filter(|(_, run)| run.way != RunWay::Bench) {
        for (reading, planned) in told.readings.iter().enumerate() {
            assert_eq!(planned.kind, ReadingKind::Temperature, "gauges alone are in hand");
            all.push((run, reading, gauge(case, card, run, &planned.what)));
        }
    }
    all
}

/// Each end of a band is known to within its own standard error and that of the card: √(q(1 − q)/n)/f, f the density
/// there, that of a normal distribution of the same width (David & Nagaraja, Order Statistics, 10.2; from memory). Four
/// of these are allowed.
#[test]
fn what_a_gauge_should_show_is_where_cars_drawn_one_by_one_have_it() {
    let (case, card) = with_gauges();
    let rows = cars(&case, &card);
    assert!(rows.len() > CARS * 9 / 10, "{}", rows.len());
    let list = chosen(&case, &card);
    assert!(list.len() >= 3);
    for (run, reading, gauge) in list {
        let expected = card.runs[run].readings[reading].expected;
        let mut shown: Vec<f64> = rows.iter().map(|row| row.gauges[gauge]).collect();
        shown.sort_by(f64::total_cmp);
        let sigma = (expected.p95 - expected.p05) / (2.0 * normal::NINE_IN_TEN);
        for (share, told) in [(0.05, expected.p05), (0.5, expected.p50), (0.95, expected.p95)] {
            let z = normal::quantile(share);
            let density = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() / sigma;
            let error = (share * (1.0 - share) / rows.len() as f64).sqrt() / density;
            let found = shown[(share * shown.len() as f64) as usize];
            assert!(
                (found - told).abs() < 4.0 * error,
                "{run}/{reading}: {found} drawn, {told} told, ± {error}"
            );
        }
    }
}

#[test]
fn chosen_readings_beat_a_random_choice() {
    let (case, card) = with_gauges();
    let rows = cars(&case, &card);
    let mut list: Vec<(usize, usize)> = chosen(&case, &card)
        .into_iter()
        .map(|(run, reading, gauge)| (card.runs[run].readings[reading].rank, gauge))
        .collect();
    list.sort_unstable();
    let two: Vec<usize> = list.iter().take(2).map(|(_, gauge)| *gauge).collect();
    let best = explained(&rows, &two);
    let gauges = rows[0].gauges.len();
    let others: Vec<f64> = (0..gauges)
        .flat_map(|a| (a + 1..gauges).map(move |b| [a, b]))
        .filter(|pair| !two.iter().all(|gauge| pair.contains(gauge)))
        .map(|pair| explained(&rows, &pair))
        .collect();
    assert!(others.len() >= 10);
    let mean = others.iter().sum::<f64>() / others.len() as f64;
    assert!(best > mean + 0.1, "chosen {best}, random {mean}");
    let better = others.iter().filter(|share| **share > best + 0.03).count();
    assert!(
        better * 10 <= others.len(),
        "{better} of {} pairs are better than {best}: {others:?}",
        others.len()
    );
    // and what the card says they leave is what cars drawn here say
    let half = |leaves: f64| leaves / card.half_band_K;
    let told = card.runs.iter().flat_map(|run| &run.readings).find(|planned| planned.rank == 2).expect("two");
    let leaves = (1.0 - best).max(0.0).sqrt();
    assert!((half(told.leaves_K) - leaves).abs() < 0.12, "{} told, {leaves} found", half(told.leaves_K));
}

/// The bench: what is left of the pressure beside the hole, from the areas that the demo writes down.
#[test]
fn the_bench_is_what_its_formula_says() {
    // a leak of its own area, its discharge 0.6 with the default's band of 0.45 to 0.75
    let text = include_str!("../../cases/causeway-trike.toml")
        .replace("share_of_inlets = \"7 %\"", "area = \"20 cm2\"");
    let case = case(&text);
    let model = Model::new(&case).expect("a model");
    let card = testcard(&case, &model, "demo", DrawsWithin::asked(1024)).expect("a card");
    let bench = card.runs.first().expect("a run");
    assert_eq!(bench.way, RunWay::Bench);
    let side = bench.hole_m.expect("a hole");
    let left = |discharge: f64| {
        let (leak, hole) = (discharge * 20e-4, 0.6 * side * side);
        (leak / (leak + hole)).powi(2)
    };
    let expected = bench.readings[0].expected;
    // the middle is that of the discharge taken; the ends lie a little beyond, by what the reading itself is off
    assert!((expected.p50 - left(0.6)).abs() < 0.05 * left(0.6), "{} for {}", expected.p50, left(0.6));
    assert!(expected.p05 < left(0.45) * 1.03 && expected.p95 > left(0.75) * 0.97);
    assert!(expected.p05 > 0.7 * left(0.45) && expected.p95 < 1.3 * left(0.75), "{expected:?}");
}

/// Two spaces in a row, a blower into the first: the air that it gives loses (K + 1) ½ρV² between them and ½ρV²/Cd² on its
/// way out, so that the falls are as (K + 1) Cd² A₂²/A₁², whatever the blower gives. K and Cd as the case writes them.
#[test]
fn what_a_blower_does_is_continuity_and_two_losses() {
    let case = case(
        r#"format = 1
[day]
temperature = "25 degC"
[engine]
displacement = "500 cm3"
power = [["2000 rpm", "8 kW"], ["5000 rpm", "20 kW"]]
brake_efficiency = "25 %"
[engine.heat]
bay = "2 %"
[body]
leaks = "0 %"
hot_air_at_rest = "0 %"
hot_air_moving = "0 %"
[[passage]]
name = "scoop"
from = "outside"
to = "shroud"
element = [{ kind = "wall-inlet", area = "70 cm2" }]
[[passage]]
name = "grid"
from = "shroud"
to = "bay"
element = [{ kind = "loss", area = "90 cm2", k = 3 }]
[[passage]]
name = "tail"
from = "bay"
to = "outside"
element = [{ kind = "exit", area = "120 cm2", discharge = 0.6 }]
"#,
    );
    let model = Model::new(&case).expect("a model");
    let exact = (3.0 + 1.0) * 0.6_f64.powi(2) * (120.0_f64 / 90.0).powi(2);
    for flow in [0.05, 0.12, 0.3] {
        let mut operation = Operation::at_speed(&case, 0.0, 0.0, 0.0);
        operation.fans_off();
        operation.blower = Some((0, flow));
        let mut solver = PointSolver::new(&model);
        solver.prepare(&model, &operation);
        solver.solve().expect("solved");
        let pressure = |name: &str| solver.state.pressure(case.chamber(name).expect("a space"));
        let ratio = (pressure("shroud") - pressure("bay")) / pressure("bay");
        assert!((ratio / exact - 1.0).abs() < 1e-3, "{ratio} for {exact} at {flow} kg/s");
        // and the bay's own pressure is that of an orifice: ½ ρ (V/Cd)²
        let density = operation.air.density();
        let orifice = 0.5 / density * (flow / (0.6 * 120e-4)).powi(2);
        assert!((pressure("bay") / orifice - 1.0).abs() < 0.02, "{} for {orifice}", pressure("bay"));
    }
}
