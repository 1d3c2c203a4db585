//! Changes of area: diffusers, contractions, steps and rounded entrances.
//!
//! d is the smaller and D the larger diameter, each √(4A/π) of its area, β = d/D. Every K stands
//! on the smaller area. Formulas called Rennels & Hudson are those of their Pipe Flow (2012) in
//! the form in which the library fluids 1.3.1 gives them with its citations; the book itself
//! was not at hand.

use super::LossCoefficient;

/// Loss coefficient of a conical diffuser, or of the cone equivalent to another shape.
///
/// ```text
///   K = c (1 − β²)² + F       F = f (1 − β⁴)/(8 sin(α/2))     α in degrees below
///   0 < α ≤ 20                c = 8.30 tan(α/2)^1.75
///   20 < α ≤ 60, β ≥ 0.5      c = 1.366 √sin(2(α − 15)) − 0.170
///   20 < α ≤ 60, β < 0.5      c = the same − 3.28 (0.0625 − β⁴) √((α − 20)/40)
///   60 < α ≤ 180, β ≥ 0.5     c = 1.205 − 0.20 √((α − 60)/120)                        F = 0
///   60 < α ≤ 180, β < 0.5     c = 1.205 − 3.28 (0.0625 − β⁴) − 12.8 β⁶ √((α − 60)/120) F = 0
/// ```
///
/// K on the smaller area; α = `angle` included (rad), above 0 and up to π; f the Darcy friction
/// factor at the smaller end. As published, the branches do not quite meet: c jumps by about
/// 0.001 at 20° and by 0.009 at 60°, where F drops out as well. Straight steady inflow and a
/// duct behind; with a thick boundary layer at entry, or blowing straight into a chamber, real
/// diffusers recover less (published recovery curves of short diffusers give up to 0.3).
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn conical_diffuser(beta: f64, angle: f64) -> LossCoefficient {
    let beta_2 = beta * beta;
    let beta_4 = beta_2 * beta_2;
    let degrees = angle.to_degrees();
    let narrow = beta < 0.5;
    let shape = (1.0 - beta_2) * (1.0 - beta_2);
    if degrees > 60.0 {
        let opening = ((degrees - 60.0) / 120.0).sqrt();
        let c = if narrow {
            1.205 - 3.28 * (0.0625 - beta_4) - 12.8 * beta_4 * beta_2 * opening
        } else {
            1.205 - 0.20 * opening
        };
        return LossCoefficient::from(c * shape);
    }
    let c = if degrees <= 20.0 {
        8.30 * (0.5 * angle).tan().powf(1.75)
    } else {
        let wide = 1.366 * (2.0 * (degrees - 15.0)).to_radians().sin().sqrt() - 0.170;
        if narrow { wide - 3.28 * (0.0625 - beta_4) * ((degrees - 20.0) / 40.0).sqrt() } else { wide }
    };
    LossCoefficient { fixed: c * shape, per_friction: wall_of_cone(beta_4, angle) }
}

/// Loss coefficient of a conical contraction, or of the cone equivalent to another shape.
///
/// ```text
///   K = 0.0696 sin(α/2)(1 − β⁵) λ² + (λ − 1)² + f (1 − β⁴)/(8 sin(α/2))
///   λ = 1 + 0.622 (α/180)^0.8 (1 − 0.215 β² − 0.785 β⁵)     α in degrees
/// ```
///
/// K on the smaller area; α = `angle` included (rad), above 0 and up to π; f the Darcy friction
/// factor at the smaller end; λ the jet's speed over the mean speed behind it.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn conical_contraction(beta: f64, angle: f64) -> LossCoefficient {
    let share_of_flat = angle / std::f64::consts::PI;
    let jet = 1.0 + 0.622 * share_of_flat.powf(0.8) * narrowing(beta);
    LossCoefficient {
        fixed: 0.0696 * (0.5 * angle).sin() * (1.0 - beta.powi(5)) * jet * jet + (jet - 1.0) * (jet - 1.0),
        per_friction: wall_of_cone(beta.powi(4), angle),
    }
}

/// Loss coefficient of a sharp-edged sudden contraction.
///
/// ```text
///   K = 0.0696 (1 − β⁵) λ² + (λ − 1)²      λ = 1 + 0.622 (1 − 0.215 β² − 0.785 β⁵)
/// ```
///
/// K on the smaller area; β = 0 for an opening in a wall (K = 0.57; older tables say 0.5).
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn sharp_contraction(beta: f64) -> f64 {
    rounded_contraction(beta, 0.0)
}

/// Speed of the jet behind an edge over the mean speed further on (-).
///
/// ```text
///   λ = 1 + 0.622 (1 − 0.30 √x − 0.70 x)⁴ (1 − 0.215 β² − 0.785 β⁵)
/// ```
///
/// 1/λ is the jet's area over that of the opening, the coefficient of contraction; x = `radius_over_diameter` of the
/// edge, r/d, 0..1.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn jet_speed_ratio(beta: f64, radius_over_diameter: f64) -> f64 {
    let x = radius_over_diameter;
    let rounding = 1.0 - 0.30 * x.sqrt() - 0.70 * x;
    1.0 + 0.622 * rounding.powi(4) * narrowing(beta)
}

