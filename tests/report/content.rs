//! What stands in the report, against the other commands and against the case.

use super::{by_id, demo, json, parse, report_of, report_of_changed, text_of};
use serde_json::Value;

fn case() -> String {
    demo("quarry-sprinter").to_str().expect("text").to_string()
}

#[test]
fn the_first_sheet_says_what_size_says() {
    let folder = tempfile::tempdir().expect("a folder");
    let sized =
        json(&["size", &case(), "--json", "--svg-only", "--into", folder.path().to_str().expect("text")]);
    let page = report_of(&demo("quarry-sprinter"), &[]);
    let document = parse(&page);
    let sheet = text_of(by_id(&document, "sheet"));
    let openings = sized["sizes"]["openings"].as_array().expect("openings");
    assert_eq!(openings.len(), 4);
    for opening in openings {
        let area = opening["after_m2"].as_f64().expect("an area") * 1e4;
        let said = format!("{} × {area:.0} cm²", opening["pieces"]);
        assert!(sheet.contains(&said), "{said} in {sheet}");
    }
    // 82 × 41 mm is what docs/trap.md says of the heads' openings
    for words in [
        "82 × 41 mm",
        "left and right of the roll bar, 380 mm above ground",
        "25 to 140 cm²",
        "rounded",
        "body state 3",
        "2026-11-25",
    ] {
        assert!(sheet.contains(words), "{words} in {sheet}");
    }
    let sum = sized["case_sha256"].as_str().expect("a sum");
    assert!(sheet.contains(&sum[..12]));
    for words in [
        "held there by",
        "10 % smaller costs",
        "temperature gauges",
        "sporting rules",
        "respirator",
        "carbon monoxide",
    ] {
        assert!(sheet.contains(words), "{words} in {sheet}");
    }
}

#[test]
fn the_request_sheet_asks_for_area_and_pressure() {
    let page = report_of(&demo("quarry-sprinter"), &[]);
    let document = parse(&page);
    let sheet = text_of(by_id(&document, "request"));
    for words in [
        "pressure coefficient at −0.15 or below",
        "recovery at 0.88 or above",
        "flow picture of body state 2",
        "300 cm²",
        "each 0.05 worse costs",
    ] {
        assert!(sheet.contains(words), "{words} in {sheet}");
    }
    // what the case does not say is asked for
    let wall = document
        .descendants()
        .filter(|n| n.attribute("aria-label") == Some("to be filled in: source of the present figure"));
    assert_eq!(wall.count(), 1, "the fan's inlet has no place");
}

#[test]
fn the_scrutineers_sheet_tells_no_margins() {
    for name in super::DEMOS {
        let page = report_of(&demo(name), &[]);
        let document = parse(&page);
        let sheet = text_of(by_id(&document, "scrutineer"));
        let small = sheet.to_lowercase();
        for word in ["margin", "limit", "more air", " k ", "worst", "legal"] {
            assert!(!small.contains(word), "{name}: {word:?} in {sheet}");
        }
        for words in [
            "Check your rule book",
            "Bulkhead",
            "Drains",
            "Low vent",
            "Fuel cut-off",
            "Extinguisher",
            "air that leaves",
            "air beside its panels",
        ] {
            assert!(sheet.contains(words), "{name}: {words} in {sheet}");
        }
    }
}

/// Of a passage that is open at both ends the sheet tells the end that the air leaves by.
#[test]
fn hot_air_is_told_where_it_leaves() {
    let page = report_of_changed(|text| {
        let (before, cooler) = text.split_once("name = \"oil cooler\"").expect("the cooler's passage");
        let cooler = cooler.replacen("to = \"bay\"", "to = \"outside\"", 1).replacen(
            "\n]",
            "\n  { kind = \"step\" },\n  { kind = \"exit\", area = \"150 cm2\", place = \"tail\", discharge = 0.7 },\n]",
            1,
        );
        format!("{before}name = \"oil cooler\"{cooler}")
    });
    let document = parse(&page);
    let sheet = text_of(by_id(&document, "scrutineer"));
    let told: Vec<&str> = sheet.split("air that leaves; ").skip(1).collect();
    assert_eq!(told.len(), 3, "two exits of the bay and one of the cooler: {sheet}");
    for place in told {
        assert!(place.starts_with("tail panel, both sides of the number"), "{place}");
    }
}

