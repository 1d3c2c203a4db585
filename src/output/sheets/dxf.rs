//! A drawing as DXF in the form of release 12 (AC1009): the oldest that programs for routers and lasers still read alike.
//!
//! Outlines are closed polylines of lines and true arcs (group 42, the bulge), no splines; the origin is the datum.

use super::drawing::OpeningDrawing;
use super::scene::{SheetItem, SheetLayer, TextAnchor};
use super::svg::{layer_of, square};
use crate::outline::Corner;
use std::fmt::{Display, Write};

/// From the drawing to the square and the words (mm).
const APART: f64 = 8.0;

/// Pairs of a group code and its value, one to a line each.
struct Groups(String);

impl Groups {
    fn put(&mut self, code: u16, value: impl Display) {
        let _ = write!(self.0, "{code:>3}\r\n{value}\r\n");
    }

    fn number(&mut self, code: u16, value: f64) {
        self.put(code, format!("{value:.6}"));
    }

    fn point(&mut self, code: u16, (x, y): (f64, f64)) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, 0.0);
    }

    fn section(&mut self, name: &str, fill: impl FnOnce(&mut Groups)) {
        self.put(0, "SECTION");
        self.put(2, name);
        fill(self);
        self.put(0, "ENDSEC");
    }
}

/// Kinds of line, as patterns of dash and gap (mm).
const LINES: [(&str, &str, &[f64]); 3] = [
    ("CONTINUOUS", "Solid line", &[]),
    ("DASHED", "__ __ __ __", &[4.0, -2.0]),
    ("DASHDOT", "__ . __ . __", &[8.0, -1.5, 1.0, -1.5]),
];

fn line_of(layer: SheetLayer) -> &'static str {
    match layer {
        SheetLayer::Pilot => "DASHED",
        SheetLayer::Next => "DASHDOT",
        _ => "CONTINUOUS",
    }
}

/// A drawing with its square to be measured, and what the file says of itself.
pub(super) fn document(drawing: &OpeningDrawing, named: &[String]) -> String {
    let bounds = drawing.bounds;
    let mut items = drawing.items.clone();
    items.push(square(bounds.bottom - APART));
    for (index, line) in named.iter().enumerate() {
        let at = (bounds.left, bounds.top + 4.0 * (named.len() - index) as f64);
        items.push(SheetItem::text(at, 3.0, line.clone()));
    }
    let mut groups = Groups(String::new());
    groups.section("HEADER", |groups| {
        groups.put(9, "$ACADVER");
        groups.put(1, "AC1009");
        groups.put(9, "$INSUNITS");
        // millimetres
        groups.put(70, 4);
        groups.put(9, "$MEASUREMENT");
        groups.put(70, 1);
        groups.put(9, "$INSBASE");
        groups.point(10, (0.0, 0.0));
        groups.put(9, "$EXTMIN");
        groups.point(10, (bounds.left, bounds.bottom - APART - 100.0));
        groups.put(9, "$EXTMAX");
        groups.point(10, (bounds.right, bounds.top + 4.0 * (named.len() + 1) as f64));
    });
    groups.section("TABLES", tables);
    groups.section("ENTITIES", |groups| items.iter().for_each(|item| entity(groups, item)));
    groups.put(0, "EOF");
    groups.0
}

fn tables(groups: &mut Groups) {
    groups.put(0, "TABLE");
    groups.put(2, "LTYPE");
    groups.put(70, LINES.len());
    for (name, described, pattern) in LINES {
        groups.put(0, "LTYPE");
        groups.put(2, name);
        groups.put(70, 0);
        groups.put(3, described);
        groups.put(72, 65);
        groups.put(73, pattern.len());
        groups.number(40, pattern.iter().map(|piece| piece.abs()).sum());
        pattern.iter().for_each(|piece| groups.number(49, *piece));
    }
    groups.put(0, "ENDTAB");
    groups.put(0, "TABLE");
    groups.put(2, "LAYER");
    groups.put(70, SheetLayer::ALL.len());
    for (index, layer) in SheetLayer::ALL.iter().enumerate() {
        groups.put(0, "LAYER");
        groups.put(2, layer.name());
        groups.put(70, 0);
        groups.put(62, index + 1);
        groups.put(6, line_of(*layer));
    }
    groups.put(0, "ENDTAB");
}

fn entity(groups: &mut Groups, item: &SheetItem) {
    let layer = layer_of(item).name();
    match item {
        SheetItem::Outline { outline, .. } => polyline(groups, layer, outline.corners(), true),
        SheetItem::Line { points, .. } => polyline(groups, layer, &corners(points), false),
        SheetItem::Filled { points, .. } => polyline(groups, layer, &corners(points), true),
        SheetItem::Text { at, size, anchor, text, .. } => {
            groups.put(0, "TEXT");
            groups.put(8, layer);
            groups.point(10, *at);
            groups.number(40, *size);
            groups.put(1, plain(text));
            if *anchor != TextAnchor::Start {
                groups.put(72, if *anchor == TextAnchor::Middle { 1 } else { 2 });
                groups.point(11, *at);
            }
        }
    }
}

fn corners(points: &[(f64, f64)]) -> Vec<Corner> {
    points.iter().map(|(x, y)| Corner { x: *x, y: *y, bulge: 0.0 }).collect()
}

fn polyline(groups: &mut Groups, layer: &str, corners: &[Corner], closed: bool) {
    groups.put(0, "POLYLINE");
    groups.put(8, layer);
    groups.put(66, 1);
    groups.point(10, (0.0, 0.0));
    groups.put(70, u8::from(closed));
    for corner in corners {
        groups.put(0, "VERTEX");
        groups.put(8, layer);
        groups.point(10, (corner.x, corner.y));
        if corner.bulge != 0.0 {
            groups.put(42, format!("{:.9}", corner.bulge));
        }
    }
    groups.put(0, "SEQEND");
    groups.put(8, layer);
}

/// Text in the letters that every reader of that age knows.
fn plain(text: &str) -> String {
    let mut out = String::new();
    for letter in text.chars() {
        match letter {
            '²' => out.push('2'),
            '×' => out.push('x'),
            '°' => out.push_str(" deg"),
            '·' => out.push('-'),
            'ä' => out.push_str("ae"),
            'ö' => out.push_str("oe"),
            'ü' => out.push_str("ue"),
            'ß' => out.push_str("ss"),
            c if c.is_ascii() && !c.is_control() => out.push(c),
            _ => out.push('?'),
        }
    }
    out
}
