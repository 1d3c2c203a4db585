//! The answer stands on one screen.

use super::program;

const DEMOS: [&str; 4] = ["quarry-sprinter", "orchard-cyclecar", "stubble-buggy", "causeway-trike"];
/// Lines of a screen.
const LINES: usize = 40;
/// Lines of a narrow one.
const NARROW_LINES: usize = 70;

/// What a command says of a demo, on a page so wide.
fn screen(command: &str, demo: &str, columns: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let case = format!("{}/cases/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
    let mut run = program();
    run.args(command.split(' ')).arg(&case).env("COLUMNS", columns).current_dir(folder.path());
    match command {
        "check" | "check --everywhere" | "why" => {}
        "report" | "steps" | "tape" | "testcard" => drop(run.args(["--into", "."])),
        _ => drop(run.args(["--svg-only", "--into", "."])),
    }
    let output = run.output().expect("runs");
    assert!(output.status.code().is_some_and(|code| code < 2), "{command} {demo}");
    String::from_utf8(output.stdout).expect("text")
}

fn holds(command: &str) {
    for demo in DEMOS {
        let text = screen(command, demo, "100");
        assert!(text.lines().count() <= LINES, "{command} {demo} takes {}:\n{text}", text.lines().count());
        let long = text.lines().find(|line| line.chars().count() > 100 && !line.contains(".toml"));
        assert_eq!(long, None, "{command} {demo}");
        assert!(text.contains("An estimate"), "{command} {demo}:\n{text}");
        assert!(
            text.split_whitespace().all(|word| !word.trim_start_matches('+').eq("inf")),
            "{command} {demo}:\n{text}"
        );
    }
}

#[test]
fn check_stands_on_one_screen() {
    holds("check");
    let verdict = screen("check", "quarry-sprinter", "100");
    let lines: Vec<&str> = verdict.lines().collect();
    assert!(lines[2].starts_with("No. In following"), "{verdict}");
    assert!(verdict.contains("Do next") && verdict.contains("slowcorner size"), "{verdict}");
    let sound = screen("check", "orchard-cyclecar", "100");
    assert!(sound.lines().any(|line| line.starts_with("Yes, with the values taken")), "{sound}");
    // standing may be worse still
    assert!(sound.contains("Driving, it is worse between these conditions than in them"), "{sound}");
}

#[test]
fn a_narrow_page_is_kept_to() {
    let commands = [
        "check",
        "check --everywhere",
        "size",
        "exits",
        "lap",
        "sweep",
        "why",
        "air",
        "doubt",
        "steps",
        "tape",
        "testcard",
    ];
    for command in commands {
        for demo in DEMOS {
            let text = screen(command, demo, "60");
            let lines = text.lines().count();
            assert!(lines <= NARROW_LINES, "{command} {demo} takes {lines}:\n{text}");
            let long = text.lines().find(|line| line.chars().count() > 60 && !line.contains(".toml"));
            assert_eq!(long, None, "{command} {demo}");
        }
    }
}

#[test]
fn sizes_stand_on_one_screen() {
    holds("size");
}

#[test]
fn exits_stand_on_one_screen() {
    holds("exits");
}

#[test]
fn runs_stand_on_one_screen() {
    holds("lap");
}

#[test]
fn whatever_else_is_asked_stands_on_one_screen() {
    for command in
        ["check --everywhere", "sweep", "why", "air", "doubt", "report", "steps", "tape", "testcard"]
    {
        holds(command);
    }
    let output =
        program().args(["estimate", "--power", "34 kW"]).env("COLUMNS", "100").output().expect("runs");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(text.lines().count() <= LINES, "{}:\n{text}", text.lines().count());
}
