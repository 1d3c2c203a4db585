//! Charts for the tests, all invented, and the checks every finished layout must stand.

use crate::output::charts::theme;
use crate::output::charts::{
    Axis, BadSide, BandChart, Cap, ChartBand, Curve, LineChart, Marker, MarkerKind, Panel, RangeBand,
};
use crate::output::scene::drawing::{DrawnItem, Scene};

/// A small generator of made-up numbers: the same on every machine, in every run.
///
/// Source: Vigna (2014), xorshift64* ("An experimental exploration of Marsaglia's xorshift generators, scrambled").
pub(super) struct Made(pub u64);

impl Made {
    pub(super) fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_f491_4f6c_dd1d)
    }

    /// From 0 to 1.
    pub(super) fn part(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(super) fn below(&mut self, bound: usize) -> usize {
        (self.part() * bound as f64) as usize
    }

    /// Any kind of float a chart may be handed.
    pub(super) fn odd(&mut self) -> f64 {
        let plain = self.part() * 200.0 - 50.0;
        match self.below(24) {
            0 => f64::NAN,
            1 => f64::INFINITY,
            2 => f64::NEG_INFINITY,
            3 => f64::MAX,
            4 => f64::MIN,
            5 => 0.0,
            6 => -0.0,
            7 => f64::MIN_POSITIVE,
            8 => plain * 1e18,
            9 => plain * 1e-18,
            _ => plain,
        }
    }
}

pub(super) fn axis(label: &str, unit_note: &str) -> Axis {
    Axis { label: label.to_owned(), unit_note: unit_note.to_owned(), range: None }
}

pub(super) fn curve(name: &str, points: Vec<(f64, Option<f64>)>) -> Curve {
    Curve { name: name.to_owned(), points, emphasis: false }
}

/// A panel of some curves that end close together.
pub(super) fn margins(curves: usize) -> LineChart {
    let shape = |k: usize| {
        let sink = |v: f64| 30.0 - 0.4 * v + 0.0021 * v * v + k as f64 * (1.0 - v / 200.0);
        (0..=200).map(|v| (f64::from(v), Some(sink(f64::from(v))))).collect()
    };
    LineChart {
        title: "Margin against speed".to_owned(),
        subtitle: "Invented".to_owned(),
        x: axis("Road speed", "km/h"),
        x_marks: [40.0, 44.0, 48.0, 120.0].iter().map(|x| (*x, format!("gear at {x} km/h"))).collect(),
        panels: vec![Panel {
            y: axis("Margin", "K"),
            curves: (0..curves).map(|k| curve(&format!("Part {k}"), shape(k))).collect(),
            limit: Some((0.0, "limit".to_owned())),
            markers: vec![
                Marker {
                    x: 95.0,
                    y: 11.0,
                    label: "lowest, 11 K at 95 km/h".to_owned(),
                    kind: MarkerKind::Lowest,
                },
                Marker { x: 20.0, y: 22.8, label: "queue".to_owned(), kind: MarkerKind::Condition },
            ],
            ..Panel::default()
        }],
        footnotes: vec!["Estimated from an invented case.".to_owned()],
        ..LineChart::default()
    }
}

pub(super) fn word(made: &mut Made) -> String {
    let words = [
        "",
        "oil",
        "head & barrel",
        "<air>",
        "\u{7}bell",
        "Zylinderköpfe",
        "ṁ in kg/s",
        "no\u{a0}break\u{a0}at\u{a0}all",
        "Wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
        "\"quoted\" 'twice'",
        "воздух",
        "冷却空気",
        "a name of many words that will not stand on one line by any means",
        "two\nlines",
        "\u{fffe}",
    ];
    words[made.below(words.len())].to_owned()
}

fn points(made: &mut Made) -> Vec<(f64, Option<f64>)> {
    let count = [0, 1, 2, 3, 40][made.below(5)];
    let tame = made.below(2) == 0;
    (0..count)
        .map(|i| {
            let x = if tame { i as f64 } else { made.odd() };
            let y = if tame { made.part() * 40.0 - 10.0 } else { made.odd() };
            (x, (made.below(9) > 0).then_some(y))
        })
        .collect()
}

fn range(made: &mut Made) -> Option<(f64, f64)> {
    (made.below(4) == 0).then(|| (made.odd(), made.odd()))
}

fn odd_axis(made: &mut Made) -> Axis {
    Axis { label: word(made), unit_note: word(made), range: range(made) }
}

