//! Names of bands: at the right where the band ends there, inside it where it is thick enough, else a number and a key.

use super::area_chart::BandChart;
use super::frame;
use super::geometry::{Point, Rect};
use super::hatch;
use super::place;
use super::scale::Scale;
use super::scene::{Anchor, Scene};
use super::stack::Stack;
use super::theme;

const LEAD: f64 = 24.0;
const SWATCH: (f64, f64) = (18.0, 11.0);
const GAP: f64 = 6.0;
const BETWEEN: f64 = 3.0;
/// A name takes no more than this part of the picture's width before it is broken into lines.
const WIDEST: f64 = 0.2;
/// Thinner than this at the right edge, a band is named elsewhere.
const ENDS: f64 = 2.0;
/// Thinner than this everywhere, a band cannot be seen and is not named.
const SEEN: f64 = 0.7;
/// Distances at which a number is tried.
const NUMBER_RINGS: &[f64] = &[0.0, 8.0, 13.0, 20.0, 30.0, 50.0, 80.0, 120.0, 180.0, 260.0];
/// Texts inside a band keep this far from its edges.
const INSIDE: f64 = 3.0;

/// One stretch of a band on the picture: x, inner edge, outer edge.
#[derive(Debug, Clone, Default)]
pub(super) struct Ribbon {
    points: Vec<(f64, f64, f64)>,
}

impl Ribbon {
    pub(super) fn push(&mut self, x: f64, inner: f64, outer: f64) {
        self.points.push((x, inner, outer));
    }

    /// The part between two places, or nothing if none is left.
    pub(super) fn cut(&self, left: f64, right: f64) -> Option<Self> {
        let mut points = Vec::with_capacity(self.points.len());
        for pair in self.points.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            if b.0 < left || a.0 > right {
                continue;
            }
            let at = |x: f64| {
                if b.0 - a.0 < 1e-9 {
                    return b;
                }
                let t = (x - a.0) / (b.0 - a.0);
                (x, a.1 + t * (b.1 - a.1), a.2 + t * (b.2 - a.2))
            };
            if points.is_empty() {
                points.push(if a.0 < left { at(left) } else { a });
            }
            points.push(if b.0 > right { at(right) } else { b });
        }
        // A lone place has no width; it is drawn as a sliver, so that one measured speed still shows.
        if let [(x, inner, outer)] = self.points[..]
            && x >= left
            && x <= right
        {
            points = vec![(x - 2.0, inner, outer), (x + 2.0, inner, outer)];
        }
        (points.len() > 1).then_some(Self { points })
    }

    /// The stretches where the band has any thickness, with the points it tapers to.
    pub(super) fn thick_parts(&self) -> Vec<Self> {
        let thick = |p: &(f64, f64, f64)| (p.1 - p.2).abs() > 0.05;
        let mut out = vec![Self::default()];
        for pair in self.points.windows(2) {
            if let Some(part) = out.last_mut() {
                if thick(&pair[0]) || thick(&pair[1]) {
                    if part.points.is_empty() {
                        part.points.push(pair[0]);
                    }
                    part.points.push(pair[1]);
                } else if !part.points.is_empty() {
                    out.push(Self::default());
                }
            }
        }
        out.retain(|part| part.points.len() > 1);
        out
    }

    pub(super) fn outline(&self) -> Vec<Point> {
        let mut out: Vec<Point> = self.points.iter().map(|p| (p.0, p.2)).collect();
        out.extend(self.points.iter().rev().map(|p| (p.0, p.1)));
        out
    }

    fn ends_at(&self, x: f64) -> bool {
        self.points.last().is_some_and(|p| p.0 > x - 1.0)
    }

    /// Where it is thickest: place, middle, thickness.
    fn thickest(&self) -> (f64, f64, f64) {
        self.points.iter().fold((0.0, 0.0, -1.0), |most, p| {
            let thickness = (p.1 - p.2).abs();
            if thickness > most.2 { (p.0, (p.1 + p.2) / 2.0, thickness) } else { most }
        })
    }

    /// Upper and lower edge of the room a text has between two places, if the band reaches over both.
    fn room(&self, left: f64, right: f64) -> Option<(f64, f64)> {
        let part = self.cut(left, right)?;
        let (first, last) = (part.points.first()?, part.points.last()?);
        if first.0 > left + 0.01 || last.0 < right - 0.01 {
            return None;
        }
        let top = part.points.iter().map(|p| p.1.min(p.2)).fold(f64::NEG_INFINITY, f64::max);
        let bottom = part.points.iter().map(|p| p.1.max(p.2)).fold(f64::INFINITY, f64::min);
        (bottom > top).then_some((top, bottom))
    }
}

