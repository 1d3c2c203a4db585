//! Starter cases run as they are, and the commands that need no file.

use super::{files_in, json, program};
use std::fs;

const FANS: [&str; 3] = ["driven", "electric", "none"];

#[test]
fn each_starter_case_runs_as_it_is() {
    for fan in FANS {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("car.toml");
        let case = path.to_str().expect("text");
        let output = program().args(["start", case, "--fan", fan]).output().expect("runs");
        assert_eq!(output.status.code(), Some(0), "{fan}: {}", String::from_utf8_lossy(&output.stderr));
        assert_eq!(files_in(folder.path()), ["car.toml"]);

        let (status, checked) = json(&["check", case, "--json"]);
        assert_eq!(status, 0, "{fan}: {}", checked["worst"]);
        let conditions = checked["conditions"].as_array().expect("a list");
        let speeds: Vec<f64> = conditions.iter().filter_map(|c| c["speed_m_s"].as_f64()).collect();
        assert!(speeds.contains(&0.0) && speeds.iter().any(|v| (8.0..14.0).contains(v)), "{fan}: {speeds:?}");
        assert!(speeds.iter().any(|v| *v > 30.0), "{fan}: {speeds:?}");
        // sane: the closest part is neither far from its limit nor over it
        let closest = conditions
            .iter()
            .flat_map(|c| c["parts"].as_array().expect("a list"))
            .filter_map(|p| p["temperature_margin_K"].as_f64())
            .fold(f64::INFINITY, f64::min);
        assert!((0.0..25.0).contains(&closest), "{fan}: {closest}");
        let backwards = conditions.iter().flat_map(|c| c["passages"].as_array().expect("a list"));
        let backwards: Vec<_> = backwards.filter(|p| p["reversed"] == true && p["name"] != "seams").collect();
        assert!(backwards.is_empty(), "{fan}: {backwards:?}");

        let out = folder.path().join("out");
        let into = out.to_str().expect("text");
        let (status, swept) =
            json(&["sweep", case, "--into", into, "--points", "40", "--svg-only", "--json"]);
        assert_eq!(status, 0, "{fan}");
        assert!(swept["sweep"]["points"].as_array().is_some_and(|points| points.len() > 30));
        let (status, sized) = json(&["size", case, "--into", into, "--svg-only", "--json"]);
        assert_eq!(status, 0, "{fan}: {}", sized["sizes"]["remarks"]);
        assert_eq!(sized["sizes"]["feasible"], true);
        let kept = fs::read_to_string(out.join("car-sized.toml")).expect("read");
        assert!(kept.contains("# rolling radius"), "{fan}: comments were lost");
    }
}

/// The keys of a file, comments left aside.
fn keys_of(table: &toml::Table, found: &mut Vec<String>) {
    for (key, value) in table {
        found.push(key.clone());
        let inner: Vec<&toml::Value> = match value {
            toml::Value::Array(list) => list.iter().collect(),
            other => vec![other],
        };
        inner.into_iter().filter_map(toml::Value::as_table).for_each(|table| keys_of(table, found));
    }
}

