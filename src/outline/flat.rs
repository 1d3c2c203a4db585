//! Flat blanks of what is rolled or folded from sheet: cones, and transitions from one rectangle to another.

use super::{Corner, Outline};
use std::f64::consts::PI;

/// A flat blank with the lines along which it is folded (mm).
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// What is cut.
    pub outline: Outline,
    /// Folds, from point to point.
    pub folds: Vec<((f64, f64), (f64, f64))>,
}

/// A cone from diameter to diameter (mm), `length` along its axis.
///
/// ```text
///   s = √(L² + (r₂ − r₁)²),   R₁ = s r₁/(r₂ − r₁),   R₂ = R₁ + s,   φ = 2π (r₂ − r₁)/s
/// ```
///
/// s its slant, R₁ and R₂ the radii of the ring that it unrolls to, φ the ring's angle (rad): the frustum of a cone, in
/// any book on sheet metal. A pipe unrolls to a rectangle.
pub fn cone(first: f64, second: f64, length: f64) -> Blank {
    let (small, large) = (0.5 * first.min(second), 0.5 * first.max(second));
    if large - small < 1e-6 * large {
        let wide = 2.0 * PI * large;
        let corners = [(0.0, 0.0), (wide, 0.0), (wide, length), (0.0, length)];
        return Blank { outline: polygon(&corners), folds: Vec::new() };
    }
    let slant = length.hypot(large - small);
    let inner = slant * small / (large - small);
    let outer = inner + slant;
    let angle = 2.0 * PI * (large - small) / slant;
    // about the upward axis, each arc in two halves, so that none turns by more than half a circle
    let at = |radius: f64, share: f64, bulge: f64| {
        let turned = 0.5 * PI + angle * share;
        Corner { x: radius * turned.cos(), y: radius * turned.sin(), bulge }
    };
    let bulge = (0.125 * angle).tan();
    let corners = vec![
        at(outer, -0.5, bulge),
        at(outer, 0.0, bulge),
        at(outer, 0.5, 0.0),
        at(inner, 0.5, -bulge),
        at(inner, 0.0, -bulge),
        at(inner, -0.5, 0.0),
    ];
    Blank { outline: Outline::new(corners), folds: Vec::new() }
}

/// A transition from one rectangle (width, height; mm) to another about the same axis, `length` along it: four
/// trapeziums side by side, folded along their slanted edges.
pub fn rectangles(first: (f64, f64), second: (f64, f64), length: f64) -> Blank {
    // a face hangs between the widths at its ends; its own height leans by what the other pair of sides widens
    let face = |a: (f64, f64), lean: f64| (a.0, a.1, length.hypot(0.5 * lean));
    let wide = face((first.0, second.0), second.1 - first.1);
    let tall = face((first.1, second.1), second.0 - first.0);
    let mut inner = vec![(0.0, 0.0)];
    let mut outer = Vec::new();
    let mut along = (1.0, 0.0);
    for (index, (near, far, height)) in [wide, tall, wide, tall].into_iter().enumerate() {
        let ((px, py), (mut ux, mut uy)) = (inner[index], along);
        // the face leans against the one before: both share the slanted edge
        if let Some((qx, qy)) = outer.last().copied() {
            let (ex, ey): (f64, f64) = (qx - px, qy - py);
            let edge = ex.hypot(ey);
            // of this face the edge stands back by half of what it widens by
            let back = -0.5 * (far - near) / edge;
            let up = height / edge;
            let (vx, vy) = (ex / edge, ey / edge);
            // (ux, uy) such that back·u + up·n = v, n to the left of u
            (ux, uy) = (back * vx + up * vy, back * vy - up * vx);
        }
        let (nx, ny) = (-uy, ux);
        let point = |along: f64, up: f64| (px + along * ux + up * nx, py + along * uy + up * ny);
        if outer.is_empty() {
            outer.push(point(-0.5 * (far - near), height));
        }
        outer.push(point(near + 0.5 * (far - near), height));
        inner.push(point(near, 0.0));
        along = (ux, uy);
    }
    let folds = inner.iter().copied().zip(outer.iter().copied()).skip(1).take(3).collect();
    let mut corners = inner;
    corners.extend(outer.into_iter().rev());
    Blank { outline: polygon(&corners), folds }
}

