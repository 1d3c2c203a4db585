//! A straight duct or hose.

use super::figure::{ElementFigure, axis, chart, curve};
use super::size::{BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, ROUGHNESS, WIDTH};
use super::{AreaContinuity, ConstantLoss, ElementContext, ElementKind, Law, Push, Resistance, Role};
use crate::correlations::LossCoefficient;
use crate::correlations::friction;
use crate::keys::kind::short_number;
use crate::keys::{Key, Kind, Range, Rule, ValueShape, View};

/// Length along the axis.
pub const LENGTH: Key =
    Key::required("length", Kind::Length, Range::above(0.0, 20.0), "length along the axis").also(&["l"]);
/// How a flexible hose is laid.
pub const HOSE: Key = Key::open(
    "hose",
    ValueShape::Word(&["stretched", "moderate", "compressed"]),
    "a flexible hose, instead of roughness: fully stretched 0.9 mm, moderately compressed 3.6 mm, compressed 9 mm",
)
.rules(&[Rule::OneOf(&["hose", "roughness"]), Rule::Instead(&[&["hose"], &["roughness"]])]);

/// A straight duct.
pub const KIND: ElementKind = ElementKind {
    name: "duct",
    also: &["hose", "pipe", "tube"],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Channel,
    keys: &[KIND_KEY, NAME, BLENDED, NEEDED_AREA, WIDTH, HEIGHT, DIAMETER, COUNT, LENGTH, ROUGHNESS, HOSE],
    summary: "A straight duct: K = f L/D by Darcy and Weisbach on the hydraulic diameter, f by Churchill over all Reynolds numbers.",
    range: "Fully developed flow; relative roughness up to 0.05.",
    source: "Churchill (1977); hose roughness: ASHRAE Handbook of Fundamentals (stretched), Abushakra, Walker & Sherman (compressed)",
    example: r#"{ kind = "duct", diameter = "90 mm", length = "400 mm", roughness = "0.1 mm" }"#,
    further_examples: &[],
    sides: None,
    words: include_str!("duct.md"),
    figures: &[("", figure)],
    checks: &[],
    build,
};

/// Law of a straight duct.
pub type Duct = ConstantLoss;

/// Roughness (m) of a wall or a hose, warned of where it is beyond the friction factor's range on a diameter (m).
pub fn roughness(context: &mut ElementContext, view: &View, diameter: f64) -> f64 {
    let roughness = match view.values.text(&HOSE) {
        Some("stretched") => 0.9e-3,
        Some("moderate") => 3.6e-3,
        Some("compressed") => 9.0e-3,
        _ => view.required(&ROUGHNESS),
    };
    if roughness / diameter > 0.05 {
        context.warn(
            "roughness-beyond-range",
            Some(&ROUGHNESS), || (format!(
                "the wall's roughness is {:.0} % of its diameter; the friction factor is published up to 5 %",
                100.0 * roughness / diameter
            ), "take the result as a rough guide, or measure the duct's pressure drop and give it as a loss"
                .into()));
    }
    roughness
}

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let size = context.size?;
    let diameter = size.hydraulic_diameter;
    let roughness = roughness(context, view, diameter);
    let k = LossCoefficient { fixed: 0.0, per_friction: view.required(&LENGTH) / diameter };
    Some(Law::Duct(ConstantLoss {
        area_of_one: size.area,
        pieces: context.pieces,
        resistance: Resistance {
            forward: k,
            backward: k,
            area: size.area * context.pieces,
            diameter,
            relative_roughness: roughness / diameter,
        },
    }))
}

fn figure() -> Option<ElementFigure> {
    let of_roughness = |roughness: f64| {
        let name = format!("roughness {} % of D", short_number(100.0 * roughness));
        curve(name, (2.5, 6.0), move |log| friction::churchill(10_f64.powf(log), roughness).0)
    };
    Some(chart(
        "Friction factor of a duct",
        axis("Reynolds number", "as a power of ten"),
        axis("Darcy friction factor f", "K = f L/D"),
        [0.0, 0.005, 0.05].map(of_roughness).into(),
        "100 mm of duct at 10 m/s: about 67 000, a power of 4.8.",
    ))
}