#[test]
fn every_key_and_element_of_a_starter_case_is_explained() {
    for fan in FANS {
        let path = format!("{}/src/cli/start/{fan}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = fs::read_to_string(&path).expect("read");
        // known: reading refuses a key that is not
        let loaded = slowcorner::case::load(&text, &[]).unwrap_or_else(|faults| panic!("{fan}: {faults:?}"));
        slowcorner::point::Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{fan}: {faults:?}"));
        let mut keys = Vec::new();
        keys_of(&text.parse().expect("TOML"), &mut keys);
        assert!(keys.len() > 100, "{fan}: {}", keys.len());
        // the patterns that builders need
        let passages = loaded.case.passages.iter();
        let from = |name: &str| passages.clone().filter(|p| p.from == name).count();
        assert!(from("shroud") == 2 || from("plenum") == 2, "{fan}: no box that feeds two parts");
        assert!(passages.clone().any(|p| p.name == "oil cooler" && p.to == "outside"), "{fan}");
        assert!(passages.clone().any(|p| p.to == "engine"), "{fan}");
        // what each key stands for and how it is measured is said where it is written, or above it
        keys.sort();
        keys.dedup();
        let plain = ["about", "part", "chamber", "place", "kind", "element", "name", "from", "to", "strokes"];
        let names =
            ["heads", "barrels", "oil", "pipes", "bay", "shroud", "plenum", "flank", "nose", "tail", "other"];
        let lines: Vec<&str> = text.lines().collect();
        for key in keys.iter().filter(|key| !plain.contains(&key.as_str()) && !names.contains(&key.as_str()))
        {
            let explained = lines.windows(2).any(|pair| {
                let said = pair[1].contains('#') || pair[0].trim_start().starts_with('#');
                let here = [format!("{key} ="), format!("[{key}]"), format!("[{key}."), format!(".{key}]")];
                here.iter().any(|word| pair[1].contains(word.as_str())) && said
            });
            assert!(
                explained || ["passage", "oil cooler", "scoops"].contains(&key.as_str()),
                "{fan}: nothing is said of {key}"
            );
        }
        assert!(text.contains("PLACEHOLDER"), "{fan}");
        assert!(text.lines().all(|line| line.chars().count() <= 240), "{fan}");
    }
}

#[test]
fn start_never_writes_over_a_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("car.toml");
    fs::write(&path, "mine").expect("written");
    let run = |path: &std::path::Path| {
        program().arg("start").arg(path).args(["--fan", "driven"]).output().expect("runs")
    };
    for there in [path.as_path(), folder.path()] {
        let output = run(there);
        assert_eq!(output.status.code(), Some(2));
        assert!(output.stdout.is_empty());
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(said.contains("exists") && said.contains("What to do"), "{said}");
    }
    assert_eq!(fs::read_to_string(&path).expect("read"), "mine");
    assert_eq!(files_in(folder.path()), ["car.toml"], "a temporary file was left");
    let nowhere = run(&folder.path().join("no/such/car.toml"));
    assert_eq!(nowhere.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&nowhere.stderr).contains("What to do"));
    // without a fan named, and with one that is none of the three
    assert_eq!(program().args(["start", "x.toml"]).output().expect("runs").status.code(), Some(2));
    assert_eq!(
        program().args(["start", "x.toml", "--fan", "steam"]).output().expect("runs").status.code(),
        Some(2)
    );
    assert!(!std::path::Path::new("x.toml").exists());
}

#[test]
fn an_estimate_needs_no_file_and_leaves_none() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = program()
        .current_dir(folder.path())
        .args(["estimate", "--power", "40 hp", "--limit", "oil=110 degC", "--fan", "driven", "--detail"])
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(files_in(folder.path()).is_empty());
    let said = String::from_utf8(output.stdout).expect("text");
    for piece in [
        "kg/s",
        "L/s",
        "cm²",
        "ram alone",
        "engine-driven fan",
        "open frame",
        "heat_share",
        "does not replace",
    ] {
        assert!(said.contains(piece), "{piece} is missing");
    }
    assert!(!said.contains("electric fan"), "only the fan asked for");
    for line in said.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
    let (status, found) = json(&["estimate", "--power", "30 kW", "--json"]);
    assert_eq!(status, 0);
    assert_eq!(found["moments"][1]["parts"][3]["part"], "all");
    assert!(found["rests_on"].as_array().expect("a list").iter().all(|value| value["source"].is_string()));
}

#[test]
fn an_estimate_refuses_nonsense_with_status_two() {
    for arguments in [
        &["--power", "0 kW"][..],
        &["--power", "-5 kW"],
        &["--power", "30"],
        &["--power", "30 kW", "--set", "heat_share"],
        &["--power", "30 kW", "--set", "heat_share=300 %"],
        &["--power", "30 kW", "--limit", "tyres=90 degC"],
        &["--power", "30 kW", "--slow", "0 km/h"],
    ] {
        let output = program().arg("estimate").args(arguments).output().expect("runs");
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty());
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(said.contains("What to do") && said.contains("fault: "), "{arguments:?}: {said}");
    }
    assert_eq!(program().arg("estimate").output().expect("runs").status.code(), Some(2), "power is needed");
}

#[test]
fn an_estimate_is_as_it_was_last_looked_at() {
    let output =
        program().args(["estimate", "--power", "30 kW", "--displacement", "850 cm3"]).output().expect("runs");
    insta::assert_snapshot!("estimate", String::from_utf8(output.stdout).expect("text"));
}

/// The tables that stand there switched off, switched on.
#[test]
fn what_is_switched_off_can_be_switched_on() {
    for fan in FANS {
        let path = format!("{}/src/cli/start/{fan}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = fs::read_to_string(&path).expect("read");
        let (head, rest) = text.split_once("# ---- further tables").expect("further tables");
        let mut on = head.to_string();
        for line in rest.lines().skip(1) {
            on += line.strip_prefix("# ").unwrap_or(line);
            on.push('\n');
        }
        let case = slowcorner::case::load(&on, &[]).unwrap_or_else(|faults| panic!("{fan}: {faults}")).case;
        assert_eq!((case.stints.len(), case.layouts.len()), (2, 1), "{fan}");
        let names: Vec<&str> = case.stints.iter().map(|stint| stint.name.as_str()).collect();
        assert_eq!(names, ["queue, then the slow corner", "evening run"]);
    }
}
