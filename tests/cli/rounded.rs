//! The sized case as a file to work from: whole sizes, line ends as they were; and what is never said to anybody.

use crate::cli::{copy_of_demo, json, program};
use std::fs;

#[test]
fn sizes_are_whole_and_line_ends_stay() {
    for end in ["\n", "\r\n"] {
        let (folder, path) = copy_of_demo(|text| text.replace('\n', end));
        let into = folder.path().join("out");
        let (case, into) = (path.to_str().expect("text"), into.to_str().expect("text"));
        let (status, found) = json(&["size", case, "--into", into, "--svg-only", "--json"]);
        assert_eq!(status, 0);
        let sized = fs::read_to_string(format!("{into}/car-sized.toml")).expect("read");
        let ends = sized.split_inclusive('\n').filter(|line| line.ends_with("\r\n")).count();
        assert_eq!(ends, if end == "\n" { 0 } else { sized.lines().count() }, "{end:?}");
        // every size that was found stands there whole, and the case so written keeps what was asked for
        let loaded = slowcorner::case::load(&sized, &[]).unwrap_or_else(|faults| panic!("{faults}")).case;
        for (passage, area) in found["sizes"]["areas_m2"].as_object().expect("areas") {
            let index = loaded.passage(passage).expect("there");
            let element =
                &loaded.passages[index].elements[loaded.passages[index].opening().expect("an opening")];
            let view = loaded.view(element);
            let lengths = ["width", "height", "diameter"].map(|key| {
                loaded
                    .numbers
                    .find(&format!("{}/{key}", element.address))
                    .map(|id| 1e3 * loaded.numbers.value(id))
            });
            let size = slowcorner::element::PieceSize::read(&view).expect("a size").area;
            let whole = |value: f64| (value - value.round()).abs() < 1e-6;
            if lengths.iter().any(Option::is_some) {
                assert!(lengths.into_iter().flatten().all(whole), "{passage}: {lengths:?}");
            } else {
                assert!(whole(1e4 * size), "{passage}: {size}");
            }
            // a millimetre of some forty, on two sides
            assert!((size / area.as_f64().expect("an area") - 1.0).abs() < 0.05, "{passage}: {size} {area}");
        }
        let (status, _) = json(&["check", &format!("{into}/car-sized.toml"), "--json"]);
        assert_eq!(status, 0);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn names_of_files_on_their_way_are_told_to_nobody() {
    let (_folder, path) = copy_of_demo(|text| text);
    let case = path.to_str().expect("text");
    for arguments in
        [vec!["size", case, "--into", "/proc/none"], vec!["start", "/proc/car.toml", "--fan", "none"]]
    {
        let output = program().args(&arguments).output().expect("runs");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains("/proc") && !said.contains(".tmp") && !said.contains(".slowcorner-"), "{said}");
    }
}
