//! Air between the fins of a cylinder or head: what the surface gives to it, and what it costs in pressure.
//!
//! The measured curves for baffled aero-engine cylinders (Ellerbrock & Biermann, NACA TR 676; pressure drop in
//! TR 587 and 719) could not be read in numbers, only in their abstracts. A close baffle makes the space between two
//! fins a short flat slot of nearly constant section, so the formulas of slots stand for them here; that is also
//! how the abstract of TR 676 groups its variables (fin space, fin width, cylinder diameter, mass flux). What
//! a duct leaves out works both ways: the bend and the stirred-up air at the front raise the coefficient, air that
//! slips between fin tips and baffle lowers it. Hence a factor with a wide band goes with it.

use crate::air::moist::DRY_HEAT_CAPACITY;
use crate::air::transport::{conductivity, viscosity};
use crate::correlations::slots;
use crate::numerics::bessel::{first_kind, second_kind};
use std::f64::consts::PI;

/// Temperature (K) of the air between the fins at which its properties are taken: 60 °C. Viscosity and
/// conductivity change the coefficient by 1 % for 10 K.
pub const AIR_BETWEEN_FINS: f64 = 333.15;
/// Loss coefficient where the air enters between the sharp edges of the fins, on the area between them: a flush
/// sharp-edged entrance, as Idelchik and others give it.
pub const ENTRY: f64 = 0.5;

/// Fin efficiency of an annular fin of constant thickness with an insulated tip at the corrected radius.
///
/// ```text
///   η = 2 r₁/(m (r₂² − r₁²)) · [K₁(m r₁) I₁(m r₂) − I₁(m r₁) K₁(m r₂)]/[I₀(m r₁) K₁(m r₂) + K₀(m r₁) I₁(m r₂)]
///   m = √(2 h/(k t))
/// ```
///
/// r₁ = `root` (m), r₂ = `tip` (m) = outer radius + t/2, h = `coefficient` (W/(m² K)), k = `conductivity` (W/(m K)) of
/// the fin, t = `thickness` (m). One-dimensional conduction, h and k the same everywhere. Any h > 0.
/// Source: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, ch. 3.
pub fn annular_fin(root: f64, tip: f64, thickness: f64, conductivity: f64, coefficient: f64) -> f64 {
    let m = (2.0 * coefficient / (conductivity * thickness)).sqrt();
    let ((i0, i1_root), (k0, k1_root)) = (first_kind(m * root), second_kind(m * root));
    let (i1_tip, k1_tip) = (first_kind(m * tip).1, second_kind(m * tip).1);
    // the exponentials left out of the functions: e^−2m(r₂−r₁) on each product of I at the root and K at the tip
    let fall = (-2.0 * m * (tip - root)).exp();
    let above = k1_root * i1_tip - fall * i1_root * k1_tip;
    let below = fall * i0 * k1_tip + k0 * i1_tip;
    2.0 * root / (m * (tip * tip - root * root)) * above / below
}

/// Surface coefficient (W/(m² K)) of a finned cylinder in a free stream, mean over its whole surface.
///
/// ```text
///   h = 241.7 (0.0247 − 0.00148 L^0.8/p^0.4) u^0.73      L, p in mm, u in km/h
/// ```
///
/// L = `length` of the fins (m), p = `pitch` (m), u = `speed` of the stream before the cylinder (m/s). None where the
/// bracket is below 0.005: fins so long and close that no air comes between them. From memory, the tests behind it
/// ran over L 16..41 mm, p 4..19 mm, barrels of 32..95 mm and [`FREE_STREAM_SPEEDS`].
/// Source: Gibson (1920), as reprinted by Yoshida et al., JSME Int. J. 49 (2006); formula read there, the unit of
/// u from memory (in m/s it would give a third of what other tests of engine fins show).
pub fn free_stream_coefficient(length: f64, pitch: f64, speed: f64) -> Option<f64> {
    let bracket = 0.0247 - 0.00148 * (1e3 * length).powf(0.8) / (1e3 * pitch).powf(0.4);
    (bracket >= 0.005).then(|| 241.7 * bracket * (3.6 * speed).powf(0.73))
}

/// Speeds (m/s) of the tests behind [`free_stream_coefficient`]: 32 to 97 km/h (from memory).
pub const FREE_STREAM_SPEEDS: (f64, f64) = (32.0 / 3.6, 97.0 / 3.6);

/// The fins of one cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cylinder {
    /// From one fin to the next (m).
    pub pitch: f64,
    /// Mean thickness of a fin (m).
    pub thickness: f64,
    /// Height of a fin from root to tip (m).
    pub length: f64,
    /// Diameter at the fins' root (m).
    pub diameter: f64,
    /// How many fins; each with one space.
    pub fins: f64,
    /// Thermal conductivity of the metal (W/(m K)).
    pub conductivity: f64,
    /// Whether a sheet close to the tips leads the air round to the back.
    pub baffled: bool,
}

