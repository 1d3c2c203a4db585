//! The tape card: every cell walked with `check --set`.

use super::{copy_of_demo, demo, files_in, json, program};
use serde_json::Value;
use std::path::{Path, PathBuf};

const DEMOS: [&str; 4] = ["quarry-sprinter", "causeway-trike", "stubble-buggy", "orchard-cyclecar"];

fn path_of(case: &str) -> PathBuf {
    demo().with_file_name(format!("{case}.toml"))
}

/// The card of a case, its openings as the file has them.
fn card_of(path: &Path, more: &[&str]) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text").to_string();
    let mut arguments = vec!["tape", path.to_str().expect("text"), "--drawn", "--json", "--into", &into];
    arguments.extend(more);
    let (status, result) = json(&arguments);
    assert_eq!(status, 0, "{}", path.display());
    assert_eq!(files_in(folder.path()).len(), 1);
    result["tape"].clone()
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("a number: {value}"))
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("text: {value}"))
}

#[test]
fn every_cell_is_what_check_says_of_its_tape_and_weather() {
    let (mut taped, mut bare) = (0, 0);
    for case in DEMOS {
        let path = path_of(case);
        let card = card_of(&path, &["--set", "body/tape_width=12 mm"]);
        let names: Vec<&str> = list(&card, "columns").iter().map(|column| text(&column["column"])).collect();
        assert_eq!(names[0], "run", "{case}");
        for row in list(&card, "rows").iter().step_by(2) {
            for (column, cell) in list(&card, "columns").iter().zip(list(row, "cells")) {
                if cell["says"] == "outside" || text(&column["column"]) == "wet" || !column["taken"].is_null()
                {
                    continue;
                }
                let opening = cell["opening"].as_str().map(|letter| {
                    list(&card, "openings")
                        .iter()
                        .find(|opening| opening["letter"] == letter)
                        .expect("the opening")
                });
                let mut hottest: Vec<f64> = vec![f64::NEG_INFINITY; list(&card, "parts").len()];
                for condition in list(column, "conditions").iter().map(text) {
                    let mut sets = vec![format!(
                        "condition/{condition}/day={{ temperature = \"{} degC\" }}",
                        row["air_C"]
                    )];
                    if let Some(opening) = opening {
                        let name = text(&opening["passage"]);
                        sets.push(format!(
                            "condition/{condition}/taped={{ \"{name}\" = {} }}",
                            cell["share"]
                        ));
                    }
                    let mut arguments = vec!["check", path.to_str().expect("text"), "--json", "--plain"];
                    sets.iter().for_each(|set| arguments.extend(["--set", set]));
                    let (status, result) = json(&arguments);
                    assert!(status == 0 || status == 1, "{case} {sets:?}: {status}");
                    let found = list(&result, "conditions")
                        .iter()
                        .find(|known| known["name"] == condition)
                        .expect("it");
                    for (hottest, told) in hottest.iter_mut().zip(list(&card, "parts")) {
                        let part = list(found, "parts")
                            .iter()
                            .find(|part| part["name"] == told["part"])
                            .expect("the part");
                        // as its gauge shows it: the limit where it is measured less what is left
                        *hottest =
                            hottest.max(number(&told["limit_C"]) - number(&part["temperature_margin_K"]));
                    }
                }
                // what a condition tapes or changes of the day itself is not written anew here
                let own = case == "stubble-buggy";
                for (shows, hottest) in list(cell, "shows").iter().zip(&hottest) {
                    let told = number(&shows["taken_C"]);
                    assert!(
                        own || (told - hottest).abs() < 0.05,
                        "{case} {} {cell}: {hottest}",
                        row["air_C"]
                    );
                    assert!(number(&shows["low_C"]) <= number(&shows["high_C"]));
                }
                match opening {
                    Some(opening) => {
                        taped += 1;
                        let strips = number(&cell["strips"]) as usize;
                        let share = number(&list(opening, "shares")[strips - 1]);
                        assert!((share - number(&cell["share"])).abs() < 1e-12);
                        for (shows, part) in list(cell, "shows").iter().zip(list(&card, "parts")) {
                            assert!(
                                number(&shows["taken_C"]) <= number(&part["limit_C"]) - 10.0 + 1e-6,
                                "{case} {cell}"
                            );
                        }
                    }
                    None => bare += 1,
                }
            }
        }
    }
    assert!(taped >= 2 && bare >= 3, "{taped} taped, {bare} not");
}

