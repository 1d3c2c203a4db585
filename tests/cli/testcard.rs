//! The test card and the readings file with blanks.

use super::{copy_of_demo, demo, files_in, json, program};
use serde_json::Value;
use slowcorner::case::load;
use slowcorner::readings::file;
use std::fs;
use std::path::{Path, PathBuf};

const DEMOS: [&str; 4] = ["quarry-sprinter", "causeway-trike", "stubble-buggy", "orchard-cyclecar"];

fn path_of(case: &str) -> PathBuf {
    demo().with_file_name(format!("{case}.toml"))
}

fn run(path: &Path, into: &Path, more: &[&str]) -> (Option<i32>, String, String) {
    let output =
        program().arg("testcard").arg(path).arg("--into").arg(into).args(more).output().expect("runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code(), text(output.stdout), text(output.stderr))
}

fn card_of(path: &Path, more: &[&str]) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let mut arguments = vec!["testcard", path.to_str().expect("text"), "--json", "--into"];
    arguments.push(folder.path().to_str().expect("text"));
    arguments.extend(more);
    let (status, result) = json(&arguments);
    assert_eq!(status, 0, "{}", path.display());
    result["testcard"].clone()
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("{key} in {value}"))
}

#[test]
fn card_and_file_carry_one_number_and_the_file_is_read_back() {
    for demo in DEMOS {
        let path = path_of(demo);
        let folder = tempfile::tempdir().expect("a folder");
        let (status, said, _) = run(&path, folder.path(), &["--detail"]);
        assert_eq!(status, Some(0), "{demo}");
        assert_eq!(
            files_in(folder.path()),
            [format!("{demo}-readings.toml"), format!("{demo}-testcard.pdf")]
        );
        let source = fs::read_to_string(folder.path().join(format!("{demo}-readings.toml"))).expect("text");
        let id = source.lines().find_map(|line| line.strip_prefix("card = \"")).expect("a number");
        let card = card_of(&path, &[]);
        assert_eq!(card["id"].as_str().expect("a number"), id.trim_end_matches('"'), "{demo}");
        let pdf = fs::read(folder.path().join(format!("{demo}-testcard.pdf"))).expect("a sheet");
        assert!(pdf.starts_with(b"%PDF-"), "{demo}");
        let loaded = load(&fs::read_to_string(&path).expect("a case"), &[]).expect("a sound case");
        file::load(&source, &loaded).unwrap_or_else(|faults| panic!("{demo}: {faults}\n{source}"));
        // every run has its test, and every reading its place; a ratio two, as have the pressures beside a hole
        let runs = list(&card, "runs");
        assert_eq!(source.matches("[[test]]").count(), runs.len(), "{demo}");
        let places = |reading: &Value| if reading["kind"] == "ratio" { 2 } else { 1 };
        let readings: usize = runs.iter().flat_map(|run| list(run, "readings")).map(places).sum();
        let blank = |key: &str| source.matches(&format!("{key} = \"\"")).count();
        assert_eq!(blank("shows") + blank("shut") + blank("beside"), readings, "{demo}");
        let holes = runs.iter().filter(|run| !run["hole_m"].is_null()).count();
        assert_eq!((source.matches("hole = ").count(), blank("shut")), (holes, holes), "{demo}");
        assert!(said.contains("never the driver") && said.contains("Extinguisher"), "{said}");
    }
}

#[test]
fn a_file_that_was_filled_in_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = path_of("causeway-trike");
    assert_eq!(run(&path, folder.path(), &[]).0, Some(0));
    // unchanged it is made anew
    assert_eq!(run(&path, folder.path(), &[]).0, Some(0));
    let (readings, sheet) = (
        folder.path().join("causeway-trike-readings.toml"),
        folder.path().join("causeway-trike-testcard.pdf"),
    );
    let filled =
        fs::read_to_string(&readings).expect("text").replacen("shows = \"\"", "shows = \"151 degC\"", 1);
    fs::write(&readings, &filled).expect("written");
    fs::write(&sheet, b"older").expect("written");
    let (status, _, said) = run(&path, folder.path(), &[]);
    assert!(status == Some(2) && said.contains("file-kept"), "{said}");
    assert_eq!(fs::read_to_string(&readings).expect("text"), filled);
    assert_eq!(fs::read(&sheet).expect("bytes"), b"older", "both or none");
    assert_eq!(run(&path, folder.path(), &["--replace"]).0, Some(0));
    assert!(fs::read_to_string(&readings).expect("text").contains("shows = \"\""));
}

