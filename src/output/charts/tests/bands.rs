//! Band charts: the stack adds up, small bands are merged, every visible band is named.

use super::samples::{Made, assert_sound, axis, numbers, odd_bands};
use crate::output::charts::bands::stack::{self, BandStack};
use crate::output::charts::{BandChart, ChartBand, Picture};
use crate::output::scene::drawing::Scene;

fn band(name: &str, points: &[(f64, f64)]) -> ChartBand {
    ChartBand { name: name.to_owned(), points: points.iter().map(|(x, y)| (*x, Some(*y))).collect() }
}

fn texts(scene: &Scene) -> Vec<String> {
    scene.text_boxes().into_iter().map(|(text, _)| text).collect()
}

/// Height of the upper and depth of the lower stack at each place.
fn heights(stack: &BandStack) -> Vec<Option<(f64, f64)>> {
    (0..stack.places.len())
        .map(|i| {
            let mut sums = (0.0, 0.0);
            for slice in &stack.slices {
                slice.values[i]?;
                for (inner, outer) in [slice.own[i], slice.other[i]].into_iter().flatten() {
                    let part: f64 = outer - inner;
                    if part > 0.0 { sums.0 += part } else { sums.1 -= part }
                }
            }
            Some(sums)
        })
        .collect()
}

/// A budget that balances: twelve losses share what three sources give, one source turning negative on the way.
fn budget() -> BandChart {
    let speeds: Vec<f64> = (0..=50).map(|i| f64::from(i) * 4.0).collect();
    let (ram, fan, exit) = (|v: f64| 0.03 * v * v, |v: f64| 300.0 - v, |v: f64| 0.004 * v * v - 20.0);
    let sum = |v: f64| ram(v) + fan(v) + exit(v);
    let line = |name: &str, f: &dyn Fn(f64) -> f64| {
        band(name, &speeds.iter().map(|v| (*v, f(*v))).collect::<Vec<_>>())
    };
    let shares = [0.4, 0.2, 0.12, 0.08, 0.06, 0.045, 0.035, 0.024, 0.015, 0.01, 0.007, 0.004];
    BandChart {
        title: "Pressure".to_owned(),
        x: axis("Speed", "km/h"),
        y: axis("Pressure", "Pa"),
        gives: vec![line("ram", &ram), line("fan", &fan), line("exit suction", &exit)],
        takes: shares
            .iter()
            .enumerate()
            .map(|(i, share)| line(&format!("kind {i}"), &|v| share * sum(v)))
            .collect(),
        gives_note: "gives".to_owned(),
        takes_note: "takes".to_owned(),
        ..BandChart::default()
    }
}

#[test]
fn a_balanced_budget_is_as_tall_as_it_is_deep() {
    let stack = stack::stack(&budget());
    for (place, sums) in stack.places.iter().zip(heights(&stack)) {
        let (up, down) = sums.expect("known everywhere");
        assert!((up - down).abs() < 1e-9 * up.max(1.0), "{} Pa up, {} Pa down at {}", up, down, place.x);
    }
}

#[test]
fn small_bands_are_drawn_together_and_listed() {
    let chart = budget();
    let stack = stack::stack(&chart);
    assert_eq!(stack.merged, vec!["kind 8", "kind 9", "kind 10", "kind 11"]);
    let other = stack.slices.last().expect("bands");
    assert_eq!(other.name, "other");
    // The four shares add to 0.036 of the sum, which is 300 − 20 at rest.
    let at_rest = other.values[0].expect("a value");
    assert!((at_rest - 0.036 * 280.0).abs() < 1e-9);
    let scene = chart.scene().expect("a layout");
    assert_sound(&scene, "budget");
    let all = texts(&scene);
    for name in ["ram", "fan", "exit suction", "kind 0", "kind 7", "other", "gives", "takes"] {
        assert!(all.iter().any(|text| text == name), "{name}");
    }
    assert!(all.iter().any(|text| text.contains("kind 8, kind 9, kind 10, kind 11")));
}

#[test]
fn one_small_band_keeps_its_name() {
    let chart = BandChart {
        takes: vec![band("large", &[(0.0, 100.0), (1.0, 100.0)]), band("small", &[(0.0, 1.0), (1.0, 1.0)])],
        ..BandChart::default()
    };
    let names: Vec<String> = stack::stack(&chart).slices.into_iter().map(|slice| slice.name).collect();
    assert_eq!(names, vec!["large", "small"]);
}

