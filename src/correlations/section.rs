//! Areas and diameters of openings and ducts.

use std::f64::consts::PI;

/// Area (m²) of a circle of `diameter` (m).
pub fn circle_area(diameter: f64) -> f64 {
    0.25 * PI * diameter * diameter
}

/// Diameter (m) of the circle that has `area` (m²).
///
/// ```text
///   D = √(4 A/π)
/// ```
pub fn equivalent_diameter(area: f64) -> f64 {
    (4.0 * area / PI).sqrt()
}

/// Area (m²) of a rectangle, `width` × `height` (m).
pub fn rectangle_area(width: f64, height: f64) -> f64 {
    width * height
}

/// Hydraulic diameter (m) of a rectangle.
///
/// ```text
///   D_h = 4 A/U = 2 w h/(w + h)
/// ```
///
/// w = `width`, h = `height` (m), U the wetted perimeter.
/// Source: definition; e.g. White, Fluid Mechanics.
pub fn rectangle_hydraulic_diameter(width: f64, height: f64) -> f64 {
    2.0 * width * height / (width + height)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn circle_and_diameter_undo_each_other() {
        assert!((equivalent_diameter(circle_area(0.127)) - 0.127).abs() < 1e-15);
    }

    #[test]
    fn a_square_has_its_side_as_hydraulic_diameter() {
        assert_eq!(rectangle_hydraulic_diameter(0.08, 0.08), 0.08);
    }
}
