//! What every chart can do once it is laid out.

use crate::output::scene::drawing::Scene;
use crate::output::scene::error::ChartError;
use crate::output::scene::{png, svg};

/// A chart that can be drawn.
pub trait Picture {
    /// What there is to draw.
    ///
    /// # Errors
    /// [`ChartError::TooLarge`] for a picture past all sense.
    fn scene(&self) -> Result<Scene, ChartError>;

    /// As an SVG document that carries its own font.
    ///
    /// # Errors
    /// [`ChartError`] where it cannot be drawn.
    fn svg(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, true)
    }

    /// As an SVG document without the font, for a page that has [`super::font_face_css`] in its style.
    ///
    /// # Errors
    /// [`ChartError`] where it cannot be drawn.
    fn svg_without_font(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, false)
    }

    /// As the bytes of a PNG file, two pixels to a point.
    ///
    /// # Errors
    /// [`ChartError`] where it cannot be drawn.
    fn png(&self) -> Result<Vec<u8>, ChartError> {
        png::render(&self.scene()?)
    }
}

impl<P: Picture + ?Sized> Picture for &P {
    fn scene(&self) -> Result<Scene, ChartError> {
        (**self).scene()
    }
}
