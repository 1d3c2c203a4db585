//! Words inside a plot: the name of the limit and those of the marked points, clear of each other and, where possible, of the
//! curves.

use super::chart::BadSide;
use super::curves;
use super::model;
use super::plot::{LinePlot, field, on_picture};
use crate::output::charts::axis::{Marker, MarkerKind};
use crate::output::charts::frame;
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::geometry::{Point, Rect, clip_line, samples};
use crate::output::scene::place::{LabelRoom, around};

/// More named points than this in a plot are numbered at once.
const MANY: usize = 6;
/// A label that covers more curve points than this makes the plot crowded.
const COVERED: usize = 3;
/// Distance between the stand-ins for a curve.
const STEP: f64 = 6.0;
/// Half the size of a marker's sign.
const SIGN: f64 = 4.2;

const LABEL_RINGS: &[f64] = &[8.0, 14.0, 22.0, 34.0];
const NUMBER_RINGS: &[f64] = &[6.0, 11.0, 18.0, 28.0, 42.0, 62.0, 90.0, 130.0, 190.0, 260.0, 340.0];

/// Said in a plot without curves.
const EMPTY: &str = "No values to draw.";

/// The words of one plot, placed.
pub(super) struct PlotWords {
    limit: Option<(Rect, Vec<String>)>,
    shaded: Vec<(Rect, Vec<String>)>,
    empty: Option<Rect>,
    tags: Vec<MarkerTag>,
}

struct MarkerTag {
    point: Point,
    kind: MarkerKind,
    place: Option<Rect>,
    says: Says,
}

enum Says {
    Words(Vec<String>),
    Number(usize),
    Nothing,
}

fn visible<'a>(plot: &'a LinePlot<'_>) -> impl Iterator<Item = (&'a Marker, Point)> {
    let range = (plot.x.low, plot.x.high);
    let field = field(plot);
    plot.data
        .panel
        .markers
        .iter()
        .filter(move |marker| model::shown(marker.x, marker.y, range, &plot.data))
        .map(move |marker| (marker, field.nearest((plot.x.at(marker.x), plot.y.at(marker.y)))))
}

/// What there is to keep clear of, and the words set down first: the limit's name, since it has the least choice, and the
/// remark that there are no curves.
fn start(plot: &LinePlot<'_>) -> (LabelRoom, PlotWords) {
    let mut room = LabelRoom {
        frame: plot.rect.grown(-2.0),
        taken: visible(plot).map(|(_, point)| Rect::centred(point, 2.0 * SIGN, 2.0 * SIGN)).collect(),
        lines: Vec::new(),
    };
    let field = field(plot);
    for curve in 0..plot.data.runs.len() {
        for run in on_picture(plot, curve) {
            for piece in clip_line(&run, &field) {
                room.lines.extend(samples(&piece, STEP));
            }
        }
    }
    for &x in &plot.marks {
        room.lines.extend(samples(&[(x, plot.rect.top), (x, plot.rect.bottom)], 2.0 * STEP));
    }
    let limit = limit_name(plot, &mut room);
    let shaded = shaded_names(plot, &mut room);
    let empty = if plot.data.empty { empty_note(plot, &mut room) } else { None };
    if let Some((value, _)) = &plot.data.panel.limit
        && plot.y.covers(*value)
    {
        let y = plot.y.at(*value);
        room.lines.extend(samples(&[(plot.rect.left, y), (plot.rect.right, y)], STEP));
    }
    let words = PlotWords { limit, shaded, empty, tags: Vec::new() };
    (room, words)
}

fn empty_note(plot: &LinePlot<'_>, room: &mut LabelRoom) -> Option<Rect> {
    let look = theme::SUBTITLE;
    let (width, height) = (look.width(EMPTY), look.line_height());
    let middle = plot.rect.centre().0;
    let places = [0.5, 0.35, 0.65, 0.2, 0.8].map(|share| {
        let y = plot.rect.top + share * plot.rect.height();
        (Rect::centred((middle, y), width, height), (share - 0.5_f64).abs())
    });
    let found = room.best(places.into_iter())?;
    room.take(found.rect);
    Some(found.rect)
}

