//! The shapes that openings are cut in, and how large they must be.

use super::{Corner, Outline};
use std::f64::consts::PI;

/// A shape, its middle at the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OutlineForm {
    /// Four sides, its corners rounded by a radius (mm).
    Rectangle {
        /// Radius of its corners (mm).
        corner: f64,
    },
    /// Two straight sides and two half circles.
    Slot,
    /// An oval of four arcs that meet without a kink, of the area of the ellipse as wide and as high; a circle where
    /// both are alike.
    Oval,
    /// Its upper side shorter than the lower one, corners rounded by a radius (mm).
    Trapezium {
        /// Radius of its corners (mm).
        corner: f64,
        /// Upper side over lower side.
        narrow: f64,
    },
}

/// What of a shape stays while it grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum KeptShape {
    /// Width over height.
    Aspect(f64),
    /// The width (mm).
    Width(f64),
    /// The height (mm).
    Height(f64),
}

/// Shortest side that is drawn (mm).
const SHORTEST: f64 = 1e-9;
/// Halvings by which a size is found.
const HALVINGS: usize = 80;
/// Largest side that is looked for (mm).
const LARGEST: f64 = 20_000.0;

/// A shape so wide and so high (mm). A radius that finds no room is as large as it can be.
pub fn drawn(form: OutlineForm, width: f64, height: f64) -> Outline {
    let box_of = |upper: f64| {
        let (w, h, u) = (0.5 * width, 0.5 * height, 0.5 * upper);
        [(-w, -h), (w, -h), (u, h), (-u, h)]
    };
    match form {
        OutlineForm::Rectangle { corner } => rounded(&box_of(width), corner),
        OutlineForm::Slot => rounded(&box_of(width), 0.5 * width.min(height)),
        OutlineForm::Trapezium { corner, narrow } => rounded(&box_of(narrow * width), corner),
        OutlineForm::Oval => oval(0.5 * width, 0.5 * height),
    }
}

/// A convex polygon with its corners rounded.
fn rounded(points: &[(f64, f64)], radius: f64) -> Outline {
    let count = points.len();
    let direction = |from: usize| {
        let (a, b) = (points[from], points[(from + 1) % count]);
        (b.1 - a.1).atan2(b.0 - a.0)
    };
    let length = |from: usize| {
        let (a, b) = (points[from], points[(from + 1) % count]);
        (b.0 - a.0).hypot(b.1 - a.1)
    };
    let turns: Vec<f64> = (0..count)
        .map(|at| (direction(at) - direction((at + count - 1) % count)).rem_euclid(2.0 * PI))
        .collect();
    // each rounding takes radius × tan(turn/2) of the two sides beside it
    let takes = |at: usize| (0.5 * turns[at]).tan();
    let room = (0..count).map(|at| length(at) / (takes(at) + takes((at + 1) % count)));
    let radius = room.fold(radius, f64::min).max(0.0);
    let mut corners: Vec<Corner> = Vec::new();
    for at in 0..count {
        let (x, y) = points[at];
        if radius < SHORTEST {
            corners.push(Corner::straight(x, y));
            continue;
        }
        let back = radius * takes(at);
        let (before, behind) = (direction((at + count - 1) % count), direction(at));
        let bulge = (0.25 * turns[at]).tan();
        let begin = Corner { x: x - back * before.cos(), y: y - back * before.sin(), bulge };
        // a side that two roundings use up is none
        let touches = |a: &Corner, b: &Corner| (a.x - b.x).hypot(a.y - b.y) < 1e-6;
        if corners.last().is_some_and(|last| touches(last, &begin)) {
            corners.pop();
        }
        corners.push(begin);
        corners.push(Corner::straight(x + back * behind.cos(), y + back * behind.sin()));
    }
    let ends = (corners.first().copied(), corners.last().copied());
    if let (Some(first), Some(last)) = ends
        && corners.len() > 2
        && (first.x - last.x).hypot(first.y - last.y) < 1e-6
    {
        corners.pop();
    }
    Outline::new(corners)
}