#[test]
fn a_band_changes_sides_where_its_sign_does() {
    let chart = BandChart {
        gives: vec![band("ram", &[(0.0, 10.0), (4.0, 10.0)]), band("exit", &[(0.0, -3.0), (4.0, 9.0)])],
        takes: vec![band("fins", &[(0.0, 7.0), (4.0, 19.0)])],
        ..BandChart::default()
    };
    let stack = stack::stack(&chart);
    // −3 + 12 x / 4 is nought at x = 1, which must be a place of its own.
    let crossing = stack.places.iter().position(|place| (place.x - 1.0).abs() < 1e-12).expect("the crossing");
    let exit = &stack.slices[1];
    assert_eq!(exit.own[0], Some((10.0, 10.0)));
    assert_eq!(exit.other[0], Some((-7.0, -10.0)));
    assert_eq!(exit.own[crossing], Some((10.0, 10.0)));
    let last = stack.places.len() - 1;
    assert_eq!((exit.own[last], exit.other[last]), (Some((10.0, 19.0)), Some((-19.0, -19.0))));
}

#[test]
fn a_step_stays_upright() {
    let chart = BandChart {
        gives: vec![band("fan", &[(0.0, 4.0), (2.0, 8.0), (2.0, 5.0), (4.0, 9.0)])],
        takes: vec![band("late", &[(3.0, 6.0), (4.0, 6.0)])],
        ..BandChart::default()
    };
    let stack = stack::stack(&chart);
    let at = |x: f64| -> Vec<(f64, f64)> {
        let places = stack.places.iter().enumerate().filter(|(_, place)| place.x == x);
        places
            .map(|(i, _)| {
                (stack.slices[0].values[i].unwrap_or(-1.0), stack.slices[1].values[i].unwrap_or(-1.0))
            })
            .collect()
    };
    assert_eq!(at(2.0), vec![(8.0, 0.0), (5.0, 0.0)]);
    // A band begins with a step where the others already stand.
    assert_eq!(at(3.0), vec![(7.0, 0.0), (7.0, 6.0)]);
    assert_eq!(at(4.0), vec![(9.0, 6.0)]);
}

#[test]
fn a_missing_value_leaves_a_gap_in_the_whole_stack() {
    let mut chart = BandChart {
        gives: vec![band("ram", &[(0.0, 5.0), (1.0, 5.0), (2.0, 5.0), (3.0, 5.0)])],
        takes: vec![band("fins", &[(0.0, 5.0), (1.0, 5.0), (2.0, 5.0), (3.0, 5.0)])],
        ..BandChart::default()
    };
    chart.takes[0].points[1].1 = None;
    let stack = stack::stack(&chart);
    let known: Vec<(f64, bool)> =
        stack.places.iter().zip(heights(&stack)).map(|(place, sums)| (place.x, sums.is_some())).collect();
    assert!(
        known.iter().all(|(x, known)| *known == (*x == 0.0 || *x >= 2.0) || *x == 1.0 && !known),
        "{known:?}"
    );
    assert_sound(&chart.scene().expect("a layout"), "gap");
}

#[test]
fn a_band_gone_at_the_end_is_named_inside_or_in_the_key() {
    let thick = BandChart {
        takes: vec![
            band("always", &[(0.0, 50.0), (10.0, 50.0)]),
            band("at first", &[(0.0, 80.0), (6.0, 60.0), (8.0, 0.0), (10.0, 0.0)]),
        ],
        ..BandChart::default()
    };
    let scene = thick.scene().expect("a layout");
    assert_sound(&scene, "inside");
    let inside = scene.text_boxes().into_iter().find(|(text, _)| text == "at first").expect("named");
    assert!(inside.1.right < 700.0, "{inside:?}");

    let thin = BandChart {
        takes: vec![
            band("always", &[(0.0, 50.0), (10.0, 50.0)]),
            band("briefly", &[(0.0, 4.0), (1.0, 0.0), (10.0, 0.0)]),
        ],
        ..BandChart::default()
    };
    let scene = thin.scene().expect("a layout");
    assert_sound(&scene, "key");
    let all = texts(&scene);
    assert_eq!(numbers(&scene, 1), 2);
    assert!(all.iter().any(|text| text == "briefly"));
}

#[test]
fn bands_never_seen_are_not_named() {
    let chart = BandChart {
        gives: vec![band("ram", &[(0.0, 5.0), (1.0, 5.0)]), band("fan off", &[(0.0, 0.0), (1.0, 0.0)])],
        takes: vec![band("no values", &[])],
        ..BandChart::default()
    };
    let scene = chart.scene().expect("a layout");
    let all = texts(&scene);
    assert!(!all.iter().any(|text| text == "fan off"));
    assert!(all.iter().any(|text| text == "No values to draw: no values."));
}

#[test]
fn odd_data_gives_sound_layouts() {
    let mut made = Made(0xbead);
    for round in 0..300 {
        let chart = odd_bands(&mut made);
        assert_sound(&chart.scene().expect("a layout"), &format!("round {round}"));
    }
}
