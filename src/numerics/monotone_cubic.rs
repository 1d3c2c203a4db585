//! A smooth curve through measured points that never overshoots them.

/// One stretch between two neighbouring points, as a cubic in `t = x - x0`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Interval {
    x0: f64,
    value: f64,
    slope: f64,
    square: f64,
    cube: f64,
}

impl Interval {
    fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let t = x - self.x0;
        (
            self.value + t * (self.slope + t * (self.square + t * self.cube)),
            self.slope + t * (2.0 * self.square + t * 3.0 * self.cube),
        )
    }
}

/// Monotone piecewise cubic through points.
///
/// With hᵢ the width of an interval and δᵢ its gradient, the slope at an inner point is
///
/// ```text
///   0                                     where δᵢ₋₁ δᵢ ≤ 0
///   (w₁ + w₂)/(w₁/δᵢ₋₁ + w₂/δᵢ)           else,  w₁ = 2hᵢ + hᵢ₋₁,  w₂ = hᵢ + 2hᵢ₋₁
/// ```
///
/// and at the first point (the last one likewise)
///
/// ```text
///   s = [(2h₀ + h₁) δ₀ − h₀ δ₁]/(h₀ + h₁)
///   0     where s and δ₀ differ in sign
///   3 δ₀  where δ₀ and δ₁ differ in sign and |s| > |3 δ₀|
/// ```
///
/// The curve rises where the points rise and falls where they fall, so a fan or power curve gets
/// no hump that nobody measured. Two points give a straight line. Outside its points the curve
/// stays constant with slope 0; whoever needs another continuation takes it from
/// [`first`](Self::first) and [`last`](Self::last).
///
/// Source: Fritsch & Butland, A method for constructing local monotone piecewise cubic
/// interpolants, SIAM J. Sci. Stat. Comput. 5 (1984); the ends by the three-point rule, limited
/// to keep the curve monotone.
#[derive(Clone, Debug, PartialEq)]
pub struct MonotoneCubic {
    intervals: Vec<Interval>,
    last: (f64, f64, f64),
}

impl MonotoneCubic {
    /// The curve through `(x, y)` points; `None` unless there are two or more of them, all
    /// finite, with x strictly rising.
    pub fn new(points: &[(f64, f64)]) -> Option<Self> {
        let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        let rising = points.windows(2).all(|pair| pair[1].0 > pair[0].0);
        let &last = points.last()?;
        if points.len() < 2 || !finite || !rising {
            return None;
        }
        let width = |i: usize| points[i + 1].0 - points[i].0;
        let gradient = |i: usize| (points[i + 1].1 - points[i].1) / width(i);
        let count = points.len();
        let slope_at = |i: usize| match i {
            _ if count == 2 => gradient(0),
            0 => end_slope(width(0), width(1), gradient(0), gradient(1)),
            i if i == count - 1 => end_slope(width(i - 1), width(i - 2), gradient(i - 1), gradient(i - 2)),
            i => inner_slope(width(i - 1), width(i), gradient(i - 1), gradient(i)),
        };
        let intervals = (0..count - 1)
            .map(|i| {
                let (h, delta) = (width(i), gradient(i));
                let (left, right) = (slope_at(i), slope_at(i + 1));
                Interval {
                    x0: points[i].0,
                    value: points[i].1,
                    slope: left,
                    square: (3.0 * delta - 2.0 * left - right) / h,
                    cube: (left + right - 2.0 * delta) / (h * h),
                }
            })
            .collect();
        Some(Self { intervals, last: (last.0, last.1, slope_at(count - 1)) })
    }

    /// Value and slope at `x`; outside the points the nearest end's value, with slope 0.
    #[inline]
    pub fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let first = &self.intervals[0];
        if x < first.x0 {
            return (first.value, 0.0);
        }
        if x >= self.last.0 {
            let inside = x == self.last.0;
            return (self.last.1, if inside { self.last.2 } else { 0.0 });
        }
        // Curves of cases have a handful of points: a straight walk beats a binary search.
        let mut here = first;
        for next in &self.intervals[1..] {
            if x < next.x0 {
                break;
            }
            here = next;
        }
        here.value_and_slope(x)
    }

    /// The first point and the slope there: `(x, y, slope)`.
    pub fn first(&self) -> (f64, f64, f64) {
        let first = &self.intervals[0];
        (first.x0, first.value, first.slope)
    }

    /// The last point and the slope there: `(x, y, slope)`.
    pub fn last(&self) -> (f64, f64, f64) {
        self.last
    }
}

