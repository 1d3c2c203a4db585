//! A leg of a tee or wye, where flows join or split.

use super::size::{AREA, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, WIDTH};
use super::{Discharge, ElementKind, ElementLaw, Law, Moment, Response, Role, Site, Stream};
use crate::correlations::tees;
use crate::numerics::smooth;
use crate::keys::{Key, Kind, Range, Shape, View};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_6};

/// Which leg.
pub const LEG: Key = Key::must("leg", Shape::Word(&["side", "straight", "combined"]), "which leg: the side leg, the straight one, or the combined one that carries both flows");
/// Angle between the side leg and the straight one.
const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (FRAC_PI_2, FRAC_PI_2, FRAC_PI_2),
    Range::between(FRAC_PI_6 - 1e-9, FRAC_PI_2 + 1e-9),
    "a right angle, unless said otherwise",
    "angle between the side leg and the straight one; 30 to 90 deg",
);
/// Area of the combined leg.
const COMBINED_AREA: Key = Key::optional("combined_area", Kind::Area, Range::above(0.0, 4.0), "area of one combined leg; else as large as this one");
/// Area of the side leg.
const SIDE_AREA: Key = Key::optional("side_area", Kind::Area, Range::above(0.0, 4.0), "for the straight leg: area of one side leg; else as large as this one");

/// A leg of a tee.
pub const KIND: ElementKind = ElementKind {
    name: "tee",
    role: Role::Middle,
    keys: &[KIND_KEY, NAME, AREA, WIDTH, HEIGHT, DIAMETER, COUNT, LEG, ANGLE, COMBINED_AREA, SIDE_AREA],
    needs_size: true,
    summary: "One leg of a tee or wye: the last element of a passage into the chamber that is the joint, or the first of one out of it. The leg's loss is K of the combined leg's velocity head; it joins or splits as the air runs, and keeps its own head across the joint. K may be negative where the other leg draws it along.",
    range: "Side leg at 30 to 90°, no wider than the combined leg; straight leg as wide as it. The share of the flow is the one found in each moment. Air that runs through the joint the third way, from one leg that should join into the other, is outside the formulas, and warned of.",
    source: "Crane, Technical Paper 410 (2009), as given by fluids 1.3.1; the paper itself was not read",
    example: r#"{ kind = "tee", diameter = "80 mm", leg = "side", angle = "45 deg", combined_area = "79 cm2" }"#,
    further_examples: &[r#"{ kind = "tee", diameter = "80 mm", leg = "straight", side_area = "28 cm2" }"#, r#"{ kind = "tee", area = "79 cm2", leg = "combined" }"#],
    build,
};

/// Law of a leg of a tee.
#[derive(Clone, Debug)]
pub struct Tee {
    area_of_one: f64,
    pieces: f64,
    leg: Leg,
    /// What the moment's last round found; none before the first.
    joint: Option<JointFlow>,
}

/// The flows at a joint, as the last round of the solution found them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointFlow {
    /// Flow of the combined leg (kg/s), without sign.
    pub combined: f64,
    /// Flow of this leg, without sign.
    pub own: f64,
}

/// What the coefficients of a leg hang on.
#[derive(Clone, Copy, Debug)]
struct Leg {
    /// Whether it is the combined leg.
    combined: bool,
    /// Whether it is the side leg.
    side: bool,
    /// Area of the side leg over that of the combined leg.
    ratio: f64,
    /// Angle of the side leg (rad).
    angle: f64,
    /// Area of one combined leg (m²).
    combined_area: f64,
    /// Whether the joint is behind it, seen from the passage's `from`.
    joint_behind: bool,
}

impl Leg {
    /// K of the combined leg's velocity head where the flow of this leg runs towards the joint, or away from it, at its share of
    /// the combined flow.
    fn on_combined(&self, share: f64, joins: bool) -> f64 {
        let Leg { ratio, angle, .. } = *self;
        match (self.combined, self.side, joins) {
            (true, _, _) => 0.0,
            (_, true, true) => tees::side_joining(share, ratio, angle),
            (_, true, false) => tees::side_splitting(share, ratio, angle),
            (_, false, true) => tees::straight_joining(1.0 - share, ratio, angle),
            (_, false, false) => tees::straight_splitting(1.0 - share, ratio),
        }
    }
}

