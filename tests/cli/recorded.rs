//! Recorded runs and faulty stints at the command line.

use crate::cli::{copy_of_demo, json, program};
use std::fs;

/// A run of the demo car in third gear, with a column of temperatures.
fn run() -> String {
    let mut text = String::from("Logger,3\n\nZeit;Geschwindigkeit;Drehzahl;Last;CHT 2\ns;km/h;1/min;%;°C\n");
    for i in 0..240 {
        let time = 0.5 * f64::from(i);
        let speed = 70.0 + 20.0 * (time / 9.0).sin();
        let load = 60.0 + 10.0 * (time / 5.0).sin();
        let line = format!("{time};{speed:.2};{:.0};{load:.1};{:.1}\n", 58.1 * speed, 120.0 + 0.1 * time);
        text += &line.replace('.', ",");
    }
    text
}

fn with_stint(stint: &'static str) -> (tempfile::TempDir, String) {
    let (folder, path) = copy_of_demo(|text| {
        let (head, _) = text.split_once("[[stint]]").expect("stints stand at the end");
        format!("{head}[[stint]]\nname = \"evening\"\n{stint}\n")
    });
    (folder, path.to_str().expect("text").to_string())
}

#[test]
fn a_run_is_followed_and_what_was_measured_told() {
    let (folder, path) = with_stint("trace = \"run.csv\"\nmeasured = { heads = \"CHT 2\" }");
    fs::write(folder.path().join("run.csv"), run()).expect("written");
    let (status, found) = json(&["lap", &path, "--svg-only", "--plain", "--json"]);
    assert_eq!(status, 0, "{found}");
    let stint = &found["stints"][0];
    assert_eq!(stint["start_C"]["heads"], 120.0);
    assert_eq!(stint["start_assumed"], serde_json::json!(["barrels", "oil", "pipes"]));
    assert_eq!(stint["measured"][0]["column"], "CHT 2");
    assert!(stint["measured"][0]["mean_difference_K"].is_number());
    let codes: Vec<&str> =
        found["warnings"].as_array().expect("a list").iter().filter_map(|w| w["code"].as_str()).collect();
    assert!(codes.iter().all(|code| !code.starts_with("run-")), "{codes:?}");
    let chart = fs::read_to_string(folder.path().join("car-lap-evening.svg")).expect("a chart");
    assert!(chart.contains("measured"), "what was measured lies over the chart");
    let output = program().args(["lap", &path, "--svg-only", "--plain"]).output().expect("runs");
    let said = String::from_utf8_lossy(&output.stdout).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("No start is given: barrels taken as"), "{said}");
    assert!(said.contains("measured (CHT 2)"), "{said}");
}

#[test]
fn a_run_is_found_from_where_the_sized_case_stands() {
    let (folder, path) = with_stint("trace = \"run.csv\"");
    fs::write(folder.path().join("run.csv"), run()).expect("written");
    let into = folder.path().join("cut/tonight");
    let mut size = program();
    size.args(["size", &path, "--plain", "--svg-only", "--into"]).arg(&into);
    assert_eq!(size.output().expect("runs").status.code(), Some(0));
    let sized = into.join("car-sized.toml");
    let text = fs::read_to_string(&sized).expect("written");
    assert!(text.contains("trace = \"../../run.csv\""), "{text}");
    let (status, found) = json(&["lap", sized.to_str().expect("text"), "--svg-only", "--plain", "--json"]);
    assert!(status < 2, "{found}");
    assert_eq!(found["stints"][0]["name"], "evening");
}

#[test]
fn faults_of_a_run_are_shown_as_those_of_a_case() {
    let (folder, path) = with_stint("trace = \"run.csv\"\nstart = \"80 degC\"");
    let spoil = |(index, line): (usize, &str)| match index {
        6 | 8 => line.replacen(';', ";fast ", 1) + "\n",
        _ => line.to_string() + "\n",
    };
    let spoilt: String = run().lines().enumerate().map(spoil).collect();
    fs::write(folder.path().join("run.csv"), spoilt).expect("written");
    let output = program().args(["lap", &path]).output().expect("runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(said.contains("fault: run-number") && said.contains("2 faults; nothing was written"), "{said}");
    assert!(said.contains("run.csv, line 7") && said.contains("run.csv, line 9"), "{said}");
    assert!(said.contains("‾‾‾‾"), "{said}");
    // every other command tells it and goes on
    for command in [&["check", "--plain"][..], &["sweep", "--plain", "--svg-only"], &["size", "--svg-only"]] {
        let output = program()
            .args(&command[..1])
            .arg(&path)
            .args(&command[1..])
            .arg("--json")
            .output()
            .expect("runs");
        let found: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|error| {
            panic!("{command:?}: {error}: {}", String::from_utf8_lossy(&output.stderr))
        });
        let warnings = found["warnings"].as_array().expect("a list");
        let faulty: Vec<_> = warnings.iter().filter(|warning| warning["code"] == "stint-faulty").collect();
        assert_eq!(faulty.len(), 1, "{command:?}: {warnings:?}");
        assert_eq!(faulty[0]["where"], "stint/evening");
        assert!(faulty[0]["message"].as_str().is_some_and(|text| text.contains("run-number")), "{faulty:?}");
    }
}

#[test]
fn a_run_that_is_not_there_is_told_by_check() {
    let (_folder, path) = with_stint("trace = \"no such run.csv\"");
    let (_, found) = json(&["check", &path, "--plain", "--json"]);
    let warnings = found["warnings"].as_array().expect("a list");
    let faulty = warnings.iter().find(|warning| warning["code"] == "stint-faulty").expect("told");
    assert!(faulty["message"].as_str().is_some_and(|text| text.contains("no such run.csv")), "{faulty}");
}
