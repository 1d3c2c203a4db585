//! Which layout is better over all that the guesses may turn out to be.

use super::{QUARRY, STUBBLE, read};
use slowcorner::draws::{Guesses, TallyWanted, draws};
use slowcorner::point::budget::Budget;
use slowcorner::study::compare::result::{Comparison, LayoutInDraws};
use slowcorner::study::compare::{BASE, Options, compare};

fn drawn(source: &str, sized: bool, most: usize) -> Comparison {
    let loaded = read(source);
    let budget = Budget::seconds(60.0);
    let options = Options { sized, budget, drawn: Some((Some(most), budget)) };
    compare(&loaded.document, &loaded.case, options, &|_| {})
}

fn seen<'c>(comparison: &'c Comparison, layout: &str) -> &'c LayoutInDraws {
    let compared = comparison.compare.iter().find(|compared| compared.layout == layout).expect("a layout");
    compared.seen.as_ref().expect("something is guessed")
}

/// A layout that is the base case under another name: a coin toss, and nothing is crowned.
#[test]
fn the_same_car_under_another_name_is_too_close_to_call() {
    let twin = "\n[[layout]]\nname = \"twin\"\nset = { \"place/tail/pressure_coefficient\" = -0.1501 }\n";
    let found = drawn(&format!("{QUARRY}{twin}"), false, 512);
    let chances = found.chances.as_ref().expect("guesses");
    let pair = (chances.pairs.iter())
        .find(|pair| [&pair.better, &pair.than].iter().all(|name| *name == BASE || *name == "twin"))
        .expect("each against each");
    assert!(pair.too_close && pair.middle_gap_K.abs() < 1.0, "{pair:?}");
    let (base, twin) = (seen(&found, BASE), seen(&found, "twin"));
    // the same draws: where the cars are the same, so is what they give
    assert!((base.least_K.p50 - twin.least_K.p50).abs() < 1.0);
    assert!(twin.cures.is_empty() && twin.harms.is_empty());
}

/// With exits that suck far less the same car is worse in every draw.
#[test]
fn what_is_clearly_worse_is_called_and_harms() {
    let worse = "\n[[layout]]\nname = \"high exits\"\nset = { \"place/tail/pressure_coefficient\" = 0.25 }\n";
    let only = QUARRY.split("[[layout]]").next().expect("the case alone");
    let text = format!("{only}{worse}")
        .replace("{ kind = \"exit\", area = \"100 cm2\"", "{ kind = \"exit\", area = \"300 cm2\"");
    let found = drawn(&text, false, 512);
    let chances = found.chances.as_ref().expect("guesses");
    assert_eq!(chances.best.as_deref(), Some(BASE));
    assert_eq!(chances.order, [BASE, "high exits"]);
    assert!(chances.level.is_empty() && chances.draws == 512);
    let [pair] = &chances.pairs[..] else { panic!("one pair") };
    assert!(!pair.too_close && pair.share > 0.99 && pair.middle_gap_K > 5.0, "{pair:?}");
    let harmed = seen(&found, "high exits");
    assert!(!harmed.harms.is_empty() && harmed.cures.is_empty(), "{harmed:?}");
    assert!(harmed.all_hold < seen(&found, BASE).all_hold);
}

/// The base case by itself gives the same draws.
#[test]
fn a_layout_has_the_band_that_it_has_alone() {
    let found = drawn(STUBBLE, false, 2048);
    let case = read(STUBBLE).case;
    let wanted = TallyWanted { most: 4096, all: true, seed: 9, ..TallyWanted::default() };
    let alone = draws(&case, &Guesses::of(&case), wanted, &|_| true).expect("guesses");
    let base = seen(&found, BASE);
    // `at` leaves out conditions that are worse: the least margin of what counts lies above
    assert!(base.least_K.p50 >= alone.least.quantile(0.5) - 1.0);
    assert!(base.all_hold >= alone.holds.0 - 0.02 && base.standard_error < 0.02);
    assert!(base.least_K.p05 < base.least_K.p50 && base.least_K.p50 < base.least_K.p95);
}

#[test]
fn without_doubt_nothing_of_it_is_told() {
    let loaded = read(STUBBLE);
    let options = Options { sized: false, budget: Budget::seconds(60.0), drawn: None };
    let found = compare(&loaded.document, &loaded.case, options, &|_| {});
    assert!(found.chances.is_none() && found.compare.iter().all(|compared| compared.seen.is_none()));
}
