//! What a run must leave alone: files that it reads, and what somebody made.

use super::{copy_of_demo, demo, files_in, program};
use std::fs;
use std::path::Path;

/// Runs, and gives the exit status with all that was said.
fn run(arguments: &[&str], folder: &Path) -> (Option<i32>, String) {
    let output = program().current_dir(folder).args(arguments).output().expect("runs");
    let said = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8_lossy(&said).into_owned())
}

/// A run refused with a code, whatever stands in the folder left as it was.
fn refused(arguments: &[&str], folder: &Path, code: &str) {
    let all = || -> Vec<_> {
        let names = files_in(folder).into_iter();
        names.map(|name| (fs::read(folder.join(&name)).unwrap_or_default(), name)).collect()
    };
    let before = all();
    let (status, said) = run(arguments, folder);
    assert_eq!(status, Some(2), "{arguments:?}: {said}");
    assert!(
        said.contains(&format!("fault: {code}\n")) && said.contains("What to do: "),
        "{arguments:?}: {said}"
    );
    assert!(all() == before, "{arguments:?} changed something");
}

/// The demo with a recorded run of its own.
fn with_a_trace() -> (tempfile::TempDir, std::path::PathBuf) {
    let (folder, path) =
        copy_of_demo(|text| text + "\n[[stint]]\nname = \"run\"\nstart = \"90 degC\"\ntrace = \"run.csv\"\n");
    fs::write(folder.path().join("run.csv"), "time (s),speed (km/h)\n0,60\n20,60\n").expect("written");
    (folder, path)
}

#[test]
fn no_file_that_is_read_is_written_over_whatever_it_is_called() {
    let (folder, _) = with_a_trace();
    let folder = folder.path();
    fs::create_dir(folder.join("sub")).expect("a folder");
    fs::hard_link(folder.join("run.csv"), folder.join("hard.csv")).expect("a link");
    fs::copy(folder.join("car.toml"), folder.join("old.toml")).expect("a copy");
    let absolute = folder.join("run.csv");
    let mut ways =
        vec!["run.csv", "hard.csv", "sub/../run.csv", "car.toml", absolute.to_str().expect("text")];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("run.csv", folder.join("soft.csv")).expect("a link");
        std::os::unix::fs::symlink("soft.csv", folder.join("softer.csv")).expect("a link");
        ways.extend(["soft.csv", "softer.csv"]);
    }
    for way in ways {
        for stint in ["run", "twelve laps"] {
            let lap = ["lap", "car.toml", "--stint", stint, "--csv", way, "--into", "out", "--replace"];
            refused(&lap, folder, "file-was-read");
        }
        refused(&["sweep", "car.toml", "--csv", way, "--into", "out", "--replace"], folder, "file-was-read");
    }
    // an older case that is read, where a page would be
    fs::rename(folder.join("old.toml"), folder.join("car-report.html")).expect("moved");
    refused(&["report", "car.toml", "--against", "car-report.html"], folder, "file-was-read");
}

#[test]
fn what_somebody_made_or_edited_is_kept() {
    let (folder, path) = copy_of_demo(|text| text);
    let folder = folder.path();
    let other = fs::read_to_string(demo()).expect("read");
    fs::write(folder.join("other.toml"), &other).expect("written");
    fs::write(folder.join("numbers.csv"), "my own\n1\n").expect("written");
    for name in ["other.toml", "numbers.csv"] {
        let sweep = ["sweep", "car.toml", "--points", "9", "--svg-only", "--into", "out", "--csv", name];
        refused(&sweep, folder, "file-kept");
        assert_eq!(run(&[&sweep[..], &["--replace"]].concat(), folder).0, Some(0));
        assert!(fs::read_to_string(folder.join(name)).expect("read").starts_with("speed (m/s),"));
    }
    // what this program wrote it writes again, until it is edited
    let sweep = ["sweep", "car.toml", "--points", "9", "--svg-only", "--into", "out", "--csv", "numbers.csv"];
    let first = fs::read(folder.join("numbers.csv")).expect("read");
    assert_eq!(run(&sweep, folder).0, Some(0));
    assert_eq!(fs::read(folder.join("numbers.csv")).expect("read"), first);
    let size = ["size", "car.toml", "--svg-only"];
    for _ in 0..2 {
        assert_eq!(run(&size, folder).0, Some(0));
    }
    let sized = folder.join("car-sized.toml");
    // a table is no newer state of a case
    refused(&["sweep", "car.toml", "--into", "out", "--csv", "car-sized.toml"], folder, "file-kept");
    let text = fs::read_to_string(&sized).expect("read");
    fs::write(&sized, text.replacen("41 km/h", "40 km/h", 1)).expect("edited");
    refused(&size, folder, "file-kept");
    // sized anew from the edited file: one seal, and it fits
    assert_eq!(run(&["size", "car-sized.toml", "--svg-only"], folder).0, Some(0));
    let again = fs::read_to_string(folder.join("car-sized-sized.toml")).expect("read");
    assert_eq!(again.matches("slowcorner seal ").count(), 1);
    assert_eq!(run(&["size", "car-sized.toml", "--svg-only"], folder).0, Some(0));
    assert_eq!(run(&["size", "car.toml", "--svg-only", "--replace"], folder).0, Some(0));
    assert!(path.exists());
}

