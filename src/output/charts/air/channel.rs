//! A channel's outline, its arrow and its signs.

use super::ramp::Ramp;
use crate::element::{Sign, SignPiece};
use crate::output::charts::theme;
use crate::output::scene::colour::Colour;
use crate::output::scene::drawing::Scene;
use crate::output::scene::geometry::{Point, Rect};
use crate::output::scene::hatch;

/// Room for one sign along a channel.
pub(super) const SIGN: f64 = 24.0;
/// Width of a channel's edge.
const EDGE_LINE: f64 = 0.9;
const STANDS: &[f64] = &[3.0, 3.0];
const BACK_HATCH: hatch::Hatch = hatch::Hatch::Lines { degrees: 45.0, apart: 6.0 };

/// A channel as it lies on the picture.
#[derive(Debug, Clone)]
pub(super) struct ChannelPath {
    /// Its middle from left to right.
    pub middle: Vec<Point>,
    pub width: f64,
    /// Temperatures at its left and right end.
    pub warmth: (f64, f64),
    /// Where the one turns into the other.
    pub turn: f64,
    /// Whether the air runs to the right, to the left, or not at all.
    pub motion: Motion,
    /// Whether that is against the way in which it was written.
    pub back: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Motion {
    Right,
    Left,
    None,
}

/// A smooth way from one height to another.
pub(super) fn bend(middle: &mut Vec<Point>, to: Point) {
    let Some(&from) = middle.last() else {
        middle.push(to);
        return;
    };
    if (from.1 - to.1).abs() > 0.05 {
        for step in 1..16 {
            let t = f64::from(step) / 16.0;
            let rise = t * t * (3.0 - 2.0 * t);
            middle.push((from.0 + t * (to.0 - from.0), from.1 + rise * (to.1 - from.1)));
        }
    }
    middle.push(to);
}

impl ChannelPath {
    pub(super) fn draw(&self, scene: &mut Scene, ramp: &Ramp) {
        if self.motion == Motion::None {
            scene.stroke(self.middle.clone(), theme::MUTED, 1.2, STANDS);
            return;
        }
        let length = (0.3 * self.width + 8.0).clamp(9.0, 22.0);
        let (first, last) = (self.middle[0].0, self.middle[self.middle.len() - 1].0);
        let (from, to) = match self.motion {
            Motion::Right => (first, last - length),
            _ => (first + length, last),
        };
        // air that runs the wrong way has one loud colour; how warm it is, its words say
        let fill = |warmth| if self.back { theme::LOUD } else { ramp.at(warmth) };
        let ends = (fill(self.warmth.0), fill(self.warmth.1));
        let parts = [(from, self.turn.clamp(from, to), ends.0), (self.turn.clamp(from, to), to, ends.1)];
        for (from, to, colour) in parts {
            let outline = self.outline(from, to);
            scene.fill(outline, colour);
        }
        let whole = self.outline(from, to);
        if self.back && self.width > 3.0 {
            hatch::draw(scene, &whole, BACK_HATCH, theme::INK);
        }
        let half = whole.len() / 2;
        for edge in [&whole[..half], &whole[half..]] {
            scene.stroke(edge.to_vec(), theme::INK, EDGE_LINE, &[]);
        }
        let (start, tip, colour) = match self.motion {
            Motion::Right => (to, last, ends.1),
            _ => (from, first, ends.0),
        };
        self.arrow(scene, start, tip, colour);
    }

    /// The outline between two places across: upper edge there, lower edge back.
    fn outline(&self, from: f64, to: f64) -> Vec<Point> {
        let mut inside = vec![(from, self.height_at(from))];
        inside.extend(self.middle.iter().filter(|p| p.0 > from && p.0 < to));
        inside.push((to, self.height_at(to)));
        let half = self.width / 2.0;
        let upper = inside.iter().map(|p| (p.0, p.1 - half));
        let lower = inside.iter().rev().map(|p| (p.0, p.1 + half));
        upper.chain(lower).collect()
    }

    /// Height of the middle at a place across.
    pub(super) fn height_at(&self, x: f64) -> f64 {
        let pair = self.middle.windows(2).find(|pair| x <= pair[1].0);
        match pair {
            Some([a, b]) if b.0 > a.0 => a.1 + ((x - a.0) / (b.0 - a.0)).clamp(0.0, 1.0) * (b.1 - a.1),
            _ => self.middle.last().map_or(0.0, |p| p.1),
        }
    }

    fn arrow(&self, scene: &mut Scene, start: f64, tip: f64, colour: Colour) {
        let (base, point) = (self.height_at(start), self.height_at(tip));
        let half = self.width / 2.0 + 4.5;
        let head = vec![(start, base - half), (tip, point), (start, base + half)];
        let fill = if self.width > 6.0 { colour } else { theme::INK };
        scene.fill(head.clone(), fill);
        scene.stroke([head.clone(), vec![head[0]]].concat(), theme::INK, 1.1, &[]);
    }

    /// Lines that part a channel into as many pieces as it stands for, over a straight stretch.
    pub(super) fn partings(&self, scene: &mut Scene, pieces: usize, from: f64, to: f64) {
        let pieces = pieces.min(8);
        if self.width < 6.0 * pieces as f64 || self.motion == Motion::None {
            return;
        }
        for piece in 1..pieces {
            let y = self.height_at(from) + self.width * (piece as f64 / pieces as f64 - 0.5);
            scene.line((from, y), (to, y), theme::INK, 0.6);
        }
    }
}

/// Draws a sign about a point of a channel of a width.
pub(super) fn sign(scene: &mut Scene, sign: Sign, at: Point, width: f64) {
    let tall = width.max(14.0) + 4.0;
    for piece in sign.pieces() {
        match *piece {
            SignPiece::Line { points, thick, dashes } => {
                let points = points.iter().map(|(x, y)| (at.0 + x, at.1 + y * tall));
                scene.stroke(points.collect(), theme::INK, thick, dashes);
            }
            SignPiece::Ring { outer, inner } => {
                scene.dot(at, outer, theme::INK);
                scene.dot(at, inner, theme::PAPER);
            }
            SignPiece::Blade { turned, corners } => {
                let corners = corners.iter().map(|(angle, reach)| {
                    let (sine, cosine) = (turned + angle).sin_cos();
                    (at.0 + reach * cosine, at.1 + reach * sine)
                });
                scene.fill(std::iter::once(at).chain(corners).collect(), theme::INK);
            }
            SignPiece::Crossed { width, apart } => {
                let outline = Rect::centred(at, width, tall).corners();
                scene.fill(outline.clone(), theme::PAPER);
                hatch::draw(scene, &outline, hatch::Hatch::Crossed { apart }, theme::INK);
                scene.stroke([outline.clone(), vec![outline[0]]].concat(), theme::INK, 1.2, &[]);
            }
        }
    }
}

/// A stretch of air running back, for the key.
pub(super) fn back_sample(scene: &mut Scene, rect: &Rect) {
    scene.fill(rect.corners(), theme::LOUD);
    hatch::draw(scene, &rect.corners(), BACK_HATCH, theme::INK);
    for y in [rect.top, rect.bottom] {
        scene.line((rect.left, y), (rect.right, y), theme::INK, EDGE_LINE);
    }
}
