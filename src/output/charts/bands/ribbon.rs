//! A band as it lies on the picture.

use crate::output::scene::geometry::Point;

/// One stretch of a band on the picture: x, inner edge, outer edge.
#[derive(Debug, Clone, Default)]
pub(super) struct Ribbon {
    pub points: Vec<(f64, f64, f64)>,
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

    pub(super) fn ends_at(&self, x: f64) -> bool {
        self.points.last().is_some_and(|p| p.0 > x - 1.0)
    }

    /// Where it is thickest: place, middle, thickness.
    pub(super) fn thickest(&self) -> (f64, f64, f64) {
        self.points.iter().fold((0.0, 0.0, -1.0), |most, p| {
            let thickness = (p.1 - p.2).abs();
            if thickness > most.2 { (p.0, (p.1 + p.2) / 2.0, thickness) } else { most }
        })
    }

    /// Upper and lower edge of the room a text has between two places, if the band reaches over both.
    pub(super) fn room(&self, left: f64, right: f64) -> Option<(f64, f64)> {
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
