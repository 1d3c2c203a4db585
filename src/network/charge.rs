//! Sudden changes of area between neighbours: what the air pays where nobody wrote a step.
//!
//! Elements of a passage that have an area form a chain, in the file's order. Where two neighbours of the
//! chain differ, the air meets a sudden change just before the later of the two, in both directions: Borda
//! and Carnot where it widens, a sharp contraction where it narrows, unless the element it narrows into
//! holds the way in by its own figures. Where a duct, bend, diffuser or contraction ends in a chamber, air
//! that enters there pays a sharp entrance.

use super::sudden::Sudden;
use super::topology::{Network, PassageEnd};
use crate::correlations::area_change::{sharp_contraction, sudden_enlargement};
use crate::element::{AreaContinuity, Law};
use std::ops::Range;

/// Difference of two areas, over the larger, up to which they are one.
const ALIKE: f64 = 1e-6;

/// An element in the chain of its passage.
struct ChargedElement {
    place: usize,
    chain: AreaContinuity,
    /// Areas where the air enters and leaves it going forward (m²), of one piece of the passage.
    ends: (f64, f64),
}

impl Network {
    /// Finds the sudden changes of a passage of `copies` pieces; `blended` says for each element whether it
    /// takes away those on either side of it. Steps that were written give the way into what holds it itself.
    pub fn charge_sudden_changes(&mut self, passage: usize, copies: f64, blended: &[bool]) {
        let Range { start, end } = self.passages[passage].elements.clone();
        let laws = &mut self.laws[start..end];
        let links = chain(laws, copies);
        for pair in links.windows(2) {
            let (earlier, later) = (&pair[0], &pair[1]);
            let alike = same(earlier.ends.1, later.ends.0);
            if alike
                && later.chain == AreaContinuity::Guarded
                && let Some(step) = laws[earlier.place].as_step_mut()
            {
                step.free_way_in(true);
            }
            if alike
                && earlier.chain == AreaContinuity::Guarded
                && let Some(step) = laws[later.place].as_step_mut()
            {
                step.free_way_in(false);
            }
        }
        let lofted = |places: Range<usize>| blended.get(places).is_some_and(|those| those.contains(&true));
        let mut changes = Vec::new();
        let is_chamber = |end: PassageEnd| matches!(end, PassageEnd::Chamber(_));
        if let Some(first) = links.first() {
            let plain = first.chain == AreaContinuity::Channel && is_chamber(self.passages[passage].from);
            if plain && !lofted(0..first.place + 1) {
                let areas = (f64::INFINITY, first.ends.0);
                changes.push(change(first.place, areas, (None, Some(first)), copies));
            }
        }
        for pair in links.windows(2) {
            let (earlier, later) = (&pair[0], &pair[1]);
            let areas = (earlier.ends.1, later.ends.0);
            if same(areas.0, areas.1) || lofted(earlier.place..later.place + 1) {
                continue;
            }
            changes.push(change(later.place, areas, (Some(earlier), Some(later)), copies));
        }
        if let Some(last) = links.last() {
            let plain = last.chain == AreaContinuity::Channel && is_chamber(self.passages[passage].to);
            if plain && !lofted(last.place..blended.len()) {
                let areas = (last.ends.1, f64::INFINITY);
                changes.push(change(last.place + 1, areas, (Some(last), None), copies));
            }
        }
        self.passages[passage].sudden = changes;
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= ALIKE * a.max(b)
}

fn chain(laws: &[Law], copies: f64) -> Vec<ChargedElement> {
    let links = laws.iter().enumerate().filter(|(_, law)| law.chain() != AreaContinuity::PassedOver);
    let links = links.filter_map(|(place, law)| {
        let beside = law.pieces() / copies;
        let (enters, leaves) = law.ends()?;
        Some(ChargedElement { place, chain: law.chain(), ends: (enters * beside, leaves * beside) })
    });
    links.collect()
}

/// A change between two neighbours of the chain, or at an end in a chamber. Narrowing into one that holds the way
/// in costs nothing.
///
/// An end in a chamber (an infinite area) costs nothing where the air leaves: its speed is lost as the last
/// velocity head.
fn change(
    before: usize,
    areas: (f64, f64),
    links: (Option<&ChargedElement>, Option<&ChargedElement>),
    pieces: f64,
) -> Sudden {
    let smaller = areas.0.min(areas.1);
    let ratio = smaller / areas.0.max(areas.1);
    let widening = if ratio > 0.0 { sudden_enlargement(ratio) } else { 0.0 };
    let held = |link: Option<&ChargedElement>| link.is_some_and(|link| link.chain == AreaContinuity::Guarded);
    let narrowing =
        |into: Option<&ChargedElement>| if held(into) { 0.0 } else { sharp_contraction(ratio.sqrt()) };
    let widens = areas.1 > areas.0;
    let forward = if widens { widening } else { narrowing(links.1) };
    let backward = if widens { narrowing(links.0) } else { widening };
    let place = |link: Option<&ChargedElement>| link.map(|link| link.place);
    Sudden::new(before, areas, (place(links.0), place(links.1)), pieces, (forward, backward))
}
