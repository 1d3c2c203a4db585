//! What is wrong in the table of any element: an opening too small to be one. That a size is said once, and wholly, is a
//! rule between its keys.

use super::exit::LOUVRES;
use super::size::{AREA, DIAMETER, LEAST_AREA, PieceSize, WIDTH};
use super::written::{TableFault, WrittenElement};
use super::{ElementKind, outline};
use crate::keys::{Key, Values, View};

impl ElementKind {
    /// The faults of an element of this kind within its own table.
    pub fn faults(&self, view: View, sound: &dyn Fn(&Values, &Key) -> bool) -> Vec<TableFault> {
        let mut written = WrittenElement::new(view, sound);
        too_small(&mut written);
        self.checks.iter().for_each(|check| check(&mut written));
        outline::check(&mut written);
        written.into_faults()
    }
}

/// Areas under a hundredth of a square centimetre: no hole that anybody cuts, and mostly a slip in a unit.
fn too_small(written: &mut WrittenElement) {
    let (view, element) = (written.view, written.values());
    let Some(size) = PieceSize::read(&view) else { return };
    let open = size.area * view.number(&LOUVRES).unwrap_or(1.0);
    if open < LEAST_AREA {
        let key = [&AREA, &WIDTH, &DIAMETER].into_iter().find(|key| element.has(key)).unwrap_or(&AREA);
        written.fault(
            "opening-too-small",
            format!("{} has {:.1e} cm2; the least that is accepted is 0.01 cm2", element.address, 1e4 * open),
            element.place_of(key),
            "check the number and its unit; leave the passage out where nothing is open",
        );
    }
}
