//! Points, boxes and broken lines on the picture, in points from its upper left corner.

/// A place on the picture: to the right, and down.
pub type Point = (f64, f64);

/// An upright box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Rect {
    pub fn new(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, right: left + width, bottom: top + height }
    }

    pub fn centred(at: Point, width: f64, height: f64) -> Self {
        Self::new(at.0 - width / 2.0, at.1 - height / 2.0, width, height)
    }

    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    pub fn centre(&self) -> Point {
        ((self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0)
    }

    pub fn grown(&self, by: f64) -> Self {
        Self { left: self.left - by, top: self.top - by, right: self.right + by, bottom: self.bottom + by }
    }

    pub fn overlaps(&self, other: &Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub fn holds(&self, point: Point) -> bool {
        point.0 >= self.left && point.0 <= self.right && point.1 >= self.top && point.1 <= self.bottom
    }

    pub fn holds_rect(&self, other: &Rect) -> bool {
        other.left >= self.left
            && other.right <= self.right
            && other.top >= self.top
            && other.bottom <= self.bottom
    }

    pub fn corners(&self) -> Vec<Point> {
        vec![
            (self.left, self.top),
            (self.right, self.top),
            (self.right, self.bottom),
            (self.left, self.bottom),
        ]
    }

    /// The point of the box nearest to `to`.
    pub fn nearest(&self, to: Point) -> Point {
        (to.0.clamp(self.left, self.right), to.1.clamp(self.top, self.bottom))
    }
}

/// The part of the straight line from `a` to `b` inside `frame`, or nothing.
///
/// The line is a + t·(b − a), 0 ≤ t ≤ 1; each side of the box moves one end of the range of t inwards.
fn inside(a: Point, b: Point, frame: &Rect) -> Option<(Point, Point)> {
    let (dx, dy) = (b.0 - a.0, b.1 - a.1);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides =
        [(-dx, a.0 - frame.left), (dx, frame.right - a.0), (-dy, a.1 - frame.top), (dy, frame.bottom - a.1)];
    for (towards, room) in sides {
        if towards == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if towards < 0.0 {
            enter = enter.max(room / towards);
        } else {
            leave = leave.min(room / towards);
        }
    }
    if enter > leave {
        return None;
    }
    let along = |t: f64| (a.0 + t * dx, a.1 + t * dy);
    Some((if enter > 0.0 { along(enter) } else { a }, if leave < 1.0 { along(leave) } else { b }))
}

/// The pieces of a polyline that lie inside `frame`.
pub fn clip_line(points: &[Point], frame: &Rect) -> Vec<Vec<Point>> {
    let mut pieces: Vec<Vec<Point>> = Vec::new();
    let mut piece: Vec<Point> = Vec::new();
    for pair in points.windows(2) {
        match inside(pair[0], pair[1], frame) {
            Some((from, to)) => {
                if piece.last() != Some(&from) {
                    finish(&mut pieces, &mut piece);
                    piece.push(from);
                }
                piece.push(to);
            }
            None => finish(&mut pieces, &mut piece),
        }
    }
    finish(&mut pieces, &mut piece);
    pieces
}

fn finish(pieces: &mut Vec<Vec<Point>>, piece: &mut Vec<Point>) {
    if piece.len() > 1 {
        pieces.push(std::mem::take(piece));
    } else {
        piece.clear();
    }
}

/// Cuts a polyline into the dashes of `pattern` (lengths of stroke, gap, stroke, gap, …).
pub fn dashes(points: &[Point], pattern: &[f64]) -> Vec<Vec<Point>> {
    let total: f64 = pattern.iter().sum();
    if pattern.is_empty() || total <= 0.1 {
        return vec![points.to_vec()];
    }
    let mut pieces = Vec::new();
    let (mut index, mut left) = (0, pattern[0]);
    let mut piece: Vec<Point> = points.first().copied().into_iter().collect();
    for pair in points.windows(2) {
        let (mut from, to) = (pair[0], pair[1]);
        let mut length = (to.0 - from.0).hypot(to.1 - from.1);
        while length > left {
            let share = left / length;
            from = (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1));
            length -= left;
            if index % 2 == 0 {
                piece.push(from);
                finish(&mut pieces, &mut piece);
            }
            index = (index + 1) % pattern.len();
            left = pattern[index].max(0.01);
            piece.clear();
            if index % 2 == 0 {
                piece.push(from);
            }
        }
        left -= length;
        if index % 2 == 0 {
            piece.push(to);
        }
    }
    finish(&mut pieces, &mut piece);
    pieces
}

/// Points along a polyline, no farther apart than `step`: stand-ins for the line when labels look for room.
pub fn samples(points: &[Point], step: f64) -> Vec<Point> {
    let mut out = Vec::with_capacity(points.len());
    for pair in points.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let parts = ((b.0 - a.0).hypot(b.1 - a.1) / step).ceil().clamp(1.0, 4000.0);
        for i in 0..parts as usize {
            let t = i as f64 / parts;
            out.push((a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1)));
        }
    }
    out.extend(points.last());
    out
}
