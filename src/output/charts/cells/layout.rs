//! Lays bars in cells out.

use super::chart::{BarCell, CellChart};
use crate::output::charts::frame::{self, EDGE};
use crate::output::charts::picture::Picture;
use crate::output::charts::scale::{Scale, drawable, spoken};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::Rect;
use crate::output::scene::hatch::{self, Hatch};

/// Widest part of the picture that names of rows take.
const NAMES: f64 = 0.24;
/// Narrowest column.
const NARROW: f64 = 118.0;
const BAR: f64 = 12.0;
/// Between two columns, and above and below a bar.
const GAP: f64 = 14.0;
const AIR: f64 = 5.0;
const LOUD: Hatch = Hatch::Lines { degrees: 45.0, apart: 4.5 };

impl Picture for CellChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

fn draw(chart: &CellChart) -> Scene {
    let (mut scene, footer, mut top) =
        frame::begun((&chart.title, &chart.subtitle), description(chart), &chart.footnotes, chart.width);
    let width = scene.width;
    let what = theme::AXIS_LABEL.wrap(&chart.what, width - 2.0 * EDGE);
    top = scene.block(&what, EDGE, top, Anchor::Start, theme::AXIS_LABEL) + AIR;
    if chart.rows.is_empty() || chart.columns.is_empty() {
        top = scene.block(&["Nothing to draw.".to_owned()], EDGE, top, Anchor::Start, theme::LABEL);
    } else {
        let names: Vec<Vec<String>> =
            chart.rows.iter().map(|row| theme::LABEL.wrap_evenly(&row.name, width * NAMES)).collect();
        let widest = names.iter().map(|lines| frame::widest(lines, theme::LABEL)).fold(0.0, f64::max);
        let left = EDGE + widest + GAP;
        let room = width - EDGE - left;
        let fits = ((room / NARROW) as usize).clamp(1, chart.columns.len());
        // as many beside one another as go on below, not one left over
        let blocks = chart.columns.len().div_ceil(fits);
        let beside = chart.columns.len().div_ceil(blocks);
        for first in (0..chart.columns.len()).step_by(beside) {
            let last = (first + beside).min(chart.columns.len());
            top = block(&mut scene, chart, &names, (first, last), (left, room / beside as f64), top) + GAP;
        }
        top -= GAP;
    }
    footer.ended(scene, top)
}

/// Some columns of all rows; returns the lower edge.
fn block(
    scene: &mut Scene,
    chart: &CellChart,
    names: &[Vec<String>],
    (first, last): (usize, usize),
    (left, column): (f64, f64),
    top: f64,
) -> f64 {
    let inner = column - GAP;
    let x_of = |index: usize| left + column * (index - first) as f64;
    let mut below = top;
    for (index, (name, remark)) in chart.columns.iter().enumerate().take(last).skip(first) {
        let head = scene.block(
            &theme::STRONG_LABEL.wrap(name, inner),
            x_of(index),
            top,
            Anchor::Start,
            theme::STRONG_LABEL,
        );
        let end =
            scene.block(&theme::MARK.wrap(remark, inner), x_of(index), head, Anchor::Start, theme::MARK);
        below = below.max(end);
    }
    let start = below + AIR;
    let mut row_top = start;
    for (row, name) in chart.rows.iter().zip(names) {
        let labels: Vec<Vec<String>> = (first..last)
            .map(|index| match row.cells.get(index) {
                Some(Some(cell)) => look(cell).wrap(&cell.label, inner),
                _ => vec!["no answer".to_string()],
            })
            .collect();
        let lines = labels.iter().map(Vec::len).max().unwrap_or(1) as f64;
        let tall = (BAR + 2.0 + lines * theme::MARK.line_height())
            .max(name.len() as f64 * theme::LABEL.line_height());
        scene.line((EDGE, row_top), (left + column * (last - first) as f64 - GAP, row_top), theme::GRID, 0.8);
        scene.block(name, EDGE, row_top + AIR - 1.0, Anchor::Start, theme::LABEL);
        for (index, words) in (first..last).zip(&labels) {
            let x = Scale::new(chart.range, x_of(index), x_of(index) + inner);
            let cell = row.cells.get(index).and_then(Option::as_ref);
            if let Some(cell) = cell {
                bar(scene, cell, &x, row_top + AIR);
            }
            let look = cell.map_or(theme::MARK, look);
            scene.block(words, x_of(index), row_top + AIR + BAR + 2.0, Anchor::Start, look);
            // the limit, past the words of the row
            let limit = x.at(0.0);
            scene.line((limit, row_top + 1.0), (limit, row_top + AIR + BAR + 1.5), theme::INK, 2.0);
        }
        row_top += tall + 2.0 * AIR;
    }
    row_top
}

fn look(cell: &BarCell) -> crate::output::scene::drawing::TextLook {
    let size = if cell.emphasis { theme::STRONG_LABEL } else { theme::LABEL };
    crate::output::scene::drawing::TextLook { size: theme::MARK.size, ..size }
}

fn bar(scene: &mut Scene, cell: &BarCell, x: &Scale, top: f64) {
    let Some(value) = drawable(cell.value) else { return };
    let held = value.clamp(x.low, x.high);
    let (nought, end) = (x.at(0.0), x.at(held));
    let rect = Rect { left: nought.min(end), right: nought.max(end), top, bottom: top + BAR };
    let corners = rect.corners();
    if value < 0.0 {
        scene.fill(corners.clone(), theme::LOUD);
        hatch::draw(scene, &corners, LOUD, theme::INK);
    } else {
        scene.glaze(corners.clone(), theme::INK, 0.3);
    }
    let outline = corners.iter().chain(corners.first()).copied().collect();
    scene.stroke(outline, theme::INK, 0.9, &[]);
    if (value - held).abs() > 1e-9 {
        // cut where the scale ends: it goes on
        let (tip, back) = if value < 0.0 { (end - 7.0, end) } else { (end + 7.0, end) };
        let middle = top + BAR / 2.0;
        scene.fill(vec![(back, top), (tip, middle), (back, top + BAR)], theme::INK);
    }
}

fn description(chart: &CellChart) -> String {
    let mut parts = vec![format!("{}.", chart.what)];
    for row in &chart.rows {
        let told = chart.columns.iter().zip(&row.cells).map(|((name, _), cell)| match cell {
            Some(cell) => format!("{name} {} ({})", spoken(cell.value), cell.label),
            None => format!("{name} no answer"),
        });
        parts.push(format!("{}: {}.", row.name, told.collect::<Vec<_>>().join(", ")));
    }
    parts.join(" ")
}
