//! Outlines: what is said twice, and what finds no room.

use crate::diagnostics::support::{edit, edited, faults, hold};

const RAM: &str = r#"{ kind = "ram-inlet", area = "48 cm2", recovery = 0.85, edge = "rounded" }"#;

/// The ram inlet of the base case with an outline.
macro_rules! with {
    ($outline:literal $(,)?) => {
        concat!(
            r#"{ kind = "ram-inlet", area = "48 cm2", recovery = 0.85, edge = "rounded", outline = "#,
            $outline,
            " }"
        )
    };
}

#[test]
fn outlines() {
    let twice = with!(r#"{ aspect = 2, fixed_width = "90 mm" }"#);
    let round = with!(r#"{ curvature_radius = "400 mm", bulge = "3 mm" }"#);
    let narrow = with!(r#"{ shape = "slot", narrow_side = "60 %" }"#);
    let land = with!(r#"{ most_width = "35 mm" }"#);
    let fixed = with!(r#"{ fixed_height = "60 mm", most_height = "80 mm", land = "15 mm" }"#);
    let flat = with!(r#"{ skin_angle = "5 deg" }"#);
    let shape = with!(r#"{ shape = "star" }"#);
    let flush = r#"{ kind = "flush-inlet", width = "160 mm", height = "40 mm", boundary_layer = { run = "1 m" }, outline = { shape = "slot" } }"#;
    hold(
        "outlines",
        &[
            edit(RAM, twice, "said-twice", r#""90 mm""#, "aspect and fixed_width say the same thing"),
            edit(RAM, round, "said-twice", r#""3 mm""#, "curvature_radius and bulge say the same thing"),
            edit(RAM, narrow, "narrow-side-without-trapezium", r#""60 %""#, "the shape is a slot"),
            edit(
                RAM,
                land,
                "outline-without-room",
                r#""35 mm""#,
                "the land on either side alone needs 40 mm",
            ),
            edit(RAM, fixed, "outline-without-room", r#""80 mm""#, "need 90 mm"),
            edit(RAM, flat, "out-of-range", r#""5 deg""#, "skin_angle"),
            edit(RAM, shape, "unknown-word", r#""star""#, "shape"),
            edit(RAM, flush, "unknown-key", "shape", "has no key shape"),
        ],
    );
}

#[test]
fn every_outline_key_is_read() {
    let whole = with!(
        r#"{ shape = "trapezium", aspect = 1.6, narrow_side = "70 %", most_width = "300 mm", most_height = "200 mm", corner_radius = "12 mm", land = "25 mm", bonded_lip = "2 mm", skin_angle = "40 deg", slopes_along = "width", curvature_radius = "600 mm", mirror = true, faces = "left" }"#,
    );
    let text = edited(RAM, whole);
    assert!(faults(&text).is_empty(), "{:?}", faults(&text));
}
