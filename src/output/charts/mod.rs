//! Charts as single pictures: plain numbers in, one SVG or PNG out.
//!
//! A chart is a value of plain data ([`LineChart`], [`BandChart`], [`BarChart`], [`ReadChart`], [`MapChart`] or [`AirPicture`]); asking it for
//! [`Picture::svg`] or [`Picture::png`] lays it out and returns the finished picture in memory. Nothing here opens a file, asks
//! the system for a font, or knows what the numbers stand for.
//!
//! The way through a kind of chart: `chart` (plain data) → `layout` (or `draw`) → a list of simple shapes and texts
//! (`output::scene`), which one of two writers draws.
//!
//! What a layout promises: no text lies on another text, and no text leaves the picture. When room is short the picture
//! grows downwards; it never drops or shortens a label.

mod air;
mod axis;
mod bands;
mod bars;
mod cells;
mod frame;
mod lines;
mod map;
mod picture;
mod read;
mod rows;
mod scale;
mod stairs;
mod theme;

#[cfg(test)]
mod tests;

pub use crate::output::scene::error::ChartError;
pub use crate::output::scene::font::font_face_css;
pub use air::chart::{AirPicture, Channel, ChannelEnd, ChartRoom};
pub use axis::{Axis, Marker, MarkerKind};
pub use bands::chart::{BandChart, ChartBand};
pub use bars::chart::{Bar, BarChart};
pub use cells::chart::{BarCell, CellChart, CellRow};
pub use lines::chart::{BadSide, Cap, Curve, LineChart, Panel};
pub use lines::spread::RangeBand;
pub use map::chart::{Level, MapChart, Overlay};
pub use picture::Picture;
pub use read::chart::{ReadChart, ReadGroup, ReadRow};
pub use stairs::chart::{Stair, StairChart, Stairway};
