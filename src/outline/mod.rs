//! Outlines as they are cut: closed, of straight lines and true arcs, in millimetres.
//!
//! | file | what it does |
//! | --- | --- |
//! | `flat` | flat blanks of cones and of transitions between rectangles |
//! | `shapes` | rectangle, slot, oval, trapezium, the plan of a ramp; as large as an area asks for, in whole millimetres |
//! | `skin` | what a sloping or a round skin makes of an outline |

pub mod flat;
pub mod shapes;
pub mod skin;

use std::f64::consts::{PI, TAU};

/// A corner of an outline, and how the side that begins there is bent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Corner {
    /// To the right (mm).
    pub x: f64,
    /// Upwards (mm).
    pub y: f64,
    /// Tangent of a quarter of the angle that the side turns by: 0 a straight line, above 0 an arc that turns left.
    pub bulge: f64,
}

/// A closed outline, its corners in the order that keeps its inside on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    corners: Vec<Corner>,
}

/// A side of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Side {
    /// From a point to a point.
    Line {
        /// Where it begins.
        from: (f64, f64),
        /// Where it ends.
        to: (f64, f64),
    },
    /// About a centre.
    Arc {
        /// Where it begins.
        from: (f64, f64),
        /// Where it ends.
        to: (f64, f64),
        centre: (f64, f64),
        /// Its radius (mm).
        radius: f64,
        /// Where it begins, as an angle from the right (rad).
        start: f64,
        /// The angle that it turns by (rad); above 0 to the left.
        sweep: f64,
    },
}

/// Left, bottom, right and top (mm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extents {
    pub left: f64,
    pub bottom: f64,
    pub right: f64,
    pub top: f64,
}

impl Extents {
    /// Across (mm).
    pub fn width(&self) -> f64 {
        self.right - self.left
    }

    /// From bottom to top (mm).
    pub fn height(&self) -> f64 {
        self.top - self.bottom
    }
}

impl Corner {
    fn straight(x: f64, y: f64) -> Corner {
        Corner { x, y, bulge: 0.0 }
    }
}

impl Outline {
    /// An outline from its corners.
    pub fn new(corners: Vec<Corner>) -> Outline {
        Outline { corners }
    }

    pub fn corners(&self) -> &[Corner] {
        &self.corners
    }

