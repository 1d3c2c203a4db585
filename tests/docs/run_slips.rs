//! Recorded runs that are wrong, and stints that are: what is said of each on the demo case.

use slowcorner::case::{self, Warning};
use slowcorner::point::Model;
use slowcorner::study::lap::{looked_at, record};
use std::fmt::Write;

/// Files that cannot be followed: what is wrong, the file, the code of the answer.
const FILES: &[(&str, &str, &str)] = &[
    ("no line of headings", "0,36,3000\n0.5,72,4000\n", "run-column-missing"),
    (
        "headings of another language, not known",
        "Idő (s);Sebesség (km/h)\n0;36\n1;72\n",
        "run-column-missing",
    ),
    ("a speed without its unit", "Time (s),Speed,RPM\n0,36,3000\n1,72,4000\n", "run-unit"),
    ("a time without its unit", "Time,Speed (km/h)\n0,36\n1,72\n", "run-unit"),
    ("a unit of another kind", "Time (s),Speed (bar)\n0,36\n1,72\n", "run-unit"),
    ("no road speed", "Time (s),RPM\n0,3000\n1,4000\n", "run-column-missing"),
    ("two columns of one name", "time (s),speed (m/s),Speed (km/h)\n0,1,4\n1,1,4\n", "run-column-twice"),
    ("km/h under a heading of m/s", "Time (s),Speed (m/s)\n0,90\n1,170\n", "run-out-of-range"),
    ("rpm in tenths", "Time (s),Speed (km/h),RPM\n0,36,30000\n1,72,40000\n", "run-out-of-range"),
    (
        "laps one after another, each from 0 s",
        "Time (s),Speed (km/h)\n0,36\n1,40\n0,36\n1,41\n",
        "run-time-backwards",
    ),
    ("a word among the times", "Time (s),Speed (km/h)\n0,36\nLap 2,40\n2,36\n", "run-number"),
    ("a word among the speeds", "Time (s),Speed (km/h)\n0,36\n1,fast\n2,36\n", "run-number"),
    ("an empty column", "Time (s),Speed (km/h),RPM\n0,36,\n1,72,\n", "run-column-empty"),
    ("one row", "Time (s),Speed (km/h)\n0,36\n", "run-too-short"),
    ("nothing", "", "run-empty"),
    ("a page of text", "My lap.\nIt was fast.\n", "run-column-missing"),
];

/// A run of the demo car in third gear (1.31 × 4.45 on 266 mm: 58.1 rpm for 1 km/h), each figure in a row times a factor.
fn rows(factors: (f64, f64, f64)) -> String {
    let mut text = String::from("time (s),speed (km/h),rpm,load (%)\n");
    for i in 0..120 {
        let time = 0.5 * f64::from(i);
        let speed = 70.0 + 20.0 * (time / 9.0).sin();
        let load = if factors.2 == 0.0 { 60.0 } else { factors.2 * (60.0 + 10.0 * (time / 5.0).sin()) };
        let _ = writeln!(text, "{time},{:.2},{:.0},{load:.2}", factors.0 * speed, factors.1 * 58.1 * speed);
    }
    text
}