/// The words of shaded stretches, each within its own where it is wide enough.
fn shaded_names(plot: &LinePlot<'_>, room: &mut LabelRoom) -> Vec<(Rect, Vec<String>)> {
    let look = theme::STRONG_LABEL;
    let mut placed = Vec::new();
    for (left, right, name) in &plot.shaded {
        let lines = look.wrap_evenly(name, (right - left - 8.0).max(40.0));
        let (width, height) = (frame::widest(&lines, look), lines.len() as f64 * look.line_height());
        if lines.is_empty() || width > right - left {
            continue;
        }
        let middle = (left + right) / 2.0;
        let places = [0.2, 0.35, 0.5, 0.65, 0.8].map(|share| {
            let y = plot.rect.top + share * plot.rect.height();
            (Rect::centred((middle, y), width, height), share)
        });
        if let Some(found) = room.best(places.into_iter()) {
            room.take(found.rect);
            placed.push((found.rect, lines));
        }
    }
    placed
}

fn limit_name(plot: &LinePlot<'_>, room: &mut LabelRoom) -> Option<(Rect, Vec<String>)> {
    let (value, name) = plot.data.panel.limit.as_ref()?;
    if !plot.y.covers(*value) {
        return None;
    }
    let look = theme::STRONG_LABEL;
    let lines = look.wrap(name, plot.rect.width() * 0.6);
    if lines.is_empty() {
        return None;
    }
    let (width, height) = (frame::widest(&lines, look), lines.len() as f64 * look.line_height());
    let y = plot.y.at(*value);
    let (above, below) = (y - 4.0 - height, y + 4.0);
    // On the shaded side the name tells what the shading means.
    let sides = match plot.data.panel.bad_side {
        BadSide::Below => [(below, 0.0), (above, 0.5)],
        BadSide::Above => [(above, 0.0), (below, 0.5)],
    };
    let steps = 24;
    let reach = plot.rect.width() - width - 12.0;
    let places = (0..=steps).flat_map(|step| {
        let share = f64::from(step) / f64::from(steps);
        let left = plot.rect.left + 6.0 + share * reach;
        sides.map(|(top, price)| (Rect::new(left, top, width, height), price + share))
    });
    // Signs everywhere: then on the line's left end, where the signs stay readable through the rest of the line.
    let rect = room.best(places).map_or_else(
        || Rect::new(plot.rect.left + 6.0, below.min(plot.rect.bottom - height), width, height),
        |found| found.rect,
    );
    room.take(rect.grown(2.0));
    Some((rect, lines))
}

