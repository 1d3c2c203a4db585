//! Entries in short: one edit of the demo case, or one file of another sort, and the answer to it.

use slowcorner::case::{self, syntax};
use slowcorner::point::{Model, conditions};
use slowcorner::warnings;
use std::fmt::Write;

/// A group of slips.
pub struct Group {
    pub title: &'static str,
    /// What stands in the demo case, what is written in its place, the code of the answer.
    pub slips: &'static [(&'static str, &'static str, &'static str)],
}

const TYRE: &str = "tyre_radius = \"266 mm\"";
const FINAL: &str = "final_drive = 4.45";
const GEARS: &str = "gears = [2.76, 1.84, 1.31, 0.97]";
const DAY: &str = "temperature = \"29 degC\"";
const OVER_TRACK: &str = "over_track = \"4 K\"           # dark gravel in the sun";
const TITLE: &str = "title = \"Quarry sprinter: a fan-fed bay against its own inlets\"";
const CURVE: &str = "curve = [[\"0 m3/s\", \"1390 Pa\"], [\"0.16 m3/s\", \"1210 Pa\"], [\"0.3 m3/s\", \"760 Pa\"], [\"0.42 m3/s\", \"0 Pa\"]]";
const MARGIN: &str = "margin = { heads = \"12 %\", barrels = \"12 %\", oil = \"6 K\" }";
const HEADS: &str = "limit = \"208 degC\"";
const HAIRPIN: &str = "speed = \"41 km/h\"\ngear = 1";
const LOAD: &str = "load = \"62 %\"";
const QUEUE: &str = "load = \"3 %\"";
const LOWEST: &str = "lowest = \"1200 rpm\"\nhighest";
const STEPS: &str = "start = \"60 degC\"\nstep = [{ condition = \"queue\", time = \"240 s\" }, { condition = \"straight\", time = \"14 s\" }, { condition = \"hairpin\", time = \"7 s\" }, { condition = \"following\", time = \"22 s\" }]";
const SCREEN: &str = "{ kind = \"screen\", open_fraction = \"62 %\", pattern = \"wire\" }";
const INTAKE: &str = "{ kind = \"ram-inlet\", diameter = \"58 mm\", place = \"flank\", edge = \"rounded\" },\n  { kind = \"duct\"";

const SIZE: &str = "[size]\nfree";
const EXIT: &str = "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7 }";

