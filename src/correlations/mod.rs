//! Published formulas as pure functions: plain `f64`, SI units, one source each.
//!
//! | module | what it gives |
//! | --- | --- |
//! | [`friction`] | Darcy friction factor of ducts |
//! | [`bends`] | rounded and mitred bends |
//! | [`area_change`] | diffusers, contractions, steps, rounded entrances |
//! | [`screens`] | wire screens, open mesh, perforated plate |
//! | [`discharge`] | openings known by a discharge coefficient |
//! | [`boundary_layer`] | the skin's slow air in front of an inlet |
//! | [`effectiveness`] | heat exchange by effectiveness and transfer units |
//! | [`finned_cylinder`] | fins of cylinders and heads: surface coefficient, efficiency, pressure loss |
//! | [`jet`] | speed of a jet once it has reached ambient pressure |
//! | [`natural_convection`] | heat given to still air |
//! | [`radiation`] | heat radiated |
//! | [`slots`] | friction and heat transfer of the flat spaces between fins |
//! | [`wheels`] | fans known by their wheel alone: pressure and flow over those of the blade tips |
//! | [`power_correction`] | engine power on another day |
//! | [`piston_engine`] | swept volume flow, efficiency from fuel consumption |
//!
//! Loss coefficients are of total pressure. Each formula says on which area its K stands.

pub mod area_change;
pub mod bends;
pub mod boundary_layer;
pub mod discharge;
pub mod effectiveness;
pub mod finned_cylinder;
pub mod flush_inlet;
pub mod friction;
pub mod jet;
pub mod natural_convection;
pub mod piston_engine;
pub mod power_correction;
pub mod radiation;
pub mod screens;
pub mod slots;
pub mod tees;
pub mod wheels;

use std::ops::Mul;

/// A loss coefficient that grows in a straight line with the friction factor.
///
/// ```text
///   K = fixed + per_friction f
/// ```
///
/// f is the Darcy friction factor (-) at the running Reynolds number; both terms depend on
/// geometry alone, so they are worked out once per case. On the area that the function which
/// made it says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LossCoefficient {
    /// The part that does not depend on friction (-).
    pub fixed: f64,
    /// What each unit of the Darcy friction factor adds (-).
    pub per_friction: f64,
}

impl LossCoefficient {
    /// K at Darcy friction factor `f`.
    #[inline]
    pub fn at(&self, f: f64) -> f64 {
        self.fixed + self.per_friction * f
    }
}

impl From<f64> for LossCoefficient {
    /// A coefficient without friction.
    fn from(fixed: f64) -> Self {
        Self { fixed, per_friction: 0.0 }
    }
}

impl Mul<f64> for LossCoefficient {
    type Output = Self;

    /// Both parts multiplied: guide vanes, or K brought to another area.
    fn mul(self, factor: f64) -> Self {
        Self { fixed: self.fixed * factor, per_friction: self.per_friction * factor }
    }
}