fn inner_slope(h_before: f64, h_after: f64, before: f64, after: f64) -> f64 {
    if before * after <= 0.0 {
        return 0.0;
    }
    let w1 = 2.0 * h_after + h_before;
    let w2 = h_after + 2.0 * h_before;
    (w1 + w2) / (w1 / before + w2 / after)
}

fn end_slope(h_end: f64, h_next: f64, end: f64, next: f64) -> f64 {
    let slope = ((2.0 * h_end + h_next) * end - h_end * next) / (h_end + h_next);
    if slope * end <= 0.0 {
        0.0
    } else if end * next < 0.0 && slope.abs() > 3.0 * end.abs() {
        3.0 * end
    } else {
        slope
    }
}

#[cfg(test)]
mod tests {
    use super::MonotoneCubic;

    const POINTS: [(f64, f64); 6] = [(0.0, 1.0), (1.0, 1.5), (1.5, 1.5), (4.0, 0.2), (4.5, 0.0), (7.0, -3.0)];

    #[test]
    fn refuses_what_is_not_a_curve() {
        assert!(MonotoneCubic::new(&[]).is_none());
        assert!(MonotoneCubic::new(&[(1.0, 2.0)]).is_none());
        assert!(MonotoneCubic::new(&[(1.0, 2.0), (1.0, 3.0)]).is_none());
        assert!(MonotoneCubic::new(&[(2.0, 2.0), (1.0, 3.0)]).is_none());
        assert!(MonotoneCubic::new(&[(0.0, f64::NAN), (1.0, 3.0)]).is_none());
        assert!(MonotoneCubic::new(&[(0.0, 0.0), (f64::INFINITY, 3.0)]).is_none());
    }

    #[test]
    fn passes_through_its_points_exactly() {
        let curve = MonotoneCubic::new(&POINTS).unwrap();
        for (x, y) in POINTS {
            assert_eq!(curve.value_and_slope(x).0, y);
        }
    }

    #[test]
    fn slope_is_the_finite_difference() {
        let curve = MonotoneCubic::new(&POINTS).unwrap();
        let step = 1e-6;
        for i in 0..140 {
            let x = 0.013 + 0.05 * f64::from(i);
            let (up, down) = (curve.value_and_slope(x + step).0, curve.value_and_slope(x - step).0);
            let difference = (up - down) / (2.0 * step);
            let slope = curve.value_and_slope(x).1;
            assert!((slope - difference).abs() < 1e-8, "{x}: {slope} {difference}");
        }
    }

    #[test]
    fn stays_between_neighbouring_points() {
        let curve = MonotoneCubic::new(&POINTS).unwrap();
        for pair in POINTS.windows(2) {
            let (low, high) = (pair[0].1.min(pair[1].1), pair[0].1.max(pair[1].1));
            for i in 0..=50 {
                let x = pair[0].0 + (pair[1].0 - pair[0].0) * f64::from(i) / 50.0;
                let y = curve.value_and_slope(x).0;
                assert!(y >= low - 1e-12 && y <= high + 1e-12, "{x}: {y}");
            }
        }
    }

    #[test]
    fn two_points_make_a_straight_line_that_stays_constant_outside() {
        let line = MonotoneCubic::new(&[(1.0, 10.0), (3.0, 4.0)]).unwrap();
        assert_eq!(line.value_and_slope(2.5), (5.5, -3.0));
        assert_eq!(line.first(), (1.0, 10.0, -3.0));
        assert_eq!(line.last(), (3.0, 4.0, -3.0));
        assert_eq!(line.value_and_slope(-4.0), (10.0, 0.0));
        assert_eq!(line.value_and_slope(9.0), (4.0, 0.0));
        assert_eq!(line.value_and_slope(3.0), (4.0, -3.0));
    }
}
