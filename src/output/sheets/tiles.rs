//! A drawing on one page, or on several that overlap.

use super::Paper;
use super::drawing::OpeningDrawing;
use super::frame::{PageFrame, Tile};
use super::scene::{Page, SheetItem, SheetLayer, Stroke, THIN, TextAnchor};
use crate::output::scene::font::{FontWeight, width};
use crate::study::templates::result::{Template, TemplateHand};

/// Pages overlap by this (mm).
const OVERLAP: f64 = 15.0;
/// A crossing mark reaches so far to all sides (mm).
const CROSS: f64 = 5.0;

/// The pages of an opening: one where it fits upright or turned, else as few as will do.
pub(super) fn pages(template: &Template, hand: TemplateHand, paper: Paper) -> Vec<Tile> {
    let window = PageFrame::new(paper).window();
    let pieces = |drawing: &OpeningDrawing| {
        let one = |need: f64, room: f64| -> usize {
            if need <= room { 1 } else { ((need - OVERLAP) / (room - OVERLAP)).ceil() as usize }
        };
        (one(drawing.bounds.height(), window.3), one(drawing.bounds.width(), window.2))
    };
    let upright = OpeningDrawing::new(template, hand, false);
    let turned = OpeningDrawing::new(template, hand, true);
    let count = |(rows, columns): (usize, usize)| rows * columns;
    let drawing = if count(pieces(&turned)) < count(pieces(&upright)) { turned } else { upright };
    let (rows, columns) = pieces(&drawing);
    let mut pages = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            pages.push(tile(&drawing, window, (row, column), (rows, columns)));
        }
    }
    pages
}

/// What a text takes up: left, bottom, right, top.
struct TextBox(f64, f64, f64, f64);

impl TextBox {
    fn of(item: &SheetItem) -> Option<TextBox> {
        let SheetItem::Text { at, size, bold, anchor, text, .. } = item else { return None };
        let weight = if *bold { FontWeight::Bold } else { FontWeight::Regular };
        let long = width(text, *size, weight);
        let left = match anchor {
            TextAnchor::Start => at.0,
            TextAnchor::Middle => at.0 - 0.5 * long,
            TextAnchor::End => at.0 - long,
        };
        Some(TextBox(left, at.1, left + long, at.1 + size))
    }

    fn width(&self) -> f64 {
        self.2 - self.0
    }

    fn lies_within(&self, (left, bottom, right, top): (f64, f64, f64, f64)) -> bool {
        self.0 >= left && self.1 >= bottom && self.2 <= right && self.3 <= top
    }

    /// Whether a mark that reaches so far to all sides meets it.
    fn meets(&self, (x, y): (f64, f64), reach: f64) -> bool {
        self.0 < x + reach && self.2 > x - reach && self.1 < y + reach && self.3 > y - reach
    }
}

