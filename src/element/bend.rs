//! A bend, rounded or mitred.

use super::duct::{HOSE, LENGTH, roughness};
use super::figure::{ElementFigure, FRICTION, axis, chart, curve};
use super::size::{
    BLENDED, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, NEEDED_AREA, PieceSize, ROUGHNESS, WIDTH,
    equivalent_diameter,
};
use super::written::WrittenElement;
use super::{AreaContinuity, ConstantLoss, ElementContext, ElementKind, Law, Push, Resistance, Role};
use crate::correlations::bends;
use crate::keys::kind::short_number;
use crate::keys::{Key, Kind, Numbers, Range, Rule, RuleWords, ValueShape, Values, View};
use std::f64::consts::{FRAC_PI_2, PI};

/// Angle turned.
pub const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (FRAC_PI_2, FRAC_PI_2, FRAC_PI_2),
    Range::between(0.0, PI),
    "a right angle, unless said otherwise",
    "angle through which the air is turned",
);
/// Radius of the centre line.
pub const RADIUS: Key =
    Key::optional("radius", Kind::Length, Range::POSITIVE, "radius of the centre line; left out: mitred")
        .also(&["centre_radius", "center_radius", "r", "r_over_d"]);
/// Turning vanes.
pub const VANES: Key =
    Key::open("vanes", ValueShape::Flag, "true: turning vanes in the knee").rules(&[Rule::Told(
        &Rule::Needs("hose", &["radius"]),
        &RuleWords::new(
            "hose-without-radius",
            "{table}: a hose bends along a curve, and no radius is given",
            "give the radius of the centre line, with a template of card",
        ),
    )]);
/// What vanes leave of the loss.
pub const VANE_FACTOR: Key = Key::default(
    "vane_factor",
    Kind::Ratio,
    (0.25, 0.15, 0.4),
    Range::between(0.05, 1.0),
    "single-thickness vanes bring a right-angled knee from K 1.1 to 1.3 down to 0.2 to 0.4, profiled ones to 0.15 (from memory)",
    "share of the knee's loss that is left with vanes; a U-tube across the bend on the bench",
)
.rules(&[Rule::OnlyWith("vanes"), Rule::Told(&Rule::Needs("vane_factor", &["vanes"]), &VANES_MISSING)]);
/// A factor of vanes without vanes.
const VANES_MISSING: RuleWords = RuleWords::new(
    "vanes-missing",
    "{table}: vane_factor is what vanes leave of the loss, and there are none",
    "write vanes = true, or take vane_factor out",
);
/// What a bend close before does to the loss.
pub const INTERACTION: Key = Key::default(
    "interaction",
    Kind::Ratio,
    (1.0, 0.7, 1.5),
    Range::between(0.3, 3.0),
    "two bends less than four diameters apart lose 0.7 to 1.5 times what they lose alone, less as a U, more as an S or out of the plane (from memory)",
    "factor on the loss of a bend close behind another; a U-tube across both on the bench",
)
.rules(&[Rule::OnRequest]);
/// Friction factor at which a vaned knee and a rounded bend are held against each other.
const TURBULENT: f64 = 0.02;
/// Straight run in diameters below which bends disturb one another.
const CLOSE: f64 = 4.0;

/// Straight length (m) between an element of a chain and the last bend before it; none where there is none, or where
/// something stands between them that sets the air in order anew: a screen, a fan, fins, a core.
pub fn straight_before(elements: &[Values], numbers: &Numbers, index: usize) -> Option<f64> {
    let mut straight = 0.0;
    for values in elements[..index].iter().rev() {
        match values.text(&KIND_KEY) {
            Some("bend") => return Some(straight),
            Some("screen" | "fan" | "fins" | "core") => return None,
            _ => {}
        }
        straight += values.id(&LENGTH).map_or(0.0, |id| numbers.value(id));
    }
    None
}

/// Whether a bend stands so close behind another that `interaction` counts.
pub fn is_close(elements: &[Values], numbers: &Numbers, index: usize) -> bool {
    let view = View { values: &elements[index], numbers };
    view.values.text(&KIND_KEY) == Some(KIND.name)
        && straight_before(elements, numbers, index)
            .zip(PieceSize::read(&view))
            .is_some_and(|(straight, size)| straight < CLOSE * equivalent_diameter(size.area))
}

