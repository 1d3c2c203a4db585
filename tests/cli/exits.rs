//! `exits` as its user meets it.

use super::{copy_of_demo, files_in, json, program};
use std::path::Path;

#[test]
fn it_leaves_three_charts_and_keeps_to_the_page() {
    for case in ["quarry-sprinter", "causeway-trike", "stubble-buggy"] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("cases/{case}.toml"));
        let output = program()
            .args(["exits", "--detail", "--svg-only", "--points", "12", "--into"])
            .arg(folder.path())
            .arg(&path)
            .output()
            .expect("runs");
        assert_eq!(output.status.code(), Some(0), "a study gives 0 once it is done");
        assert!(output.stderr.is_empty(), "no progress where standard error is no terminal");
        let names = ["", "-map", "-pressure"].map(|which| format!("{case}-exits{which}.svg"));
        let mut wanted = names.to_vec();
        wanted.sort();
        assert_eq!(files_in(folder.path()), wanted);
        let text = String::from_utf8(output.stdout).expect("text");
        for line in text.lines() {
            assert!(line.chars().count() <= 100 || line.contains(".svg"), "{line}");
        }
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in [
            "Smallest that will do",
            "knee",
            "and keep the pressure coefficient there at or below",
            "as drawn",
        ] {
            assert!(text.contains(words), "{words} in\n{text}");
        }
    }
}

#[test]
fn the_figures_that_others_rely_on_have_their_names() {
    let (folder, path) = copy_of_demo(|text| text);
    let (status, result) = json(&["exits", path.to_str().expect("text"), "--json", "--svg-only"]);
    assert_eq!(status, 0);
    assert_eq!(result["format"], 1);
    let exits = &result["exits"];
    assert!(exits["knee_m2"].as_f64() > exits["smallest_safe_m2"].as_f64());
    let points = exits["points"].as_array().expect("a list");
    assert!(points.len() >= 30);
    let (mut can, mut cannot) = (0, 0);
    for point in points {
        for key in ["exit_area_m2", "least_margin", "cooling_drag_N", "bay_pressure_Pa"] {
            assert!(point[key].is_number(), "{key} in {point}");
        }
        let feasible = point["feasible"].as_bool().expect("a yes or no");
        assert_eq!(feasible, point["inlet_area_m2"].is_number());
        assert_eq!(feasible, point["exit_area_m2"].as_f64() >= exits["smallest_safe_m2"].as_f64());
        if feasible { can += 1 } else { cannot += 1 }
    }
    assert!(can > 5 && cannot > 5, "{can} can, {cannot} cannot");
    drop(folder);
}

#[test]
fn a_case_without_exits_is_refused_with_a_way_out() {
    let (folder, path) = copy_of_demo(|text| {
        let text =
            text.replace(r#"{ kind = "exit", area = "100 cm2","#, r#"{ kind = "leak", area = "100 cm2","#);
        text.replace(r#", place = "tail", discharge = 0.7 }]"#, r#", place = "tail" }]"#)
            .replace(r#", ["left exit", "right exit"]"#, "")
    });
    let output = program().args(["exits", path.to_str().expect("text")]).output().expect("runs");
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{text}");
    assert!(text.contains("the case has no exit") && text.contains("What to do:"), "{text}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);
}

#[test]
fn shares_and_areas_are_told_where_they_are_spoken_of() {
    let (folder, path) = copy_of_demo(|text| text);
    let run = |more: &[&str]| {
        let mut exits = program();
        exits
            .args(["exits", "--plain", "--svg-only", "--points", "12", "--into"])
            .arg(folder.path())
            .arg(&path)
            .args(more);
        let out = String::from_utf8_lossy(&exits.output().expect("runs").stdout).into_owned();
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let out = run(&[]);
    assert!(out.contains("Each exit keeps its share: left exit 50 % and right exit 50 %."), "{out}");
    let (_, beyond) = out.split_once("Nothing gained beyond, ").expect("it is told");
    let area = beyond.split(' ').next().and_then(|number| number.parse::<f64>().ok());
    assert!(area.is_some_and(|area| area > 200.0) && beyond.contains(" cm²: "), "{beyond}");
    // where nothing on the map reaches the margins, it says what was tried and no more
    run(&["--set", "size/margin=500 %"]);
    let map = std::fs::read_to_string(folder.path().join("car-exits-map.svg")).expect("a map");
    let map = map
        .replace("</text>", " ")
        .split('<')
        .map(|tag| tag.split('>').nth(1).unwrap_or(""))
        .collect::<String>();
    assert!(map.contains("other shares were not tried") && !map.contains("must change by"), "{map}");
}
