//! The program as its user meets it: exit statuses, files, refusals.

mod air;
mod doubt;
mod ends;
mod every_study;
mod exits;
mod help;
mod kept;
mod recorded;
mod rounded;
mod screens;
mod start;
mod templates;

use assert_cmd::Command;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("cases/quarry-sprinter.toml")
}

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_slowcorner"))
}

fn copy_of_demo(change: impl Fn(String) -> String) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("car.toml");
    fs::write(&path, change(fs::read_to_string(demo()).expect("the demo case"))).expect("written");
    (folder, path)
}

fn files_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .flatten()
        .map(|e| e.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn json(arguments: &[&str]) -> (i32, serde_json::Value) {
    let output = program().args(arguments).output().expect("runs");
    let value = serde_json::from_slice(&output.stdout).unwrap_or(serde_json::Value::Null);
    (output.status.code().unwrap_or(-1), value)
}

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

#[test]
fn sweep_writes_charts_and_numbers() {
    let (folder, path) = copy_of_demo(|text| text);
    let out = folder.path().join("out");
    let csv = folder.path().join("numbers.csv");
    let arguments = [
        "sweep",
        path.to_str().expect("text"),
        "--into",
        out.to_str().expect("text"),
        "--csv",
        csv.to_str().expect("text"),
        "--points",
        "60",
        "--json",
    ];
    let (status, result) = json(&arguments);
    assert_eq!(status, 0);
    assert_eq!(files_in(&out), ["car-margin.png", "car-margin.svg", "car-pressure.png", "car-pressure.svg"]);
    let points = result["sweep"]["points"].as_array().expect("a list");
    assert!(points.len() > 50);
    let table = fs::read_to_string(csv).expect("read");
    assert_eq!(table.lines().count(), points.len() + 1);
    for point in points {
        let sum = |key: &str| {
            point[key].as_object().expect("a table").values().filter_map(|v| v.as_f64()).sum::<f64>()
        };
        let (gives, takes) = (sum("gives_Pa"), sum("takes_Pa"));
        assert!(
            (gives - takes).abs() <= 1e-6 * gives.abs() + 1e-6,
            "the budget does not close: {gives} against {takes}"
        );
    }
    // the sawtooth: somewhere the gear changes and the engine speed falls
    assert!(points.windows(2).any(|p| p[1]["rpm"].as_f64() < p[0]["rpm"].as_f64()));
    let lowest = &result["sweep"]["lowest"]["oil"];
    let least =
        points.iter().filter_map(|p| p["parts"]["oil"]["flow_margin"].as_f64()).fold(f64::INFINITY, f64::min);
    assert_eq!(lowest["flow_margin"].as_f64(), Some(least));
}

#[test]
fn refusals_are_status_two_and_write_nothing() {
    let broken: [(&str, Vec<u8>); 6] = [
        ("empty", Vec::new()),
        ("cut off", fs::read(demo()).expect("read")[..900].to_vec()),
        ("binary", vec![0, 159, 146, 150, 7, 0, 255]),
        ("too large", vec![b'#'; (1 << 20) + 1]),
        ("no number", fs::read_to_string(demo()).expect("read").replace("\"41 km/h\"", "41").into_bytes()),
        ("negative", fs::read_to_string(demo()).expect("read").replace("52 cm2", "-52 cm2").into_bytes()),
    ];
    for (what, bytes) in broken {
        for command in ["check", "sweep", "size"] {
            let folder = tempfile::tempdir().expect("a folder");
            let path = folder.path().join("car.toml");
            fs::write(&path, &bytes).expect("written");
            let output = program().arg(command).arg(&path).output().expect("runs");
            assert_eq!(
                output.status.code(),
                Some(2),
                "{what}, {command}: {}",
                String::from_utf8_lossy(&output.stderr)
            );
            let said = String::from_utf8_lossy(&output.stderr);
            assert!(said.contains("What to do"), "{what}: {said}");
            assert!(output.stdout.is_empty(), "{what}");
            assert_eq!(files_in(folder.path()), ["car.toml"], "{what}, {command}");
        }
    }
}

#[test]
fn a_fault_shows_its_line_and_text() {
    let (_folder, path) = copy_of_demo(|text| text.replace("recovery = 0.88", "recovry = 0.88"));
    let output = program().arg("check").arg(&path).output().expect("runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        said.contains("line") && said.contains("recovry") && said.contains("did you mean recovery?"),
        "{said}"
    );
}

#[test]
fn paths_that_cannot_be_read_or_written_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let missing = folder.path().join("missing.toml");
    assert_eq!(program().arg("check").arg(&missing).output().expect("runs").status.code(), Some(2));
    assert_eq!(program().arg("check").arg(folder.path()).output().expect("runs").status.code(), Some(2));
    // a file where a folder should be
    let blocked = folder.path().join("blocked");
    fs::write(&blocked, "x").expect("written");
    let output = program().arg("size").arg(demo()).arg("--into").arg(&blocked).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("What to do"));
    // numbers into a folder that is not there: no chart is left behind either
    let out = folder.path().join("out");
    let output = program()
        .arg("sweep")
        .arg(demo())
        .arg("--into")
        .arg(&out)
        .arg("--csv")
        .arg(folder.path().join("no/such/x.csv"))
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(!out.exists() || files_in(&out).is_empty());
}