/// A bend.
pub const KIND: ElementKind = ElementKind {
    name: "bend",
    also: &["elbow", "corner"],
    sign: None,
    push: Push::Own,
    role: Role::Middle,
    chain: AreaContinuity::Channel,
    keys: &[
        KIND_KEY,
        NAME,
        BLENDED,
        NEEDED_AREA,
        WIDTH,
        HEIGHT,
        DIAMETER,
        COUNT,
        ANGLE,
        RADIUS,
        ROUGHNESS,
        HOSE,
        VANES,
        VANE_FACTOR,
        INTERACTION,
    ],
    summary: "A bend, rounded where a radius is given, else mitred; the bend's own wall friction included. Vanes leave vane_factor of a knee's loss; a bend less than four diameters behind another loses interaction times as much.",
    range: "Rounded: 0..180°, r/D 0.5..10. Mitred: 0..150°. Bends less than about four diameters apart disturb one another: interaction, a wide band.",
    source: "Rennels & Hudson, Pipe Flow (2012), as general-purpose libraries give the formulas; the book itself was not read; vanes and bends behind one another: from memory",
    example: r#"{ kind = "bend", diameter = "90 mm", angle = "60 deg", radius = "120 mm" }"#,
    further_examples: &[
        r#"{ kind = "bend", area = "60 cm2", vanes = true }"#,
        r#"{ kind = "bend", diameter = "90 mm", radius = "135 mm", hose = "moderate" }"#,
    ],
    sides: None,
    words: include_str!("bend.md"),
    figures: &[("", figure)],
    checks: &[check],
    build,
};

/// Vanes that are written and not there: a rule between keys asks for the key alone.
fn check(written: &mut WrittenElement) {
    let element = written.values();
    if element.written(&VANE_FACTOR) && element.has(&VANES) && !element.flag(&VANES) {
        written.fault_in_words(&VANES_MISSING, element.place_of(&VANE_FACTOR));
    }
}

/// Law of a bend.
pub type Bend = ConstantLoss;

fn build(context: &mut ElementContext, view: &View) -> Option<Law> {
    let size = context.size?;
    let diameter = equivalent_diameter(size.area);
    let angle = view.required(&ANGLE);
    let k = match view.number(&RADIUS) {
        Some(radius) => {
            let ratio = radius / diameter;
            if !(0.5..=10.0).contains(&ratio) {
                context.fault(
                    "bend-radius-beyond-range",
                    Some(&RADIUS),
                    format!(
                        "the centre line's radius is {ratio:.2} diameters; the formula holds from 0.5 to 10"
                    ),
                    "leave radius out for a mitred bend, or use a duct with a loss for a gentle curve".into(),
                );
                return None;
            }
            bends::rounded(angle, ratio)
        }
        None => {
            if angle.to_degrees() > 150.0 + 1e-9 {
                context.fault(
                    "bend-angle-beyond-range",
                    Some(&ANGLE),
                    format!("a mitred bend of {:.0}°; the formula holds up to 150°", angle.to_degrees()),
                    "give the radius of the centre line, or write two bends".into(),
                );
                return None;
            }
            bends::mitred(angle)
        }
    };
    let mut k = k;
    if view.values.flag(&VANES) {
        let turned = angle.to_degrees();
        if !(60.0..=120.0).contains(&turned) {
            context.warn(
                "vanes-beyond-range",
                Some(&VANES), || (format!("vanes in a bend of {turned:.0}°: what they save is published for 90° (from memory)"), "give vane_factor as measured, or leave the vanes out: the bend is then reckoned on the safe side".into()));
        }
        let vaned = bends::mitred(angle) * view.required(&VANE_FACTOR);
        // vanes do for a knee what a radius does; a bend that is easy already gains nothing
        k = if view.number(&RADIUS).is_some() && k.at(TURBULENT) <= vaned.at(TURBULENT) { k } else { vaned };
    }
    if let Some(factor) = view.number(&INTERACTION) {
        k = k * factor;
        if let Some(straight) = context.straight_before.filter(|straight| *straight < CLOSE * diameter) {
            context.warn(
                "bends-close",
                Some(&INTERACTION), || (format!("{:.1} diameters of straight duct lie between this bend and the one before it; below {CLOSE:.0} they disturb one another and lose 0.7 to 1.5 times what they lose alone (from memory); {factor:.2} is taken", straight / diameter), "put more straight duct between, or measure both together and give the loss".into()));
        }
    }
    let roughness = roughness(context, view, diameter);
    Some(Law::Bend(ConstantLoss {
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
    let of_angle = |degrees: f64| {
        let name = format!("{}°", short_number(degrees));
        curve(name, (0.5, 5.0), move |radius| bends::rounded(degrees.to_radians(), radius).at(FRICTION))
    };
    Some(chart(
        "Loss of a rounded bend",
        axis("Radius of the centre line", "over the diameter"),
        axis("K", "on the bend's area"),
        [90.0, 60.0, 30.0].map(of_angle).into(),
        &format!(
            "Own wall friction included, f = {FRICTION}. A mitred knee of 90°: K = {:.1}.",
            bends::mitred(std::f64::consts::FRAC_PI_2).at(FRICTION)
        ),
    ))
}