    fn pairs(&self) -> impl Iterator<Item = (Corner, Corner)> + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().copied().zip(next.copied())
    }

    /// Its sides, one after another.
    pub fn sides(&self) -> impl Iterator<Item = Side> + '_ {
        self.pairs().map(|(from, to)| side(from, to))
    }

    /// Area inside (mm²), exact.
    ///
    /// ```text
    ///   A = Σ ½ (xᵢ yᵢ₊₁ − xᵢ₊₁ yᵢ) + Σ ½ r² (θ − sin θ)
    /// ```
    ///
    /// The polygon of the corners, and beyond each chord the segment of its arc; r its radius (mm), θ the angle that
    /// it turns by (rad), with its sign.
    pub fn area(&self) -> f64 {
        let polygon: f64 = self.pairs().map(|(a, b)| 0.5 * (a.x * b.y - b.x * a.y)).sum();
        let segments: f64 = self
            .sides()
            .map(|side| match side {
                Side::Line { .. } => 0.0,
                Side::Arc { radius, sweep, .. } => 0.5 * radius * radius * (sweep - sweep.sin()),
            })
            .sum();
        polygon + segments
    }

    /// What it takes up.
    pub fn bounds(&self) -> Extents {
        let none = f64::INFINITY;
        let mut bounds = Extents { left: none, bottom: none, right: -none, top: -none };
        let mut take = |(x, y): (f64, f64)| {
            bounds.left = bounds.left.min(x);
            bounds.right = bounds.right.max(x);
            bounds.bottom = bounds.bottom.min(y);
            bounds.top = bounds.top.max(y);
        };
        for side in self.sides() {
            match side {
                Side::Line { from, .. } => take(from),
                Side::Arc { from, centre, radius, start, sweep, .. } => {
                    take(from);
                    for quarter in 0..4 {
                        let angle = 0.5 * PI * f64::from(quarter);
                        let way = if sweep > 0.0 { angle - start } else { start - angle };
                        if way.rem_euclid(TAU) <= sweep.abs() {
                            take((centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin()));
                        }
                    }
                }
            }
        }
        bounds
    }

    /// The same outline so much further out all round (mm), arcs about their centres, sharp corners kept sharp.
    pub fn grown(&self, out: f64) -> Outline {
        let count = self.corners.len();
        let directions: Vec<(f64, f64)> = self.pairs().map(|(a, b)| directions(a, b)).collect();
        let corners = self.corners.iter().enumerate().map(|(index, corner)| {
            let incoming = directions[(index + count - 1) % count].1;
            let outgoing = directions[index].0;
            // the mitre lies halfway between the two normals
            let half = 0.5 * (outgoing - incoming + PI).rem_euclid(TAU) - 0.5 * PI;
            let normal = incoming + half - 0.5 * PI;
            let reach = out / half.cos().max(0.1);
            Corner { x: corner.x + reach * normal.cos(), y: corner.y + reach * normal.sin(), ..*corner }
        });
        Outline { corners: corners.collect() }
    }

    /// Seen in a mirror that stands upright.
    pub fn mirrored(&self) -> Outline {
        let mut corners: Vec<Corner> =
            self.pairs().map(|(a, b)| Corner { x: -b.x, y: b.y, bulge: a.bulge }).collect();
        corners.reverse();
        Outline { corners }
    }

    /// Moved (mm).
    pub fn moved(&self, x: f64, y: f64) -> Outline {
        self.each(|corner| Corner { x: corner.x + x, y: corner.y + y, ..corner })
    }

    /// Turned by a quarter, to the left.
    pub fn turned(&self) -> Outline {
        self.each(|corner| Corner { x: -corner.y, y: corner.x, ..corner })
    }

    fn each(&self, change: impl Fn(Corner) -> Corner) -> Outline {
        Outline { corners: self.corners.iter().copied().map(change).collect() }
    }

    /// Points along it, no arc's further apart than so many radians.
    pub fn points(&self, turn: f64) -> Vec<(f64, f64)> {
        let mut points = Vec::new();
        for side in self.sides() {
            match side {
                Side::Line { from, .. } => points.push(from),
                Side::Arc { centre, radius, start, sweep, .. } => {
                    let steps = (sweep.abs() / turn).ceil().max(1.0);
                    let mut step = 0.0;
                    while step < steps {
                        let angle = start + sweep * step / steps;
                        points.push((centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin()));
                        step += 1.0;
                    }
                }
            }
        }
        points
    }

    /// Whether another outline lies inside, or on it, to a hundredth of a millimetre.
    #[cfg_attr(
        not(feature = "rooms"),
        expect(dead_code, reason = "the drawn cuts are held against one another")
    )]
    pub fn holds(&self, other: &Outline) -> bool {
        let around = self.grown(0.01).points(0.005);
        other.points(0.05).into_iter().all(|point| inside(&around, point))
    }
}

/// Whether a point lies inside a polygon.
fn inside(polygon: &[(f64, f64)], (x, y): (f64, f64)) -> bool {
    let next = polygon.iter().cycle().skip(1);
    let crossings = polygon
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.1 > y) != (b.1 > y) && x < a.0 + (y - a.1) / (b.1 - a.1) * (b.0 - a.0));
    crossings.count() % 2 == 1
}

/// Directions of a side where it begins and where it ends (rad).
fn directions(from: Corner, to: Corner) -> (f64, f64) {
    let chord = (to.y - from.y).atan2(to.x - from.x);
    let half = 2.0 * from.bulge.atan();
    (chord - half, chord + half)
}

fn side(from: Corner, to: Corner) -> Side {
    let (a, b) = ((from.x, from.y), (to.x, to.y));
    if from.bulge == 0.0 {
        return Side::Line { from: a, to: b };
    }
    let sweep = 4.0 * from.bulge.atan();
    let chord = (b.0 - a.0).hypot(b.1 - a.1);
    let radius = chord / (2.0 * (0.5 * sweep).sin().abs());
    // the centre lies square to the tangent where the arc begins
    let tangent = directions(from, to).0;
    let towards = tangent + 0.5 * PI * sweep.signum();
    let centre = (a.0 + radius * towards.cos(), a.1 + radius * towards.sin());
    Side::Arc { from: a, to: b, centre, radius, start: (a.1 - centre.1).atan2(a.0 - centre.0), sweep }
}