#[test]
fn all_targets_are_tried_before_the_first_is_written() {
    let (folder, _) = copy_of_demo(|text| text);
    let folder = folder.path();
    // a folder in the place of the last chart: what would come before it is not written
    fs::create_dir_all(folder.join("out/car-pressure.png/x")).expect("a folder");
    let (status, said) = run(&["sweep", "car.toml", "--into", "out", "--csv", "n.csv"], folder);
    assert!(status == Some(2) && said.contains("fault: file-not-plain"), "{said}");
    assert_eq!(files_in(&folder.join("out")), ["car-pressure.png"]);
    assert_eq!(files_in(folder), ["car.toml", "out"]);
    // two files of one name
    refused(&["sweep", "car.toml", "--csv", "car-margin.svg"], folder, "file-named-twice");
    // folders made for nothing are taken away again
    let (status, _) = run(&["sweep", "car.toml", "--into", "a/b/c", "--csv", "a/b/c/car-margin.svg"], folder);
    assert_eq!(status, Some(2));
    assert_eq!(files_in(folder), ["car.toml", "out"]);
}

#[cfg(unix)]
#[test]
fn devices_pipes_and_links_to_nothing_are_no_targets() {
    let (folder, _) = copy_of_demo(|text| text);
    let folder = folder.path();
    std::os::unix::fs::symlink("nowhere.csv", folder.join("dangling.csv")).expect("a link");
    let sweep = |csv| ["sweep", "car.toml", "--into", "out", "--replace", "--csv", csv];
    refused(&sweep("/dev/null"), folder, "file-not-plain");
    refused(&sweep("dangling.csv"), folder, "file-not-writable");
    // a link to a table of ours stays a link
    fs::create_dir(folder.join("kept")).expect("a folder");
    fs::remove_file(folder.join("dangling.csv")).expect("removed");
    assert_eq!(run(&sweep("kept/n.csv"), folder).0, Some(0));
    std::os::unix::fs::symlink("kept/n.csv", folder.join("link.csv")).expect("a link");
    assert_eq!(run(&["sweep", "car.toml", "--into", "out", "--csv", "link.csv"], folder).0, Some(0));
    assert!(folder.join("link.csv").symlink_metadata().expect("there").is_symlink());
    assert_eq!(files_in(&folder.join("kept")), ["n.csv"]);
}

#[cfg(unix)]
#[test]
fn no_other_case_is_let_go_through_a_link() {
    let (folder, _) = copy_of_demo(|text| text);
    let folder = folder.path();
    let mine = folder.join("mine.toml");
    fs::write(&mine, "format = 1 # by hand\n").expect("written");
    fs::create_dir(folder.join("out")).expect("a folder");
    std::os::unix::fs::symlink("../mine.toml", folder.join("out/car-sized.toml")).expect("a link");
    refused(&["size", "car.toml", "--plain", "--into", "out", "--replace"], folder, "file-kept");
    assert_eq!(fs::read_to_string(&mine).expect("read"), "format = 1 # by hand\n");
}

/// What may be let go without `--replace` may be with it: a chart that stands behind a link.
#[cfg(unix)]
#[test]
fn a_chart_behind_a_link_is_drawn_anew() {
    let (folder, _) = copy_of_demo(|text| text);
    let folder = folder.path();
    fs::write(folder.join("mine.svg"), "<svg/>").expect("written");
    std::os::unix::fs::symlink("mine.svg", folder.join("car-margin.svg")).expect("a link");
    for replace in [&[][..], &["--replace", "--csv", "margins.csv"][..]] {
        let (status, said) = run(&[&["sweep", "car.toml", "--svg-only"], replace].concat(), folder);
        assert_eq!(status, Some(0), "{replace:?}: {said}");
        assert!(fs::read_to_string(folder.join("mine.svg")).expect("read").contains("</svg>"), "{replace:?}");
    }
}

#[test]
fn a_chart_takes_the_place_of_no_file_that_is_no_picture() {
    let (folder, path) = copy_of_demo(|text| text);
    let chart = path.with_file_name(format!("{}-margin.svg", path.file_stem().unwrap().to_str().unwrap()));
    let mine = folder.path().join("mine.toml");
    fs::write(&mine, "format = 1 # by hand\n").expect("written");
    // by its name, and through a link
    for linked in [false, true] {
        if linked {
            #[cfg(unix)]
            std::os::unix::fs::symlink(&mine, &chart).expect("linked");
        } else {
            fs::copy(&mine, &chart).expect("copied");
        }
        let output = program().arg("sweep").arg(&path).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("file-kept"), "{said}");
        assert_eq!(fs::read_to_string(&mine).expect("read"), "format = 1 # by hand\n");
        fs::remove_file(&chart).expect("removed");
    }
    // one that was drawn is drawn anew
    for _ in 0..2 {
        assert_eq!(program().arg("sweep").arg(&path).output().expect("runs").status.code(), Some(0));
    }
}
