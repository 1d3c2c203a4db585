//! Size: the copy it writes, and what cannot be sized.

use crate::cli::{copy_of_demo, files_in, json};
use std::fs;

#[test]
fn size_writes_a_copy_that_reaches_what_was_asked_for() {
    let (folder, path) = copy_of_demo(|text| text);
    let out = folder.path().join("out");
    let case = path.to_str().expect("text");
    let into = out.to_str().expect("text");
    let before = fs::read(&path).expect("read");
    let (status, result) = json(&["size", case, "--into", into, "--json"]);
    assert_eq!(status, 0, "{result}");
    assert_eq!(fs::read(&path).expect("read"), before, "the case itself was changed");
    assert_eq!(files_in(&out), ["car-sized-margin.png", "car-sized-margin.svg", "car-sized.toml"]);
    let sized = fs::read_to_string(out.join("car-sized.toml")).expect("read");
    assert!(sized.contains("# finger guard") && sized.contains("# An invented car"), "comments were lost");
    let kept = sized.lines().zip(String::from_utf8_lossy(&before).lines()).filter(|(a, b)| a == b).count();
    // four sizes, the share that the seams then are, the seal
    assert!(kept + 6 >= sized.lines().count(), "more than the sizes changed");
    let (status, again) = json(&["check", out.join("car-sized.toml").to_str().expect("text"), "--json"]);
    assert_eq!(status, 0);
    for condition in again["conditions"].as_array().expect("a list") {
        if condition["name"] == "queue" {
            continue;
        }
        for part in condition["parts"].as_array().expect("a list") {
            if part["limit_C"].is_null() {
                // a store of heat, of which nothing is asked
                assert!(part["margin_is"].is_null() && part["flow_margin"].is_null());
                continue;
            }
            let (name, margin) = (&part["name"], part["flow_margin"].as_f64().expect("a number"));
            if name == "oil" {
                assert!(part["temperature_margin_K"].as_f64().expect("a number") >= 6.0);
            } else {
                assert!(margin >= 0.12, "{name} {margin} in {}", condition["name"]);
            }
        }
    }
}

#[test]
fn what_cannot_be_sized_is_status_one_and_says_why() {
    let (folder, path) = copy_of_demo(|text| text.replace("other = \"520 cm2\"", "other = \"120 cm2\""));
    let out = folder.path().join("out");
    let (status, result) =
        json(&["size", path.to_str().expect("text"), "--into", out.to_str().expect("text"), "--json"]);
    assert_eq!(status, 1);
    assert_eq!(result["sizes"]["feasible"], false);
    assert!(!result["sizes"]["limited_by"].as_array().expect("a list").is_empty());
    let remarks = result["sizes"]["remarks"].to_string();
    assert!(remarks.contains("stops it") && remarks.contains("Pa"), "{remarks}");
}

/// Seams are what the laminator left: they do not grow with the openings that are cut.
#[test]
fn seams_keep_their_area_in_the_sized_case() {
    let (folder, path) = copy_of_demo(|text| text);
    let into = folder.path().join("out");
    let (path, into) = (path.to_str().expect("text").to_string(), into.to_str().expect("text").to_string());
    let seams = |path: &str| -> f64 {
        let (_, result) = json(&["check", path, "--json"]);
        let passages = result["conditions"][0]["passages"].as_array().expect("a list").clone();
        let seams = passages.iter().find(|p| p["name"] == "seams").expect("there").clone();
        seams["elements"][0]["area_m2"].as_f64().expect("an area")
    };
    // 6 % of 136.8 + 2 × 72 + 52 + 26.4 cm²
    let drawn = seams(&path);
    assert!((drawn - 21.55e-4).abs() < 0.05e-4, "{drawn}");
    let (status, _) = json(&["size", &path, "--into", &into, "--svg-only", "--json"]);
    assert_eq!(status, 0);
    let sized = seams(&format!("{into}/car-sized.toml"));
    assert!((sized / drawn - 1.0).abs() < 1e-4, "{sized} for {drawn}");
    // to five digits, as fitted values are written
    let text = std::fs::read_to_string(format!("{into}/car-sized.toml")).expect("written");
    let (_, share) = text.split_once("share_of_inlets = \"").expect("a share");
    let digits = share.split(' ').next().expect("a number").chars().filter(char::is_ascii_digit).count();
    assert!((2..=5).contains(&digits), "{digits} digits");
}

