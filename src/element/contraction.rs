//! A passage that narrows.

use super::diffuser::{ANGLE, Cone, LENGTH, cone};
use super::figure::{ElementFigure, cone_figure};
use super::size::{AREA_AFTER, AREA_BEFORE, BLENDED, COUNT, KIND as KIND_KEY, NAME, ROUGHNESS};
use super::{AreaContinuity, ElementContext, ElementKind, Law, Push, Role};
use crate::correlations::area_change;
use crate::keys::View;

/// A contraction.
pub const KIND: ElementKind = ElementKind {
    name: "contraction",
    also: &["reducer"],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Channel,
    keys: &[KIND_KEY, NAME, BLENDED, LENGTH, ANGLE, AREA_BEFORE, AREA_AFTER, COUNT, ROUGHNESS],
    summary: "A passage that narrows, as the equivalent cone; K on the smaller area; in reverse it is a diffuser.",
    range: "Included angle 0..180°.",
    source: "Rennels & Hudson, Pipe Flow (2012), as general-purpose libraries give the formulas; the book itself was not read",
    example: r#"{ kind = "contraction", angle = "40 deg", area_before = "140 cm2", area_after = "60 cm2" }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("contraction.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a contraction.
pub type Contraction = Cone;

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    cone(context, view, false).map(Law::Contraction)
}

fn figure() -> Option<ElementFigure> {
    Some(cone_figure("A contraction", area_change::conical_contraction))
}
