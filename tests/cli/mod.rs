//! The program as its user meets it: exit statuses, files, refusals.

mod air;
mod checked;
mod compared;
mod doubt;
mod ends;
mod every_key;
mod every_study;
mod exits;
mod explain;
mod help;
mod kept;
mod one_truth;
mod read_back;
mod recorded;
mod refused;
mod rounded;
mod run_in_time;
mod screens;
mod sized;
mod start;
mod steps;
mod tape;
mod templates;
mod testcard;
mod why;
mod words;

use assert_cmd::Command;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("cases/quarry-sprinter.toml")
}

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_slowcorner"))
}

fn copy_of_demo(change: impl Fn(String) -> String) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("car.toml");
    fs::write(&path, change(fs::read_to_string(demo()).expect("the demo case"))).expect("written");
    (folder, path)
}

fn files_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn json(arguments: &[&str]) -> (i32, serde_json::Value) {
    let output = program().args(arguments).output().expect("runs");
    let value = serde_json::from_slice(&output.stdout).unwrap_or(serde_json::Value::Null);
    (output.status.code().unwrap_or(-1), value)
}

#[test]
fn sweep_writes_charts_and_numbers() {
    let (folder, path) = copy_of_demo(|text| text);
    let out = folder.path().join("out");
    let csv = folder.path().join("numbers.csv");
    let arguments = [
        "sweep",
        path.to_str().expect("text"),
        "--into",
        out.to_str().expect("text"),
        "--csv",
        csv.to_str().expect("text"),
        "--points",
        "60",
        "--json",
    ];
    let (status, result) = json(&arguments);
    assert_eq!(status, 0);
    assert_eq!(files_in(&out), ["car-margin.png", "car-margin.svg", "car-pressure.png", "car-pressure.svg"]);
    let points = result["sweep"]["points"].as_array().expect("a list");
    assert!(points.len() > 50);
    let table = fs::read_to_string(csv).expect("read");
    assert_eq!(table.lines().count(), points.len() + 1);
    for point in points {
        let sum = |key: &str| {
            point[key].as_object().expect("a table").values().filter_map(|v| v.as_f64()).sum::<f64>()
        };
        let (gives, takes) = (sum("gives_Pa"), sum("takes_Pa"));
        assert!(
            (gives - takes).abs() <= 1e-6 * gives.abs() + 1e-6,
            "the budget does not close: {gives} against {takes}"
        );
    }
    // the sawtooth: somewhere the gear changes and the engine speed falls
    assert!(points.windows(2).any(|p| p[1]["rpm"].as_f64() < p[0]["rpm"].as_f64()));
    let lowest = &result["sweep"]["lowest"]["oil"];
    // one truth with every other screen: where it has fewest kelvins left
    let kelvins = points.iter().filter_map(|p| p["parts"]["oil"]["temperature_margin_K"].as_f64());
    let least = kelvins.fold(f64::INFINITY, f64::min);
    assert_eq!(lowest["temperature_margin_K"].as_f64(), Some(least));
}

#[test]
fn every_command_has_help_with_an_example() {
    for command in ["check", "sweep", "size"] {
        let output = program().args([command, "--help"]).output().expect("runs");
        assert_eq!(output.status.code(), Some(0));
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(
            said.contains("Example: slowcorner") && said.contains("--set") && said.contains("--json"),
            "{said}"
        );
    }
    let output = program().arg("--help").output().expect("runs");
    assert!(String::from_utf8_lossy(&output.stdout).contains("Exit status"));
    assert_eq!(program().arg("nonsense").output().expect("runs").status.code(), Some(2));
}

#[test]
fn every_demo_case_can_be_checked_swept_sized_and_run() {
    let cases = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let names: Vec<String> = files_in(&cases).into_iter().filter(|name| name.ends_with(".toml")).collect();
    assert!(names.len() >= 3, "{names:?}");
    for name in names {
        let out = tempfile::tempdir().expect("a folder");
        for command in ["check", "sweep", "size", "lap"] {
            let mut run = program();
            run.arg(command).arg(cases.join(&name));
            if command != "check" {
                run.arg("--into").arg(out.path());
            }
            if matches!(command, "sweep" | "lap") {
                run.arg("--svg-only");
            }
            let output = run.output().expect("runs");
            let told = String::from_utf8_lossy(&output.stderr).into_owned();
            let status = output.status.code();
            assert!(
                status == Some(0) || (command == "check" && status == Some(1)),
                "{command} {name}: {told}"
            );
        }
    }
}
