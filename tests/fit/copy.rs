//! The fitted copy: what it keeps, what draws from it, what it refuses.

use crate::fit::support::{demo, program};
use serde_json::Value;
use std::path::Path;

const READINGS: &str = r#"format = 1
date = "2026-11-28"
[instrument."U-tube"]
reads = "pressure"
within = "1 mmH2O"
[instrument.gauge]
reads = "temperature"
within = "5 K"
zero = "3 K"
[[test]]
name = "straight"
on = "track"
condition = "straight"
reading = [
  { part = "heads", shows = "185 degC", with = "gauge" },
  { part = "barrels", shows = "178 degC", with = "gauge" },
  { part = "oil", shows = "118 degC", with = "gauge" },
  { between = ["bay", "left exit"], shows = "72 mmH2O", with = "U-tube" },
]
[[test]]
name = "queue"
on = "track"
condition = "queue"
reading = [
  { part = "heads", shows = "146 degC", with = "gauge" },
  { part = "oil", shows = "108 degC", with = "gauge" },
]
"#;

fn run(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let output = program().current_dir(folder).args(arguments).output().expect("runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("car.toml"), demo("quarry-sprinter")).expect("written");
    std::fs::write(folder.path().join("r.toml"), READINGS).expect("written");
    folder
}

/// What looks like a slip is asked about, and nothing is written that would spoil every answer drawn from it, unless it is said
/// to have been read so.
#[test]
fn a_reading_that_looks_like_a_slip_holds_the_copy_back() {
    let folder = folder();
    for slip in ["118 degF", "118 K"] {
        std::fs::write(folder.path().join("slip.toml"), READINGS.replace("118 degC", slip)).expect("written");
        let (code, out, error) = run(folder.path(), &["fit", "car.toml", "slip.toml"]);
        assert_eq!(code, Some(1), "{slip}: {error}{out}");
        assert!(
            out.contains("was it °C?") && out.contains("Not written") && out.contains("--as-read"),
            "{out}"
        );
        assert!(
            !folder.path().join("car-fitted.toml").exists() && !folder.path().join("car-fit.svg").exists()
        );
    }
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "slip.toml", "--as-read", "--json"]);
    assert_eq!(code, Some(0), "{error}");
    let fit: Value = serde_json::from_str(&out).expect("json");
    assert_eq!(fit["fit"]["held_back"], false);
    assert!(folder.path().join("car-fitted.toml").exists());
}

/// 600 °C of oil is no slip that has a name, and leaves nothing to fit; what else looks like one is asked as beside any fit.
#[test]
fn a_slip_is_asked_about_where_there_is_no_fit_too() {
    let folder = folder();
    let readings = READINGS.replace("118 degC", "600 degC").replace("185 degC", "365 degC");
    std::fs::write(folder.path().join("slip.toml"), readings).expect("written");
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "slip.toml"]);
    assert_eq!(code, Some(1), "{error}{out}");
    assert!(out.contains("Asked: Reading 1 (365 °C)") && out.contains("was it °F?"), "{out}");
    assert!(out.contains("there is no fit") && !out.contains("chains"), "{out}");
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "slip.toml", "--json"]);
    assert_eq!(code, Some(1), "{error}");
    let fit: Value = serde_json::from_str(&out).expect("json");
    assert_eq!((&fit["fit"]["held_back"], &fit["fit"]["asks"][0]["number"]), (&true.into(), &1.into()));
    // said to have been read so, it is refused
    let (code, _, error) = run(folder.path(), &["fit", "car.toml", "slip.toml", "--as-read"]);
    assert!(code == Some(2) && error.contains("chains-not-agreed"), "{error}");
    assert!(!folder.path().join("car-fitted.toml").exists());
}

#[test]
fn doubt_of_the_copy_says_what_fit_said() {
    let folder = folder();
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "r.toml", "--json"]);
    assert_eq!(code, Some(0), "{error}");
    let fit: Value = serde_json::from_str(&out).expect("json");
    let (code, out, error) = run(folder.path(), &["doubt", "car-fitted.toml", "--json", "--into", "charts"]);
    assert_eq!(code, Some(0), "{error}");
    let doubt: Value = serde_json::from_str(&out).expect("json");
    assert_eq!(fit["fit"]["after"], doubt["doubt"]);
    // by the chains themselves about the same, normal scores taken as jointly normal
    let (by_chains, by_copy) = (&fit["fit"]["least_by_chains_K"], &doubt["doubt"]["least_K"]);
    let width = |band: &Value| band["p95"].as_f64().unwrap_or(0.0) - band["p05"].as_f64().unwrap_or(0.0);
    // Allowed: a tenth of the band is what 400 draws of the chains tell of its width, and as much for the shape
    assert!((width(by_chains) / width(by_copy) - 1.0).abs() < 0.2, "{by_chains} {by_copy}");
    let text = std::fs::read_to_string(folder.path().join("car-fitted.toml")).expect("written");
    let own = demo("quarry-sprinter");
    for comment in own.lines().filter_map(|line| line.split_once("# ").map(|(_, comment)| comment)) {
        assert!(text.contains(comment), "{comment}");
    }
    let line = text.lines().find(|line| line.starts_with("brake_efficiency")).expect("still there");
    assert!(line.contains("# r.toml: brake_efficiency was 25 %, 23 % to 27 %"), "{line}");
    // nothing of the case is written over, nor the readings
    assert_eq!(std::fs::read_to_string(folder.path().join("car.toml")).expect("there"), own);
    // sizes before and after, and the worst point stand beside
    let sizes = fit["fit"]["sizes"]["openings"].as_array().expect("the openings are free");
    assert_eq!(sizes.len(), 4, "{sizes:?}");
    for one in sizes {
        assert!(
            one["taken_m2"].as_array().expect("two").iter().all(|area| area.as_f64() > Some(1e-4)),
            "{one}"
        );
    }
}

