//! Rectangular slots: friction and heat transfer of the flat spaces between fins, where a round duct of the same
//! hydraulic diameter has a third less of the one and half of the other.

use super::friction;

/// Reynolds number on the hydraulic diameter up to which the flow in a duct is laminar.
pub const LAMINAR_TO: f64 = 2300.0;
/// Reynolds number from which it is turbulent.
pub const TURBULENT_FROM: f64 = 4000.0;

/// Darcy friction factor times Reynolds number of laminar flow in a rectangular duct, far from its entrance.
///
/// ```text
///   f Re = 96 (1 − 1.3553 α + 1.9467 α² − 1.7012 α³ + 0.9564 α⁴ − 0.2537 α⁵)
/// ```
///
/// α = `aspect` (-), short side over long one, 0..1: 96 between plates, 56.9 in a square. Re and f on the hydraulic
/// diameter. Within 0.06 % of the exact series. Source: Shah & London, Laminar Flow Forced Convection in Ducts (1978)
/// (from memory, held to the exact series).
pub fn laminar_friction(aspect: f64) -> f64 {
    96.0 * polynomial(aspect, [-1.3553, 1.9467, -1.7012, 0.9564, -0.2537])
}

/// Nusselt number of laminar flow in a rectangular duct with walls of one temperature, far from its entrance.
///
/// ```text
///   Nu = 7.541 (1 − 2.610 α + 4.970 α² − 5.119 α³ + 2.702 α⁴ − 0.548 α⁵)
/// ```
///
/// α = `aspect` (-), short side over long one, 0..1: 7.54 between plates, 2.98 in a square. On the hydraulic diameter.
/// Within 0.3 % of the exact solution. Source: Shah & London, Laminar Flow Forced Convection in Ducts (1978) (from
/// memory, held to a solution of our own).
pub fn laminar_nusselt(aspect: f64) -> f64 {
    7.541 * polynomial(aspect, [-2.610, 4.970, -5.119, 2.702, -0.548])
}

fn polynomial(x: f64, coefficients: [f64; 5]) -> f64 {
    1.0 + x * coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Darcy friction factor of a smooth rectangular duct.
///
/// ```text
///   f = f_round(φ Re),   φ = 64/(f Re)_laminar
/// ```
///
/// Re = `reynolds` on the hydraulic diameter, α = `aspect`, f_round by Churchill (1977). With the laminar-equivalent
/// diameter φ D_h a rectangular duct follows the law of round ones, laminar exactly and turbulent within 5 %.
/// Any Re > 0. Source: Jones, J. Fluids Eng. 98 (1976) (from memory).
pub fn friction_factor(reynolds: f64, aspect: f64) -> f64 {
    friction::churchill(reynolds * 64.0 / laminar_friction(aspect), 0.0).0
}

/// Nusselt number of air in a short rectangular duct, on the hydraulic diameter.
///
/// ```text
///   Re ≤ 2300   Nu = Nu_∞ + c Gz/(1 + d Gz^⅔)      Gz = Re Pr D/L,  Nu_∞ of the developed flow
///               plates: c 0.03, d 0.016 (Edwards)      round: c 0.0668, d 0.04 (Hausen)
///               between them in a straight line with α
///   Re ≥ 4000   Nu = (f/8)(Re − 1000) Pr/[1 + 12.7 √(f/8) (Pr^⅔ − 1)] · [1 + (D/L)^⅔]
///               f = (0.79 ln Re − 1.64)^−2                                      (Gnielinski; Petukhov's f)
///   between     in a straight line with Re                                      (Gnielinski 2013)
/// ```
///
/// Re = `reynolds`, Pr = `prandtl`, D/L = `diameter_over_length` (≤ 1), α = `aspect` short over long side (0..1). Up to
/// Re 1e6. All walls of one temperature: the fourth side of a space under a baffle is not heated, a tenth of the girth
/// or less between tall fins. Turbulent flow asks little after the shape: within 10 %. The straight line with α is a
/// choice of our own between two published ends that come to the same far upstream (1.9 and 1.7 Gz^⅓).
/// Sources: as at [`laminar_nusselt`]; Edwards, Denny & Mills, Transfer Processes (1979), as in Çengel, Heat and Mass
/// Transfer, ch. 8; Hausen (1943); Gnielinski (1976, 2013).
pub fn short_duct_nusselt(reynolds: f64, prandtl: f64, diameter_over_length: f64, aspect: f64) -> f64 {
    let between = |plates: f64, square: f64| plates + aspect * (square - plates);
    let laminar = |reynolds: f64| {
        let graetz = reynolds * prandtl * diameter_over_length;
        let entrance = between(0.03, 0.0668) * graetz / (1.0 + between(0.016, 0.04) * graetz.powf(2.0 / 3.0));
        laminar_nusselt(aspect) + entrance
    };
    let turbulent = |reynolds: f64| {
        let f = (0.79 * reynolds.ln() - 1.64).powi(-2);
        let slip = 1.0 + 12.7 * (f / 8.0).sqrt() * (prandtl.powf(2.0 / 3.0) - 1.0);
        let developed = f / 8.0 * (reynolds - 1000.0) * prandtl / slip;
        developed * (1.0 + diameter_over_length.powf(2.0 / 3.0))
    };
    if reynolds <= LAMINAR_TO {
        laminar(reynolds)
    } else if reynolds < TURBULENT_FROM {
        let share = (reynolds - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO);
        (1.0 - share) * laminar(LAMINAR_TO) + share * turbulent(TURBULENT_FROM)
    } else {
        turbulent(reynolds)
    }
}

#[cfg(test)]
mod tests {
    use super::{LAMINAR_TO, TURBULENT_FROM, short_duct_nusselt};

    #[test]
    fn the_duct_has_no_jump() {
        for ends in [LAMINAR_TO, TURBULENT_FROM] {
            let (below, above) = (
                short_duct_nusselt(ends - 1e-6, 0.7, 0.05, 0.2),
                short_duct_nusselt(ends + 1e-6, 0.7, 0.05, 0.2),
            );
            assert!((below / above - 1.0).abs() < 1e-6);
        }
    }
}
