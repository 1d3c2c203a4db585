//! Bar charts and spreads: what is drawn, and that nothing is cut or covered.

use super::samples::{Made, assert_sound, axis, curve, word};
use crate::output::charts::theme;
use crate::output::charts::{Bar, BarChart, LineChart, Panel, Picture, RangeBand};
use crate::output::scene::drawing::{DrawnItem, Scene};

fn scene(chart: &BarChart) -> Scene {
    chart.scene().expect("a layout")
}

fn chart(count: usize) -> BarChart {
    let bar = |index: usize| Bar {
        name: format!(
            "guess number {index}, which has a name that may be as long as this one is, and longer"
        ),
        value: 10.0 + index as f64,
        between: Some((9.0 + index as f64, 11.5 + index as f64)),
        label: format!("± {} K", 10 + index),
        hatched: index % 2 == 1,
    };
    BarChart {
        title: "What to measure first".into(),
        x: axis("Half the band", "K"),
        bars: (0..count).map(bar).collect(),
        against: Some((24.0, "± 24 K now".into())),
        footnotes: vec!["A note.".into()],
        ..BarChart::default()
    }
}

#[test]
fn bars_begin_at_nought_and_end_in_proportion() {
    let chart = chart(2);
    let scene = scene(&chart);
    assert_sound(&scene, "two bars");
    // the grounds of the bars, in order
    let widths: Vec<f64> = scene
        .items
        .iter()
        .filter_map(|item| match item {
            DrawnItem::Fill { points, opacity, .. } if *opacity < 1.0 => Some(points),
            _ => None,
        })
        .map(|points| {
            let xs = || points.iter().map(|point| point.0);
            xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min)
        })
        .collect();
    assert_eq!(widths.len(), 2);
    assert!((widths[1] / widths[0] - 1.1).abs() < 1e-9, "{widths:?}");
    for text in ["± 10 K", "± 11 K", "± 24 K now", "A note."] {
        assert!(scene.text_boxes().iter().any(|(known, _)| known == text), "{text}");
    }
    assert!(scene.description.contains("Marked at 24: ± 24 K now."));
}

#[test]
fn many_bars_make_it_higher_and_cover_nothing() {
    let heights: Vec<f64> = [1, 5, 14, 40]
        .into_iter()
        .map(|count| {
            let scene = scene(&chart(count));
            assert_sound(&scene, &format!("{count} bars"));
            scene.height
        })
        .collect();
    assert!(heights.windows(2).all(|pair| pair[0] < pair[1]));
    let empty = scene(&BarChart::default());
    assert!(empty.text_boxes().iter().any(|(text, _)| text == "Nothing to draw."));
}

#[test]
fn odd_bars_give_good_pictures() {
    let mut made = Made(0xba25);
    for round in 0..120 {
        let bars = (0..made.below(9))
            .map(|_| Bar {
                name: word(&mut made),
                value: made.odd(),
                between: (made.below(3) > 0).then(|| (made.odd(), made.odd())),
                label: word(&mut made),
                hatched: made.below(2) == 0,
            })
            .collect();
        let chart = BarChart {
            title: word(&mut made),
            subtitle: word(&mut made),
            x: axis(&word(&mut made), &word(&mut made)),
            bars,
            against: (made.below(2) == 0).then(|| (made.odd(), word(&mut made))),
            footnotes: vec![word(&mut made)],
            width: (made.below(3) == 0).then(|| made.part() * 1200.0),
        };
        let svg = chart.svg_without_font().expect("a picture");
        assert!(roxmltree::Document::parse(&svg).is_ok(), "round {round}");
        if round % 20 == 0 {
            assert!(chart.png().expect("a picture").len() > 100);
        }
    }
}

/// A spread is one light ground with two edges in the colour of its curve, broken where the curve is.
#[test]
fn a_spread_lies_under_its_curve() {
    let points = |shift: f64| (0..9).map(|i| (f64::from(i), Some(f64::from(i) + shift))).collect::<Vec<_>>();
    let ends = |i: i32| (i != 4).then(|| (f64::from(i) - 2.0, f64::from(i) + 3.0));
    let spread = RangeBand { curve: 1, points: (0..9).map(|i| (f64::from(i), ends(i))).collect() };
    let chart = LineChart {
        panels: vec![Panel {
            curves: vec![curve("one", points(0.0)), curve("two", points(1.0))],
            spreads: vec![spread],
            ..Panel::default()
        }],
        ..LineChart::default()
    };
    let scene = chart.scene().expect("a layout");
    assert_sound(&scene, "a spread");
    let own = theme::curve(1).0;
    let grounds = scene.items.iter().enumerate().filter(
        |(_, item)| matches!(item, DrawnItem::Fill { colour, opacity, .. } if *colour == own && *opacity < 0.5),
    );
    let grounds: Vec<usize> = grounds.map(|(place, _)| place).collect();
    assert_eq!(grounds.len(), 2);
    let curve = scene.items.iter().position(
        |item| matches!(item, DrawnItem::Stroke { colour, width, .. } if *colour == own && *width == 1.8),
    );
    assert!(curve.is_some_and(|curve| grounds.iter().all(|ground| *ground < curve)));
}
