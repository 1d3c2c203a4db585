//! Cutting in steps: every step walked by itself, the trough of the demo by brute force.

use super::{copy_of_demo, demo, files_in, json, program};
use serde_json::Value;
use slowcorner::case::load;
use std::path::PathBuf;

const DEMOS: [&str; 4] = ["quarry-sprinter", "causeway-trike", "stubble-buggy", "orchard-cyclecar"];

fn path_of(case: &str) -> PathBuf {
    demo().with_file_name(format!("{case}.toml"))
}

/// What `steps` says of a demo.
fn steps_of(case: &str) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let (path, into) = (path_of(case), folder.path().to_str().expect("text").to_string());
    let (status, result) = json(&["steps", path.to_str().expect("text"), "--json", "--into", &into]);
    assert!(status == 0 || status == 1, "{case}: {status}");
    assert_eq!(files_in(folder.path()), [format!("{case}-steps.pdf")]);
    result["cutting"].clone()
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().unwrap_or_else(|| panic!("{key} in {value}"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("a number: {value}"))
}

/// `check` with a step's sizes set.
fn checked(case: &str, step: &Value) -> Value {
    let path = path_of(case);
    let mut arguments =
        vec!["check".to_string(), path.to_str().expect("text").to_string(), "--json".to_string()];
    for set in list(step, "set") {
        let text = |key: &str| set[key].as_str().expect("text").to_string();
        arguments.extend(["--set".to_string(), format!("{}={}", text("address"), text("value"))]);
    }
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let (status, result) = json(&arguments);
    assert!(status == 0 || status == 1, "{case}: {status}");
    result
}

fn condition<'v>(result: &'v Value, name: &str) -> &'v Value {
    list(result, "conditions").iter().find(|condition| condition["name"] == name).expect("the condition")
}

#[test]
fn each_step_of_each_demo_is_what_check_says_of_its_sizes() {
    let mut driven = 0;
    for case in DEMOS {
        let steps = steps_of(case);
        let loaded = load(&std::fs::read_to_string(path_of(case)).expect("text"), &[]).expect("a case").case;
        let mut before: Option<&Value> = None;
        assert_eq!(list(&steps, "steps").len(), 4, "{case}");
        for step in list(&steps, "steps") {
            let result = checked(case, step);
            let at = step["condition"].as_str().expect("a condition");
            let part = step["part"].as_str().expect("a part");
            let margin = number(
                &condition(&result, at)["parts"]
                    .as_array()
                    .expect("parts")
                    .iter()
                    .find(|known| known["name"] == part)
                    .expect("the part")["temperature_margin_K"],
            );
            assert!((margin - number(&step["least_K"])).abs() < 0.02, "{case} {}: {margin}", step["line"]);
            if let Some(drag_at) = step["drag_at"].as_str() {
                let drag = number(&condition(&result, drag_at)["cooling_drag_N"]);
                assert!((drag - number(&step["drag_N"])).abs() < 0.01, "{case} {}: {drag}", step["line"]);
            }
            // where it may be driven, a count of its own with other draws says so too
            for likely in list(step, "driven") {
                let moment = likely["moment"].as_str().expect("a name");
                if loaded.condition(moment).is_none() {
                    continue;
                }
                driven += 1;
                for part in list(condition(&result, moment), "parts") {
                    if let Some(likelihood) = part["likelihood"].as_f64() {
                        assert!(likelihood >= 0.93, "{case} {} {moment}: {likelihood}", step["line"]);
                    }
                }
            }
            if let Some(before) = before {
                let more = number(&step["open_area_m2"]) - number(&before["open_area_m2"]);
                assert!(more > 0.0 && (more - number(&step["more_area_m2"])).abs() < 1e-9, "{case}");
                for (cut, was) in list(step, "cuts").iter().zip(list(before, "cuts")) {
                    assert!(number(&cut["area_m2"]) >= number(&was["area_m2"]), "{case} {cut}");
                }
            }
            if let Some(stop) = step["stop"].as_object() {
                assert!(number(&stop["holds"]) >= 0.95 && number(&stop["share"]) >= 0.05, "{case}");
                let moments: Vec<&Value> =
                    list(step, "driven").iter().map(|likely| &likely["moment"]).collect();
                assert!(moments.contains(&&stop["moment"]), "{case}: it is read where it may be driven");
            }
            before = Some(step);
        }
    }
    assert!(driven >= 4, "{driven} conditions were looked at");
}

#[test]
fn exits_come_before_inlets() {
    for case in DEMOS {
        let steps = steps_of(case);
        let cuts = list(&list(&steps, "steps")[0], "cuts");
        let role = |name: &Value| {
            cuts.iter().find(|cut| cut["opening"] == *name).expect("it is cut")["role"].clone()
        };
        let roles: Vec<Value> = list(&steps, "order").iter().map(role).collect();
        let first_inlet = roles.iter().position(|role| role == "inlet").unwrap_or(roles.len());
        assert!(roles[first_inlet..].iter().all(|role| role == "inlet"), "{case}: {roles:?}");
        assert_eq!(roles.len(), cuts.len());
    }
}