/// The picture is written beside the copy, which keeps what was read, and the report takes it in.
#[test]
fn what_was_read_is_drawn_and_kept() {
    let folder = folder();
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "r.toml", "--json"]);
    assert_eq!(code, Some(0), "{error}");
    let fit: Value = serde_json::from_str(&out).expect("json");
    let misfits = fit["fit"]["misfits"].as_array().expect("a list");
    let picture = std::fs::read_to_string(folder.path().join("car-fit.svg")).expect("a picture");
    assert!(folder.path().join("car-fit.png").exists());
    for misfit in misfits {
        let read = format!(
            "{:.0} {}",
            misfit["read"].as_f64().expect("a number"),
            misfit["unit"].as_str().expect("a unit")
        );
        assert!(picture.contains(&read), "{read}");
        // what is left is narrower than what was expected, and the reading's own ± stands about it
        let width = |key: &str| {
            misfit[key]["p95"].as_f64().expect("high") - misfit[key]["p05"].as_f64().expect("low")
        };
        assert!(width("after_band") < width("expected"), "{misfit}");
        let ends: Vec<f64> =
            misfit["read_between"].as_array().expect("two").iter().filter_map(Value::as_f64).collect();
        let at = misfit["read"].as_f64().expect("a number");
        assert!(ends.len() == 2 && ends[0] < at && at < ends[1], "{misfit}");
    }
    let loaded = slowcorner::case::load(
        &std::fs::read_to_string(folder.path().join("car-fitted.toml")).expect("written"),
        &[],
    );
    let (_, kept) = loaded.expect("a sound case").case.fitted.expect("fitted");
    assert_eq!(kept.readings.len(), misfits.len());
    for (kept, misfit) in kept.readings.iter().zip(misfits) {
        assert!((kept.read[0] - misfit["read"].as_f64().expect("a number")).abs() <= 0.051, "{kept:?}");
        assert_eq!(kept.said, misfit["verdict"].as_str().expect("a verdict"));
    }
    let (code, _, error) = run(folder.path(), &["report", "car-fitted.toml", "--all", "--into", "page"]);
    assert_eq!(code, Some(0), "{error}");
    let page = std::fs::read_to_string(folder.path().join("page/car-fitted-report.html")).expect("a page");
    assert!(page.contains("What was read, and what was reckoned"), "no section of the readings");
}

#[test]
fn readings_are_taken_once() {
    let folder = folder();
    assert_eq!(run(folder.path(), &["fit", "car.toml", "r.toml"]).0, Some(0));
    let (code, _, error) = run(folder.path(), &["fit", "car-fitted.toml", "r.toml"]);
    assert!(code == Some(2) && error.contains("readings-taken-already"), "{error}");
    // the same reading in another file
    std::fs::write(folder.path().join("again.toml"), READINGS.replace("185 degC", "186 degC"))
        .expect("written");
    let (code, _, error) = run(folder.path(), &["fit", "car-fitted.toml", "again.toml"]);
    assert!(code == Some(2) && error.contains("readings-taken-already"), "{error}");
    // of another day they fit the fitted case further, and the bands of before stay those of before
    let other = READINGS.replace("2026-11-28", "2026-11-29");
    std::fs::write(folder.path().join("again.toml"), other).expect("written");
    let (code, _, error) = run(folder.path(), &["fit", "car-fitted.toml", "again.toml", "--into", "next"]);
    assert_eq!(code, Some(0), "{error}");
    let text = std::fs::read_to_string(folder.path().join("next/car-fitted.toml")).expect("written");
    assert!(text.contains("\"engine/brake_efficiency\" = [\"25 %\", \"23 %\", \"27 %\""), "{text}");
    assert!(text.contains("readings = [\"r.toml\", \"again.toml\"]"), "{text}");
}

