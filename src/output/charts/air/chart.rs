//! The plan as plain data.

use crate::element::Sign;

/// Where a channel begins or ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChannelEnd {
    Outside,
    /// The room of this place in the list.
    Room(usize),
}

#[derive(Debug, Clone, Default, PartialEq)]
pub struct ChartRoom {
    pub name: String,
    /// What to write under the name.
    pub lines: Vec<String>,
    /// Temperature of its air (°C).
    pub temperature: Option<f64>,
    /// Whether the air ends here: the engine.
    pub engine: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    pub name: String,
    /// What to write under the name.
    pub lines: Vec<String>,
    /// Said first and in bold where it is not nothing: what is wrong with its air.
    pub warning: String,
    /// Where it begins.
    pub from: ChannelEnd,
    /// Where it ends.
    pub to: ChannelEnd,
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
    pub title: String,
    /// Line under the title.
    pub subtitle: String,
    /// What to say of the air outside.
    pub outside: String,
    pub rooms: Vec<ChartRoom>,
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
