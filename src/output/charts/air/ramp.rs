//! Lightness by temperature.

use super::super::theme::Colour;

/// Lightness of the coolest and of the hottest air.
const LIGHTNESS: (f64, f64) = (96.0, 64.0);
/// Most colour at either end; the lightest fill can show no more than this without leaving sRGB.
const CHROMA: (f64, f64) = (5.0, 26.0);
/// Hue of cool and of hot air (degrees).
const HUE: (f64, f64) = (250.0, 50.0);

/// The range of temperatures that a picture shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ramp {
    low: f64,
    high: f64,
}

impl Ramp {
    /// Over the finite of some temperatures, at least 20 K wide.
    pub(super) fn over(temperatures: impl Iterator<Item = f64>) -> Ramp {
        let (low, high) = temperatures
            .filter(|value| value.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        if low > high {
            return Ramp { low: 0.0, high: 20.0 };
        }
        Ramp { low, high: high.max(low + 20.0) }
    }

    pub(super) fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    /// The fill of air at a temperature; the coolest where none is known.
    pub(super) fn at(&self, temperature: f64) -> Colour {
        let share = ((temperature - self.low) / (self.high - self.low)).clamp(0.0, 1.0);
        let share = if share.is_nan() { 0.0 } else { share };
        let lightness = LIGHTNESS.0 + share * (LIGHTNESS.1 - LIGHTNESS.0);
        // cold hues fade into grey before the warm ones begin
        let turn = 0.3;
        let (chroma, hue) = if share < turn {
            (CHROMA.0 * (1.0 - share / turn), HUE.0)
        } else {
            (CHROMA.1 * (share - turn) / (1.0 - turn), HUE.1)
        };
        from_lab(lightness, chroma, hue)
    }
}

/// A colour of CIE 1976 L*a*b* (white point D65) as sRGB, cut to what sRGB can show.
///
/// ```text
/// f_y = (L* + 16)/116, f_x = f_y + a*/500, f_z = f_y − b*/200
/// X/X_n = f³ where f > 6/29, else 3 (6/29)² (f − 4/29); Y and Z likewise
/// ```
///
/// a* = C* cos h, b* = C* sin h; white point (0.95047, 1, 1.08883). Source: CIE 15:2004, Colorimetry, 8.2.1; the matrix to linear
/// sRGB and its transfer function: IEC 61966-2-1:1999.
fn from_lab(lightness: f64, chroma: f64, hue: f64) -> Colour {
    let (sine, cosine) = hue.to_radians().sin_cos();
    let fy = (lightness + 16.0) / 116.0;
    let (fx, fz) = (fy + chroma * cosine / 500.0, fy - chroma * sine / 200.0);
    let open = |f: f64| {
        let bend = 6.0 / 29.0;
        if f > bend { f.powi(3) } else { 3.0 * bend * bend * (f - 4.0 / 29.0) }
    };
    let (x, y, z) = (0.950_47 * open(fx), open(fy), 1.088_83 * open(fz));
    let byte = |linear: f64| {
        let part = linear.clamp(0.0, 1.0);
        let coded = if part <= 0.003_130_8 { 12.92 * part } else { 1.055 * part.powf(1.0 / 2.4) - 0.055 };
        (coded * 255.0).round() as u8
    };
    Colour(
        byte(3.240_454_2 * x - 1.537_138_5 * y - 0.498_531_4 * z),
        byte(-0.969_266_0 * x + 1.876_010_8 * y + 0.041_556_0 * z),
        byte(0.055_643_4 * x - 0.204_025_9 * y + 1.057_225_2 * z),
    )
}

#[cfg(test)]
mod tests {
    use super::super::super::theme::{INK, luminance};
    use super::*;

    /// L* 50, a* = b* = 0 is sRGB (119, 119, 119): CIE 15:2004 gives Y = ((50 + 16)/116)³ = 0.1842, and IEC 61966-2-1 codes
    /// that as 0.4663 of full.
    #[test]
    fn a_middle_grey_is_where_the_standards_put_it() {
        assert_eq!(from_lab(50.0, 0.0, 0.0), Colour(119, 119, 119));
        assert_eq!(from_lab(100.0, 0.0, 0.0), Colour(255, 255, 255));
    }

    #[test]
    fn hotter_is_darker_and_ink_can_be_read_on_all_of_it() {
        let ramp = Ramp::over([20.0, 220.0].into_iter());
        let fills: Vec<Colour> = (0..=20).map(|i| ramp.at(20.0 + 10.0 * f64::from(i))).collect();
        for pair in fills.windows(2) {
            assert!(luminance(pair[1]) < luminance(pair[0]) - 0.01, "{pair:?}");
        }
        for fill in &fills {
            // W3C, Web Content Accessibility Guidelines 2.1: 4.5 : 1 for small type
            let contrast = (luminance(*fill) + 0.05) / (luminance(INK) + 0.05);
            assert!(contrast > 4.5, "{fill:?}: {contrast}");
        }
    }
}
