//! Lays a map out: shaded ground, lines, their values, named points.

use super::chart::{Level, MapChart};
use crate::numerics::contour::{ValueGrid, area};
use crate::output::charts::axis::{axis_name, from_to};
use crate::output::charts::frame::{self, EDGE, Footer, Header};
use crate::output::charts::picture::Picture;
use crate::output::charts::scale::{self, Scale};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene, TextLook};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::{Point, Rect, samples};
use crate::output::scene::place::{LabelRoom, around};

const USUAL: (f64, f64) = (900.0, 600.0);
/// Lines shorter than this carry no value.
const SHORTEST: f64 = 46.0;
/// Distance between the places on a line where its value may stand.
const STEP: f64 = 9.0;
/// Pattern of a line of something else.
const OTHER: &[f64] = &[9.0, 4.0];
/// Half the size of a marked point.
const SIGN: f64 = 4.6;
const RINGS: &[f64] = &[9.0, 16.0, 26.0, 40.0, 60.0];

struct MapPlot {
    x: Scale,
    y: Scale,
}

impl MapPlot {
    fn at(&self, point: &Point) -> Point {
        (self.x.at(point.0), self.y.at(point.1))
    }

    fn all(&self, points: &[Point]) -> Vec<Point> {
        points.iter().map(|point| self.at(point)).collect()
    }
}

impl Picture for MapChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

/// The finished picture.
fn draw(chart: &MapChart) -> Scene {
    let size = frame::size(chart.size, USUAL);
    let mut scene = Scene {
        width: size.0,
        height: size.1,
        title: chart.title.clone(),
        description: description(chart),
        items: Vec::new(),
    };
    let top = frame::heading(&mut scene, &chart.title, &chart.subtitle);
    let footer = Footer::new(&[], &chart.footnotes, size.0);
    let Some(ground) = grid(chart, &chart.values) else {
        let words = ["Nothing to draw.".to_owned()];
        let foot = scene.block(&words, EDGE, top, Anchor::Start, theme::LABEL);
        footer.draw(&mut scene, foot);
        return scene;
    };
    let ends = |values: &[f64]| (values[0], values[values.len() - 1]);
    let (x_range, y_range) = (ends(&chart.xs), ends(&chart.ys));
    let header = Header::new(&chart.y, "", size.0 - 2.0 * EDGE);
    let y_ticks = scale::ticks(y_range.0, y_range.1, 8.0);
    let left = EDGE + frame::widest(&y_ticks.labels, theme::TICK).max(25.0) + 9.0;
    let right = size.0 - EDGE - 14.0;
    let below = frame::x_words_height(&chart.x, size.0, right - left) + footer.height() + 13.0;
    let plot_top = top + header.height();
    let height = (size.1 - below - plot_top).max(240.0);
    let rect = Rect::new(left, plot_top, right - left, height);
    let plot = MapPlot {
        x: Scale::new(x_range, rect.left, rect.right),
        y: Scale::new(y_range, rect.bottom, rect.top),
    };
    scene.height = scene.height.max((rect.bottom + below).ceil());
    shade(&mut scene, &plot, &ground, &chart.levels);
    let mut room = LabelRoom { frame: rect.grown(-3.0), taken: Vec::new(), lines: Vec::new() };
    let mut labels: Vec<(Vec<Point>, String, TextLook)> = Vec::new();
    for level in &chart.levels {
        lines(&mut scene, &plot, &ground, level, &[], &mut labels);
    }
    for overlay in &chart.overlays {
        if let Some(other) = grid(chart, &overlay.values) {
            lines(&mut scene, &plot, &other, &overlay.level, OTHER, &mut labels);
        }
    }
    let x_ticks = frame::x_ticks(x_range, rect.width());
    for value in &y_ticks.values {
        let y = plot.y.at(*value);
        scene.line((rect.left - 4.0, y), (rect.left, y), theme::AXIS, 1.0);
    }
    for (value, label) in y_ticks.values.iter().zip(&y_ticks.labels) {
        let baseline = plot.y.at(*value) + 0.365 * theme::TICK.size;
        scene.text((rect.left - 7.0, baseline), Anchor::End, theme::TICK, label);
    }
    header.draw(&mut scene, EDGE, rect.right, plot_top - header.height());
    let outline = rect.corners();
    scene.stroke(outline.iter().chain(outline.first()).copied().collect(), theme::AXIS, 1.0, &[]);
    frame::x_line(&mut scene, &rect, &x_ticks, &plot.x);
    markers(&mut scene, &plot, chart, &labels, &mut room);
    values_on_lines(&mut scene, &labels, &mut room);
    let foot = frame::x_words(&mut scene, &rect, &x_ticks, &plot.x, &chart.x);
    footer.draw(&mut scene, foot);
    scene
}

fn grid(chart: &MapChart, values: &[Vec<Option<f64>>]) -> Option<ValueGrid> {
    let flat = values.iter().flatten().map(|value| value.filter(|v| v.is_finite()).unwrap_or(f64::NAN));
    ValueGrid::new(chart.xs.clone(), chart.ys.clone(), flat.collect())
}

