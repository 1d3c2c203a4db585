//! Lines of equal value over a grid, and the regions between them, by marching squares.
//!
//! Values between the nodes go straight along the edges of the cells. In a cell whose corners are high and low
//! by turns, the mean of the four decides which of them hang together.
//!
//! Source: the method is common practice since Lorensen & Cline, Marching cubes, Computer Graphics 21 (1987),
//! of which this is the plane case (from memory).

/// A place on the plane.
pub type PlanePoint = (f64, f64);

/// Values at the nodes of a grid of rising coordinates; a value that is not finite is a hole.
#[derive(Clone, Debug)]
pub struct ValueGrid {
    xs: Vec<f64>,
    ys: Vec<f64>,
    /// Row by row, each along x.
    values: Vec<f64>,
}

/// A line of equal value; larger values lie on its left as it runs.
#[derive(Clone, Debug, PartialEq)]
pub struct ContourLine {
    pub points: Vec<PlanePoint>,
    /// Whether it ends where it begins.
    pub closed: bool,
}

impl ValueGrid {
    /// A grid; none where the numbers do not fit together or there is no cell.
    pub fn new(xs: Vec<f64>, ys: Vec<f64>, values: Vec<f64>) -> Option<ValueGrid> {
        let rising = |list: &[f64]| list.len() > 1 && list.windows(2).all(|pair| pair[0] < pair[1]);
        let sound = rising(&xs) && rising(&ys) && values.len() == xs.len() * ys.len();
        sound.then_some(ValueGrid { xs, ys, values })
    }

    /// The lines along which the value is `level`.
    pub fn lines(&self, level: f64) -> Vec<ContourLine> {
        trace(&self.xs, &self.ys, &self.values, level)
    }

    /// Rings around the nodes that hold a number, halfway to those that do not, as [`ValueGrid::rings`].
    pub fn known(&self) -> Vec<(Vec<PlanePoint>, bool)> {
        let values = self.values.iter().map(|value| if value.is_nan() { 0.0 } else { 1.0 }).collect();
        ValueGrid { xs: self.xs.clone(), ys: self.ys.clone(), values }.rings(0.5)
    }

    /// Rings around all that is at least `level` and, the other way round, around what lies lower within it;
    /// along the border of the grid they follow the border. With each, whether the inside is high.
    pub fn rings(&self, level: f64) -> Vec<(Vec<PlanePoint>, bool)> {
        // a frame of no width around the grid, lower than everything, closes every line
        let framed = |list: &[f64]| -> Vec<f64> {
            let (first, last) = (list[0], list[list.len() - 1]);
            std::iter::once(first).chain(list.iter().copied()).chain(std::iter::once(last)).collect()
        };
        let (xs, ys) = (framed(&self.xs), framed(&self.ys));
        let mut values = vec![f64::NEG_INFINITY; xs.len() * ys.len()];
        for (row, line) in self.values.chunks(self.xs.len()).enumerate() {
            let first = (row + 1) * xs.len() + 1;
            for (place, value) in values[first..].iter_mut().zip(line) {
                *place = if value.is_nan() { f64::NEG_INFINITY } else { *value };
            }
        }
        let rings = trace(&xs, &ys, &values, level).into_iter().filter(|line| line.closed);
        rings
            .map(|line| (area(&line.points) > 0.0, line.points))
            .map(|(high, points)| (points, high))
            .collect()
    }
}

/// Area inside a ring, positive where it runs anticlockwise (x to the right, y up).
pub fn area(ring: &[PlanePoint]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    0.5 * ring.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>()
}

const NONE: usize = usize::MAX;

/// Follows all lines of a level from edge to edge. Edge 2n runs from node n to the right, 2n + 1 up.
fn trace(xs: &[f64], ys: &[f64], values: &[f64], level: f64) -> Vec<ContourLine> {
    let (nx, ny) = (xs.len(), ys.len());
    let mut next = vec![NONE; 2 * nx * ny];
    let mut entered = vec![false; 2 * nx * ny];
    for j in 0..ny - 1 {
        for i in 0..nx - 1 {
            let node = j * nx + i;
            let corners = [node, node + 1, node + nx + 1, node + nx].map(|n| values[n]);
            if corners.iter().any(|v| v.is_nan()) {
                continue;
            }
            let edges = [2 * node, 2 * (node + 1) + 1, 2 * (node + nx), 2 * node + 1];
            for (from, to) in segments(corners, level) {
                next[edges[from]] = edges[to];
                entered[edges[to]] = true;
            }
        }
    }
    let place = |edge: usize| -> PlanePoint {
        let (a, upward) = (edge / 2, edge % 2 == 1);
        let b = if upward { a + nx } else { a + 1 };
        let at = |n: usize| (xs[n % nx], ys[n / nx]);
        let (from, to) = (at(a), at(b));
        let share = match (values[a].is_finite(), values[b].is_finite()) {
            (true, true) => ((level - values[a]) / (values[b] - values[a])).clamp(0.0, 1.0),
            (finite, _) => f64::from(!finite),
        };
        (from.0 + share * (to.0 - from.0), from.1 + share * (to.1 - from.1))
    };
    let mut lines = Vec::new();
    let starts = (0..next.len()).filter(|e| !entered[*e]).chain(0..next.len()).collect::<Vec<_>>();
    for start in starts {
        if next[start] == NONE {
            continue;
        }
        let mut points = vec![place(start)];
        let mut edge = start;
        let mut closed = false;
        while next[edge] != NONE {
            let to = std::mem::replace(&mut next[edge], NONE);
            edge = to;
            if edge == start {
                closed = true;
                break;
            }
            points.push(place(edge));
        }
        points.dedup();
        if points.len() > 1 {
            lines.push(ContourLine { points, closed });
        }
    }
    lines
}

