//! What must stand together in the table of a fan.

use super::{CURVE, REFERENCE_DENSITY, REFERENCE_SPEED};
use crate::element::size::DIAMETER;
use crate::element::wheel::{FLOW_FACTOR, HEAD_FACTOR, MEASURED, WHEEL, WHEEL_DIAMETER};
use crate::element::written::WrittenElement;
use crate::keys::Key;

/// A curve, or the wheel that stands for one.
pub(super) fn check(written: &mut WrittenElement) {
    let element = written.values();
    let is_written = |key: &&Key| element.written(key);
    let address = &element.address;
    match (element.written(&CURVE), element.written(&WHEEL)) {
        (false, false) => written.fault(
            "fan-curve-or-wheel",
            format!("{address} says neither its curve nor its wheel"),
            element.place.clone(),
            r#"give curve and reference_speed, as its maker or a bench has them; or wheel = "axial" (or backward-curved, radial, forward-curved) with its diameter, for the usual curve of its kind"#,
        ),
        (true, wheel) => {
            if !element.written(&REFERENCE_SPEED) {
                written.fault(
                    "key-missing",
                    format!("{address} has no reference_speed"),
                    element.place.clone(),
                    format!("give reference_speed: {}", REFERENCE_SPEED.help),
                );
            }
            let idle = [&MEASURED, &HEAD_FACTOR, &FLOW_FACTOR].into_iter().find(is_written);
            if let (Some(key), false) = (idle, wheel) {
                written.fault(
                    "fan-wheel-missing",
                    format!("{address}: {} stands on a wheel's usual curve, and a curve is given", key.name),
                    element.place_of(key),
                    "put the measured point among those of the curve; or give wheel and diameter instead of the curve",
                );
            }
        }
        (false, true) => {
            if let Some(key) = [&REFERENCE_SPEED, &REFERENCE_DENSITY].into_iter().find(is_written) {
                written.fault(
                    "fan-reference-idle",
                    format!("{address}: {} belongs to a curve, and a wheel stands in its place", key.name),
                    element.place_of(key),
                    "leave it out; the speed and density of a measured point stand in measured = { flow, pressure, speed, density }",
                );
            }
            if ![&DIAMETER, &WHEEL_DIAMETER].iter().any(is_written) {
                written.fault(
                    "fan-diameter-missing",
                    format!("{address} gives its wheel and not its diameter, on which its usual curve stands"),
                    element.place_of(&WHEEL),
                    r#"give diameter = "230 mm", over the blade tips; or wheel_diameter where the outlet is not as wide"#,
                );
            }
        }
    }
}
