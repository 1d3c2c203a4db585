//! Leaks on the bench: everything taped, a blower, and two pressures.
//!
//! A blower gives the same air whatever it blows against, near enough: with everything taped it leaves by the leaks alone,
//! then by them and a hole of known area beside them. Of Cd·A of the leaks, E, and of the hole, H,
//!
//! ```text
//!   p₁/p₀ = (E/(E + H))²,    E = H √r/(1 − √r),  r = p₁/p₀
//! ```
//!
//! since the air of a gap or a hole goes with √p; how much it is need not be known. Source: continuity, and the law of an
//! orifice, as the element `leak` has it.

use crate::case::{Case, tables as t};
use crate::draws::Car;
use crate::network::{Network, PassageEnd};
use crate::point::Model;

/// Discharge of a hole cut into tape, its edge thin (Idelchik, Handbook of Hydraulic Resistance: 0.59 to 0.62 for holes
/// with sharp edges; from memory).
const DISCHARGE: f64 = 0.6;
/// The share of the pressure that is left is known so well, as a share of itself, the gauge aside: the blower falls off,
/// the tape leaks, the hole is cut by hand (from memory).
pub const WITHIN: f64 = 0.2;

/// Share of the inlets that seams are taken for where the case knows of none: the middle of their band.
const SEAMS: f64 = 0.15;
/// Side of a hole (m): in steps that a ruler has, and the least that a knife cuts square.
const STEP: f64 = 5e-3;
const LEAST: f64 = 0.01;

/// Whether anything leaks to the outside, or may.
pub(crate) fn has_any(case: &Case, model: &Model) -> bool {
    let drawn = case.body.id(&t::LEAKS).is_some_and(|id| case.numbers.fact(id).band().is_some());
    of(&model.network) > 0.0 || drawn
}

/// Side (m) of a square hole that lets through about as much as all leaks do.
pub(crate) fn side_of_hole(case: &Case, model: &Model) -> f64 {
    let inlets = || case.passages.iter().map(|passage| passage.inlets_as_drawn).sum::<f64>();
    let known = of(&model.network);
    let area = if known > 0.0 { known / DISCHARGE } else { SEAMS * inlets() };
    ((area.sqrt() / STEP).round() * STEP).max(LEAST)
}

/// Share of the pressure that is left in a car with everything taped but a hole of some area (m²).
pub fn left_beside(car: &Car, hole: f64) -> f64 {
    left(of(&car.solver().network), DISCHARGE * hole)
}

fn of(network: &Network) -> f64 {
    let outside = network.passages.iter().filter(|passage| {
        let ends = [passage.from, passage.to];
        ends.contains(&PassageEnd::Outside) && ends.iter().any(|end| matches!(end, PassageEnd::Chamber(_)))
    });
    let laws = outside.flat_map(|passage| &network.laws[passage.elements.clone()]);
    laws.filter_map(|law| law.as_leak()).map(|leak| leak.effective_area()).sum()
}

/// Share of the pressure that is left beside a hole of some Cd·A (m²).
fn left(effective: f64, hole: f64) -> f64 {
    (effective / (effective + hole)).powi(2)
}

#[cfg(test)]
mod tests {
    use super::left;

    #[test]
    fn a_hole_as_large_as_the_leaks_leaves_a_quarter() {
        assert!((left(3e-3, 3e-3) - 0.25).abs() < 1e-15);
        // and from what is left the leaks are found again
        let root = left(2e-3, 5e-3).sqrt();
        assert!((5e-3 * root / (1.0 - root) - 2e-3).abs() < 1e-12);
    }
}
