//! Flush inlets: what they need, and what stands for what.

use crate::diagnostics::support::{edit, edited, faults, hold, plain, sole};
use slowcorner::case::load;

const RAM: &str = r#"{ kind = "ram-inlet", area = "48 cm2", recovery = 0.85, edge = "rounded" }"#;

#[test]
fn flush_inlets() {
    hold(
        "flush_inlets",
        &[
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm" }"#,
                "layer-missing",
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm" }"#,
                "boundary_layer is not given, here or by its place",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", place = "tail left" }"#,
                "layer-missing",
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", place = "tail left" }"#,
                "boundary_layer is not given, here or by its place",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", boundary_layer = { run = "1 m" } }"#,
                "key-missing",
                r#"{ kind = "flush-inlet", width = "120 mm", boundary_layer = { run = "1 m" } }"#,
                "has no height",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", boundary_layer = { run = "1 m", gap = "5 mm" } }"#,
                "unknown-key",
                "gap",
                "has no key gap",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", ramp_angle = "14 deg", boundary_layer = { run = "1 m" } }"#,
                "out-of-range",
                r#""14 deg""#,
                "ramp_angle",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = 0.8, recovery_shift = 0.05, boundary_layer = { run = "1 m" } }"#,
                "said-twice",
                "0.05",
                "recovery and recovery_shift",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery_shift = 0.05, place = "shoulder" }"#,
                "recovery-at-place",
                "0.05",
                "its place gives another",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = [[0.5, 0.8]], boundary_layer = { run = "1 m" } }"#,
                "recovery-points",
                "[[0.5, 0.8]]",
                "two points or more",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = [], boundary_layer = { run = "1 m" } }"#,
                "recovery-points",
                "[]",
                "two points or more",
            ),
            edit(
                RAM,
                r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = [[0.3, 0.8], [0.6, 1.4]], boundary_layer = { run = "1 m" } }"#,
                "out-of-range",
                "1.4",
                "recovery",
            ),
        ],
    );
}

#[test]
fn the_place_gives_its_layer_and_what_is_written_is_not_assumed() {
    let assumed = |element: &str| {
        let text = edited(RAM, element);
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{}", plain(faults.list(), &text))).case;
        let facts = case.numbers.facts().iter();
        facts.filter(|fact| fact.address.ends_with("/recovery_shift")).count()
    };
    let by_place = r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", place = "tail left", boundary_layer = { run = "1 m" } }"#;
    assert_eq!(assumed(by_place), 1);
    // both ends of a ramp's range are in it
    for angle in ["5 deg", "10 deg"] {
        let element = by_place.replace("place =", &format!("ramp_angle = \"{angle}\", place ="));
        assert_eq!(assumed(&element), 1, "{angle}");
    }
    for written in [
        r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", place = "shoulder" }"#,
        r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = 0.8, boundary_layer = { run = "1 m" } }"#,
        r#"{ kind = "flush-inlet", width = "120 mm", height = "40 mm", recovery = [[0.3, 0.8], [0.6, "0.7 ± 0.05"]], boundary_layer = { run = "1 m" } }"#,
    ] {
        assert_eq!(assumed(written), 0, "{written}");
    }
}

#[test]
fn words_that_builders_try_first() {
    for word in ["naca", "NACA-duct", "submerged", "ramp"] {
        let text = edited(RAM, &format!(r#"{{ kind = "{word}" }}"#));
        assert!(sole(&text).what_to_do.contains("did you mean flush-inlet?"), "{word}");
    }
    let text = edited(RAM, r#"{ kind = "flush-inlet", area = "48 cm2", boundary_layer = { run = "1 m" } }"#);
    let mut codes: Vec<&str> = faults(&text).iter().map(|fault| fault.code).collect();
    codes.sort_unstable();
    assert_eq!(codes, ["key-missing", "key-missing", "unknown-key"], "an area has no width and no height");
}
