//! A passage that widens, and what it shares with one that narrows.

use super::figure::{ElementFigure, cone_figure};
use super::size::{
    AREA_AFTER, AREA_BEFORE, BLENDED, COUNT, Change, KIND as KIND_KEY, NAME, ROUGHNESS, change,
    equivalent_diameter,
};
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Resistance, Response, Role,
};
use crate::correlations::area_change::{conical_contraction, conical_diffuser, included_angle};
use crate::keys::{Key, Kind, Range, Rule, RuleWords, View};
use std::f64::consts::PI;

/// Length along the axis.
pub const LENGTH: Key =
    Key::optional("length", Kind::Length, Range::above(0.0, 20.0), "length along the axis; or angle")
        .also(&["l"])
        .rules(&[
            Rule::OneOf(&["length", "angle"]),
            Rule::Told(
                &Rule::AtLeastOne(&["length", "angle"]),
                &RuleWords::new(
                    "length-or-angle",
                    "{table}: one of length and angle is needed",
                    r#"give length = "240 mm", or angle = "10 deg""#,
                ),
            ),
            Rule::Instead(&[&["length"], &["angle"]]),
        ]);
/// Included angle of the walls.
pub const ANGLE: Key = Key::optional(
    "angle",
    Kind::Angle,
    Range::between(PI / 180.0, PI),
    "included angle of the walls, of the equivalent cone; or length",
);

/// A diffuser.
pub const KIND: ElementKind = ElementKind {
    name: "diffuser",
    also: &[],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Channel,
    keys: &[KIND_KEY, NAME, BLENDED, LENGTH, ANGLE, AREA_BEFORE, AREA_AFTER, COUNT, ROUGHNESS],
    summary: "A passage that widens, as the equivalent cone; K on the smaller area; in reverse it is a contraction.",
    range: "Included angle 0..180°. Above about 15° the flow may leave the wall: a warning, the loss is that of the formula.",
    source: "Rennels & Hudson, Pipe Flow (2012), as general-purpose libraries give the formulas; the book itself was not read",
    example: r#"{ kind = "diffuser", length = "240 mm", area_before = "60 cm2", area_after = "140 cm2" }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("diffuser.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a diffuser.
pub type Diffuser = Cone;

/// Law of a conical change of area, either way round.
#[derive(Clone, Debug)]
pub struct Cone {
    change: Change,
    pieces: f64,
    resistance: Resistance,
}

/// The cone between two areas; a fault where it changes the wrong way.
pub(super) fn cone(context: &mut ElementContext, view: &View, widens: bool) -> Option<Cone> {
    let change = change(context, view, false)?;
    let fits = if widens { change.after > change.before } else { change.after < change.before };
    if !fits {
        let (this, word, other) = if widens {
            ("diffuser", "larger", "contraction")
        } else {
            ("contraction", "smaller", "diffuser")
        };
        context.fault(
            "area-change-the-wrong-way",
            None,
            format!(
                "the area behind a {this} must be {word}: {:.1} cm2 before, {:.1} cm2 behind",
                change.before * 1e4,
                change.after * 1e4
            ),
            format!("call it a {other}, or give area_before and area_after; check the units of both sizes"),
        );
        return None;
    }
    let beta = change.beta();
    let small = equivalent_diameter(change.smaller());
    let large = small / beta;
    // the case reader has made sure that one of them is given
    let angle = match view.number(&LENGTH) {
        Some(length) => included_angle(small, large, length),
        None => view.number(&ANGLE)?,
    };
    let widening = conical_diffuser(beta, angle);
    let narrowing = conical_contraction(beta, angle);
    let (forward, backward) = if widens { (widening, narrowing) } else { (narrowing, widening) };
    if widens && stalls(beta, angle) {
        context.warn(
            "diffuser-stalls",
            None, || (format!(
                "it widens by {:.0}° (area ratio {:.2}); above {:.0}° the flow leaves the wall and the loss is uncertain",
                angle.to_degrees(),
                1.0 / (beta * beta),
                stall_angle(beta).to_degrees()
            ), "make it longer, widen less, or put a screen or the core right behind it".into()));
    }
    Some(Cone {
        change,
        pieces: context.pieces,
        resistance: Resistance {
            forward,
            backward,
            area: change.smaller() * context.pieces,
            diameter: small,
            relative_roughness: view.required(&ROUGHNESS) / small,
        },
    })
}

/// Included angle above which a diffuser of diameter ratio `beta` is likely to stall (rad).
///
/// About 15° for an area ratio of 2 and 10° for 4 and more (common practice, after the charts of
/// straight-walled and conical diffusers; from memory). A small widening may be steeper.
fn stall_angle(beta: f64) -> f64 {
    let area_ratio = 1.0 / (beta * beta);
    (15.0 - 2.5 * (area_ratio - 2.0)).clamp(10.0, 20.0).to_radians()
}

fn stalls(beta: f64, angle: f64) -> bool {
    beta < 0.95 && angle > stall_angle(beta)
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    cone(context, view, true).map(Law::Diffuser)
}

impl Cone {
    /// Its smaller area over its larger.
    pub fn area_ratio(&self) -> f64 {
        let beta = self.change.beta();
        beta * beta
    }

    /// Loss coefficient with the air going its way, without wall friction; K on the smaller area.
    pub fn loss_coefficient(&self) -> f64 {
        self.resistance.forward.fixed
    }
}

impl ElementLaw for Cone {
    fn prepare(&mut self, _moment: &FreeStream, _taped: f64) {}

    #[inline(always)]
    fn respond(&self, stream: &PassageStream, temperature: f64, _part: f64) -> Response {
        let mut response = Response::passing(temperature);
        self.resistance.add_to(&mut response, stream, temperature);
        response
    }

    fn area(&self) -> Option<f64> {
        Some(self.change.smaller())
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn ends(&self) -> Option<(f64, f64)> {
        Some((self.change.before, self.change.after))
    }

    fn discharge(&self, forward: bool) -> Discharge {
        Discharge::Area(self.pieces * if forward { self.change.after } else { self.change.before })
    }
}

fn figure() -> Option<ElementFigure> {
    Some(cone_figure("A diffuser", conical_diffuser))
}
