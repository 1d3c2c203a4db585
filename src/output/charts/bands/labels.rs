//! Names of bands: at the right where the band ends there, inside it where it is thick enough, else a number and a key.

use super::chart::BandChart;
use super::ribbon::Ribbon;
use super::stack::{BandStack, Slice};
use crate::output::charts::frame;
use crate::output::charts::scale::Scale;
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::geometry::{Point, Rect};
use crate::output::scene::hatch;
use crate::output::scene::place;

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

/// A band's name, broken into lines.
pub(super) struct BandName {
    lines: Vec<String>,
    /// Whether it may stand at the right: there is room for it.
    may_end: bool,
}

/// The names of all bands, in the order of the slices. At the right stand those that still have a value at the last place; with
/// `any_may_end` all may, since the axis does not end with the data.
pub(super) fn names(stack: &BandStack, width: f64, any_may_end: bool) -> Vec<BandName> {
    let room = (width * WIDEST).max(70.0);
    let ends = |slice: &Slice| slice.values.last().is_some_and(|value| *value != Some(0.0));
    stack
        .slices
        .iter()
        .map(|slice| BandName {
            lines: theme::LABEL.wrap_evenly(&slice.name, room),
            may_end: any_may_end || ends(slice),
        })
        .collect()
}

pub(super) fn room_for(names: &[BandName]) -> f64 {
    let ending = names.iter().filter(|name| name.may_end);
    ending.map(|name| LEAD + SWATCH.0 + GAP + frame::widest(&name.lines, theme::LABEL)).fold(0.0, f64::max)
}

fn height(lines: &[String]) -> f64 {
    (lines.len() as f64 * theme::LABEL.line_height()).max(SWATCH.1)
}

pub(super) fn height_of(names: &[BandName]) -> f64 {
    names.iter().map(|name| height(&name.lines) + BETWEEN).sum()
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
enum BandTag {
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
pub(super) struct BandWords {
    tags: Vec<BandTag>,
    /// Inside as well, for a band that is far thicker elsewhere than at the right.
    again: Vec<Option<Rect>>,
}

impl BandWords {
    /// Numbers and names for the key.
    pub(super) fn key(&self, stack: &BandStack) -> Vec<(usize, String)> {
        let numbered = self.tags.iter().zip(&stack.slices);
        numbered
            .filter(|(tag, slice)| matches!(tag, BandTag::Number(..)) && !slice.name.is_empty())
            .enumerate()
            .map(|(index, (_, slice))| (index + 1, slice.name.clone()))
            .collect()
    }
}

/// Decides how every band is named.
pub(super) fn place(
    stack: &BandStack,
    bands: &[Vec<Ribbon>],
    names: &[BandName],
    rect: &Rect,
    corners: &[(Rect, Vec<String>)],
) -> BandWords {
    let mut room = place::LabelRoom {
        frame: rect.grown(-1.0),
        taken: corners.iter().map(|(rect, _)| *rect).collect(),
        lines: Vec::new(),
    };
    let mut tags = vec![BandTag::Nothing; stack.slices.len()];
    let mut again = vec![None; stack.slices.len()];
    // First those with no choice.
    for ((tag, ribbons), name) in tags.iter_mut().zip(bands).zip(names) {
        let end = ribbons
            .iter()
            .filter_map(|ribbon| ribbon.points.last())
            .find(|p| p.0 > rect.right - 1.0 && (p.1 - p.2).abs() >= ENDS);
        if let Some(p) = end.filter(|_| name.may_end) {
            *tag = BandTag::End((p.1 + p.2) / 2.0);
        }
    }
    for ((tag, ribbons), BandName { lines, .. }) in tags.iter_mut().zip(bands).zip(names) {
        let seen = ribbons.iter().any(|ribbon| ribbon.thickest().2 >= SEEN);
        if !matches!(tag, BandTag::Nothing) || !seen || lines.is_empty() {
            continue;
        }
        if let Some(inside) = inside(ribbons, lines, &room) {
            room.take(inside);
            *tag = BandTag::Inside(inside);
        }
    }
    for ((tag, ribbons), BandName { lines, .. }) in tags.iter_mut().zip(bands).zip(names) {
        let most = ribbons
            .iter()
            .map(Ribbon::thickest)
            .fold((0.0, 0.0, SEEN), |most, here| if here.2 >= most.2 { here } else { most });
        if !matches!(tag, BandTag::Nothing) || most.0 == 0.0 || lines.is_empty() {
            continue;
        }
        let point = (most.0, most.1);
        let across = 2.0 * frame::NUMBER_RADIUS;
        // A number must not hide the little there is to see.
        let rings = if most.2 > across + 2.0 * INSIDE { NUMBER_RINGS } else { &NUMBER_RINGS[1..] };
        let rings = place::around(point, across, across, rings);
        if let Some(found) = room.best(rings) {
            room.take(found.rect);
            *tag = BandTag::Number(point, found.rect);
        }
    }
    for (index, (ribbons, BandName { lines, .. })) in bands.iter().zip(names).enumerate() {
        let most = ribbons.iter().map(|ribbon| ribbon.thickest().2).fold(0.0, f64::max);
        let at_end = |ribbon: &Ribbon| ribbon.points.last().map_or(0.0, |p| (p.1 - p.2).abs());
        let ending = ribbons.iter().filter(|ribbon| ribbon.ends_at(rect.right));
        let end = ending.map(at_end).fold(0.0, f64::max);
        if matches!(tags[index], BandTag::End(_)) && !lines.is_empty() && end < 0.3 * most {
            again[index] = inside(ribbons, lines, &room);
            room.taken.extend(again[index]);
        }
    }
    BandWords { tags, again }
}

/// The roomiest place inside a band for its name.
fn inside(ribbons: &[Ribbon], lines: &[String], room: &place::LabelRoom) -> Option<Rect> {
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
            // Past one more line of room, the middle of the band reads best.
            let worth = spare.min(tall) - 0.05 * (centre - (first + last) / 2.0).abs();
            if spare < 0.0 || best.is_some_and(|(most, _)| worth <= most) {
                continue;
            }
            if room.best(std::iter::once((rect, 0.0))).is_some() {
                best = Some((worth, rect));
            }
        }
    }
    best.map(|(_, rect)| rect)
}

/// Draws all names.
pub(super) fn draw(
    scene: &mut Scene,
    stack: &BandStack,
    names: &[BandName],
    words: &BandWords,
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
        let inside = if let BandTag::Inside(area) = *tag { Some(area) } else { words.again[index] };
        if let Some(area) = inside {
            let look = theme::band(stack.slices[index].order, stack.slices[index].loss);
            scene.glaze(area.grown(2.0).corners(), look.ground, 0.92);
            scene.block(&names[index].lines, area.centre().0, area.top, Anchor::Middle, theme::LABEL);
        }
        match *tag {
            BandTag::End(y) if !names[index].lines.is_empty() => ends.push((index, y)),
            BandTag::Number(point, area) => {
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
    let boxes: Vec<(f64, f64)> = ends.iter().map(|(index, y)| (*y, height(&names[*index].lines))).collect();
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
        let lines = &names[*index].lines;
        let top = centre - lines.len() as f64 * theme::LABEL.line_height() / 2.0;
        scene.block(lines, swatch.right + GAP, top, Anchor::Start, theme::LABEL);
    }
}