#[test]
fn other_states_and_values_set_for_a_run_are_asked_about() {
    let folder = folder();
    let planned = format!("case_sha256 = \"0123abcd\"\n{READINGS}");
    std::fs::write(folder.path().join("other.toml"), planned).expect("written");
    let (code, _, error) = run(folder.path(), &["fit", "car.toml", "other.toml"]);
    assert!(code == Some(2) && error.contains("readings-of-another-state"), "{error}");
    assert_eq!(
        run(folder.path(), &["fit", "car.toml", "other.toml", "--other-revision", "--dry"]).0,
        Some(0)
    );
    let set = ["fit", "car.toml", "r.toml", "--set", "engine/brake_efficiency=24 %"];
    let (code, _, error) = run(folder.path(), &set);
    assert!(code == Some(2) && error.contains("fit-with-set"), "{error}");
    let blank = READINGS
        .replace("185 degC", "")
        .replace("146 degC", "")
        .replace("178 degC", "")
        .replace("118 degC", "")
        .replace("108 degC", "")
        .replace("72 mmH2O", "");
    std::fs::write(folder.path().join("blank.toml"), blank).expect("written");
    let (code, _, error) = run(folder.path(), &["fit", "car.toml", "blank.toml"]);
    assert!(code == Some(2) && error.contains("nothing-read"), "{error}");
    // a fitted case that somebody changed is kept
    assert_eq!(run(folder.path(), &["fit", "car.toml", "r.toml"]).0, Some(0));
    let path = folder.path().join("car-fitted.toml");
    let edited = std::fs::read_to_string(&path).expect("written").replace("title = ", "# mine\ntitle = ");
    std::fs::write(&path, edited).expect("written");
    let (code, _, error) = run(folder.path(), &["fit", "car.toml", "r.toml"]);
    assert!(code == Some(2) && error.contains("file-kept"), "{error}");
}

#[test]
fn a_fitted_line_that_was_changed_counts_as_it_stands() {
    let folder = folder();
    assert_eq!(run(folder.path(), &["fit", "car.toml", "r.toml"]).0, Some(0));
    let text = std::fs::read_to_string(folder.path().join("car-fitted.toml")).expect("written");
    let line = text.lines().find(|line| line.starts_with("brake_efficiency")).expect("still there");
    let edited = text.replacen(line, "brake_efficiency = \"24 % ± 1 %\"", 1);
    std::fs::write(folder.path().join("edited.toml"), edited).expect("written");
    let (_, out, _) = run(folder.path(), &["check", "edited.toml", "--json"]);
    let result: Value = serde_json::from_str(&out).expect("json");
    let warnings = result["warnings"].as_array().expect("a list");
    assert!(warnings.iter().any(|warning| warning["code"] == "fitted-value-changed"), "{warnings:?}");
    // a row of the factor that is too short is refused
    let at = text.rfind("factor = [").expect("a factor") + "factor = [".len();
    let end = at + text[at..].find(',').expect("several") + 1;
    let broken = format!("{}{}", &text[..at], &text[end..]);
    std::fs::write(folder.path().join("broken.toml"), broken).expect("written");
    let (code, _, error) = run(folder.path(), &["check", "broken.toml"]);
    assert!(code == Some(2) && error.contains("fitted-unreadable"), "{error}");
}

/// The verdict, the guesses, the readings and what to mind on one screen.
#[test]
fn it_fits_on_one_screen() {
    let folder = folder();
    let output = program()
        .current_dir(folder.path())
        .env("COLUMNS", "100")
        .args(["fit", "car.toml", "r.toml"])
        .output()
        .expect("runs");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(text.lines().count() <= 40, "{}\n{text}", text.lines().count());
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
    assert!(text.contains("Agreement is no proof"), "{text}");
}

/// What carries a band may stand anywhere: left out of a table in one line with a comment behind it, given by a word.
#[test]
fn every_guess_of_a_rough_case_has_its_place_in_the_copy() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("car.toml"), demo("orchard-cyclecar")).expect("written");
    let text = demo("orchard-cyclecar");
    let first = text
        .split("[[condition]]")
        .nth(1)
        .and_then(|rest| rest.split("name = \"").nth(1))
        .expect("a condition");
    let name = first.split('"').next().expect("a name");
    let readings = format!(
        "format = 1\n[[test]]\nname = \"a\"\non = \"track\"\ncondition = \"{name}\"\nreading = [\n\
         {{ part = \"heads\", shows = \"170 degC ± 8 K\" }}, {{ part = \"barrels\", shows = \"140 degC ± 8 K\" }},\n\
         {{ strip = \"oil\", turned = \"88 degC\", unturned = \"93 degC\" }}]\n"
    );
    std::fs::write(folder.path().join("r.toml"), readings).expect("written");
    let (code, out, error) = run(folder.path(), &["fit", "car.toml", "r.toml"]);
    assert_eq!(code, Some(0), "{error}");
    assert!(out.contains("3 readings"), "{out}");
    let written = std::fs::read_to_string(folder.path().join("car-fitted.toml")).expect("written");
    assert!(written.contains("# cast iron"), "{written}");
    assert_eq!(run(folder.path(), &["check", "car-fitted.toml", "--plain"]).2, "");
}
