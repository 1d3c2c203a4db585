//! Bar charts: named bars one above the other, each with where it may end.

use super::line_chart::Axis;
use super::scene::Scene;
use super::{ChartError, bar_layout, frame, png, svg};

/// A bar chart as plain data.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BarChart {
    /// Heading, one line if it fits.
    pub title: String,
    /// Smaller line under the heading.
    pub subtitle: String,
    /// The horizontal axis; it begins at nought.
    pub x: Axis,
    /// The bars, from the top down.
    pub bars: Vec<Bar>,
    /// A place along the axis to compare with, drawn as an upright line and named.
    pub against: Option<(f64, String)>,
    /// Small text under the chart, one paragraph each.
    pub footnotes: Vec<String>,
    /// Width of the picture in points; 900 if absent. It is as high as its bars need.
    pub width: Option<f64>,
}

/// One bar.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Bar {
    /// What it stands for.
    pub name: String,
    /// Its length.
    pub value: f64,
    /// Between which lengths it may be.
    pub between: Option<(f64, f64)>,
    /// What stands at its end.
    pub label: String,
    /// Filled with lines in place of a plain ground: of another kind than the others.
    pub hatched: bool,
}

impl BarChart {
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
        let scene = bar_layout::draw(self);
        frame::check_size(&scene)?;
        Ok(scene)
    }
}