#[test]
fn the_case_is_never_written_over() {
    let (_folder, path) = copy_of_demo(|text| text);
    let before = fs::read(&path).expect("read");
    let output = program().arg("sweep").arg(&path).arg("--csv").arg(&path).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(fs::read(&path).expect("read"), before);
}

#[test]
fn set_takes_addresses_and_refuses_others() {
    let run = |set: &str| {
        program().arg("check").arg(demo()).arg("--json").arg("--set").arg(set).output().expect("runs")
    };
    let output = run("condition/hairpin/speed=50 km/h");
    let result: serde_json::Value = serde_json::from_slice(&output.stdout).expect("an object");
    let speed = result["conditions"][0]["speed_m_s"].as_f64().expect("a number");
    assert!((speed - 50.0 / 3.6).abs() < 1e-9);
    let output = run("condition/hairpn/speed=50 km/h");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("did you mean hairpin?"));
}

#[test]
fn every_command_has_help_with_an_example() {
    for command in ["check", "sweep", "size"] {
        let output = program().args([command, "--help"]).output().expect("runs");
        assert_eq!(output.status.code(), Some(0));
        let said = String::from_utf8_lossy(&output.stdout);
        assert!(
            said.contains("Example: slowcorner") && said.contains("--set") && said.contains("--json"),
            "{said}"
        );
    }
    let output = program().arg("--help").output().expect("runs");
    assert!(String::from_utf8_lossy(&output.stdout).contains("Exit status"));
    assert_eq!(program().arg("nonsense").output().expect("runs").status.code(), Some(2));
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
fn the_readme_tells_the_trap_as_it_is() {
    let readme = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("read");
    let path = demo();
    let mut rows = 0;
    for line in readme.lines().filter(|line| line.starts_with("| 2 × ") && line.contains(" °C |")) {
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
fn lap_writes_a_chart_and_the_promised_json() {
    let (folder, path) = copy_of_demo(|text| text);
    let into = folder.path().join("out");
    let csv = folder.path().join("course.csv");
    let (path, into_text, csv_text) =
        (path.to_str().expect("text"), into.to_str().expect("text"), csv.to_str().expect("text"));
    let (status, result) =
        json(&["lap", path, "--into", into_text, "--csv", csv_text, "--svg-only", "--json"]);
    assert_eq!(status, 0);
    let stints = result["stints"].as_array().expect("stints");
    let step = &stints[0]["steps"][3];
    assert_eq!(
        (&stints[0]["name"], &step["condition"]),
        (&"queue, then the hairpin".into(), &"following".into())
    );
    assert_eq!(step["until_s"].as_f64(), Some(283.0));
    for part in ["heads", "barrels", "oil"] {
        let part = &step["parts"][part];
        assert!(part["peak_C"].as_f64() >= part["temperature_C"].as_f64() && part["peak_C"].is_number());
    }
    // what the README says: no danger in one run, heads 59 K over in laps that repeat
    assert_eq!(stints[0]["parts"]["heads"]["temperature_margin_K"].as_f64().map(f64::round), Some(30.0));
    let settled = &stints[1]["repeats"]["temperature_margin_K"]["heads"];
    assert_eq!(settled.as_f64().map(f64::round), Some(-59.0));
    assert_eq!(files_in(&into), ["car-lap-queue-then-the-hairpin.svg", "car-lap-twelve-laps.svg"]);
    assert!(fs::read_to_string(csv).expect("written").lines().count() > 500);
}

#[test]
fn lap_refuses_a_run_it_cannot_read_and_writes_nothing() {
    let stint = |run: &str| format!("\n[[stint]]\nname = \"r\"\nstart = \"90 degC\"\ntrace = \"{run}\"\n");
    let (folder, path) = copy_of_demo(|text| text + &stint("run.csv"));
    let into = folder.path().join("out");
    let lap = || {
        let output = program().arg("lap").arg(&path).arg("--into").arg(&into).output().expect("runs");
        (output.status.code(), String::from_utf8_lossy(&output.stderr).into_owned())
    };
    let (status, told) = lap();
    assert!(
        status == Some(2) && told.contains("run.csv: cannot be read") && told.contains("What to do:"),
        "{told}"
    );
    for (rows, words) in [
        ("time (s),speed (km/h)\n0,40\n1,x\n", "\"x\" is no number (column 2, speed)"),
        ("time (s),speed (km/h)\n1,40\n0,40\n", "time runs backwards: 0 s after 1 s"),
        ("time (s)\n1\n", "no column speed"),
        ("time (s),speed (km/h)\n1,40\n", "is one"),
    ] {
        fs::write(folder.path().join("run.csv"), rows).expect("written");
        let (status, told) = lap();
        assert!(status == Some(2) && told.contains(words), "{rows:?}: {told}");
        assert!(!into.exists() || files_in(&into).is_empty());
    }
}

#[test]
fn lap_needs_stints_and_heat_capacities() {
    let (_folder, path) = copy_of_demo(|text| text.split("[[stint]]").next().expect("the car").to_string());
    let output = program().arg("lap").arg(&path).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("has no [[stint]]"));
    let without = |text: String| {
        text.lines().filter(|l| !l.starts_with("heat_capacity")).collect::<Vec<_>>().join("\n")
    };
    let (_folder, path) = copy_of_demo(without);
    let output = program().arg("lap").arg(&path).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.code() == Some(2) && told.matches("heat-capacity-missing").count() == 3, "{told}");
}

#[test]
fn every_demo_case_can_be_checked_swept_sized_and_run() {
    let cases = Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let names: Vec<String> = files_in(&cases).into_iter().filter(|name| name.ends_with(".toml")).collect();
    assert!(names.len() >= 3, "{names:?}");
    for name in names {
        let out = tempfile::tempdir().expect("a folder");
        for command in ["check", "sweep", "size", "lap"] {
            let mut run = program();
            run.arg(command).arg(cases.join(&name));
            if command != "check" {
                run.arg("--into").arg(out.path());
            }
            if matches!(command, "sweep" | "lap") {
                run.arg("--svg-only");
            }
            let output = run.output().expect("runs");
            let told = String::from_utf8_lossy(&output.stderr).into_owned();
            let status = output.status.code();
            assert!(
                status == Some(0) || (command == "check" && status == Some(1)),
                "{command} {name}: {told}"
            );
        }
    }
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
fn layouts_are_compared_with_charts_of_all() {
    let path = demo();
    let path = path.to_str().expect("text");
    let folder = tempfile::tempdir().expect("a folder");
    let into = folder.path().to_str().expect("text");
    let (status, result) = json(&["compare", path, "--json", "--into", into]);
    assert_eq!(status, 0);
    assert_eq!(
        files_in(folder.path()),
        [
            "quarry-sprinter-compare-parts.png",
            "quarry-sprinter-compare-parts.svg",
            "quarry-sprinter-compare.png",
            "quarry-sprinter-compare.svg",
        ]
    );
    let svg = fs::read_to_string(folder.path().join("quarry-sprinter-compare.svg")).expect("written");
    assert!(svg.contains("cooler with its own exit") && svg.contains("base"));
    let layouts = result["compare"].as_array().expect("a list");
    assert_eq!(layouts.len(), 2);
    for key in [
        "layout",
        "base",
        "differs",
        "conditions",
        "worst",
        "kept",
        "opening_area_in_m2",
        "opening_area_out_m2",
        "openings",
        "traps",
    ] {
        assert!(!layouts[1][key].is_null(), "{key} is missing");
    }
    for key in [
        "name",
        "speed_m_s",
        "parts",
        "chambers",
        "velocity_ratios",
        "cooling_drag_N",
        "cooling_power_W",
        "fan_power_W",
    ] {
        assert!(!layouts[1]["conditions"][0][key].is_null(), "{key} is missing");
    }
    assert_eq!(layouts[1]["differs"][0]["address"], "passage/oil cooler/to");
    for key in ["order", "best", "best_because", "worst", "worst_because", "counts", "decided_by"] {
        assert!(!result["ranking"][key].is_null(), "{key} is missing");
    }
    for key in ["format", "case_sha256", "program", "defaults"] {
        assert!(!result[key].is_null(), "{key} is missing");
    }
}

#[test]
fn a_comparison_of_nothing_is_refused_with_a_way_out() {
    let (folder, path) = copy_of_demo(|text| {
        let (text, _) = text.split_once("[[layout]]").expect("a layout");
        text.to_string()
    });
    let output = program().args(["compare", path.to_str().expect("text")]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("no [[layout]]") && told.contains("What to do:"), "{told}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);

    let (folder, path) = copy_of_demo(|text| {
        let (begin, rest) = text.split_once("[size]").expect("a size");
        format!("{begin}[[stint]]{}", rest.split_once("[[stint]]").expect("a stint").1)
    });
    let output = program().args(["compare", path.to_str().expect("text"), "--sized"]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("no [size]") && told.contains("What to do:"), "{told}");
    assert_eq!(files_in(folder.path()), ["car.toml"]);
}

#[test]
fn what_changed_since_an_older_case_is_told() {
    let (_folder, newer) = copy_of_demo(|text| {
        text.replace("pressure_coefficient = -0.15", "pressure_coefficient = -0.05")
            .replace("body state 3", "body state 4")
    });
    let (newer, old) = (newer.to_str().expect("text").to_string(), demo());
    let old = old.to_str().expect("text");
    let (status, result) = json(&["compare", &newer, "--against", old, "--json"]);
    assert_eq!(status, 0);
    let changes = &result["changes"];
    assert_eq!(changes["differs"].as_array().map(Vec::len), Some(1));
    assert_eq!(changes["differs"][0]["address"], "place/tail/pressure_coefficient");
    for key in [
        "part",
        "condition",
        "temperature_margin_before_K",
        "temperature_margin_after_K",
        "moved_K",
        "because",
        "together_K",
    ] {
        assert!(!changes["margins"][0][key].is_null(), "{key} is missing");
    }
    for key in ["passage", "role", "pieces", "before_m2", "drawn_m2", "fate"] {
        assert!(!changes["openings"][0][key].is_null(), "{key} is missing");
    }
    assert_eq!(result["against"]["revision"], "body state 3");
    let output = program().args(["compare", &newer, "--against", old]).output().expect("runs");
    let told = String::from_utf8_lossy(&output.stdout);
    assert!(told.contains("Since body state 3") && told.contains("place/tail"), "{told}");
    // an older case that cannot be read is refused by its own name
    let output = program().args(["compare", &newer, "--against", "no such.toml"]).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("no such.toml"));
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
    assert!((sized / drawn - 1.0).abs() < 1e-5, "{sized} for {drawn}");
}
