//! Sizes against an independent implementation: scipy's SLSQP over a second solver of the same model,
//! begun from 8 and 16 starts.

mod heating;
mod holds;
mod scale;

use slowcorner::case::{Case, load};
use slowcorner::point::conditions::check;
use slowcorner::point::describe::cooling_drag;
use slowcorner::point::opening::Opening;
use slowcorner::point::{Model, Operation, PointSolver};
use slowcorner::study::size::result::SizeBound;
use slowcorner::study::size::{Sized, Sizing};

const LEAST_AREA: &str = include_str!("least_area.toml");
const LEAST_DRAG: &str = include_str!("least_drag.toml");
const DEMO: &str = include_str!("../../cases/quarry-sprinter.toml");

fn case(text: &str) -> Case {
    load(text, &[]).unwrap_or_else(|faults| panic!("{faults:?}")).case
}

fn sized(case: &Case) -> Sized {
    Sizing::new(case).expect("a [size] table").solve().expect("solved")
}

fn expected(text: &str) -> serde_json::Value {
    serde_json::from_str::<serde_json::Value>(text).expect("valid")["sizes"].clone()
}

#[test]
fn least_area_is_that_of_the_second_implementation() {
    let case = case(LEAST_AREA);
    let found = sized(&case).sizes;
    let wanted = expected(include_str!("least_area.expected.json"));
    assert!(found.feasible);
    let objective = wanted["objective"].as_f64().expect("a number");
    // 0.1 % of the objective is what a sizing is asked for
    assert!((found.objective / objective - 1.0).abs() < 1e-3, "{} for {objective}", found.objective);
    for (name, area) in found.areas_m2.iter() {
        let reference = wanted["areas_m2"][name].as_f64().expect("a number");
        assert!((area / reference - 1.0).abs() < 2e-3, "{name}: {area} for {reference}");
    }
    assert!(found.at_bound.is_empty());
    let limits: Vec<(&str, &str)> =
        found.limited_by.iter().map(|l| (l.part.as_str(), l.condition.as_str())).collect();
    assert_eq!(limits, [("heads", "following"), ("oil", "following"), ("barrels", "straight")]);
    assert!(found.least_margin.expect("a margin") >= 0.1);
}

#[test]
fn least_drag_is_that_of_the_second_implementation() {
    let case = case(LEAST_DRAG);
    let found = sized(&case).sizes;
    let wanted = expected(include_str!("least_drag.expected.json"));
    assert!(found.feasible);
    let objective = wanted["objective"].as_f64().expect("a number");
    assert!(found.objective / objective - 1.0 < 1e-3, "{} for {objective}", found.objective);
    assert_eq!(found.at_bound.get("left exit"), Some(&SizeBound::Least));
    // the drag hardly depends on the inlets, so that only the exits are compared closely
    let area = *found.areas_m2.get("right exit").expect("sized");
    assert!((area / wanted["areas_m2"]["right exit"].as_f64().expect("a number") - 1.0).abs() < 2e-3);
    assert!(found.least_margin.expect("a margin") >= 0.08);
}

/// Objective (total free area, or the drag of the straight) where every margin is reached.
fn objective(case: &Case, drag: bool, targets: &dyn Fn(&str, f64, f64) -> bool, at: &[&str]) -> Option<f64> {
    let model = Model::new(case).ok()?;
    for condition in check(case, &model).ok()? {
        if !at.contains(&condition.name.as_str()) {
            continue;
        }
        for part in &condition.parts {
            if !targets(&part.name, part.flow_margin?, part.temperature_margin_K) {
                return None;
            }
        }
    }
    if !drag {
        return Some(f64::NAN);
    }
    let index = case.condition("straight")?;
    let operation = Operation::of_condition(case, &model, &case.conditions[index].values);
    let mut solver = PointSolver::new(&model);
    solver.prepare(&model, &operation);
    solver.solve().ok()?;
    Some(cooling_drag(&solver))
}

