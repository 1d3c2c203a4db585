//! Line charts: one or several panels of curves over one shared horizontal axis.

use super::scene::Scene;
use super::spread::Spread;
use super::{ChartError, frame, line_layout, png, svg};

/// A line chart as plain data.
///
/// Panels stand one under the other and share the horizontal axis. Names stand at the ends of the curves; there is no legend to
/// look things up in. Fields left at their default are left out of the picture.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LineChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// The shared horizontal axis.
    pub x: Axis,
    /// Named places along the horizontal axis, drawn as light upright lines through all panels, named at the top.
    pub x_marks: Vec<(f64, String)>,
    /// The panels, from the top down.
    pub panels: Vec<Panel>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width and least height of the picture in points; 900 × 540 and 200 more for each further panel if absent.
    /// The picture grows downwards where its words need more.
    pub size: Option<(f64, f64)>,
}

/// One axis.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Axis {
    /// What is measured.
    pub label: String,
    /// Unit, or unit and a remark, set in lighter type after the label.
    pub unit_note: String,
    /// Lowest and highest value shown; found from the data if absent. Lines are cut off where they leave it.
    pub range: Option<(f64, f64)>,
}

/// One plot of a line chart.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Panel {
    /// The vertical axis.
    pub y: Axis,
    /// The curves; colours and line patterns follow this order.
    pub curves: Vec<Curve>,
    /// A limit, drawn heavy and named by this text.
    pub limit: Option<(f64, String)>,
    /// The side of the limit to shade.
    pub bad_side: BadSide,
    /// Points to name.
    pub markers: Vec<Marker>,
    /// Where to stop drawing large values.
    pub cap: Option<Cap>,
    /// Where curves may lie, drawn beneath them.
    pub spreads: Vec<Spread>,
}

/// The side of a limit nobody wants to be on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum BadSide {
    /// Values under the limit are bad, as with margins.
    #[default]
    Below,
    /// Values over the limit are bad, as with temperatures.
    Above,
}

/// One curve.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Curve {
    /// Name, written at the curve's end.
    pub name: String,
    /// Points in drawing order. `None` (and a value that is no finite number) breaks the line.
    pub points: Vec<(f64, Option<f64>)>,
    /// Drawn heavier, on top of the others, and named in bold.
    pub emphasis: bool,
}

/// A named point.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Marker {
    /// Along the horizontal axis.
    pub x: f64,
    /// Up the vertical axis.
    pub y: f64,
    /// What to say about it. If room is short a number stands in the plot and these words in a key under the chart.
    pub label: String,
    /// Which sign to draw.
    pub kind: MarkerKind,
}

/// What a marker stands for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum MarkerKind {
    /// A named condition: a disc.
    #[default]
    Condition,
    /// The lowest point of a curve: a triangle pointing down.
    Lowest,
    /// Anything else worth a note: a square.
    Note,
}

/// A value above which curves are not drawn.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Cap {
    /// The highest value drawn.
    pub value: f64,
    /// What to say of values above it, such as "more than twice".
    pub note: String,
}

impl LineChart {
    /// The chart as an SVG document that carries its own font.
    pub fn svg(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, true)
    }

    /// The chart as an SVG document without the font, for a page that has [`super::font_face_css`] in its style.
    pub fn svg_without_font(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, false)
    }

    /// The chart as the bytes of a PNG file, two pixels to a point.
    pub fn png(&self) -> Result<Vec<u8>, ChartError> {
        png::render(&self.scene()?)
    }

    pub(super) fn scene(&self) -> Result<Scene, ChartError> {
        let scene = line_layout::draw(self);
        frame::check_size(&scene)?;
        Ok(scene)
    }
}
