//! What is refused, with a status, a place and a way out; nothing is written then.

use crate::cli::{copy_of_demo, demo, files_in, program};
use std::fs;

#[test]
fn refusals_are_status_two_and_write_nothing() {
    let broken: [(&str, Vec<u8>); 6] = [
        ("empty", Vec::new()),
        ("cut off", fs::read(demo()).expect("read")[..900].to_vec()),
        ("binary", vec![0, 159, 146, 150, 7, 0, 255]),
        ("too large", vec![b'#'; (1 << 20) + 1]),
        ("no number", fs::read_to_string(demo()).expect("read").replace("\"41 km/h\"", "41").into_bytes()),
        ("negative", fs::read_to_string(demo()).expect("read").replace("52 cm2", "-52 cm2").into_bytes()),
    ];
    for (what, bytes) in broken {
        for command in ["check", "sweep", "size"] {
            let folder = tempfile::tempdir().expect("a folder");
            let path = folder.path().join("car.toml");
            fs::write(&path, &bytes).expect("written");
            let output = program().arg(command).arg(&path).output().expect("runs");
            assert_eq!(
                output.status.code(),
                Some(2),
                "{what}, {command}: {}",
                String::from_utf8_lossy(&output.stderr)
            );
            let said = String::from_utf8_lossy(&output.stderr);
            assert!(said.contains("What to do"), "{what}: {said}");
            assert!(output.stdout.is_empty(), "{what}");
            assert_eq!(files_in(folder.path()), ["car.toml"], "{what}, {command}");
        }
    }
}

#[test]
fn a_fault_shows_its_line_and_text() {
    let (_folder, path) = copy_of_demo(|text| text.replace("recovery = 0.88", "recovry = 0.88"));
    let output = program().arg("check").arg(&path).output().expect("runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        said.contains("line") && said.contains("recovry") && said.contains("did you mean recovery?"),
        "{said}"
    );
}

#[test]
fn paths_that_cannot_be_read_or_written_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let missing = folder.path().join("missing.toml");
    assert_eq!(program().arg("check").arg(&missing).output().expect("runs").status.code(), Some(2));
    assert_eq!(program().arg("check").arg(folder.path()).output().expect("runs").status.code(), Some(2));
    // a file where a folder should be
    let blocked = folder.path().join("blocked");
    fs::write(&blocked, "x").expect("written");
    let output = program().arg("size").arg(demo()).arg("--into").arg(&blocked).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("What to do"));
    // numbers into a folder that is not there: no chart is left behind either
    let out = folder.path().join("out");
    let output = program()
        .arg("sweep")
        .arg(demo())
        .arg("--into")
        .arg(&out)
        .arg("--csv")
        .arg(folder.path().join("no/such/x.csv"))
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert!(!out.exists() || files_in(&out).is_empty());
}

#[test]
fn the_case_is_never_written_over() {
    let (_folder, path) = copy_of_demo(|text| text);
    let before = fs::read(&path).expect("read");
    let output = program().arg("sweep").arg(&path).arg("--csv").arg(&path).output().expect("runs");
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(fs::read(&path).expect("read"), before);
}

#[test]
fn set_takes_addresses_and_refuses_others() {
    let run = |set: &str| {
        program().arg("check").arg(demo()).arg("--json").arg("--set").arg(set).output().expect("runs")
    };
    let output = run("condition/hairpin/speed=50 km/h");
    let result: serde_json::Value = serde_json::from_slice(&output.stdout).expect("an object");
    let speed = result["conditions"][0]["speed_m_s"].as_f64().expect("a number");
    assert!((speed - 50.0 / 3.6).abs() < 1e-9);
    let output = run("condition/hairpn/speed=50 km/h");
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("did you mean hairpin?"));
}

#[test]
fn bounds_that_no_size_fits_are_refused_at_their_place() {
    // the diffuser behind the scoop opens to 170 cm², and the smallest scoop allowed is larger
    let text = include_str!("../../cases/stubble-buggy.toml");
    let bounded = text.replace("least_area = \"50 cm2\"", "least_area = \"190 cm2\"");
    assert_ne!(text, bounded);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("car.toml");
    fs::write(&path, bounded).expect("written");
    for command in ["size", "templates", "steps"] {
        let output = program().arg(command).arg(&path).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{command}: {said}");
        for words in ["refused-at-every-size", "car.toml, line", "least_area", "scale = {"] {
            assert!(said.contains(words), "{command}: {words}\n{said}");
        }
        assert_eq!(files_in(folder.path()), ["car.toml"], "{command}");
    }
}
