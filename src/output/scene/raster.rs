//! Draws shapes into pixels, each pixel by the share of it that the shape covers.
//!
//! Only the pixels that a shape touches are looked at, so that a picture costs what is drawn on it and not its paper.

use super::colour::Colour;
use super::geometry::Point;

/// Lines of samples within a row of pixels; across, what is covered is exact.
const SAMPLES: usize = 4;

/// A picture in red, green and blue, row by row.
pub(super) struct Canvas {
    pub width: usize,
    pub height: usize,
    pub bytes: Vec<u8>,
    /// How much of each pixel a line covers, and which pixels it touches: a line that crosses itself is one shape.
    cover: Vec<u8>,
    touched: Vec<usize>,
    /// How much of each pixel of a row a polygon covers.
    row: Vec<f32>,
}

/// What becomes of an end of a stretch of line.
#[derive(Clone, Copy, PartialEq)]
enum Tip {
    /// Cut square.
    Cut,
    /// Round: the next stretch begins there.
    Joint,
}

impl Canvas {
    pub(super) fn new(width: usize, height: usize) -> Canvas {
        Canvas {
            width,
            height,
            bytes: vec![255; width * height * 3],
            cover: Vec::new(),
            touched: Vec::new(),
            row: vec![0.0; width + 1],
        }
    }

    /// Mixes a colour into a pixel by how much of it is covered.
    pub(super) fn blend(&mut self, x: i64, y: i64, colour: Colour, cover: f32) {
        if x >= 0 && y >= 0 && x < self.width as i64 && y < self.height as i64 {
            self.mix(y as usize * self.width + x as usize, colour, cover);
        }
    }

    fn mix(&mut self, at: usize, colour: Colour, cover: f32) {
        let pixel = &mut self.bytes[3 * at..3 * at + 3];
        if cover > 0.998 {
            pixel.copy_from_slice(&[colour.0, colour.1, colour.2]);
            return;
        }
        let cover = cover.max(0.0);
        for (byte, ink) in pixel.iter_mut().zip([colour.0, colour.1, colour.2]) {
            *byte = (f32::from(*byte) + (f32::from(ink) - f32::from(*byte)) * cover).round() as u8;
        }
    }

    /// Fills a polygon (even-odd rule), points in pixels.
    pub(super) fn fill(&mut self, points: &[Point], colour: Colour, opacity: f64) {
        let crossings = self.crossings(points);
        let mut lines = crossings.chunk_by(|a, b| a.0 == b.0).peekable();
        let (mut low, mut high) = (self.width, 0);
        while let Some(line) = lines.next() {
            for pair in line.chunks_exact(2) {
                if let Some((from, to)) = self.span(pair[0].1, pair[1].1) {
                    (low, high) = (low.min(from), high.max(to));
                }
            }
            let row = line[0].0 / SAMPLES;
            if lines.peek().is_none_or(|next| next[0].0 / SAMPLES != row) {
                for x in low..high.min(self.width) {
                    let cover = self.row[x] * opacity as f32;
                    self.mix(row * self.width + x, colour, cover);
                    self.row[x] = 0.0;
                }
                self.row[self.width] = 0.0;
                (low, high) = (self.width, 0);
            }
        }
    }

    /// Where lines of samples meet the outline: line by line, from left to right.
    fn crossings(&self, points: &[Point]) -> Vec<(usize, f32)> {
        let samples = SAMPLES as f64;
        let last = (self.height * SAMPLES) as f64;
        let mut found = Vec::new();
        for (index, from) in points.iter().enumerate() {
            let to = &points[(index + 1) % points.len()];
            let (top, bottom) = if from.1 < to.1 { (from, to) } else { (to, from) };
            let first = (top.1 * samples - 0.5).ceil().clamp(0.0, last) as usize;
            let end = (bottom.1 * samples - 0.5).ceil().clamp(0.0, last) as usize;
            let slope = (bottom.0 - top.0) / (bottom.1 - top.1);
            for line in first..end {
                let y = (line as f64 + 0.5) / samples;
                found.push((line, (top.0 + (y - top.1) * slope) as f32));
            }
        }
        found.sort_unstable_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        found
    }

