//! Writes a scene as PNG, two pixels to a point.
//!
//! Shapes are drawn by the plotting library's bitmap backend at twice that size again and averaged down, which smooths their edges.
//! Texts are drawn straight into the finished pixels: the backend puts every letter at the left end of its own ink
//! instead of at its place, which makes words uneven.

use ab_glyph::{Font, PxScale, point};
use plotters::backend::{BitMapBackend, DrawingBackend};
use plotters::style::{Color, ShapeStyle};
use rayon::prelude::*;

use super::colour::Colour;
use super::drawing::{Anchor, Item, Scene};
use super::error::ChartError;
use super::font;
use super::geometry::{Point, dashes};
use super::svg::rgb;

/// Pixels to a point in the finished picture.
pub const SHARP: usize = 2;
/// Pixels to a point while shapes are drawn.
const FINE: usize = 2 * SHARP;

/// The scene as the bytes of a PNG file.
pub fn render(scene: &Scene) -> Result<Vec<u8>, ChartError> {
    let (width, height) = (scene.width.ceil() as usize, scene.height.ceil() as usize);
    let mut fine = vec![255_u8; width * FINE * height * FINE * 3];
    {
        let size = ((width * FINE) as u32, (height * FINE) as u32);
        let mut backend = BitMapBackend::with_buffer(&mut fine, size);
        for item in &scene.items {
            draw(&mut backend, item)?;
        }
    }
    let mut pixels =
        Pixels { width: width * SHARP, height: height * SHARP, bytes: halved(&fine, width * FINE) };
    drop(fine);
    for item in &scene.items {
        pixels.text(item)?;
    }
    pack(&pixels)
}

fn draw(backend: &mut BitMapBackend<'_>, item: &Item) -> Result<(), ChartError> {
    let scale = FINE as f64;
    match item {
        Item::Fill { points, colour, opacity } => {
            let style = ShapeStyle::from(rgb(*colour).mix(*opacity)).filled();
            backend.fill_polygon(whole(points), &style)
        }
        Item::Stroke { points, colour, width, dash } => {
            let style = ShapeStyle::from(rgb(*colour)).stroke_width(((width * scale).round() as u32).max(1));
            for piece in dashes(points, dash) {
                stroke(backend, &whole(&piece), &style)?;
            }
            Ok(())
        }
        Item::Dot { centre, radius, colour } => {
            let style = ShapeStyle::from(rgb(*colour)).filled();
            backend.draw_circle(whole(&[*centre])[0], (radius * scale).round() as u32, &style, true)
        }
        Item::Text { .. } => Ok(()),
    }
    .map_err(|error| ChartError::Drawing(error.to_string()))
}

/// Draws a line, broken at sharp corners: the backend's outline of a wide line turns inside out there.
fn stroke(
    backend: &mut BitMapBackend<'_>,
    points: &[(i32, i32)],
    style: &ShapeStyle,
) -> Result<(), ChartError> {
    let reach = (style.stroke_width as i32 / 2).max(1);
    let mut kept: Vec<(i32, i32)> = Vec::with_capacity(points.len());
    for (i, point) in points.iter().enumerate() {
        let near = kept.last().is_some_and(|last: &(i32, i32)| {
            (last.0 - point.0).abs() < reach && (last.1 - point.1).abs() < reach
        });
        if near && i + 1 == points.len() && kept.len() > 1 {
            kept.pop();
        }
        if !near || i + 1 == points.len() {
            kept.push(*point);
        }
    }
    kept.dedup();
    let mut from = 0;
    for at in 1..kept.len() {
        let end = at + 1 == kept.len();
        if end || sharp(kept[at - 1], kept[at], kept[at + 1]) {
            backend
                .draw_path(kept[from..=at].iter().copied(), style)
                .map_err(|error| ChartError::Drawing(error.to_string()))?;
            if !end && reach > 2 {
                backend
                    .draw_circle(kept[at], reach as u32, &style.filled(), true)
                    .map_err(|error| ChartError::Drawing(error.to_string()))?;
            }
            from = at;
        }
    }
    Ok(())
}

/// Whether the line turns by more than 60° at `b`.
fn sharp(a: (i32, i32), b: (i32, i32), c: (i32, i32)) -> bool {
    let (p, q) = ((f64::from(b.0 - a.0), f64::from(b.1 - a.1)), (f64::from(c.0 - b.0), f64::from(c.1 - b.1)));
    p.0 * q.0 + p.1 * q.1 < 0.5 * p.0.hypot(p.1) * q.0.hypot(q.1)
}

