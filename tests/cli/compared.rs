//! Compare: layouts, and an older case.

use crate::cli::{copy_of_demo, demo, files_in, json, program};
use std::fs;

#[test]
fn in_detail_layouts_are_laid_over_one_another_against_speed() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = program()
        .args(["compare", "--detail", "--plain", "--svg-only", "--into"])
        .arg(folder.path())
        .arg(demo())
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(0));
    let written = files_in(folder.path());
    assert_eq!(
        written,
        ["-compare-parts.svg", "-compare-speeds.svg", "-compare.svg"]
            .map(|end| format!("quarry-sprinter{end}"))
    );
}

#[test]
fn layouts_are_compared_with_charts_of_all() {
    let path = demo();
    let path = path.to_str().expect("text");
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let (status, result) = json(&["compare", path, "--json", "--into", into]);
    assert_eq!(status, 0);
    let written = files_in(folder.path());
    assert_eq!(written, ["quarry-sprinter-compare.png", "quarry-sprinter-compare.svg"]);
    let svg = fs::read_to_string(folder.path().join("quarry-sprinter-compare.svg")).expect("written");
    // a bar for each layout and condition; the case itself is as drawn
    for words in ["cooler with its own", "as drawn", "hairpin", "following", "straight", "queue"] {
        assert!(svg.contains(words), "{words}");
    }
    assert!(!svg.split("<text").skip(1).any(|text| text.contains("base")));
    let layouts = result["compare"].as_array().expect("a list");
    assert_eq!(layouts.len(), 2);
    for key in [
        "layout",
        "base",
        "differs",
        "conditions",
        "worst",
        "kept",
        "opening_area_in_m2",
        "opening_area_out_m2",
        "openings",
        "traps",
    ] {
        assert!(!layouts[1][key].is_null(), "{key} is missing");
    }
    for key in [
        "name",
        "speed_m_s",
        "parts",
        "chambers",
        "velocity_ratios",
        "cooling_drag_N",
        "cooling_power_W",
        "fan_power_W",
    ] {
        assert!(!layouts[1]["conditions"][0][key].is_null(), "{key} is missing");
    }
    assert_eq!(layouts[1]["differs"][0]["address"], "passage/oil cooler/to");
    for key in ["order", "best", "best_because", "worst", "worst_because", "counts", "decided_by"] {
        assert!(!result["ranking"][key].is_null(), "{key} is missing");
    }
    for key in ["format", "case_sha256", "program", "defaults"] {
        assert!(!result[key].is_null(), "{key} is missing");
    }
}

#[test]
fn a_comparison_of_nothing_is_refused_with_a_way_out() {
    let (folder, path) = copy_of_demo(|text| {
        let (text, _) = text.split_once("[[layout]]").expect("a layout");
        text.to_string()
    });
    let output = program().args(["compare", path.to_str().expect("text")]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("no [[layout]]") && told.contains("What to do:"), "{told}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);

    let (folder, path) = copy_of_demo(|text| {
        let (begin, rest) = text.split_once("[size]").expect("a size");
        format!("{begin}[[stint]]{}", rest.split_once("[[stint]]").expect("a stint").1)
    });
    let output = program().args(["compare", path.to_str().expect("text"), "--sized"]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("no [size]") && told.contains("What to do:"), "{told}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);
}

#[test]
fn what_changed_since_an_older_case_is_told() {
    let (_folder, newer) = copy_of_demo(|text| {
        text.replace("pressure_coefficient = -0.15", "pressure_coefficient = -0.05")
            .replace("body state 3", "body state 4")
    });
    let (newer, old) = (newer.to_str().expect("text").to_string(), demo());
    let old = old.to_str().expect("text");
    let (status, result) = json(&["compare", &newer, "--against", old, "--json"]);
    assert_eq!(status, 0);
    let changes = &result["changes"];
    assert_eq!(changes["differs"].as_array().map(Vec::len), Some(1));
    assert_eq!(changes["differs"][0]["address"], "place/tail/pressure_coefficient");
    for key in [
        "part",
        "condition",
        "temperature_margin_before_K",
        "temperature_margin_after_K",
        "moved_K",
        "because",
        "together_K",
    ] {
        assert!(!changes["margins"][0][key].is_null(), "{key} is missing");
    }
    for key in ["passage", "role", "pieces", "before_m2", "drawn_m2", "fate"] {
        assert!(!changes["openings"][0][key].is_null(), "{key} is missing");
    }
    assert_eq!(result["against"]["revision"], "body state 3");
    let output = program().args(["compare", &newer, "--against", old]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stdout);
    assert!(told.contains("Since body state 3") && told.contains("place/tail"), "{told}");
    // an older case that cannot be read is refused by its own name
    let output = program().args(["compare", &newer, "--against", "no such.toml"]).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no such.toml"));
}

/// An inlet sunk into the skin that takes the recovery of a scoop is better on paper alone.
#[test]
fn what_a_layout_brings_is_told_where_it_is_praised() {
    let (folder, path) = copy_of_demo(|text| {
        let layout = r#"
[[layout]]
name = "sunk"
[[layout.passage]]
name = "oil cooler"
from = "outside"
to = "bay"
element = [
  { kind = "flush-inlet", width = "100 mm", height = "52 mm", place = "flank" },
  { kind = "diffuser", length = "260 mm" },
  { kind = "core", part = "oil", area = "290 cm2", reference_flow = "0.2 kg/s", conductance = "125 W/K", pressure_drop = "105 Pa", pressure_exponent = 1.7, oil_flow = "12 L/min", oil_flow_at = "5000 rpm" },
]
"#;
        text + layout
    });
    let path = path.to_str().expect("text");
    let told = |more: &[&str]| {
        let mut run = program();
        run.args(["compare", path, "--plain", "--svg-only", "--into"]).arg(folder.path()).args(more);
        String::from_utf8_lossy(&run.output().expect("runs").stdout).into_owned()
    };
    let screen = told(&[]);
    let (_, brings) = screen.split_once("What a layout brings with it").expect("it is told");
    let lines: Vec<&str> = brings.lines().skip(1).take_while(|line| line.starts_with("  ")).collect();
    assert!(lines.len() <= 2, "{brings}");
    assert!(brings.contains("sunk: a flush inlet takes the recovery meant for"), "{brings}");
    let detail = told(&["--detail"]);
    assert!(detail.contains("(flush-recovery-from-place)"), "{detail}");
    let (_, result) = json(&["compare", path, "--plain", "--json"]);
    let codes = |layout: usize| -> Vec<&str> {
        let list = result["compare"][layout]["new_warnings"].as_array().expect("a list");
        list.iter().filter_map(|warning| warning["code"].as_str()).collect()
    };
    assert!(codes(0).is_empty(), "the case itself brings nothing");
    assert!(codes(2).contains(&"flush-recovery-from-place"), "{:?}", codes(2));
    // and on the first screen of a car that has it
    let (_folder, path) = copy_of_demo(|text| {
        let ram = "{ kind = \"ram-inlet\", area = \"52 cm2\", place = \"flank\", edge = \"rounded\" }";
        assert!(text.contains(ram));
        text.replacen(
            ram,
            "{ kind = \"flush-inlet\", width = \"100 mm\", height = \"52 mm\", place = \"flank\" }",
            1,
        )
    });
    let output = program().args(["check", "--plain"]).arg(path).output().expect("runs");
    let alone = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(alone.contains("the recovery 0.88"), "{alone}");
}