/// What the fins of a cylinder do at a mass flux between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FinState {
    /// Reynolds number on the hydraulic diameter of the space between two fins.
    pub reynolds: f64,
    /// Surface coefficient (W/(m² K)).
    pub coefficient: f64,
    /// Efficiency of a fin.
    pub efficiency: f64,
    /// Conductance (W/K).
    pub conductance: f64,
    /// Loss coefficient of entry and wall friction, on the area between the fins.
    pub loss: f64,
}

impl Cylinder {
    /// Clear distance between two fins (m).
    fn space(&self) -> f64 {
        self.pitch - self.thickness
    }

    /// Area (m²) between the fins, both ways round.
    pub fn free_area(&self) -> f64 {
        2.0 * self.fins * self.space() * self.length
    }

    /// Short over long side of the space between two fins (-).
    fn aspect(&self) -> f64 {
        let (space, length) = (self.space(), self.length);
        space.min(length) / space.max(length)
    }

    /// Hydraulic diameter (m) of the space between two fins under a baffle.
    pub fn hydraulic_diameter(&self) -> f64 {
        2.0 * self.space() * self.length / (self.space() + self.length)
    }

    /// Way of the air (m): half round at mid-height of the fins; without a baffle it leaves the sides, halfway.
    pub fn way(&self) -> f64 {
        let half_round = 0.5 * PI * (self.diameter + self.length);
        if self.baffled { half_round } else { 0.5 * half_round }
    }

    /// Surface of the fins, and of the barrel between them (m²).
    pub fn surfaces(&self) -> (f64, f64) {
        let (root, tip) = self.radii();
        let fins = self.fins * 2.0 * PI * (tip * tip - root * root);
        (fins, self.fins * 2.0 * PI * root * self.space())
    }

    /// Radius at the root, and at the tip with half a thickness added for the heat of the edge (m).
    fn radii(&self) -> (f64, f64) {
        let root = 0.5 * self.diameter;
        (root, root + self.length + 0.5 * self.thickness)
    }

    /// Efficiency of a fin and conductance (W/K) of the cylinder at a surface coefficient (W/(m² K)).
    pub fn conductance(&self, coefficient: f64) -> (f64, f64) {
        let (root, tip) = self.radii();
        let efficiency = annular_fin(root, tip, self.thickness, self.conductivity, coefficient);
        let (fins, barrel) = self.surfaces();
        (efficiency, coefficient * (efficiency * fins + barrel))
    }

    /// The state at a mass `flux` (kg/(s m²)) between the fins of air of `density` (kg/m³); the surface coefficient is
    /// multiplied by `surface_factor`. None where [`free_stream_coefficient`] has none.
    ///
    /// ```text
    ///   baffled     h = Nu λ/D_h     Nu of a short flat slot     D_h = 2 s L/(s + L)     way π (D + L)/2
    ///   without     h of a cylinder in a free stream as fast as the air between its fins     half the way
    ///   UA = h (η A_fins + A_barrel)      K = 0.5 + f way/D_h     f of a flat slot, sides s and L
    /// ```
    ///
    /// In a free stream air can go round the fins, so that it is hardly faster between them than before them: taking
    /// both for equal is on the safe side. The mean over the surface holds the poorly swept back.
    pub fn at(&self, flux: f64, density: f64, surface_factor: f64) -> Option<FinState> {
        let (viscosity, conductivity) = (viscosity(AIR_BETWEEN_FINS), conductivity(AIR_BETWEEN_FINS));
        let prandtl = DRY_HEAT_CAPACITY * viscosity / conductivity;
        let diameter = self.hydraulic_diameter();
        let reynolds = flux * diameter / viscosity;
        let coefficient = if self.baffled {
            let short = (diameter / self.way()).min(1.0);
            slots::short_duct_nusselt(reynolds, prandtl, short, self.aspect()) * conductivity / diameter
        } else {
            free_stream_coefficient(self.length, self.pitch, flux / density)?
        } * surface_factor;
        let (efficiency, conductance) = self.conductance(coefficient);
        let loss = ENTRY + slots::friction_factor(reynolds, self.aspect()) * self.way() / diameter;
        Some(FinState { reynolds, coefficient, efficiency, conductance, loss })
    }
}

#[cfg(test)]
mod tests {
    use super::annular_fin;

    #[test]
    fn a_fin_that_conducts_well_is_warm_to_its_tip() {
        assert!((annular_fin(0.04, 0.07, 0.002, 1e9, 50.0) - 1.0).abs() < 1e-6);
        let mut before = 1.0;
        for power in -2..8 {
            let now = annular_fin(0.04, 0.07, 0.002, 160.0, 10_f64.powi(power));
            assert!(now < before && now > 0.0);
            before = now;
        }
    }

    #[test]
    fn a_long_fin_gives_what_its_root_can_conduct() {
        // h → ∞: η → 2 r₁/(m (r₂² − r₁²)), the root's own perimeter times a straight fin's depth 1/m
        let (root, tip, coefficient): (f64, f64, f64) = (0.04, 0.07, 1e9);
        let m = (2.0 * coefficient / (160.0 * 0.002)).sqrt();
        let limit = 2.0 * root / (m * (tip * tip - root * root));
        assert!((annular_fin(root, tip, 0.002, 160.0, coefficient) / limit - 1.0).abs() < 1e-3);
    }
}
