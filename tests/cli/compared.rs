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