type Doubt = (&'static str, &'static str, fn() -> String, &'static str);

/// Runs that are followed and doubted: what is wrong, what the stint says beside, the file, the code of the answer.
const DOUBTS: &[Doubt] = &[
    ("rpm of the wheels", "", || rows((1.0, 1.0 / 5.83, 1.0)), "run-fits-no-gear"),
    ("miles an hour under a heading of km/h", "", || rows((0.6214, 1.0, 1.0)), "run-fits-no-gear"),
    ("metres a second, times 3.6 twice", "", || rows((3.6, 3.6, 1.0)), "run-speed-beyond-power"),
    ("a load sensor that was not there", "", || rows((1.0, 1.0, 0.0)), "run-column-constant"),
    ("loads as shares of 1 under %", "", || rows((1.0, 1.0, 0.01)), "run-load-in-shares"),
    (
        "a logger that stopped in between",
        "",
        || {
            rows((1.0, 1.0, 1.0))
                .lines()
                .enumerate()
                .filter(|(i, _)| !(40..80).contains(i))
                .fold(String::new(), |text, (_, line)| text + line + "\n")
        },
        "run-gaps",
    ),
    (
        "laps = 5 of a run that is no lap",
        "laps = 5",
        || rows((1.0, 1.0, 1.0)).lines().take(26).fold(String::new(), |text, line| text + line + "\n"),
        "laps-do-not-meet",
    ),
];

/// Stints by steps and legs: what stands in the demo, what is written in its place, the code of the answer.
const STINTS: &[(&str, &str, &str)] = &[
    ("time = \"240 s\"", "time = \"1:75\"", "number-unreadable"),
    ("time = \"240 s\"", "time = \"4\"", "unit-missing"),
    ("time = \"240 s\"", "time = \"4:00\"", ""),
    ("time = \"240 s\"", "time = \"240 s\", fans = \"of\"", "unknown-word"),
    ("time = \"240 s\"", "time = \"240 s\", fans = { heads = \"off\" }", "nothing-to-turn"),
    ("time = \"240 s\"", "time = \"240 s\", fans = { fan = \"2400\" }", "unknown-word"),
    ("time = \"240 s\"", "time = \"240 s\", fans = { fan = \"off\" }", ""),
    ("load = \"3 %\"", "load = \"3 %\"\nfans = \"1200 rpm\"", "unknown-word"),
    ("heat_capacity = \"5.6 kJ/K\"\n", "", "heat-capacity-missing"),
    (
        "name = \"hairpin\", time = \"7 s\", least_speed",
        "name = \"hairpin\", time = \"7 s\", speed_in = \"95 km/h\", least_speed",
        "laps-do-not-meet",
    ),
    ("speed_in = \"62 km/h\", top_speed", "top_speed", ""),
    (
        "highest = \"6300 rpm\"\n",
        "highest = \"6300 rpm\"\ncar = { mass = \"1600 kg\" }\n",
        "leg-beyond-power",
    ),
    (
        "name = \"climb\", time = \"8 s\", top_speed = \"112 km/h\", speed_out = \"70 km/h\"",
        "name = \"climb\", time = \"8 s\", top_speed = \"112 km/h\"",
        "leg-speed-missing",
    ),
];

/// What is said of the stints of a case: code and words of the answer with that code, or of the first fault.
fn said(text: &str, wanted: &str, run: Option<&str>) -> (String, String) {
    let case = match case::load(text, &[]) {
        Ok(loaded) => loaded.case,
        Err(faults) => {
            let first = &faults.list()[0];
            return (first.code.to_string(), format!("{}; {}", first.message, first.what_to_do));
        }
    };
    let model = Model::new(&case).unwrap_or_else(|faults| panic!("{faults}"));
    for stint in &case.stints {
        let read = |text: &str| record::read(text.as_bytes(), &record::NamedColumns::of(&stint.values));
        let record = run.map(|text| read(text).unwrap_or_else(|faults| panic!("{wanted}: {faults}")));
        let (faults, warnings) = looked_at(&case, &model, stint, record);
        if let Some(first) = faults.list().first() {
            return (first.code.to_string(), format!("{}; {}", first.message, first.what_to_do));
        }
        if let Some(Warning { code, message, .. }) =
            warnings.into_iter().find(|warning| warning.code == wanted)
        {
            return (code.to_string(), message);
        }
    }
    (String::new(), String::new())
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// The tables of the page.
pub fn tables(demo: &str) -> String {
    let mut wrong = Vec::new();
    let mut held = |what: &str, found: &(String, String), code: &str| {
        if found.0 != code {
            wrong.push(format!("{what}: {} for {code}: {}", found.0, found.1));
        }
    };
    let mut out = String::from("\n## Stints\n\n| Written | Answer |\n| --- | --- |\n");
    for (from, to, code) in STINTS {
        assert!(demo.contains(from), "{from:?} stands nowhere in the demo");
        let found = said(&demo.replacen(from, to, 1), code, None);
        held(to, &found, code);
        if !code.is_empty() {
            let written = if to.is_empty() { format!("without {}", from.trim()) } else { to.to_string() };
            let _ = writeln!(out, "| `{}` | `{code}`: {} |", cell(&written), cell(&found.1));
        }
    }
    out.push_str("\n## Recorded runs that cannot be followed\n\n| File | Answer |\n| --- | --- |\n");
    for (what, text, code) in FILES {
        let faults = record::read(text.as_bytes(), &record::NamedColumns::default()).expect_err(what);
        let first = &faults.faults.list()[0];
        let found = (first.code.to_string(), faults.in_short());
        held(what, &found, code);
        let _ = writeln!(out, "| {what} | `{code}`: {} |", cell(&found.1));
    }
    out.push_str("\n## Recorded runs that are doubted\n\n| File | Answer |\n| --- | --- |\n");
    let (head, _) = demo.split_once("[[stint]]").expect("stints stand at the end");
    let case = |beside: &str| format!("{head}\n[[stint]]\nname = \"run\"\ntrace = \"run.csv\"\n{beside}\n");
    let plain = rows((1.0, 1.0, 1.0));
    let sound = said(&case(""), "none", Some(&plain));
    held("a sound run", &sound, "");
    for (what, beside, file, code) in DOUBTS {
        let found = said(&case(beside), code, Some(&file()));
        held(what, &found, code);
        let _ = writeln!(out, "| {what} | `{code}`: {} |", cell(&found.1));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    out
}
