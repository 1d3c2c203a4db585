//! A drawing as SVG in millimetres, a group for each layer.

use super::drawing::{OpeningDrawing, SQUARE};
use super::scene::{SheetItem, SheetLayer, Stroke, TextAnchor};
use crate::outline::Side;
use std::fmt::Write;

/// White round the drawing (mm).
const ROUND: f64 = 5.0;
/// From the drawing to the square (mm).
const APART: f64 = 8.0;

/// A drawing with its square to be measured, and what the file says of itself.
pub(super) fn document(drawing: &OpeningDrawing, named: &[String]) -> String {
    let bounds = drawing.bounds;
    let left = bounds.left.min(-0.5 * SQUARE) - ROUND;
    let right = bounds.right.max(0.5 * SQUARE) + ROUND;
    let top = bounds.top + ROUND + 4.0 * named.len() as f64;
    let bottom = bounds.bottom - APART - SQUARE - ROUND;
    let (width, height) = (right - left, top - bottom);
    let mut items = drawing.items.clone();
    items.push(square(bounds.bottom - APART));
    for (index, line) in named.iter().enumerate() {
        items.push(SheetItem::text((left + ROUND, top - ROUND - 4.0 * index as f64), 3.0, line.clone()));
    }
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.3}mm\" height=\"{height:.3}mm\" viewBox=\"{left:.3} {:.3} {width:.3} {height:.3}\">\n",
        -top
    );
    let _ = writeln!(out, "<title>{}</title>", escaped(&named.join(", ")));
    for layer in SheetLayer::ALL {
        let own: Vec<&SheetItem> = items.iter().filter(|item| layer_of(item) == layer).collect();
        if own.is_empty() {
            continue;
        }
        let _ = writeln!(out, "<g id=\"{}\" fill=\"none\" stroke=\"black\">", layer.name());
        own.iter().for_each(|item| draw(&mut out, item));
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

/// The square of 100 mm under a height.
pub(super) fn square(top: f64) -> SheetItem {
    let half = 0.5 * SQUARE;
    let outline = crate::outline::shapes::drawn(
        crate::outline::shapes::OutlineForm::Rectangle { corner: 0.0 },
        SQUARE,
        SQUARE,
    );
    SheetItem::Outline {
        layer: SheetLayer::Scale,
        outline: outline.moved(0.0, top - half),
        stroke: Stroke::solid(0.25),
    }
}

pub(super) fn layer_of(item: &SheetItem) -> SheetLayer {
    match item {
        SheetItem::Line { layer, .. }
        | SheetItem::Outline { layer, .. }
        | SheetItem::Filled { layer, .. }
        | SheetItem::Text { layer, .. } => *layer,
    }
}

fn escaped(text: &str) -> String {
    let text: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

fn style(stroke: &Stroke) -> String {
    let mut style = format!("stroke-width=\"{}\"", stroke.width);
    if !stroke.dashes.is_empty() {
        let dashes: Vec<String> = stroke.dashes.iter().map(f64::to_string).collect();
        let _ = write!(style, " stroke-dasharray=\"{}\"", dashes.join(" "));
    }
    style
}

fn draw(out: &mut String, item: &SheetItem) {
    let _ = match item {
        SheetItem::Line { points, stroke, .. } => {
            writeln!(out, "<path d=\"{}\" {}/>", path(points), style(stroke))
        }
        SheetItem::Filled { points, .. } => {
            writeln!(out, "<path d=\"{}Z\" fill=\"black\" stroke=\"none\"/>", path(points))
        }
        SheetItem::Outline { outline, stroke, .. } => {
            let mut d = String::new();
            for (index, side) in outline.sides().enumerate() {
                let (Side::Line { from, .. } | Side::Arc { from, .. }) = side;
                if index == 0 {
                    let _ = write!(d, "M{:.4} {:.4}", from.0, -from.1);
                }
                let _ = match side {
                    Side::Line { to, .. } => write!(d, "L{:.4} {:.4}", to.0, -to.1),
                    Side::Arc { to, radius, sweep, .. } => {
                        let large = u8::from(sweep.abs() > std::f64::consts::PI);
                        // y points down here: what turns left turns the other way
                        let turn = u8::from(sweep < 0.0);
                        write!(d, "A{radius:.5} {radius:.5} 0 {large} {turn} {:.4} {:.4}", to.0, -to.1)
                    }
                };
            }
            writeln!(out, "<path d=\"{d}Z\" {}/>", style(stroke))
        }
        SheetItem::Text { at, size, bold, anchor, text, .. } => {
            let anchor = match anchor {
                TextAnchor::Start => "start",
                TextAnchor::Middle => "middle",
                TextAnchor::End => "end",
            };
            let weight = if *bold { " font-weight=\"bold\"" } else { "" };
            writeln!(
                out,
                "<text x=\"{:.3}\" y=\"{:.3}\" font-size=\"{size}\"{weight} font-family=\"sans-serif\" text-anchor=\"{anchor}\" fill=\"black\" stroke=\"none\">{}</text>",
                at.0,
                -at.1,
                escaped(text)
            )
        }
    };
}

fn path(points: &[(f64, f64)]) -> String {
    let mut d = String::new();
    for (index, (x, y)) in points.iter().enumerate() {
        let _ = write!(d, "{}{x:.4} {:.4}", if index == 0 { 'M' } else { 'L' }, -y);
    }
    d
}