/// The pieces of line in a cell, from edge to edge, larger values on the left. Corners anticlockwise from
/// the lower left, edge k from corner k to the next.
fn segments(corners: [f64; 4], level: f64) -> impl Iterator<Item = (usize, usize)> {
    let high = corners.map(|v| v >= level);
    let joined = corners.iter().sum::<f64>() / 4.0 >= level;
    let leaves = move |k: usize| high[k] && !high[(k + 1) % 4];
    let enters = move |k: usize| !high[k] && high[(k + 1) % 4];
    (0..4).filter(move |k| leaves(*k)).filter_map(move |k| {
        // what is high ends at edge k: the line cuts it off there, or cuts off the low corner behind it
        let turn = |step: usize| if joined { (k + step) % 4 } else { (k + 4 - step) % 4 };
        (1..4).map(turn).find(|other| enters(*other)).map(|other| (k, other))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::PI;

    fn grid(n: usize, value: impl Fn(f64, f64) -> f64) -> ValueGrid {
        let at: Vec<f64> = (0..=n).map(|i| -1.0 + 2.0 * i as f64 / n as f64).collect();
        let values = at.iter().flat_map(|y| at.iter().map(|x| value(*x, *y)).collect::<Vec<_>>()).collect();
        ValueGrid::new(at.clone(), at, values).expect("a grid")
    }

    #[test]
    fn a_circle_has_its_area_and_runs_round_what_is_high() {
        // 1 − x² − y² ≥ 0.51: a disc of radius 0.7
        let lines = grid(80, |x, y| 1.0 - x * x - y * y).lines(0.51);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].closed);
        assert_relative_eq!(area(&lines[0].points), PI * 0.49, max_relative = 2e-3);
        for (x, y) in &lines[0].points {
            assert!((x.hypot(*y) - 0.7).abs() < 2e-3);
        }
        // turned upside down, the line runs the other way
        let low = grid(80, |x, y| x * x + y * y).lines(0.49);
        assert_relative_eq!(area(&low[0].points), -PI * 0.49, max_relative = 2e-3);
    }

    #[test]
    fn a_slope_is_cut_from_border_to_border() {
        let slope = grid(10, |x, y| x + 2.0 * y);
        let lines = slope.lines(0.3);
        assert_eq!((lines.len(), lines[0].closed), (1, false));
        for (x, y) in &lines[0].points {
            assert_relative_eq!(x + 2.0 * y, 0.3, epsilon = 1e-12);
        }
        // x + 2y ≥ 0.3 over the square: a trapezium of mean width 2 in x and 1 − 0.15 in y
        let rings = slope.rings(0.3);
        assert_eq!(rings.len(), 1);
        assert!(rings[0].1);
        assert_relative_eq!(area(&rings[0].0), 2.0 * 0.85, epsilon = 1e-12);
    }

    #[test]
    fn regions_with_a_hole_and_the_whole_square() {
        // a ring of high ground: r between √0.2 and √0.6
        let ridge = grid(160, |x, y| 0.2 - (x * x + y * y - 0.4).abs());
        let mut rings = ridge.rings(0.0);
        rings.sort_by(|a, b| area(&b.0).abs().total_cmp(&area(&a.0).abs()));
        assert_eq!(rings.iter().map(|r| r.1).collect::<Vec<_>>(), [true, false]);
        assert_relative_eq!(area(&rings[0].0) + area(&rings[1].0), PI * 0.4, max_relative = 5e-3);
        let whole = ridge.rings(-10.0);
        assert_eq!(whole.len(), 1);
        assert_relative_eq!(area(&whole[0].0), 4.0, epsilon = 1e-12);
        assert!(ridge.rings(10.0).is_empty() && ridge.lines(10.0).is_empty());
    }

    #[test]
    fn a_saddle_is_decided_by_its_mean() {
        // high at two opposite corners; the mean of all four says whether they hang together
        let saddle = |low: f64| {
            ValueGrid::new(vec![0.0, 1.0], vec![0.0, 1.0], vec![1.0, low, low, 1.0]).expect("a grid")
        };
        // above the level in the middle: each line cuts a low corner off, and the corner is on its right
        for (low, corner) in [(-0.5, (1.0, 0.0)), (-1.5, (0.0, 0.0))] {
            let lines = saddle(low).lines(0.0);
            assert_eq!(lines.len(), 2);
            let near = |line: &ContourLine| {
                line.points.iter().all(|p| (p.0 - corner.0).abs() + (p.1 - corner.1).abs() < 1.0)
            };
            assert!(lines.iter().any(near), "{lines:?}");
        }
    }

    #[test]
    fn holes_and_bad_grids_are_survived() {
        let holed = grid(20, |x, y| if x.abs() < 0.2 && y.abs() < 0.2 { f64::NAN } else { x });
        assert!(holed.lines(0.05).iter().all(|line| line.points.iter().all(|p| p.0.is_finite())));
        assert!(!holed.rings(0.05).is_empty());
        assert!(ValueGrid::new(vec![0.0, 1.0], vec![0.0, 1.0], vec![0.0; 3]).is_none());
        assert!(ValueGrid::new(vec![0.0, 0.0], vec![0.0, 1.0], vec![0.0; 4]).is_none());
        assert!(ValueGrid::new(vec![0.0], vec![0.0, 1.0], vec![0.0; 2]).is_none());
    }
}
