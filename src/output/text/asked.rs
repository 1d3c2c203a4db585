//! Readings that look like slips, as they are asked about.

use super::layout::{MISSED, paragraph};
use super::{frame, words};
use crate::study::document::Report;
use crate::study::fit::result::Ask;

/// What is asked, where there is no fit beside it.
pub fn fit_asked(report: &Report, asks: &[Ask]) -> String {
    let mut out = String::new();
    frame::head(&mut out, report);
    asked(&mut out, asks.iter());
    let text = "Not written: as they stand the readings contradict one another, and there is no fit. Put the reading right.";
    paragraph(&mut out, MISSED, text);
    out
}

/// Questions, one each.
pub(super) fn asked<'f>(out: &mut String, asks: impl Iterator<Item = &'f Ask>) {
    for ask in asks {
        let question = words::sentence(&words::on_paper(&ask.question));
        paragraph(out, MISSED, &format!("Asked: {question} Nothing was changed."));
    }
}

/// That nothing was written for it.
pub(super) fn held_back(out: &mut String) {
    let text = "Not written: put the reading right, or say that it was read so: --as-read.";
    paragraph(out, MISSED, text);
}
