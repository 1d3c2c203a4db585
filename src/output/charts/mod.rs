//! Charts as single pictures: plain numbers in, one SVG or PNG out.
//!
//! A chart is a value of plain data ([`LineChart`], [`BandChart`], [`BarChart`] or [`MapChart`]); asking it for [`LineChart::svg`] or
//! [`LineChart::png`] lays it out and returns the finished picture in memory. Nothing here opens a file, asks the system
//! for a font, or knows what the numbers stand for.
//!
//! The way through the module: chart data → layout (`line_layout`, `area_layout`) → a list of simple shapes and texts
//! (`scene`) → one of two writers (`svg`, `png`). Both writers draw the same list, so both pictures agree.
//!
//! What a layout promises: no text lies on another text, and no text leaves the picture. When room is short the picture
//! grows downwards; it never drops or shortens a label.

mod air;
mod area_chart;
mod area_labels;
mod area_layout;
mod area_ribbon;
mod bar_chart;
mod bar_layout;
mod description;
pub(in crate::output) mod font;
mod frame;
mod geometry;
mod hatch;
mod line_chart;
mod line_curves;
mod line_layout;
mod line_markers;
mod line_model;
mod map_chart;
mod map_layout;
mod place;
mod png;
mod scale;
mod scene;
mod spread;
mod stack;
mod svg;
mod theme;

#[cfg(test)]
mod tests;

pub use air::{AirPicture, Channel, End, Room, Sign};
pub use area_chart::{Band, BandChart};
pub use bar_chart::{Bar, BarChart};
pub use font::font_face_css;
pub use line_chart::{Axis, BadSide, Cap, Curve, LineChart, Marker, MarkerKind, Panel};
pub use map_chart::{Level, MapChart, Overlay};
pub use spread::Spread;

/// A chart that can be drawn.
pub trait Picture {
    /// As an SVG document that carries its own font.
    ///
    /// # Errors
    /// [`ChartError`] where it cannot be drawn.
    fn svg(&self) -> Result<String, ChartError>;
    /// As the bytes of a PNG file.
    ///
    /// # Errors
    /// [`ChartError`] where it cannot be drawn.
    fn png(&self) -> Result<Vec<u8>, ChartError>;
}

impl<P: Picture> Picture for &P {
    fn svg(&self) -> Result<String, ChartError> {
        (**self).svg()
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        (**self).png()
    }
}

impl Picture for LineChart {
    fn svg(&self) -> Result<String, ChartError> {
        self.svg()
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        self.png()
    }
}

impl Picture for BandChart {
    fn svg(&self) -> Result<String, ChartError> {
        self.svg()
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        self.png()
    }
}

impl Picture for BarChart {
    fn svg(&self) -> Result<String, ChartError> {
        self.svg()
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        self.png()
    }
}

impl Picture for MapChart {
    fn svg(&self) -> Result<String, ChartError> {
        self.svg()
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        self.png()
    }
}

/// Why a picture could not be made.
///
/// Odd data is never a reason: empty curves, missing values and huge values all give a picture.
#[derive(Debug, thiserror::Error)]
pub enum ChartError {
    /// The drawing library refused a shape.
    #[error("the chart could not be drawn: {0}")]
    Drawing(String),
    /// The font kept in the program could not be read.
    #[error("the chart font could not be read")]
    Font,
    /// The pixels could not be packed into a PNG.
    #[error("the chart could not be packed as PNG: {0}")]
    Packing(String),
    /// The picture asked for is larger than a picture can sensibly be.
    #[error(
        "the chart would be {width:.0} × {height:.0} points; at most {limit:.0} square points can be drawn"
    )]
    TooLarge {
        /// Width asked for, in points.
        width: f64,
        /// Height needed, in points.
        height: f64,
        /// The most that is drawn, in square points.
        limit: f64,
    },
}