    /// Adds what a line of samples covers from one place to another; gives the pixels that it touches.
    fn span(&mut self, from: f32, to: f32) -> Option<(usize, usize)> {
        const SHARE: f32 = 1.0 / SAMPLES as f32;
        let (from, to) = (from.clamp(0.0, self.width as f32), to.clamp(0.0, self.width as f32));
        if to <= from {
            return None;
        }
        let (first, last) = (from as usize, to as usize);
        if first == last {
            self.row[first] += SHARE * (to - from);
        } else {
            self.row[first] += SHARE * (first as f32 + 1.0 - from);
            self.row[first + 1..last].iter_mut().for_each(|cover| *cover += SHARE);
            self.row[last] += SHARE * (to - last as f32);
        }
        Some((first, last + 1))
    }

    /// A line of a width through points in pixels, its ends cut square and its corners round.
    pub(super) fn stroke(&mut self, points: &[Point], width: f64, colour: Colour) {
        if self.cover.is_empty() {
            self.cover = vec![0; self.width * self.height];
        }
        let stretches = points.len().saturating_sub(1);
        for (index, pair) in points.windows(2).enumerate() {
            let tip = |outer: bool| if outer { Tip::Cut } else { Tip::Joint };
            self.stretch(pair[0], pair[1], 0.5 * width, (tip(index == 0), tip(index + 1 == stretches)));
        }
        let touched = std::mem::take(&mut self.touched);
        for at in &touched {
            let cover = f32::from(self.cover[*at]) / 255.0;
            self.mix(*at, colour, cover);
            self.cover[*at] = 0;
        }
        self.touched = touched;
        self.touched.clear();
    }

    /// One straight stretch of a line.
    fn stretch(&mut self, from: Point, to: Point, half: f64, tips: (Tip, Tip)) {
        let length = (to.0 - from.0).hypot(to.1 - from.1);
        if length.is_nan() || length <= 0.0 {
            return;
        }
        let (dx, dy) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
        let reach = half + 1.0;
        let within = |value: f64, most: usize| value.clamp(0.0, most as f64) as usize;
        let rows = within((from.1.min(to.1) - reach).floor(), self.height)
            ..within((from.1.max(to.1) + reach).ceil(), self.height);
        let (left, right) = (from.0.min(to.0) - reach, from.0.max(to.0) + reach);
        for row in rows {
            let y = row as f64 + 0.5;
            // where the row runs through the line
            let (mut low, mut high) = (left, right);
            if dy.abs() > 1e-9 {
                let middle = from.0 + (y - from.1) * dx / dy;
                let aside = reach / dy.abs();
                (low, high) = (low.max(middle - aside), high.min(middle + aside));
            }
            for column in within(low.floor(), self.width)..within(high.ceil(), self.width) {
                let (x, at) = (column as f64 + 0.5, row * self.width + column);
                let along = (x - from.0) * dx + (y - from.1) * dy;
                let across = ((x - from.0) * dy - (y - from.1) * dx).abs();
                let cover = covered(along, across, length, half, tips);
                let cover = (255.0 * cover).round() as u8;
                if cover > self.cover[at] {
                    if self.cover[at] == 0 {
                        self.touched.push(at);
                    }
                    self.cover[at] = cover;
                }
            }
        }
    }

    /// A disc about a point in pixels.
    pub(super) fn dot(&mut self, centre: Point, radius: f64, colour: Colour) {
        let reach = radius + 1.0;
        for y in (centre.1 - reach).floor() as i64..=(centre.1 + reach).ceil() as i64 {
            for x in (centre.0 - reach).floor() as i64..=(centre.0 + reach).ceil() as i64 {
                let away = (x as f64 + 0.5 - centre.0).hypot(y as f64 + 0.5 - centre.1);
                let cover = (radius + 0.5 - away).clamp(0.0, 1.0);
                if cover > 0.0 {
                    self.blend(x, y, colour, cover as f32);
                }
            }
        }
    }
}

