//! What a sheet is made of, in millimetres, y upwards.

use crate::outline::Outline;
use crate::study::templates::result::LineName;

/// What a line or a text belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SheetLayer {
    Pilot,
    Next,
    Final,
    Never,
    Marks,
    Text,
    Scale,
}

impl SheetLayer {
    pub const ALL: [SheetLayer; 7] = [
        SheetLayer::Pilot,
        SheetLayer::Next,
        SheetLayer::Final,
        SheetLayer::Never,
        SheetLayer::Marks,
        SheetLayer::Text,
        SheetLayer::Scale,
    ];

    /// That of a line of an opening.
    pub fn of_line(line: LineName) -> SheetLayer {
        match line {
            LineName::Pilot => SheetLayer::Pilot,
            LineName::Next => SheetLayer::Next,
            LineName::Final => SheetLayer::Final,
            LineName::NeverBeyond => SheetLayer::Never,
        }
    }

    /// Its name in a file.
    pub fn name(self) -> &'static str {
        match self {
            SheetLayer::Pilot => "PILOT",
            SheetLayer::Next => "NEXT",
            SheetLayer::Final => "FINAL",
            SheetLayer::Never => "NEVER",
            SheetLayer::Marks => "MARKS",
            SheetLayer::Text => "TEXT",
            SheetLayer::Scale => "SCALE",
        }
    }
}

/// How a line is drawn: its width and its pattern (mm).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stroke {
    pub width: f64,
    pub dashes: &'static [f64],
}

impl Stroke {
    pub const fn solid(width: f64) -> Stroke {
        Stroke { width, dashes: &[] }
    }

    /// That of a line of an opening.
    pub fn of_line(line: LineName) -> Stroke {
        match line {
            LineName::Pilot => Stroke { width: 0.35, dashes: &[4.0, 2.0] },
            LineName::Next => Stroke { width: 0.35, dashes: &[8.0, 1.5, 1.0, 1.5] },
            LineName::Final => Stroke::solid(0.5),
            LineName::NeverBeyond => Stroke::solid(0.25),
        }
    }
}

/// A thin line.
pub(super) const THIN: Stroke = Stroke::solid(0.18);
/// A line through a middle.
pub(super) const CENTRE: Stroke = Stroke { width: 0.18, dashes: &[9.0, 1.5, 1.5, 1.5] };
/// An edge that is not cut.
pub(super) const DOTTED: Stroke = Stroke { width: 0.3, dashes: &[0.6, 1.4] };

/// Where a text stands about its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TextAnchor {
    Start,
    Middle,
    End,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum SheetItem {
    /// Straight lines from point to point.
    Line { layer: SheetLayer, points: Vec<(f64, f64)>, stroke: Stroke },
    /// A closed outline.
    Outline { layer: SheetLayer, outline: Outline, stroke: Stroke },
    /// A filled area.
    Filled { layer: SheetLayer, points: Vec<(f64, f64)> },
    /// A line of text, its capitals so high (mm) by some 0.7.
    Text { layer: SheetLayer, at: (f64, f64), size: f64, bold: bool, anchor: TextAnchor, text: String },
}

impl SheetItem {
    /// A plain line.
    pub fn line(layer: SheetLayer, from: (f64, f64), to: (f64, f64), stroke: Stroke) -> SheetItem {
        SheetItem::Line { layer, points: vec![from, to], stroke }
    }

    /// A plain text from its left.
    pub fn text(at: (f64, f64), size: f64, text: impl Into<String>) -> SheetItem {
        SheetItem::Text {
            layer: SheetLayer::Text,
            at,
            size,
            bold: false,
            anchor: TextAnchor::Start,
            text: text.into(),
        }
    }

    /// A bold text from its left.
    pub fn bold(at: (f64, f64), size: f64, text: impl Into<String>) -> SheetItem {
        SheetItem::Text {
            layer: SheetLayer::Text,
            at,
            size,
            bold: true,
            anchor: TextAnchor::Start,
            text: text.into(),
        }
    }

    pub fn moved(&self, x: f64, y: f64) -> SheetItem {
        let shift = |points: &[(f64, f64)]| points.iter().map(|p| (p.0 + x, p.1 + y)).collect();
        match self.clone() {
            SheetItem::Line { layer, points, stroke } => {
                SheetItem::Line { layer, points: shift(&points), stroke }
            }
            SheetItem::Outline { layer, outline, stroke } => {
                SheetItem::Outline { layer, outline: outline.moved(x, y), stroke }
            }
            SheetItem::Filled { layer, points } => SheetItem::Filled { layer, points: shift(&points) },
            SheetItem::Text { layer, at, size, bold, anchor, text } => {
                SheetItem::Text { layer, at: (at.0 + x, at.1 + y), size, bold, anchor, text }
            }
        }
    }
}

/// A page: what lies within the drawing's window, and what lies round it.
pub(super) struct Page {
    /// Left, bottom, width, height of the window.
    pub window: (f64, f64, f64, f64),
    pub drawn: Vec<SheetItem>,
    pub framed: Vec<SheetItem>,
}
