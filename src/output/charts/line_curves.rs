//! Draws the curves of one plot, its limit and its cap, and the names at the curves' ends.

use super::frame;
use super::geometry::{Point, Rect, clip_line};
use super::hatch;
use super::line_chart::BadSide;
use super::line_layout::Plot;
use super::line_model::Prepared;
use super::place;
use super::scene::{Anchor, Scene, TextLook};
use super::spread;
use super::theme::{self, Colour};

/// From the plot's edge to the sample of line before a name.
const LEAD: f64 = 18.0;
/// Length of that sample: more than one repeat of every pattern.
const SAMPLE: f64 = 27.0;
/// From the sample to the name.
const GAP: f64 = 6.0;
/// Between names one above the other.
const BETWEEN: f64 = 2.0;
/// A name takes no more than this part of the picture's width before it is broken into lines.
const WIDEST: f64 = 0.23;

const LINE: f64 = 1.8;
const STRONG_LINE: f64 = 3.0;
const LIMIT_LINE: f64 = 2.4;

/// A curve's name and the last point it stands for.
pub(super) struct Name {
    curve: usize,
    lines: Vec<String>,
    look: TextLook,
    last: (f64, f64),
}

impl Name {
    fn height(&self) -> f64 {
        self.lines.len() as f64 * self.look.line_height()
    }
}

/// The names of a panel's curves, broken into lines.
pub(super) fn names(data: &Prepared<'_>, width: f64) -> Vec<Name> {
    let curves = data.panel.curves.iter().zip(&data.runs).enumerate();
    curves
        .filter_map(|(curve, (shape, runs))| {
            let last = *runs.last()?.last()?;
            let above = data.cap.is_some_and(|cap| last.1 > cap);
            let text = if above && !shape.name.is_empty() {
                format!("{} ▲", shape.name)
            } else {
                shape.name.clone()
            };
            let mut look = if shape.emphasis { theme::STRONG_LABEL } else { theme::LABEL };
            look.colour = theme::for_type(theme::curve(curve).0);
            let lines = look.wrap_evenly(&text, (width * WIDEST).max(70.0));
            (!lines.is_empty()).then_some(Name { curve, lines, look, last })
        })
        .collect()
}

/// Width needed at the right of a plot.
pub(super) fn room_for(names: &[Name]) -> f64 {
    names.iter().map(|name| LEAD + SAMPLE + GAP + frame::widest(&name.lines, name.look)).fold(0.0, f64::max)
}

/// Height the names need one above the other.
pub(super) fn height_of(names: &[Name]) -> f64 {
    names.iter().map(|name| name.height() + BETWEEN).sum()
}

/// The part of a plot where curves are drawn: up to the cap, if there is one.
pub(super) fn field(plot: &Plot<'_>) -> Rect {
    let top =
        plot.data.cap.map_or(plot.rect.top, |cap| plot.y.at(cap).clamp(plot.rect.top, plot.rect.bottom));
    Rect { top, ..plot.rect }
}

/// The runs of one curve on the picture, not yet cut to the plot.
pub(super) fn on_picture(plot: &Plot<'_>, curve: usize) -> Vec<Vec<Point>> {
    let place = |point: &(f64, f64)| (plot.x.at(point.0), plot.y.at(point.1));
    plot.data.runs[curve].iter().map(|run| run.iter().map(place).collect()).collect()
}

/// Shading, limit and curves.
pub(super) fn draw(scene: &mut Scene, plot: &Plot<'_>) {
    let field = field(plot);
    if plot.data.cap.is_some() {
        scene.line((field.left, field.top), (field.right, field.top), theme::AXIS, 0.8);
    }
    if let Some((value, _)) = &plot.data.panel.limit {
        limit(scene, plot, *value);
    }
    spread::draw(scene, plot);
    let curves = &plot.data.panel.curves;
    let strong = |index: &usize| curves[*index].emphasis;
    for index in (0..curves.len()).filter(|i| !strong(i)).chain((0..curves.len()).filter(strong)) {
        curve(scene, plot, &field, index);
    }
}

fn limit(scene: &mut Scene, plot: &Plot<'_>, value: f64) {
    if !value.is_finite() {
        return;
    }
    let rect = plot.rect;
    let y = plot.y.at(value).clamp(rect.top, rect.bottom);
    let bad = match plot.data.panel.bad_side {
        BadSide::Below => Rect { top: y, ..rect },
        BadSide::Above => Rect { bottom: y, ..rect },
    };
    if bad.height() > 0.5 {
        for line in hatch::lines(&bad.corners(), 45.0, 8.0, false) {
            scene.stroke(line, theme::SHADE, 0.6, &[]);
        }
    }
    if plot.y.covers(value) {
        scene.line((rect.left, y), (rect.right, y), theme::INK, LIMIT_LINE);
    }
}

fn curve(scene: &mut Scene, plot: &Plot<'_>, field: &Rect, index: usize) {
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
pub(super) fn draw_names(scene: &mut Scene, plot: &Plot<'_>) {
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
        if end.0 < right - 1.5 {
            scene.stroke(vec![*end, (right, end.1)], colour, 0.7, theme::LEADER);
            scene.dot(*end, 2.4, colour);
        }
        scene.line((right + 2.0, end.1), (right + LEAD - 2.0, centre), colour, 0.8);
        let from = right + LEAD;
        let width = if strong { STRONG_LINE } else { LINE };
        scene.stroke(vec![(from, centre), (from + SAMPLE, centre)], colour, width, dash);
        let top = centre - name.height() / 2.0;
        scene.block(&name.lines, from + SAMPLE + GAP, top, Anchor::Start, name.look);
    }
}
