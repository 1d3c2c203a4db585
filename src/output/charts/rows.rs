//! Rows along a common axis: names at the left, words at the right.

use super::frame::{self, EDGE};
use super::theme;
use crate::output::scene::drawing::{Anchor, Scene};

/// Widest part of the picture that words may take.
const WORDS: f64 = 0.2;
/// Between the axis and names or words.
const GAP: f64 = 8.0;

/// What is written at both ends of a row.
pub(super) struct RowWords {
    name: Vec<String>,
    label: Vec<String>,
    /// How tall the row must be.
    pub height: f64,
}

impl RowWords {
    /// Wrapped for a picture of a width: names take so much of it at most, and rows are so tall at least.
    pub fn new(name: &str, label: &str, width: f64, names: f64, least: f64) -> RowWords {
        let name = theme::LABEL.wrap_evenly(name, width * names);
        let label = theme::LABEL.wrap(label, width * WORDS);
        let lines = name.len().max(label.len()) as f64;
        RowWords { name, label, height: (lines * theme::LABEL.line_height() + 6.0).max(least) }
    }

    /// The room that words leave for the axis: from and to.
    pub fn between<'w>(rows: impl Iterator<Item = &'w RowWords>, width: f64) -> (f64, f64) {
        let (of_names, of_words) = rows.fold((0.0_f64, 0.0_f64), |(names, words), row| {
            (
                names.max(frame::widest(&row.name, theme::LABEL)),
                words.max(frame::widest(&row.label, theme::LABEL)),
            )
        });
        let left = EDGE + of_names + GAP;
        (left, (width - EDGE - of_words - GAP).max(left + 60.0))
    }

    /// Writes them about a height, beside the axis from and to.
    pub fn write(&self, scene: &mut Scene, centre: f64, (left, right): (f64, f64)) {
        let line = theme::LABEL.line_height();
        let top_of = |lines: &[String]| centre - lines.len() as f64 * line / 2.0;
        scene.block(&self.name, left - GAP, top_of(&self.name), Anchor::End, theme::LABEL);
        scene.block(&self.label, right + GAP, top_of(&self.label), Anchor::Start, theme::LABEL);
    }
}
