//! Heat exchange by effectiveness ε and number of transfer units.
//!
//! ```text
//!   Q = ε C_min (T_hot,in − T_cold,in)      NTU = UA/C_min      C_r = C_min/C_max
//! ```
//!
//! C is mass flow times heat capacity of a stream (W/K), UA the conductance (W/K).

use crate::numerics::root::bracketed;

/// Effectiveness of one stream against a wall of one temperature: `(ε, dε/dNTU)`.
///
/// ```text
///   ε = 1 − exp(−NTU)      dε/dNTU = exp(−NTU)
/// ```
///
/// NTU = `ntu` ≥ 0.
/// Source: Kays & London, Compact Heat Exchangers (C_r = 0).
#[inline]
pub fn single_stream(ntu: f64) -> (f64, f64) {
    (-(-ntu).exp_m1(), (-ntu).exp())
}

/// Effectiveness of cross-flow, both streams unmixed: `(ε, dε/dNTU, dε/dC_r)`.
///
/// ```text
///   ε = 1 − exp{NTU^0.22/C_r [exp(−C_r NTU^0.78) − 1]}
/// ```
///
/// worked out in the same law's form
///
/// ```text
///   ε = 1 − exp(−NTU φ)      φ = (1 − e^−y)/y      y = C_r NTU^0.78
///   dε/dNTU = exp(−NTU φ)(0.22 φ + 0.78 e^−y)
///   dε/dC_r = exp(−NTU φ) NTU^1.78 φ'(y)      φ' = (e^−y − φ)/y
/// ```
///
/// which goes over into [`single_stream`] by itself as C_r → 0 (φ → 1), without a switch, and is
/// NTU with slope 1 as NTU → 0. NTU = `ntu` ≥ 0 and C_r = `capacity_ratio`, 0..1. An
/// approximation, within 4 % of the exact series up to NTU 7 (worst, and low, near NTU 0.3 with
/// C_r = 1).
/// Source: Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 11.3, after Kays &
/// London; exact series: Mason (1955).
#[inline]
pub fn cross_flow(ntu: f64, capacity_ratio: f64) -> (f64, f64, f64) {
    if ntu == f64::INFINITY {
        return (1.0, 0.0, 0.0);
    }
    if ntu <= 0.0 {
        return (0.0, 1.0, 0.0);
    }
    let b = (0.78 * ntu.ln()).exp();
    let y = capacity_ratio * b;
    let (decay, phi) = decay_and_mean(y);
    let mean_slope = if y < SERIES_BELOW {
        -0.5 + y * (1.0 / 3.0 - y * (0.125 - y * (1.0 / 30.0 - y / 144.0)))
    } else {
        (decay - phi) / y
    };
    let exponent = -ntu * phi;
    let left = exponent.exp();
    // the difference would lose its digits for next to no exchange
    let effectiveness = if exponent > -1e-3 { -exponent.exp_m1() } else { 1.0 - left };
    (effectiveness, left * (0.22 * phi + 0.78 * decay), left * ntu * b * mean_slope)
}

/// [`cross_flow`] without its slopes.
#[inline]
pub fn cross_flow_value(ntu: f64, capacity_ratio: f64) -> f64 {
    if ntu == f64::INFINITY {
        return 1.0;
    }
    cross_flow(ntu, capacity_ratio).0
}

/// Most transfer units looked for.
const MOST_UNITS: f64 = 1e4;

/// Transfer units at which [`cross_flow`] has an effectiveness; none where it has not within 1e4 of them (an
/// effectiveness of 1 or more, or so near to it that no surface reaches it).
pub fn transfer_units(effectiveness: f64, capacity_ratio: f64) -> Option<f64> {
    let miss = |log: f64| cross_flow_value(log.exp(), capacity_ratio) - effectiveness;
    let (low, high) = (1e-12_f64.ln(), MOST_UNITS.ln());
    let (below, above) = (miss(low), miss(high));
    (effectiveness < 1.0 && below < 0.0 && above > 0.0)
        .then(|| bracketed(miss, low, high, below, above, 1e-14).exp())
}

/// Below this y the quotients in y are summed as series, exact to rounding there.
const SERIES_BELOW: f64 = 0.01;

