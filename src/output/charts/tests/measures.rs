//! Ticks, numbers, widths of texts, colours.

use crate::output::charts::scale::{self, Scale, number, spoken, ticks};
use crate::output::charts::theme;
use crate::output::scene::colour::{Colour, contrast_to_paper, for_type, luminance};
use crate::output::scene::font::{self, FontWeight, base64, width, wrap};
use crate::output::scene::hatch::Hatch;

#[test]
fn ticks_are_round_and_within() {
    let found = ticks(-13.0, 64.0, 6.0);
    assert_eq!(found.values, vec![0.0, 20.0, 40.0, 60.0]);
    assert_eq!(found.labels, vec!["0", "20", "40", "60"]);
    let fine = ticks(0.0, 0.9, 10.0);
    assert_eq!(fine.labels[..3], ["0.0", "0.1", "0.2"]);
    assert_eq!(fine.values[3], 3.0 * 0.1);
    let below = ticks(-3.0, 0.0, 3.0);
    assert_eq!(below.labels, vec!["−3", "−2", "−1", "0"]);
}

#[test]
fn ticks_of_wide_and_narrow_ranges_say_their_power() {
    assert_eq!(ticks(0.0, 2e7, 4.0).labels, vec!["0", "0.5·10⁷", "1.0·10⁷", "1.5·10⁷", "2.0·10⁷"]);
    assert_eq!(ticks(0.0, 3e-7, 3.0).labels, vec!["0", "1·10⁻⁷", "2·10⁻⁷", "3·10⁻⁷"]);
    assert_eq!(ticks(0.0, 40_000.0, 4.0).labels[1], "10\u{202f}000");
}

#[test]
fn no_range_makes_ticks_run_away() {
    for (low, high) in
        [(0.0, 0.0), (f64::NAN, 1.0), (1e16, 1e16 + 2.0), (-1e250, 1e250), (5.0, 1.0), (0.0, f64::INFINITY)]
    {
        let found = ticks(low, high, 8.0);
        assert!(found.values.len() <= 200 && found.values.len() == found.labels.len());
        assert!(found.values.iter().all(|value| value.is_finite()));
    }
}

#[test]
fn numbers_are_written_as_people_write_them() {
    assert_eq!(number(-4.0, 0), "−4");
    assert_eq!(number(-0.04, 1), "0.0");
    assert_eq!(number(1234.0, 0), "1234");
    assert_eq!(number(1_234_567.891, 2), "1\u{202f}234\u{202f}567.89");
    assert_eq!(spoken(0.25), "0.25");
    assert_eq!(spoken(112.0), "112");
}

#[test]
fn scales_take_what_floats_there_are() {
    let scale = Scale::new((0.0, 10.0), 100.0, 200.0);
    assert_eq!(scale.at(5.0), 150.0);
    assert!(scale.at(1e250).is_finite());
    let flat = Scale::new(scale::widened(5.0, 5.0), 0.0, 1.0);
    assert!((flat.at(5.0) - 0.5).abs() < 1e-9);
}

/// Advance widths summed with fontTools 4 from the tables of the font files (2816 units to the size).
#[test]
fn widths_are_those_of_the_font() {
    let table =
        [("Oil cooler", 12560.0, 13097.0), ("Δp ≤ 1.2 kPa", 16548.0, 16846.0), ("−4 K", 6292.0, 6418.0)];
    for (text, regular, bold) in table {
        for (weight, units) in [(FontWeight::Regular, regular), (FontWeight::Bold, bold)] {
            let expected = units / 2816.0 * 12.0;
            assert!((width(text, 12.0, weight) - expected).abs() < 1e-3, "{text}");
        }
    }
}

#[test]
fn the_font_has_every_sign_the_charts_use() {
    use ab_glyph::Font;
    for weight in [FontWeight::Regular, FontWeight::Bold] {
        let Ok(face) = font::face(weight) else { panic!("font") };
        for sign in "AZaz09äÖßéñÅΔαΩμ°·×±√≤≥−–—…‰′″²³¹⁰⁻⁹₀₉→←↑↓▲▼\u{202f}\u{a0}".chars()
        {
            assert_ne!(face.font.glyph_id(sign).0, 0, "{sign}");
        }
    }
}