pub const GROUPS: &[Group] = &[
    Group {
        title: "Figures that give a believable answer",
        slips: &[
            (TYRE, "tyre_radius = \"532 mm\"", "tyre-radius-unusual"),
            (TYRE, "tyre_radius = \"20.9 in\"", "tyre-radius-unusual"),
            (TYRE, "tyre_radius = \"66 mm\"", "top-speed-unusual"),
            (FINAL, "final_drive = 0.225", "top-speed-unusual"),
            (GEARS, "gears = [0.97, 1.31, 1.84, 2.76]", "gears-rising"),
            (GEARS, "gears = [0.362, 0.543, 0.763, 1.03]", "gears-rising"),
            (GEARS, "gears = [1.03, 0.763, 0.543, 0.362]", "top-speed-unusual"),
            (GEARS, "gears = [2.76, 1.84, 1.84, 0.97]", "gears-rising"),
            (HAIRPIN, "speed = \"41 km/h\"\nrpm = \"410 rpm\"", "rpm-fits-no-gear"),
            (HAIRPIN, "speed = \"41 km/h\"\nrpm = \"3050 rpm\"", ""),
            (HAIRPIN, "speed = \"11 km/h\"\nrpm = \"2000 rpm\"", ""),
            (HAIRPIN, "speed = \"41 m/s\"\nrpm = \"5000 rpm\"", ""),
            (HAIRPIN, "speed = \"41 m/s\"\ngear = 1", "rpm-above-range"),
            (
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7 }",
                "{ kind = \"exit\", width = \"120 cm\", height = \"80 mm\", place = \"tail\", discharge = 0.7 }",
                "size-unusual",
            ),
            (
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7 }",
                "{ kind = \"exit\", area = \"100 dm2\", place = \"tail\", discharge = 0.7 }",
                "size-unusual",
            ),
            (
                "width = \"120 mm\", height = \"60 mm\"",
                "width = \"120 cm\", height = \"60 cm\"",
                "area-change-the-wrong-way",
            ),
            ("oil_flow = \"12 L/min\"", "oil_flow = \"12 L/s\"", "oil-flow-unusual"),
            (
                CURVE,
                "curve = [[\"0 m3/min\", \"1390 Pa\"], [\"0.16 m3/min\", \"1210 Pa\"], [\"0.3 m3/min\", \"760 Pa\"], [\"0.42 m3/min\", \"0 Pa\"]]",
                "fan-curve-unusual",
            ),
            (
                CURVE,
                "curve = [[\"0 m3/s\", \"1390 mmH2O\"], [\"0.16 m3/s\", \"1210 mmH2O\"], [\"0.3 m3/s\", \"760 mmH2O\"], [\"0.42 m3/s\", \"0 mmH2O\"]]",
                "fan-curve-unusual",
            ),
            (
                CURVE,
                "curve = [[\"0 m3/min\", \"1390 Pa\"], [\"576 m3/min\", \"1210 Pa\"], [\"1080 m3/min\", \"760 Pa\"], [\"1512 m3/min\", \"0 Pa\"]]",
                "fan-curve-unusual",
            ),
            (
                CURVE,
                "curve = [[\"0 m3/s\", \"1390 hPa\"], [\"0.16 m3/s\", \"1210 hPa\"], [\"0.42 m3/s\", \"0 hPa\"]]",
                "out-of-range",
            ),
            (MARGIN, "margin = 5", "unit-missing"),
            (MARGIN, "margin = { heads = 12, barrels = \"12 %\", oil = \"6 K\" }", "unit-missing"),
            (MARGIN, "margin = { heads = \"12 %\", barrels = \"12 %\", oil = 6 }", "unit-missing"),
            (MARGIN, "margin = 0.12", ""),
            (LOAD, "load = 62", "out-of-range"),
            (LOAD, "load = \"162 %\"", "out-of-range"),
            (LOAD, "load = \"62 %\"\ntaped = { heads = 40 }", "out-of-range"),
            (LOAD, "load = \"62 %\"\ntaped = { seams = \"40 %\" }", "nothing-to-tape"),
            ("displacement = \"874 cm3\"", "displacement = \"8.74 L\"", "air-fuel-ratio"),
            ("displacement = \"874 cm3\"", "displacement = \"87.4 cm3\"", "air-fuel-ratio"),
            ("brake_efficiency = \"25 % ± 2 %\"", "brake_efficiency = \"40 %\"", "air-fuel-ratio"),
            (
                "diameter = \"58 mm\", place = \"flank\"",
                "diameter = \"20 mm\", place = \"flank\"",
                "air-too-fast",
            ),
            (
                "diameter = \"58 mm\", place = \"flank\"",
                "diameter = \"58 cm\", place = \"flank\"",
                "inlet-spills",
            ),
            (
                INTAKE,
                "{ kind = \"ram-inlet\", diameter = \"58 mm\", place = \"flank\", edge = \"rounded\", recirculation = { from = \"left exit\", share = \"25 %\" } },\n  { kind = \"duct\"",
                "carburettor-on-warm-air",
            ),
            (
                "{ kind = \"step\", area_after = \"158 cm2\" },\n",
                "{ kind = \"duct\", area = \"60 cm2\", length = \"100 mm\" },\n",
                "sudden-change",
            ),
        ],
    },
    Group {
        title: "Instruments, tape, and what lies beside an opening",
        slips: &[
            (SIZE, "[instruments]\nu_tube = { slope = 0.1 }\n\n[size]\nfree", "out-of-range"),
            (SIZE, "[instruments]\nu_tube = { slope = \"1:10\" }\n\n[size]\nfree", "number-unreadable"),
            (
                SIZE,
                "[instruments]\nu_tube = { resolution = \"1 mmH2O\" }\n\n[size]\nfree",
                "unit-of-another-kind",
            ),
            (SIZE, "[instruments]\nu_tube = { resolution = 1 }\n\n[size]\nfree", "unit-missing"),
            (SIZE, "[instruments]\nu_tube = { resolution = \"1 m\" }\n\n[size]\nfree", "out-of-range"),
            (SIZE, "[instruments]\nu_tube = { fluid = \"petrol\" }\n\n[size]\nfree", "unknown-word"),
            (SIZE, "[instruments]\nu_tube = \"1 mm\"\n\n[size]\nfree", "table-wanted"),
            (
                SIZE,
                "[instruments]\nmanometer = { resolution = \"1 mm\" }\n\n[size]\nfree",
                "unit-of-another-kind",
            ),
            (SIZE, "[instruments]\nmanometer = { shows = \"bar\" }\n\n[size]\nfree", "unknown-word"),
            (SIZE, "[instruments]\ngauge = { shows = \"K\" }\n\n[size]\nfree", "unknown-word"),
            (SIZE, "[instruments]\nthermocouple = { resolution = \"5 K\" }\n\n[size]\nfree", "unknown-key"),
            (SIZE, "[instruments]\nu_tube = { zero = \"5 Pa\" }\n\n[size]\nfree", "unit-of-another-kind"),
            (SIZE, "[instruments]\ngauge = { zero = \"-2 K\" }\n\n[size]\nfree", "out-of-range"),
            (SIZE, "[instruments]\nmanometer = { scale = \"80 %\" }\n\n[size]\nfree", "out-of-range"),
            (SIZE, "[instruments]\nlogger = \"yes\"\n\n[size]\nfree", "flag-wanted"),
            (SIZE, "[instrument]\ngauge = { resolution = \"5 K\" }\n\n[size]\nfree", "unknown-table"),
            (SIZE, "[body]\ntape_width = \"48 cm\"\n\n[size]\nfree", "out-of-range"),
            (SIZE, "[body]\ntape_width = 48\n\n[size]\nfree", "unit-missing"),
            (SIZE, "tape_width = \"48 mm\"\n\n[size]\nfree", "unknown-key"),
            (
                EXIT,
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7, outline = { next_opening = 60 } }",
                "unit-missing",
            ),
            (
                EXIT,
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7, outline = { next_opening = \"60 m\" } }",
                "out-of-range",
            ),
            (
                EXIT,
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7, next_opening = \"60 mm\" }",
                "unknown-key",
            ),
            (
                EXIT,
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7, outline = { near = \"passenger\" } }",
                "unknown-word",
            ),
            (
                EXIT,
                "{ kind = \"exit\", area = \"100 cm2\", place = \"tail\", discharge = 0.7, outline = { near = [\"driver\", \"tyre\"] } }",
                "text-wanted",
            ),
        ],
    },
    Group {
        title: "Temperatures in another scale",
        slips: &[
            (DAY, "temperature = \"85 degC\"", "out-of-range"),
            (DAY, "temperature = \"302 degC\"", "out-of-range"),
            (DAY, "temperature = \"54 degC\"", "temperature-unusual"),
            (DAY, "temperature = \"29 K\"", "out-of-range"),
            (DAY, "temperature = \"29°\"", "unit-of-another-kind"),
            (DAY, "temperature = \"29 C\"", ""),
            (DAY, "temperature = \"84 °F\"", ""),
            (HEADS, "limit = \"406 degC\"", "limit-unusual"),
            (HEADS, "limit = \"208 K\"", "out-of-range"),
            (HEADS, "limit = \"208 degC\"\nshare_at = \"400 degC\"", "temperature-unusual"),
            ("start = \"60 degC\"", "start = \"1400 degC\"", "out-of-range"),
            ("start = \"60 degC\"", "start = \"240 degC\"", "temperature-unusual"),
            ("heads = \"110 degC\", barrels", "heads = \"240 degC\", barrels", "temperature-unusual"),
            (OVER_TRACK, "over_track = \"4 degC\"", ""),
            ("hottest_above_mean = \"10 K\"", "hottest_above_mean = \"10 degC\"", ""),
        ],
    },
    Group {
        title: "Commas, points and thousands",
        slips: &[
            (FINAL, "final_drive = 4,45", "decimal-comma"),
            (FINAL, "final_drive = \"4,45\"", "decimal-comma"),
            (GEARS, "gears = [2,76, 1,84, 1,31, 0,97]", "decimal-comma"),
            (TYRE, "tyre_radius = \"266,5 mm\"", "decimal-comma"),
            (TYRE, "tyre_radius = 266,5 mm", "decimal-comma"),
            (LOWEST, "lowest = \"1.200 rpm\"\nhighest", "thousands-point"),
            (LOWEST, "lowest = \"1,200 rpm\"\nhighest", "decimal-comma"),
            (LOWEST, "lowest = \"1 200 rpm\"\nhighest", "number-unreadable"),
            (LOWEST, "lowest = \"1'200 rpm\"\nhighest", "number-unreadable"),
            (FINAL, "final_drive = 04.45", "number-unreadable"),
            (GEARS, "gears = [2.76, 1.84, 1.31, .97]", "number-unreadable"),
            (FINAL, "final_drive = 4.", "number-unreadable"),
            (FINAL, "final_drive = 41/9", "number-unreadable"),
            (FINAL, "final_drive = \"41/9\"", "number-unreadable"),
            (FINAL, "final_drive = \"4.45:1\"", "number-unreadable"),
            (FINAL, "final_drive = 4.45:1", "number-unreadable"),
        ],
    },
    Group {
        title: "Quotes, brackets and signs",
        slips: &[
            (TITLE, "title = “Quarry sprinter”", "typographic-quotes"),
            (TYRE, "tyre_radius = “266 mm”", "typographic-quotes"),
            (TYRE, "tyre_radius = „266 mm“", "typographic-quotes"),
            (TYRE, "tyre_radius = «266 mm»", "typographic-quotes"),
            (TYRE, "tyre_radius = ″266 mm″", "typographic-quotes"),
            (TYRE, "tyre_radius = `266 mm`", "typographic-quotes"),
            (TYRE, "tyre_radius = ‘266 mm’", "typographic-quotes"),
            (TYRE, "tyre_radius = 266 mm", "quotes-missing"),
            (TYRE, "tyre_radius = 266mm", "quotes-missing"),
            (TYRE, "tyre_radius = \"266 mm", "quote-open"),
            (TYRE, "tyre_radius = 266 mm\"", "quote-open"),
            (DAY, "temperature = 29 degC", "quotes-missing"),
            (DAY, "temperature = 29°C", "quotes-missing"),
            (LOAD, "load = 62 %", "quotes-missing"),
            (SCREEN, "{ kind = screen, open_fraction = \"62 %\", pattern = \"wire\" }", "quotes-missing"),
            (SCREEN, "{ kind = \"screen\" open_fraction = \"62 %\", pattern = \"wire\" }", "comma-missing"),
            (QUEUE, "load = \"3 %\"\nwarm = True", "flag-wanted"),
            (QUEUE, "load = \"3 %\"\nwarm = yes", "flag-wanted"),
            (QUEUE, "load = \"3 %\"\nwarm = \"true\"", "flag-wanted"),
            (QUEUE, "load = \"3 %\"\nwarm = 1", "flag-wanted"),
            (FINAL, "final_drive = 4.45;", "semicolon"),
            (FINAL, "final_drive: 4.45", "colon-for-equals"),
            (FINAL, "final_drive := 4.45", "colon-for-equals"),
            (FINAL, "final drive = 4.45", "key-unreadable"),
            (FINAL, "übersetzung = 4.45", "key-unreadable"),
            (FINAL, "Final_Drive = 4.45", "unknown-key"),
            (FINAL, "final-drive = 4.45", "unknown-key"),
            (OVER_TRACK, "over_track = \"4 K\"           // dark gravel in the sun", "remark-sign"),
            (OVER_TRACK, "over_track = \"4 K\"           /* dark gravel in the sun */", "remark-sign"),
            (OVER_TRACK, "over_track = \"4 K\"           ; dark gravel in the sun", "remark-sign"),
            (OVER_TRACK, "over_track = \"4 K\"           -- dark gravel in the sun", "remark-sign"),
            (GEARS, "gears = [2.76, 1.84, 1.31, 0.97", "bracket-open"),
            (GEARS, "gears = (2.76, 1.84, 1.31, 0.97)", "list-wanted"),
            (GEARS, "gears = 2.76, 1.84, 1.31, 0.97", "list-wanted"),
            (GEARS, "gears = \"2.76, 1.84, 1.31, 0.97\"", "list-wanted"),
            ("[place.tail]", "[place.tail left]", "heading-unreadable"),
            ("[place.tail]", "[place.tail", "heading-unreadable"),
            ("[chamber.bay]", "(chamber.bay)", "not-toml"),
            (STEPS, "trace = \"C:\\Users\\me\\run.csv\"", "backslash-in-text"),
            (STEPS, "trace = \"logs\\run.csv\"", "backslash-in-text"),
            (STEPS, "trace = \"logs\\new\\day 1.csv\"", "backslash-in-text"),
        ],
    },
];

