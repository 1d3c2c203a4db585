//! A plan of rooms joined by channels: the air through a car as one picture.
//!
//! Outside stands at the left where air comes in as the network is written and at the right where it goes out; rooms stand
//! between, in columns by the way the channels lead from one to the next. The plan depends on the network alone, so that
//! pictures of one network in different states can be laid side by side: only widths, figures and arrows change.
//!
//! | file | what it does |
//! | --- | --- |
//! | `graph` | columns of rooms, gaps between them, which channel crosses which |
//! | `place` | heights: where rooms and channels lie so that no text lies on another |
//! | `channel` | a channel's outline, its arrow and its signs |
//! | `draw` | the finished picture |
//! | `key` | the scale of warmth and width, and what the signs mean |
//! | `ramp` | lightness by temperature |
//!
//! # How the fills were chosen
//!
//! Warmth is told by lightness: in CIE 1976 L*a*b* the fill goes evenly from L* 96 where the picture's air is coolest to L* 64
//! where it is hottest, its hue from 250° to 50° by way of grey, C* at most 26. Ink on the darkest still stands 5 : 1. A channel
//! that runs against its arrow as drawn is hatched and says so in words.

mod channel;
mod draw;
mod graph;
mod key;
mod place;
mod ramp;

use super::scene::Scene;
use super::{ChartError, Picture, frame, png, svg};

/// Where a channel begins or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Outside.
    Outside,
    /// The room of this place in the list.
    Room(usize),
}

/// Something that stands in a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sign {
    /// A fan.
    Fan,
    /// Fins: they give heat to the air.
    Fins,
    /// A cooler's core: it gives heat to the air.
    Core,
    /// A screen.
    Screen,
    /// A sudden change of area that nobody wrote.
    Sudden,
}

impl Sign {
    /// Whether the air is warmer behind it.
    fn heats(self) -> bool {
        matches!(self, Sign::Fins | Sign::Core)
    }
}

/// A room.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// What to write under the name.
    pub lines: Vec<String>,
    /// Temperature of its air (°C).
    pub temperature: Option<f64>,
    /// Whether the air ends here: the engine.
    pub engine: bool,
}

/// A channel.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// Its name.
    pub name: String,
    /// What to write under the name.
    pub lines: Vec<String>,
    /// Said first and in bold where it is not nothing: what is wrong with its air.
    pub warning: String,
    /// Where it begins.
    pub from: End,
    /// Where it ends.
    pub to: End,
    /// How many alike it stands for.
    pub pieces: usize,
    /// Flow from its beginning to its end, less than nought where it runs back; in the unit of the picture's scale.
    pub flow: f64,
    /// Temperatures of its air at its beginning and at its end, wherever the air runs (°C).
    pub temperatures: (f64, f64),
    /// What stands in it, from its beginning to its end.
    pub signs: Vec<Sign>,
}

/// The plan and its state.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct AirPicture {
    /// Title.
    pub title: String,
    /// Line under the title.
    pub subtitle: String,
    /// What to say of the air outside.
    pub outside: String,
    /// Rooms.
    pub rooms: Vec<Room>,
    /// Channels.
    pub channels: Vec<Channel>,
    /// The flow that the widest channel of a set of pictures has; the largest of this one where that is more.
    pub widest_flow: f64,
    /// Coolest and hottest air of a set of pictures; widened where this one has cooler or hotter (°C).
    pub warmth: Option<(f64, f64)>,
    /// A flow for the key to width, with its words.
    pub scale: Option<(f64, String)>,
    /// Notes under the picture.
    pub footnotes: Vec<String>,
    /// What the picture shows, in words, for readers who do not see it.
    pub description: String,
}

impl AirPicture {
    /// The picture as an SVG document without the font, for a page that has [`super::font_face_css`] in its style.
    pub fn svg_without_font(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, false)
    }

    pub(super) fn scene(&self) -> Result<Scene, ChartError> {
        let scene = draw::draw(self);
        frame::check_size(&scene)?;
        Ok(scene)
    }
}

impl Picture for AirPicture {
    fn svg(&self) -> Result<String, ChartError> {
        svg::render(&self.scene()?, true)
    }

    fn png(&self) -> Result<Vec<u8>, ChartError> {
        png::render(&self.scene()?)
    }
}
