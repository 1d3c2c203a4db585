//! The three legs of every tee, told of one another when a model is made.

use crate::case::{Case, Diagnostic, Diagnostics, FaultPlace};
use crate::element::tee::{TeeJoint, TeeLeg};
use crate::network::{Network, PassageEnd};

/// A leg at a joint: passage, element of the network, and whether the joint is behind it.
struct LegAtJoint {
    passage: usize,
    element: usize,
    leg: TeeLeg,
}

/// Chambers at which tees stand.
pub(crate) fn chambers(network: &Network) -> Vec<usize> {
    let mut list = Vec::new();
    for (_, chamber) in legs(network) {
        if !list.contains(&chamber) {
            list.push(chamber);
        }
    }
    list
}

fn legs(network: &Network) -> Vec<(LegAtJoint, usize)> {
    let mut all = Vec::new();
    for (passage, joined) in network.passages.iter().enumerate() {
        for element in joined.elements.clone() {
            let Some(tee) = network.laws[element].as_tee() else { continue };
            let joint = if tee.joint_behind() { joined.to } else { joined.from };
            if let PassageEnd::Chamber(chamber) = joint {
                all.push((LegAtJoint { passage, element, leg: tee.leg() }, chamber));
            }
        }
    }
    all
}

/// Tells every leg what the others at its joint are, or says what is missing there.
pub(crate) fn join(case: &Case, network: &mut Network, faults: &mut Diagnostics) {
    let all = legs(network);
    for chamber in chambers(network) {
        let here: Vec<&LegAtJoint> =
            all.iter().filter(|(_, at)| *at == chamber).map(|(found, _)| found).collect();
        let of = |leg: TeeLeg| here.iter().copied().filter(move |found| found.leg == leg);
        let others = network.passages.iter().enumerate().filter(|(index, passage)| {
            [passage.from, passage.to].contains(&PassageEnd::Chamber(chamber))
                && !here.iter().any(|found| found.passage == *index)
        });
        let name = &case.chambers[chamber].name;
        let values = |found: &LegAtJoint| {
            let first = network.passages[found.passage].elements.start;
            &case.passages[found.passage].elements[found.element - first]
        };
        let mut fault = |code: &'static str, found: &LegAtJoint, message: String, way_out: &str| {
            faults.push(Diagnostic::new(
                code,
                message,
                FaultPlace::from(values(found).place.clone()),
                way_out,
            ));
        };
        let [sides, straights, trunks] =
            [TeeLeg::Side, TeeLeg::Straight, TeeLeg::Combined].map(|leg| of(leg).count());
        let plain = others.count();
        if [sides, straights, trunks] != [1, 1, 1] || plain > 0 {
            fault(
                "tee-incomplete",
                here[0],
                format!(
                    "at the joint {name} stand {sides} side, {straights} straight and {trunks} combined legs, and {plain} passages without a tee; a tee has one of each, and no other"
                ),
                "end or begin each of three passages there with { kind = \"tee\", leg = … }: side, straight and combined",
            );
            continue;
        }
        let [Some(side), Some(straight), Some(trunk)] =
            [TeeLeg::Side, TeeLeg::Straight, TeeLeg::Combined].map(|leg| of(leg).next())
        else {
            continue;
        };
        let law = |found: &LegAtJoint| &network.laws[found.element];
        if [side, straight].iter().any(|leg| law(leg).pieces() != law(trunk).pieces()) {
            fault(
                "counts-differ",
                side,
                format!("the three legs at the joint {name} do not stand equally often side by side"),
                "give the three passages the same count",
            );
            continue;
        }
        let area = |found: &LegAtJoint| law(found).area().unwrap_or(f64::NAN);
        let area_ratio = area(side) / area(trunk);
        if area_ratio > 1.0 + 1e-9 {
            fault(
                "tee-side-too-wide",
                side,
                format!(
                    "the side leg has {:.1} cm2 and the combined leg {:.1} cm2; the formulas hold for a side leg no wider",
                    area(side) * 1e4,
                    area(trunk) * 1e4
                ),
                "call the wider leg the straight one, or put a contraction before the joint",
            );
            continue;
        }
        let Some(angle) = law(side).as_tee().map(|tee| tee.angle()) else { continue };
        let joint = TeeJoint { combined_area: area(trunk) * law(trunk).pieces(), area_ratio, angle };
        let elements = [side.element, straight.element];
        for element in elements {
            if let Some(tee) = network.laws[element].as_tee_mut() {
                tee.set_joint(joint);
            }
        }
    }
    network.join_tees();
}