#[test]
fn missing_words_are_left_to_be_written_in() {
    let page = report_of_changed(|text| {
        let keep = |line: &&str| {
            !line.starts_with("revision") && !line.starts_with("date") && !line.starts_with("title")
        };
        text.lines().filter(keep).collect::<Vec<_>>().join("\n")
    });
    let document = parse(&page);
    let sheet = by_id(&document, "sheet");
    for what in ["revision", "date"] {
        let label = format!("to be filled in: {what}");
        assert!(sheet.descendants().any(|node| node.attribute("aria-label") == Some(&label)), "{what}");
    }
    assert!(text_of(sheet).contains("Case without a title"));
}

/// Whatever is written in the case stays text (OWASP's rule for HTML: escape & < > and both quotes).
#[test]
fn text_of_the_case_is_escaped() {
    let nasty = r#"</title><script>alert(1)</script> & \"x\" 'y' <b>"#;
    let page = report_of_changed(|text| {
        text.replace("Quarry sprinter: a fan-fed bay against its own inlets", nasty)
            .replace("tail panel, both sides of the number", nasty)
            .replace("plug washer, exhaust side", nasty)
            .replace("name = \"hairpin\"", "name = \"<i>hairpin & co\"")
            .replace("condition = \"hairpin\"", "condition = \"<i>hairpin & co\"")
            .replace("\"hairpin\", \"following\"", "\"<i>hairpin & co\", \"following\"")
    });
    let document = parse(&page);
    assert!(!document.descendants().any(|node| ["script", "b", "i"].contains(&node.tag_name().name())));
    let shown = nasty.replace("\\\"", "\"");
    assert_eq!(text_of(by_id(&document, "title")), shown.split_whitespace().collect::<Vec<_>>().join(" "));
    assert!(text_of(by_id(&document, "sheet")).contains("<i>hairpin & co"));
}

#[test]
fn what_cannot_be_run_is_told_and_the_rest_is_there() {
    let cut = |text: String, table: &str| -> String {
        let mut inside = false;
        let lines = text.lines().filter(|line| {
            if line.starts_with('[') {
                inside = line.trim_matches(['[', ']']).starts_with(table);
            }
            !inside
        });
        lines.collect::<Vec<_>>().join("\n")
    };
    let page = report_of_changed(|text| {
        let text = ["drive", "sweep", "size", "stint"].into_iter().fold(text, cut);
        // without gears the conditions say their engine speed
        text.replace("gear = 1", "rpm = \"5000 rpm\"")
            .replace("gear = 2", "rpm = \"6000 rpm\"")
            .replace("gear = 4", "rpm = \"6200 rpm\"")
    });
    let document = parse(&page);
    let left_out = text_of(by_id(&document, "left-out"));
    for words in ["no [drive]", "no [size]", "no [[stint]]"] {
        assert!(left_out.contains(words), "{words} in {left_out}");
    }
    assert!(text_of(by_id(&document, "sheet")).contains("Openings as drawn"));
    assert!(
        by_id(&document, "charts").descendants().filter(|node| node.tag_name().name() == "svg").count() == 4,
        "the air of each condition"
    );
}

#[test]
fn a_recorded_run_that_is_not_there_is_told() {
    let page = report_of_changed(|text| text + "\n[[stint]]\nname = \"recorded\"\ntrace = \"nowhere.csv\"\n");
    let document = parse(&page);
    let left_out = text_of(by_id(&document, "left-out"));
    assert!(left_out.contains("Run in time recorded") && left_out.contains("nowhere.csv"), "{left_out}");
    assert!(text_of(by_id(&document, "time")).contains("Twelve laps"));
}

/// The least margin over conditions, by hand from `check`.
fn least(arguments: &[&str], counted: &[&str]) -> f64 {
    let result = json(arguments);
    let conditions = result["conditions"].as_array().expect("conditions");
    let named = conditions.iter().filter(|c| c["name"].as_str().is_some_and(|name| counted.contains(&name)));
    named
        .flat_map(|c| c["parts"].as_array().cloned().unwrap_or_default())
        .filter_map(|part| part["temperature_margin_K"].as_f64())
        .fold(f64::INFINITY, f64::min)
}

