//! A sudden change of area.

use super::figure::{ElementFigure, axis, chart, curve};
use super::law::Lump;
use super::size::{
    AREA_AFTER, AREA_BEFORE, BLENDED, COUNT, Change, KIND as KIND_KEY, NAME, change, equivalent_diameter,
};
use super::{
    AreaContinuity, Discharge, ElementContext, ElementKind, ElementLaw, FreeStream, Law, PassageStream, Push,
    Resistance, Response, Role,
};
use crate::correlations::LossCoefficient;
use crate::correlations::area_change::{rounded_contraction, sharp_contraction, sudden_enlargement};
use crate::keys::{Key, Kind, Range, View};

/// Radius of the edge where the air is narrowed.
const RADIUS: Key = Key::default(
    "radius",
    Kind::Length,
    (0.0, 0.0, 0.003),
    Range::between(0.0, 1.0),
    "a sharp edge; a hand-rounded one has a few millimetres (common practice)",
    "radius of the edge, counts where the air is narrowed; a radius gauge or a coin",
);

/// A sudden change of area.
pub const KIND: ElementKind = ElementKind {
    name: "step",
    also: &[],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Joined,
    keys: &[KIND_KEY, NAME, BLENDED, AREA_BEFORE, AREA_AFTER, RADIUS, COUNT],
    summary: "A sudden change of area: Borda and Carnot where the air widens, Rennels & Hudson where it narrows; K on the smaller area. Behind a chamber the area before is infinite.",
    range: "Turbulent flow; edge radius up to the smaller diameter.",
    source: "Borda (1766), Carnot (1803); Rennels & Hudson, Pipe Flow (2012), as general-purpose libraries give the formulas; the book itself was not read",
    example: r#"{ kind = "step", area_before = "60 cm2", area_after = "140 cm2" }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("step.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a sudden change of area.
#[derive(Clone, Debug)]
pub struct AreaStep {
    change: Change,
    pieces: f64,
    resistance: Resistance,
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let change = change(context, view, true)?;
    let smaller = change.smaller();
    if !smaller.is_finite() {
        context.fault(
            "area-unknown",
            None,
            "a step between two chambers, with no area of its own".into(),
            "give area_before or area_after, or put an element with a size beside it".into(),
        );
        return None;
    }
    let ratio = view.required(&RADIUS) / equivalent_diameter(smaller);
    if ratio > 1.0 {
        context.fault(
            "step-radius-beyond-range",
            Some(&RADIUS),
            format!("the edge's radius is {ratio:.2} of the smaller diameter; the formula holds up to 1"),
            "give a smaller radius, or write a contraction".into(),
        );
        return None;
    }
    let beta = change.beta();
    let narrowing = if ratio > 0.0 { rounded_contraction(beta, ratio) } else { sharp_contraction(beta) };
    let widening = sudden_enlargement(beta * beta);
    let widens = change.after >= change.before;
    let (forward, backward) = if widens { (widening, narrowing) } else { (narrowing, widening) };
    Some(Law::AreaStep(AreaStep {
        change,
        pieces: context.pieces,
        resistance: Resistance {
            forward: LossCoefficient { fixed: forward, per_friction: 0.0 },
            backward: LossCoefficient { fixed: backward, per_friction: 0.0 },
            area: smaller * context.pieces,
            diameter: 1.0,
            relative_roughness: 0.0,
        },
    }))
}

impl AreaStep {
    /// Lets the air that narrows, `forward` or running back, pass free: what stands there has the way into it
    /// in its own figures. Nothing where the air widens that way.
    pub fn free_way_in(&mut self, forward: bool) {
        if self.narrows(forward) {
            let k = if forward { &mut self.resistance.forward } else { &mut self.resistance.backward };
            *k = LossCoefficient { fixed: 0.0, per_friction: 0.0 };
        }
    }
}

impl AreaStep {
    fn narrows(&self, forward: bool) -> bool {
        if forward { self.change.after < self.change.before } else { self.change.before < self.change.after }
    }

    /// Lets the air pass free where it does through another step at the same place, whatever its own radius.
    pub fn free_as(&mut self, other: &AreaStep) {
        for forward in [true, false] {
            let k = if forward { &other.resistance.forward } else { &other.resistance.backward };
            // a way that narrows costs something unless it was freed
            if other.narrows(forward) && k.fixed == 0.0 && k.per_friction == 0.0 {
                self.free_way_in(forward);
            }
        }
    }
}

impl ElementLaw for AreaStep {
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

    fn lump(&self) -> Option<Lump> {
        self.resistance.lump(0.0)
    }

    fn pieces(&self) -> f64 {
        self.pieces
    }

    fn ends(&self) -> Option<(f64, f64)> {
        Some((self.change.before, self.change.after))
    }

    fn discharge(&self, forward: bool) -> Discharge {
        let opens_into = if forward { self.change.after } else { self.change.before };
        if opens_into.is_finite() { Discharge::Area(opens_into * self.pieces) } else { Discharge::Included }
    }
}

fn figure() -> Option<ElementFigure> {
    let sharp = |ratio: f64| sharp_contraction(ratio.sqrt());
    Some(chart(
        "A sudden change of area",
        axis("Smaller area over larger", ""),
        axis("K", "on the smaller area"),
        vec![
            curve("widens", (0.0, 1.0), sudden_enlargement),
            curve("narrows, sharp edge", (0.0, 1.0), sharp),
        ],
        "0 stands for a chamber.",
    ))
}
