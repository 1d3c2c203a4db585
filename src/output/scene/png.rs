//! Writes a scene as PNG, two pixels to a point: shapes by the share of each pixel that they cover, texts straight from the
//! outlines of their letters.

use ab_glyph::{Font, PxScale, point};

use super::drawing::{Anchor, DrawnItem, Scene};
use super::error::ChartError;
use super::font;
use super::geometry::{Point, dashes};
use super::raster::Canvas;

/// Pixels to a point in the finished picture.
pub const SHARP: usize = 2;

/// The scene as the bytes of a PNG file.
pub fn render(scene: &Scene) -> Result<Vec<u8>, ChartError> {
    let pixels = |points: f64| points.ceil() as usize * SHARP;
    let mut canvas = Canvas::new(pixels(scene.width), pixels(scene.height));
    for item in &scene.items {
        draw(&mut canvas, item);
    }
    for item in &scene.items {
        text(&mut canvas, item)?;
    }
    pack(&canvas)
}

fn draw(canvas: &mut Canvas, item: &DrawnItem) {
    let scale = SHARP as f64;
    let scaled = |points: &[Point]| points.iter().map(|p| (scale * p.0, scale * p.1)).collect::<Vec<Point>>();
    match item {
        DrawnItem::Fill { points, colour, opacity } => canvas.fill(&scaled(points), *colour, *opacity),
        DrawnItem::Stroke { points, colour, width, dash } => {
            for piece in dashes(points, dash) {
                canvas.stroke(&scaled(&piece), scale * width, *colour);
            }
        }
        DrawnItem::Dot { centre, radius, colour } => {
            canvas.dot((scale * centre.0, scale * centre.1), scale * radius, *colour);
        }
        DrawnItem::Text { .. } => {}
    }
}

fn text(canvas: &mut Canvas, item: &DrawnItem) -> Result<(), ChartError> {
    let DrawnItem::Text { at, anchor, size, weight, colour, text } = item else {
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
                canvas.blend(corner.x as i64 + i64::from(x), corner.y as i64 + i64::from(y), *colour, cover);
            });
        }
        pen += font::width(letter.encode_utf8(&mut [0; 4]), *size, *weight) as f32 * sharp;
    }
    Ok(())
}

fn pack(canvas: &Canvas) -> Result<Vec<u8>, ChartError> {
    let failed = |error: png::EncodingError| ChartError::Packing(error.to_string());
    let mut out = Vec::with_capacity(1 << 18);
    let mut encoder = png::Encoder::new(&mut out, canvas.width as u32, canvas.height as u32);
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
    writer.write_image_data(&canvas.bytes).map_err(failed)?;
    writer.finish().map_err(failed)?;
    Ok(out)
}
