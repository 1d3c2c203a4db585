//! Tees: what a leg loses hangs on the other leg's flow too.
//!
//! The flows of side and straight legs therefore stay unknowns of the dense system, one row each, where every other
//! passage's flow is eliminated (see [`super::assemble`]); the loss and its slopes by both flows and by the joint's
//! temperature stand in that row.

use super::boundary::BoundaryConditions;
use super::topology::{LegLoss, Network, PassageEnd};
use super::workspace::{LegSlopes, Trace};
use crate::element::tee::TeeLeg;
use crate::numerics::smooth::signed_square;

impl Network {
    /// Finds the legs of all tees. To be called when every passage is added and every joint is known.
    pub fn join_tees(&mut self) {
        let mut all: Vec<(usize, usize, usize, f64, TeeLeg)> = Vec::new();
        for (index, passage) in self.passages.iter().enumerate() {
            for element in passage.elements.clone() {
                let Some(tee) = self.laws[element].as_tee() else { continue };
                let (joint, along) =
                    if tee.joint_behind() { (passage.to, 1.0) } else { (passage.from, -1.0) };
                if let (PassageEnd::Chamber(chamber), true) = (joint, tee.leg() != TeeLeg::Combined) {
                    all.push((index, element, chamber, along, tee.leg()));
                }
            }
        }
        self.legs.clear();
        for passage in &mut self.passages {
            passage.leg = None;
        }
        for (passage, element, chamber, along, which) in &all {
            let partner = all.iter().position(|other| other.2 == *chamber && other.4 != *which);
            let Some(partner_leg) = partner else { continue };
            self.passages[*passage].leg = Some(self.legs.len());
            self.legs.push(LegLoss {
                passage: *passage,
                element: *element,
                along: *along,
                chamber: *chamber,
                partner: all[partner_leg].0,
                partner_along: all[partner_leg].3,
                partner_leg,
            });
        }
    }

    /// What a leg loses from `from` to `to` of its passage (Pa), with its slopes by its own flow, by the other leg's
    /// and by the joint's temperature.
    pub(super) fn leg_loss(
        &self,
        leg: &LegLoss,
        boundary: &BoundaryConditions,
        flow: &[f64],
        unknowns: &[f64],
    ) -> (f64, f64, LegSlopes) {
        let joint = self.temperature_column(leg.chamber);
        let mut slopes = LegSlopes { joint, ..LegSlopes::default() };
        let Some(tee) = self.laws[leg.element].as_tee() else { return (0.0, 0.0, slopes) };
        let towards = (leg.along * flow[leg.passage], leg.partner_along * flow[leg.partner]);
        let scale = self.smoothing(leg.passage, &boundary.gas);
        let (mut loss, mut by_own, mut by_partner) = tee.loss(towards, scale);
        if boundary.tees < 1.0 {
            let (plain, slope) = signed_square(towards.0, scale);
            let unit = (1.0 - boundary.tees) * tee.head_per_square();
            loss = boundary.tees * loss + unit * plain;
            by_own = boundary.tees * by_own + unit * slope;
            by_partner *= boundary.tees;
        }
        let per_kelvin = boundary.gas.volume_per_kelvin * leg.along;
        let unit = per_kelvin * unknowns[joint];
        slopes.by_partner = unit * by_partner * leg.partner_along;
        slopes.by_joint = per_kelvin * loss;
        (unit * loss, unit * by_own * leg.along, slopes)
    }

    /// Adds a leg's loss to what its passage does.
    pub(super) fn add_leg_loss(
        &self,
        leg: &LegLoss,
        boundary: &BoundaryConditions,
        (flow, unknowns): (&[f64], &[f64]),
        trace: &mut Trace,
    ) -> LegSlopes {
        let (loss, by_own, slopes) = self.leg_loss(leg, boundary, flow, unknowns);
        trace.rise -= loss;
        trace.scale += loss.abs();
        trace.rise_by_flow -= by_own;
        slopes
    }
}