/// e^−y and its mean over 0..y, φ = (1 − e^−y)/y.
#[inline]
fn decay_and_mean(y: f64) -> (f64, f64) {
    let decay = (-y).exp();
    let mean = if y < SERIES_BELOW {
        1.0 - y * (0.5 - y * (1.0 / 6.0 - y * (1.0 / 24.0 - y * (1.0 / 120.0 - y / 720.0))))
    } else {
        (1.0 - decay) / y
    };
    (decay, mean)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NTU: [f64; 7] = [1e-3, 0.05, 0.4, 1.0, 2.5, 6.0, 15.0];
    const RATIO: [f64; 8] = [1e-9, 1e-6, 1e-4, 0.009, 0.1, 0.5, 0.9, 1.0];

    #[test]
    fn transfer_units_lead_back() {
        for ntu in [1e-6, 0.05, 0.44, 1.0, 2.5, 6.0, 40.0] {
            for ratio in RATIO {
                let effectiveness = cross_flow_value(ntu, ratio);
                // near 1 the curve is flat: rounding of ε there is much in NTU
                let found = transfer_units(effectiveness, ratio).filter(|_| effectiveness < 0.9999);
                assert!(found.is_none_or(|found| (found / ntu - 1.0).abs() < 1e-10), "{ntu} {ratio}");
            }
        }
        assert_eq!(transfer_units(1.0, 0.5), None);
        assert_eq!(transfer_units(1.3, 0.5), None);
    }

    #[test]
    fn slopes_are_finite_differences() {
        for ntu in NTU {
            let step = 1e-5 * ntu;
            let difference = (single_stream(ntu + step).0 - single_stream(ntu - step).0) / (2.0 * step);
            assert!((single_stream(ntu).1 - difference).abs() < 1e-8);
            for ratio in RATIO {
                let (value, by_ntu, by_ratio) = cross_flow(ntu, ratio);
                let along = |dn: f64, dr: f64| cross_flow(ntu + dn, ratio + dr).0;
                let difference = (along(step, 0.0) - along(-step, 0.0)) / (2.0 * step);
                assert!((by_ntu - difference).abs() < 1e-8, "{ntu} {ratio}");
                let turn = 1e-5 * ratio.max(1e-3);
                let difference = (along(0.0, turn) - along(0.0, -turn)) / (2.0 * turn);
                assert!((by_ratio - difference).abs() < 1e-7, "{ntu} {ratio}");
                assert_eq!(value, cross_flow_value(ntu, ratio));
            }
        }
    }

    #[test]
    fn it_is_the_published_form() {
        for ntu in NTU {
            for ratio in [0.01, 0.3, 1.0] {
                let bracket = (-ratio * f64::powf(ntu, 0.78)).exp() - 1.0;
                let published = 1.0 - (f64::powf(ntu, 0.22) / ratio * bracket).exp();
                assert!((cross_flow(ntu, ratio).0 - published).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn one_capacity_without_bound_is_the_single_stream() {
        for ntu in NTU {
            let (value, slope, _) = cross_flow(ntu, 0.0);
            let (single, single_slope) = single_stream(ntu);
            assert!((value - single).abs() < 1e-15);
            assert!((slope - single_slope).abs() < 1e-15);
            // Whoever takes the simple law below C_r = 1e-6 makes a step of at most
            // ½ C_r NTU^1.78 e^−NTU, the first term of the law in C_r: 2.4e-7.
            let step = 0.5e-6 * f64::powf(ntu, 1.78) * single_slope;
            assert!((cross_flow_value(ntu, 1e-6) - (single - step)).abs() < 1e-11);
            assert!(step < 2.4e-7);
        }
    }

    #[test]
    fn the_series_takes_over_without_a_step() {
        let ratio = SERIES_BELOW;
        let (below, above) = (cross_flow(1.0, ratio - 1e-15), cross_flow(1.0, ratio + 1e-15));
        assert!((below.0 - above.0).abs() < 1e-13);
        assert!((below.1 - above.1).abs() < 1e-13);
        assert!((below.2 - above.2).abs() < 1e-11);
    }

    #[test]
    fn nothing_exchanged_and_everything_exchanged() {
        assert_eq!(cross_flow(0.0, 0.5), (0.0, 1.0, 0.0));
        assert_eq!(single_stream(0.0), (0.0, 1.0));
        assert_eq!(cross_flow(f64::INFINITY, 0.5), (1.0, 0.0, 0.0));
        assert_eq!(cross_flow_value(f64::INFINITY, 0.5), 1.0);
        let (value, slope, turn) = cross_flow(1e-300, 1.0);
        assert_eq!((value, slope), (1e-300, 1.0));
        assert!(turn.abs() < 1e-300);
    }
}
