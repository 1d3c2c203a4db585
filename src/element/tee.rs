//! A leg of a tee or wye, where flows join or split.

use super::figure::{ElementFigure, axis, chart, curve};
use super::law::Lump;
use super::size::{BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, WIDTH};
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Response, Role,
};
use crate::correlations::tees;
use crate::keys::{Key, Kind, Range, ValueShape, View};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_6};

/// Which leg.
pub const LEG: Key = Key::must(
    "leg",
    ValueShape::Word(&["side", "straight", "combined"]),
    "which leg: the side leg, the straight one, or the combined one that carries both flows",
);
/// Angle between the side leg and the straight one.
/// Angle of the side leg.
pub const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (FRAC_PI_2, FRAC_PI_2, FRAC_PI_2),
    Range::between(FRAC_PI_6 - 1e-9, FRAC_PI_2 + 1e-9),
    "a right angle, unless said otherwise",
    "of the side leg: its angle to the straight one, 30 to 90 deg; a protractor",
);
/// A leg of a tee.
pub const KIND: ElementKind = ElementKind {
    name: "tee",
    also: &[],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Joined,
    keys: &[KIND_KEY, NAME, BLENDED, NEEDED_AREA, WIDTH, HEIGHT, DIAMETER, COUNT, LEG, ANGLE],
    summary: "One leg of a tee or wye: the last element of a passage into the chamber that is the joint, or the first of one out of it. The leg's loss is K of the combined leg's velocity head; it joins or splits as the air runs, and keeps its own head across the joint. K may be negative where the other leg draws it along.",
    range: "Side leg at 30 to 90°, no wider than the combined leg; straight leg as wide as it. The share of the flow is the one found in each moment. Air that runs through the joint the third way, from one leg that should join into the other, is outside the formulas, and warned of.",
    source: "Crane, Technical Paper 410 (2009), as given by fluids 1.3.1; the paper itself was not read",
    example: r#"{ kind = "tee", diameter = "80 mm", leg = "side", angle = "45 deg" }"#,
    further_examples: &[
        r#"{ kind = "tee", diameter = "80 mm", leg = "straight" }"#,
        r#"{ kind = "tee", area = "79 cm2", leg = "combined" }"#,
    ],
    sides: None,
    words: include_str!("tee.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a leg of a tee.
#[derive(Clone, Debug)]
pub struct Tee {
    area_of_one: f64,
    pieces: f64,
    /// Which leg.
    leg: TeeLeg,
    /// Angle as written (rad).
    angle: f64,
    /// Whether the joint is behind it, seen from the passage's `from`.
    joint_behind: bool,
    /// What the joint's other legs are; none until they are known.
    joint: Option<TeeJoint>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TeeLeg {
    /// The side leg.
    Side,
    /// The straight leg.
    Straight,
    /// The leg that carries both flows.
    Combined,
}

/// What a leg has to know of its joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TeeJoint {
    /// Area of all pieces of the combined leg (m²).
    pub combined_area: f64,
    /// Area of the side leg over that of the combined leg.
    pub area_ratio: f64,
    /// Angle of the side leg (rad).
    pub angle: f64,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let area = context.size?.area;
    let joint_behind = context.last && !context.to_outside;
    let joint_before = context.first && !context.from_outside;
    if joint_behind == joint_before {
        let (message, way_out) = if joint_behind {
            (
                "a tee alone between two chambers does not say which of them is the joint",
                "put a duct on the side that is not the joint",
            )
        } else {
            (
                "a leg of a tee stands where no joint is",
                "a joint is a chamber: end the passage there with the tee last, or begin it there with the tee first",
            )
        };
        context.fault("tee-without-joint", None, message.into(), way_out.into());
        return None;
    }
    let leg = match view.values.text(&LEG) {
        Some("side") => TeeLeg::Side,
        Some("straight") => TeeLeg::Straight,
        _ => TeeLeg::Combined,
    };
    Some(Law::Tee(Tee {
        area_of_one: area,
        pieces: context.pieces,
        leg,
        angle: view.required(&ANGLE),
        joint_behind,
        joint: None,
    }))
}

impl Tee {
    /// Which leg it is.
    pub fn leg(&self) -> TeeLeg {
        self.leg
    }

    /// Angle as written (rad); that of the side leg counts.
    pub fn angle(&self) -> f64 {
        self.angle
    }

    /// Whether the joint is behind it, seen from the passage's `from`.
    pub fn joint_behind(&self) -> bool {
        self.joint_behind
    }

    /// Takes up what it has to know of its joint.
    pub fn set_joint(&mut self, joint: TeeJoint) {
        self.joint = Some(joint);
    }

    /// Velocity head of its own over the square of its own flow and the specific volume (1/m⁴).
    pub fn head_per_square(&self) -> f64 {
        0.5 / (self.area_of_one * self.pieces).powi(2)
    }

    /// What a side or straight leg loses towards the joint over the specific volume there (Pa kg/m³), with its slopes by its own flow
    /// and by the other's; `flows` its own and the other's, counted towards the joint (kg/s), smooth below `scale`. The air is taken at
    /// the joint's temperature, which is that of the combined leg: a leg's own air is of another temperature one way than the other, and its
    /// loss at rest must not jump. Nothing for the combined leg, and before the joint is known.
    pub fn loss(&self, flows: (f64, f64), scale: f64) -> (f64, f64, f64) {
        let Some(joint) = self.joint.filter(|_| self.leg != TeeLeg::Combined) else { return (0.0, 0.0, 0.0) };
        let side = self.leg == TeeLeg::Side;
        let (lateral, straight) = if side { flows } else { (flows.1, flows.0) };
        let loss = tees::loss_of_leg(side, (lateral, straight), scale, joint.area_ratio, joint.angle);
        let per_area = 1.0 / (joint.combined_area * joint.combined_area);
        let [by_lateral, by_straight] = loss.by.map(|by| per_area * by);
        let (by_own, by_other) = if side { (by_lateral, by_straight) } else { (by_straight, by_lateral) };
        (per_area * loss.value, by_own, by_other)
    }
}

impl ElementLaw for Tee {
    fn prepare(&mut self, _moment: &FreeStream, _taped: f64) {}

    /// Nothing: what a leg loses hangs on the other's flow, and the network adds it. See [`Tee::loss`].
    #[inline(always)]
    fn respond(&self, _stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        Response::passing(temperature)
    }

    fn area(&self) -> Option<f64> {
        Some(self.area_of_one)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn lump(&self) -> Option<Lump> {
        Some(Lump::default())
    }

    fn discharge(&self, forward: bool) -> Discharge {
        if forward == self.joint_behind {
            // the head goes on through the joint: what is lost of it is in K
            Discharge::Included
        } else {
            Discharge::Area(self.area_of_one * self.pieces)
        }
    }
}

fn figure() -> Option<ElementFigure> {
    let angle = std::f64::consts::FRAC_PI_4;
    let ratio = 0.5;
    let along = (0.0, 1.0);
    Some(chart(
        "A tee at 45°, side leg half as wide: K by share",
        axis("flow of the side leg over the combined flow", ""),
        axis("K of the combined leg's velocity head", ""),
        vec![
            curve("side leg, joining", along, move |q| tees::side_joining(q, ratio, angle)),
            curve("straight leg, joining", along, move |q| tees::straight_joining(q, ratio, angle)),
            curve("side leg, splitting", along, move |q| tees::side_splitting(q, ratio, angle)),
            curve("straight leg, splitting", along, move |q| tees::straight_splitting(q, ratio)),
        ],
        "Below nought one leg draws the other along, which pays for it.",
    ))
}
