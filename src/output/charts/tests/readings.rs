//! Readings against what was reckoned: what is drawn, and that nothing is cut or covered.

use super::samples::{Made, assert_sound, axis, word};
use crate::output::charts::{Picture, ReadChart, ReadGroup, ReadRow};
use crate::output::scene::drawing::{DrawnItem, Scene};

fn row(made: &mut Made) -> ReadRow {
    let middle = 300.0 * made.part() - 100.0;
    let wide = 60.0 * made.part();
    let read = middle + wide * (made.part() - 0.5);
    let end = |made: &mut Made, at: f64| (made.below(4) > 0).then_some(at);
    ReadRow {
        name: word(made),
        before: [middle - wide, middle, middle + wide],
        after: [middle - 0.4 * wide, middle, middle + 0.3 * wide],
        read,
        between: [end(made, read - 5.0), end(made, read + 5.0)],
        label: word(made),
    }
}

#[test]
fn readings_of_whatever_may_come_cover_nothing() {
    let mut made = Made(31);
    for groups in 0..3 {
        for rows in [0, 1, 6, 20] {
            let group = |made: &mut Made| ReadGroup {
                x: axis("Temperature", "°C"),
                rows: (0..rows).map(|_| row(made)).collect(),
            };
            let chart = ReadChart {
                title: word(&mut made),
                subtitle: word(&mut made),
                groups: (0..groups).map(|_| group(&mut made)).collect(),
                footnotes: vec!["A note.".into()],
                width: (made.below(2) == 0).then_some(380.0),
            };
            assert_sound(&chart.scene().expect("a layout"), &format!("{groups} groups of {rows} rows"));
        }
    }
}

/// Widths of the grounds that are filled, in order.
fn grounds(scene: &Scene) -> Vec<f64> {
    let all = scene.items.iter().filter_map(|item| match item {
        DrawnItem::Fill { points, opacity, .. } if *opacity < 1.0 => Some(points),
        _ => None,
    });
    let width = |points: &Vec<(f64, f64)>| {
        let xs = || points.iter().map(|point| point.0);
        xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min)
    };
    all.map(width).collect()
}

#[test]
fn bands_lie_to_one_scale_and_what_is_no_number_is_left_out() {
    let row = |name: &str, before: [f64; 3], after: [f64; 3]| ReadRow {
        name: name.into(),
        before,
        after,
        read: 150.0,
        between: [Some(145.0), Some(155.0)],
        label: "150 °C".into(),
    };
    let rows = vec![
        row("heads", [100.0, 150.0, 200.0], [140.0, 150.0, 160.0]),
        row("oil", [f64::NAN, 90.0, 110.0], [90.0, 95.0, 100.0]),
    ];
    let chart = ReadChart {
        title: "Read and reckoned".into(),
        groups: vec![ReadGroup { x: axis("Temperature", "°C"), rows }],
        ..ReadChart::default()
    };
    let scene = chart.scene().expect("a layout");
    let widths = grounds(&scene);
    assert_eq!(widths.len(), 2);
    assert!((widths[0] / widths[1] - 5.0).abs() < 1e-9, "{widths:?}");
    assert!(scene.text_boxes().iter().all(|(text, _)| text != "oil"));
    assert!(scene.description.contains("heads: read 150, expected 100 to 200 before, 140 to 160 after."));
}
