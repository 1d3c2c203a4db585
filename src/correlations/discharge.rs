//! Openings known by a discharge coefficient: exits, leaks, venturis.

/// Total-pressure loss and last velocity head together, on the opening's own area.
///
/// ```text
///   Δp = ½ ρ (Q/(C_d A))²      that is  K = 1/C_d²
/// ```
///
/// C_d = `discharge_coefficient`, above 0 and up to 1, into a large space from a large one;
/// Q the volume flow, A the opening. Turbulent.
/// Source: definition of C_d; Idelchik, Handbook of Hydraulic Resistance.
pub fn with_last_head(discharge_coefficient: f64) -> f64 {
    1.0 / (discharge_coefficient * discharge_coefficient)
}

/// The loss alone, on the opening's own area: what C_d costs beyond the velocity head.
///
/// ```text
///   K = 1/C_d² − 1
/// ```
///
/// Arguments, range and source as for [`with_last_head`].
pub fn before_last_head(discharge_coefficient: f64) -> f64 {
    with_last_head(discharge_coefficient) - 1.0
}

/// Discharge coefficient of a sharp-edged hole in a thin wall: 0.615 to 0.635 (classical).
pub const SHARP: f64 = 0.62;
/// Discharge coefficient of a short tube, long enough for the jet to fill it: about 0.82 (classical).
const SHORT_TUBE: f64 = 0.82;
/// Speed of a free jet over that without friction, 0.97 to 0.99 (classical).
const VELOCITY_COEFFICIENT: f64 = 0.98;

/// Discharge coefficient of a hole in a wall, by its edge's rounding and the wall's thickness.
///
/// ```text
///   1/C_d² − 1 = K(x) [1 − g(t)],  at least 0.03
///   K(x) = (λ/0.98)² − 1,  λ = 1 + (λ₀ − 1)(1 − 0.30 √x − 0.70 x)⁴
///   g(t) = (1 − τ/1.35)(1/0.62² − 1/0.82²)/(1/0.62² − 1)
///   τ = (2.4 − t) 10^−φ,  φ = 0.25 + 0.535 t⁸/(0.05 + t⁷)
/// ```
///
/// x = `radius_over_diameter`, the upstream edge's radius over the hole's hydraulic diameter, 0..1; t =
/// `thickness_over_diameter`, the wall's thickness over it, 0..2.4 (beyond: as 2.4). λ is how much faster the narrowest jet runs
/// than the mean over the hole: it falls with rounding as Rennels & Hudson (2012) have it (as given by fluids 1.3.1), λ₀ so that
/// C_d = 0.62 where the edge is sharp and the wall thin. A thick wall lets the jet spread again inside it: τ by Idelchik,
/// Handbook of Hydraulic Resistance (thick-edged orifices; from memory), so that C_d ends at the 0.82 of a short tube. Both at once
/// are multiplied: no source was found for that. Into a large space from a large one, turbulent.
pub fn by_edge(radius_over_diameter: f64, thickness_over_diameter: f64) -> f64 {
    let x = radius_over_diameter.clamp(0.0, 1.0);
    let t = thickness_over_diameter.clamp(0.0, 2.4);
    let widest = VELOCITY_COEFFICIENT / SHARP;
    let jet = 1.0 + (widest - 1.0) * (1.0 - 0.30 * x.sqrt() - 0.70 * x).powi(4);
    let thin = (jet / VELOCITY_COEFFICIENT).powi(2) - 1.0;
    let exponent = 0.25 + 0.535 * t.powi(8) / (0.05 + t.powi(7));
    let contracted = (2.4 - t) * 10f64.powf(-exponent) / (2.4 * 10f64.powf(-0.25));
    let gain = (with_last_head(SHARP) - with_last_head(SHORT_TUBE)) / before_last_head(SHARP);
    let loss = (thin * (1.0 - gain * (1.0 - contracted))).max(0.03);
    1.0 / (1.0 + loss).sqrt()
}

/// Share of its discharge that a hole keeps in a stream across it.
///
/// ```text
///   1 − c (1 − V_jet/V)²  for V_jet < V, 1 above
/// ```
///
/// V_jet = `jet` (m/s) of the hole without the stream, V = `stream` (m/s) over it, c = `loss` of a hole whose jet hardly moves.
/// 10 to 30 % are taken from a jet slower than the stream (from memory); the way there is ours, smooth at V_jet = V.
/// Gives the share and its slope with V_jet (s/m).
pub fn kept_in_cross_flow(jet: f64, stream: f64, loss: f64) -> (f64, f64) {
    if stream <= 0.0 || jet >= stream {
        return (1.0, 0.0);
    }
    let slow = 1.0 - jet.max(0.0) / stream;
    (1.0 - loss * slow * slow, 2.0 * loss * slow / stream)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_of_the_edge() {
        assert!((by_edge(0.0, 0.0) - SHARP).abs() < 1e-12);
        assert!((by_edge(0.0, 2.4) - SHORT_TUBE).abs() < 1e-3);
        assert!(by_edge(1.0, 0.0) > 0.97 && by_edge(1.0, 2.4) <= 1.0);
    }

    #[test]
    fn rounder_and_thicker_never_lets_less_through() {
        let steps = || (0..=48).map(|i| f64::from(i) / 20.0);
        for x in steps() {
            for pair in steps().zip(steps().skip(1)) {
                assert!(by_edge(x, pair.1) >= by_edge(x, pair.0) - 1e-12, "thickness at x = {x}");
                assert!(by_edge(pair.1, x) >= by_edge(pair.0, x) - 1e-12, "radius at t = {x}");
            }
        }
    }

    #[test]
    fn a_jet_as_fast_as_the_stream_loses_nothing() {
        assert_eq!(kept_in_cross_flow(20.0, 20.0, 0.3), (1.0, 0.0));
        assert_eq!(kept_in_cross_flow(0.0, 0.0, 0.3), (1.0, 0.0));
        assert_eq!(kept_in_cross_flow(0.0, 20.0, 0.3).0, 0.7);
        let step = 1e-6;
        let slope = (kept_in_cross_flow(5.0 + step, 20.0, 0.3).0
            - kept_in_cross_flow(5.0 - step, 20.0, 0.3).0)
            / (2.0 * step);
        assert!((kept_in_cross_flow(5.0, 20.0, 0.3).1 - slope).abs() < 1e-9);
    }
}
