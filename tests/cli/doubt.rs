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
    let (status, text) = run(&["check", DEMO, "--detail"]);
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
    assert!(text.contains("would leave") && text.contains("share of heat to "), "{text}");
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

#[test]
fn a_sweep_carries_its_doubt_and_leaves_it_out_when_asked() {
    let into = tempfile::tempdir().expect("a folder");
    let folder = into.path().to_str().expect("text");
    let sweep =
        |more: &[&str]| json(&[&["sweep", DEMO, "--json", "--svg-only", "--into", folder], more].concat());
    let with = sweep(&[]);
    let points = with["sweep"]["points"].as_array().expect("points");
    let banded: Vec<&serde_json::Value> =
        points.iter().filter(|point| !point["parts"]["heads"]["margin_band_K"].is_null()).collect();
    assert!((30..60).contains(&banded.len()) && banded.len() < points.len(), "{}", banded.len());
    for point in &banded {
        let (band, likelihood) =
            (&point["parts"]["heads"]["margin_band_K"], &point["parts"]["heads"]["likelihood"]);
        assert!(band["p05"].as_f64() <= band["p50"].as_f64() && band["p50"].as_f64() <= band["p95"].as_f64());
        assert!(
            likelihood.as_f64().expect("a share") >= with["doubt"]["all_hold"].as_f64().expect("a share")
        );
    }
    assert_eq!(with["doubt"]["decides"][0]["condition"], "sweep");
    assert!(with["doubt"]["decides"][0]["speed_m_s"].as_f64().is_some());
    let chart = std::fs::read_to_string(into.path().join("orchard-cyclecar-margin.svg")).expect("the chart");
    assert!(chart.contains("Shaded: where the least margin lies 9 times in 10"));
    let plain = sweep(&["--plain"]);
    assert!(
        plain.get("doubt").is_none() && plain["sweep"]["points"][0]["parts"]["heads"]["likelihood"].is_null()
    );
    assert_eq!(sweep(&["--draws", "640"])["doubt"]["draws"], 640);
}

#[test]
fn the_worst_points_everywhere_carry_their_doubt() {
    let found = json(&["check", DEMO, "--everywhere", "--json"]);
    for point in found["everywhere"].as_array().expect("points") {
        assert!(point["margin_band_K"]["p05"].as_f64() < point["margin_band_K"]["p95"].as_f64());
        let likelihood = point["likelihood"].as_f64().expect("a share");
        assert!(likelihood >= found["everywhere_doubt"]["all_hold"].as_f64().expect("a share"));
    }
    let plain = json(&["check", DEMO, "--everywhere", "--json", "--plain"]);
    assert!(plain.get("everywhere_doubt").is_none() && plain["everywhere"][0]["likelihood"].is_null());
}

#[test]
fn runs_in_time_carry_their_doubt_from_few_draws() {
    let into = tempfile::tempdir().expect("a folder");
    let folder = into.path().to_str().expect("text");
    let case = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/quarry-sprinter.toml");
    let lap =
        |more: &[&str]| json(&[&["lap", case, "--json", "--svg-only", "--into", folder], more].concat());
    let found = lap(&[]);
    let draws = found["doubt"]["draws"].as_u64().expect("a number");
    assert!((16..=64).contains(&draws), "{draws}");
    for stint in found["stints"].as_array().expect("stints") {
        assert!((0.0..=1.0).contains(&stint["likelihood"].as_f64().expect("a share")));
        for part in ["heads", "oil"] {
            let over = &stint["parts"][part];
            let (low, taken, high) =
                (&over["margin_band_K"]["p05"], &over["temperature_margin_K"], &over["margin_band_K"]["p95"]);
            assert!(low.as_f64() < high.as_f64(), "{part}");
            // far within what few draws and one-sided guesses leave room for
            let spread = high.as_f64().expect("K") - low.as_f64().expect("K");
            let (low, taken) = (low.as_f64().expect("K"), taken.as_f64().expect("K"));
            assert!(taken > low - spread && taken < low + 2.0 * spread, "{part}: {low} {taken} {spread}");
        }
    }
    let inputs = found["doubt"]["inputs"].as_array().expect("inputs");
    assert!(!inputs.is_empty());
    assert!(lap(&["--plain"]).get("doubt").is_none());
    assert_eq!(lap(&["--draws", "16"])["doubt"]["draws"], 16);
}

/// Runs and is interrupted after a while; the result that it prints all the same.
#[cfg(unix)]
fn interrupted(arguments: &[&str], after: u64) -> serde_json::Value {
    let child = std::process::Command::new(env!("CARGO_BIN_EXE_slowcorner"))
        .args(arguments)
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("runs");
    std::thread::sleep(std::time::Duration::from_millis(after));
    let interrupt = std::process::Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(interrupt.expect("kill runs").success());
    let output = child.wait_with_output().expect("ends");
    serde_json::from_slice(&output.stdout).unwrap_or(serde_json::Value::Null)
}

/// The warnings that work was stopped by hand.
#[cfg(unix)]
fn stopped(found: &serde_json::Value) -> Vec<String> {
    let warnings = found["warnings"].as_array().into_iter().flatten();
    let told = warnings.filter(|warning| warning["code"] == "stopped-by-hand");
    told.filter_map(|warning| warning["message"].as_str().map(String::from)).collect()
}

/// The first Ctrl-C ends the draws and keeps them; how many there are is said.
#[cfg(unix)]
#[test]
fn what_is_stopped_by_hand_is_shown_as_far_as_it_is() {
    let found = interrupted(&["check", DEMO, "--json", "--draws", "1000000"], 1500);
    let draws = found["doubt"]["draws"].as_u64().expect("a number");
    assert!((512..1_000_000).contains(&draws), "{draws}");
    assert!(stopped(&found)[0].contains(&draws.to_string()), "{:?}", stopped(&found));
}

