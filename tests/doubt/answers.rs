//! What comes out: against the exact answer where there is one, whatever the threads.

use slowcorner::case::{Case, load};
use slowcorner::draws::doubt::Doubt;
use slowcorner::draws::tally::Tally;
use slowcorner::draws::{Guesses, TallyWanted, draws};
use slowcorner::numerics::normal;
use slowcorner::point::budget::Budget;
use slowcorner::point::{Model, conditions};
use slowcorner::study::doubt::{LeastOver, of_conditions, shares};

/// An invented car of which everything is said; the temperature of its part hangs on nothing that is doubted.
pub const SURE: &str = r#"format = 1
[day]
temperature = "25 degC"
[engine]
displacement = "500 cm3"
power = [["2000 rpm", "8 kW"], ["5000 rpm", "20 kW"]]
brake_efficiency = "25 %"
volumetric_efficiency = "85 %"
friction_pressure = "1.2 bar"
heat_exponent = 0.75
[engine.heat]
heads = "10 %"
[part.heads]
limit = "LIMIT"
hottest_above_mean = "ABOVE"
bay_conductance = "3 W/K"
source_temperature = "600 degC"
share_at = "180 degC"
from_friction = "0 %"
chamber = "outside"
[body]
leaks = "0 %"
hot_air_at_rest = "0 %"
hot_air_moving = "0 %"
[[passage]]
name = "heads"
from = "outside"
to = "outside"
element = [
  { kind = "ram-inlet", area = "60 cm2", recovery = 0.9, edge = "rounded", boundary_layer = { run = "1 m", gap = "20 mm" } },
  { kind = "fins", part = "heads", area = "100 cm2", reference_flow = "0.15 kg/s", conductance = "98 W/K", pressure_drop = "250 Pa", conductance_exponent = 0.65, pressure_exponent = 1.8, reference_density = "1.2 kg/m3", blended = true },
  { kind = "exit", area = "80 cm2", discharge = 0.7, cross_flow_loss = "0 %", pressure_coefficient = -0.1, blended = true },
]
[[condition]]
name = "straight"
speed = "100 km/h"
rpm = "4500 rpm"
"#;

fn sure(limit: &str, above: &str, more: &str) -> Case {
    let text = format!("{}{more}", SURE.replace("LIMIT", limit).replace("ABOVE", above));
    load(&text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case
}

fn tally(case: &Case, most: usize) -> Tally {
    draws(
        case,
        &Guesses::of(case),
        TallyWanted { most, all: true, seed: 5, ..TallyWanted::default() },
        &|_| true,
    )
    .expect("draws")
}

/// The margin is limit − hottest above mean − temperature, a sum: its spread is the root of the sum of squares, or
/// the sum or difference where the two are tied.
#[test]
fn a_margin_that_is_a_sum_has_the_exact_normal_answer() {
    let tie = |opposite: bool| {
        let (values, other) = ("part/heads/limit", "part/heads/hottest_above_mean");
        if opposite {
            format!("[[tied]]\nvalues = [\"{values}\"]\nopposite = [\"{other}\"]\n")
        } else {
            format!("[[tied]]\nvalues = [\"{values}\", \"{other}\"]\n")
        }
    };
    for (more, half) in [(String::new(), 10.0), (tie(false), 2.0), (tie(true), 14.0)] {
        let case = sure("200 degC ± 8 K", "30 K ± 6 K", &more);
        let guesses = Guesses::of(&case);
        let numbers: usize = guesses.list.iter().map(|guess| guess.numbers.len()).sum();
        assert_eq!(numbers, 2, "something else is a guess");
        let model = Model::new(&case).expect("a model");
        let taken = conditions::check(&case, &model).expect("solved")[0].parts[0].temperature_margin_K;
        let found = tally(&case, 4096);
        for (share, sign) in [(0.05, -1.0), (0.5, 0.0), (0.95, 1.0)] {
            let (got, exact) = (found.least.quantile(share), taken + sign * half);
            assert!((got - exact).abs() < 0.02 * half, "{share}: {got} for {exact}");
        }
        let sigma = half / normal::NINE_IN_TEN;
        let exact = normal::below(taken / sigma);
        assert!((found.holds.0 - exact).abs() < 4.0 * found.holds.1 + 1e-3, "{} for {exact}", found.holds.0);
        assert_eq!(found.unsolved + found.shrunk + found.redrawn, 0);
    }
}

/// Of 8² + 6² the limit makes 64 in 100; if it were known, ± 6 of ± 10 K would be left.
#[test]
fn a_guess_is_worth_what_knowing_it_takes_off_the_band() {
    let case = sure("200 degC ± 8 K", "30 K ± 6 K", "");
    let ranking = shares::ranking_within(
        Budget::of(u64::MAX),
        1,
        &case,
        &Guesses::of(&case),
        &LeastOver::all(&case),
        &|_| true,
    )
    .expect("a ranking");
    let [first, second] = &ranking.shares[..] else { panic!("two guesses") };
    assert_eq!(first.address, "part/heads/limit");
    for (worth, share, leaves) in [(first, 0.64, 6.0), (second, 0.36, 8.0)] {
        assert!(worth.first_order_error < 0.05 && worth.total_error < 0.05);
        assert!((worth.first_order - share).abs() < 4.0 * worth.first_order_error + 1e-3);
        assert!((worth.total - share).abs() < 4.0 * worth.total_error + 1e-3);
        let left = worth.left;
        assert!((left.leaves_K - leaves).abs() < 0.4, "{}", left.leaves_K);
        assert!((left.worth_K + left.leaves_K - ranking.ranked.half_band_K).abs() < 1e-9);
        assert!(left.worth_from_K <= left.worth_K && left.worth_K <= left.worth_to_K);
    }
    assert!((ranking.ranked.half_band_K - 10.0).abs() < 0.4);
    assert!(second.left.worth_to_K < first.left.worth_from_K);
}

const DEMO: &str = include_str!("../../cases/orchard-cyclecar.toml");

#[test]
fn the_answer_does_not_hang_on_the_number_of_threads() {
    let case = load(DEMO, &[]).expect("sound").case;
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| {
            let found = tally(&case, 512);
            let ranking = shares::ranking_within(
                Budget::of(u64::MAX),
                1,
                &case,
                &Guesses::of(&case),
                &LeastOver::all(&case),
                &|_| true,
            )
            .expect("a ranking");
            (format!("{found:?}"), format!("{ranking:?}"))
        })
    };
    assert_eq!(with(1), with(3));
}

