//! One set of operating points: no command calls below its limit what another calls over at the same point.

use super::program;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Kelvins within which two answers about one point are one.
const ALIKE: f64 = 1e-3;
/// A sized case is written with its areas rounded up: what it keeps less or more than the sizes found (K); less where more
/// air through one opening leaves less to another.
const ROUNDED: (f64, f64) = (-1.0, 1.0);

fn cases() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["cases", "tests/network/solved"] {
        let entries = std::fs::read_dir(root.join(folder)).expect("a folder").flatten();
        found.extend(
            entries.map(|entry| entry.path()).filter(|path| path.extension().is_some_and(|e| e == "toml")),
        );
    }
    found.sort();
    assert!(found.len() > 10);
    found
}

/// What a command says as JSON; none where the case lacks what it needs.
fn json(arguments: &[&str], case: &Path, folder: &Path) -> Option<Value> {
    let folder = folder.to_str().expect("text");
    let case = case.to_str().expect("text");
    let into: &[&str] = if arguments[0] == "check" { &[] } else { &["--into", folder] };
    let (status, said) =
        super::json(&[&arguments[..1], &[case], &arguments[1..], into, &["--json"]].concat());
    assert!((0..=2).contains(&status), "{arguments:?} {case}: {status}");
    (status < 2).then_some(said)
}

/// The screen of `check`, in lines as long as they come.
fn screen(case: &Path) -> String {
    let output =
        program().args(["check", "--plain"]).arg(case).env("COLUMNS", "2000").output().expect("runs");
    String::from_utf8(output.stdout).expect("text")
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

fn word<'v>(value: &'v Value, key: &str) -> &'v str {
    value[key].as_str().unwrap_or_default()
}

/// Margins by condition and part.
fn margins(conditions: &[Value]) -> Vec<(String, String, f64)> {
    let of_one = |condition: &Value| {
        let name = word(condition, "name").to_string();
        let parts = list(condition, "parts").to_vec();
        parts.into_iter().filter_map(move |part| {
            Some((name.clone(), word(&part, "name").to_string(), part["temperature_margin_K"].as_f64()?))
        })
    };
    conditions.iter().flat_map(of_one).collect()
}

fn agree(
    what: &str,
    ours: &[(String, String, f64)],
    theirs: &[(String, String, f64)],
    (less, more): (f64, f64),
) {
    for (condition, part, margin) in ours {
        let other = theirs.iter().find(|(c, p, _)| c == condition && p == part);
        if let Some((_, _, other)) = other {
            let apart = other - margin;
            assert!((less..=more).contains(&apart), "{what}: {part} in {condition}: {margin} and {other}");
        }
    }
}

#[test]
fn the_sweep_and_the_conditions_say_one_thing() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut swept = 0;
    for case in cases() {
        let check = json(&["check", "--plain"], &case, folder.path()).expect("every case can be checked");
        let conditions = margins(list(&check, "conditions"));
        let cold = list(&check, "conditions").iter().filter(|condition| condition["warm"] == true);
        let cold =
            cold.flat_map(|condition| list(condition, "parts")).any(|part| part["below_least"] == true);
        let over = cold || conditions.iter().any(|(_, _, margin)| *margin < 0.0);
        let screen = screen(&case);
        assert_eq!(screen.contains("\nNo. "), over, "{case:?}:\n{screen}");
        let Some(sweep) = json(&["sweep", "--plain", "--svg-only"], &case, folder.path()) else {
            assert!(check["between"].is_null(), "{case:?}");
            continue;
        };
        swept += 1;
        let mut holes = Vec::new();
        let points = list(&sweep["sweep"], "points");
        let parts = points[0]["parts"].as_object().expect("parts");
        for name in parts.keys() {
            let of_part =
                points.iter().filter_map(|point| point["parts"][name]["temperature_margin_K"].as_f64());
            let Some(least) = of_part.min_by(f64::total_cmp) else { continue };
            let told = list(&check["between"], "parts").iter().find(|part| word(part, "part") == name);
            if let Some(told) = told {
                let told = told["temperature_margin_K"].as_f64().expect("a number");
                assert!((told - least).abs() < 1e-6, "{case:?} {name}: {told} and {least}");
            } else {
                assert!(
                    least >= 0.0,
                    "{case:?} {name}: over by {least} in the sweep, and check says nothing"
                );
            }
            let moving = list(&check, "conditions").iter().filter(|c| c["speed_m_s"].as_f64() > Some(0.0));
            let moving = margins(&moving.cloned().collect::<Vec<_>>());
            let kept = moving.iter().filter(|(_, part, _)| part == name).all(|(_, _, margin)| *margin >= 0.0);
            if least < 0.0 && kept {
                holes.push(name.clone());
            }
        }
        assert_eq!(
            screen.contains("But between the conditions"),
            !holes.is_empty(),
            "{case:?} {holes:?}:\n{screen}"
        );
    }
    assert!(swept >= 4, "{swept}");
}

#[test]
fn sizes_exits_layouts_and_report_say_what_check_says() {
    let folder = tempfile::tempdir().expect("a folder");
    for case in cases() {
        let check = json(&["check", "--plain"], &case, folder.path()).expect("every case can be checked");
        let drawn = margins(list(&check, "conditions"));
        if let Some(compare) = json(&["compare", "--plain", "--svg-only"], &case, folder.path()) {
            let base =
                list(&compare, "compare").iter().find(|layout| layout["base"] == true).expect("a base");
            agree(&format!("compare {case:?}"), &margins(list(base, "conditions")), &drawn, (-ALIKE, ALIKE));
        }
        if let Some(exits) = json(&["exits", "--plain", "--svg-only"], &case, folder.path()) {
            let exits = &exits["exits"];
            let counts: Vec<&str> = list(exits, "conditions").iter().filter_map(Value::as_str).collect();
            let least = drawn.iter().filter(|(condition, ..)| counts.contains(&condition.as_str()));
            let least = least.map(|(_, _, margin)| *margin).fold(f64::INFINITY, f64::min);
            let told = exits["as_drawn"]["least_temperature_margin_K"].as_f64();
            if let (Some(told), false) = (told, counts.contains(&"sweep")) {
                assert!((told - least).abs() < ALIKE, "exits {case:?}: {told} and {least}");
            }
        }
        let Some(sized) = json(&["size", "--plain", "--svg-only", "--replace"], &case, folder.path()) else {
            continue;
        };
        let at_sizes = margins(list(&sized, "conditions"));
        let stem = case.file_stem().expect("a name").to_string_lossy().into_owned();
        let written = folder.path().join(format!("{stem}-sized.toml"));
        let again =
            json(&["check", "--plain"], &written, folder.path()).expect("the sized case can be checked");
        agree(&format!("size {case:?}"), &at_sizes, &margins(list(&again, "conditions")), ROUNDED);
        let report = json(&["report", "--plain"], &case, folder.path()).expect("a report");
        let told = list(&report, "conditions");
        assert!(!told.is_empty(), "{case:?}");
        agree(&format!("report {case:?}"), &margins(told), &at_sizes, (-ALIKE, ALIKE));
    }
}
