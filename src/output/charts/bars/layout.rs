//! Lays a bar chart out: names at the left, bars from nought, what stands at their ends.

use super::chart::{Bar, BarChart};
use crate::output::charts::frame::{self, EDGE};
use crate::output::charts::picture::Picture;
use crate::output::charts::rows::RowWords;
use crate::output::charts::scale::{Scale, drawable, spoken};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::Rect;
use crate::output::scene::hatch;

/// Widest part of the picture that names may take.
const NAMES: f64 = 0.42;
/// Least height of a bar's row, and of the bar itself.
const ROW: f64 = 26.0;
const BAR: f64 = 13.0;
/// Half the height of the marks at the ends of where a bar may end.
const MARK: f64 = 4.0;

/// A bar with what is drawn of it.
struct BarRow<'b> {
    bar: &'b Bar,
    words: RowWords,
    value: f64,
    between: Option<(f64, f64)>,
}

impl Picture for BarChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

/// The finished picture.
fn draw(chart: &BarChart) -> Scene {
    let (mut scene, footer, top) =
        frame::begun((&chart.title, &chart.subtitle), description(chart), &chart.footnotes, chart.width);
    let width = scene.width;
    let rows = rows(chart, width);
    if rows.is_empty() {
        let words = ["Nothing to draw.".to_owned()];
        let foot = scene.block(&words, EDGE, top, Anchor::Start, theme::LABEL);
        return footer.ended(scene, foot);
    }
    let (left, right) = RowWords::between(rows.iter().map(|row| &row.words), width);
    let ends = rows.iter().flat_map(|row| [row.value, row.between.map_or(0.0, |(_, high)| high)]);
    let against = chart.against.as_ref().and_then(|(value, name)| Some((drawable(*value)?, name)));
    let most = ends.chain(against.map(|(value, _)| value)).fold(0.0, f64::max);
    let x = Scale::new((0.0, if most > 0.0 { most } else { 1.0 }), left, right);
    let ticks = frame::x_ticks((x.low, x.high), right - left);
    let name_of_against = against.map_or(Vec::new(), |(_, name)| theme::MARK.wrap(name, width - 2.0 * EDGE));
    let first = top + name_of_against.len() as f64 * theme::MARK.line_height() + 4.0;
    let plot = Rect::new(left, first, right - left, rows.iter().map(|row| row.words.height).sum());
    for value in &ticks.values {
        scene.line((x.at(*value), plot.top), (x.at(*value), plot.bottom), theme::GRID, 0.8);
    }
    let mut row_top = plot.top;
    for row in &rows {
        let centre = row_top + row.words.height / 2.0;
        bar(&mut scene, row, centre, &x, right);
        row_top += row.words.height;
    }
    if let Some((value, _)) = against {
        let at = x.at(value);
        scene.line((at, plot.top - 3.0), (at, plot.bottom), theme::INK, 1.6);
        let half = frame::widest(&name_of_against, theme::MARK) / 2.0;
        let centre = at.clamp(EDGE + half, (width - EDGE - half).max(EDGE + half));
        scene.block(&name_of_against, centre, top, Anchor::Middle, theme::MARK);
    }
    scene.line((plot.left, plot.top), (plot.left, plot.bottom), theme::AXIS, 1.0);
    frame::x_line(&mut scene, &plot, &ticks, &x);
    let foot = frame::x_words(&mut scene, &plot, &ticks, &x, &chart.x);
    footer.ended(scene, foot)
}

fn rows(chart: &BarChart, width: f64) -> Vec<BarRow<'_>> {
    let row = |bar: &'_ Bar| -> Option<(f64, Option<(f64, f64)>)> {
        let value = drawable(bar.value)?.max(0.0);
        let between = bar.between.and_then(|(a, b)| drawable(a).zip(drawable(b)));
        Some((value, between.map(|(a, b)| (a.min(b).max(0.0), a.max(b).max(0.0)))))
    };
    chart
        .bars
        .iter()
        .filter_map(|bar| {
            let (value, between) = row(bar)?;
            let words = RowWords::new(&bar.name, &bar.label, width, NAMES, ROW);
            Some(BarRow { bar, words, value, between })
        })
        .collect()
}

fn bar(scene: &mut Scene, row: &BarRow<'_>, centre: f64, x: &Scale, right: f64) {
    let (from, to) = (x.at(0.0), x.at(row.value));
    let shape = Rect::new(from, centre - BAR / 2.0, to - from, BAR);
    let (colour, _) = theme::curve(if row.bar.hatched { 1 } else { 0 });
    scene.glaze(shape.corners(), colour, if row.bar.hatched { 0.12 } else { 0.42 });
    if row.bar.hatched {
        for piece in hatch::lines(&shape.corners(), 45.0, 5.0, true) {
            scene.stroke(piece, colour, 0.8, &[]);
        }
    }
    let outline = shape.corners();
    scene.stroke(outline.iter().chain(outline.first()).copied().collect(), colour, 1.0, &[]);
    if let Some((low, high)) = row.between {
        let (low, high) = (x.at(low), x.at(high));
        scene.line((low, centre), (high, centre), theme::INK, 1.2);
        for end in [low, high] {
            scene.line((end, centre - MARK), (end, centre + MARK), theme::INK, 1.2);
        }
    }
    row.words.write(scene, centre, (from, right));
}

fn description(chart: &BarChart) -> String {
    let mut parts = vec![format!("Bar chart. Across: {} ({}).", chart.x.label, chart.x.unit_note)];
    if let Some((value, name)) = &chart.against {
        parts.push(format!("Marked at {}: {name}.", spoken(*value)));
    }
    for bar in &chart.bars {
        parts.push(format!("{}: {}.", bar.name, spoken(bar.value)));
    }
    parts.join(" ")
}
