//! What could be read off a car to know more: temperatures and pressures at moments that can be driven or stood.

use super::drives::drives;
use super::operator::{GaugeEnd, Quantity, Reading};
use crate::case::{Case, tables as t};
use crate::element::Role;
use crate::network::PassageEnd;
use crate::point::PointSolver;
use crate::point::counted::Counted;
use crate::point::model::Model;
use crate::point::operation::idles;

/// Road speeds of steady drives (m/s).
const WANTED: [f64; 2] = [60.0 / 3.6, 100.0 / 3.6];
/// Air (kg/s) of a passage below which there is no stream to read: some centimetres a second in a duct.
const STREAM: f64 = 2e-3;
/// Standing moments that are offered, at most.
const STANDING: usize = 1;

/// The moments in which a car is read: two steady drives where the case has gears, and one that stands with the engine
/// running; else the conditions themselves.
pub(crate) fn moments(case: &Case, model: &Model) -> Vec<Counted> {
    let mut all: Vec<Counted> = drives(case, model, &WANTED).into_iter().map(Counted::Driven).collect();
    let standing = (0..case.conditions.len()).filter(|index| idles(case, &case.conditions[*index]));
    all.extend(standing.take(STANDING).map(Counted::Condition));
    if all.is_empty() {
        all.extend((0..case.conditions.len()).map(Counted::Condition));
    }
    all
}

/// Everything that can be read in some moments, one after the other; the first of them is the car's `first`.
pub(crate) fn all(case: &Case, model: &Model, first: usize, moments: &[Counted]) -> Vec<Reading> {
    // a store of heat has no limit that its temperature would be held against
    let limited = (0..case.parts.len()).filter(|part| case.parts[*part].values.has(&t::LIMIT));
    let mut what: Vec<Quantity> = limited.map(Quantity::Part).collect();
    what.extend((0..case.chambers.len()).map(Quantity::Air));
    let network = &model.network;
    for (index, table) in case.passages.iter().enumerate() {
        let passage = &network.passages[index];
        for element in passage.elements.clone() {
            if let Some(part) = model.part_of[element] {
                what.push(Quantity::Behind { part, passage: index, element });
            }
        }
        let cools = passage.elements.clone().any(|element| model.part_of[element].is_some());
        match (passage.from, passage.to) {
            (PassageEnd::Chamber(from), PassageEnd::Chamber(to)) if cools => {
                what.push(Quantity::Difference { of: GaugeEnd::Chamber(from), over: GaugeEnd::Chamber(to) });
            }
            (PassageEnd::Chamber(chamber), PassageEnd::Outside) => {
                let Some(last) = table.elements.len().checked_sub(1) else { continue };
                if table.kind(last).is_some_and(|kind| kind.role == Role::Exit) {
                    let over = GaugeEnd::Skin { passage: index, element: last };
                    what.push(Quantity::Difference { of: GaugeEnd::Chamber(chamber), over });
                }
            }
            _ => {}
        }
    }
    let mut different: Vec<Quantity> = Vec::new();
    for each in what {
        let same = |known: &Quantity| match (known, &each) {
            (Quantity::Difference { of, over }, Quantity::Difference { of: a, over: b }) => match (over, b) {
                // one of several exits at one place, or of several like ones, tells as much
                (GaugeEnd::Skin { .. }, GaugeEnd::Skin { .. }) => of == a,
                _ => (of, over) == (a, b) || (of, over) == (b, a),
            },
            (Quantity::Behind { part, .. }, Quantity::Behind { part: other, .. }) => part == other,
            (known, each) => *known == *each,
        };
        if !different.iter().any(same) {
            different.push(each);
        }
    }
    let each = moments.iter().enumerate().flat_map(|(place, moment)| {
        let stands = standing_ways(case, model, moment);
        let told = different.iter().filter(move |what| match what {
            Quantity::Behind { passage, .. } => !stands.contains(passage),
            _ => true,
        });
        told.map(move |what| Reading { what: *what, moment: first + place })
    });
    each.collect()
}

/// Passages whose air all but stands while the car does: behind what they cool there is no stream to hold a probe into.
fn standing_ways(case: &Case, model: &Model, moment: &Counted) -> Vec<usize> {
    let Counted::Condition(index) = moment else { return Vec::new() };
    let operation = moment.operation(case, model);
    if operation.speed > 0.0 || !idles(case, &case.conditions[*index]) {
        return Vec::new();
    }
    let mut solver = PointSolver::new(model);
    solver.prepare(model, &operation);
    solver.forget();
    if solver.solve_hotter().is_err() {
        return Vec::new();
    }
    let flows = solver.state.flow.iter().enumerate();
    flows.filter(|(_, flow)| flow.abs() < STREAM).map(|(passage, _)| passage).collect()
}
