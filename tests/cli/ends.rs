//! How a run ends when something outside it goes wrong: a full disk, a signal, a pipe that nobody reads.

use super::{copy_of_demo, demo, program};
use std::fs;
use std::process::Stdio;

#[test]
fn nothing_checked_is_not_all_clear() {
    let (_folder, path) = copy_of_demo(|text| {
        let (car, _) = text.split_once("[[condition]]").expect("a condition");
        car.to_string()
    });
    for more in [&[][..], &["--everywhere"], &["--json"]] {
        let output = program().arg("check").arg(&path).args(more).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(output.stdout.is_empty());
        assert!(
            said.contains("fault: conditions-missing") && said.contains("What to do: write [[condition]]"),
            "{said}"
        );
    }
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_told_is_status_three() {
    let full = || fs::OpenOptions::new().write(true).open("/dev/full").expect("opens");
    let demo = demo();
    let demo = demo.to_str().expect("text");
    for arguments in [
        &["check", demo][..],
        &["check", demo, "--json"],
        &["why", demo],
        &["schema"],
        &["manual"],
        &["--help"],
        &["--version"],
    ] {
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_slowcorner"));
        let output = child.args(arguments).stdout(full()).stderr(Stdio::piped()).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(3), "{arguments:?}: {said}");
        assert!(
            said.contains("standard output") && !said.contains("fault of slowcorner"),
            "{arguments:?}: {said}"
        );
    }
    // nobody left to tell
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_slowcorner"));
    let status = child.args(["check", "no such.toml"]).stdout(full()).stderr(full()).status().expect("runs");
    assert_eq!(status.code(), Some(2));
    // a reader that has seen enough is no fault
    let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_slowcorner"));
    let mut child =
        child.args(["schema"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("ends");
    assert_eq!((output.status.code(), output.stderr.len()), (Some(0), 0));
}

/// Told to stop while it writes, a run leaves none of the files that are on their way.
#[cfg(target_os = "linux")]
#[test]
fn no_temporary_file_is_left_behind() {
    use std::os::unix::process::ExitStatusExt;
    const MOST_TRIES: usize = 200;
    for (signal, number) in [("-INT", 2), ("-TERM", 15)] {
        let (folder, path) = copy_of_demo(|text| text);
        let on_their_way = || {
            let names = fs::read_dir(folder.path()).expect("a folder").flatten();
            names.filter(|entry| entry.file_name().to_string_lossy().starts_with(".slowcorner-")).count()
        };
        // the moment in which it writes is short: tried until it was met
        let stopped = (0..MOST_TRIES).any(|_| {
            let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_slowcorner"));
            let child = child
                .arg("sweep")
                .arg(&path)
                .args(["--points", "2000", "--csv"])
                .arg(folder.path().join("n.csv"));
            let mut child = child.stdout(Stdio::null()).spawn().expect("runs");
            while on_their_way() == 0 && child.try_wait().expect("asked").is_none() {}
            let id = child.id().to_string();
            let _ = std::process::Command::new("kill").args([signal, &id]).stderr(Stdio::null()).status();
            let status = child.wait().expect("ends");
            assert_eq!(on_their_way(), 0, "left behind after {signal}");
            status.signal() == Some(number)
        });
        assert!(stopped, "{signal} never met it while it wrote");
    }
}

#[cfg(unix)]
#[test]
fn nothing_that_steers_a_terminal_gets_there() {
    let steers = |c: char| c.is_control() && !"\n\t".contains(c) || ('\u{202A}'..='\u{202E}').contains(&c);
    let evil = "e\u{1b}[31m\u{9b}31m\u{7}\u{202e}";
    let (folder, path) = copy_of_demo(|text| {
        let stint = "\n[[stint]]\nname = \"run\"\nstart = \"90 degC\"\ntrace = \"run.csv\"\n";
        text + stint
    });
    fs::write(folder.path().join("run.csv"), format!("time (s),speed (km/h),{evil}\n0,60,1\n9,60,2\n"))
        .expect("written");
    let named = folder.path().join(format!("{evil}.toml"));
    fs::copy(&path, &named).expect("a copy");
    let (path, named) = (path.to_str().expect("text"), named.to_str().expect("text"));
    let missing = format!("{named}.none");
    let title = format!("title={evil}");
    for (arguments, wanted) in [
        (vec!["check", named], 1),
        (vec!["check", &missing], 2),
        (vec!["check", path, "--set", &title], 2),
        (vec!["check", path, "--set", &title, "--json"], 2),
        (vec!["lap", path, "--stint", "run", "--svg-only"], 0),
        (vec!["lap", path, "--stint", "run", "--svg-only", "--json"], 0),
        (vec!["lap", path, "--stint", evil], 2),
        (vec!["sweep", named, "--points", "9", "--svg-only"], 0),
        (vec!["why", path, evil], 2),
        (vec![evil], 2),
        (vec!["estimate", "--power", evil], 2),
        (vec!["estimate", "--power", "30 kW", "--set", &title], 2),
    ] {
        let output = program().args(&arguments).output().expect("runs");
        assert_eq!(
            output.status.code(),
            Some(wanted),
            "{arguments:?}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
        for stream in [output.stdout, output.stderr] {
            let text = String::from_utf8(stream).expect("text");
            assert!(!text.contains(steers), "{arguments:?}: {text:?}");
        }
    }
}

#[cfg(unix)]
#[test]
fn a_recorded_run_is_a_file_of_bounded_size() {
    let stint = |run: &str| format!("\n[[stint]]\nname = \"run\"\nstart = \"90 degC\"\ntrace = {run:?}\n");
    for (run, code) in [
        ("pipe", "run-not-plain"),
        ("/dev/zero", "run-not-plain"),
        (".", "run-not-plain"),
        ("large.csv", "run-too-large"),
    ] {
        let (folder, path) = copy_of_demo(|text| text + &stint(run));
        let pipe = folder.path().join("pipe");
        assert!(std::process::Command::new("mkfifo").arg(pipe).status().expect("runs").success());
        // a hole takes no room on the disk
        let large = fs::File::create(folder.path().join("large.csv")).expect("made");
        large.set_len(200_000_001).expect("grown");
        for command in ["lap", "report"] {
            let output = program()
                .arg(command)
                .arg(&path)
                .arg("--into")
                .arg(folder.path().join("out"))
                .output()
                .expect("runs");
            let said = [output.stdout, output.stderr].concat();
            let said = String::from_utf8_lossy(&said).replace('\n', " ");
            assert!(said.contains(code), "{command} {run}: {said}");
            // a report tells what it lacks, and has the rest
            assert_eq!(output.status.code(), Some(if command == "lap" { 2 } else { 0 }), "{command} {run}");
        }
    }
}
