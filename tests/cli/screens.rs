//! The answer stands on one screen.

use super::program;

const DEMOS: [&str; 4] = ["quarry-sprinter", "orchard-cyclecar", "stubble-buggy", "causeway-trike"];
/// Lines of a screen.
const LINES: usize = 40;
/// Lines of a narrow one.
const NARROW_LINES: usize = 70;

/// A folder where a builder may keep a case: its name is long, and a shell wants quotes round it.
const KEPT_IN: &str = "garage at home/our second car/drawings of the body/cooling/cases";

/// What a command says of a demo, on a page so wide; the same text wherever the project stands.
fn screen(command: &str, demo: &str, columns: &str) -> String {
    screen_of(command, demo, columns, "cases")
}

/// The same of a demo that is kept in such a folder.
fn screen_of(command: &str, demo: &str, columns: &str, kept_in: &str) -> String {
    let folder = tempfile::tempdir().expect("a folder");
    let cases = folder.path().join(kept_in);
    std::fs::create_dir_all(&cases).expect("a folder");
    for file in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/cases")).expect("cases") {
        let file = file.expect("a file");
        if file.file_type().expect("a type").is_file() {
            std::fs::copy(file.path(), cases.join(file.file_name())).expect("copied");
        }
    }
    let mut run = program();
    run.args(command.split(' ')).arg(format!("{kept_in}/{demo}.toml"));
    run.env("COLUMNS", columns).current_dir(folder.path());
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
        for kept_in in ["cases", KEPT_IN] {
            let text = screen_of(command, demo, "100", kept_in);
            let lines = text.lines().count();
            assert!(lines <= LINES, "{command} {kept_in}/{demo} takes {lines}:\n{text}");
            let long = text.lines().find(|line| line.chars().count() > 100 && !line.contains(".toml"));
            assert_eq!(long, None, "{command} {demo}");
            // what is to be copied stands whole, and so that a shell takes it
            let named = format!("{kept_in}/{demo}.toml");
            let named = if kept_in.contains(' ') { format!("\"{named}\"") } else { named };
            let commands: Vec<&str> = text.lines().filter(|line| line.contains("slowcorner doubt")).collect();
            assert!(commands.iter().all(|line| line.contains(&named)), "{text}");
        }
        let text = screen(command, demo, "100");
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

/// Commands are not broken, since half of one cannot be copied.
fn is_command(line: &str) -> bool {
    line.contains(".toml") || line.trim_start().starts_with("--set")
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
            let long = text.lines().find(|line| line.chars().count() > 60 && !is_command(line));
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
