//! A drawing on one page, or on several that overlap.

use super::Paper;
use super::drawing::OpeningDrawing;
use super::frame::{PageFrame, Tile};
use super::scene::{Page, SheetItem, SheetLayer, Stroke, THIN, TextAnchor};
use crate::study::templates::result::{Template, TemplateHand};

/// Pages overlap by this (mm).
const OVERLAP: f64 = 15.0;

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
    let mut drawn: Vec<SheetItem> = drawing.items.iter().map(|item| item.moved(shift.0, shift.1)).collect();
    let middle = 0.5 * OVERLAP;
    // crossing marks lie in the middle of an overlap, on both of its pages
    let mut cross = |x: f64, y: f64| {
        let mark = Stroke::solid(0.25);
        drawn.push(SheetItem::line(SheetLayer::Marks, (x - 5.0, y), (x + 5.0, y), mark));
        drawn.push(SheetItem::line(SheetLayer::Marks, (x, y - 5.0), (x, y + 5.0), mark));
        let circle = crate::outline::shapes::drawn(crate::outline::shapes::OutlineForm::Oval, 5.0, 5.0);
        drawn.push(SheetItem::Outline {
            layer: SheetLayer::Marks,
            outline: circle.moved(x, y),
            stroke: THIN,
        });
    };
    let along_y = [bottom + 0.2 * height, bottom + 0.8 * height];
    let along_x = [left + 0.2 * width, left + 0.8 * width];
    if at.1 > 0 {
        along_y.iter().for_each(|y| cross(left + middle, *y));
    }
    if at.1 + 1 < of.1 {
        along_y.iter().for_each(|y| cross(left + width - middle, *y));
    }
    if at.0 > 0 {
        along_x.iter().for_each(|x| cross(*x, bottom + height - middle));
    }
    if at.0 + 1 < of.0 {
        along_x.iter().for_each(|x| cross(*x, bottom + middle));
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
