//! The lines of an opening with their marks, about the datum.

use super::scene::{CENTRE, DOTTED, SheetItem, SheetLayer, Stroke, THIN, TextAnchor};
use crate::outline::flat::Blank;
use crate::outline::{Extents, Outline};
use crate::study::templates::result::{LineName, Template, TemplateHand};

/// The second of the two lines beyond which nothing is cut lies so far out (mm).
pub(super) const DOUBLE: f64 = 1.2;
/// Centre lines go on beyond the largest outline (mm).
const BEYOND: f64 = 5.0;
/// Height of a label (mm).
const LABEL: f64 = 2.8;
/// From one label to the next (mm).
const LABELS: f64 = 3.4;
/// Where the leaders of the four lines stand, as shares of the smallest outline's half-width.
const LEADERS: [f64; 4] = [-0.6, -0.2, 0.2, 0.6];
/// Side of the square to be measured (mm).
pub(super) const SQUARE: f64 = 100.0;

/// An opening as it is drawn.
pub(super) struct OpeningDrawing {
    pub items: Vec<SheetItem>,
    /// What it takes up, with its labels.
    pub bounds: Extents,
    /// Whether up points to the left.
    pub turned: bool,
}

impl OpeningDrawing {
    /// A flat blank, its folds as centre lines.
    pub fn of_blank(blank: &Blank) -> OpeningDrawing {
        let outline = SheetItem::Outline {
            layer: SheetLayer::Final,
            outline: blank.outline.clone(),
            stroke: Stroke::of_line(LineName::Final),
        };
        let mut items = vec![outline];
        items.extend(
            blank.folds.iter().map(|(from, to)| SheetItem::line(SheetLayer::Marks, *from, *to, CENTRE)),
        );
        OpeningDrawing { items, bounds: blank.outline.bounds(), turned: false }
    }

    pub fn new(template: &Template, hand: TemplateHand, turned: bool) -> OpeningDrawing {
        let place = |outline: &Outline| {
            let outline = if hand == TemplateHand::Right { outline.mirrored() } else { outline.clone() };
            if turned { outline.turned() } else { outline }
        };
        let mut items = Vec::new();
        let mut all = Extents { left: 0.0, bottom: 0.0, right: 0.0, top: 0.0 };
        let outlines: Vec<(LineName, Outline)> =
            template.lines.iter().map(|line| (line.line, place(&line.hole))).collect();
        let largest = outlines.last().map_or(all, |(_, outline)| outline.bounds());
        let smallest = outlines.first().map_or(all, |(_, outline)| outline.bounds());
        for (line, outline) in &outlines {
            let (layer, stroke) = (SheetLayer::of_line(*line), Stroke::of_line(*line));
            items.push(SheetItem::Outline { layer, outline: outline.clone(), stroke });
            if layer == SheetLayer::Never {
                // beside it, on the sheet alone: a file for a machine has one line to follow
                items.push(SheetItem::Outline {
                    layer: SheetLayer::Marks,
                    outline: outline.grown(DOUBLE),
                    stroke,
                });
            }
        }
        if let Some(line) = template.lines.iter().find(|line| line.line == LineName::Final)
            && template.bonded_lip_m > 0.0
        {
            items.push(SheetItem::Outline {
                layer: SheetLayer::Marks,
                outline: place(&line.air),
                stroke: DOTTED,
            });
        }
        marks(&mut items, largest);
        let top = leaders(&mut items, &outlines, smallest, largest);
        all.left = largest.left - BEYOND - 1.0;
        all.bottom = largest.bottom - BEYOND - 1.0;
        all.right = largest.right + BEYOND + 1.0;
        all.top = top;
        OpeningDrawing { items, bounds: all, turned }
    }
}

/// Centre lines and the datum where they cross: the middle of the smallest outline, at a ramp the middle of its lip.
fn marks(items: &mut Vec<SheetItem>, largest: Extents) {
    let line = |from, to| SheetItem::line(SheetLayer::Marks, from, to, CENTRE);
    items.push(line((largest.left - BEYOND, 0.0), (largest.right + BEYOND, 0.0)));
    items.push(line((0.0, largest.bottom - BEYOND), (0.0, largest.top + BEYOND)));
    for (x, y) in [(3.0, 0.0), (0.0, 3.0)] {
        items.push(SheetItem::line(SheetLayer::Marks, (-x, -y), (x, y), Stroke::solid(0.35)));
    }
    let circle = crate::outline::shapes::drawn(crate::outline::shapes::OutlineForm::Oval, 4.0, 4.0);
    items.push(SheetItem::Outline { layer: SheetLayer::Marks, outline: circle, stroke: THIN });
    items.push(SheetItem::Text {
        layer: SheetLayer::Text,
        at: (3.0, 1.2),
        size: 2.2,
        bold: false,
        anchor: TextAnchor::Start,
        text: "DATUM".to_string(),
    });
}

/// A name for each line, led from its upper edge. Gives how far up they go.
fn leaders(
    items: &mut Vec<SheetItem>,
    outlines: &[(LineName, Outline)],
    smallest: Extents,
    largest: Extents,
) -> f64 {
    let middle = 0.5 * (smallest.left + smallest.right);
    let mut top = largest.top + BEYOND + 1.0;
    let count = outlines.len();
    for (index, (line, outline)) in outlines.iter().enumerate() {
        let share = if count == 1 { LEADERS[2] } else { LEADERS[index.min(3)] };
        let x = middle + 0.5 * share * smallest.width();
        let edge = upper_edge(outline, x);
        // the first is led furthest, so that no leader crosses a name
        let up = largest.top + 4.0 + LABELS * (count - 1 - index) as f64;
        items.push(SheetItem::line(SheetLayer::Text, (x, edge), (x, up + LABEL), THIN));
        items.push(SheetItem::Text {
            layer: SheetLayer::Text,
            at: (x + 0.8, up + 0.4),
            size: LABEL,
            bold: true,
            anchor: TextAnchor::Start,
            text: line.to_string(),
        });
        top = top.max(up + LABEL + 1.0);
    }
    top
}

/// How high an outline is at some x.
fn upper_edge(outline: &Outline, x: f64) -> f64 {
    let points = outline.points(0.02);
    let next = points.iter().cycle().skip(1);
    let crossed = points.iter().zip(next).filter(|(a, b)| (a.0 - x) * (b.0 - x) <= 0.0 && a.0 != b.0);
    let heights = crossed.map(|(a, b)| a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1));
    let height = heights.fold(f64::NEG_INFINITY, f64::max);
    if height.is_finite() { height } else { outline.bounds().top }
}
