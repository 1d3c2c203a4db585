//! What readings are worth beside guesses.

use slowcorner::case::{Case, load};
use slowcorner::draws::{Guesses, TallyWanted};
use slowcorner::point::budget::Budget;
use slowcorner::point::{Model, conditions};
use slowcorner::readings::operator::ReadingKind;
use slowcorner::study::doubt::shares::{GuessRanking, ranking_within};
use slowcorner::study::doubt::{LeastOver, of_conditions};

const DEMO: &str = include_str!("../../cases/orchard-cyclecar.toml");
const FAR_OVER: &str = include_str!("../../cases/quarry-sprinter.toml");

fn case(text: &str) -> Case {
    load(text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case
}

fn ranked(case: &Case, measure: &LeastOver) -> GuessRanking {
    ranking_within(Budget::of(u64::MAX), 1, case, &Guesses::of(case), measure, &|_| true).expect("a ranking")
}

/// A part whose temperature is a guess: what is not known is its heat, and a gauge tells that but for its own error.
#[test]
fn a_gauge_tells_a_guess_that_it_hangs_on_but_for_its_own_error() {
    let text = super::answers::SURE
        .replace("LIMIT", "200 degC")
        .replace("ABOVE", "0 K")
        .replace("heads = \"10 %\"", "heads = \"10 % ± 4 %\"");
    let case = case(&text);
    let found = ranked(&case, &LeastOver::all(&case));
    let half = found.ranked.half_band_K;
    assert!(half > 15.0, "{half}");
    // the guess itself is all there is to know
    assert!(found.shares.len() == 1 && found.shares[0].left.leaves_K < 0.1 * half);
    let gauge =
        found.readings.iter().find(|reading| reading.kind == ReadingKind::Temperature).expect("a gauge");
    // read at the very moment that counts, what it and the model are off by is what it leaves (± 5 K, 2.5 K of all gauges alike, 8
    // K): independent normal errors, σ² = σ₁²σ₂²/(σ₁² + σ₂²)
    let off = (5.0_f64.powi(2) + 2.5_f64.powi(2) + 8.0_f64.powi(2)).sqrt();
    let exact = half * off / (half * half + off * off).sqrt();
    assert!((gauge.left.leaves_K - exact).abs() < 0.15 * exact + 0.3, "{} for {exact}", gauge.left.leaves_K);
    let shows = gauge.shows.expect("where it is likely to be");
    assert!(shows.p05 < shows.p50 && shows.p50 < shows.p95);
}

/// What no reading hangs on, no reading tells: the limit itself.
#[test]
fn no_reading_tells_what_it_does_not_hang_on() {
    let text = super::answers::SURE.replace("LIMIT", "200 degC ± 10 K").replace("ABOVE", "0 K");
    let case = case(&text);
    let found = ranked(&case, &LeastOver::all(&case));
    for reading in &found.readings {
        assert!(reading.share < 0.03, "{}: {}", reading.reading, reading.share);
    }
}

/// Where the gauge is more likely beyond the limit than not, nothing is held until it stands: no temperature is offered there.
#[test]
fn no_temperature_is_read_where_a_part_is_likely_over_its_limit() {
    let of = |limit: &str| {
        let text = super::answers::SURE
            .replace("LIMIT", limit)
            .replace("ABOVE", "0 K")
            .replace("heads = \"10 %\"", "heads = \"10 % ± 4 %\"");
        let case = case(&text);
        ranked(&case, &LeastOver::all(&case))
    };
    let cool = of("200 degC");
    let shows =
        cool.readings.iter().find(|reading| reading.kind == ReadingKind::Temperature).expect("a gauge");
    let (middle, when) = (shows.shows.expect("where").p50, shows.condition.clone().expect("a condition"));
    assert!(cool.ranked.too_hot.is_empty());
    // a limit just over and just under what it shows in half of the draws
    assert!(of(&format!("{} degC", middle + 3.0)).ranked.too_hot.is_empty());
    let hot = of(&format!("{} degC", middle - 3.0));
    assert!(hot.ranked.too_hot.contains(&when), "{:?}", hot.ranked.too_hot);
    assert!(hot.readings.iter().all(|reading| {
        reading.kind == ReadingKind::Pressure || reading.condition.as_ref() != Some(&when)
    }));
}

/// Six temperatures say more than any one guess, and two readings no less than one.
#[test]
fn several_readings_narrow_more_than_one_guess() {
    let case = case(DEMO);
    let found = ranked(&case, &LeastOver::all(&case));
    let best = found.shares.iter().map(|worth| worth.left.leaves_K).fold(f64::INFINITY, f64::min);
    let several: Vec<_> =
        found.readings.iter().filter(|reading| reading.kind == ReadingKind::Several).collect();
    assert!(!several.is_empty());
    assert!(
        several[0].readings >= 6 && several[0].left.leaves_K < 0.6 * best,
        "{}",
        several[0].left.leaves_K
    );
    let next = found.next.expect("the next best");
    assert!(next.two_leave_K <= next.one_leaves_K + 0.5 && next.two[0] != next.two[1]);
    for pair in found.readings.windows(2) {
        assert!(pair[0].left.worth_K >= pair[1].left.worth_K);
    }
    let at = |speed: f64| {
        found.readings.iter().any(|reading| reading.speed_m_s.is_some_and(|v| (3.6 * v - speed).abs() < 0.1))
    };
    assert!(at(60.0), "no drive at 60 km/h");
    assert!(found.readings.iter().any(|reading| reading.what.starts_with("U-tube")));
}

/// A part that is over its limit in every draw would hide what the others hang on.
#[test]
fn what_is_lost_for_sure_does_not_rank() {
    let case = case(FAR_OVER);
    let model = Model::new(&case).expect("a model");
    let mut conditions = conditions::check(&case, &model).expect("solved");
    of_conditions(&case, &mut conditions, TallyWanted { most: 512, ..TallyWanted::default() }, &|_| true)
        .expect("doubt");
    let measure = LeastOver::of(&case, &conditions);
    assert!(measure.in_doubt && !measure.lost.is_empty() && !measure.places.is_empty());
    let found = ranked(&case, &measure);
    let all = ranked(&case, &LeastOver::all(&case));
    assert!(found.ranked.half_band_K < 0.5 * all.ranked.half_band_K);
    for place in &found.ranked.lost {
        assert!(!found.ranked.of.contains(place));
    }
    // without any likelihood nothing is known to be in doubt, and everything counts
    let plain = conditions::check(&case, &model).expect("solved");
    assert_eq!(LeastOver::of(&case, &plain), LeastOver::all(&case));
}

/// Stopped half-way, what was weighed so far is kept.
#[test]
fn what_is_stopped_keeps_what_is_done() {
    let case = case(DEMO);
    let guesses = Guesses::of(&case);
    let found = ranking_within(Budget::of(u64::MAX), 1, &case, &guesses, &LeastOver::all(&case), &|share| {
        share < 0.3
    })
    .expect("a ranking");
    assert!(
        found.ranked.stopped && found.ranked.pairs >= 64 && found.ranked.pairs < 400,
        "{}",
        found.ranked.pairs
    );
}
