//! What a builder asks: estimate, check, sweep, size, lap, compare, exits; everything at once. A room for each
//! question; nothing here knows of another but by its result.

pub mod changes;
pub mod check;
pub mod compare;
pub mod document;
pub mod doubt;
pub mod ducts;
pub mod estimate;
pub mod everything;
pub mod everywhere;
pub mod exits;
pub mod fit;
pub mod lap;
pub mod size;
pub mod steps;
pub mod sweep;
pub mod tape;
pub mod templates;
pub mod testcard;
pub mod why;
