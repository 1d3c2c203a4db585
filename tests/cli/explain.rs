//! What the program explains.

use super::program;
use serde_json::Value;
use slowcorner::element::KINDS;
use slowcorner::output::explain::all;

fn told(arguments: &[&str]) -> String {
    let output = program().arg("explain").args(arguments).env("COLUMNS", "100").output().expect("runs");
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn every_element_table_and_word_is_explained() {
    let list = told(&[]);
    let mut seen = 0;
    for found in all() {
        seen += 1;
        assert!(list.contains(found.name), "{} is not listed", found.name);
        let words: Vec<&str> = found.name.split(' ').collect();
        let page = told(&[&words[..], &["--detail"]].concat());
        for key in &found.keys {
            assert!(page.contains(&key.key) && !key.what.is_empty(), "{}: {}", found.name, key.key);
        }
        for line in page.lines().filter(|line| !line.starts_with("  ")) {
            assert!(line.chars().count() <= 100, "{}: {line}", found.name);
        }
        for sign in ["`", "](", "**"] {
            assert!(!page.contains(sign), "{} shows {sign}", found.name);
        }
    }
    assert!(seen > KINDS.len() + 30, "{seen}");
}

#[test]
fn a_page_of_an_element_has_its_law_and_its_sources() {
    for kind in KINDS {
        let page = told(&[kind.name, "--detail"]).split_whitespace().collect::<Vec<_>>().join(" ");
        for part in ["What it stands for", "How it is reckoned", "Where it holds", "Sources"] {
            assert!(page.contains(part), "{} has no {part}", kind.name);
        }
        assert!(page.contains(kind.example), "{}", kind.name);
        for also in kind.also {
            assert_eq!(told(&[also]), told(&[kind.name]), "{also}");
        }
    }
}

#[test]
fn its_figures_are_those_of_the_pages() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().join("figures");
    let page = told(&["fan", "--into", &into.to_string_lossy(), "--svg-only"]);
    for name in ["fan.svg", "fan-wheels.svg"] {
        assert!(page.contains(name), "{page}");
        let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/figures").join(name);
        let drawn = std::fs::read_to_string(into.join(name)).expect("a figure");
        assert_eq!(drawn, std::fs::read_to_string(kept).expect("a figure"), "{name}");
    }
    let output = program().args(["explain", "part", "--into"]).arg(&into).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("figure-missing"));
}

#[test]
fn a_wrong_name_is_refused_with_the_one_that_was_meant() {
    for (wrong, meant) in [("scren", "screen"), ("flush inlet", "flush-inlet"), ("conditon", "condition")] {
        let output = program().args(["explain", wrong]).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2));
        assert!(
            said.contains("name-not-explained") && said.contains(&format!("did you mean {meant}?")),
            "{said}"
        );
    }
    let output = program().args(["explain", "zzzzzz"]).output().expect("runs");
    assert!(!String::from_utf8_lossy(&output.stderr).contains("did you mean"));
}

#[test]
fn its_json_is_described() {
    let page = include_str!("../../docs/result.md");
    let described =
        page.split("`explain` gives").nth(1).expect("a chapter").split("```").nth(1).expect("keys");
    let mut seen = 0;
    fn walk(value: &Value, check: &mut dyn FnMut(&str)) {
        match value {
            Value::Object(entries) => entries.iter().for_each(|(key, value)| {
                check(key);
                walk(value, check);
            }),
            Value::Array(members) => members.iter().for_each(|member| walk(member, check)),
            _ => {}
        }
    }
    for name in [&["fins", "--json"][..], &["part", "--json"], &["--json"]] {
        let found: Value = serde_json::from_str(&told(name)).expect("JSON");
        walk(&found, &mut |key| {
            seen += 1;
            let words = |c: char| !c.is_ascii_alphanumeric() && c != '_';
            assert!(described.split(words).any(|word| word == key), "docs/result.md does not tell of {key}");
        });
    }
    assert!(seen > 500, "{seen}");
}
