//! Fans: a curve or a wheel, and what belongs to each.

use crate::diagnostics::support::{edit, hold, number, set};

const REFERENCE: &str = r#"reference_speed = "8000 rpm", curve = [["0 m3/s", "1300 Pa"], ["0.3 m3/s", "900 Pa"], ["0.5 m3/s", "0 Pa"]] }"#;
const FAN: &str = r#"{ kind = "fan", drive_ratio = 1.5, reference_speed = "8000 rpm", curve = [["0 m3/s", "1300 Pa"], ["0.3 m3/s", "900 Pa"], ["0.5 m3/s", "0 Pa"]] }"#;

#[test]
fn fans() {
    hold(
        "fans",
        &[
            edit(
                FAN,
                r#"{ kind = "fan", drive_ratio = 1.5, diameter = "180 mm" }"#,
                "fan-curve-or-wheel",
                r#"{ kind = "fan", drive_ratio = 1.5, diameter = "180 mm" }"#,
                "passage/scoop/fan says neither its curve nor its wheel",
            ),
            edit(
                REFERENCE,
                r#"diameter = "180 mm", wheel = "axial", reference_speed = "8000 rpm", curve = [["0 m3/s", "1300 Pa"], ["0.5 m3/s", "0 Pa"]] }"#,
                "said-twice",
                r#"[["0 m3/s", "1300 Pa"], ["0.5 m3/s", "0 Pa"]]"#,
                "wheel and curve",
            ),
            edit(
                r#"drive_ratio = 1.5, reference_speed = "8000 rpm","#,
                "drive_ratio = 1.5,",
                "key-missing",
                r#"{ kind = "fan", drive_ratio = 1.5, curve = [["0 m3/s", "1300 Pa"], ["0.3 m3/s", "900 Pa"], ["0.5 m3/s", "0 Pa"]] }"#,
                "passage/scoop/fan has no reference_speed",
            ),
            edit(
                REFERENCE,
                r#"wheel = "axial" }"#,
                "fan-diameter-missing",
                r#""axial""#,
                "its wheel and not its diameter",
            ),
            edit(
                REFERENCE,
                r#"wheel = "axial", diameter = "180 mm", reference_speed = "8000 rpm" }"#,
                "fan-reference-idle",
                r#""8000 rpm""#,
                "reference_speed belongs to a curve",
            ),
            edit(
                "drive_ratio = 1.5, reference_speed",
                "drive_ratio = 1.5, head_factor = 1.2, reference_speed",
                "fan-wheel-missing",
                "1.2",
                "head_factor stands on a wheel's usual curve",
            ),
            edit(
                REFERENCE,
                r#"wheel = "axial", diameter = "180 mm", flow_factor = 0.9, measured = { flow = "0.2 m3/s", pressure = "400 Pa", speed = "7000 rpm" } }"#,
                "said-twice",
                r#"{ flow = "0.2 m3/s", pressure = "400 Pa", speed = "7000 rpm" }"#,
                "flow_factor and measured",
            ),
            edit(
                REFERENCE,
                r#"wheel = "axial", diameter = "180 mm", measured = { flow = "0.2 m3/s", pressure = "400 Pa" } }"#,
                "key-missing",
                r#"{ flow = "0.2 m3/s", pressure = "400 Pa" }"#,
                "has no speed",
            ),
            edit(
                REFERENCE,
                r#"wheel = "propeller", diameter = "180 mm" }"#,
                "unknown-word",
                r#""propeller""#,
                "fan/wheel cannot be",
            ),
        ],
    );
}

#[test]
fn defaults_stand_where_they_are_used() {
    let listed = |pairs: &[(&str, &str)]| {
        let case = set(pairs).case;
        ["head_factor", "flow_factor", "reference_density", "measured/density"]
            .map(|key| case.numbers.find(&format!("passage/scoop/fan/{key}")).is_some())
    };
    let wheel = [("passage/scoop/fan/wheel", "axial"), ("passage/scoop/fan/diameter", "180 mm")];
    assert_eq!(listed(&[]), [false, false, true, false]);
    assert_eq!(listed(&wheel), [true, true, false, false]);
    let point = r#"{ flow = "0.2 m3/s", pressure = "400 Pa", speed = "7000 rpm" }"#;
    assert_eq!(
        listed(&[wheel[0], wheel[1], ("passage/scoop/fan/measured", point)]),
        [false, false, false, true]
    );
    // a wheel set over a curve takes its place, its speed included
    assert_eq!(number(&wheel, "passage/scoop/fan/diameter"), 0.18);
}
