//! Which openings change, and how they are set.

use super::super::size::free as free_of_size;
use super::result::Hole;
use crate::case::{Case, PassageTable};
use crate::element::Role;
use crate::element::size::PRESSURE_COEFFICIENT;
use crate::keys::NumberId;
use crate::point::opening::Opening;

/// Openings that are scaled together, their proportions kept.
#[derive(Clone, Debug)]
pub(super) struct Group {
    /// The openings.
    pub members: Vec<Opening>,
    /// Area of them all, as drawn (m²).
    pub area: f64,
    /// The smallest area of them all that the bounds of each allow (m²), and whose bound that is.
    pub least: (f64, Option<usize>),
    /// The largest.
    pub most: (f64, Option<usize>),
}

impl Group {
    /// A group of openings, each with the least and the most area of one that is allowed.
    pub fn new(members: Vec<Opening>, bounds: &[(Option<f64>, Option<f64>)]) -> Group {
        let area: f64 = members.iter().map(|m| m.open_pieces() * m.area()).sum();
        let (mut least, mut most) = ((0.0, None), (f64::INFINITY, None));
        for (index, (member, (low, high))) in members.iter().zip(bounds).enumerate() {
            // the share that it keeps makes its bound one of them all
            let all = |one: f64| area * one / member.area();
            if let Some(low) = low.map(all).filter(|low| *low > least.0) {
                least = (low, Some(index));
            }
            if let Some(high) = high.map(all).filter(|high| *high < most.0) {
                most = (high, Some(index));
            }
        }
        Group { members, area, least, most }
    }

    /// The name of the opening whose bound ends the areas below, or above.
    pub fn ended_by(&self, above: bool) -> Option<&str> {
        let index = if above { self.most.1 } else { self.least.1 };
        index.map(|index| self.members[index].name.as_str())
    }

    /// How many times as large those with a pressure coefficient may be, all of them at an area (m²).
    pub fn room_at(&self, case: &Case, area: f64, coefficient: NumberId, most: &[Option<f64>]) -> f64 {
        let scale = area / self.area;
        let here = self.members.iter().zip(most);
        let here = here.filter(|(member, _)| pressure_of(case, member) == Some(coefficient));
        let room = here.filter_map(|(member, most)| most.map(|most| most / (member.area() * scale)));
        room.fold(f64::INFINITY, f64::min)
    }

    /// Sets the area of them all (m²).
    pub fn set(&self, case: &mut Case, area: f64) {
        let scale = area / self.area;
        for member in &self.members {
            member.set(case, member.area() * scale);
        }
    }

    /// Sets the area of them all (m²), and lets those that share a pressure coefficient be larger by
    /// a factor.
    pub fn set_more_at(&self, case: &mut Case, area: f64, coefficient: NumberId, factor: f64) {
        let scale = area / self.area;
        for member in &self.members {
            let here = pressure_of(case, member) == Some(coefficient);
            member.set(case, member.area() * scale * if here { factor } else { 1.0 });
        }
    }
}

/// Every exit of a case: those that change, and those that stay.
///
/// Where `[size]` says that an exit is free, the others stay, as they do in `size`. What leaves behind a fan has the fan's outlet
/// for its hole, which goes with the fan and not with the body; it stays, unless it is free there, or there is no other exit.
pub(super) fn exits(case: &Case) -> (Vec<Opening>, Vec<Opening>) {
    let named: Vec<Opening> = free_of_size(case).into_iter().flatten().collect();
    let named: Vec<usize> =
        named.iter().filter(|o| o.role(case) == Some(Role::Exit)).map(|opening| opening.passage).collect();
    let stays = |passage: usize, table: &PassageTable| {
        let fan = || (0..table.elements.len()).any(|e| table.kind(e).is_some_and(|kind| kind.is_fan()));
        if named.is_empty() { table.from != "outside" && fan() } else { !named.contains(&passage) }
    };
    let (mut free, mut stay) = (Vec::new(), Vec::new());
    for (passage, table) in case.passages.iter().enumerate() {
        let Some(opening) = table.first_of(Role::Exit).and_then(|e| Opening::at(case, passage, e)) else {
            continue;
        };
        if stays(passage, table) { stay.push(opening) } else { free.push(opening) }
    }
    if free.is_empty() { (stay, Vec::new()) } else { (free, stay) }
}

/// The number that says the pressure coefficient at an opening.
pub(super) fn pressure_of(case: &Case, opening: &Opening) -> Option<NumberId> {
    case.passages[opening.passage].elements[opening.element].id(&PRESSURE_COEFFICIENT)
}

/// An opening as a result tells of it.
pub(super) fn hole(case: &Case, opening: &Opening) -> Hole {
    let exit = opening.role(case) == Some(Role::Exit);
    Hole {
        name: opening.name.clone(),
        count: opening.pieces.round() as usize,
        area_m2: opening.area() * opening.louvres.unwrap_or(1.0),
        from: case.passages[opening.passage].from.clone(),
        pressure_coefficient: pressure_of(case, opening).filter(|_| exit).map(|id| case.numbers.value(id)),
    }
}

/// The chamber that most of the exit area leaves.
pub(super) fn bay(case: &Case, exits: &[Opening]) -> Option<usize> {
    let area = |chamber: &str| -> f64 {
        let from = exits.iter().filter(|e| case.passages[e.passage].from == chamber);
        from.map(|e| e.open_pieces() * e.area()).sum()
    };
    let areas = case.chambers.iter().enumerate().map(|(index, chamber)| (index, area(&chamber.name)));
    let most = areas.fold((0, 0.0), |most, here| if here.1 > most.1 { here } else { most });
    (most.1 > 0.0).then_some(most.0)
}