/// An oval of four arcs.
///
/// ```text
///   r₂ = (a² + b² − 2 a r₁) / (2 (b − r₁))
/// ```
///
/// a, b half its width and height (mm), a ≥ b; r₁ the radius at its ends, r₂ that of its flanks: they meet without a kink where
/// the distance of their centres is r₂ − r₁. r₁ is taken so that the area is the ellipse's, π a b.
fn oval(half_width: f64, half_height: f64) -> Outline {
    if (half_width - half_height).abs() < 1e-9 * half_width {
        let quarter = (PI / 8.0).tan();
        let at = |x: f64, y: f64| Corner { x: half_width * x, y: half_width * y, bulge: quarter };
        return Outline::new(vec![at(1.0, 0.0), at(0.0, 1.0), at(-1.0, 0.0), at(0.0, -1.0)]);
    }
    if half_width < half_height {
        return oval(half_height, half_width).turned();
    }
    let (a, b) = (half_width, half_height);
    let (mut low, mut high) = (0.0, b * (1.0 - 1e-9));
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if of_arcs(a, b, middle).area() < PI * a * b {
            low = middle;
        } else {
            high = middle;
        }
    }
    of_arcs(a, b, 0.5 * (low + high))
}

fn of_arcs(a: f64, b: f64, end: f64) -> Outline {
    let flank = (a * a + b * b - 2.0 * a * end) / (2.0 * (b - end));
    let (x, y) = (a - end, flank - b);
    // half the angle of an end, seen from its centre
    let half = y.atan2(x);
    let (at_x, at_y) = (x + end * half.cos(), end * half.sin());
    let corner = |x: f64, y: f64, sweep: f64| Corner { x, y, bulge: (0.25 * sweep).tan() };
    let over = PI - 2.0 * half;
    Outline::new(vec![
        corner(at_x, -at_y, 2.0 * half),
        corner(at_x, at_y, over),
        corner(-at_x, at_y, 2.0 * half),
        corner(-at_x, -at_y, over),
    ])
}

