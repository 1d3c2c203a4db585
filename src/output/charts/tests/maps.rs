//! Maps: what is shaded, what is written, and odd data.

use super::samples::{Made, assert_sound, axis};
use crate::output::charts::theme;
use crate::output::charts::{Level, MapChart, Marker, MarkerKind, Overlay, Picture};
use crate::output::scene::colour::{Colour, luminance};
use crate::output::scene::drawing::DrawnItem;

fn level(value: f64) -> Level {
    Level { value, label: format!("{value} K"), emphasis: value == 0.0 }
}

/// A ridge of height `100 − distance` over a square of 100, higher towards its middle.
fn hill(count: usize) -> MapChart {
    let at: Vec<f64> = (0..count).map(|i| 100.0 * i as f64 / (count - 1) as f64).collect();
    let height = |x: f64, y: f64| 40.0 - (x - 50.0).hypot(y - 50.0);
    MapChart {
        title: "Margin over inlets and exits".into(),
        subtitle: "invented".into(),
        what: "Margin (K)".into(),
        x: axis("Exits", "cm²"),
        y: axis("Inlets", "cm²"),
        values: at.iter().map(|y| at.iter().map(|x| Some(height(*x, *y))).collect()).collect(),
        xs: at.clone(),
        ys: at,
        levels: [-10.0, 0.0, 10.0, 20.0].map(level).to_vec(),
        markers: vec![Marker {
            x: 40.0,
            y: 60.0,
            label: "as drawn: +26 K".into(),
            kind: MarkerKind::Condition,
        }],
        footnotes: vec!["Lighter is better.".into()],
        ..MapChart::default()
    }
}

/// Lightness L* of CIE 1976.
fn lightness(colour: Colour) -> f64 {
    116.0 * luminance(colour).cbrt() - 16.0
}

#[test]
fn the_ground_gets_evenly_lighter_towards_the_good() {
    let steps: Vec<f64> = (0..=10).map(|i| lightness(theme::map_fill(f64::from(i) / 10.0))).collect();
    for (step, found) in steps.iter().enumerate() {
        // as chosen: L* 56 to 97, a byte's rounding aside
        assert!((found - (56.0 + 4.1 * step as f64)).abs() < 0.6, "{steps:?}");
    }
}

#[test]
fn rings_are_painted_from_the_outside_in() {
    let scene = hill(41).scene().expect("a picture");
    assert_sound(&scene, "hill");
    let fills: Vec<f64> = scene
        .items
        .iter()
        .filter_map(|item| match item {
            DrawnItem::Fill { points, colour, opacity } if points.len() > 4 && *opacity == 1.0 => {
                Some(lightness(*colour))
            }
            _ => None,
        })
        .collect();
    assert!(fills.len() >= 4 && fills.windows(2).all(|pair| pair[0] <= pair[1]), "{fills:?}");
    for label in ["-10 K", "0 K", "10 K", "20 K", "as drawn: +26 K"] {
        let texts = scene.text_boxes();
        assert!(texts.iter().any(|(text, _)| text == label), "{label} is not written");
    }
}

#[test]
fn both_writers_take_it_and_it_describes_itself() {
    let chart = hill(21);
    let svg = chart.svg().expect("a picture");
    let document = roxmltree::Document::parse(&svg).expect("well-formed");
    let description = document.descendants().find(|n| n.has_tag_name("desc")).and_then(|n| n.text());
    for words in ["Exits (cm²), from 0 to 100", "Lines at -10 K, 0 K", "Marked: as drawn: +26 K"] {
        assert!(description.expect("a description").contains(words), "{description:?}");
    }
    assert!(chart.png().expect("a picture").starts_with(b"\x89PNG"));
    assert_eq!(svg, chart.svg().expect("again"));
}

#[test]
fn odd_data_gives_a_picture_all_the_same() {
    let mut made = Made(11);
    for _ in 0..60 {
        let mut chart = hill(2 + made.below(9));
        for value in chart.values.iter_mut().flatten() {
            *value = (made.below(8) > 0).then(|| made.odd());
        }
        chart.levels = (0..made.below(6)).map(|_| level(made.part() * 60.0 - 30.0)).collect();
        chart.levels.sort_by(|a, b| a.value.total_cmp(&b.value));
        chart.overlays = vec![Overlay { values: chart.values.clone(), level: level(3.0) }];
        assert_sound(&chart.scene().expect("a picture"), "odd");
    }
    let empty = MapChart { title: "Nothing".into(), ..MapChart::default() };
    assert_sound(&empty.scene().expect("a picture"), "empty");
}
