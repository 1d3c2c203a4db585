//! A loss coefficient of one's own.

use super::size::{BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, WIDTH};
use super::{AreaContinuity, ConstantLoss, ElementContext, ElementKind, Law, Push, Resistance, Role};
use crate::keys::{Key, Kind, Range, View};

/// Loss coefficient on the element's area.
pub const K: Key = Key::required(
    "k",
    Kind::Ratio,
    Range::between(-1.0, 1000.0),
    "loss coefficient on its own area; from a bench test, 2 Δp ρ A²/ṁ²",
)
.also(&["zeta", "loss_coefficient", "loss"]);
/// Loss coefficient of the air running back.
pub const K_REVERSE: Key = Key::optional(
    "k_reverse",
    Kind::Ratio,
    Range::between(-1.0, 1000.0),
    "loss coefficient of the air running back; else k",
);

/// A loss.
pub const KIND: ElementKind = ElementKind {
    name: "loss",
    also: &[],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::PassedOver,
    keys: &[KIND_KEY, NAME, BLENDED, NEEDED_AREA, WIDTH, HEIGHT, DIAMETER, COUNT, K, K_REVERSE],
    summary: "Any resistance with a known loss coefficient K on its own area. A junction's K may be negative.",
    range: "Wherever the coefficient was measured.",
    source: "definition of the loss coefficient, Δp = K ½ρV²",
    example: r#"{ kind = "loss", area = "110 cm2", k = 0.8, k_reverse = 1.6 }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("loss.md"),
    figures: &[],
    checks: &[],
    build,
};

/// Law of a loss.
pub type Loss = ConstantLoss;

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let area = context.size?.area;
    let k = view.required(&K);
    let backward = view.number(&K_REVERSE).unwrap_or(k);
    if k < 0.0 || backward < 0.0 {
        context.warn(
            "negative-loss",
            Some(&K), || (format!(
                "a loss coefficient of {:.2} adds pressure as the flow grows; more than one state may exist",
                k.min(backward)
            ), "right for a junction's branch; anywhere else look for a slip in the sign".into()));
    }
    Some(Law::Loss(ConstantLoss {
        area_of_one: area,
        pieces: context.pieces,
        resistance: Resistance::two_way(k, backward, area * context.pieces),
    }))
}
