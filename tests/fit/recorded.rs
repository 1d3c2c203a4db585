//! A recorded run with measured columns, of a car that differs from the case in what it gives to its heads.

use crate::fit::support::{demo, program};
use serde_json::Value;
use std::fmt::Write;
use std::path::Path;

/// What the heads take of the fuel's heat: in the case 10.5 % ± 2 %, in the car that was logged.
const TRUTH: f64 = 11.9;

fn run(arguments: &[&str], folder: &Path) -> (Vec<u8>, String) {
    let output = program().args(arguments).current_dir(folder).output().expect("runs");
    (output.stdout, String::from_utf8_lossy(&output.stderr).into_owned())
}

/// Ten minutes round and round, second by second; `more` is written behind each row.
fn log(heading: &str, more: &dyn Fn(f64) -> String) -> String {
    let mut text = format!("time (s),speed (km/h),rpm,load (%){heading}\n");
    for second in 0..=600 {
        let time = f64::from(second);
        let speed = 70.0 + 35.0 * (time / 9.0).sin() + 10.0 * (time / 47.0).sin();
        let load = (60.0 + 60.0 * (time / 9.0).cos()).clamp(0.0, 100.0);
        let _ = writeln!(text, "{time},{speed:.1},{:.0},{load:.0}{}", speed * 62.0, more(time));
    }
    text
}

/// A folder with the case, and with what was logged of the other car, whose gauge sits on the hottest of its heads, 10 K over
/// their mean.
fn logged() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let stint = "\n[[stint]]\nname = \"evening\"\ntrace = \"run.csv\"\nstart = \"70 degC\"\n";
    std::fs::write(at("car.toml"), demo("quarry-sprinter") + stint).expect("written");
    std::fs::write(at("run.csv"), log("", &|_| String::new())).expect("written");
    let set = format!("engine/heat/heads={TRUTH} %");
    let (_, told) = run(
        &["lap", "car.toml", "--stint", "evening", "--set", &set, "--csv", "t.csv", "--svg-only"],
        folder.path(),
    );
    let mut course = csv::Reader::from_path(at("t.csv")).unwrap_or_else(|_| panic!("{told}"));
    let rows = course.records().map(|row| {
        let row = row.expect("a row");
        (row[1].parse().expect("a time"), row[4].parse().expect("a temperature"))
    });
    let rows: Vec<(f64, f64)> = rows.collect();
    let heads = |time: f64| {
        let after = rows.partition_point(|row| row.0 <= time).clamp(1, rows.len() - 1);
        let (a, b) = (rows[after - 1], rows[after]);
        format!(",{:.1}", 10.0 + a.1 + (b.1 - a.1) * (time - a.0) / (b.0 - a.0))
    };
    std::fs::write(at("evening.csv"), log(",CHT 2 (degC)", &heads)).expect("written");
    folder
}

const READINGS: &str = r#"format = 1
[instrument.logger]
reads = "temperature"
within = "3 K"
zero = "1.5 K"
[[test]]
name = "what the logger kept"
on = "track"
trace = "evening.csv"
measured = { heads = "CHT 2" }
with = "logger"
"#;

/// The share of heat moves towards that of the car that was logged, which lies in its band; means of the thirds are shown
/// as they were logged; and what stands in the place of the run is the run.
#[test]
fn measured_columns_move_the_case_towards_the_car_that_was_logged() {
    let folder = logged();
    std::fs::write(folder.path().join("r.toml"), READINGS).expect("written");
    let (json, told) = run(&["fit", "car.toml", "r.toml", "--json", "--dry"], folder.path());
    let fit: Value = serde_json::from_slice(&json).unwrap_or_else(|_| panic!("{told}"));
    let fit = &fit["fit"];
    let misfits = fit["misfits"].as_array().expect("a list");
    assert_eq!(misfits.len(), 3);
    for misfit in misfits {
        assert_ne!(misfit["verdict"], "at odds", "{misfit}");
        assert!(misfit["what"].as_str().expect("words").contains("mean from"), "{misfit}");
    }
    let moved = fit["moved"].as_array().expect("a list");
    let heat = moved.iter().find(|row| row["addresses"][0] == "engine/heat/heads").expect("it was seen");
    let percent = |place: usize| -> f64 {
        let text = heat["after"][place].as_str().expect("a share");
        text.trim_end_matches(" %").parse().expect("a number")
    };
    assert!(percent(0) > 10.7 && (percent(1)..=percent(2)).contains(&TRUTH), "{heat}");
    let run = &fit["runs"][0];
    let off = |key: &str| run[key].as_f64().expect("a number");
    println!("{run} {heat}");
    assert!(off("missed_K") < 2.0 && off("off_K") < 2.0, "{run}");
}

/// Files that are not there, columns that they have not, moments after the end.
#[test]
fn runs_that_say_nothing_are_refused() {
    let folder = logged();
    let reading = "reading = { part = \"oil\", shows = \"99 degC\", at = \"12:00\" }\n";
    for (from, to, code) in [
        ("evening.csv", "morning.csv", "run-unreadable"),
        ("\"CHT 2\"", "\"CHT 3\"", "run-column-missing"),
        ("measured = { heads = \"CHT 2\" }\n", "", "nothing-measured"),
        ("with = \"logger\"\n", reading, "read-after-run"),
    ] {
        assert!(READINGS.contains(from));
        std::fs::write(folder.path().join("r.toml"), READINGS.replacen(from, to, 1)).expect("written");
        let (_, told) = run(&["fit", "car.toml", "r.toml", "--dry"], folder.path());
        assert!(told.contains(code), "{code}: {told}");
    }
    // without what its parts store nothing is known of them in time
    let text = demo("quarry-sprinter");
    let line =
        text.lines().find(|line| line.starts_with("heat_capacity") || line.starts_with("mass")).expect("one");
    let without = text.replacen(line, "", 1);
    std::fs::write(folder.path().join("car.toml"), without).expect("written");
    std::fs::write(folder.path().join("r.toml"), READINGS).expect("written");
    let (_, told) = run(&["fit", "car.toml", "r.toml", "--dry"], folder.path());
    assert!(told.contains("run-not-followed"), "{told}");
}