#[cfg(test)]
mod tests {
    use super::shapes::{OutlineForm, drawn};
    use super::*;
    use approx::assert_relative_eq;

    /// Every shape, some of each.
    fn all() -> Vec<Outline> {
        let forms = [
            OutlineForm::Rectangle { corner: 10.0 },
            OutlineForm::Rectangle { corner: 0.0 },
            OutlineForm::Slot,
            OutlineForm::Oval,
            OutlineForm::Trapezium { corner: 12.0, narrow: 0.7 },
        ];
        let sizes = [(120.0, 60.0), (60.0, 120.0), (80.0, 80.0), (300.0, 41.0)];
        forms.iter().flat_map(|form| sizes.map(|(width, height)| drawn(*form, width, height))).collect()
    }

    #[test]
    fn areas_are_those_of_very_many_points() {
        for outline in all() {
            let points = outline.points(1e-4);
            let next = points.iter().cycle().skip(1);
            let polygon: f64 = points.iter().zip(next).map(|(a, b)| 0.5 * (a.0 * b.1 - b.0 * a.1)).sum();
            assert_relative_eq!(outline.area(), polygon, max_relative = 1e-7);
            let bounds = outline.bounds();
            let most = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
            assert_relative_eq!(bounds.right, most(|p| p.0), max_relative = 1e-6);
            assert_relative_eq!(bounds.top, most(|p| p.1), max_relative = 1e-6);
            assert_relative_eq!(-bounds.bottom, most(|p| -p.1), max_relative = 1e-6);
        }
    }

    #[test]
    fn a_circle_a_slot_and_a_rounded_square_have_the_areas_of_school() {
        assert_relative_eq!(
            drawn(OutlineForm::Oval, 58.0, 58.0).area(),
            PI * 29.0 * 29.0,
            max_relative = 1e-12
        );
        assert_relative_eq!(
            drawn(OutlineForm::Slot, 100.0, 40.0).area(),
            60.0 * 40.0 + PI * 400.0,
            max_relative = 1e-12
        );
        let square = drawn(OutlineForm::Rectangle { corner: 10.0 }, 50.0, 50.0);
        assert_relative_eq!(square.area(), 2500.0 - (4.0 - PI) * 100.0, max_relative = 1e-12);
    }

    /// Steiner: an outline so much further out has A + U d + π d².
    #[test]
    fn what_is_grown_follows_steiner() {
        let round = [
            OutlineForm::Rectangle { corner: 10.0 },
            OutlineForm::Slot,
            OutlineForm::Oval,
            OutlineForm::Trapezium { corner: 8.0, narrow: 0.6 },
        ];
        for form in round {
            let outline = drawn(form, 140.0, 70.0);
            let points = outline.points(1e-4);
            let next = points.iter().cycle().skip(1);
            let round: f64 = points.iter().zip(next).map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).sum();
            let grown = outline.grown(3.0);
            assert_relative_eq!(grown.area(), outline.area() + 3.0 * round + 9.0 * PI, max_relative = 1e-6);
            assert!(grown.holds(&outline) && !outline.holds(&grown));
        }
        let sharp = drawn(OutlineForm::Rectangle { corner: 0.0 }, 40.0, 20.0).grown(2.0);
        assert_relative_eq!(sharp.area(), 44.0 * 24.0, max_relative = 1e-12);
    }

    #[test]
    fn a_mirror_and_a_turn_keep_the_area() {
        for outline in all() {
            assert_relative_eq!(outline.mirrored().area(), outline.area(), max_relative = 1e-12);
            assert_relative_eq!(outline.turned().area(), outline.area(), max_relative = 1e-12);
            assert_relative_eq!(
                outline.mirrored().bounds().left,
                -outline.bounds().right,
                max_relative = 1e-9
            );
        }
    }
}
