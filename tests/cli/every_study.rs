//! Every study of every case at hand, with seams, hot air, tape, a layout and a run in time: an answer or a refusal, never a
//! fault of the program.

use super::program;
use std::fs;
use std::path::Path;
use toml::Value;

/// Studies with what keeps them short.
const STUDIES: &[&[&str]] = &[
    &["check", "--detail"],
    &["check", "--everywhere"],
    &["sweep", "--points", "20", "--svg-only", "--into"],
    &["size", "--svg-only", "--into"],
    &["templates", "--into"],
    &["steps", "--draws", "64", "--into"],
    &["tape", "--draws", "64", "--into"],
    &["testcard", "--draws", "128", "--into"],
    &["exits", "--points", "5", "--svg-only", "--into"],
    &["compare", "--svg-only", "--into"],
    &["compare", "--sized", "--svg-only", "--into"],
    &["compare", "--against"],
    &["lap", "--svg-only", "--into"],
    &["why"],
    &["doubt", "--svg-only", "--into"],
    &["air", "--svg-only", "--into"],
    &["report", "--into"],
];

/// Set to run both settings of every case; without it a debug build takes them by turns.
const ALL: &str = "SLOWCORNER_TEST_ALL";

/// Every solved case, demo and starter.
fn cases() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["tests/network/solved", "cases", "src/cli/start"] {
        for entry in fs::read_dir(root.join(folder)).expect("a folder").flatten() {
            let path = entry.path();
            if path.extension().is_some_and(|ending| ending == "toml") {
                let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
                found.push((name, fs::read_to_string(&path).expect("text")));
            }
        }
    }
    found.sort();
    assert!(found.len() >= 14, "{} cases were found", found.len());
    found
}

fn members<'t>(table: &'t toml::Table, key: &str) -> Vec<&'t Value> {
    table.get(key).and_then(Value::as_array).map_or(Vec::new(), |list| list.iter().collect())
}

fn name(value: &Value) -> String {
    value["name"].as_str().expect("a name").to_string()
}

/// The case with whatever it lacks for all studies, and what is set on the command line: seams alone, then all at once.
pub fn loaded(text: &str) -> (String, [Vec<String>; 2]) {
    let table: toml::Table = text.parse().expect("a case");
    let mut more = String::new();
    let conditions: Vec<String> = members(&table, "condition").into_iter().map(name).collect();
    let passages = members(&table, "passage");
    let opening = |passage: &&&Value, kinds: &[&str]| {
        let elements = passage["element"].as_array().expect("elements");
        elements.iter().any(|element| kinds.contains(&element["kind"].as_str().expect("a kind")))
    };
    let inlets = ["ram-inlet", "wall-inlet", "flush-inlet"];
    let of =
        |kinds: &[&str]| passages.iter().find(|p| opening(p, kinds) && p["to"].as_str() != Some("engine"));
    let (inlet, exit) = (of(&inlets).map(|p| name(p)), of(&["exit"]).map(|p| name(p)));
    if !table.contains_key("size") {
        more += &format!("\n[size]\nfree = [{:?}]\n", inlet.as_ref().expect("an inlet"));
    }
    if members(&table, "stint").is_empty() {
        let step = format!("{{ condition = {:?}, time = \"20 s\" }}", conditions[0]);
        more += &format!("\n[[stint]]\nname = \"from cold\"\nstart = \"40 degC\"\nstep = [{step}]\n");
    }
    // a part without a heat capacity is no part of a run in time
    let parts = table.get("part").and_then(Value::as_table);
    let capacity = parts
        .into_iter()
        .flatten()
        .filter(|(_, part)| ["heat_capacity", "mass"].iter().all(|key| part.get(key).is_none()));
    let mut set: Vec<String> =
        capacity.map(|(part, _)| format!("part/{part}/heat_capacity=5 kJ/K")).collect();
    more += &format!(
        "\n[[layout]]\nname = \"less load\"\nset = {{ \"condition/{}/load\" = 0.4 }}\n",
        conditions[0]
    );
    set.push("body/leaks=sealed".to_string());
    let seams = set.clone();
    set.extend(["body/hot_air_at_rest=usual", "body/hot_air_moving=usual"].map(str::to_string));
    for (condition, passage) in conditions.iter().zip([inlet, exit].iter().flatten().cycle()) {
        set.push(format!("condition/{condition}/taped={{ {passage:?} = \"60 %\" }}"));
    }
    (format!("{text}{more}"), [seams, set])
}

/// Runs the studies of some commands over all cases.
fn run(commands: &[&str]) {
    let (mut answered, mut refused) = (0, Vec::new());
    let both = !cfg!(debug_assertions) || std::env::var_os(ALL).is_some();
    for (number, (case, text)) in cases().into_iter().enumerate() {
        let (text, settings) = loaded(&text);
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("car.toml");
        fs::write(&path, &text).expect("written");
        let studies = STUDIES.iter().enumerate().filter(|(_, study)| commands.contains(&study[0]));
        let runs = studies.flat_map(|(at, study)| (0..settings.len()).map(move |turn| (at, study, turn)));
        for (_, arguments, turn) in runs.filter(|(at, _, turn)| both || (number + at + turn) % 2 == 0) {
            let set = &settings[turn];
            let mut command = program();
            command.arg(arguments[0]).arg(&path).args(&arguments[1..]);
            match arguments.last() {
                Some(&"--into") => _ = command.arg(folder.path().join("out")),
                Some(&"--against") => _ = command.arg(&path),
                _ => {}
            }
            command.args(set.iter().flat_map(|pair| ["--set", pair]));
            let output = command.output().expect("runs");
            let said = String::from_utf8_lossy(&output.stderr);
            match output.status.code() {
                Some(0 | 1) => answered += 1,
                Some(2) => refused.push(format!("{case} {arguments:?}: {said}")),
                status => panic!("{case} {arguments:?} {set:?}: {status:?}, {said}"),
            }
        }
    }
    assert!(answered > 10 * refused.len(), "{answered} answered, refused were {refused:#?}");
}

#[test]
fn margins_bear_every_case() {
    run(&["check", "sweep"]);
}

#[test]
fn sizes_and_exits_bear_every_case() {
    run(&["size", "templates", "steps", "tape", "exits"]);
}

#[test]
fn layouts_and_runs_bear_every_case() {
    run(&["compare", "lap"]);
}

#[test]
fn reasons_and_pictures_bear_every_case() {
    run(&["why", "doubt", "air", "testcard"]);
}

#[test]
fn the_report_bears_every_case() {
    run(&["report"]);
}
