//! What the card says that a reading should show is what a fit holds it against.

use crate::support::program;
use serde_json::Value;
use std::path::Path;

fn json(arguments: &[&str], folder: &Path) -> Value {
    let output = program().args(arguments).current_dir(folder).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{arguments:?}: {told}"))
}

/// Every blank is filled in with the middle of its band; the fit then expects each in the very band of the card, whatever
/// else was read. What is left is rounding of what the file says of the runs.
#[test]
fn card_and_fit_expect_the_same() {
    for demo in ["stubble-buggy", "causeway-trike"] {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("car.toml"), crate::support::demo(demo)).expect("written");
        let card = json(&["testcard", "car.toml", "--json"], folder.path());
        let file = folder.path().join("car-readings.toml");
        let mut text = std::fs::read_to_string(&file).expect("the blanks");
        let mut wanted: Vec<(f64, f64, bool)> = Vec::new();
        for run in card["testcard"]["runs"].as_array().expect("a list") {
            for planned in run["readings"].as_array().expect("a list") {
                let number = |key: &str| planned["expected"][key].as_f64().expect("a number");
                match (planned["kind"].as_str(), run["hole_m"].is_null()) {
                    (_, false) => {}
                    // both pressures of a ratio stay blank
                    (Some("ratio"), _) => text = text.replacen("shows = \"\"", "shows = \" \"", 2),
                    (kind, _) => {
                        let pressure = kind == Some("pressure");
                        let unit = if pressure { "mm" } else { "degC" };
                        assert_eq!(planned["unit"], if pressure { "mm" } else { "°C" });
                        let shows = format!("shows = \"{} {unit}\"", number("p50"));
                        text = text.replacen("shows = \"\"", &shows, 1);
                        wanted.push((number("p05"), number("p95"), pressure));
                    }
                }
            }
        }
        text = text.replace("shows = \" \"", "shows = \"\"");
        assert!(wanted.len() >= 3, "{wanted:?}");
        std::fs::write(&file, &text).expect("written");
        let fit = json(&["fit", "car.toml", "car-readings.toml", "--json", "--dry"], folder.path());
        let misfits = fit["fit"]["misfits"].as_array().expect("a list");
        assert_eq!(misfits.len(), wanted.len(), "{text}");
        let asks = fit["fit"]["asks"].as_array().expect("a list");
        assert!(asks.is_empty(), "{asks:?}");
        for (misfit, (low, high, pressure)) in misfits.iter().zip(wanted) {
            // a metre of water, the tubes being upright or 1:10
            let per = if pressure {
                misfit["read"].as_f64().expect("read") / number_of(&misfit["written"])
            } else {
                1.0
            };
            for (key, card) in [("p05", low), ("p95", high)] {
                let expected = misfit["expected"][key].as_f64().expect("a number");
                assert!(
                    (expected - per * card).abs() < 0.3 * per.abs().max(0.3),
                    "{demo} {misfit}: {expected} for {}",
                    per * card
                );
            }
        }
    }
}

fn number_of(written: &Value) -> f64 {
    let text = written.as_str().expect("as it was written");
    text.split(' ').next().and_then(|number| number.parse().ok()).expect("a number")
}