#[test]
fn wrapped_lines_fit_and_lose_no_letter() {
    let text =
        "Heat shares are defaults; measure before cutting. Unbreakablewordthatismuchtoolongforanyline &c.";
    for limit in [3.0, 40.0, 90.0, 400.0] {
        let lines = wrap(text, 11.0, FontWeight::Regular, limit);
        let fits =
            |line: &String| width(line, 11.0, FontWeight::Regular) <= limit || line.chars().count() == 1;
        assert!(lines.iter().all(fits), "{limit}");
        let letters = |text: &str| text.chars().filter(|c| *c != ' ').collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(text));
    }
}

/// Test vectors of RFC 4648, section 10.
#[test]
fn base64_as_in_its_standard() {
    let table = [
        ("", ""),
        ("f", "Zg=="),
        ("fo", "Zm8="),
        ("foo", "Zm9v"),
        ("foob", "Zm9vYg=="),
        ("fooba", "Zm9vYmE="),
        ("foobar", "Zm9vYmFy"),
    ];
    for (plain, packed) in table {
        assert_eq!(base64(plain.as_bytes()), packed);
    }
}

/// Lightness of CIE 1976 L*a*b*: L* = 116 f(Y) − 16, f(t) = t^⅓ above (6/29)³. Source: ISO/CIE 11664-4.
fn lightness(colour: Colour) -> f64 {
    let y = luminance(colour);
    let root = if y > (6.0_f64 / 29.0).powi(3) {
        y.cbrt()
    } else {
        y / (3.0 * (6.0_f64 / 29.0).powi(2)) + 4.0 / 29.0
    };
    116.0 * root - 16.0
}

/// (M) Figures from memory: mid grey #777777 has L* 50.0; #767676 is the lightest grey with 4.54 : 1 on white; black has 21 : 1.
#[test]
fn lightness_and_contrast_of_known_greys() {
    assert!((lightness(Colour(0x77, 0x77, 0x77)) - 50.0).abs() < 0.1);
    assert!((contrast_to_paper(Colour(0x76, 0x76, 0x76)) - 4.54).abs() < 0.005);
    assert!((contrast_to_paper(Colour(0, 0, 0)) - 21.0).abs() < 1e-9);
}

/// The ramp is what the theme says of it: even steps of lightness from 16 to 61, in the order 0 4 2 6 1 5 3 7.
#[test]
fn curve_colours_climb_in_even_steps() {
    for (colour, step) in theme::CURVES.iter().zip([0, 4, 2, 6, 1, 5, 3, 7]) {
        let wanted = 16.0 + 45.0 / 7.0 * f64::from(step);
        assert!((lightness(*colour) - wanted).abs() < 0.5, "{colour:?}: {} not {wanted}", lightness(*colour));
        assert!(contrast_to_paper(*colour) >= 3.0);
        assert!(contrast_to_paper(for_type(*colour)) >= 4.5);
    }
    let gap = |a: usize, b: usize| (lightness(theme::CURVES[a]) - lightness(theme::CURVES[b])).abs();
    assert!(gap(0, 1) > 20.0 && gap(0, 2) > 12.0 && gap(1, 2) > 12.0);
}

#[test]
fn no_two_of_many_curves_look_alike() {
    let looks: Vec<_> = (0..32).map(theme::curve).collect();
    for (i, look) in looks.iter().enumerate() {
        assert!(!looks[..i].contains(look), "curve {i}");
    }
}

#[test]
fn neighbouring_bands_differ_in_lightness_and_hatch() {
    for loss in [false, true] {
        for place in 0..30 {
            let (a, b) = (theme::band(place, loss), theme::band(place + 1, loss));
            assert!((lightness(a.ground) - lightness(b.ground)).abs() >= 12.0 - 0.5, "{place}");
            assert_ne!(a.hatch, b.hatch);
            // Words may stand on the ground.
            let words = (luminance(a.ground) + 0.05) / (luminance(theme::INK) + 0.05);
            assert!(words >= 4.5, "{place}: {words}");
        }
        assert_eq!(theme::band(0, loss).hatch, Hatch::Plain);
    }
}