/// Margin of a part (K) in a condition of the demo at exits of some area each, inlets as at the first line.
fn margin_at(case: &slowcorner::case::Case, inlets: &[Value], each: f64, at: &str, part: &str) -> f64 {
    use slowcorner::point::{Model, Operation, PointSolver};
    let mut case = case.clone();
    for set in inlets {
        let address = set["address"].as_str().expect("an address");
        let value: f64 = set["value"]
            .as_str()
            .expect("text")
            .split(' ')
            .next()
            .expect("a number")
            .parse()
            .expect("a number");
        let in_metres = match address.rsplit('/').next() {
            Some("area") => 1e-4 * value,
            // the leak keeps the area of the inlets as drawn, since only numbers change here
            Some("share_of_inlets") => continue,
            _ => 1e-3 * value,
        };
        let value = if address.contains("/exit/") { each } else { in_metres };
        let id = case.numbers.find(address).expect("a number");
        case.numbers.set(id, value);
    }
    let model = Model::new(&case).expect("a model");
    let index = case.condition(at).expect("the condition");
    let mut solver = PointSolver::new(&model);
    solver.prepare(&model, &Operation::of_condition(&case, &model, &case.conditions[index].values));
    solver.forget();
    solver.solve_hotter().expect("solved");
    let part = case.parts.iter().position(|known| known.name == part).expect("the part");
    solver.network.parts[part].limit - solver.state.part_temperature(part)
}

#[test]
fn every_way_of_creeping_stands_in_the_trough_and_the_steps_do_not() {
    let steps = steps_of("quarry-sprinter");
    let case = load(&std::fs::read_to_string(demo()).expect("text"), &[]).expect("a case").case;
    let trap = &list(&steps, "traps")[0];
    let (at, part) = (trap["condition"].as_str().expect("text"), trap["part"].as_str().expect("text"));
    assert_eq!((at, part), ("hairpin", "heads"));
    let first = &list(&steps, "steps")[0];
    let exit = |step: &Value| {
        number(
            &list(step, "cuts").iter().find(|cut| cut["opening"] == "left exit").expect("an exit")["area_m2"],
        )
    };
    let inlets = list(first, "set");
    let margin = |each: f64| margin_at(&case, inlets, each, at, part);
    // one exit: 100 cm² as drawn, to the first line
    let (drawn, pilot) = (100e-4, exit(first));
    let start = margin(drawn);
    let grid: Vec<(f64, f64)> = (0..=120)
        .map(|step| {
            let each = drawn + (pilot - drawn) * f64::from(step) / 120.0;
            (each, margin(each))
        })
        .collect();
    let worst = grid.iter().copied().min_by(|a, b| a.1.total_cmp(&b.1)).expect("a margin");
    let back =
        grid.iter().find(|(each, margin)| *each > worst.0 && *margin >= start).expect("it comes back").0;
    // as the steps tell it, to their own sixteenths of the way
    let sixteenth = (pilot / drawn).powf(1.0 / 16.0);
    let near = |told: &Value, found: f64| {
        let told = 0.5 * number(told);
        told / found < sixteenth && found / told < sixteenth
    };
    assert!(near(&trap["from_exits_m2"], drawn) && near(&trap["to_exits_m2"], back), "{trap} {back}");
    assert!(near(&trap["worst_exits_m2"], worst.0), "{trap} {}", worst.0);
    assert!(number(&trap["worst_K"]) >= worst.1 - 0.01 && number(&trap["worst_K"]) < start - 50.0);
    assert!((number(&trap["from_K"]) - start).abs() < 0.01);
    // every even step that is shorter than the trough stands in it at least once, worse off than before the first cut
    let mut stood = 0;
    for square_centimetres in 1..=60 {
        let step = 1e-4 * f64::from(square_centimetres);
        let stops = (1..).map(|count| drawn + step * f64::from(count)).take_while(|each| *each < pilot);
        let worse = stops.map(margin).filter(|here| *here < start).count();
        assert!(worse > 0 || step >= back - drawn, "steps of {square_centimetres} cm² pass it");
        stood += usize::from(worse > 0);
    }
    assert!(stood > 50, "{stood}");
    // and the steps themselves
    for step in list(&steps, "steps") {
        assert!(exit(step) > back, "{}", step["line"]);
        assert!(step["jumped"].is_null(), "{}", step["line"]);
    }
    assert_eq!(trap["line"], "PILOT");
}

#[test]
fn the_page_says_what_to_do_at_each_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = program()
        .args([
            "steps",
            "--detail",
            demo().to_str().expect("text"),
            "--into",
            folder.path().to_str().expect("text"),
        ])
        .output()
        .expect("runs");
    let text = String::from_utf8(output.stdout).expect("text");
    for wanted in [
        "Trap: in hairpin",
        "cut to PILOT at once",
        "1  PILOT",
        "4  NEVER BEYOND",
        "Drive",
        "Read",
        "Stop",
        "1 mm further out",
    ] {
        assert!(text.contains(wanted), "{wanted}:\n{text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 100));
}

#[test]
fn a_case_without_guesses_or_sizes_is_refused() {
    let refused = |path: &std::path::Path, code: &str| {
        let output = program().args(["steps", path.to_str().expect("text")]).output().expect("runs");
        assert_eq!(output.status.code(), Some(2));
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(told.contains(code), "{told}");
    };
    let (_folder, path) = copy_of_demo(|text| {
        let (before, rest) = text.split_once("[size]").expect("sizes");
        let (_, after) = rest.split_once("[[stint]]").expect("a stint");
        format!("{before}[[stint]]{after}")
    });
    refused(&path, "free-openings-missing");
}
