//! What a sloping or a round skin makes of an outline.

use super::Outline;
use std::f64::consts::PI;

/// How the skin lies to the air that goes through the opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skin {
    /// Angle between the skin and the flow (rad): π/2 is square to it.
    pub angle: f64,
    /// Radius by which the skin is curved along the opening's width (mm); flat where none.
    pub radius: Option<f64>,
}

/// Turn between points by which a curved outline is summed up (rad).
const TURN: f64 = 1e-3;
/// Pieces of a straight side on a curved skin.
const PIECES: usize = 64;

impl Skin {
    /// Area that the flow sees of an outline that lies on the skin (mm²).
    ///
    /// ```text
    ///   A = sin φ · ∮ R sin(x/R) dy
    /// ```
    ///
    /// φ the angle between skin and flow, R the radius of the skin along x (mm); sin φ times the area on the sheet where it is
    /// flat.
    pub fn seen(&self, outline: &Outline) -> f64 {
        let Some(radius) = self.radius else { return self.angle.sin() * outline.area() };
        let points = fine(&outline.points(TURN));
        // what lies beyond a quarter turn is not seen
        let across = |x: f64| radius * (x / radius).clamp(-0.5 * PI, 0.5 * PI).sin();
        let next = points.iter().cycle().skip(1);
        let area: f64 =
            points.iter().zip(next).map(|(a, b)| 0.5 * (across(a.0) + across(b.0)) * (b.1 - a.1)).sum();
        self.angle.sin() * area
    }

    /// How many times as long an outline is along the slope as the flow sees it: 1/sin φ.
    pub fn stretch(&self) -> f64 {
        1.0 / self.angle.sin()
    }
}

/// Points no further apart than a piece of their side.
fn fine(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let next = points.iter().cycle().skip(1);
    let mut found = Vec::new();
    for (a, b) in points.iter().zip(next) {
        for piece in 0..PIECES {
            let share = piece as f64 / PIECES as f64;
            found.push((a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1)));
        }
    }
    found
}

/// By how much a flat pattern is too narrow on a skin that bulges (mm).
///
/// ```text
///   R = (w²/4 + s²)/(2 s)        2 R asin(w/(2 R)) − w
/// ```
///
/// s the gap (mm) under a straight edge of length w (mm) laid across the opening: arc less chord.
pub fn flat_error(width: f64, bulge: f64) -> f64 {
    if bulge <= 0.0 {
        return 0.0;
    }
    let radius = (0.25 * width * width + bulge * bulge) / (2.0 * bulge);
    2.0 * radius * (0.5 * width / radius).min(1.0).asin() - width
}

/// The same on a skin of a radius (mm): the pattern's own width less the straight line across.
pub fn flat_error_of(width: f64, radius: f64) -> f64 {
    width - 2.0 * radius * (0.5 * width / radius).sin()
}

#[cfg(test)]
mod tests {
    use super::super::shapes::{OutlineForm, drawn};
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_slope_halves_what_the_flow_sees() {
        let skin = Skin { angle: PI / 6.0, radius: None };
        let outline = drawn(OutlineForm::Rectangle { corner: 10.0 }, 120.0, 80.0);
        assert_relative_eq!(skin.seen(&outline), 0.5 * outline.area(), max_relative = 1e-12);
        assert_relative_eq!(skin.stretch(), 2.0, max_relative = 1e-12);
    }

    #[test]
    fn a_round_skin_is_seen_by_its_chord() {
        // a sharp rectangle of 100 mm laid round a radius of 80 mm: chord 2 R sin(50/80), 60 mm high
        let skin = Skin { angle: PI / 2.0, radius: Some(80.0) };
        let outline = drawn(OutlineForm::Rectangle { corner: 0.0 }, 100.0, 60.0);
        let chord = 2.0 * 80.0 * (50.0_f64 / 80.0).sin();
        assert_relative_eq!(skin.seen(&outline), 60.0 * chord, max_relative = 1e-9);
        let nearly_flat = Skin { radius: Some(1e6), ..skin };
        for form in
            [OutlineForm::Oval, OutlineForm::Slot, OutlineForm::Trapezium { corner: 8.0, narrow: 0.7 }]
        {
            let outline = drawn(form, 100.0, 60.0);
            assert_relative_eq!(nearly_flat.seen(&outline), outline.area(), max_relative = 1e-6);
        }
    }

    #[test]
    fn a_bulge_is_told_as_arc_less_chord() {
        // by the series: 8 s²/(3 w)
        assert_relative_eq!(flat_error(200.0, 5.0), 8.0 * 25.0 / 600.0, max_relative = 2e-3);
        assert_eq!(flat_error(200.0, 0.0), 0.0);
        assert_relative_eq!(
            flat_error_of(200.0, 1000.0),
            200.0 - 2000.0 * 0.1_f64.sin(),
            max_relative = 1e-12
        );
    }
}
