//! Darcy friction factor of ducts.

/// Reynolds number below which the laminar law holds to the last bit.
///
/// At Re = 500 the turbulent term of the formula is less than 1e-22 of the laminar one for
/// every roughness, so leaving it out there is no approximation in `f64`.
const PURELY_LAMINAR_BELOW: f64 = 500.0;

/// Darcy friction factor and its slope with the Reynolds number: `(f, df/dRe)`.
///
/// ```text
///   f = 8 [(8/Re)¹² + (A + B)^−1.5]^(1/12)
///   A = {2.457 ln 1/[(7/Re)^0.9 + 0.27 ε]}¹⁶      B = (37530/Re)¹⁶
/// ```
///
/// Re = `reynolds` (-) on the hydraulic diameter, ε = `relative_roughness` = e/d (-). One formula
/// for laminar, transitional and turbulent flow; within 3.1 % of Colebrook and White above
/// Re 4000, ε up to 0.05. Any Re > 0; f grows without bound as Re → 0, where
/// [`friction_times_reynolds`] stays finite.
/// Source: Churchill, Friction-factor equation spans all fluid-flow regimes, Chemical
/// Engineering 84 (1977).
#[inline]
pub fn churchill(reynolds: f64, relative_roughness: f64) -> (f64, f64) {
    let (product, slope) = friction_times_reynolds(reynolds, relative_roughness);
    let f = product / reynolds;
    (f, (slope - f) / reynolds)
}

/// Friction factor times Reynolds number and its slope: `(f Re, d(f Re)/dRe)`.
///
/// ```text
///   f Re = 64 (1 + G)^(1/12)                   G = (Re/8)¹² (A + B)^−1.5
///   d(f Re)/dRe = (f/12) G/(1 + G) E           E = dlnG/dlnRe
///   E = 12 − 1.5 [14.4 A t/(L w) − 16 B]/(A + B)
///   t = (7/Re)^0.9      w = t + 0.27 ε         L = ln 1/w
/// ```
///
/// The same law as [`churchill`], its laminar part taken out: down to Re = 0 it is smooth, 64
/// with slope 0. Δp of a duct goes with f Re · V, so this is the form for slow flow.
/// Arguments, range and source as there.
#[inline]
pub fn friction_times_reynolds(reynolds: f64, relative_roughness: f64) -> (f64, f64) {
    if reynolds < PURELY_LAMINAR_BELOW {
        return (64.0, 0.0);
    }
    let t = (0.9 * (7.0 / reynolds).ln()).exp();
    let w = t + 0.27 * relative_roughness;
    let log = -w.ln();
    let a_root = 2.457 * log;
    let a = a_root.powi(16);
    let b = (37_530.0 / reynolds).powi(16);
    let sum = a + b;
    let growth = (reynolds * 0.125).powi(12) / (sum * sum.sqrt());
    let value = 64.0 * ((1.0 + growth).ln() / 12.0).exp();
    // A/L as A^(15/16) × 2.457: finite where L passes through zero.
    let a_over_log = 2.457 * a_root.powi(15);
    let exponent = 12.0 - 1.5 * (14.4 * a_over_log * t / w - 16.0 * b) / sum;
    let slope = value / 12.0 * growth / (1.0 + growth) * exponent / reynolds;
    (value, slope)
}

#[cfg(test)]
mod tests {
    use super::{PURELY_LAMINAR_BELOW, churchill, friction_times_reynolds};

    const ROUGHNESS: [f64; 5] = [0.0, 1e-5, 1e-3, 0.02, 0.15];

    #[test]
    fn slopes_are_finite_differences_through_all_regimes() {
        for roughness in ROUGHNESS {
            let mut reynolds = 501.0;
            while reynolds < 1e8 {
                let step = 1e-5 * reynolds;
                let (up, down) =
                    (churchill(reynolds + step, roughness).0, churchill(reynolds - step, roughness).0);
                let difference = (up - down) / (2.0 * step);
                let (f, slope) = churchill(reynolds, roughness);
                assert!(
                    (slope - difference).abs() < 1e-7 * f / reynolds,
                    "Re {reynolds}, roughness {roughness}: {slope} {difference}"
                );
                reynolds *= 1.07;
            }
        }
    }

    #[test]
    fn product_and_factor_are_one_law() {
        for roughness in ROUGHNESS {
            for reynolds in [1.0, 700.0, 2500.0, 4e4, 1e7] {
                let (f, slope) = churchill(reynolds, roughness);
                let (product, product_slope) = friction_times_reynolds(reynolds, roughness);
                assert!((f * reynolds / product - 1.0).abs() < 1e-14);
                assert!((f + reynolds * slope - product_slope).abs() < 1e-13 * f);
            }
        }
    }

    #[test]
    fn nothing_is_lost_by_the_laminar_branch() {
        for roughness in ROUGHNESS {
            let (below, _) = friction_times_reynolds(PURELY_LAMINAR_BELOW * 0.999, roughness);
            let (above, slope) = friction_times_reynolds(PURELY_LAMINAR_BELOW, roughness);
            assert_eq!(below, above);
            assert!(slope.abs() < 1e-20);
        }
    }

    #[test]
    fn no_flow_and_next_to_none_give_no_nonsense() {
        assert_eq!(friction_times_reynolds(0.0, 0.01), (64.0, 0.0));
        for reynolds in [1e-150, 1e-9, 1e-3] {
            let (f, slope) = churchill(reynolds, 0.01);
            assert_eq!(f, 64.0 / reynolds);
            assert!(!slope.is_nan() && slope < 0.0);
        }
        let (f, slope) = churchill(1e15, 0.0);
        assert!(f > 0.0 && f < 0.01 && slope < 0.0);
    }

    #[test]
    fn the_loss_rises_with_the_flow_everywhere() {
        // Δp ~ (f Re) Re: its slope decides whether a duct has one flow at one pressure.
        for roughness in ROUGHNESS {
            let mut reynolds = 1.0;
            while reynolds < 1e8 {
                let (product, slope) = friction_times_reynolds(reynolds, roughness);
                assert!(product + reynolds * slope > 0.0);
                reynolds *= 1.01;
            }
        }
    }
}
