//! The names that stand at the ends of curves: their lines and the room they need.

use super::model::Prepared;
use crate::output::charts::frame;
use crate::output::charts::theme;
use crate::output::scene::colour::for_type;
use crate::output::scene::drawing::TextLook;

/// From the plot's edge to the sample of line before a name.
pub(super) const LEAD: f64 = 18.0;
/// Length of that sample: more than one repeat of every pattern.
pub(super) const SAMPLE: f64 = 27.0;
/// From the sample to the name.
pub(super) const GAP: f64 = 6.0;
/// Between names one above the other.
pub(super) const BETWEEN: f64 = 2.0;
/// A name takes no more than this part of the picture's width before it is broken into lines.
const WIDEST: f64 = 0.23;

/// A curve's name and the last point it stands for.
pub(super) struct CurveName {
    pub curve: usize,
    pub lines: Vec<String>,
    pub look: TextLook,
    pub last: (f64, f64),
}

impl CurveName {
    pub(super) fn height(&self) -> f64 {
        self.lines.len() as f64 * self.look.line_height()
    }
}

/// The names of a panel's curves, broken into lines.
pub(super) fn names(data: &Prepared<'_>, width: f64) -> Vec<CurveName> {
    let curves = data.panel.curves.iter().zip(&data.runs).enumerate();
    curves
        .filter_map(|(curve, (shape, runs))| {
            let last = *runs.last()?.last()?;
            let above = data.cap.is_some_and(|cap| last.1 > cap);
            let text = if above && !shape.name.is_empty() {
                format!("{} ▲", shape.name)
            } else {
                shape.name.clone()
            };
            let mut look = if shape.emphasis { theme::STRONG_LABEL } else { theme::LABEL };
            look.colour = for_type(theme::curve(curve).0);
            let lines = look.wrap_evenly(&text, (width * WIDEST).max(70.0));
            (!lines.is_empty()).then_some(CurveName { curve, lines, look, last })
        })
        .collect()
}

/// Width needed at the right of a plot.
pub(super) fn room_for(names: &[CurveName]) -> f64 {
    names.iter().map(|name| LEAD + SAMPLE + GAP + frame::widest(&name.lines, name.look)).fold(0.0, f64::max)
}

/// Height the names need one above the other.
pub(super) fn height_of(names: &[CurveName]) -> f64 {
    names.iter().map(|name| name.height() + BETWEEN).sum()
}
