//! Many faults in one file: all are told in one run, in the order of the file.

use crate::diagnostics::support::{BASE, faults, faults_with, line_and_column, plain};
use slowcorner::case::FaultPlace;

/// Edits that do not stand in each other's way, each with the fault it raises.
const SPOILED: &[(&str, &str, &str)] = &[
    ("revision =", "colour = \"red\"\nrevision =", "unknown-key"),
    ("temperature = \"27 degC\"", "temperature = 27", "unit-missing"),
    ("final_drive = 4.4", "final_drive = \"4,4\"", "decimal-comma"),
    ("displacement = \"870 cm3\"\n", "", "key-missing"),
    ("brake_efficiency", "efficency", "unknown-key"),
    ("bay = \"2 %\"", "bay = \"75 %\"", "heat-shares-over-one"),
    ("limit = \"208 degC\"", "limit = \"208 Pa\"", "unit-of-another-kind"),
    ("chamber = \"bay\"", "chamber = \"bya\"", "unknown-name"),
    ("least = \"80 degC\"", "least = \"130 degC\"", "least-above-limit"),
    ("recovery = 0.9", "recovery = 9", "out-of-range"),
    ("diameter = \"124 mm\", angle = \"40 deg\"", "angle = \"40 deg\"", "size-missing"),
    ("drive_ratio = 1.5", "speed_ratio = 1.5", "unknown-key"),
    ("conductance = \"150 W/K\", ", "", "key-missing"),
    ("name = \"barrels\"", "name = \"barrels/all\"", "name-with-slash"),
    ("kind = \"diffuser\"", "kind = \"difuser\"", "unknown-kind"),
    ("\"0.62 ± 0.05\"", "\"0.62 ± -0.05\"", "spread-negative"),
    ("share_of_inlets = \"5 %\"", "discharge = 0.6", "size-missing"),
    ("rpm = \"1500 rpm\"\n", "", "gear-or-rpm"),
    ("gear = 3", "gear = 8", "gear-unknown"),
    ("to = \"140 km/h\"", "to = \"14 km/h\"", "sweep-upside-down"),
    ("drag_at = \"straight\"\n", "", "drag-at-missing"),
    ("time = \"120 s\"", "time = \"two minutes\"", "number-unreadable"),
    ("remove = [\"right exit\"]", "remove = [\"rigth exit\"]", "unknown-name"),
    ("exit/area\" = \"320 cm2\"", "exit/area\" = \"0 cm2\"", "out-of-range"),
];

#[test]
fn all_faults_in_one_run() {
    let mut text = BASE.to_string();
    let mut wanted = Vec::new();
    for (from, to, code) in SPOILED {
        assert_eq!(text.matches(*from).count(), 1, "{from:?}");
        text = text.replacen(from, to, 1);
        wanted.push(*code);
    }
    let found = faults(&text);
    let codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
    let mut sorted = codes.clone();
    sorted.sort_unstable();
    wanted.sort_unstable();
    assert_eq!(sorted, wanted, "{}", plain(&found, &text));
    // in the order of the file, each with a place and a way out
    let starts: Vec<usize> = found
        .iter()
        .map(|fault| match &fault.place {
            FaultPlace::Span(span) => span.start,
            other => panic!("{}: {other:?}", fault.code),
        })
        .collect();
    assert!(starts.windows(2).all(|pair| pair[0] <= pair[1]), "{starts:?}");
    let rendered = plain(&found, &text);
    for (fault, start) in found.iter().zip(&starts) {
        assert!(!fault.what_to_do.is_empty(), "{}", fault.code);
        let (line, column) = line_and_column(&text, *start);
        assert!(rendered.contains(&format!("car.toml, line {line}, column {column}\n")), "{}", fault.code);
    }
    assert!(rendered.ends_with(&format!("{} faults; nothing was written\n", SPOILED.len())));
    // and those of the command line after them
    let both = faults_with(&text, &[("condition/hairpin/sped", "3"), ("day/humidity", "300 %")]);
    assert_eq!(both.len(), SPOILED.len() + 2, "{}", plain(&both, &text));
}

#[test]
fn nothing_but_the_format() {
    let text = "format = 1\n";
    let codes: Vec<&str> = faults(text).iter().map(|fault| fault.code).collect();
    assert_eq!(codes, ["table-missing", "passage-missing"]);
    let text = "format = 1\n[engine.heat]\n";
    let found = faults(text);
    let codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
    assert_eq!(
        codes,
        ["passage-missing", "table-empty", "key-missing", "power-missing"],
        "{}",
        plain(&found, text)
    );
}

#[test]
fn tables_that_are_none() {
    for (text, code) in [
        ("format = 1\nday = 3", "table-wanted"),
        ("format = 1\nengine = \"strong\"", "table-wanted"),
        ("format = 1\npart = 3", "table-wanted"),
        ("format = 1\n[[part]]\nname = \"heads\"", "table-wanted"),
        ("format = 1\npart.heads = 3", "table-wanted"),
        ("format = 1\npassage = 3", "table-wanted"),
        ("format = 1\ncondition = [1, 2]", "table-wanted"),
        ("format = 1\nengine.heat = 3", "table-wanted"),
        ("format = 1\n[condition.hairpin]\nspeed = \"3 km/h\"", "list-wanted"),
        ("format = 1\n[passage.scoop]\nfrom = \"outside\"", "list-wanted"),
    ] {
        let found = faults(text);
        assert!(found.iter().any(|fault| fault.code == code), "{text}\n{}", plain(&found, text));
        assert!(found.iter().all(|fault| !fault.what_to_do.is_empty()), "{text}");
    }
}
