//! What is guessed, beside the margins of `check` and by itself.

use super::program;

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/orchard-cyclecar.toml");

fn run(arguments: &[&str]) -> (Option<i32>, String) {
    let output = program().args(arguments).output().expect("runs");
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    (output.status.code(), String::from_utf8(output.stdout).expect("text"))
}

fn json(arguments: &[&str]) -> serde_json::Value {
    serde_json::from_str(&run(arguments).1).expect("one JSON object")
}

#[test]
fn check_says_how_often_all_holds_and_leaves_it_out_when_asked() {
    let (status, text) = run(&["check", DEMO]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(status, Some(0));
    assert!(
        text.contains("All parts stay cool: 2 in 10") || text.contains("All parts stay cool: 3 in 10"),
        "{text}"
    );
    let (_, said) = text.split_once("Least margin").expect("the margin");
    let said = said.split("decide)").next().unwrap_or_default();
    assert!(!said.contains("safe") && !said.contains('%'), "{said}");
    let (_, plain) = run(&["check", DEMO, "--plain"]);
    assert!(!plain.contains("cool:"), "{plain}");
    let (with, without) = (json(&["check", DEMO, "--json"]), json(&["check", DEMO, "--json", "--plain"]));
    let part = &with["conditions"][0]["parts"][0];
    assert!(part["margin_band_K"]["p05"].as_f64() < part["margin_band_K"]["p95"].as_f64());
    assert!((0.0..=1.0).contains(&part["likelihood"].as_f64().expect("a number")));
    let doubt = &with["doubt"];
    for key in ["all_hold", "least_K", "draws", "standard_error", "inputs", "decides"] {
        assert!(!doubt[key].is_null(), "{key}");
    }
    assert!(
        without.get("doubt").is_none() && without["conditions"][0]["parts"][0].get("likelihood").is_none()
    );
}

#[test]
fn as_many_draws_as_are_asked_for() {
    let found = json(&["check", DEMO, "--json", "--draws", "800"]);
    assert_eq!(found["doubt"]["draws"], 800);
}

#[test]
fn doubt_ranks_guesses_by_what_they_leave() {
    let into = tempfile::tempdir().expect("a folder");
    let folder = into.path().to_str().expect("text");
    let (status, text) = run(&["doubt", DEMO, "--into", folder]);
    assert_eq!(status, Some(0));
    assert!(text.contains("would leave") && text.contains("engine/heat/barrels"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 100));
    let found = json(&["doubt", DEMO, "--json", "--into", folder, "--svg-only"]);
    let shares = found["shares"].as_array().expect("a list");
    assert_eq!(shares.len(), found["doubt"]["inputs"].as_array().expect("a list").len());
    let worth: Vec<f64> = shares.iter().map(|each| each["worth_K"].as_f64().expect("a number")).collect();
    assert!(worth.windows(2).all(|pair| pair[0] >= pair[1]));
    for key in ["address", "first_order", "total", "stated", "leaves_K", "measure"] {
        assert!(!shares[0][key].is_null(), "{key}");
    }
}
