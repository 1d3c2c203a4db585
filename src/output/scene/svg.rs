//! Writes a scene as SVG.
//!
//! The shapes are drawn by the plotting library's SVG backend, which knows whole numbers only: everything is drawn ten times as large
//! and the picture is shown through a view box of ten times its size. Its dashes would be hundreds of short lines; instead
//! dashed lines stay one line each, inside a group that carries the dash lengths.

use std::fmt::Write as _;

use plotters::backend::DrawingBackend;
use plotters::prelude::SVGBackend;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{Color, FontDesc, FontFamily, FontStyle, RGBColor, ShapeStyle};

use super::colour::Colour;
use super::drawing::{Anchor, DrawnItem, Scene};
use super::error::ChartError;
use super::font::{self, FontWeight};
use super::geometry::Point;

/// Drawn units to a point.
const FINE: f64 = 10.0;
/// The backend writes a size divided by this, its guess of what a size without line spacing is.
const BACKEND_SIZE_FACTOR: f64 = 1.24;
/// The backend writes a text hung by its upper edge this part of the size below where it was put.
const BACKEND_DROP: f64 = 0.76;

/// The scene as an SVG document, with the font inside or left to the page around it.
pub fn render(scene: &Scene, with_font: bool) -> Result<String, ChartError> {
    let (width, height) = (scene.width.ceil(), scene.height.ceil());
    let mut out = String::with_capacity(1 << 17);
    // Writing to a string cannot fail.
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{}\" stroke-linejoin=\"round\" \
         text-rendering=\"geometricPrecision\">",
        width * FINE,
        height * FINE,
        escaped(&scene.title)
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&scene.title));
    let _ = writeln!(out, "<desc>{}</desc>", escaped(&scene.description));
    if with_font {
        let _ = writeln!(out, "<style>{}</style>", font::font_face_css());
    }
    let _ = writeln!(out, "<rect width=\"100%\" height=\"100%\" fill=\"#FFFFFF\"/>");

    let mut rest = &scene.items[..];
    while let Some(first) = rest.first() {
        let dash = dash_of(first);
        let run = rest.iter().take_while(|item| dash_of(item) == dash).count();
        let (group, after) = rest.split_at(run);
        if dash.is_empty() {
            out.push_str(&fragment(group, (width, height))?);
        } else {
            let lengths: Vec<String> = dash.iter().map(|d| (d * FINE).round().to_string()).collect();
            let _ = writeln!(out, "<g stroke-dasharray=\"{}\">", lengths.join(" "));
            out.push_str(&fragment(group, (width, height))?);
            out.push_str("</g>\n");
        }
        rest = after;
    }
    out.push_str("</svg>\n");
    Ok(out)
}

fn dash_of(item: &DrawnItem) -> &'static [f64] {
    match item {
        DrawnItem::Stroke { dash, .. } => dash,
        _ => &[],
    }
}

/// The backend's elements for some items, without the document it writes around them.
fn fragment(items: &[DrawnItem], size: (f64, f64)) -> Result<String, ChartError> {
    let mut text = String::with_capacity(items.len() * 128);
    {
        let whole = ((size.0 * FINE) as u32, (size.1 * FINE) as u32);
        let mut backend = SVGBackend::with_string(&mut text, whole);
        for item in items {
            draw(&mut backend, item).map_err(|error| ChartError::Drawing(error.to_string()))?;
        }
        backend.present().map_err(|error| ChartError::Drawing(error.to_string()))?;
    }
    let inner = text.find(">\n").map_or(0, |end| end + 2);
    let end = text.rfind("</svg>").unwrap_or(text.len());
    // Full strength is what SVG takes for granted. Quotes inside texts are escaped, so this finds attributes only.
    Ok(text[inner..end].replace(" opacity=\"1\"", ""))
}

fn draw(backend: &mut SVGBackend<'_>, item: &DrawnItem) -> Result<(), ChartError> {
    match item {
        DrawnItem::Fill { points, colour, opacity } => {
            let style = ShapeStyle::from(rgb(*colour).mix(*opacity)).filled();
            backend.fill_polygon(whole(points), &style)
        }
        DrawnItem::Stroke { points, colour, width, .. } => {
            let style = ShapeStyle::from(rgb(*colour)).stroke_width((width * FINE).round() as u32);
            backend.draw_path(whole(points), &style)
        }
        DrawnItem::Dot { centre, radius, colour } => {
            let style = ShapeStyle::from(rgb(*colour)).filled();
            backend.draw_circle(fine(*centre), (radius * FINE).round() as u32, &style, true)
        }
        DrawnItem::Text { at, anchor, size, weight, colour, text } => {
            let style = match weight {
                FontWeight::Regular => FontStyle::Normal,
                FontWeight::Bold => FontStyle::Bold,
            };
            let across = match anchor {
                Anchor::Start => HPos::Left,
                Anchor::Middle => HPos::Center,
                Anchor::End => HPos::Right,
            };
            let family = FontFamily::Name(font::FAMILY);
            let look = FontDesc::new(family, backend_size(size * FINE), style)
                .color(&rgb(*colour))
                .pos(Pos::new(across, VPos::Top));
            backend.draw_text(text, &look, fine((at.0, at.1 - BACKEND_DROP * size)))
        }
    }
    .map_err(|error| ChartError::Drawing(error.to_string()))
}

pub fn rgb(colour: Colour) -> RGBColor {
    RGBColor(colour.0, colour.1, colour.2)
}

fn fine(point: Point) -> (i32, i32) {
    // A float past the range of i32 turns into its end, not into nonsense.
    ((point.0 * FINE).round() as i32, (point.1 * FINE).round() as i32)
}

/// Whole coordinates, points that fall together written once.
fn whole(points: &[Point]) -> Vec<(i32, i32)> {
    let mut out: Vec<(i32, i32)> = points.iter().map(|point| fine(*point)).collect();
    out.dedup();
    out
}

/// The size to ask for so that the backend writes `size` itself and not the float next to it.
fn backend_size(size: f64) -> f64 {
    let near = size * BACKEND_SIZE_FACTOR;
    [near, near.next_up(), near.next_down()]
        .into_iter()
        .find(|asked| asked / BACKEND_SIZE_FACTOR == size)
        .unwrap_or(near)
}

/// Text made safe to stand in XML.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in font::clean(text).chars() {
        match letter {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&apos;"),
            other => out.push(other),
        }
    }
    out
}