fn polygon(points: &[(f64, f64)]) -> Outline {
    Outline::new(points.iter().map(|(x, y)| Corner { x: *x, y: *y, bulge: 0.0 }).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Side;

    fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
        (a.0 - b.0).hypot(a.1 - b.1)
    }

    #[test]
    fn a_cone_keeps_its_surface_and_its_ends() {
        for (first, second, length) in [(60.0, 180.0, 240.0), (180.0, 60.0, 240.0), (20.0, 400.0, 60.0)] {
            let blank = cone(first, second, length).outline;
            // π (r₁ + r₂) s, as in any book
            let (r1, r2) = (0.5 * first, 0.5 * second);
            let surface = PI * (r1 + r2) * length.hypot(r2 - r1);
            assert!((blank.area() / surface - 1.0).abs() < 1e-12, "{first} {second}");
            let arcs: Vec<f64> = blank
                .sides()
                .filter_map(|side| match side {
                    Side::Arc { radius, sweep, .. } => Some(radius * sweep.abs()),
                    Side::Line { .. } => None,
                })
                .collect();
            let mut round = [arcs[0] + arcs[1], arcs[2] + arcs[3]];
            round.sort_by(f64::total_cmp);
            assert!((round[0] - PI * first.min(second)).abs() < 1e-9);
            assert!((round[1] - PI * first.max(second)).abs() < 1e-9);
        }
    }

    #[test]
    fn a_pipe_is_a_rectangle() {
        let blank = cone(100.0, 100.0, 250.0).outline;
        assert!((blank.area() - PI * 100.0 * 250.0).abs() < 1e-6);
    }

    #[test]
    fn a_transition_folds_to_its_rectangles() {
        for (first, second) in
            [((80.0, 50.0), (200.0, 140.0)), ((120.0, 60.0), (120.0, 160.0)), ((90.0, 90.0), (60.0, 140.0))]
        {
            let length = 180.0;
            let blank = rectangles(first, second, length);
            let corners: Vec<(f64, f64)> =
                blank.outline.corners().iter().map(|corner| (corner.x, corner.y)).collect();
            // four trapeziums: half the sum of both sides by the face's height
            let face = |a: f64, b: f64, lean: f64| 0.5 * (a + b) * length.hypot(0.5 * lean);
            let surface = 2.0 * face(first.0, second.0, second.1 - first.1)
                + 2.0 * face(first.1, second.1, second.0 - first.0);
            assert!((blank.outline.area() / surface - 1.0).abs() < 1e-12, "{first:?} {second:?}");
            // its sides are those of the rectangles, its folds the edges in space
            let sides: Vec<f64> = (0..4).map(|index| distance(corners[index], corners[index + 1])).collect();
            for (side, wanted) in sides.iter().zip([first.0, first.1, first.0, first.1]) {
                assert!((side - wanted).abs() < 1e-9);
            }
            let far: Vec<f64> = (5..9).map(|index| distance(corners[index], corners[index + 1])).collect();
            for (side, wanted) in far.iter().zip([second.1, second.0, second.1, second.0]) {
                assert!((side - wanted).abs() < 1e-9);
            }
            let edge = length.hypot(0.5 * (second.0 - first.0)).hypot(0.5 * (second.1 - first.1));
            assert_eq!(blank.folds.len(), 3);
            for (from, to) in &blank.folds {
                assert!((distance(*from, *to) - edge).abs() < 1e-9);
            }
            assert!((distance(corners[4], corners[5]) - edge).abs() < 1e-9, "the seam closes");
            assert!((distance(corners[9], corners[0]) - edge).abs() < 1e-9, "the seam closes");
        }
    }
}