fn whole(points: &[Point]) -> Vec<(i32, i32)> {
    let scale = FINE as f64;
    let fine = |value: f64| (value * scale).round() as i32;
    let mut out: Vec<(i32, i32)> = points.iter().map(|p| (fine(p.0), fine(p.1))).collect();
    out.dedup();
    out
}

/// Bytes of four fine pixels twice over: the stretch in which blank paper is looked for.
const STRETCH: usize = 48;

/// Every two by two pixels averaged into one.
fn halved(fine: &[u8], fine_width: usize) -> Vec<u8> {
    let row = fine_width * 3;
    let mut out = vec![255_u8; fine.len() / 4];
    let pairs = fine.par_chunks_exact(2 * row).zip(out.par_chunks_exact_mut(row / 2));
    pairs.with_min_len(64).for_each(|(two_rows, line)| {
        let (upper, lower) = two_rows.split_at(row);
        let stretches = upper.chunks(STRETCH).zip(lower.chunks(STRETCH));
        for ((a, b), line) in stretches.zip(line.chunks_mut(STRETCH / 2)) {
            // Most of a chart is blank, and blank stretches already stand there.
            if a == [255; STRETCH] && b == [255; STRETCH] {
                continue;
            }
            for ((a, b), pixel) in a.chunks_exact(6).zip(b.chunks_exact(6)).zip(line.chunks_exact_mut(3)) {
                for part in 0..3 {
                    let sum = [a[part], a[part + 3], b[part], b[part + 3]].map(u16::from).iter().sum::<u16>();
                    pixel[part] = ((sum + 2) / 4) as u8;
                }
            }
        }
    });
    out
}

/// The finished picture: red, green, blue of each pixel, row by row.
struct Pixels {
    width: usize,
    height: usize,
    bytes: Vec<u8>,
}

impl Pixels {
    fn text(&mut self, item: &Item) -> Result<(), ChartError> {
        let Item::Text { at, anchor, size, weight, colour, text } = item else {
            return Ok(());
        };
        let face = font::face(*weight)?;
        let sharp = SHARP as f32;
        let scale = PxScale::from(*size as f32 * sharp * face.height_per_size);
        let start = match anchor {
            Anchor::Start => at.0,
            Anchor::Middle => at.0 - font::width(text, *size, *weight) / 2.0,
            Anchor::End => at.0 - font::width(text, *size, *weight),
        };
        // On whole pixels up and down, so that the feet of letters are crisp; across they keep their exact places.
        let baseline = (at.1 as f32 * sharp).round();
        let mut pen = start as f32 * sharp;
        for letter in text.chars() {
            let glyph = face.font.glyph_id(letter).with_scale_and_position(scale, point(pen, baseline));
            if let Some(outline) = face.font.outline_glyph(glyph) {
                let corner = outline.px_bounds().min;
                outline.draw(|x, y, cover| {
                    self.blend(
                        corner.x as i64 + i64::from(x),
                        corner.y as i64 + i64::from(y),
                        *colour,
                        cover,
                    );
                });
            }
            pen += font::width(letter.encode_utf8(&mut [0; 4]), *size, *weight) as f32 * sharp;
        }
        Ok(())
    }

    fn blend(&mut self, x: i64, y: i64, colour: Colour, cover: f32) {
        if x < 0 || y < 0 || x >= self.width as i64 || y >= self.height as i64 {
            return;
        }
        let at = (y as usize * self.width + x as usize) * 3;
        let cover = cover.clamp(0.0, 1.0);
        for (byte, ink) in self.bytes[at..at + 3].iter_mut().zip([colour.0, colour.1, colour.2]) {
            let mixed = f32::from(*byte) + (f32::from(ink) - f32::from(*byte)) * cover;
            *byte = mixed.round() as u8;
        }
    }
}

fn pack(pixels: &Pixels) -> Result<Vec<u8>, ChartError> {
    let failed = |error: png::EncodingError| ChartError::Packing(error.to_string());
    let mut out = Vec::with_capacity(1 << 18);
    let mut encoder = png::Encoder::new(&mut out, pixels.width as u32, pixels.height as u32);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    // Two pixels to a point at 96 points to the inch.
    let per_metre = (SHARP as f64 * 96.0 / 0.0254).round() as u32;
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    let mut writer = encoder.write_header().map_err(failed)?;
    writer.write_image_data(&pixels.bytes).map_err(failed)?;
    writer.finish().map_err(failed)?;
    Ok(out)
}
