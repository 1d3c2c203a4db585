//! Elements that go with an opening, points of the sweep that count, and sets that are as good.

use super::{DEMO, LEAST_AREA, case, sized};
use slowcorner::case::Case;
use slowcorner::point::{Model, conditions};
use slowcorner::study::size::Sized;
use slowcorner::study::sweep::sweep;

const TWO_DUCTS: &str = include_str!("two_ducts.toml");

fn value(case: &Case, address: &str) -> f64 {
    case.numbers.value(case.numbers.find(address).expect("a number"))
}

/// A duct goes with the inlet before it: diameters as the root of its area, areas as the area itself.
#[test]
fn what_goes_with_an_opening_keeps_its_proportion() {
    let case = case(TWO_DUCTS);
    let found = sized(&case);
    for name in ["left duct", "right duct"] {
        let inlet = value(&found.case, &format!("passage/{name}/ram-inlet/area"));
        let duct = format!("passage/{name}/duct/diameter");
        let across = value(&found.case, &duct);
        assert!((across / 0.087 - (inlet / 60e-4).sqrt()).abs() < 1e-9, "{across} with {inlet}");
        let told = found.sizes.scaled.iter().find(|scaled| scaled.address == duct).expect("told");
        assert_eq!((told.with.as_str(), <&str>::from(told.unit)), (name, "m"));
        assert!((told.before - 0.087).abs() < 1e-12);
        assert!((told.after - across).abs() < 1e-12);
        let area = found.sizes.areas_m2.get(&format!("{name}/duct")).expect("its area stands beside it");
        assert!((area - std::f64::consts::PI * across * across / 4.0).abs() < 1e-9);
    }
    let margins = |sized: &Sized| {
        let model = Model::new(&sized.case).expect("ready");
        conditions::check(&sized.case, &model).expect("solved")[0].parts[0].flow_margin.expect("a number")
    };
    assert!((margins(&found) - 0.05).abs() < 1e-3);
    // one that stays as narrow as it was drawn asks for more of the inlet before it
    let text = TWO_DUCTS.replace("scale = { \"left duct\" = [\"duct\"], \"right duct\" = [\"duct\"] }\n", "");
    let stays = sized(&super::case(&text)).sizes;
    assert!(stays.scaled.is_empty() && stays.areas_m2.get("left duct/duct").is_none());
    assert!((stays.objective / found.sizes.objective - 1.0).abs() > 0.02, "{}", stays.objective);
}

/// One wide duct costs less than two narrow ones, and it hardly matters which: two sets, clearly different.
#[test]
fn a_set_that_is_as_good_is_told() {
    let found = sized(&case(TWO_DUCTS)).sizes;
    assert!(found.feasible);
    let [other] = &found.as_good[..] else { panic!("{:?}", found.as_good) };
    let of = |areas: &slowcorner::point::result::ByName<f64>, name: &str| *areas.get(name).expect("an area");
    // the left one recovers a little more
    assert!(of(&found.areas_m2, "left duct") > 40e-4 && of(&found.areas_m2, "right duct") < 11e-4);
    assert!(of(&other.areas_m2, "right duct") > 40e-4 && of(&other.areas_m2, "left duct") < 11e-4);
    assert!(other.objective > found.objective && other.objective < 1.01 * found.objective);
    // each reaches the margin, and half of both does not do for more
    let text = TWO_DUCTS.replace("recovery = 0.899", "recovery = 0.6");
    assert!(sized(&case(&text)).sizes.as_good.is_empty(), "the right one is far worse");
}

/// Every point of the sweep counts where `at` names it: looked at far more finely than the search does.
#[test]
fn margins_are_reached_at_every_point_of_the_sweep() {
    let margin = "margin = { heads = \"12 %\", barrels = \"12 %\", oil = \"6 K\" }";
    assert!(DEMO.contains(at_of()) && DEMO.contains(margin));
    let with = |at: &str| case(&DEMO.replace(at_of(), at).replace(margin, "margin = \"5 %\""));
    let least = |sized: &Sized| {
        let model = Model::new(&sized.case).expect("ready");
        let points = sweep(&sized.case, &model, 701).expect("swept").points;
        let parts = points.iter().flat_map(|point| point.parts.iter());
        let margins = parts.filter_map(|(_, part)| part.flow_margin);
        margins.fold(f64::INFINITY, f64::min)
    };
    let named = sized(&with("at = [\"straight\"]"));
    let whole = sized(&with("at = [\"straight\", \"sweep\"]"));
    assert!(whole.sizes.feasible && whole.sizes.at == ["straight", "sweep"]);
    assert!(least(&whole) > 0.05 - 1e-3, "{}", least(&whole));
    assert!(least(&named) < 0.04, "the straight alone asks for as much: {}", least(&named));
    assert!(whole.sizes.objective > named.sizes.objective);
    let holder =
        whole.sizes.limited_by.iter().find(|limit| limit.condition == "sweep").expect("a point holds");
    assert!(holder.speed_m_s.is_some() && holder.gear.is_some());
}

/// A part that no size cools lets no other go, at any point of the sweep.
#[test]
fn what_one_part_is_short_of_lets_no_other_go_along_the_sweep() {
    let found = sized(&case(include_str!("hopeless.toml")));
    assert!(!found.sizes.feasible);
    let model = Model::new(&found.case).expect("ready");
    let points = sweep(&found.case, &model, 701).expect("swept").points;
    let least = |name: &str| {
        let margins = points.iter().filter_map(|point| point.parts.get(name)?.flow_margin);
        margins.fold(f64::INFINITY, f64::min)
    };
    // within the one kelvin that the hopeless one may be from its best
    assert!(least("oil") < -0.05, "the oil is meant to be hopeless: {}", least("oil"));
    assert!(least("head") > 0.05 - 2e-2, "{}", least("head"));
}

fn at_of() -> &'static str {
    "at = [\"hairpin\", \"following\", \"straight\"]"
}

/// What 1 mm all round does is what a case with such openings gives.
#[test]
fn a_millimetre_all_round_moves_what_it_is_said_to_move() {
    let base = case(LEAST_AREA);
    let found = sized(&base);
    assert_eq!(found.sizes.hand_cut.len(), found.openings.len());
    let least = |case: &Case| {
        let model = Model::new(case).expect("ready");
        let conditions = conditions::check(case, &model).expect("solved");
        let counted = conditions.iter().filter(|condition| condition.name != "queue");
        let margins =
            counted.flat_map(|condition| condition.parts.iter().map(|part| part.temperature_margin_K));
        margins.fold(f64::INFINITY, f64::min)
    };
    let exact = least(&found.case);
    for (cut, (opening, area)) in found.sizes.hand_cut.iter().zip(&found.openings) {
        assert_eq!(cut.opening, opening.name);
        // between a round one and a slit of one to five
        let round = 2e-3 * (std::f64::consts::PI * area).sqrt();
        assert!((0.99 * round..1.6 * round).contains(&cut.area_m2), "{}: {}", cut.opening, cut.area_m2);
        let mut trial = found.case.clone();
        opening.set(&mut trial, area + cut.area_m2);
        let moved = least(&trial) - exact;
        assert!((cut.larger_K.expect("solved") - moved).abs() < 1e-6, "{}: {moved}", cut.opening);
        assert!(cut.hits.as_ref().is_some_and(|(_, _, moved)| *moved < 0.0));
    }
    let largest = found.sizes.hand_cut.iter().filter_map(|cut| cut.smaller_K).fold(0.0, f64::min);
    assert!(largest < -0.1, "nothing moves: {largest}");
}
