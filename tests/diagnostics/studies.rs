//! What is asked of a case: conditions, the sweep, sizes, stints.

use crate::diagnostics::support::{
    BASE, edit, edited, faults, faults_with, hold, number, plain, sole, underlined,
};

#[test]
fn conditions() {
    hold(
        "conditions",
        &[
            edit(
                "[[condition]]\nname = \"straight\"\nspeed = \"130 km/h\"\ngear = 3",
                "[[condition]]\nname = \"straight\"\nspeed = \"130 km/h\"",
                "gear-or-rpm",
                "[[condition]]",
                "condition/straight says neither",
            ),
            edit("gear = 3", "gear = 3\nrpm = \"5000 rpm\"", "said-twice", r#""5000 rpm""#, "gear and rpm"),
            edit(
                "gear = 3",
                "gear = 4",
                "gear-unknown",
                "4",
                "condition/straight is in gear 4, and the drive has 3",
            ),
            edit(
                "speed = \"130 km/h\"\ngear = 3",
                "speed = \"0 km/h\"\ngear = 3",
                "standing-in-gear",
                "3",
                "condition/straight stands still in gear 3",
            ),
            edit(
                r#"taped = { "oil cooler" = "20 %" }"#,
                r#"taped = { "seams" = "21 %" }"#,
                "nothing-to-tape",
                r#""21 %""#,
                r#""seams" has neither an inlet nor an exit to tape"#,
            ),
            edit(
                r#"day = { temperature = "33 degC" }"#,
                r#"day = { altitude = "900 m", pressure = "900 hPa" }"#,
                "said-twice",
                r#""900 hPa""#,
                "altitude and pressure",
            ),
            edit(
                r#"altitude = "240 m""#,
                "altitude = \"240 m\"\npressure = \"960 hPa\"",
                "said-twice",
                r#""960 hPa""#,
                "altitude and pressure",
            ),
        ],
    );
}

#[test]
fn sweep_and_stints() {
    hold(
        "sweep_and_stints",
        &[
            edit(
                r#"to = "140 km/h""#,
                r#"to = "20 km/h""#,
                "sweep-upside-down",
                r#""20 km/h""#,
                "from 25 km/h to 20 km/h",
            ),
            edit(
                r#"step = [{ condition = "queue", time = "120 s" }, { condition = "hairpin", time = "8 s" }]"#,
                "step = []",
                "stint-empty",
                "[]",
                "stint/queue and climb has no steps",
            ),
            edit(
                r#"step = [{ condition = "queue", time = "120 s" }, { condition = "hairpin", time = "8 s" }]"#,
                "",
                "stint-empty",
                "[[stint]]",
                "stint/queue and climb has no steps",
            ),
            edit(
                r#"start = { heads = "90 degC","#,
                "trace = \"run.csv\"\nstart = { heads = \"90 degC\",",
                "said-twice",
                r#"[{ condition = "queue", time = "120 s" }, { condition = "hairpin", time = "8 s" }]"#,
                "trace and step",
            ),
            edit(
                r#"barrels = "80 degC", oil"#,
                r#"barrel = "80 degC", oil"#,
                "unknown-name",
                "barrel",
                r#"no part is called "barrel""#,
            ),
        ],
    );
}

#[test]
fn sizes() {
    hold(
        "sizes",
        &[
            edit(
                r#"free = ["oil cooler", ["left exit", "right exit"]]"#,
                "free = []",
                "free-empty",
                "[]",
                "nothing that may change",
            ),
            edit(
                r#"["left exit", "right exit"]]"#,
                "[]]",
                "free-empty",
                r#"["oil cooler", []]"#,
                "nothing that may change",
            ),
            edit(
                r#"free = ["oil cooler","#,
                r#"free = ["heads", "oil cooler","#,
                "nothing-to-size",
                r#"["heads", "oil cooler", ["left exit", "right exit"]]"#,
                r#""heads" has neither an inlet nor an exit"#,
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = ["oil cooler", "left exit", ["#,
                "free-twice",
                r#"["oil cooler", "left exit", ["left exit", "right exit"]]"#,
                r#"exit of "left exit" is free twice"#,
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = ["oil cooler", { passage = "oil cooler", element = "ram-inlet" }, ["#,
                "free-twice",
                r#"["oil cooler", { passage = "oil cooler", element = "ram-inlet" }, ["left exit", "right exit"]]"#,
                r#"ram-inlet of "oil cooler" is free twice"#,
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = [{ passage = "oil cooler", element = "core" }, ["#,
                "not-an-opening",
                r#"[{ passage = "oil cooler", element = "core" }, ["left exit", "right exit"]]"#,
                r#"has an element "core""#,
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = [{ passage = "oil cooler", element = "ram-inlt" }, ["#,
                "unknown-name",
                r#"[{ passage = "oil cooler", element = "ram-inlt" }, ["left exit", "right exit"]]"#,
                r#""oil cooler" has no element "ram-inlt""#,
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = [{ passage = "oil cooler", elment = "ram-inlet" }, ["#,
                "unknown-key",
                "elment",
                "no key elment",
            ),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = [{ element = "ram-inlet" }, ["#,
                "opening-unnamed",
                r#"{ element = "ram-inlet" }"#,
                "names its passage",
            ),
            edit(
                r#"most_area = "500 cm2""#,
                r#"most_area = { "oil cooler" = "15 cm2" }"#,
                "least-above-most",
                r#""20 cm2""#,
                r#""oil cooler": at least 20 cm2, and at most 15 cm2"#,
            ),
            // of openings that keep equal areas the tightest bounds hold: least 60, most 50 cm2
            edit(
                "most_area = \"500 cm2\"\ncut = { \"left exit\" = \"120 cm2\" }",
                "most_area = { \"right exit\" = \"110 cm2\" }\ncut = { \"left exit\" = \"120 cm2\" }",
                "cut-above-most",
                r#""120 cm2""#,
                r#""left exit" and "right exit": already cut to 120 cm2, and at most 110 cm2"#,
            ),
            edit("drag_at = \"straight\"\n", "", "drag-at-missing", r#""drag""#, "in which condition"),
            edit(
                r#"free = ["oil cooler", ["#,
                r#"free = ["oil cooler", "air intake", ["#,
                "unknown-name",
                r#""air intake""#,
                r#"no passage is called "air intake""#,
            ),
            edit(
                r#"at = ["hairpin", "straight"]"#,
                "holds = 1.0\nat = [\"hairpin\", \"straight\"]",
                "out-of-range",
                "1.0",
                "size/holds is 100 %",
            ),
            edit(
                r#"at = ["hairpin", "straight"]"#,
                "holds_margin = \"5 %\"\nat = [\"hairpin\", \"straight\"]",
                "unit-of-another-kind",
                r#""5 %""#,
                "temperature difference",
            ),
            edit(r#"at = ["hairpin", "straight"]"#, "at = []", "conditions-missing", "[]", "no condition"),
            edit(
                r#"margin = { heads = "12 %", oil"#,
                r#"margin = { head = "12 %", oil"#,
                "unknown-name",
                "head",
                r#"no part is called "head""#,
            ),
        ],
    );
}

#[test]
fn a_gear_or_a_sweep_without_a_drive() {
    let (before, after) = BASE.split_once("[drive]").unwrap();
    let (_, after) = after.split_once("[engine]").unwrap();
    let text = format!("{before}[engine]{after}");
    let found = faults(&text);
    let seen: Vec<(&str, String)> =
        found.iter().map(|fault| (fault.code, underlined(fault, &text))).collect();
    let wanted = ["1", "3", "[sweep]"].map(|at| ("drive-missing", at.to_string()));
    assert_eq!(seen, wanted, "{}", plain(&found, &text));
}

#[test]
fn a_drive_without_gears() {
    let found = faults_with(BASE, &[("drive/gears", "[]")]);
    assert_eq!(found.len(), 1, "{}", plain(&found, BASE));
    assert_eq!(found[0].code, "gears-missing");
}

#[test]
fn a_free_passage_to_the_engine_needs_a_bound() {
    let intake = r#"[[passage]]
name = "intake"
from = "outside"
to = "engine"
element = [{ kind = "wall-inlet", area = "20 cm2" }, { kind = "demand", share = 0 }]

[[condition]]
name = "queue""#;
    let text = edited("[[condition]]\nname = \"queue\"", intake);
    let freed = text.replacen("free = [\"oil cooler\",", "free = [\"intake\", \"oil cooler\",", 1);
    let fault = sole(&freed);
    assert_eq!(fault.code, "carburettor-unbounded");
    assert_eq!(underlined(&fault, &freed), r#"["intake", "oil cooler", ["left exit", "right exit"]]"#);
    assert!(fault.what_to_do.contains("most_carburettor_loss"), "{}", fault.what_to_do);
    // heating alone does not keep it open; a bound on the loss does
    let pairs = [("size/most_carburettor_heating", "10 K")];
    assert_eq!(faults_with(&freed, &pairs).len(), 1);
    let pairs = [("size/most_carburettor_loss", "500 Pa")];
    assert_eq!(plain(&faults_with(&freed, &pairs), &freed), "");
    assert_eq!(number(&pairs, "size/most_carburettor_loss"), 500.0);
}
