//! Faults that show when laws are made: each names its dimension and a way out.

use slowcorner::case::load;
use slowcorner::point::Model;

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
            r#"{ kind = "ram-inlet", area = "60 cm2" }, { kind = "tee", area = "60 cm2", leg = "side" }"#,
            "tee-incomplete",
            "1 side, 0 straight and 0 combined legs, and 2 passages without a tee",
            "side, straight and combined",
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
}

/// Three legs at a joint of their own; `legs` are the last or first elements of the passages in, in and out.
fn joint(legs: [&str; 3], counts: [usize; 3]) -> Vec<(&'static str, String, String)> {
    let [a, b, c] = legs;
    let [x, y, z] = counts;
    let text = format!(
        r#"format = 1
[engine]
displacement = "900 cm3"
power = [["2000 rpm", "12 kW"], ["6000 rpm", "36 kW"]]
[engine.heat]
bay = "3 %"
[[passage]]
name = "a"
from = "outside"
to = "joint"
count = {x}
element = [{{ kind = "ram-inlet", area = "60 cm2" }}, {a}]
[[passage]]
name = "b"
from = "outside"
to = "joint"
count = {y}
element = [{{ kind = "ram-inlet", area = "60 cm2" }}, {b}]
[[passage]]
name = "c"
from = "joint"
to = "bay"
count = {z}
element = [{c}, {{ kind = "duct", area = "60 cm2", length = "300 mm" }}]
[[passage]]
name = "out"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "200 cm2" }}]
"#
    );
    let case = load(&text, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
    match Model::new(&case) {
        Ok(_) => Vec::new(),
        Err(found) => {
            found.list().iter().map(|f| (f.code, f.message.clone(), f.what_to_do.clone())).collect()
        }
    }
}

#[test]
fn a_tee_has_one_leg_of_each_kind_and_no_other() {
    let tee = |leg: &str, area: u32| format!("{{ kind = \"tee\", area = \"{area} cm2\", leg = \"{leg}\" }}");
    let (side, straight, trunk) = (tee("side", 40), tee("straight", 60), tee("combined", 60));
    assert!(joint([&side, &straight, &trunk], [1, 1, 1]).is_empty());
    assert!(joint([&side, &straight, &trunk], [2, 2, 2]).is_empty());
    let duct = r#"{ kind = "duct", area = "60 cm2", length = "100 mm" }"#;
    for (legs, counts, code, says) in [
        (
            [side.as_str(), straight.as_str(), straight.as_str()],
            [1, 1, 1],
            "tee-incomplete",
            "1 side, 2 straight and 0 combined",
        ),
        ([side.as_str(), duct, trunk.as_str()], [1, 1, 1], "tee-incomplete", "and 1 passages without a tee"),
        ([side.as_str(), straight.as_str(), trunk.as_str()], [2, 1, 1], "counts-differ", "equally often"),
        (
            [tee("side", 90).as_str(), straight.as_str(), trunk.as_str()],
            [1, 1, 1],
            "tee-side-too-wide",
            "90.0 cm2",
        ),
    ] {
        let found = joint(legs, counts);
        let [(is, message, way_out)] = &found[..] else { panic!("{legs:?}: {found:?}") };
        assert_eq!(*is, code);
        assert!(message.contains(says) && !way_out.is_empty(), "{message}");
    }
}
