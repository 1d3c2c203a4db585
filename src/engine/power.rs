//! Full-throttle brake power against engine speed.

use crate::numerics::monotone_cubic::MonotoneCubic;

/// Brake power at full throttle.
#[derive(Clone, Debug)]
pub enum Power {
    /// Through measured points, constant outside them.
    Curve(MonotoneCubic),
    /// From the peak alone.
    Peak {
        /// Peak power (W).
        power: f64,
        /// Engine speed of the peak (rev/min).
        rpm: f64,
    },
}

impl Power {
    /// Full-throttle power (W) at an engine speed (rev/min).
    ///
    /// From the peak alone: P = P_max (x + x² − x³), x = rpm/rpm_peak, never below 0; a common
    /// shape for spark-ignition engines (from memory), not to be trusted above x = 1.1.
    pub fn at(&self, rpm: f64) -> f64 {
        match self {
            Power::Curve(curve) => curve.value_and_slope(rpm).0,
            Power::Peak { power, rpm: peak } => {
                let x = rpm / peak;
                (power * (x + x * x - x * x * x)).max(0.0)
            }
        }
    }

    /// Engine speeds (rev/min) between which the power is known.
    pub fn known(&self) -> (f64, f64) {
        match self {
            Power::Curve(curve) => (curve.first().0, curve.last().0),
            Power::Peak { rpm, .. } => (0.0, 1.1 * rpm),
        }
    }

    /// Peak power (W) and its engine speed (rev/min).
    ///
    /// A monotone curve has its peak at one of its points.
    pub fn peak(&self, points: &[(f64, f64)]) -> (f64, f64) {
        match self {
            Power::Curve(_) => points.iter().fold((f64::NEG_INFINITY, 0.0), |best, (rpm, power)| {
                if *power > best.0 { (*power, *rpm) } else { best }
            }),
            Power::Peak { power, rpm } => (*power, *rpm),
        }
    }
}
