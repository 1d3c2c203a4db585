//! Check: exit status, JSON, words.

use crate::cli::{copy_of_demo, demo, json, program};
use std::fs;
use std::path::Path;

#[test]
fn a_missed_margin_is_status_one_and_a_met_one_zero() {
    let path = demo();
    let path = path.to_str().expect("text");
    let (status, result) = json(&["check", path, "--json"]);
    assert_eq!(status, 1, "as first drawn the exits are too small");
    assert_eq!(result["conditions"].as_array().map(Vec::len), Some(4));
    let wide = [
        "check",
        path,
        "--json",
        "--set",
        "passage/oil cooler/ram-inlet/area=95 cm2",
        "--set",
        "passage/left exit/exit/area=320 cm2",
        "--set",
        "passage/right exit/exit/area=320 cm2",
        "--set",
        "condition/queue/load=1 %",
    ];
    let (status, result) = json(&wide);
    assert_eq!(status, 0, "{}", result["worst"]);
    assert_eq!(result["set"].as_array().map(Vec::len), Some(4));
}

#[test]
fn json_holds_what_readers_rely_on() {
    let path = demo();
    let (_, result) = json(&["check", path.to_str().expect("text"), "--json"]);
    for key in [
        "format",
        "title",
        "revision",
        "case_sha256",
        "program",
        "warnings",
        "defaults",
        "conditions",
        "worst",
    ] {
        assert!(!result[key].is_null(), "{key} is missing");
    }
    assert_eq!(result["case_sha256"].as_str().map(str::len), Some(64));
    let condition = &result["conditions"][0];
    for key in [
        "name",
        "speed_m_s",
        "rpm",
        "load",
        "dynamic_pressure_Pa",
        "air_density_kg_m3",
        "air_fuel_ratio",
        "brake_power_W",
        "fuel_power_W",
        "heat_to",
        "passages",
        "chambers",
        "parts",
        "carburettor",
        "cooling_drag_N",
        "cooling_drag_area_m2",
        "cooling_power_W",
        "fan_power_W",
        "residual",
    ] {
        assert!(!condition[key].is_null(), "{key} is missing");
    }
    for key in [
        "name",
        "from",
        "to",
        "count",
        "mass_flow_kg_s",
        "reversed",
        "outlet_temperature_C",
        "elements",
        "last_velocity_head_Pa",
    ] {
        assert!(!condition["passages"][0][key].is_null(), "{key} is missing");
    }
    for key in ["kind", "area_m2", "velocity_m_s", "loss_Pa", "push_Pa", "outlet_temperature_C"] {
        assert!(!condition["passages"][0]["elements"][0][key].is_null(), "{key} is missing");
    }
    for key in [
        "name",
        "temperature_C",
        "limit_C",
        "temperature_margin_K",
        "flow_margin",
        "margin_is",
        "required_flow_kg_s",
        "flow_kg_s",
        "below_least",
    ] {
        assert!(!condition["parts"][0][key].is_null(), "{key} is missing");
    }
    assert!(condition["residual"].as_f64().expect("a number") <= 1e-9);
    let reversed = condition["passages"].as_array().expect("a list").iter().any(|p| p["reversed"] == true);
    assert!(reversed, "the trap of the demo case is gone");
    for default in result["defaults"].as_array().expect("a list") {
        for key in ["key", "value", "low", "high", "source"] {
            assert!(default[key].is_string(), "{default}");
        }
    }
}

#[test]
fn text_says_kelvin_first_and_reversal_in_words() {
    let output = program().args(["check", "--detail"]).arg(demo()).output().expect("runs");
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("hot bay air flows back") || said.contains("flows back through"), "{said}");
    assert!(said.contains(" K "), "{said}");
    assert!(said.contains("does not replace"), "the caution is missing");
}

#[test]
fn the_page_of_the_trap_tells_it_as_it_is() {
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/trap.md")).expect("read");
    let path = demo();
    let mut rows = 0;
    for line in page.lines().filter(|line| line.starts_with("| 2 × ") && line.contains(" °C")) {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let number = |text: &str| text.split_whitespace().find_map(|word| word.parse::<f64>().ok());
        let area = cells[1].trim_start_matches("2 × ");
        let told = number(cells[2]).expect("a temperature");
        if line.contains("as sized") {
            continue;
        }
        let exit = |side: &str| format!("passage/{side} exit/exit/area={}", area.replace("cm²", "cm2"));
        let (left, right) = (exit("left"), exit("right"));
        let (_, result) =
            json(&["check", path.to_str().expect("text"), "--json", "--set", &left, "--set", &right]);
        let parts = result["conditions"][0]["parts"].as_array().expect("a list");
        let oil = parts.iter().find(|part| part["name"] == "oil").expect("the oil");
        let found = oil["temperature_C"].as_f64().expect("a number");
        assert!((found - told).abs() < 0.51, "{line}: found {found:.1}");
        rows += 1;
    }
    assert_eq!(rows, 3);
}

