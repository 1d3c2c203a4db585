//! The finished layout: a list of simple shapes and texts, in drawing order, that both writers draw.

use super::colour::Colour;
use super::error::ChartError;
use super::font::{self, FontWeight};
use super::geometry::Point;
#[cfg(test)]
use super::geometry::Rect;

/// Which part of a text stands at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    Start,
    Middle,
    End,
}

/// One thing to draw.
#[derive(Debug, Clone)]
pub enum DrawnItem {
    /// A filled polygon.
    Fill { points: Vec<Point>, colour: Colour, opacity: f64 },
    /// A polyline; `dash` holds lengths of stroke and gap, empty for a solid line.
    Stroke { points: Vec<Point>, colour: Colour, width: f64, dash: &'static [f64] },
    /// A filled disc.
    Dot { centre: Point, radius: f64, colour: Colour },
    /// One line of text; `at` lies on its baseline.
    Text { at: Point, anchor: Anchor, size: f64, weight: FontWeight, colour: Colour, text: String },
}

/// How a text looks.
#[derive(Debug, Clone, Copy)]
pub struct TextLook {
    pub size: f64,
    pub weight: FontWeight,
    pub colour: Colour,
}

impl TextLook {
    pub fn line_height(&self) -> f64 {
        (self.size * 1.28).round()
    }

    pub fn width(&self, text: &str) -> f64 {
        font::width(text, self.size, self.weight)
    }

    pub fn wrap(&self, text: &str, width: f64) -> Vec<String> {
        font::wrap(text, self.size, self.weight, width)
    }

    /// The same number of lines, but of like length: no lone word on the last.
    pub fn wrap_evenly(&self, text: &str, width: f64) -> Vec<String> {
        let mut lines = self.wrap(text, width);
        let (mut low, mut high) = (width / 2.0, width);
        if lines.len() < 2 {
            return lines;
        }
        while high - low > 4.0 {
            let middle = (low + high) / 2.0;
            let narrower = self.wrap(text, middle);
            if narrower.len() == lines.len() {
                (lines, high) = (narrower, middle);
            } else {
                low = middle;
            }
        }
        lines
    }
}

/// No picture is drawn larger than this, in square points: a PNG takes 48 bytes for each while it is drawn.
const LARGEST: f64 = 6e6;
/// A picture ready to be written.
#[derive(Debug, Clone)]
pub struct Scene {
    pub width: f64,
    pub height: f64,
    pub title: String,
    pub description: String,
    pub items: Vec<DrawnItem>,
}

impl Scene {
    /// The scene, unless it is past all sense: asked before memory is asked for it.
    ///
    /// # Errors
    /// [`ChartError::TooLarge`].
    pub fn checked(self) -> Result<Self, ChartError> {
        if self.width * self.height <= LARGEST {
            return Ok(self);
        }
        Err(ChartError::TooLarge { width: self.width, height: self.height, limit: LARGEST })
    }

    pub fn fill(&mut self, points: Vec<Point>, colour: Colour) {
        self.glaze(points, colour, 1.0);
    }

    pub fn glaze(&mut self, points: Vec<Point>, colour: Colour, opacity: f64) {
        if points.len() > 2 {
            self.items.push(DrawnItem::Fill { points, colour, opacity });
        }
    }

    pub fn stroke(&mut self, points: Vec<Point>, colour: Colour, width: f64, dash: &'static [f64]) {
        if points.len() > 1 {
            self.items.push(DrawnItem::Stroke { points, colour, width, dash });
        }
    }

    pub fn line(&mut self, from: Point, to: Point, colour: Colour, width: f64) {
        self.stroke(vec![from, to], colour, width, &[]);
    }

    pub fn dot(&mut self, centre: Point, radius: f64, colour: Colour) {
        self.items.push(DrawnItem::Dot { centre, radius, colour });
    }

    pub fn text(&mut self, at: Point, anchor: Anchor, look: TextLook, text: &str) {
        if !text.is_empty() {
            self.items.push(DrawnItem::Text {
                at,
                anchor,
                size: look.size,
                weight: look.weight,
                colour: look.colour,
                text: text.to_owned(),
            });
        }
    }

    /// Lines of text one under the other, the first one's upper edge at `top`; returns the lower edge.
    pub fn block(&mut self, lines: &[String], x: f64, top: f64, anchor: Anchor, look: TextLook) -> f64 {
        let height = look.line_height();
        for (row, line) in lines.iter().enumerate() {
            let baseline = top + row as f64 * height + font::baseline(look.size, height);
            self.text((x, baseline), anchor, look, line);
        }
        top + lines.len() as f64 * height
    }

    /// The boxes of all texts, ink of capitals and descenders included.
    #[cfg(test)]
    pub fn text_boxes(&self) -> Vec<(String, Rect)> {
        self.items
            .iter()
            .filter_map(|item| match item {
                DrawnItem::Text { at, anchor, size, weight, text, .. } => {
                    Some((text.clone(), text_box(*at, *anchor, font::width(text, *size, *weight), *size)))
                }
                _ => None,
            })
            .collect()
    }
}

#[cfg(test)]
/// The box of a text with its baseline at `at`: capitals reach 0.73 of the size up, descenders 0.21 down.
pub fn text_box(at: Point, anchor: Anchor, width: f64, size: f64) -> Rect {
    let left = match anchor {
        Anchor::Start => at.0,
        Anchor::Middle => at.0 - width / 2.0,
        Anchor::End => at.0 - width,
    };
    Rect { left, top: at.1 - 0.73 * size, right: left + width, bottom: at.1 + 0.21 * size }
}