/// Fills what lies between the lines. Rings of all levels never cross, so that painting them from the
/// largest to the smallest leaves each place in the shade of the innermost ring round it.
fn shade(scene: &mut Scene, plot: &MapPlot, ground: &ValueGrid, levels: &[Level]) {
    let steps = levels.len().max(1) as f64;
    let mut rings: Vec<(f64, usize, Vec<Point>)> = Vec::new();
    for (index, level) in levels.iter().enumerate() {
        for (ring, high) in ground.rings(level.value) {
            rings.push((area(&ring).abs(), if high { index + 1 } else { index }, ring));
        }
    }
    // where there is no value the paper stays
    let mut known = ground.known();
    known.sort_by(|a, b| area(&b.0).abs().total_cmp(&area(&a.0).abs()));
    for (ring, inside) in known {
        scene.fill(plot.all(&ring), if inside { theme::map_fill(0.0) } else { theme::PAPER });
    }
    // of two rings of one size the higher level lies within
    rings.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    for (_, band, ring) in rings {
        scene.fill(plot.all(&ring), theme::map_fill(band as f64 / steps));
    }
}

/// Draws the lines of a level and keeps them, the longest first, for their values.
fn lines(
    scene: &mut Scene,
    plot: &MapPlot,
    ground: &ValueGrid,
    level: &Level,
    dash: &'static [f64],
    labels: &mut Vec<(Vec<Point>, String, TextLook)>,
) {
    let width = if level.emphasis { 2.2 } else { 1.0 };
    let look = if level.emphasis { theme::STRONG_LABEL } else { theme::MARK };
    let look = TextLook { colour: theme::INK, ..look };
    let mut drawn: Vec<Vec<Point>> = Vec::new();
    for line in ground.lines(level.value) {
        let mut points = plot.all(&line.points);
        if line.closed {
            points.extend(points.first().copied());
        }
        scene.stroke(points.clone(), theme::INK, width, dash);
        drawn.push(points);
    }
    drawn.sort_by(|a, b| length(b).total_cmp(&length(a)));
    labels.extend(drawn.into_iter().map(|points| (points, level.label.clone(), look)));
}

fn length(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1)).sum()
}

/// Sets each value down on its line, clear of other words and off other lines where that can be done.
fn values_on_lines(scene: &mut Scene, labels: &[(Vec<Point>, String, TextLook)], room: &mut LabelRoom) {
    for (own, (points, label, look)) in labels.iter().enumerate() {
        if length(points) < SHORTEST {
            continue;
        }
        let others = labels.iter().enumerate().filter(|(index, _)| *index != own);
        room.lines = others.flat_map(|(_, (line, _, _))| samples(line, 4.0)).collect();
        let (width, height) = (look.width(label) + 6.0, look.line_height());
        let along = samples(points, STEP);
        let middle = along.len() as f64 / 2.0;
        let places = along.iter().enumerate().map(|(index, point)| {
            let off = (index as f64 - middle).abs() / middle.max(1.0);
            (Rect::centred(*point, width, height), 0.8 * off)
        });
        let Some(found) = room.best(places) else { continue };
        room.take(found.rect);
        scene.glaze(found.rect.grown(-1.0).corners(), theme::PAPER, 0.88);
        scene.block(
            std::slice::from_ref(label),
            found.rect.centre().0,
            found.rect.top,
            Anchor::Middle,
            *look,
        );
    }
}

fn markers(
    scene: &mut Scene,
    plot: &MapPlot,
    chart: &MapChart,
    labels: &[(Vec<Point>, String, TextLook)],
    room: &mut LabelRoom,
) {
    room.lines = labels.iter().flat_map(|(line, _, _)| samples(line, 5.0)).collect();
    let shown = chart.markers.iter().filter(|m| plot.x.covers(m.x) && plot.y.covers(m.y));
    let points: Vec<(Point, &str)> = shown.map(|m| (plot.at(&(m.x, m.y)), m.label.as_str())).collect();
    room.taken.extend(points.iter().map(|(point, _)| Rect::centred(*point, 3.0 * SIGN, 3.0 * SIGN)));
    let look = theme::STRONG_LABEL;
    for (point, label) in points {
        let lines = look.wrap_evenly(label, 210.0);
        let (width, height) =
            (frame::widest(&lines, look) + 8.0, lines.len() as f64 * look.line_height() + 2.0);
        if let Some(found) = room.best(around(point, width, height, RINGS)) {
            room.take(found.rect);
            scene.line(point, found.rect.nearest(point), theme::INK, 1.0);
            scene.glaze(found.rect.corners(), theme::PAPER, 0.92);
            scene.block(&lines, found.rect.left + 4.0, found.rect.top + 1.0, Anchor::Start, look);
        }
        scene.dot(point, SIGN + 1.6, theme::PAPER);
        scene.dot(point, SIGN, theme::INK);
    }
}

/// What it shows, in words, for readers who do not see it.
fn description(chart: &MapChart) -> String {
    let mut parts = vec!["Map with lines of equal value.".to_owned()];
    for (way, axis, values) in [("Across", &chart.x, &chart.xs), ("Upwards", &chart.y, &chart.ys)] {
        if let (Some(first), Some(last)) = (values.first(), values.last()) {
            parts.push(format!("{way}: {}, {}.", axis_name(axis), from_to(*first, *last)));
        }
    }
    if let Some((low, high)) = scale::span(chart.values.iter().flatten().flatten().copied()) {
        parts.push(format!("{}: {}.", chart.what, from_to(low, high)));
    }
    let levels: Vec<&str> = chart.levels.iter().map(|level| level.label.as_str()).collect();
    parts.push(format!("Lines at {}.", levels.join(", ")));
    for marker in &chart.markers {
        parts.push(format!("Marked: {}.", marker.label));
    }
    parts.join(" ")
}
