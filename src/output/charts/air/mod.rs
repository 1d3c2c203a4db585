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

pub mod chart;

mod channel;
mod draw;
mod graph;
mod key;
mod place;
mod ramp;