#[test]
fn no_pair_of_small_changes_does_better() {
    for (text, drag) in [(LEAST_AREA, false), (LEAST_DRAG, true)] {
        let base = case(text);
        let best = sized(&base);
        let at = ["hairpin", "following", "fast bend", "straight"];
        let reached = |part: &str, flow: f64, kelvin: f64| {
            if drag {
                flow >= 0.08
            } else {
                match part {
                    "heads" => flow >= 0.15,
                    "barrels" => flow >= 0.10,
                    _ => kelvin >= 6.0,
                }
            }
        };
        let openings: Vec<(Opening, f64)> = best.openings.clone();
        let lower = |name: &str| match (drag, name) {
            (true, "left exit") => 40e-4,
            (true, _) => 15e-4,
            (false, "barrels") => 20e-4,
            (false, _) => 12e-4,
        };
        let mut tried = 0;
        for first in 0..openings.len() {
            for second in 0..openings.len() {
                for (a, b) in [(0.996, 1.002), (0.996, 1.004), (0.996, 1.008), (0.996, 1.0)] {
                    let mut trial = base.clone();
                    let mut area = 0.0;
                    let mut allowed = true;
                    for (index, (opening, size)) in openings.iter().enumerate() {
                        let factor = if index == first {
                            a
                        } else if index == second {
                            b
                        } else {
                            1.0
                        };
                        allowed &= size * factor >= lower(&opening.name) * (1.0 - 1e-9);
                        opening.set(&mut trial, size * factor);
                        area += opening.pieces * size * factor;
                    }
                    let equal_exits = drag
                        || (trial_area(&trial, "left exit") - trial_area(&trial, "right exit")).abs() < 1e-12;
                    if !allowed || !equal_exits {
                        continue;
                    }
                    tried += 1;
                    if let Some(value) = objective(&trial, drag, &reached, &at) {
                        let value = if drag { value } else { area };
                        // what is spared for rounding, 2e-5 of every margin, is worth some 1e-4 of the objective
                        assert!(
                            value > best.sizes.objective * (1.0 - 2e-4),
                            "{} × {a}, {} × {b}: {value} below {}",
                            openings[first].0.name,
                            openings[second].0.name,
                            best.sizes.objective
                        );
                    }
                }
            }
        }
        assert!(tried > 20, "hardly anything was tried");
    }
}

fn trial_area(case: &Case, passage: &str) -> f64 {
    Opening::find(case, passage, None).map_or(f64::NAN, |opening| opening.area())
}

#[test]
fn the_way_through_a_reversal_is_found_and_told() {
    let case = case(DEMO);
    let found = sized(&case).sizes;
    assert!(found.feasible);
    let told = found.remarks.join("\n");
    assert!(
        told.contains("flows back through oil cooler") && told.contains("first falls and then rises"),
        "{told}"
    );
    // along the exits' area the oil is not monotone: blowing back, standing still, cooling
    let oil = |area: f64| {
        let mut trial = case.clone();
        for name in ["left exit", "right exit"] {
            Opening::find(&case, name, None).expect("an exit").set(&mut trial, area);
        }
        let model = Model::new(&trial).expect("ready");
        let hairpin = &check(&trial, &model).expect("solved")[0];
        let flow = hairpin.passages.iter().find(|p| p.name == "oil cooler").expect("there").mass_flow_kg_s;
        (hairpin.parts.iter().find(|p| p.name == "oil").expect("there").temperature_C, flow)
    };
    let (small, middle, large) = (oil(100e-4), oil(129e-4), oil(270e-4));
    assert!(small.1 < -0.01 && large.1 > 0.03 && middle.1.abs() < 0.003, "{small:?} {middle:?} {large:?}");
    assert!(middle.0 > small.0 + 50.0 && middle.0 > large.0 + 100.0, "{small:?} {middle:?} {large:?}");
}

#[test]
fn what_cannot_be_done_says_what_stops_it() {
    let text = DEMO.replace("other = \"520 cm2\"", "other = \"110 cm2\"");
    let found = sized(&case(&text)).sizes;
    assert!(!found.feasible);
    assert!(!found.limited_by.is_empty());
    assert!(
        found.remarks.iter().any(|r| r.contains("stops it") && r.contains("takes most of the pressure")),
        "{:?}",
        found.remarks
    );
}

