//! Hatching: straight lines across the inside of a polygon.

use super::colour::Colour;
use super::drawing::Scene;
use super::geometry::Point;

const WIDTH: f64 = 0.7;
/// More corners than this between two lines: the outline is not followed from one to the other.
const MOST_CORNERS: usize = 64;

/// How the inside of a band is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hatch {
    Plain,
    /// Straight lines at this angle from level, counted anticlockwise, this far apart.
    Lines {
        degrees: f64,
        apart: f64,
    },
    /// Two sets of lines, crossing.
    Crossed {
        apart: f64,
    },
}

/// Draws a hatch across a band whose edge will be drawn over it.
pub fn draw(scene: &mut Scene, outline: &[Point], hatch: Hatch, colour: Colour) {
    let sets = match hatch {
        Hatch::Plain => vec![],
        Hatch::Lines { degrees, apart } => vec![(degrees, apart)],
        Hatch::Crossed { apart } => vec![(45.0, apart), (135.0, apart)],
    };
    for (degrees, apart) in sets {
        for line in lines(outline, degrees, apart, true) {
            scene.stroke(line, colour, WIDTH, &[]);
        }
    }
}

/// Lines at an angle from level across a polygon, on a grid fixed to the picture.
///
/// The polygon is turned until the lines lie level; each line then runs from its first crossing with the outline to its second, from
/// its third to its fourth, and so on (even-odd rule). `joined`: neighbouring lines are joined to one by way of the outline where it
/// is near; the join lies under the edge drawn later, and one long line is far shorter to write down than a hundred short ones.
pub fn lines(outline: &[Point], degrees: f64, apart: f64, joined: bool) -> Vec<Vec<Point>> {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    // Down is positive on the picture, so anticlockwise by eye is a turn by minus the angle.
    let turn = |p: &Point| (p.0 * cosine - p.1 * sine, p.0 * sine + p.1 * cosine);
    let back = |p: Point| (p.0 * cosine + p.1 * sine, p.1 * cosine - p.0 * sine);
    let turned: Vec<Point> = outline.iter().map(turn).collect();
    let low = turned.iter().fold(f64::INFINITY, |m, p| m.min(p.1));
    let high = turned.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.1));
    // The half step keeps level lines off round values, where grid lines lie.
    let (first, last) = ((low / apart - 0.5).ceil(), (high / apart - 0.5).floor());
    if last < first || last - first > 5000.0 {
        return Vec::new();
    }
    let level = |row: usize| (first + row as f64 + 0.5) * apart;
    let count = (last - first) as usize + 1;
    // Where each line meets the outline, and between which corner and the next.
    let mut crossings: Vec<Vec<(f64, usize)>> = vec![Vec::new(); count];
    for (i, a) in turned.iter().enumerate() {
        let b = &turned[(i + 1) % turned.len()];
        let (top, bottom) = if a.1 < b.1 { (a, b) } else { (b, a) };
        let from = (top.1 / apart - 0.5 - first).floor().max(0.0) as usize;
        for (row, list) in crossings.iter_mut().enumerate().skip(from) {
            let y = level(row);
            // Half open, so that a corner on the line counts once.
            if y < top.1 {
                continue;
            }
            if y >= bottom.1 {
                break;
            }
            list.push((top.0 + (y - top.1) / (bottom.1 - top.1) * (bottom.0 - top.0), i));
        }
    }
    let mut out: Vec<Vec<Point>> = Vec::new();
    let mut open: Vec<Point> = Vec::new();
    let mut open_side = 0;
    // Which end of the line before is open: its far one, then the next one's near one, in turn.
    let mut at_far = false;
    for (row, list) in crossings.iter_mut().enumerate() {
        list.sort_by(|a, b| a.0.total_cmp(&b.0));
        let y = level(row);
        if let ([a, b], true) = (&list[..], joined) {
            let (from, to) = if at_far { (*b, *a) } else { (*a, *b) };
            let along = |end: &Point| follows(&turned, (*end, open_side), ((from.0, y), from.1));
            if !open.last().is_some_and(along) {
                out.push(std::mem::take(&mut open));
            }
            open.extend([(from.0, y), (to.0, y)]);
            open_side = to.1;
            at_far = !at_far;
        } else {
            out.push(std::mem::take(&mut open));
            out.extend(list.chunks_exact(2).map(|pair| vec![(pair[0].0, y), (pair[1].0, y)]));
        }
    }
    out.push(open);
    out.retain(|line| line.len() > 1);
    for line in &mut out {
        for point in line {
            *point = back(*point);
        }
    }
    out
}

/// Whether the straight way between two points of an outline keeps to it: no corner in between lies farther off than the edge
/// drawn over it is wide. Each point comes with the corner its side starts from.
fn follows(outline: &[Point], a: (Point, usize), b: (Point, usize)) -> bool {
    let (first, last) = (a.1.min(b.1), a.1.max(b.1));
    let (dx, dy) = (b.0.0 - a.0.0, b.0.1 - a.0.1);
    let length = dx.hypot(dy);
    last - first <= MOST_CORNERS
        && length > 0.0
        && outline[first + 1..=last].iter().all(|p| {
            let (x, y) = (p.0 - a.0.0, p.1 - a.0.1);
            let along = (x * dx + y * dy) / length;
            (x * dy - y * dx).abs() / length <= WIDTH && (-WIDTH..=length + WIDTH).contains(&along)
        })
}