fn build(site: &mut Site, view: &View) -> Option<Law> {
    let area = site.size?.area;
    let joint_behind = site.last && !site.to_outside;
    let joint_before = site.first && !site.from_outside;
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
        site.fault("tee-without-joint", None, message.into(), way_out.into());
        return None;
    }
    let combined = view.number(&COMBINED_AREA).unwrap_or(area);
    let word = view.values.text(&LEG).unwrap_or_default();
    let side_area = if word == "side" { area } else { view.number(&SIDE_AREA).unwrap_or(area) };
    let leg = Leg {
        combined: word == "combined",
        side: word == "side",
        ratio: side_area / combined,
        angle: view.given(&ANGLE),
        combined_area: combined,
        joint_behind,
    };
    if !leg.combined && leg.ratio > 1.0 + 1e-9 {
        let key = if leg.side { &COMBINED_AREA } else { &SIDE_AREA };
        site.fault(
            "tee-side-too-wide",
            Some(key),
            format!(
                "the side leg has {:.1} cm2 and the combined leg {:.1} cm2; the formulas hold for a side leg no wider",
                side_area * 1e4,
                combined * 1e4
            ),
            "give the combined leg its area, or call the wider leg the straight one".into(),
        );
        return None;
    }
    Some(Law::Tee(Tee { area_of_one: area, pieces: site.pieces, leg, joint: None }))
}

impl Tee {
    /// Whether it is the leg that carries both flows.
    pub fn is_combined(&self) -> bool {
        self.leg.combined
    }

    /// Whether the joint is behind it, seen from the passage's `from`.
    pub fn joint_behind(&self) -> bool {
        self.leg.joint_behind
    }

    /// Takes up what a round of the solution has found at the joint.
    pub fn set_joint(&mut self, flow: JointFlow) {
        self.joint = (!self.leg.combined && flow.combined > 0.0).then_some(flow);
    }
}

/// Share of the combined flow within which the two directions of a side leg are blended.
const BLEND: f64 = 0.01;
/// Step in the share for the slope of a coefficient.
const STEP: f64 = 1e-6;

impl ElementLaw for Tee {
    fn prepare(&mut self, _moment: &Moment, _taped: f64) {}

    #[inline]
    fn respond(&self, stream: &Stream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        let Some(joint) = self.joint else { return response };
        let volume = stream.volume_per_kelvin * temperature;
        let per_area = 0.5 * volume / (self.leg.combined_area * self.pieces).powi(2);
        let head = per_area * joint.combined * joint.combined;
        // along the passage the air joins where the joint is behind
        let towards = if self.leg.joint_behind { 1.0 } else { -1.0 };
        let (drop, by_flow) = if self.leg.side {
            // at the present share of the combined flow found: what the static pressure of the joint does to a leg at rest is in it
            let x = towards * stream.flow / joint.combined;
            let signed = |x: f64| {
                let across = (0.5 * (x / BLEND + 1.0)).clamp(0.0, 1.0);
                let (joins, size) = (across * across * (3.0 - 2.0 * across), smooth::magnitude(x, BLEND).0);
                let join = self.leg.on_combined(size.min(1.0), true);
                let split = self.leg.on_combined(size.min(1.0), false);
                joins * join - (1.0 - joins) * split
            };
            let slope = (signed(x + STEP) - signed(x - STEP)) / (2.0 * STEP);
            (towards * signed(x) * head, slope / joint.combined * head)
        } else {
            let share = (joint.own / joint.combined).clamp(0.0, 1.0);
            let k = self.leg.on_combined(share, towards * stream.flow >= 0.0);
            if k < 0.0 || joint.own <= 0.0 {
                // what the other leg gives stands as long as the round does
                let along = if stream.forward { 1.0 } else { -1.0 };
                (along * k * head, 0.0)
            } else {
                let unit = k * head / (joint.own * joint.own);
                (unit * stream.square, unit * stream.square_slope)
            }
        };
        response.drop = drop;
        response.rise_by_flow = -by_flow;
        response.rise_by_temperature = -drop / temperature;
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.area_of_one)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn discharge(&self, _forward: bool) -> Discharge {
        // the head goes on through the joint: what is lost of it is in K
        Discharge::Included
    }
}
