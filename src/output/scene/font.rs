//! The chart font: its bytes, the widths of its texts, and the style rule that carries it inside an SVG.
//!
//! The font is kept in the program, so that a chart looks the same on every machine and needs no font of the system.
//! `font/README.md` tells where it comes from. It carries no kerning and no ligatures: the width of a text is the sum of the
//! widths of its letters, here and in every viewer alike.

use std::sync::OnceLock;

use ab_glyph::{Font, FontRef};

use super::error::ChartError;

/// Name of the font family as written in SVG, with a fallback for letters it lacks.
pub const FAMILY: &str = "Slowcorner Chart, sans-serif";

static REGULAR: &[u8] = include_bytes!("font/slowcorner-chart-regular.otf");
static BOLD: &[u8] = include_bytes!("font/slowcorner-chart-bold.otf");
// The same outlines, packed for the web: half the size inside an SVG.
static REGULAR_PACKED: &[u8] = include_bytes!("font/slowcorner-chart-regular.woff2");
static BOLD_PACKED: &[u8] = include_bytes!("font/slowcorner-chart-bold.woff2");

/// Letters past this code are taken as missing.
const LAST_LETTER: usize = 0x2700;

/// Width of a letter the font lacks, in parts of the size: a viewer will take it from another font.
const FOREIGN_WIDTH: f32 = 0.68;
/// The same for letters of the East Asian scripts, which are square.
const SQUARE_WIDTH: f32 = 1.02;

/// Regular or bold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FontWeight {
    Regular,
    Bold,
}

/// One weight of the font, read once.
pub struct Face {
    pub font: FontRef<'static>,
    /// Points of font height per point of type size, as the glyph drawer counts height from descender to ascender.
    pub height_per_size: f32,
    widths: Vec<f32>,
}

fn read(bytes: &'static [u8]) -> Option<Face> {
    let font = FontRef::try_from_slice(bytes).ok()?;
    let units = font.units_per_em()?;
    let mut widths = vec![FOREIGN_WIDTH; LAST_LETTER];
    for (glyph, letter) in font.codepoint_ids() {
        if let Some(width) = widths.get_mut(letter as usize) {
            *width = font.h_advance_unscaled(glyph) / units;
        }
    }
    Some(Face { height_per_size: font.height_unscaled() / units, font, widths })
}

/// The font in one weight.
pub fn face(weight: FontWeight) -> Result<&'static Face, ChartError> {
    static FACES: OnceLock<[Option<Face>; 2]> = OnceLock::new();
    let faces = FACES.get_or_init(|| [read(REGULAR), read(BOLD)]);
    match weight {
        FontWeight::Regular => faces[0].as_ref(),
        FontWeight::Bold => faces[1].as_ref(),
    }
    .ok_or(ChartError::Font)
}

/// The font file of one weight.
pub fn bytes(weight: FontWeight) -> &'static [u8] {
    match weight {
        FontWeight::Regular => REGULAR,
        FontWeight::Bold => BOLD,
    }
}

/// Width of one line of text in points.
pub fn width(text: &str, size: f64, weight: FontWeight) -> f64 {
    let Ok(face) = face(weight) else {
        return text.chars().count() as f64 * size * f64::from(FOREIGN_WIDTH);
    };
    let sum: f32 = text
        .chars()
        .map(|letter| {
            let code = letter as usize;
            match face.widths.get(code) {
                Some(width) => *width,
                None if code >= 0x2e80 => SQUARE_WIDTH,
                None => FOREIGN_WIDTH,
            }
        })
        .sum();
    f64::from(sum) * size
}

/// Distance from the upper edge of a line of text to its baseline, capitals centred in the line.
pub fn baseline(size: f64, line_height: f64) -> f64 {
    (line_height + 0.73 * size) / 2.0
}

/// Text as it may stand on a chart: one line, no control characters, none of the two codes XML forbids.
pub fn clean(text: &str) -> String {
    text.chars()
        .map(|letter| match letter {
            c if c.is_control() || c == '\u{2028}' || c == '\u{2029}' => ' ',
            '\u{fffe}' | '\u{ffff}' => '?',
            c => c,
        })
        .collect()
}

/// Breaks a text into lines no wider than `limit`, between words where possible.
pub fn wrap(text: &str, size: f64, weight: FontWeight, limit: f64) -> Vec<String> {
    let text = clean(text);
    let mut lines = Vec::new();
    let mut line = String::new();
    // Not split_whitespace: a no-break space must keep its words together.
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width(&longer, size, weight) <= limit {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if width(&line, size, weight) > limit && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(letter);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// The style rule that carries the chart font, for a page that holds many charts made without it.
pub fn font_face_css() -> String {
    static CSS: OnceLock<String> = OnceLock::new();
    CSS.get_or_init(|| {
        [(REGULAR_PACKED, 400), (BOLD_PACKED, 700)]
            .iter()
            .map(|(bytes, weight)| {
                format!(
                    "@font-face{{font-family:\"Slowcorner Chart\";font-weight:{weight};\
                     src:url(data:font/woff2;base64,{}) format(\"woff2\")}}\n",
                    base64(bytes)
                )
            })
            .collect()
    })
    .clone()
}

/// Bytes as text in the base-64 alphabet (RFC 4648, section 4).
pub fn base64(bytes: &[u8]) -> String {
    const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let at = |i: usize| u32::from(chunk.get(i).copied().unwrap_or(0));
        let word = at(0) << 16 | at(1) << 8 | at(2);
        for place in 0..4 {
            if place <= chunk.len() {
                let digit = (word >> (18 - 6 * place)) as usize & 63;
                out.push(char::from(ALPHABET[digit]));
            } else {
                out.push('=');
            }
        }
    }
    out
}
