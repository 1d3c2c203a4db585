//! Colours as numbers.

/// An sRGB colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

/// The same colour dark enough for small type: at least 4.5 : 1 against paper.
pub fn for_type(colour: Colour) -> Colour {
    let mut out = colour;
    while contrast_to_paper(out) < 4.5 {
        let darker = |part: u8| (f64::from(part) * 0.96).floor() as u8;
        out = Colour(darker(out.0), darker(out.1), darker(out.2));
    }
    out
}

/// Luminance of an sRGB colour relative to white.
///
/// ```text
/// Y = 0.2126 R + 0.7152 G + 0.0722 B
/// R = r / 12.92 if r ≤ 0.04045, else ((r + 0.055) / 1.055)^2.4, r = byte / 255; G and B likewise
/// ```
///
/// Y in 0 … 1. Source: IEC 61966-2-1:1999 (sRGB).
pub fn luminance(colour: Colour) -> f64 {
    let linear = |byte: u8| {
        let part = f64::from(byte) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * linear(colour.0) + 0.7152 * linear(colour.1) + 0.0722 * linear(colour.2)
}

/// Contrast of a colour against white paper.
///
/// ```text
/// contrast = 1.05 / (Y + 0.05)
/// ```
///
/// Y relative luminance; 1 (none) to 21 (black). Source: W3C, Web Content Accessibility Guidelines 2.1, "contrast ratio".
pub fn contrast_to_paper(colour: Colour) -> f64 {
    1.05 / (luminance(colour) + 0.05)
}

/// The sRGB colour of a lightness, chroma and hue (degrees) in CIE 1976 L*a*b* (white point D65), cut to what sRGB can show.
///
/// ```text
/// f_y = (L* + 16)/116, f_x = f_y + a*/500, f_z = f_y − b*/200, a* = C* cos h, b* = C* sin h
/// X/X_n = f³ where f > 6/29, else 3 (6/29)² (f − 4/29); Y and Z likewise
/// ```
///
/// White point (0.95047, 1, 1.08883). Source: CIE 15:2004, Colorimetry, 8.2.1; the matrix to linear sRGB and its transfer
/// function: IEC 61966-2-1:1999.
pub fn of_lightness(lightness: f64, chroma: f64, hue: f64) -> Colour {
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
    use super::{Colour, of_lightness};

    /// L* 50, a* = b* = 0 is sRGB (119, 119, 119): CIE 15:2004 gives Y = ((50 + 16)/116)³ = 0.1842, and IEC 61966-2-1 codes
    /// that as 0.4663 of full.
    #[test]
    fn a_middle_grey_is_where_the_standards_put_it() {
        assert_eq!(of_lightness(50.0, 0.0, 0.0), Colour(119, 119, 119));
        assert_eq!(of_lightness(100.0, 0.0, 0.0), Colour(255, 255, 255));
    }
}
