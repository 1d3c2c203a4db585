//! Bars in cells: what is drawn, and that nothing is cut or covered.

use super::samples::{Made, assert_sound, word};
use crate::output::charts::theme;
use crate::output::charts::{BarCell, CellChart, CellRow, Picture};
use crate::output::scene::drawing::DrawnItem;

fn chart(made: &mut Made, rows: usize, columns: usize) -> CellChart {
    let row = |made: &mut Made| CellRow {
        name: word(made),
        cells: (0..columns)
            .map(|_| {
                let value = 200.0 * made.part() - 100.0;
                (made.below(9) > 0).then(|| BarCell { value, label: word(made), emphasis: value < 0.0 })
            })
            .collect(),
    };
    CellChart {
        title: word(made),
        subtitle: word(made),
        what: "Least margin, K".into(),
        columns: (0..columns).map(|_| (word(made), word(made))).collect(),
        rows: (0..rows).map(|_| row(made)).collect(),
        range: (-60.0, 60.0),
        footnotes: vec!["A note.".into()],
        width: (made.below(2) == 0).then_some(380.0),
    }
}

#[test]
fn cells_of_whatever_may_come_cover_nothing() {
    let mut made = Made(11);
    for rows in 0..7 {
        for columns in 0..9 {
            let scene = chart(&mut made, rows, columns).scene().expect("a layout");
            assert_sound(&scene, &format!("{rows} × {columns}"));
        }
    }
}

#[test]
fn what_is_over_is_loud_and_left_of_the_line_and_all_have_one_scale() {
    let cell = |value: f64| Some(BarCell { value, label: "oil".into(), emphasis: false });
    let chart = CellChart {
        columns: vec![("a".into(), String::new()), ("b".into(), String::new())],
        rows: vec![CellRow { name: "as drawn".into(), cells: vec![cell(-20.0), cell(40.0)] }],
        range: (-60.0, 60.0),
        ..CellChart::default()
    };
    let scene = chart.scene().expect("a layout");
    let fills = scene.items.iter().filter_map(|item| match item {
        DrawnItem::Fill { points, colour, .. } => Some((points.clone(), *colour)),
        _ => None,
    });
    let fills: Vec<_> = fills.collect();
    let width = |points: &[(f64, f64)]| {
        let xs = || points.iter().map(|point| point.0);
        xs().fold(f64::NEG_INFINITY, f64::max) - xs().fold(f64::INFINITY, f64::min)
    };
    assert_eq!(fills.len(), 2);
    assert_eq!(fills[0].1, theme::LOUD);
    assert_ne!(fills[1].1, theme::LOUD);
    assert!((width(&fills[1].0) / width(&fills[0].0) - 2.0).abs() < 1e-9);
}
