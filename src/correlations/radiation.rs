//! Heat radiated.

/// Stefan's constant (W/(m² K⁴)). Source: CODATA 2018, exact by the definition of the kelvin of 2019.
pub const STEFAN: f64 = 5.670_374_419e-8;

/// Heat (W) that a small grey surface radiates to a large enclosure, with its slopes (W/K) by its own temperature
/// and by that of the enclosure.
///
/// ```text
///   Q = ε σ A (T⁴ − T_w⁴)
/// ```
///
/// ε `emissivity` (-), A `area` (m²), T `temperature`, T_w `walls` (K). The enclosure is so much larger than the
/// surface that what it reflects does not come back to it; surface and walls grey and diffuse. Walls close to the
/// surface, or bright ones, take less. Source: Incropera, Fundamentals of Heat and Mass Transfer, ch. 1 and 13.
#[inline]
pub fn exchanged(emissivity: f64, area: f64, temperature: f64, walls: f64) -> (f64, f64, f64) {
    let strength = emissivity * STEFAN * area;
    let cubed = |t: f64| t * t * t;
    (
        strength * (cubed(temperature) * temperature - cubed(walls) * walls),
        4.0 * strength * cubed(temperature),
        -4.0 * strength * cubed(walls),
    )
}

#[cfg(test)]
mod tests {
    use super::exchanged;

    #[test]
    fn the_textbook_pipe() {
        // Incropera, Fundamentals of Heat and Mass Transfer, example 1.2 (from memory): a steam pipe of 70 mm at
        // 200 °C, ε 0.8, walls and air at 25 °C: it radiates 421 W a metre (of 998 W, 577 by convection)
        let (heat, ..) = exchanged(0.8, std::f64::consts::PI * 0.07, 473.15, 298.15);
        assert!((heat - 421.0).abs() < 1.5, "{heat}");
    }

    #[test]
    fn slopes_are_those_of_the_heat() {
        let heat = |t: f64, w: f64| exchanged(0.7, 0.2, t, w).0;
        let (_, up, down) = exchanged(0.7, 0.2, 820.0, 340.0);
        assert!(((heat(820.1, 340.0) - heat(819.9, 340.0)) / 0.2 / up - 1.0).abs() < 1e-6);
        assert!(((heat(820.0, 340.1) - heat(820.0, 339.9)) / 0.2 / down - 1.0).abs() < 1e-6);
    }
}
