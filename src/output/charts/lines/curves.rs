//! Draws the curves of one plot, and the names at their ends.

use super::ground;
use super::names::{BETWEEN, GAP, LEAD, SAMPLE};
use super::plot::{LinePlot, field, on_picture};
use crate::output::charts::theme;
use crate::output::scene::colour::Colour;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::geometry::{Point, Rect, clip_line};
use crate::output::scene::place;

const LINE: f64 = 1.8;
const STRONG_LINE: f64 = 3.0;

/// Shading, limit and curves.
pub(super) fn draw(scene: &mut Scene, plot: &LinePlot<'_>) {
    let field = field(plot);
    if plot.data.cap.is_some() {
        scene.line((field.left, field.top), (field.right, field.top), theme::AXIS, 0.8);
    }
    if let Some((value, _)) = &plot.data.panel.limit {
        ground::limit(scene, plot, *value);
    }
    ground::spreads(scene, plot);
    let curves = &plot.data.panel.curves;
    let strong = |index: &usize| curves[*index].emphasis;
    for index in (0..curves.len()).filter(|i| !strong(i)).chain((0..curves.len()).filter(strong)) {
        curve(scene, plot, &field, index);
    }
}

fn curve(scene: &mut Scene, plot: &LinePlot<'_>, field: &Rect, index: usize) {
    let (colour, dash) = theme::curve(index);
    let width = if plot.data.panel.curves[index].emphasis { STRONG_LINE } else { LINE };
    // Half a line's width of grace, so that a curve along the edge is not shaved.
    let grown = field.grown(0.01);
    for run in on_picture(plot, index) {
        if let [point] = run[..] {
            if grown.holds(point) {
                scene.dot(point, width + 0.8, colour);
            }
            continue;
        }
        for piece in clip_line(&run, &grown) {
            scene.stroke(piece, colour, width, dash);
        }
        if plot.data.cap.is_some() {
            above_cap(scene, &run, field, index, colour);
        }
    }
}

/// Where a curve runs above the cap: sparse dots along it, and a triangle wherever it leaves or comes back.
fn above_cap(scene: &mut Scene, run: &[Point], field: &Rect, index: usize, colour: Colour) {
    let sky = Rect { top: f64::NEG_INFINITY, bottom: field.top, ..*field };
    for piece in clip_line(run, &sky) {
        let (low, high) = piece
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| (low.min(p.0), high.max(p.0)));
        if !piece.iter().any(|point| point.1 < field.top - 0.05) {
            continue;
        }
        // Each curve's dots start a little later, so that several along the same cap can be told apart.
        let shift = (index % 4) as f64 * 1.65;
        scene.stroke(vec![(low + shift, field.top), (high, field.top)], colour, 2.2, theme::ABOVE_CAP);
        for end in [piece.first(), piece.last()].into_iter().flatten() {
            if end.1 > field.top - 0.05 {
                triangle(scene, (end.0, field.top), 4.2, -1.0, colour);
            }
        }
    }
}

/// A triangle about `centre`, pointing down for `way` = 1 and up for −1.
pub(super) fn triangle(scene: &mut Scene, centre: Point, radius: f64, way: f64, colour: Colour) {
    let points = vec![
        (centre.0, centre.1 + way * radius),
        (centre.0 - radius, centre.1 - way * 0.75 * radius),
        (centre.0 + radius, centre.1 - way * 0.75 * radius),
    ];
    scene.fill(points, colour);
}

/// The names at the right, spread so that none touch, each led to from its curve's end.
pub(super) fn draw_names(scene: &mut Scene, plot: &LinePlot<'_>) {
    let field = field(plot);
    let right = plot.rect.right;
    let ends: Vec<Point> = plot
        .names
        .iter()
        .map(|name| field.nearest((plot.x.at(name.last.0), plot.y.at(name.last.1))))
        .collect();
    let boxes: Vec<(f64, f64)> =
        plot.names.iter().zip(&ends).map(|(name, end)| (end.1, name.height())).collect();
    let centres = place::spread(&boxes, plot.rect.top, plot.rect.bottom, BETWEEN);
    for ((name, end), centre) in plot.names.iter().zip(&ends).zip(centres) {
        let (colour, dash) = theme::curve(name.curve);
        let strong = plot.data.panel.curves[name.curve].emphasis;
        let points = &plot.data.panel.curves[name.curve].points;
        // where nothing was found no line is drawn, not even to a name: its sample of line says whose it is
        let nothing_found = points.last().is_some_and(|(_, value)| value.is_none());
        if end.0 < right - 1.5 {
            if !nothing_found {
                scene.stroke(vec![*end, (right, end.1)], colour, 0.7, theme::LEADER);
            }
            scene.dot(*end, 2.4, colour);
        }
        if end.0 >= right - 1.5 || !nothing_found {
            scene.line((right + 2.0, end.1), (right + LEAD - 2.0, centre), colour, 0.8);
        }
        let from = right + LEAD;
        let width = if strong { STRONG_LINE } else { LINE };
        scene.stroke(vec![(from, centre), (from + SAMPLE, centre)], colour, width, dash);
        let top = centre - name.height() / 2.0;
        scene.block(&name.lines, from + SAMPLE + GAP, top, Anchor::Start, name.look);
    }
}
