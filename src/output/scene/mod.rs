//! What is drawn: a list of simple shapes and texts, and the two writers that draw the same list, so that both pictures agree.
//!
//! Nothing here knows what a picture stands for, opens a file, or asks the system for a font.

pub mod colour;
pub mod drawing;
pub mod error;
pub mod font;
pub mod geometry;
pub mod hatch;
pub mod place;
pub mod png;
mod raster;
pub mod svg;
