//! `--help` of every command, the scripts and the manual, as they were last looked at.

use super::program;

const COMMANDS: [&str; 21] = [
    "estimate",
    "start",
    "check",
    "sweep",
    "lap",
    "why",
    "doubt",
    "fit",
    "air",
    "size",
    "steps",
    "tape",
    "testcard",
    "templates",
    "compare",
    "exits",
    "report",
    "explain",
    "completions",
    "manual",
    "schema",
];

/// The commands that a help or a manual names, so that a new one is not left out here.
fn help(arguments: &[&str]) -> String {
    let output = program().env("COLUMNS", "100").args(arguments).output().expect("runs");
    assert_eq!(output.status.code(), Some(0), "{arguments:?}");
    assert!(output.stderr.is_empty());
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn help_of_every_command_is_as_it_was_last_looked_at() {
    insta::assert_snapshot!("help", help(&["--help"]));
    for command in COMMANDS {
        insta::assert_snapshot!(format!("help_{command}"), help(&[command, "--help"]));
    }
}

#[test]
fn no_command_is_left_out_of_these_tests() {
    let text = help(&["--help"]);
    let list = text.split("Commands:\n").nth(1).expect("a list").split("\n\n").next().expect("a list");
    let named: Vec<&str> = list
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    assert_eq!(named, [&COMMANDS[..], &["help"]].concat());
}

#[test]
fn a_shell_reads_the_completions() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let script = help(&["completions", shell]);
        for word in COMMANDS.into_iter().chain(["--brake-efficiency", "--svg-only"]) {
            let word = if shell == "fish" { word.trim_start_matches("--") } else { word };
            assert!(script.contains(word), "{shell} lacks {word}");
        }
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("slowcorner.bash");
    std::fs::write(&path, help(&["completions", "bash"])).expect("written");
    // every test machine of the project has bash: .ci/run is written in it
    let checked = std::process::Command::new("bash").arg("-n").arg(&path).output().expect("bash runs");
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stderr));
    let offered = std::process::Command::new("bash")
        .args(["--norc", "-c", "source \"$1\"; COMP_WORDS=(slowcorner st); COMP_CWORD=1; _slowcorner slowcorner st slowcorner; echo \"${COMPREPLY[@]}\"", "bash"])
        .arg(&path)
        .output()
        .expect("bash runs");
    assert_eq!(String::from_utf8_lossy(&offered.stdout).trim(), "start steps");
    assert_eq!(program().args(["completions", "abacus"]).output().expect("runs").status.code(), Some(2));
}

#[test]
fn the_manual_names_every_command_and_option() {
    let page = help(&["manual"]);
    assert!(page.contains(".TH slowcorner 1"), "{}", &page[..200]);
    for command in COMMANDS {
        assert!(page.contains(&format!(".SH {}\n", command.to_uppercase())), "{command}");
        let help = help(&[command, "--help"]);
        let options = help.split_whitespace().filter(|word| word.starts_with("--") && word.len() > 2);
        for option in options {
            let bare =
                option.trim_end_matches([',', ';', ':', '.']).trim_matches(['<', '>', '[', ']', '`', '"']);
            let escaped = bare.replace('-', "\\-");
            assert!(page.contains(&escaped) || page.contains(bare), "{command}: {bare}");
        }
    }
}

#[test]
fn the_schema_is_one_json_object_that_names_its_draft() {
    let schema: serde_json::Value = serde_json::from_str(&help(&["schema"])).unwrap();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert_eq!(schema["properties"]["format"]["const"], 1);
}
