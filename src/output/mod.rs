//! Views of a result: text, JSON, tables, charts. Nothing here solves anything.

pub mod air;
pub mod charts;
pub mod course;
pub mod curves;
pub mod explain;
pub mod figures;
pub mod fitted;
pub mod overlay;
pub mod ranking;
pub mod report;
mod scene;
pub mod sheets;
pub mod stairs;
pub mod table;
pub mod terms;
pub mod text;
pub mod trade;
