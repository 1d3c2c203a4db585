//! Staircases: what is drawn, and that nothing is cut or covered.

use super::samples::{Made, assert_sound, word};
use crate::output::charts::{Picture, Stair, StairChart, Stairway};
use crate::output::scene::drawing::{DrawnItem, Scene};

fn way(made: &mut Made, steps: usize) -> Stairway {
    Stairway {
        name: word(made),
        note: word(made),
        loud: made.below(2) == 0,
        from: (word(made), 100.0 * made.part()),
        steps: (0..steps)
            .map(|_| Stair {
                name: word(made),
                to: 900.0 * made.part() - 200.0,
                place: made.below(3) == 0,
                loud: made.below(3) == 0,
            })
            .collect(),
    }
}

#[test]
fn staircases_of_whatever_may_come_cover_nothing() {
    let mut made = Made(23);
    for ways in 0..5 {
        for steps in [0, 1, 5, 12, 16] {
            let chart = StairChart {
                title: word(&mut made),
                subtitle: word(&mut made),
                what: "Total pressure".into(),
                unit: "Pa".into(),
                ways: (0..ways).map(|_| way(&mut made, steps)).collect(),
                footnotes: vec!["A note.".into()],
                width: (made.below(2) == 0).then_some(380.0),
            };
            assert_sound(&chart.scene().expect("a layout"), &format!("{ways} ways of {steps} steps"));
        }
    }
}

/// Heights of the staircases' lines.
fn heights(scene: &Scene) -> Vec<f64> {
    let lines = scene.items.iter().filter_map(|item| match item {
        DrawnItem::Stroke { points, width, .. } if *width == 2.2 => Some(points),
        _ => None,
    });
    lines
        .map(|points| {
            let ys = || points.iter().map(|point| point.1);
            ys().fold(f64::NEG_INFINITY, f64::max) - ys().fold(f64::INFINITY, f64::min)
        })
        .collect()
}

#[test]
fn every_way_has_the_scale_of_the_others() {
    let to = |name: &str, to: f64| Stair { name: name.into(), to, ..Stair::default() };
    let way = |high: f64| Stairway {
        from: ("outside".into(), 0.0),
        steps: vec![to("ram", high), to("fins", 0.25 * high)],
        ..Stairway::default()
    };
    let chart = StairChart { ways: vec![way(800.0), way(200.0)], ..StairChart::default() };
    let heights = heights(&chart.scene().expect("a layout"));
    assert!((heights[0] / heights[1] - 4.0).abs() < 1e-9, "{heights:?}");
}
