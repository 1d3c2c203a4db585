//! Bends: rounded and mitred.
//!
//! The formulas are those of Rennels & Hudson, Pipe Flow (2012), in the form in which
//! the library fluids 1.3.1 gives them with its citations; the book itself was not at hand.

use super::LossCoefficient;
use std::f64::consts::PI;

/// Loss coefficient of a rounded bend, its own wall friction included.
///
/// ```text
///   K = f θ r/d + (0.10 + 2.4 f) s + 6.6 f (√s + s)/(r/d)^(4θ/π)      s = sin(θ/2)
/// ```
///
/// K on the area of the bend; θ = `angle` turned (rad), 0..π; r/d = `radius_over_diameter` of
/// the centre line, 0.5 and more; f the Darcy friction factor. A steady flow that enters
/// straight; a bend close behind another part loses more or less.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn rounded(angle: f64, radius_over_diameter: f64) -> LossCoefficient {
    let s = (0.5 * angle).sin();
    let secondary = 6.6 * (s.sqrt() + s) / radius_over_diameter.powf(4.0 * angle / PI);
    LossCoefficient { fixed: 0.10 * s, per_friction: angle * radius_over_diameter + 2.4 * s + secondary }
}

/// Loss coefficient of a mitred bend: one sharp knee, no vanes.
///
/// ```text
///   K = 0.42 s + 2.56 s³      s = sin(θ/2)
/// ```
///
/// K on the area of the bend; θ = `angle` turned (rad), 0..150°. No friction in it.
/// Source: Rennels & Hudson, Pipe Flow (2012), as given by fluids 1.3.1.
pub fn mitred(angle: f64) -> LossCoefficient {
    let s = (0.5 * angle).sin();
    LossCoefficient::from(0.42 * s + 2.56 * s * s * s)
}

#[cfg(test)]
mod tests {
    use super::{mitred, rounded};
    use std::f64::consts::FRAC_PI_2;

    #[test]
    fn no_turn_no_loss() {
        assert_eq!(rounded(0.0, 1.5).at(0.02), 0.0);
        assert_eq!(mitred(0.0).at(0.02), 0.0);
    }

    #[test]
    fn a_rounded_bend_loses_less_than_a_knee_and_more_where_tighter() {
        let knee = mitred(FRAC_PI_2).at(0.02);
        let tight = rounded(FRAC_PI_2, 0.6).at(0.02);
        let easy = rounded(FRAC_PI_2, 1.5).at(0.02);
        assert!(easy < tight && tight < knee);
    }
}