/// Width and height at which a shape has an area (mm²) by some measure of it, never less, sides that are not kept in whole
/// millimetres. None where no size has it.
pub fn sides_for(
    form: OutlineForm,
    kept: KeptShape,
    area: f64,
    measure: impl Fn(&Outline) -> f64,
) -> Option<(f64, f64)> {
    let sides = |free: f64| match kept {
        KeptShape::Aspect(aspect) => (free * aspect.sqrt(), free / aspect.sqrt()),
        KeptShape::Width(width) => (width, free),
        KeptShape::Height(height) => (free, height),
    };
    let enough = |(width, height): (f64, f64)| measure(&drawn(form, width, height)) >= area * (1.0 - 1e-9);
    let (mut low, mut high) = (0.0, LARGEST);
    if !enough(sides(high)) {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if enough(sides(middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    let whole = |side: f64| (side - 1e-6).ceil().max(1.0);
    let (width, height) = sides(high);
    let mut found = match kept {
        KeptShape::Aspect(_) => (whole(width), whole(height)),
        KeptShape::Width(width) => (width, whole(height)),
        KeptShape::Height(height) => (whole(width), height),
    };
    // one of the two may do a millimetre smaller; a circle has one diameter
    let is_circle = |aspect: f64| matches!(form, OutlineForm::Oval) && aspect == 1.0;
    if let KeptShape::Aspect(aspect) = kept
        && !is_circle(aspect)
    {
        let narrower = (found.0 - 1.0, found.1);
        let lower = (found.0, found.1 - 1.0);
        let tries = if found.0 / found.1 > aspect { [narrower, lower] } else { [lower, narrower] };
        if let Some(smaller) =
            tries.into_iter().find(|sides| sides.0 >= 1.0 && sides.1 >= 1.0 && enough(*sides))
        {
            found = smaller;
        }
    }
    Some(found)
}

/// The outline of a ramp from half of its plan: distance ahead of the lip and half-width there (mm). The lip lies on
/// the right, its middle at the origin.
pub fn ramp(half: &[(f64, f64)]) -> Outline {
    let lower = half.iter().rev().map(|(ahead, across)| Corner::straight(-ahead, -across));
    let upper = half.iter().map(|(ahead, across)| Corner::straight(-ahead, *across));
    Outline::new(lower.chain(upper).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn an_oval_is_near_its_ellipse() {
        let (a, b) = (90.0_f64, 40.0_f64);
        let oval = drawn(OutlineForm::Oval, 2.0 * a, 2.0 * b);
        assert_relative_eq!(oval.area(), PI * a * b, max_relative = 1e-9);
        assert_relative_eq!(oval.bounds().width(), 2.0 * a, max_relative = 1e-9);
        assert_relative_eq!(oval.bounds().height(), 2.0 * b, max_relative = 1e-9);
        // no point is further from the ellipse than some 2 % of the half-width
        for (x, y) in oval.points(0.01) {
            let far = ((x / a).powi(2) + (y / b).powi(2)).sqrt() - 1.0;
            assert!(far.abs() < 0.03, "{far}");
        }
    }

    #[test]
    fn sizes_are_whole_and_never_less_than_asked() {
        let forms = [
            OutlineForm::Rectangle { corner: 10.0 },
            OutlineForm::Slot,
            OutlineForm::Oval,
            OutlineForm::Trapezium { corner: 10.0, narrow: 0.75 },
        ];
        for form in forms {
            for area in [900.0, 3373.1, 9272.4, 29_957.9] {
                for kept in [
                    KeptShape::Aspect(1.5),
                    KeptShape::Aspect(0.5),
                    KeptShape::Height(70.0),
                    KeptShape::Width(95.0),
                ] {
                    let Some((width, height)) = sides_for(form, kept, area, Outline::area) else {
                        panic!("{form:?} {kept:?} {area}");
                    };
                    let found = drawn(form, width, height).area();
                    assert!(found >= area * (1.0 - 1e-9), "{form:?} {kept:?}: {found} < {area}");
                    // a millimetre less on the free sides is too little
                    let less = match kept {
                        KeptShape::Aspect(_) => drawn(form, width - 1.0, height - 1.0).area(),
                        KeptShape::Width(_) => drawn(form, width, height - 1.0).area(),
                        KeptShape::Height(_) => drawn(form, width - 1.0, height).area(),
                    };
                    assert!(less < area, "{form:?} {kept:?}: {less} would do for {area}");
                    assert_eq!(width.fract() + height.fract(), 0.0);
                }
            }
        }
    }

    #[test]
    fn a_circle_has_one_diameter() {
        // π/4 × 195.4² mm² asks for 196 mm both ways, though 196 × 195 would do
        let area = 0.25 * PI * 195.4 * 195.4;
        let found = sides_for(OutlineForm::Oval, KeptShape::Aspect(1.0), area, Outline::area);
        assert_eq!(found, Some((196.0, 196.0)));
        assert!(drawn(OutlineForm::Oval, 196.0, 195.0).area() >= area);
    }

    #[test]
    fn a_slot_as_round_as_high_is_a_circle() {
        let circle = drawn(OutlineForm::Slot, 60.0, 60.0);
        assert_relative_eq!(circle.area(), PI * 900.0, max_relative = 1e-9);
        assert!(circle.corners().len() >= 2);
    }

    #[test]
    fn a_ramp_keeps_its_plan() {
        // a triangle cut off: 10 wide at the throat, 40 at the lip, 100 long
        let outline = ramp(&[(0.0, 20.0), (100.0, 5.0)]);
        assert_relative_eq!(outline.area(), 100.0 * 25.0, max_relative = 1e-12);
    }
}
