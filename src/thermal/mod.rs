//! Parts and chambers: heat balances, margins.

pub mod margin;
pub mod part;

pub use margin::{Margin, MarginIs};
pub use part::{HotSurface, Part};