/// ISO 1585 corrects from 0.93 to 1.07; hot air goes beyond it, and `check` goes on there with a warning.
#[test]
fn the_card_goes_on_where_check_does_and_says_so() {
    let card = card_of(&demo(), &[]);
    let cells = |row: usize| list(&list(&card, "rows")[row], "cells");
    // 10 °C and 40 °C
    assert!(cells(2).iter().all(|cell| cell["power_beyond_correction"] == false));
    for cell in cells(8) {
        assert!(cell["says"] != "outside" && cell["power_beyond_correction"] == true, "{cell}");
    }
    let folder = tempfile::tempdir().expect("a folder");
    let output = program().args(["tape", "--drawn", "--into"]).arg(folder.path()).arg(demo()).output();
    let out = String::from_utf8_lossy(&output.expect("runs").stdout).into_owned();
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(out.contains("40 °C the engine's power is less sure"), "{out}");
}

#[test]
fn what_is_never_taped_is_not_on_the_card() {
    let card = card_of(&demo(), &[]);
    let never: Vec<&str> = list(&card, "never").iter().map(text).collect();
    assert!(never.contains(&"carburettor") && never.contains(&"fan"), "{never:?}");
    for opening in list(&card, "openings") {
        assert!(!never.contains(&text(&opening["passage"])));
    }
    for row in list(&card, "rows") {
        for (column, cell) in list(&card, "columns").iter().zip(list(row, "cells")) {
            assert!(column["column"] != "queue" || cell["strips"] == 0, "tape is off in the queue");
        }
    }
}

#[test]
fn the_colder_it_is_the_more_tape() {
    // wide exits: the oil is cold on the move
    let sizes =
        ["--set", "passage/left exit/exit/area=400 cm2", "--set", "passage/right exit/exit/area=400 cm2"];
    let more = ["--set", "passage/oil cooler/ram-inlet/area=140 cm2", "--set", "body/tape_width=12 mm"];
    let card = card_of(&demo(), &[sizes, more].concat());
    let run: Vec<&Value> = list(&card, "rows").iter().map(|row| &list(row, "cells")[0]).collect();
    let strips: Vec<f64> = run
        .iter()
        .filter(|cell| cell["says"] == "tape" || cell["says"] == "no tape")
        .map(|cell| number(&cell["strips"]))
        .collect();
    assert!(strips.len() >= 3 && strips.first() > strips.last(), "{strips:?}");
    assert!(strips.windows(2).all(|pair| pair[0] >= pair[1]), "{strips:?}");
}

#[test]
fn the_card_is_one_page_of_a5_and_says_no_tape_in_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let output = program()
        .args(["tape", "--detail", demo().to_str().expect("text"), "--into", into])
        .output()
        .expect("runs");
    let said = String::from_utf8(output.stdout).expect("text");
    assert!(said.contains("no tape") && said.contains("Never") && said.contains("If, then"), "{said}");
    let bytes = std::fs::read(folder.path().join("quarry-sprinter-tape.pdf")).expect("the card");
    let head = String::from_utf8_lossy(&bytes).into_owned();
    assert_eq!(head.matches("/MediaBox").count(), 1);
    // 148 × 210 mm in points
    assert!(head.contains("/MediaBox [0 0 419.5") && head.contains(" 595.2"), "{}", &head[..800]);
}

#[test]
fn a_tape_wider_than_every_opening_is_refused() {
    let (_folder, path) = copy_of_demo(|text| text);
    let output = program()
        .args(["tape", path.to_str().expect("text"), "--drawn", "--set", "body/tape_width=190 mm"])
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("nothing-to-tape"));
}