/// A line chart of whatever may come.
pub(super) fn odd_lines(made: &mut Made) -> LineChart {
    let panels = (0..made.below(4))
        .map(|_| Panel {
            y: odd_axis(made),
            curves: (0..made.below(12))
                .map(|_| Curve { name: word(made), points: points(made), emphasis: made.below(3) == 0 })
                .collect(),
            limit: (made.below(2) == 0).then(|| (made.odd(), word(made))),
            bad_side: if made.below(2) == 0 { BadSide::Below } else { BadSide::Above },
            markers: (0..made.below(9))
                .map(|_| Marker {
                    x: made.part() * 40.0,
                    y: made.odd(),
                    label: word(made),
                    kind: [MarkerKind::Condition, MarkerKind::Lowest, MarkerKind::Note][made.below(3)],
                })
                .collect(),
            cap: (made.below(2) == 0).then(|| Cap { value: made.odd(), note: word(made) }),
            spreads: (0..made.below(3))
                .map(|curve| RangeBand {
                    curve,
                    points: (0..made.below(9))
                        .map(|_| (made.part() * 40.0, (made.below(5) > 0).then(|| (made.odd(), made.odd()))))
                        .collect(),
                })
                .collect(),
        })
        .collect();
    LineChart {
        title: word(made),
        subtitle: word(made),
        x: odd_axis(made),
        x_marks: (0..made.below(6)).map(|_| (made.part() * 40.0, word(made))).collect(),
        shaded: (0..made.below(3)).map(|_| (made.part() * 40.0, made.part() * 60.0, word(made))).collect(),
        clock: made.below(4) == 0,
        panels,
        footnotes: (0..made.below(3)).map(|_| word(made)).collect(),
        size: (made.below(3) == 0).then(|| (made.part() * 1400.0, made.part() * 900.0)),
    }
}

/// A band chart of whatever may come.
pub(super) fn odd_bands(made: &mut Made) -> BandChart {
    let bands = |made: &mut Made| {
        (0..made.below(14)).map(|_| ChartBand { name: word(made), points: points(made) }).collect()
    };
    BandChart {
        title: word(made),
        subtitle: word(made),
        x: odd_axis(made),
        y: odd_axis(made),
        gives: bands(made),
        takes: bands(made),
        gives_note: word(made),
        takes_note: word(made),
        footnotes: (0..made.below(3)).map(|_| word(made)).collect(),
        size: (made.below(3) == 0).then(|| (made.part() * 1400.0, made.part() * 900.0)),
    }
}

/// How often a number stands in a ring: on the plot and in the key.
pub(super) fn numbers(scene: &Scene, number: usize) -> usize {
    let wanted = number.to_string();
    let ringed = |item: &&DrawnItem| matches!(item, DrawnItem::Text { text, size, .. } if *text == wanted && *size == theme::NUMBER.size);
    scene.items.iter().filter(ringed).count()
}

/// No text leaves the picture or lies on another, and every coordinate is a number.
pub(super) fn assert_sound(scene: &Scene, what: &str) {
    let texts = scene.text_boxes();
    for (text, at) in &texts {
        assert!(
            at.left >= 0.0 && at.top >= 0.0 && at.right <= scene.width && at.bottom <= scene.height,
            "{what}: \"{text}\" leaves the picture of {} × {}: {at:?}",
            scene.width,
            scene.height
        );
    }
    for (i, (text, at)) in texts.iter().enumerate() {
        for (other, there) in &texts[i + 1..] {
            // Half a point of grace for letters that only seem to touch.
            assert!(
                !at.grown(-0.25).overlaps(&there.grown(-0.25)),
                "{what}: \"{text}\" {at:?} lies on \"{other}\" {there:?}"
            );
        }
    }
    for item in &scene.items {
        let all: Vec<(f64, f64)> = match item {
            DrawnItem::Fill { points, .. } | DrawnItem::Stroke { points, .. } => points.clone(),
            DrawnItem::Dot { centre, .. } => vec![*centre],
            DrawnItem::Text { at, .. } => vec![*at],
        };
        assert!(
            all.iter()
                .all(|p| (-5.0..=scene.width + 5.0).contains(&p.0)
                    && (-5.0..=scene.height + 5.0).contains(&p.1)),
            "{what}: off the picture: {item:?}"
        );
    }
}
