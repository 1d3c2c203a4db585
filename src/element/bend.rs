//! A bend, rounded or mitred.

use super::size::{AREA, COUNT, DIAMETER, HEIGHT, KIND as KIND_KEY, NAME, ROUGHNESS, WIDTH, equivalent_diameter};
use super::{ElementKind, Law, Plain, Resistance, Role, Site};
use crate::correlations::bends;
use crate::keys::{Key, Kind, Need, Range, Shape, View};
use std::f64::consts::{FRAC_PI_2, PI};

/// Angle turned.
const ANGLE: Key = Key::default(
    "angle",
    Kind::Angle,
    (FRAC_PI_2, FRAC_PI_2, FRAC_PI_2),
    Range::between(0.0, PI),
    "a right angle, unless said otherwise",
    "angle through which the air is turned",
);
/// Radius of the centre line.
const RADIUS: Key = Key::optional("radius", Kind::Length, Range::POSITIVE, "radius of the centre line; left out: mitred");
/// Turning vanes.
const VANES: Key = Key {
    name: "vanes",
    shape: Shape::NotYet("leave it out: the bend is then reckoned without vanes, on the safe side"),
    need: Need::Optional,
    range: Range::ANY,
    words: &[],
    help: "turning vanes",
};

/// A bend.
pub const KIND: ElementKind = ElementKind {
    name: "bend",
    role: Role::Middle,
    keys: &[KIND_KEY, NAME, AREA, WIDTH, HEIGHT, DIAMETER, COUNT, ANGLE, RADIUS, ROUGHNESS, VANES],
    needs_size: true,
    summary: "A bend, rounded where a radius is given, else mitred; the bend's own wall friction included.",
    range: "Rounded: 0..180°, r/D 0.5..10. Mitred: 0..150°. Bends less than a few diameters apart disturb one another, which is not counted.",
    source: "Rennels & Hudson, Pipe Flow (2012), as general-purpose libraries give the formulas; the book itself was not read",
    example: r#"{ kind = "bend", diameter = "90 mm", angle = "60 deg", radius = "120 mm" }"#,
    further_examples: &[],
    build,
};

/// Law of a bend.
pub type Bend = Plain;

fn build(site: &mut Site, view: &View) -> Option<Law> {
    let size = site.size?;
    let diameter = equivalent_diameter(size.area);
    let angle = view.given(&ANGLE);
    let k = match view.number(&RADIUS) {
        Some(radius) => {
            let ratio = radius / diameter;
            if !(0.5..=10.0).contains(&ratio) {
                site.fault(
                    "bend-radius-beyond-range",
                    Some(&RADIUS),
                    format!("the centre line's radius is {ratio:.2} diameters; the formula holds from 0.5 to 10"),
                    "leave radius out for a mitred bend, or use a duct with a loss for a gentle curve".into(),
                );
                return None;
            }
            bends::rounded(angle, ratio)
        }
        None => {
            if angle.to_degrees() > 150.0 + 1e-9 {
                site.fault(
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
    Some(Law::Bend(Plain {
        area_of_one: size.area,
        pieces: site.pieces,
        resistance: Resistance {
            forward: k,
            backward: k,
            area: size.area * site.pieces,
            diameter,
            relative_roughness: view.given(&ROUGHNESS) / diameter,
        },
    }))
}
