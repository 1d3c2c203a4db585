//! A sudden change of area between neighbours, where nobody wrote a step.

use crate::element::law::Lump;

/// A sudden change of area that nobody wrote.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sudden {
    /// Place among the passage's elements before which it stands; their number: behind all.
    pub before: usize,
    /// Area (m²) on its two sides, going forward, of one piece of the passage; infinite towards a chamber.
    pub areas: (f64, f64),
    /// Places of the elements it stands between; none: a chamber.
    pub between: (Option<usize>, Option<usize>),
    /// How many pieces the passage has.
    pieces: f64,
    /// What it costs either way, all pieces together.
    pub(super) lump: Lump,
}

impl Sudden {
    /// One before the element of a place, between `areas` (m², of one of `pieces`), with its loss coefficients on the
    /// smaller area, of the air going forward and back.
    pub(super) fn new(
        before: usize,
        areas: (f64, f64),
        between: (Option<usize>, Option<usize>),
        pieces: f64,
        (forward, backward): (f64, f64),
    ) -> Sudden {
        let mut change = Sudden { before, areas, between, pieces, lump: Lump::default() };
        change.replace(forward, backward);
        change
    }

    /// The smaller of its areas (m²), of one piece of the passage.
    pub fn area(&self) -> f64 {
        self.areas.0.min(self.areas.1)
    }

    /// K/2A² of the air going forward or back (1/m⁴), all pieces together.
    pub fn resistance(&self, forward: bool) -> f64 {
        if forward { self.lump.forward } else { self.lump.backward }
    }

    /// Puts something else in its place: loss coefficients on the smaller area, of the air going forward and back.
    pub fn replace(&mut self, forward: f64, backward: f64) {
        let per_area = 0.5 / (self.area() * self.pieces).powi(2);
        self.lump = Lump { forward: forward * per_area, backward: backward * per_area, ..Lump::default() };
    }

    /// The loss coefficient it has, on the smaller area, of the air going forward or back.
    pub fn loss_coefficient(&self, forward: bool) -> f64 {
        self.resistance(forward) * 2.0 * (self.area() * self.pieces).powi(2)
    }

    /// Whether the air meets a larger area, going `forward` or back.
    pub fn widens(&self, forward: bool) -> bool {
        (self.areas.1 > self.areas.0) == forward
    }
}