fn tile(
    drawing: &OpeningDrawing,
    window: (f64, f64, f64, f64),
    at: (usize, usize),
    of: (usize, usize),
) -> Tile {
    let (left, bottom, width, height) = window;
    let (step_x, step_y) = (width - OVERLAP, height - OVERLAP);
    let bounds = drawing.bounds;
    // the whole of what the pages cover lies about the middle of the drawing
    let covered = (width + step_x * (of.1 - 1) as f64, height + step_y * (of.0 - 1) as f64);
    let corner = (
        0.5 * (bounds.left + bounds.right) - 0.5 * covered.0,
        0.5 * (bounds.bottom + bounds.top) - 0.5 * covered.1,
    );
    let shift =
        (left - corner.0 - step_x * at.1 as f64, bottom - corner.1 - step_y * (of.0 - 1 - at.0) as f64);
    let all: Vec<SheetItem> = drawing.items.iter().map(|item| item.moved(shift.0, shift.1)).collect();
    let texts: Vec<TextBox> = all.iter().filter_map(TextBox::of).collect();
    // a short word that an edge would cut stands whole on the page beside
    let inner = (left, bottom, left + width, bottom + height);
    let is_cut = |item: &SheetItem| {
        TextBox::of(item).is_some_and(|text| text.width() < OVERLAP && !text.lies_within(inner))
    };
    let mut drawn: Vec<SheetItem> = all.into_iter().filter(|item| of == (1, 1) || !is_cut(item)).collect();
    let middle = 0.5 * OVERLAP;
    // both pages of an overlap look for room in the same steps, and find the same
    let free = |place: f64, at: &dyn Fn(f64) -> (f64, f64)| {
        let tries = [0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0].map(|aside| place + aside);
        let is_free = |place: &f64| texts.iter().all(|text| !text.meets(at(*place), CROSS));
        tries.into_iter().find(is_free).unwrap_or(place)
    };
    // crossing marks lie in the middle of an overlap, on both of its pages
    let mut cross = |x: f64, y: f64| {
        let mark = Stroke::solid(0.25);
        drawn.push(SheetItem::line(SheetLayer::Marks, (x - CROSS, y), (x + CROSS, y), mark));
        drawn.push(SheetItem::line(SheetLayer::Marks, (x, y - CROSS), (x, y + CROSS), mark));
        let circle = crate::outline::shapes::drawn(crate::outline::shapes::OutlineForm::Oval, 5.0, 5.0);
        drawn.push(SheetItem::Outline {
            layer: SheetLayer::Marks,
            outline: circle.moved(x, y),
            stroke: THIN,
        });
    };
    let along_y = [bottom + 0.2 * height, bottom + 0.8 * height];
    let along_x = [left + 0.2 * width, left + 0.8 * width];
    let mut upright = |x: f64| along_y.iter().for_each(|y| cross(x, free(*y, &|y| (x, y))));
    if at.1 > 0 {
        upright(left + middle);
    }
    if at.1 + 1 < of.1 {
        upright(left + width - middle);
    }
    let mut level = |y: f64| along_x.iter().for_each(|x| cross(free(*x, &|x| (x, y)), y));
    if at.0 > 0 {
        level(bottom + height - middle);
    }
    if at.0 + 1 < of.0 {
        level(bottom + middle);
    }
    let mut framed = Vec::new();
    if of != (1, 1) {
        let corners = [
            (left, bottom),
            (left + width, bottom),
            (left + width, bottom + height),
            (left, bottom + height),
            (left, bottom),
        ];
        framed.push(SheetItem::Line { layer: SheetLayer::Marks, points: corners.to_vec(), stroke: THIN });
        framed.push(SheetItem::Text {
            layer: SheetLayer::Text,
            at: (left + width, bottom + height + 0.8),
            size: 2.1,
            bold: true,
            anchor: TextAnchor::End,
            text: format!(
                "row {} of {}, column {} of {}: trim one edge of each overlap of 15 mm, lay the crosses on one another",
                at.0 + 1,
                of.0,
                at.1 + 1,
                of.1
            ),
        });
    }
    Tile { page: Page { window, drawn, framed }, turned: drawing.turned }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::Extents;

    fn text(at: (f64, f64), text: &str) -> SheetItem {
        let (layer, anchor) = (SheetLayer::Text, TextAnchor::Start);
        SheetItem::Text { layer, at, size: 2.2, bold: false, anchor, text: text.to_string() }
    }

    /// Two pages of 100 mm side by side: one word lies under the right edge of the first, another where a cross would stand.
    #[test]
    fn a_word_is_whole_on_one_page_and_free_of_crosses() {
        let drawing = OpeningDrawing {
            items: vec![text((96.0, 50.0), "DATUM"), text((90.0, 19.0), "NEXT")],
            bounds: Extents { left: 0.0, bottom: 0.0, right: 185.0, top: 100.0 },
            turned: false,
        };
        let pages = [0, 1].map(|column| tile(&drawing, (0.0, 0.0, 100.0, 100.0), (0, column), (1, 2)).page);
        let words = |page: &Page| -> Vec<String> {
            let all = page.drawn.iter().filter_map(|item| match item {
                SheetItem::Text { text, .. } => Some(text.clone()),
                _ => None,
            });
            all.collect()
        };
        assert_eq!(words(&pages[0]), ["NEXT"]);
        assert_eq!(words(&pages[1]), ["DATUM", "NEXT"]);
        let heights = |page: &Page| -> Vec<f64> {
            let all = page.drawn.iter().filter_map(|item| match item {
                SheetItem::Line { points, .. } if points[0].1 == points[1].1 => Some(points[0].1),
                _ => None,
            });
            all.collect()
        };
        // the crosses of both pages lie on one another, clear of the word
        assert_eq!(heights(&pages[0]), heights(&pages[1]));
        assert_eq!(heights(&pages[0]), [28.0, 80.0]);
    }
}
