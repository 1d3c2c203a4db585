//! The spread about a curve: where it may lie.

use crate::output::charts::scale::drawable;

/// A range up the vertical axis at each place along the horizontal one.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RangeBand {
    /// Whose spread it is: the place of its curve in the panel.
    pub curve: usize,
    /// Place, low and high end. `None` (and a value that is not finite) breaks it.
    pub points: Vec<(f64, Option<(f64, f64)>)>,
}

impl RangeBand {
    /// Unbroken runs of places with both ends.
    pub(super) fn runs(&self) -> Vec<Vec<(f64, f64, f64)>> {
        let mut out = vec![Vec::new()];
        for (x, ends) in &self.points {
            let ends = ends.and_then(|(low, high)| drawable(low).zip(drawable(high)));
            match (drawable(*x), ends) {
                (Some(x), Some((low, high))) => {
                    if let Some(run) = out.last_mut() {
                        run.push((x, low, high));
                    }
                }
                _ => out.push(Vec::new()),
            }
        }
        out.retain(|run| !run.is_empty());
        out
    }

    /// Every end.
    pub(super) fn values(&self) -> impl Iterator<Item = f64> {
        self.runs().into_iter().flatten().flat_map(|(_, low, high)| [low, high])
    }
}