/// Marks the plots too crowded for words beside their points, besides those that are marked; whether there are new ones.
pub(super) fn mark_crowded(plots: &[LinePlot<'_>], crowded: &mut [bool]) -> bool {
    let mut found = false;
    for (plot, crowded) in plots.iter().zip(crowded).filter(|(_, crowded)| !**crowded) {
        *crowded = direct_in(plot).is_none();
        found |= *crowded;
    }
    found
}

/// Words beside their points; in crowded plots numbers, in the order of [`key`].
pub(super) fn placed(plots: &[LinePlot<'_>], crowded: &[bool]) -> Vec<PlotWords> {
    let mut next = 1;
    let each = plots.iter().zip(crowded).map(|(plot, crowded)| match crowded {
        true => numbered(plot, &mut next),
        false => direct_in(plot).unwrap_or_else(|| start(plot).1),
    });
    each.collect()
}

fn direct_in(plot: &LinePlot<'_>) -> Option<PlotWords> {
    let (mut room, mut words) = start(plot);
    let count = visible(plot).filter(|(marker, _)| !marker.label.is_empty()).count();
    if count > MANY {
        return None;
    }
    let look = theme::LABEL;
    for (marker, point) in visible(plot) {
        let lines = look.wrap_evenly(&marker.label, (plot.rect.width() * 0.3).clamp(60.0, 190.0));
        let mut tag = MarkerTag { point, kind: marker.kind, place: None, says: Says::Nothing };
        if !lines.is_empty() {
            let (width, height) = (frame::widest(&lines, look), lines.len() as f64 * look.line_height());
            let found = room.best(around(point, width, height, LABEL_RINGS))?;
            if found.covered > COVERED {
                return None;
            }
            room.take(found.rect);
            tag.place = Some(found.rect);
            tag.says = Says::Words(lines);
        }
        words.tags.push(tag);
    }
    Some(words)
}

/// Numbers and words for the key: every visible named point of the crowded plots, one after the other.
pub(super) fn key(plots: &[LinePlot<'_>], crowded: &[bool]) -> Vec<(usize, String)> {
    let listed = plots.iter().zip(crowded).filter(|(_, crowded)| **crowded);
    listed
        .flat_map(|(plot, _)| visible(plot).map(|(marker, _)| marker.label.clone()))
        .filter(|label| !label.trim().is_empty())
        .enumerate()
        .map(|(index, label)| (index + 1, label))
        .collect()
}

fn numbered(plot: &LinePlot<'_>, next: &mut usize) -> PlotWords {
    let (mut room, mut words) = start(plot);
    for (marker, point) in visible(plot) {
        let mut tag = MarkerTag { point, kind: marker.kind, place: None, says: Says::Nothing };
        if !marker.label.trim().is_empty() {
            let across = 2.0 * frame::NUMBER_RADIUS;
            if let Some(found) = room.best(around(point, across, across, NUMBER_RINGS)) {
                room.take(found.rect);
                tag.place = Some(found.rect);
            }
            tag.says = Says::Number(*next);
            *next += 1;
        }
        words.tags.push(tag);
    }
    words
}

/// Signs at the points and the words placed for them.
pub(super) fn draw(scene: &mut Scene, words: &PlotWords) {
    for (rect, lines) in words.limit.iter().chain(&words.shaded) {
        scene.glaze(rect.grown(2.0).corners(), theme::PAPER, 0.9);
        scene.block(lines, rect.left, rect.top, Anchor::Start, theme::STRONG_LABEL);
    }
    if let Some(rect) = words.empty {
        scene.fill(rect.grown(4.0).corners(), theme::PAPER);
        scene.block(&[EMPTY.to_owned()], rect.left, rect.top, Anchor::Start, theme::SUBTITLE);
    }
    for tag in &words.tags {
        if let Some(rect) = tag.place {
            if let Says::Words(_) = tag.says {
                scene.glaze(rect.grown(1.5).corners(), theme::PAPER, 0.85);
            }
            let to = rect.grown(1.5).nearest(tag.point);
            if (to.0 - tag.point.0).hypot(to.1 - tag.point.1) > SIGN + 5.0 {
                scene.line(tag.point, to, theme::MUTED, 0.8);
            }
        }
        sign(scene, tag.point, tag.kind);
    }
    for tag in &words.tags {
        match (&tag.says, tag.place) {
            (Says::Words(lines), Some(rect)) => {
                // Left of the point, lines end at the point.
                let (x, anchor) = if rect.right <= tag.point.0 {
                    (rect.right, Anchor::End)
                } else {
                    (rect.left, Anchor::Start)
                };
                scene.block(lines, x, rect.top, anchor, theme::LABEL);
            }
            (Says::Number(number), Some(rect)) => {
                frame::number_disc(scene, rect.centre(), *number);
            }
            _ => {}
        }
    }
}

fn sign(scene: &mut Scene, point: Point, kind: MarkerKind) {
    match kind {
        MarkerKind::Condition => {
            scene.dot(point, SIGN + 0.8, theme::PAPER);
            scene.dot(point, SIGN - 0.4, theme::INK);
        }
        MarkerKind::Lowest => {
            curves::triangle(scene, point, SIGN + 2.4, 1.0, theme::PAPER);
            curves::triangle(scene, point, SIGN + 0.6, 1.0, theme::INK);
        }
        MarkerKind::Note => {
            let size = 2.0 * SIGN;
            scene.fill(Rect::centred(point, size + 1.2, size + 1.2).corners(), theme::PAPER);
            scene.fill(Rect::centred(point, size - 1.6, size - 1.6).corners(), theme::INK);
        }
    }
}