/// The same of the seams of the whole body, with the band that they have.
#[test]
fn seams_of_the_body_keep_their_area_and_band_in_the_sized_case() {
    // a demo whose scoop fills a shroud
    let buggy = include_str!("../../cases/stubble-buggy.toml");
    let (folder, path) =
        copy_of_demo(|_| buggy.replacen("[drive]", "[body]\nleaks = \"12 % ± 4 %\"\n\n[drive]", 1));
    let into = folder.path().join("out");
    let (path, into) = (path.to_str().expect("text").to_string(), into.to_str().expect("text").to_string());
    json(&["size", &path, "--into", &into, "--svg-only", "--plain", "--json"]);
    let sized = format!("{into}/car-sized.toml");
    let (_, before) = json(&["check", &path, "--plain", "--json"]);
    let (_, again) = json(&["check", &sized, "--json"]);
    let seams = |result: &serde_json::Value| -> f64 {
        let passages = result["conditions"][0]["passages"].as_array().expect("a list").clone();
        let all =
            passages.iter().filter(|p| p["name"].as_str().is_some_and(|name| name.starts_with("seams of")));
        all.map(|passage| passage["elements"][0]["area_m2"].as_f64().expect("an area")).sum()
    };
    let (drawn, kept) = (seams(&before), seams(&again));
    assert!(drawn > 1e-4 && (kept / drawn - 1.0).abs() < 1e-5, "{kept} for {drawn}");
    let inputs = again["doubt"]["inputs"].as_array().expect("a list");
    let leaks = inputs.iter().find(|input| input["addresses"][0] == "body/leaks").expect("a guess");
    let percent = |key: &str| -> f64 {
        leaks[key].as_str().expect("text").trim_end_matches(" %").parse().expect("a number")
    };
    // a third of the value to each side, as it was; three digits are shown
    let (value, low, high) = (percent("value"), percent("low"), percent("high"));
    assert!((value - 12.0).abs() > 0.05, "no inlet grew: {value}");
    assert!((low / value - 2.0 / 3.0).abs() < 0.02 && (high / value - 4.0 / 3.0).abs() < 0.02, "{leaks}");
    assert_eq!(leaks["stated"], true);
}

/// What goes with an opening is written with it, and nothing else.
#[test]
fn elements_that_go_with_an_opening_are_written_too() {
    let text = include_str!("../sizing/two_ducts.toml");
    let (folder, path) = copy_of_demo(|_| text.to_string());
    let path = path.to_str().expect("text");
    let (status, found) = json(&[
        "size",
        path,
        "--into",
        folder.path().to_str().expect("text"),
        "--svg-only",
        "--plain",
        "--json",
    ]);
    assert_eq!(status, 0);
    let written = fs::read_to_string(folder.path().join("car-sized.toml")).expect("written");
    let case = slowcorner::case::load(&written, &[]).expect("sound").case;
    let value = |address: &str| case.numbers.value(case.numbers.find(address).expect("a number"));
    let scaled = found["sizes"]["scaled"].as_array().expect("a list");
    assert_eq!(scaled.len(), 2);
    for each in scaled {
        let address = each["address"].as_str().expect("text");
        let (before, after) = (each["before"].as_f64().expect("m"), each["after"].as_f64().expect("m"));
        assert!((after / before - 1.0).abs() > 0.05, "hardly scaled: {before} {after}");
        // whole millimetres are what can be cut
        assert!((value(address) - after).abs() <= 1e-3 + 1e-9, "{} for {after}", value(address));
        let inlet = value(&address.replace("duct/diameter", "ram-inlet/area"));
        let kept = (value(address) / 0.087).powi(2) / (inlet / 60e-4);
        // what whole millimetres and square centimetres leave of the proportion
        assert!((kept - 1.0).abs() < 0.1, "{address}: {kept}");
    }
    let changed = |line: &&str| !text.lines().any(|other| other == *line);
    let changed: Vec<&str> = written.lines().filter(changed).collect();
    // two inlets, two ducts, the seal
    assert_eq!(changed.len(), 5, "{changed:?}");
}

/// Rounded sizes are held against every point of the sweep where that counts, and not those sought alone.
#[test]
fn rounded_sizes_keep_the_margins_along_the_sweep() {
    let at = "at = [\"hairpin\", \"following\", \"straight\"]";
    let margin = "margin = { heads = \"12 %\", barrels = \"12 %\", oil = \"6 K\" }";
    let (folder, path) = copy_of_demo(|text| {
        assert!(text.contains(at) && text.contains(margin));
        text.replace(at, "at = [\"sweep\"]").replace(margin, "margin = \"5 %\"")
    });
    let into = folder.path().to_str().expect("text").to_string();
    let arguments = ["--into", &into, "--svg-only", "--plain", "--json"];
    let (status, _) = json(&[&["size", path.to_str().expect("text")], &arguments[..]].concat());
    assert_eq!(status, 0);
    let sized = format!("{into}/car-sized.toml");
    let (_, swept) = json(&[&["sweep", &sized, "--points", "399"], &arguments[..]].concat());
    let points = swept["sweep"]["points"].as_array().expect("points");
    let parts = points.iter().flat_map(|point| point["parts"].as_object().expect("parts").values());
    let margins: Vec<f64> = parts.filter_map(|part| part["flow_margin"].as_f64()).collect();
    assert!(margins.len() >= 399);
    let least = margins.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((0.05 - 1e-9..0.06).contains(&least), "{least}");
}