/// Files of another sort: what they are, what they hold, the code of the answer.
pub const FILES: &[(&str, &[u8], &str)] = &[
    ("a logger's table", b"time (s),speed (km/h),rpm\n0,0,1200\n0.1,1,1300\n0.2,2,1400\n", "not-a-case"),
    ("a table of tabs", b"Time\tSpeed\n0\t0\n0.1\t1\n0.2\t2\n", "not-a-case"),
    (
        "a web page",
        b"<!DOCTYPE html>\n<html><body><p>A car.</p>\n<p>It is fast.</p></body></html>\n",
        "not-a-case",
    ),
    ("JSON", b"{\"format\": 1, \"title\": \"a car\"}\n", "not-a-case"),
    (
        "a letter",
        b"Dear friend,\nthis is my car. It has a fan.\nIt runs hot in the slow corners.\n",
        "not-a-case",
    ),
    ("notes with colons", b"tyre: 266 mm\nfinal drive: 4.45\ngears: four\n", "not-a-case"),
    ("nothing", b"", "case-empty"),
    ("a case saved as UTF-16", b"\xff\xfef\0o\0r\0m\0a\0t\0 \0=\0 \x001\0\n\0", "case-encoding"),
    ("a case in an older encoding", b"format = 1\ntitle = \"K\xf6ln\"\n", "case-encoding"),
    ("a spreadsheet", b"PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00!\x00\xff\xfe", "not-a-case"),
    ("a picture", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff", "not-a-case"),
    ("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "not-a-case"),
];

/// The answer to a case: code and words; nothing where it is taken as it is.
fn answer(text: &str, wanted: &str) -> (String, String) {
    let loaded = match case::load(text, &[]) {
        Ok(loaded) => loaded,
        Err(faults) => {
            assert!(faults.len() <= 6, "{wanted}: {faults}");
            let first = &faults.list()[0];
            return (first.code.to_string(), format!("{}; {}", first.message, first.what_to_do));
        }
    };
    let model = Model::new(&loaded.case);
    let model = match model {
        Ok(model) => model,
        Err(faults) => {
            let first = &faults.list()[0];
            return (first.code.to_string(), format!("{}; {}", first.message, first.what_to_do));
        }
    };
    let (conditions, _) = conditions::solved(&loaded.case, &model);
    let mut found = model.warnings.clone();
    found.extend(warnings::of_case(&loaded.case, &model));
    found.extend(warnings::of_conditions(&loaded.case, &model, &conditions));
    match found.into_iter().find(|warning| warning.code == wanted) {
        Some(warning) => (wanted.to_string(), warning.message),
        None => (String::new(), String::new()),
    }
}

fn answer_to_bytes(bytes: &[u8]) -> (String, String) {
    match std::str::from_utf8(bytes) {
        Ok(text) => answer(text, "a file"),
        Err(_) => {
            let (code, what, way_out) = syntax::of_bytes(bytes);
            (code.to_string(), format!("{what}; {way_out}"))
        }
    }
}

fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

/// The tables of the page. A slip without a code is one that is taken as it is meant.
pub fn tables(demo: &str) -> String {
    let mut out = String::new();
    let mut wrong = Vec::new();
    for group in GROUPS {
        let _ = writeln!(out, "\n## {}\n\n| Written | Answer |\n| --- | --- |", group.title);
        for (from, to, code) in group.slips {
            assert!(demo.contains(from), "{from:?} stands nowhere in the demo");
            let (found, words) = answer(&demo.replacen(from, to, 1), code);
            if &found != code {
                wrong.push(format!("{to}: {found} for {code}: {words}"));
            }
            if code.is_empty() {
                continue;
            }
            let _ = writeln!(out, "| `{}` | `{code}`: {} |", cell(to), cell(&words));
        }
    }
    out.push_str("\n## Files of another sort\n\n| File | Answer |\n| --- | --- |\n");
    for (what, bytes, code) in FILES {
        let (found, words) = answer_to_bytes(bytes);
        if &found != code {
            wrong.push(format!("{what}: {found} for {code}: {words}"));
        }
        let _ = writeln!(out, "| {what} | `{code}`: {} |", cell(&words));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    out
}