/// So it is with the search for the worst points: those found so far are shown.
#[cfg(unix)]
#[test]
fn a_search_for_the_worst_points_that_is_stopped_is_shown_as_far_as_it_is() {
    // the machine decides how far it is by then: tried until it was met half-way
    let half_done = (1..=40).find_map(|tenths| {
        let found = interrupted(&["check", QUARRY, "--everywhere", "--plain", "--json"], 50 * tenths);
        (!stopped(&found).is_empty()).then_some(found)
    });
    let found = half_done.expect("never met it half-way");
    assert!(stopped(&found)[0].contains("% of the search for the worst points"), "{:?}", stopped(&found));
    assert_eq!(found["everywhere"].as_array().expect("points").len(), 3);
    assert!(found["everywhere_within"]["solved"].as_u64().is_some_and(|solved| solved > 10));
}

/// And with the columns of sizes: the first that are through, and the case with the sizes that will do, are written.
#[cfg(unix)]
#[test]
fn columns_of_sizes_that_are_through_are_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let half_done = (3..=60).find_map(|tenths| {
        let found = interrupted(&["size", QUARRY, "--svg-only", "--into", into, "--json"], 100 * tenths);
        let told = stopped(&found);
        told.iter().any(|text| text.contains("of 3 columns of sizes")).then_some(found)
    });
    let found = half_done.expect("never met it half-way");
    let columns = found["sizes"]["columns"].as_array().expect("a list");
    assert!((1..=2).contains(&columns.len()), "{columns:?}");
    assert_eq!(columns[columns.len() - 1]["column"], "values taken");
    assert!(found["sizes"].get("holds").is_none_or(serde_json::Value::is_null));
    assert!(folder.path().join("quarry-sprinter-sized.toml").exists());
}

const QUARRY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/quarry-sprinter.toml");

fn status_and_json(arguments: &[String]) -> (Option<i32>, serde_json::Value) {
    let output = program().args(arguments).output().expect("runs");
    (output.status.code(), serde_json::from_slice(&output.stdout).expect("one JSON object"))
}

#[test]
fn size_tells_what_to_cut_first_and_what_holds() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = ["--svg-only", "--into", folder.path().to_str().expect("text")];
    let with = |more: &[&str]| -> Vec<String> {
        [&["size", QUARRY], &into[..], more].concat().into_iter().map(String::from).collect()
    };
    let output = program().args(with(&["--holds", "70 %", "--detail"])).output().expect("runs");
    let text = String::from_utf8(output.stdout).expect("text");
    let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flowing
            .contains("With the values taken 759 cm² will do: all parts stay cool 4 in 10. For 7 in 10 cut"),
        "{flowing}"
    );
    assert!(flowing.contains("cut first values taken holds 7 in 10") && flowing.contains("1 mm further out"));
    let (_, said) = flowing.split_once("With the values taken").expect("the sentence");
    assert!(!said.split("opening").next().expect("it").contains("safe"));
    assert!(text.lines().all(|line| line.chars().count() <= 100));
    // 9 in 10 cannot be had
    let output = program().args(with(&[])).output().expect("runs");
    let text = String::from_utf8(output.stdout).expect("text");
    let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flowing.contains("No opening makes this sure: at best 8 in 10, because of"), "{flowing}");
    assert!(flowing.contains("buys nothing"));
    let (status, found) = status_and_json(&with(&["--json", "--draws", "512"]));
    assert_eq!((status, found["doubt"]["draws"].as_u64()), (Some(0), Some(512)));
    assert_eq!(found["sizes"]["columns"].as_array().expect("a list").len(), 3);
    assert!(found["conditions"][0]["parts"][0]["likelihood"].is_number());
    let often = found["doubt"]["all_hold"].as_f64().expect("a number");
    let taken = found["sizes"]["columns"][1]["all_hold"].as_f64().expect("a number");
    assert!((often - taken).abs() < 0.05, "{often} {taken}");
    let (_, plain) = status_and_json(&with(&["--json", "--plain"]));
    assert!(plain.get("doubt").is_none() && plain["sizes"].get("columns").is_none());
    assert!(plain["sizes"].get("holds").is_none());
    for wrong in ["1.0", "safe", "9 in 10"] {
        let output = program().args(with(&["--holds", wrong])).output().expect("runs");
        assert_eq!(output.status.code(), Some(2), "{wrong}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("a share from 0.5 to 0.99"), "{wrong}");
    }
}

#[test]
fn compare_calls_no_coin_toss() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = ["--svg-only", "--into", folder.path().to_str().expect("text")];
    let with = |more: &[&str]| -> Vec<String> {
        [&["compare", QUARRY], &into[..], more].concat().into_iter().map(String::from).collect()
    };
    let output = program().args(with(&["--sized"])).output().expect("runs");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(text.contains("Too close to call: ") && text.contains("With the values taken best is"), "{text}");
    let (_, found) = status_and_json(&with(&["--json", "--draws", "256"]));
    assert_eq!(found["chances"]["draws"], 256);
    assert_eq!(found["chances"]["pairs"].as_array().expect("a list").len(), 1);
    assert!(found["compare"][0]["doubt"]["all_hold"].is_number());
    let (_, plain) = status_and_json(&with(&["--json", "--plain"]));
    assert!(plain.get("chances").is_none() && plain["compare"][0].get("doubt").is_none());
}

#[test]
fn a_case_without_layouts_has_no_other_body_shape() {
    let trike = concat!(env!("CARGO_MANIFEST_DIR"), "/cases/causeway-trike.toml");
    let output = program().args(["size", trike, "--layouts", "all"]).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("layouts-missing"));
}
