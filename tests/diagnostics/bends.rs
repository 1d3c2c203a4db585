//! Bends: hoses, vanes, and bends close behind one another.

use crate::diagnostics::support::{edit, edited, faults, hold, plain, set};
use slowcorner::case::load;

const BEND: &str = r#"angle = "30 deg", radius = "160 mm" }"#;

#[test]
fn bends() {
    hold(
        "bends",
        &[
            edit(
                BEND,
                r#"angle = "30 deg", hose = "moderate" }"#,
                "hose-without-radius",
                r#""moderate""#,
                "a hose bends along a curve",
            ),
            edit(
                BEND,
                r#"angle = "30 deg", vane_factor = 0.3 }"#,
                "vanes-missing",
                "0.3",
                "what vanes leave of the loss",
            ),
            edit(
                BEND,
                r#"angle = "30 deg", radius = "160 mm", roughness = "1 mm", hose = "moderate" }"#,
                "said-twice",
                r#""moderate""#,
                "roughness and hose",
            ),
        ],
    );
    let text = edited(BEND, r#"angle = "30 deg", vanes = true, vane_factor = 0.3 }"#);
    assert_eq!(plain(&faults(&text), &text), "");
}

#[test]
fn defaults_stand_where_they_are_used() {
    let listed = |address: &str, pairs: &[(&str, &str)]| set(pairs).case.numbers.find(address).is_some();
    let interaction = "passage/scoop/bend 2/interaction";
    assert!(listed(interaction, &[]), "straight behind another");
    assert!(!listed("passage/scoop/bend/interaction", &[]), "nothing before it but the inlet");
    let (factor, vanes) = ("passage/scoop/bend 2/vane_factor", "passage/scoop/bend 2/vanes");
    assert!(!listed(factor, &[]) && !listed(factor, &[(vanes, "false")]));
    assert!(listed(factor, &[(vanes, "true")]));
    // a screen between them sets the air in order anew; a duct of 4 diameters, 496 mm, parts them too
    let second = r#"{ kind = "bend", diameter = "124 mm", angle = "30 deg""#;
    for (between, close) in [
        (r#"{ kind = "screen", diameter = "124 mm", open_fraction = 0.6 }"#, false),
        (r#"{ kind = "duct", diameter = "124 mm", length = "490 mm" }"#, true),
        (r#"{ kind = "duct", diameter = "124 mm", length = "500 mm" }"#, false),
    ] {
        let text = edited(second, &format!("{between}, {second}"));
        let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
        assert_eq!(case.numbers.find(interaction).is_some(), close, "{between}");
    }
}
