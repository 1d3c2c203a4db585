//! Line charts: what is drawn, and that nothing is cut or covered.

use super::samples::{Made, assert_sound, axis, curve, margins, numbers, odd_lines};
use crate::output::charts::theme;
use crate::output::charts::{Axis, Cap, Curve, LineChart, Marker, MarkerKind, Panel, Picture};
use crate::output::scene::drawing::{DrawnItem, Scene};

fn scene(chart: &LineChart) -> Scene {
    chart.scene().expect("a layout")
}

fn texts(scene: &Scene) -> Vec<String> {
    scene.text_boxes().into_iter().map(|(text, _)| text).collect()
}

fn has(scene: &Scene, text: &str) -> bool {
    texts(scene).iter().any(|other| other == text)
}

#[test]
fn end_labels_never_touch_however_many() {
    for count in [1, 2, 6, 12, 40] {
        let scene = scene(&margins(count));
        assert_sound(&scene, &format!("{count} curves"));
        for k in 0..count {
            assert!(has(&scene, &format!("Part {k}")), "Part {k} of {count}");
        }
    }
}

#[test]
fn a_plain_chart_has_the_size_asked_for() {
    let plain = scene(&margins(6));
    assert_eq!((plain.width, plain.height), (900.0, 540.0));
    let two = LineChart { panels: vec![Panel::default(), Panel::default()], ..LineChart::default() };
    assert_eq!(scene(&two).height, 740.0);
}

#[test]
fn a_missing_value_breaks_the_line() {
    let points = vec![
        (0.0, Some(1.0)),
        (1.0, Some(2.0)),
        (2.0, None),
        (3.0, Some(3.0)),
        (4.0, Some(f64::NAN)),
        (5.0, Some(1.0)),
        (6.0, Some(2.0)),
    ];
    let chart = LineChart {
        panels: vec![Panel { curves: vec![curve("broken", points)], ..Panel::default() }],
        ..LineChart::default()
    };
    let scene = scene(&chart);
    let own = theme::curve(0).0;
    let lines = scene.items.iter().filter(
        |item| matches!(item, DrawnItem::Stroke { colour, width, .. } if *colour == own && *width == 1.8),
    );
    // Two pieces of curve and the sample before its name; the point alone between two gaps is a disc.
    assert_eq!(lines.count(), 3);
    assert_eq!(
        scene
            .items
            .iter()
            .filter(|item| matches!(item, DrawnItem::Dot { colour, .. } if *colour == own))
            .count(),
        1
    );
}

#[test]
fn values_above_the_cap_are_not_drawn_and_said_so() {
    let line = vec![(0.0, Some(50.0)), (1.0, Some(150.0)), (2.0, Some(500.0)), (3.0, Some(80.0))];
    let mut chart = LineChart {
        panels: vec![Panel {
            y: axis("Flow", "%"),
            curves: vec![curve("flow", line), curve("other", vec![(0.0, Some(10.0)), (3.0, Some(300.0))])],
            cap: Some(Cap { value: 200.0, note: "more than twice".to_owned() }),
            ..Panel::default()
        }],
        ..LineChart::default()
    };
    let capped = scene(&chart);
    assert_sound(&capped, "cap");
    assert!(has(&capped, "▲ more than twice") && has(&capped, "other ▲") && has(&capped, "flow"));
    assert!(has(&capped, "200") && !has(&capped, "250"));
    // Nothing above the cap: no word of it.
    chart.panels[0].curves.truncate(1);
    chart.panels[0].curves[0].points.retain(|point| point.1 < Some(200.0));
    assert!(!has(&scene(&chart), "▲ more than twice"));
}

#[test]
fn crowded_markers_become_numbers_with_a_key() {
    let mut chart = margins(6);
    chart.panels[0].markers = (0..9)
        .map(|i| Marker {
            x: 20.0 * f64::from(i),
            y: 15.0,
            label: format!("condition {i}, hot day"),
            kind: MarkerKind::Condition,
        })
        .collect();
    let scene = scene(&chart);
    assert_sound(&scene, "crowded");
    for i in 0..9 {
        assert!(has(&scene, &format!("condition {i}, hot day")));
        // Once on the plot, once in the key.
        assert_eq!(numbers(&scene, i + 1), 2, "{}", i + 1);
    }
}

#[test]
fn markers_at_one_point_are_all_named() {
    let mut chart = margins(3);
    chart.panels[0].markers =
        vec![Marker { x: 100.0, y: 12.0, label: "same place".to_owned(), kind: MarkerKind::Note }; 5];
    let scene = scene(&chart);
    assert_sound(&scene, "same place");
    assert_eq!(texts(&scene).iter().filter(|text| *text == "same place").count(), 5);
}

#[test]
fn what_cannot_be_shown_is_said() {
    let mut chart = margins(2);
    chart.panels[0].curves.push(curve("Ignition box", vec![(0.0, None), (1.0, Some(f64::INFINITY))]));
    chart.panels[0].y = Axis { range: Some((5.0, 40.0)), ..axis("Margin", "K") };
    let scene = scene(&chart);
    assert_sound(&scene, "left out");
    assert!(has(&scene, "No values to draw: Ignition box."));
    assert!(has(&scene, "Outside the chart: limit (0)."));
}

#[test]
fn long_names_are_broken_not_cut() {
    let mut chart = margins(4);
    for (k, curve) in chart.panels[0].curves.iter_mut().enumerate() {
        curve.name = format!("Part {k} under the long shroud behind the second cooler of the left bank");
    }
    let scene = scene(&chart);
    assert_sound(&scene, "long names");
    let all = texts(&scene).join(" ");
    for curve in &chart.panels[0].curves {
        assert!(all.contains(&curve.name), "{}", curve.name);
    }
}

#[test]
fn emphasis_is_drawn_last_and_named_in_bold() {
    let mut chart = margins(3);
    chart.panels[0].curves[0].emphasis = true;
    let scene = scene(&chart);
    let width_of_last_curve = scene.items.iter().rev().find_map(|item| match item {
        DrawnItem::Stroke { points, width, .. } if points.len() > 100 => Some(*width),
        _ => None,
    });
    assert_eq!(width_of_last_curve, Some(3.0));
    let bold = scene.items.iter().any(|item| matches!(item, DrawnItem::Text { text, weight, .. } if text == "Part 0" && *weight == crate::output::scene::font::FontWeight::Bold));
    assert!(bold);
}

#[test]
fn odd_data_gives_sound_layouts() {
    let mut made = Made(0x5eed);
    for round in 0..400 {
        let chart = odd_lines(&mut made);
        let scene = chart.scene().expect("a layout");
        assert_sound(&scene, &format!("round {round}"));
    }
}

#[test]
fn nothing_at_all_is_a_chart_too() {
    assert!(has(&scene(&LineChart::default()), "Nothing to draw."));
    let empty = LineChart {
        panels: vec![Panel { curves: vec![Curve::default()], ..Panel::default() }],
        ..LineChart::default()
    };
    assert!(has(&scene(&empty), "No values to draw."));
}
