//! Heat given to still air.

use crate::air::moist::{DRY_GAS_CONSTANT, DRY_HEAT_CAPACITY};
use crate::air::standard_atmosphere::FREE_FALL;
use crate::air::transport::{conductivity_and_slope, viscosity_and_slope};

/// Constants of the formula below.
const CHURCHILL: f64 = 0.492;
/// The part of the root that does not depend on what rises.
pub const PLATE: f64 = 0.825;

/// Nusselt number of a vertical plate in still air, as x and q: Nu = (0.825 + x)².
///
/// ```text
///   x = 0.387 Ra^1/6/(1 + q)^8/27,   q = (0.492/Pr)^9/16
/// ```
///
/// On the height of the plate. Ra = `rayleigh` (-), Pr = `prandtl` (-). Laminar and turbulent, any Ra up to
/// 1e12. Source: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975), as in Incropera, Fundamentals of
/// Heat and Mass Transfer, ch. 9.
pub fn vertical_plate(rayleigh: f64, prandtl: f64) -> (f64, f64) {
    // the powers by few logarithms; where nothing rises that of Ra has no end, and x is nothing
    let q = (9.0 / 16.0 * (CHURCHILL / prandtl).ln()).exp();
    (0.387 * (rayleigh.ln() / 6.0 - 8.0 / 27.0 * (1.0 + q).ln()).exp(), q)
}

/// Heat transfer coefficient (W/(m² K)) of a surface of `height` (m) at `surface` (K) in still air at
/// `around` (K) of ambient pressure `pressure` (Pa), properties at the mean of both; with what its heat changes by: h, and ΔT ∂h/∂T of the surface and of the air around it, ΔT the
/// difference of both (all W/(m² K)). Times ΔT, since ∂h/∂T itself is without end where both are alike.
///
/// ```text
///   Nu = (0.825 + x)²,   x = 0.387 Ra^1/6/B,   B = (1 + q)^8/27,   q = (0.492/Pr)^9/16
///   dx/x = dRa/(6 Ra) − dB/B,   dB/B = −(1/6) q/(1 + q) dPr/Pr
///   dh/h = 2 dx/(0.825 + x) + dλ/λ,   Ra ~ |ΔT| Pr/(T_film³ μ²),   Pr ~ μ/λ
/// ```
pub fn still_air_and_slopes(height: f64, surface: f64, around: f64, pressure: f64) -> (f64, f64, f64) {
    let film = 0.5 * (surface + around);
    let difference = surface - around;
    let (conductivity, by_film) = conductivity_and_slope(film);
    let (viscosity, viscosity_by_film) = viscosity_and_slope(film);
    let kinematic = viscosity * DRY_GAS_CONSTANT * film / pressure;
    let prandtl = DRY_HEAT_CAPACITY * viscosity / conductivity;
    let rayleigh = FREE_FALL / film * difference.abs() * height.powi(3) * prandtl / (kinematic * kinematic);
    let (rising, q) = vertical_plate(rayleigh, prandtl);
    let root = PLATE + rising;
    let coefficient = root * root * conductivity / height;
    // relative slopes with the mean of both temperatures
    let (more_viscous, more_conducting) = (viscosity_by_film / viscosity, by_film / conductivity);
    let prandtl_by_film = more_viscous - more_conducting;
    let rayleigh_by_film = prandtl_by_film - 3.0 / film - 2.0 * more_viscous;
    let rising_by_film = (rayleigh_by_film + q / (1.0 + q) * prandtl_by_film) / 6.0;
    let share = 2.0 * rising / root;
    let by_mean = 0.5 * difference * (share * rising_by_film + more_conducting);
    let by_difference = share / 6.0;
    (coefficient, coefficient * (by_mean + by_difference), coefficient * (by_mean - by_difference))
}

#[cfg(test)]
mod tests {
    use super::{PLATE, still_air_and_slopes, vertical_plate};
    use crate::air::moist::{DRY_GAS_CONSTANT, DRY_HEAT_CAPACITY};
    use crate::air::standard_atmosphere::FREE_FALL;
    use crate::air::transport::{conductivity, viscosity};

    #[test]
    fn it_is_the_plate_in_air_and_its_slopes_are_those_of_the_heat() {
        for (height, surface, around) in
            [(0.3, 480.0, 320.0), (0.05, 900.0, 300.0), (0.4, 310.0, 350.0), (0.2, 330.01, 330.0)]
        {
            let pressure = 98_000.0;
            let film: f64 = 0.5 * (surface + around);
            let kinematic = viscosity(film) * DRY_GAS_CONSTANT * film / pressure;
            let prandtl = DRY_HEAT_CAPACITY * viscosity(film) / conductivity(film);
            let rayleigh = FREE_FALL / film * f64::abs(surface - around) * f64::powi(height, 3) * prandtl
                / (kinematic * kinematic);
            let plate = (PLATE + vertical_plate(rayleigh, prandtl).0).powi(2) * conductivity(film) / height;
            let (found, by_surface, by_around) = still_air_and_slopes(height, surface, around, pressure);
            assert!((found / plate - 1.0).abs() < 1e-13);
            let step = 1e-3 * f64::abs(surface - around);
            let at = |s: f64, a: f64| still_air_and_slopes(height, s, a, pressure).0;
            let slope = |up: f64, down: f64| (surface - around) * (up - down) / (2.0 * step);
            let differences = [
                slope(at(surface + step, around), at(surface - step, around)),
                slope(at(surface, around + step), at(surface, around - step)),
            ];
            for (slope, difference) in [by_surface, by_around].into_iter().zip(differences) {
                assert!((slope / difference - 1.0).abs() < 1e-5, "{surface} {around}: {slope} {difference}");
            }
        }
        let (alike, by_surface, by_around) = still_air_and_slopes(0.3, 300.0, 300.0, 101_325.0);
        assert!(alike > 0.0 && by_surface == 0.0 && by_around == 0.0);
    }

    #[test]
    fn the_textbook_plate() {
        // Incropera, Fundamentals of Heat and Mass Transfer, example 9.2 (from memory): a plate 0.71 m high at
        // 232 °C in a room of 23 °C; Ra 1.813e9, Pr 0.690, Nu 147, 7.0 W/(m² K)
        assert!(((PLATE + vertical_plate(1.813e9, 0.690).0).powi(2) - 147.0).abs() < 0.5);
        assert!((still_air_and_slopes(0.71, 505.15, 296.15, 101_325.0).0 - 7.0).abs() < 0.1);
    }

    #[test]
    fn a_plate_as_warm_as_the_air_conducts_a_little() {
        let alone = still_air_and_slopes(0.3, 300.0, 300.0, 101_325.0).0;
        assert!(alone > 0.0 && alone < still_air_and_slopes(0.3, 310.0, 300.0, 101_325.0).0);
    }
}
