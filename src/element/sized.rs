//! What is wrong in the table of any element: how large it is stands there once, and wholly.

use super::exit::LOUVRES;
use super::leak::SHARE_OF_INLETS;
use super::size::{AREA, DIAMETER, HEIGHT, LEAST_AREA, PieceSize, WIDTH};
use super::written::{TableFault, WrittenElement};
use super::{ElementKind, outline};
use crate::keys::figures::in_a_row;
use crate::keys::{Key, SourceLocation, Values, View};

impl ElementKind {
    /// The faults of an element of this kind within its own table.
    pub fn faults(&self, view: View, sound: &dyn Fn(&Values, &Key) -> bool) -> Vec<TableFault> {
        let mut written = WrittenElement::new(view, sound);
        sized_once(&mut written, self.needs_size);
        self.checks.iter().for_each(|check| check(&mut written));
        outline::check(&mut written);
        written.into_faults()
    }
}

/// Ways of saying how large an element is, each by one key or by several together.
const WAYS: &[&[&Key]] = &[&[&AREA], &[&WIDTH, &HEIGHT], &[&DIAMETER], &[&SHARE_OF_INLETS]];

/// How large an element is, said once and wholly.
fn sized_once(written: &mut WrittenElement, needs_size: bool) {
    let element = written.values();
    too_small(written);
    let has_key = |key: &Key| element.keys.iter().any(|known| known.name == key.name);
    if !has_key(&AREA) {
        return;
    }
    let given: Vec<&[&Key]> =
        WAYS.iter().copied().filter(|way| way.iter().any(|key| element.written(key))).collect();
    // what could not be read may have been meant for something else
    let read: Vec<&[&Key]> =
        given.iter().copied().filter(|way| way.iter().any(|key| element.has(key))).collect();
    if read.len() > 1 {
        return said_twice(written, &read.concat());
    }
    if !has_key(&AREA) {
        // width and height alone, both required
        return;
    }
    let may_share = has_key(&SHARE_OF_INLETS);
    match given[..] {
        [] if needs_size || may_share => {
            let share = if may_share { "; or share_of_inlets" } else { "" };
            written.fault(
                "size-missing",
                format!("{} does not say how large it is", element.address),
                element.place.clone(),
                format!(r#"give area = "90 cm2", or width and height, or diameter, of one{share}"#),
            );
        }
        [[one, other]] => {
            let (given, absent) = match (element.written(one), element.written(other)) {
                (true, false) => (one, other),
                (false, true) => (other, one),
                _ => return,
            };
            written.fault(
                "size-incomplete",
                format!("{} has a {} and no {}", element.address, given.name, absent.name),
                element.place_of(given),
                format!("give {} too, or area alone", absent.name),
            );
        }
        _ => {}
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

fn said_twice(written: &mut WrittenElement, keys: &[&Key]) {
    let element = written.values();
    let read: Vec<&Key> = keys.iter().copied().filter(|key| element.has(key)).collect();
    let position = |key: &Key| match element.place_of(key) {
        SourceLocation::File(span) => span.start,
        SourceLocation::Override { .. } => usize::MAX,
    };
    let words: Vec<&str> = read.iter().map(|key| key.name).collect();
    let last = read.iter().max_by_key(|key| position(key));
    written.fault(
        "said-twice",
        format!("{}: {} say the same thing", element.address, in_a_row(&words)),
        last.map_or_else(|| element.place.clone(), |key| element.place_of(key)),
        "keep one of them",
    );
}