/// The largest openings that are allowed have the most air; by scanning, the least that come within a kelvin of them are no larger than
/// what is given, and what is given does come within it.
#[test]
fn what_cannot_be_done_is_no_larger_than_the_last_kelvin_is_worth() {
    // margins in kelvins, so that the scan sees what the search weighs
    let text = DEMO.replace("other = \"520 cm2\"", "other = \"110 cm2\"");
    let line = text.lines().find(|line| line.starts_with("margin = ")).expect("margins").to_string();
    let base =
        case(&text.replace(&line, "margin = { heads = \"20 K\", barrels = \"20 K\", oil = \"20 K\" }"));
    let found = sized(&base);
    assert!(!found.sizes.feasible);
    let at: Vec<&str> = found.sizes.at.iter().map(String::as_str).collect();
    // what is short at the sizes given, and by how much more it would be at others
    let short = |areas: &[f64]| {
        let mut trial = base.clone();
        for ((opening, _), area) in found.openings.iter().zip(areas) {
            opening.set(&mut trial, *area);
        }
        let model = Model::new(&trial).expect("ready");
        let conditions = check(&trial, &model).expect("solved");
        let counting = conditions.iter().filter(|condition| at.contains(&condition.name.as_str()));
        let kelvins = counting.flat_map(|condition| &condition.parts).map(|part| part.temperature_margin_K);
        kelvins.fold(f64::INFINITY, f64::min)
    };
    let given: Vec<f64> = found.openings.iter().map(|(_, area)| *area).collect();
    let here = short(&given);
    let total = |areas: &[f64]| {
        let each = found.openings.iter().zip(areas);
        each.map(|((opening, _), area)| opening.open_pieces() * area).sum::<f64>()
    };
    let (mut best, mut tried) = (here, 0);
    // every opening from half of what is given to what is allowed
    let grid = |area: f64, name: &str| -> Vec<f64> {
        // the diffuser behind the inlet of the heads ends at 98 cm²
        let most = if name == "heads" { 97e-4 } else { 110e-4 };
        (0..6)
            .map(|step| (0.5 * area * (most / (0.5 * area)).powf(f64::from(step) / 5.0)).min(most))
            .collect()
    };
    let (mut least, mut sets) = (f64::INFINITY, Vec::new());
    for heads in grid(given[0], "heads") {
        for oil in grid(given[1], "oil cooler") {
            for exit in grid(given[2], "exit") {
                let areas = [heads, oil, exit, exit];
                let left = short(&areas[..given.len()]);
                best = f64::max(best, left);
                sets.push((left, total(&areas[..given.len()])));
                tried += 1;
            }
        }
    }
    for (left, area) in &sets {
        if *left >= best - 0.9 {
            least = least.min(*area);
        }
    }
    assert!(tried == 216 && here >= best - 1.1, "{here} K for {best} K");
    assert!(total(&given) <= 1.01 * least, "{} for {least}", total(&given));
}

#[test]
fn alike_exits_and_needless_openings_are_told() {
    let text = DEMO.replace("[\"left exit\", \"right exit\"]]", "\"left exit\", \"right exit\"]");
    let found = sized(&case(&text)).sizes;
    assert!(
        found.remarks.iter().any(|r| r.contains("only the sum of their areas counts")),
        "{:?}",
        found.remarks
    );
    // two duct for one part: the second one turns out not to be needed
    let extra = "[[passage]]\nname = \"extra\"\nfrom = \"outside\"\nto = \"bay\"\nelement = [{ kind = \"ram-inlet\", area = \"30 cm2\", recovery = 0.9 }, { kind = \"fins\", part = \"barrels\", reference_flow = \"0.1 kg/s\", conductance = \"5 W/K\", pressure_drop = \"500 Pa\", area = \"60 cm2\" }]\n\n[[condition]]";
    let text =
        DEMO.replacen("[[condition]]", extra, 1).replace("free = [\"heads\"", "free = [\"extra\", \"heads\"");
    let found = sized(&case(&text)).sizes;
    assert!(
        found.remarks.iter().any(|r| r.contains("extra turns out not to be needed")),
        "{:?} {:?}",
        found.remarks,
        found.areas_m2
    );
}

#[test]
fn sizes_written_into_the_case_and_checked_give_what_was_asked_for() {
    let base = case(LEAST_AREA);
    let best = sized(&base);
    let mut trial = base.clone();
    for (opening, size) in &best.openings {
        opening.set(&mut trial, *size);
    }
    let model = Model::new(&trial).expect("ready");
    let conditions = check(&trial, &model).expect("solved");
    let mut least: Option<f64> = None;
    for condition in conditions.iter().filter(|condition| condition.name != "queue") {
        for part in &condition.parts {
            let reached = match part.name.as_str() {
                "heads" => part.flow_margin.expect("a number") - 0.15,
                "barrels" => part.flow_margin.expect("a number") - 0.10,
                _ => part.temperature_margin_K - 6.0,
            };
            assert!(reached >= 0.0, "{} in {}: short by {}", part.name, condition.name, -reached);
            // what limits is met and no more: 2e-5 of every margin is spared for rounding
            if best.sizes.limited_by.iter().any(|l| l.part == part.name && l.condition == condition.name) {
                assert!(reached < 2e-3, "{} in {}: {reached} to spare", part.name, condition.name);
            }
            if let Some(margin) = part.flow_margin {
                least = Some(least.map_or(margin, |other| margin.min(other)));
            }
        }
    }
    assert!((least.expect("one") - best.sizes.least_margin.expect("one")).abs() < 1e-9);
}
