//! Every key of every `--json` stands in the description of the result.

use super::every_study::loaded;
use super::program;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

const STUDIES: &[&[&str]] = &[
    &["check"],
    &["check", "--everywhere"],
    &["sweep", "--points", "12", "--into"],
    &["size", "--into"],
    &["exits", "--points", "5", "--into"],
    &["compare", "--into"],
    &["lap", "--into"],
    &["why"],
    &["doubt", "--into"],
    &["templates", "--into"],
    &["steps", "--into"],
    &["tape", "--into"],
    &["testcard", "--into"],
    &["air", "--into"],
    &["report", "--into"],
];

fn words(text: &str) -> BTreeSet<&str> {
    text.split(|c: char| !c.is_ascii_alphanumeric() && c != '_').collect()
}

/// Keys of a value that are no word of the description and no name of the case, with where they stand.
fn unknown(
    value: &Value,
    at: &str,
    known: &dyn Fn(&str) -> bool,
    found: &mut BTreeMap<String, String>,
) -> usize {
    match value {
        Value::Object(entries) => entries
            .iter()
            .map(|(key, value)| {
                if !known(key) {
                    found.insert(key.clone(), at.to_string());
                }
                1 + unknown(value, &format!("{at}/{key}"), known, found)
            })
            .sum(),
        Value::Array(members) => members.iter().map(|member| unknown(member, at, known, found)).sum(),
        _ => 0,
    }
}

#[test]
fn every_key_of_a_result_is_described() {
    let page = include_str!("../../docs/result.md");
    let described = words(page);
    let (mut found, mut seen) = (BTreeMap::new(), 0);
    for demo in ["quarry-sprinter", "causeway-trike"] {
        let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
        let text = fs::read_to_string(root.join(format!("cases/{demo}.toml"))).expect("a demo");
        let (text, _) = loaded(&text);
        // names of the case, of its kinds of element and of where its air comes from are keys of their own
        let quoted: BTreeSet<&str> = text.split('"').collect();
        let tables: BTreeSet<&str> = text
            .lines()
            .filter_map(|line| line.trim().strip_prefix('[')?.split_once('.')?.1.split(']').next())
            .collect();
        let known = |key: &str| {
            described.contains(key)
                || page.contains(&format!("\"{key}\""))
                || quoted.contains(key)
                || tables.contains(key)
                || text.contains(&format!("\n{key} = "))
                || key.contains('/')
        };
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("car.toml");
        fs::write(&path, &text).expect("written");
        let readings = folder.path().join("readings.toml");
        fs::write(&readings, "format = 1\n[[test]]\nname = \"slow\"\non = \"track\"\nspeed = \"40 km/h\"\nrpm = \"3000 rpm\"\nload = \"40 %\"\nreading = { part = \"heads\", shows = \"190 degC ± 30 K\" }\n")
            .expect("written");
        let output =
            program().arg("fit").arg(&path).arg(&readings).args(["--json", "--dry"]).output().expect("runs");
        let result: Value = serde_json::from_slice(&output.stdout)
            .unwrap_or_else(|_| panic!("fit: {}", String::from_utf8_lossy(&output.stderr)));
        seen += unknown(&result, "fit", &known, &mut found);
        for study in STUDIES {
            let mut command = program();
            command.arg(study[0]).arg(&path).arg("--json").args(&study[1..]);
            if study.last() == Some(&"--into") {
                command.arg(folder.path().join("out"));
            }
            let output = command.output().expect("runs");
            let result: Value = serde_json::from_slice(&output.stdout)
                .unwrap_or_else(|_| panic!("{study:?}: {}", String::from_utf8_lossy(&output.stderr)));
            seen += unknown(&result, study[0], &known, &mut found);
        }
    }
    assert!(seen > 5000, "{seen} keys");
    assert!(found.is_empty(), "docs/result.md does not tell of {found:#?}");
}

#[test]
fn a_key_that_is_nowhere_described_is_found() {
    let result = serde_json::json!({ "warnings": [{ "code": "x", "of_nothing": 1 }] });
    let described = words("warnings []: {code, message}");
    let mut found = BTreeMap::new();
    assert_eq!(unknown(&result, "check", &|key| described.contains(key), &mut found), 3);
    assert_eq!(found.into_iter().collect::<Vec<_>>(), [("of_nothing".into(), "check/warnings".into())]);
}