/// How much of a pixel a stretch covers, its middle so far along and aside (pixels).
fn covered(along: f64, across: f64, length: f64, half: f64, tips: (Tip, Tip)) -> f64 {
    // what a pixel, a box one wide, has in common with the line
    let box_of = |aside: f64| (half.min(aside + 0.5) - (-half).max(aside - 0.5)).clamp(0.0, 1.0);
    let beyond = if along < 0.0 { (-along, tips.0) } else { (along - length, tips.1) };
    match beyond {
        (past, Tip::Joint) if past > 0.0 => box_of(past.hypot(across)),
        _ => {
            let cut = |inside: f64, tip: Tip| {
                if tip == Tip::Cut { (inside + 0.5).clamp(0.0, 1.0) } else { 1.0 }
            };
            box_of(across) * cut(along, tips.0) * cut(length - along, tips.1)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const INK: Colour = Colour(0, 0, 0);

    /// Ink on a canvas, in pixels.
    fn ink(canvas: &Canvas) -> f64 {
        canvas.bytes.chunks_exact(3).map(|pixel| 1.0 - f64::from(pixel[0]) / 255.0).sum()
    }

    /// The area of a polygon is what it leaves: by the shoelace formula.
    #[test]
    fn a_polygon_leaves_its_area() {
        let mut canvas = Canvas::new(100, 80);
        canvas.fill(&[(10.3, 7.1), (83.7, 20.9), (40.2, 71.4)], INK, 1.0);
        let area: f64 = 0.5 * ((83.7 - 10.3) * (71.4 - 7.1) - (40.2 - 10.3) * (20.9 - 7.1));
        assert!((ink(&canvas) / area - 1.0).abs() < 3e-3, "{} of {area}", ink(&canvas));
        let mut half = Canvas::new(100, 80);
        half.fill(&[(10.5, 10.0), (20.5, 10.0), (20.5, 20.25), (10.5, 20.25)], INK, 0.5);
        assert!((ink(&half) / 51.25 - 1.0).abs() < 0.01, "{}", ink(&half));
    }

    /// A line leaves its length by its width, whichever way it runs; a corner is drawn once.
    #[test]
    fn a_line_leaves_its_length_by_its_width() {
        for (points, width, area) in [
            (vec![(10.0, 40.0), (90.0, 40.0)], 4.0, 320.0),
            (vec![(10.0, 10.0), (70.0, 70.0)], 3.0, 3.0 * 60.0 * 2.0_f64.sqrt()),
            (vec![(20.0, 10.0), (33.0, 70.0)], 1.2, 1.2 * 13.0_f64.hypot(60.0)),
            (vec![(10.0, 40.0), (50.0, 40.0), (90.0, 40.0)], 4.0, 320.0),
            (vec![(10.0, 40.25), (90.0, 40.25)], 0.6, 48.0),
        ] {
            let mut canvas = Canvas::new(100, 80);
            canvas.stroke(&points, width, INK);
            assert!((ink(&canvas) / area - 1.0).abs() < 0.04, "{points:?}: {} of {area}", ink(&canvas));
        }
    }

    #[test]
    fn a_disc_leaves_its_area_and_nothing_leaves_the_canvas() {
        let mut canvas = Canvas::new(40, 40);
        canvas.dot((20.3, 19.6), 9.0, INK);
        assert!((ink(&canvas) / (81.0 * std::f64::consts::PI) - 1.0).abs() < 0.01);
        let mut small = Canvas::new(10, 10);
        small.dot((-3.0, 30.0), 5.0, INK);
        small.stroke(&[(-50.0, -20.0), (60.0, 90.0)], 3.0, INK);
        small.fill(&[(-50.0, -50.0), (60.0, -50.0), (60.0, 5.0), (-50.0, 5.0)], INK, 1.0);
        assert!((50.0..=100.0).contains(&ink(&small)));
    }
}