/// More draws agree with fewer within the standard error that these state.
#[test]
fn the_standard_error_is_that_of_the_answer() {
    let case = load(DEMO, &[]).expect("sound").case;
    let (few, many) = (tally(&case, 512), tally(&case, 8192));
    assert_eq!((few.draws, many.draws), (512, 8192));
    assert!(few.holds.1 < 0.02 && many.holds.1 < few.holds.1);
    let apart = (few.holds.0 - many.holds.0).abs();
    assert!(apart < 4.0 * (few.holds.1.powi(2) + many.holds.1.powi(2)).sqrt(), "{apart}");
    for share in [0.05, 0.95] {
        assert!((few.least.quantile(share) - many.least.quantile(share)).abs() < 5.0);
    }
}

/// Every draw without a steady state counts as not holding; a case sure of itself has no doubt at all.
#[test]
fn what_is_sure_is_not_drawn() {
    let case = sure("200 degC", "30 K", "");
    let model = Model::new(&case).expect("a model");
    let mut conditions = conditions::check(&case, &model).expect("solved");
    assert!(of_conditions(&case, &mut conditions, TallyWanted::default(), &|_| true).is_none());
    assert!(conditions[0].parts[0].margin_band_K.is_none() && conditions[0].parts[0].likelihood.is_none());
}

#[test]
fn bands_stand_beside_margins_and_no_more_draws_are_made_than_ends_need() {
    let case = load(DEMO, &[]).expect("sound").case;
    let model = Model::new(&case).expect("a model");
    let mut conditions = conditions::check(&case, &model).expect("solved");
    let doubt: Doubt =
        of_conditions(&case, &mut conditions, TallyWanted::default(), &|_| true).expect("doubt");
    assert!((512..4096).contains(&doubt.draws), "{}", doubt.draws);
    let least = doubt.least_K.expect("a band");
    assert!(least.p05 < least.p50 && least.p50 < least.p95);
    for part in conditions.iter().flat_map(|condition| &condition.parts).filter(|part| part.has_limit()) {
        let band = part.margin_band_K.expect("a band");
        assert!(band.p05 <= band.p50 && band.p50 <= band.p95 && band.p05 >= least.p05 - 5.0);
        let likelihood = part.likelihood.expect("a likelihood");
        assert!(likelihood >= doubt.all_hold);
        // 5 in 100 lie under the low end: above nothing there, more than 19 in 20 hold
        assert!((band.p05 >= 0.0) <= (likelihood >= 0.945) && (band.p95 < 0.0) <= (likelihood <= 0.055));
    }
    let decides: f64 = doubt.decides.iter().map(|each| each.share).sum();
    assert!((decides - 1.0).abs() < 1e-9, "{decides}");
    assert!(doubt.inputs.iter().any(|input| input.addresses.len() > 1));
    // of a car measured on the stand all bands are those of defaults
    assert!(doubt.inputs.len() > 20 && doubt.inputs.iter().all(|input| !input.stated));
}