#[test]
fn what_cannot_be_read_is_not_asked_for() {
    let (folder, path) =
        copy_of_demo(|text| text.replace("[size]\n", "[instruments]\nlogger = true\n\n[size]\n"));
    let (status, _, said) = run(&path, folder.path(), &[]);
    assert!(status == Some(2) && said.contains("instrument-missing"), "{said}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);
    // a U-tube alone reads pressures
    let path = path_of("stubble-buggy");
    let with = |tools: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        let copy = folder.path().join("car.toml");
        fs::write(&copy, format!("{}\n[instruments]\n{tools}\n", fs::read_to_string(&path).expect("text")))
            .expect("written");
        card_of(&copy, &[])
    };
    let tube = with("u_tube = { slope = 10 }");
    let kinds = |card: &Value| -> Vec<String> {
        let readings = list(card, "runs").iter().flat_map(|run| list(run, "readings"));
        readings.map(|reading| reading["kind"].as_str().expect("a kind").to_string()).collect()
    };
    let found = kinds(&tube);
    assert!(!found.is_empty() && found.iter().all(|kind| kind == "pressure" || kind == "ratio"), "{found:?}");
    assert_eq!(tube["instruments_said"], true);
    // what a gauge shows in °F is what it shows in °C
    let (celsius, fahrenheit) = (with("gauge = { }"), with("gauge = { shows = \"degF\" }"));
    let first = |card: &Value| list(&list(card, "runs")[0], "readings")[0].clone();
    let (c, f) = (first(&celsius), first(&fahrenheit));
    assert_eq!((&c["what"], &f["unit"]), (&f["what"], &Value::from("°F")));
    let (c, f) = (c["expected"]["p50"].as_f64().expect("°C"), f["expected"]["p50"].as_f64().expect("°F"));
    assert!((1.8 * c + 32.0 - f).abs() < 1e-9, "{c} °C, {f} °F");
}

#[test]
fn strips_are_asked_for_as_fields_that_turn() {
    let (folder, path) = copy_of_demo(|text| {
        let text = text.replace("area = \"100 cm2\"", "area = \"300 cm2\"");
        text.replace("[size]\n", "[instruments]\nstrips = { step = \"10 K\" }\n\n[size]\n")
    });
    let (status, said, _) = run(&path, folder.path(), &[]);
    assert!(status == Some(0) && said.contains("A new strip for each run"), "{said}");
    let source = fs::read_to_string(folder.path().join("car-readings.toml")).expect("text");
    assert!(
        source.contains("turned = \"\", unturned = \"\"") && !source.contains("shows = \"\""),
        "{source}"
    );
    let loaded = load(&fs::read_to_string(&path).expect("a case"), &[]).expect("a sound case");
    file::load(&source, &loaded).unwrap_or_else(|faults| panic!("{faults}"));
}

#[test]
fn the_way_out_of_a_coarse_tube_is_a_finer_one() {
    let path = path_of("stubble-buggy");
    let with = |tools: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        let copy = folder.path().join("car.toml");
        fs::write(&copy, format!("{}\n[instruments]\n{tools}\n", fs::read_to_string(&path).expect("text")))
            .expect("written");
        card_of(&copy, &[])
    };
    let coarse = with("u_tube = { resolution = \"20 mm\" }");
    let told = list(&coarse, "coarse");
    assert!(!told.is_empty(), "20 mm of water are 196 Pa");
    for each in told {
        let number = |key: &str| each[key].as_f64().expect("a number");
        assert!(number("half_band") < number("within") || number("about").abs() < 3.5 * number("within"));
        assert!(each["way_out"].as_str().expect("words").contains("1:10"), "{each}");
    }
    let fine = with("u_tube = { resolution = \"1 mm\", slope = 20 }");
    for each in list(&fine, "coarse") {
        assert!(!each["way_out"].as_str().expect("words").contains("1:10"), "it lies at 1:20: {each}");
    }
    let leaves = |card: &Value| card["leaves_K"].as_f64().expect("kelvins");
    assert!(leaves(&fine) <= leaves(&coarse) + 1.0, "{} and {}", leaves(&fine), leaves(&coarse));
}