/// The names of all bands, broken into lines, in the order of the slices.
pub(super) fn names(stack: &Stack, width: f64) -> Vec<Vec<String>> {
    let room = (width * WIDEST).max(70.0);
    stack.slices.iter().map(|slice| theme::LABEL.wrap_evenly(&slice.name, room)).collect()
}

/// Width needed at the right, where any band may turn out to end.
pub(super) fn room_for(names: &[Vec<String>]) -> f64 {
    names.iter().map(|lines| LEAD + SWATCH.0 + GAP + frame::widest(lines, theme::LABEL)).fold(0.0, f64::max)
}

fn height(lines: &[String]) -> f64 {
    (lines.len() as f64 * theme::LABEL.line_height()).max(SWATCH.1)
}

pub(super) fn height_of(names: &[Vec<String>]) -> f64 {
    names.iter().map(|lines| height(lines) + BETWEEN).sum()
}

/// The words in the corners of the halves.
pub(super) fn corner_notes(chart: &BandChart, rect: &Rect, y: &Scale) -> Vec<(Rect, Vec<String>)> {
    let look = theme::STRONG_LABEL;
    let nought = y.at(0.0).clamp(rect.top, rect.bottom);
    let mut out: Vec<(Rect, Vec<String>)> = Vec::new();
    for (text, upper) in [(&chart.gives_note, true), (&chart.takes_note, false)] {
        let lines = look.wrap(text, rect.width() * 0.5);
        let (width, tall) = (frame::widest(&lines, look), lines.len() as f64 * look.line_height());
        let room = if upper { nought - rect.top } else { rect.bottom - nought };
        if lines.is_empty() || room < tall + 10.0 {
            continue;
        }
        let top = if upper { rect.top + 5.0 } else { rect.bottom - 5.0 - tall };
        out.push((Rect::new(rect.left + 7.0, top, width, tall), lines));
    }
    out
}

/// How a band is named.
#[derive(Debug, Clone, Copy)]
enum Tag {
    /// At the right, led to from this height.
    End(f64),
    /// Inside the band.
    Inside(Rect),
    /// By a number beside this point of the band.
    Number(Point, Rect),
    /// Not: it cannot be seen.
    Nothing,
}

/// How every band is named.
pub(super) struct Words {
    tags: Vec<Tag>,
    /// Inside as well, for a band that is far thicker elsewhere than at the right.
    again: Vec<Option<Rect>>,
}

impl Words {
    /// Numbers and names for the key.
    pub(super) fn key(&self, stack: &Stack) -> Vec<(usize, String)> {
        let numbered = self.tags.iter().zip(&stack.slices);
        numbered
            .filter(|(tag, slice)| matches!(tag, Tag::Number(..)) && !slice.name.is_empty())
            .enumerate()
            .map(|(index, (_, slice))| (index + 1, slice.name.clone()))
            .collect()
    }
}

/// Decides how every band is named.
pub(super) fn place(
    stack: &Stack,
    bands: &[Vec<Ribbon>],
    names: &[Vec<String>],
    rect: &Rect,
    corners: &[(Rect, Vec<String>)],
) -> Words {
    let mut room = place::Room {
        frame: rect.grown(-1.0),
        taken: corners.iter().map(|(rect, _)| *rect).collect(),
        lines: Vec::new(),
    };
    let mut tags = vec![Tag::Nothing; stack.slices.len()];
    let mut again = vec![None; stack.slices.len()];
    // First those with no choice.
    for (tag, ribbons) in tags.iter_mut().zip(bands) {
        let end = ribbons
            .iter()
            .filter_map(|ribbon| ribbon.points.last())
            .find(|p| p.0 > rect.right - 1.0 && (p.1 - p.2).abs() >= ENDS);
        if let Some(p) = end {
            *tag = Tag::End((p.1 + p.2) / 2.0);
        }
    }
    for ((tag, ribbons), lines) in tags.iter_mut().zip(bands).zip(names) {
        let seen = ribbons.iter().any(|ribbon| ribbon.thickest().2 >= SEEN);
        if !matches!(tag, Tag::Nothing) || !seen || lines.is_empty() {
            continue;
        }
        if let Some(inside) = inside(ribbons, lines, &room) {
            room.take(inside);
            *tag = Tag::Inside(inside);
        }
    }
    for ((tag, ribbons), lines) in tags.iter_mut().zip(bands).zip(names) {
        let most = ribbons
            .iter()
            .map(Ribbon::thickest)
            .fold((0.0, 0.0, SEEN), |most, here| if here.2 >= most.2 { here } else { most });
        if !matches!(tag, Tag::Nothing) || most.0 == 0.0 || lines.is_empty() {
            continue;
        }
        let point = (most.0, most.1);
        let across = 2.0 * frame::NUMBER_RADIUS;
        // A number must not hide the little there is to see.
        let rings = if most.2 > across + 2.0 * INSIDE { NUMBER_RINGS } else { &NUMBER_RINGS[1..] };
        let rings = place::around(point, across, across, rings);
        if let Some(found) = room.best(rings) {
            room.take(found.rect);
            *tag = Tag::Number(point, found.rect);
        }
    }
    for (index, (ribbons, lines)) in bands.iter().zip(names).enumerate() {
        let most = ribbons.iter().map(|ribbon| ribbon.thickest().2).fold(0.0, f64::max);
        let at_end = |ribbon: &Ribbon| ribbon.points.last().map_or(0.0, |p| (p.1 - p.2).abs());
        let ending = ribbons.iter().filter(|ribbon| ribbon.ends_at(rect.right));
        let end = ending.map(at_end).fold(0.0, f64::max);
        if matches!(tags[index], Tag::End(_)) && !lines.is_empty() && end < 0.3 * most {
            again[index] = inside(ribbons, lines, &room);
            room.taken.extend(again[index]);
        }
    }
    Words { tags, again }
}