/// The study of what decides against `check --set`, which reads each changed value from text: another way through the program.
#[test]
fn what_decides_is_what_check_finds_with_the_value_set() {
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let all = json(&["report", &case(), "--json", "--into", into]);
    json(&["size", &case(), "--json", "--svg-only", "--into", into]);
    let sized = folder.path().join("quarry-sprinter-sized.toml");
    let sized = sized.to_str().expect("text");
    // the sized case holds whole millimetres and square centimetres; here the sizes as found are needed
    let mut exact = Vec::new();
    for opening in all["sizes"]["openings"].as_array().expect("a list") {
        let element = if opening["role"] == "exit" { "exit" } else { "ram-inlet" };
        let address = format!("passage/{}/{element}", opening["name"].as_str().expect("a name"));
        let lengths = opening["lengths_m"].as_object().expect("lengths");
        for (key, length) in lengths {
            exact.push(format!("{address}/{key}={} m", length.as_f64().expect("a length")));
        }
        if lengths.is_empty() {
            exact.push(format!("{address}/area={} m2", opening["after_m2"].as_f64().expect("an area")));
        }
    }
    let exact: Vec<&str> = exact.iter().flat_map(|set| ["--set", set]).collect();
    let deciding = &all["deciding"];
    let counted = ["hairpin", "following", "straight"];
    assert_eq!(deciding["at"], serde_json::json!(counted));
    let margin = |least: &Value| least["temperature_margin_K"].as_f64();
    let now = margin(&deciding["least"]).expect("a margin");
    let same =
        |found: f64, told: f64, what: &str| assert!((found - told).abs() < 0.1, "{what}: {found} {told}");
    same(least(&[&["check", sized, "--json"][..], &exact].concat(), &counted), now, "as it is");
    let assumptions = deciding["assumptions"].as_array().expect("a list");
    assert!(assumptions.len() > 20);
    let mut before = f64::INFINITY;
    let mut squares = 0.0;
    for each in assumptions {
        let falls = each["falls_K"].as_f64().expect("a number");
        assert!(falls <= before, "the heaviest comes first");
        before = falls;
        squares += falls * falls;
    }
    let together = deciding["together_falls_K"].as_f64().expect("a number");
    assert!((together - squares.sqrt()).abs() < 1e-6);
    for each in assumptions.iter().take(6) {
        let key = each["key"].as_str().expect("an address");
        for (end, least_there) in [("low", &each["at_low"]), ("high", &each["at_high"])] {
            let set = format!("{key}={}", each[end].as_str().expect("a value"));
            let found = least(&[&["check", sized, "--json", "--set", &set][..], &exact].concat(), &counted);
            same(found, margin(least_there).expect("a margin"), &set);
        }
    }
}

#[test]
fn what_settles_an_argument_stands_in_it() {
    let case = demo("stubble-buggy");
    let text = std::fs::read_to_string(&case).expect("the demo case");
    let folder = tempfile::tempdir().expect("a folder");
    let old = folder.path().join("first-tail.toml");
    let (now, before) = ("width = \"300 mm\", height = \"80 mm\"", "width = \"260 mm\", height = \"70 mm\"");
    assert_eq!(text.matches(now).count(), 1);
    std::fs::write(&old, text.replace(now, before)).expect("written");
    let page = report_of(&case, &["--against", old.to_str().expect("text")]);
    let document = parse(&page);
    let path = case.to_str().expect("text");

    // the areas of the page are those of the command itself, looked at more closely there
    let exits =
        json(&["exits", path, "--json", "--into", folder.path().to_str().expect("text"), "--svg-only"]);
    let safe = exits["exits"]["smallest_safe_m2"].as_f64().expect("a safe size") * 1e4;
    let told = text_of(by_id(&document, "exits"));
    let shown =
        told.split("smallest that will do ").nth(1).and_then(|rest| rest.split(' ').next()).expect("an area");
    let shown: f64 = shown.parse().expect("an area");
    assert!((shown / safe - 1.0).abs() < 0.01, "{shown} for {safe}");
    assert!(told.contains("If one exit fails"), "{told}");

    let layouts = text_of(by_id(&document, "layouts"));
    let table: toml::Table = text.parse().expect("TOML");
    for layout in table["layout"].as_array().expect("layouts") {
        assert!(layouts.contains(layout["name"].as_str().expect("a name")), "{layouts}");
    }

    let changed = text_of(by_id(&document, "changed"));
    assert!(
        changed.contains("300 mm") && changed.contains("260 mm") && changed.contains("vent out"),
        "{changed}"
    );
}
