//! Faults that show when laws are made: each names its dimension and a way out.

use slowcorner::case::load;
use slowcorner::study::Model;

/// The faults of a passage's elements.
fn faults(from: &str, to: &str, chain: &str) -> Vec<(&'static str, String, String)> {
    let text = format!(
        r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
heads = "10 %"
[part.heads]
limit = "200 degC"
bay_conductance = "3 W/K"
[place.roof]
recovery = 0.9
[[passage]]
name = "under test"
from = "{from}"
to = "{to}"
element = [{chain}]
[[passage]]
name = "in"
from = "outside"
to = "bay"
element = [{{ kind = "ram-inlet", area = "60 cm2" }}]
[[passage]]
name = "through"
from = "bay"
to = "tail"
element = [{{ kind = "loss", area = "60 cm2", k = 1 }}]
[[passage]]
name = "out"
from = "tail"
to = "outside"
element = [{{ kind = "exit", area = "200 cm2" }}]
"#
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    let found = match Model::new(&case) {
        Ok(_) => return Vec::new(),
        Err(found) => found,
    };
    found.list().iter().map(|f| (f.code, f.message.clone(), f.what_to_do.clone())).collect()
}

#[test]
fn bad_geometry_is_refused_by_name() {
    for (from, to, chain, code, says, way_out) in [
        (
            "outside",
            "bay",
            r#"{ kind = "flush-inlet", width = "150 mm", height = "40 mm", place = "roof" }"#,
            "key-missing",
            "boundary_layer is not given",
            "how far the air has run",
        ),
        (
            "bay",
            "outside",
            r#"{ kind = "tee", area = "50 cm2", leg = "side" }, { kind = "duct", area = "50 cm2", length = "1 m" }, { kind = "tee", area = "50 cm2", leg = "side" }, { kind = "exit", area = "50 cm2" }"#,
            "tee-without-joint",
            "where no joint is",
            "a joint is a chamber",
        ),
        (
            "bay",
            "tail",
            r#"{ kind = "tee", area = "50 cm2", leg = "side" }"#,
            "tee-without-joint",
            "which of them is the joint",
            "put a duct",
        ),
        (
            "outside",
            "bay",
            r#"{ kind = "ram-inlet", area = "60 cm2" }, { kind = "tee", area = "60 cm2", leg = "side", combined_area = "40 cm2" }"#,
            "tee-side-too-wide",
            "the side leg has 60.0 cm2 and the combined leg 40.0 cm2",
            "call the wider leg the straight one",
        ),
        (
            "outside",
            "bay",
            r#"{ kind = "ram-inlet", area = "60 cm2" }, { kind = "bend", area = "60 cm2", radius = "30 mm" }"#,
            "bend-radius-beyond-range",
            "0.34 diameters",
            "leave radius out",
        ),
    ] {
        let found = faults(from, to, chain);
        let [(is, message, advice)] = &found[..] else { panic!("{chain}: {found:?}") };
        assert_eq!(*is, code, "{chain}");
        assert!(message.contains(says), "{message}");
        assert!(advice.contains(way_out), "{advice}");
    }
    assert!(
        faults(
            "bay",
            "outside",
            r#"{ kind = "tee", area = "50 cm2", leg = "side" }, { kind = "exit", area = "50 cm2" }"#
        )
        .is_empty()
    );
}