#[test]
fn the_worst_point_of_each_part_is_found_wherever_it_lies() {
    let path = demo();
    let path = path.to_str().expect("text");
    let (status, result) = json(&["check", path, "--everywhere", "--json"]);
    assert_eq!(status, 1);
    let points = result["everywhere"].as_array().expect("a list");
    assert_eq!(points.len(), 3);
    for point in points {
        for key in ["part", "speed_m_s", "gear", "rpm", "load", "clear_air", "temperature_margin_K"] {
            assert!(!point[key].is_null(), "{key} is missing");
        }
        let worst = &result["worst"][point["part"].as_str().expect("a name")];
        let kelvin = |value: &serde_json::Value| value["temperature_margin_K"].as_f64().expect("a number");
        let hottest = if point["fewest_kelvins"].is_null() { point } else { &point["fewest_kelvins"] };
        assert!(kelvin(hottest) <= kelvin(worst), "a condition of the case is worse than {point}");
    }
    assert!(points[0].get("flow_margin").is_some_and(serde_json::Value::is_null), "no air would do");
    assert_eq!(result["everywhere_within"]["gears"].as_array().map(Vec::len), Some(4));

    // met in every condition, and missed elsewhere
    let held =
        ["check", path, "--json", "--set", "condition/hairpin/load=5 %", "--set", "condition/queue/load=1 %"];
    let wide =
        ["--set", "passage/left exit/exit/area=320 cm2", "--set", "passage/right exit/exit/area=320 cm2"];
    let (status, _) = json(&[&held[..], &wide].concat());
    assert_eq!(status, 0);
    let (status, _) = json(&[&held[..], &wide, &["--everywhere"]].concat());
    assert_eq!(status, 1);
}

#[test]
fn a_case_without_gears_has_no_speeds_to_search() {
    let cut = |text: &str, from: &str, to: &str| {
        let (begin, rest) = text.split_once(from).expect(from);
        format!("{begin}{to}{}", rest.split_once(to).expect(to).1)
    };
    let (_folder, path) = copy_of_demo(|text| {
        let text = cut(&text, "[drive]", "[engine]");
        let text = cut(&text, "[sweep]", "[size]");
        let text = cut(&text, "# The lap by stopwatch", "[[layout]]");
        let text = text.replace("gear = 1", "rpm = \"5000 rpm\"").replace("gear = 2", "rpm = \"5000 rpm\"");
        text.replace("gear = 4", "rpm = \"5900 rpm\"")
    });
    let path = path.to_str().expect("text");
    assert_eq!(program().args(["check", path]).output().expect("runs").status.code(), Some(1));
    let output = program().args(["check", path, "--everywhere"]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("no [drive]") && told.contains("What to do:"), "{told}");
    assert!(output.stdout.is_empty());
}

#[test]
fn a_limit_typed_for_air_is_held_to_on_the_first_screen() {
    let path = demo();
    let path = path.to_str().expect("text");
    let folder = tempfile::tempdir().expect("a folder");
    let told = |command: &str, limit: &str| {
        let mut run = program();
        run.args([
            command,
            path,
            "--plain",
            "--set",
            limit,
            "--set",
            "chamber/bay/limit_for=resin of the tail",
        ]);
        if command == "lap" {
            run.args(["--svg-only", "--into"]).arg(folder.path());
        }
        let out = String::from_utf8_lossy(&run.output().expect("runs").stdout).into_owned();
        assert!(out.lines().count() <= 40, "{out}");
        out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let (low, high) = ("chamber/bay/limit=75 degC", "chamber/bay/limit=400 degC");
    let check = told("check", low);
    assert!(
        check.contains("The air in bay reaches ")
            && check.contains("over the limit of resin of the tail, 75 °C (worst in straight)."),
        "{check}"
    );
    assert!(!told("check", high).contains("The air in bay reaches"));
    let lap = told("lap", low);
    assert!(
        lap.contains("Air in bay: at most ") && lap.contains("over the 75 °C of resin of the tail for "),
        "{lap}"
    );
    assert!(!told("lap", high).contains("Air in bay"));
}