/// The roomiest place inside a band for its name.
fn inside(ribbons: &[Ribbon], lines: &[String], room: &place::Room) -> Option<Rect> {
    let (width, tall) = (frame::widest(lines, theme::LABEL), height(lines));
    let mut best: Option<(f64, Rect)> = None;
    for ribbon in ribbons {
        let (first, last) = (ribbon.points.first()?.0, ribbon.points.last()?.0);
        let steps = 40;
        for step in 0..=steps {
            let centre = first + (last - first) * f64::from(step) / f64::from(steps);
            let (left, right) = (centre - width / 2.0 - INSIDE, centre + width / 2.0 + INSIDE);
            let Some((top, bottom)) = ribbon.room(left, right) else {
                continue;
            };
            let rect = Rect::centred((centre, (top + bottom) / 2.0), width, tall);
            let spare = bottom - top - tall - 2.0 * INSIDE;
            if spare < 0.0 || best.is_some_and(|(most, _)| spare <= most) {
                continue;
            }
            if room.best(std::iter::once((rect, 0.0))).is_some() {
                best = Some((spare, rect));
            }
        }
    }
    best.map(|(_, rect)| rect)
}

/// Draws all names.
pub(super) fn draw(
    scene: &mut Scene,
    stack: &Stack,
    names: &[Vec<String>],
    words: &Words,
    rect: &Rect,
    corners: &[(Rect, Vec<String>)],
) {
    for (area, lines) in corners {
        scene.glaze(area.grown(3.0).corners(), theme::PAPER, 0.9);
        scene.block(lines, area.left, area.top, Anchor::Start, theme::STRONG_LABEL);
    }
    let mut number = 0;
    let mut ends: Vec<(usize, f64)> = Vec::new();
    for (index, tag) in words.tags.iter().enumerate() {
        let inside = if let Tag::Inside(area) = *tag { Some(area) } else { words.again[index] };
        if let Some(area) = inside {
            let look = theme::band(stack.slices[index].order, stack.slices[index].loss);
            scene.glaze(area.grown(2.0).corners(), look.ground, 0.92);
            scene.block(&names[index], area.centre().0, area.top, Anchor::Middle, theme::LABEL);
        }
        match *tag {
            Tag::End(y) if !names[index].is_empty() => ends.push((index, y)),
            Tag::Number(point, area) => {
                number += 1;
                if !area.holds(point) {
                    scene.line(point, area.centre(), theme::INK, 0.8);
                    scene.dot(point, 1.8, theme::INK);
                }
                frame::number_disc(scene, area.centre(), number);
            }
            _ => {}
        }
    }
    let boxes: Vec<(f64, f64)> = ends.iter().map(|(index, y)| (*y, height(&names[*index]))).collect();
    let centres = place::spread(&boxes, rect.top, rect.bottom, BETWEEN);
    for ((index, y), centre) in ends.iter().zip(centres) {
        let slice = &stack.slices[*index];
        let look = theme::band(slice.order, slice.loss);
        scene.line((rect.right + 2.0, *y), (rect.right + LEAD - 2.0, centre), theme::MUTED, 0.8);
        let swatch = Rect::new(rect.right + LEAD, centre - SWATCH.1 / 2.0, SWATCH.0, SWATCH.1);
        scene.fill(swatch.corners(), look.ground);
        hatch::draw(scene, &swatch.corners(), look.hatch, look.line);
        let mut edge = swatch.corners();
        edge.push(edge[0]);
        scene.stroke(edge, look.line, 1.0, &[]);
        let lines = &names[*index];
        let top = centre - lines.len() as f64 * theme::LABEL.line_height() / 2.0;
        scene.block(lines, swatch.right + GAP, top, Anchor::Start, theme::LABEL);
    }
}
