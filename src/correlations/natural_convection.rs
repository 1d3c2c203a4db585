//! Heat given to still air.

use crate::air::moist::{DRY_GAS_CONSTANT, DRY_HEAT_CAPACITY};
use crate::air::standard_atmosphere::FREE_FALL;
use crate::air::transport::{conductivity, viscosity};

/// Nusselt number of a vertical plate in still air.
///
/// ```text
///   Nu = {0.825 + 0.387 Ra^1/6/[1 + (0.492/Pr)^9/16]^8/27}²
/// ```
///
/// On the height of the plate. Ra = `rayleigh` (-), Pr = `prandtl` (-). Laminar and turbulent, any Ra up to
/// 1e12. Source: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975), as in Incropera, Fundamentals of
/// Heat and Mass Transfer, ch. 9.
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> f64 {
    let bracket = (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    let root = 0.825 + 0.387 * rayleigh.abs().powf(1.0 / 6.0) / bracket;
    root * root
}

/// Heat transfer coefficient (W/(m² K)) of a surface of `height` (m) at `surface` (K) in still air at
/// `around` (K) of ambient pressure `pressure` (Pa), properties at the mean of both.
pub fn still_air(height: f64, surface: f64, around: f64, pressure: f64) -> f64 {
    let film = 0.5 * (surface + around);
    let conductivity = conductivity(film);
    let viscosity = viscosity(film);
    let density = pressure / (DRY_GAS_CONSTANT * film);
    let prandtl = DRY_HEAT_CAPACITY * viscosity / conductivity;
    let kinematic = viscosity / density;
    let rayleigh =
        FREE_FALL / film * (surface - around).abs() * height.powi(3) * prandtl / (kinematic * kinematic);
    vertical_plate(rayleigh, prandtl) * conductivity / height
}

#[cfg(test)]
mod tests {
    use super::{still_air, vertical_plate};

    #[test]
    fn the_textbook_plate() {
        // Incropera, Fundamentals of Heat and Mass Transfer, example 9.2 (from memory): a plate 0.71 m high at
        // 232 °C in a room of 23 °C; Ra 1.813e9, Pr 0.690, Nu 147, 7.0 W/(m² K)
        assert!((vertical_plate(1.813e9, 0.690) - 147.0).abs() < 0.5);
        assert!((still_air(0.71, 505.15, 296.15, 101_325.0) - 7.0).abs() < 0.1);
    }

    #[test]
    fn a_plate_as_warm_as_the_air_conducts_a_little() {
        let alone = still_air(0.3, 300.0, 300.0, 101_325.0);
        assert!(alone > 0.0 && alone < still_air(0.3, 310.0, 300.0, 101_325.0));
    }
}
