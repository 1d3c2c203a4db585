//! Figures of the elements, as charts.

use super::charts::{Axis, Curve, LineChart, Panel};
use crate::element::figure::{ElementFigure, FigureAxis, FigureCurve, FigurePanel};

/// A figure as a chart.
pub fn chart(figure: ElementFigure) -> LineChart {
    LineChart {
        title: figure.title,
        x: axis(&figure.x),
        panels: figure.panels.into_iter().map(panel).collect(),
        footnotes: vec![figure.note],
        size: Some(figure.size),
        ..LineChart::default()
    }
}

fn axis(axis: &FigureAxis) -> Axis {
    Axis { label: axis.label.into(), unit_note: axis.unit.into(), range: None }
}

fn panel(panel: FigurePanel) -> Panel {
    let curves = panel.curves.into_iter().map(curve).collect();
    Panel { y: axis(&panel.y), curves, ..Panel::default() }
}

fn curve(curve: FigureCurve) -> Curve {
    let points = curve.points.into_iter().map(|(x, y)| (x, Some(y))).collect();
    Curve { name: curve.name, points, emphasis: curve.emphasis }
}