/// Loss coefficient of a sudden contraction with a rounded edge.
///
/// ```text
///   K = 0.0696 (1 − 0.569 x)(1 − β √x)(1 − β⁵) λ² + (λ − 1)²
/// ```
///
/// λ from [`jet_speed_ratio`]. K on the smaller area; x = `radius_over_diameter` of the edge, r/d, 0..1.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn rounded_contraction(beta: f64, radius_over_diameter: f64) -> f64 {
    let x = radius_over_diameter;
    let jet = jet_speed_ratio(beta, x);
    let turning = (1.0 - 0.569 * x) * (1.0 - beta * x.sqrt()) * (1.0 - beta.powi(5));
    0.0696 * turning * jet * jet + (jet - 1.0) * (jet - 1.0)
}

/// Loss coefficient of a rounded entrance from a large space into an opening.
///
/// ```text
///   K = 0.0696 (1 − 0.569 x) λ² + (λ − 1)²      λ = 1 + 0.622 (1 − 0.30 √x − 0.70 x)⁴
///   x > 1:  K = 0.03
/// ```
///
/// K on the area of the opening; x = `radius_over_diameter` of its edge, r/D.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn rounded_entrance(radius_over_diameter: f64) -> f64 {
    if radius_over_diameter > 1.0 { 0.03 } else { rounded_contraction(0.0, radius_over_diameter) }
}

/// Loss coefficient of a sudden enlargement.
///
/// ```text
///   K = (1 − A₁/A₂)²
/// ```
///
/// K on the smaller area A₁; `area_ratio` = A₁/A₂, 0 into a large space, 1 without a change.
/// Turbulent, uniform profile in A₁, room enough behind for the flow to fill A₂.
/// Source: Borda (1766), Carnot (1803): momentum balance over the mixing.
pub fn sudden_enlargement(area_ratio: f64) -> f64 {
    (1.0 - area_ratio) * (1.0 - area_ratio)
}

/// Included angle (rad) of a cone between two diameters.
///
/// ```text
///   α = 2 atan((D − d)/(2 L))
/// ```
///
/// d = `small` and D = `large` diameter, L = `length` along the axis, all in one unit. π for no
/// length.
pub fn included_angle(small: f64, large: f64, length: f64) -> f64 {
    2.0 * (large - small).atan2(2.0 * length)
}

/// Length of a cone between two diameters, along its axis.
///
/// ```text
///   L = (D − d)/(2 tan(α/2))
/// ```
///
/// d = `small` and D = `large` diameter in one unit, α = `angle` included (rad).
pub fn length_from_angle(small: f64, large: f64, angle: f64) -> f64 {
    (large - small) / (2.0 * (0.5 * angle).tan())
}

/// 1 − 0.215 β² − 0.785 β⁵: how much of the free contraction the larger duct leaves.
fn narrowing(beta: f64) -> f64 {
    1.0 - 0.215 * beta * beta - 0.785 * beta.powi(5)
}

/// Wall friction along a cone, per unit of f: (1 − β⁴)/(8 sin(α/2)).
fn wall_of_cone(beta_4: f64, angle: f64) -> f64 {
    (1.0 - beta_4) / (8.0 * (0.5 * angle).sin())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_change_of_area_no_loss() {
        let angle = 20_f64.to_radians();
        assert_eq!(conical_diffuser(1.0, angle).at(0.02), 0.0);
        assert!(conical_contraction(1.0, angle).at(0.02).abs() < 1e-15);
        assert!(sharp_contraction(1.0).abs() < 1e-15);
        assert!(rounded_contraction(1.0, 0.2).abs() < 1e-15);
        assert_eq!(sudden_enlargement(1.0), 0.0);
    }

    #[test]
    fn branches_of_the_diffuser_meet_as_closely_as_published() {
        for beta in [0.3, 0.49, 0.5, 0.7] {
            let shape = (1.0_f64 - beta * beta).powi(2);
            let c = |degrees: f64| conical_diffuser(beta, degrees.to_radians()).fixed / shape;
            assert!((c(20.0) - c(20.0 + 1e-9)).abs() < 0.002, "{beta}");
            assert!((c(60.0) - c(60.0 + 1e-9)).abs() < 0.010, "{beta}");
        }
        for degrees in [10.0_f64, 40.0, 90.0, 170.0] {
            let (below, above) = (
                conical_diffuser(0.5 - 1e-9, degrees.to_radians()).fixed,
                conical_diffuser(0.5, degrees.to_radians()).fixed,
            );
            assert!((below - above).abs() < 1e-7, "{degrees}");
        }
    }

    #[test]
    fn a_flat_cone_is_a_sharp_step() {
        for beta in [0.0, 0.4, 0.8] {
            let flat = conical_contraction(beta, std::f64::consts::PI).fixed;
            assert!((flat - sharp_contraction(beta)).abs() < 1e-14);
        }
    }

    #[test]
    fn angle_and_length_are_two_sides_of_one_cone() {
        for length in [0.01, 0.1, 0.5] {
            let angle = included_angle(0.05, 0.09, length);
            assert!((length_from_angle(0.05, 0.09, angle) - length).abs() < 1e-12);
        }
        assert_eq!(included_angle(0.05, 0.09, 0.0), std::f64::consts::PI);
        assert_eq!(included_angle(0.05, 0.05, 0.2), 0.0);
    }

    #[test]
    fn rounding_helps_up_to_its_end() {
        let mut before = rounded_entrance(0.0);
        for i in 1..=30 {
            let here = rounded_entrance(f64::from(i) * 0.05);
            assert!(here < before + 1e-4, "{i}");
            before = here;
        }
        assert!((rounded_entrance(1.0) - 0.03).abs() < 1e-5);
    }
}
