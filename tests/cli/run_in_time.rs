//! Lap: charts, JSON, recorded runs.

use crate::cli::{copy_of_demo, files_in, json, program};
use std::fs;

#[test]
fn lap_writes_a_chart_and_the_promised_json() {
    let (folder, path) = copy_of_demo(|text| text);
    let into = folder.path().join("out");
    let csv = folder.path().join("course.csv");
    let (path, into_text, csv_text) =
        (path.to_str().expect("text"), into.to_str().expect("text"), csv.to_str().expect("text"));
    let (status, result) =
        json(&["lap", path, "--into", into_text, "--csv", csv_text, "--svg-only", "--json"]);
    assert_eq!(status, 0);
    let stints = result["stints"].as_array().expect("stints");
    let step = &stints[0]["steps"][3];
    assert_eq!(
        (&stints[0]["name"], &step["condition"]),
        (&"queue, then the hairpin".into(), &"following".into())
    );
    assert_eq!(step["until_s"].as_f64(), Some(283.0));
    for part in ["heads", "barrels", "oil"] {
        let part = &step["parts"][part];
        assert!(part["peak_C"].as_f64() >= part["temperature_C"].as_f64() && part["peak_C"].is_number());
    }
    // what docs/trap.md says: no danger in one run, heads 59 K over in laps that repeat
    assert_eq!(stints[0]["parts"]["heads"]["temperature_margin_K"].as_f64().map(f64::round), Some(30.0));
    let settled = &stints[1]["repeats"]["temperature_margin_K"]["heads"];
    assert_eq!(settled.as_f64().map(f64::round), Some(-59.0));
    assert_eq!(files_in(&into), ["car-lap-queue-then-the-hairpin.svg", "car-lap-twelve-laps.svg"]);
    assert!(fs::read_to_string(csv).expect("written").lines().count() > 500);
}

#[test]
fn lap_refuses_a_run_it_cannot_read_and_writes_nothing() {
    let stint = |run: &str| format!("\n[[stint]]\nname = \"r\"\nstart = \"90 degC\"\ntrace = \"{run}\"\n");
    let (folder, path) = copy_of_demo(|text| text + &stint("run.csv"));
    let into = folder.path().join("out");
    let lap = || {
        let output = program().arg("lap").arg(&path).arg("--into").arg(&into).output().expect("runs");
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let (status, told) = lap();
    assert!(
        status == Some(2) && told.contains("run.csv: cannot be read") && told.contains("What to do:"),
        "{told}"
    );
    for (rows, words) in [
        ("time (s),speed (km/h)\n0,40\n1,x\n", "\"x\" is not a number (column 2, speed)"),
        ("time (s),speed (km/h)\n1,40\n0,40\n", "time runs backwards: 0 s after 1 s"),
        ("time (s)\n1\n", "no column speed"),
        ("time (s),speed (km/h)\n1,40\n", "is one"),
    ] {
        fs::write(folder.path().join("run.csv"), rows).expect("written");
        let (status, told) = lap();
        assert!(status == Some(2) && told.contains(words), "{rows:?}: {told}");
        assert!(!into.exists() || files_in(&into).is_empty());
    }
}

#[test]
fn lap_needs_stints_and_heat_capacities() {
    let (_folder, path) = copy_of_demo(|text| text.split("[[stint]]").next().expect("the car").to_string());
    let output = program().arg("lap").arg(&path).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("has no [[stint]]"));
    let without = |text: String| {
        text.lines().filter(|l| !l.starts_with("heat_capacity")).collect::<Vec<_>>().join("\n")
    };
    let (_folder, path) = copy_of_demo(without);
    let output = program().arg("lap").arg(&path).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.code() == Some(2) && told.matches("heat-capacity-missing").count() == 3, "{told}");
}

#[test]
fn a_run_that_stops_says_what_ends_with_the_engine_and_would_not() {
    let trike = include_str!("../../cases/causeway-trike.toml");
    let begins = trike.find("[part.pipes]").expect("its pipes");
    let ends = begins + trike[begins..].find("\n[").expect("what follows them") + 1;
    let without = format!("{}{}", &trike[..begins], &trike[ends..]);
    let to_bay = without.replace("pipes = \"1.3 %\", bay = \"0.5 %\"", "bay = \"1.8 %\"");
    assert_ne!(to_bay, without);
    let folder = tempfile::tempdir().expect("a folder");
    let told = |text: &str, more: &[&str]| {
        let path = folder.path().join("car.toml");
        fs::write(&path, text).expect("written");
        let into = folder.path().join("out");
        let mut lap = program();
        lap.arg("lap").arg(&path).args(["--plain", "--svg-only", "--into"]).arg(&into).args(more);
        let out = String::from_utf8_lossy(&lap.output().expect("runs").stdout).into_owned();
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    for more in [&[][..], &["--detail"]] {
        let out = told(&to_bay, more);
        assert!(out.contains("that went to bay end at once; 4 kg of steel pipes"), "{out}");
        assert!(!told(trike, more).contains("steel pipes"));
    }
}
