//! Layouts: what they change, and the faults that only they have.

use crate::diagnostics::support::{BASE, edited, faults, plain, set, sole, underlined, with};
use slowcorner::case::layouts::layout;
use slowcorner::case::{Case, Diagnostics};
use slowcorner::keys::Slot;

fn read(text: &str, name: &str) -> Case {
    let document = slowcorner::case::document::read(text).unwrap();
    let mut found = Diagnostics::new();
    let case = Case::read(&layout(&document, name).unwrap(), &mut found);
    case.unwrap_or_else(|| panic!("{}", plain(found.list(), text)))
}

#[test]
fn what_a_layout_changes() {
    let case = read(BASE, "one exit");
    assert_eq!(case.passages.len(), set(&[]).case.passages.len() - 1);
    assert!(case.passage("right exit").is_none());
    let area = case.numbers.find("passage/left exit/exit/area").unwrap();
    assert!((case.numbers.value(area) - 0.032).abs() < 1e-12);
    // what is gone is free no more
    let size = case.size.unwrap();
    let Slot::Groups(free) = size.slot(&slowcorner::case::tables::FREE) else { panic!() };
    let names: Vec<Vec<&str>> =
        free.iter().map(|g| g.iter().map(|(name, _)| name.as_str()).collect()).collect();
    assert_eq!(names, [vec!["oil cooler"], vec!["left exit"]]);

    let case = read(BASE, "cooler in a box");
    assert_eq!(case.passage("oil cooler"), set(&[]).case.passage("oil cooler"));
    assert_eq!(case.passages[case.passage("oil cooler").unwrap()].to, "cooler box");
    assert!(case.passage("box exit").is_some() && case.chamber("cooler box").is_some());
    let place = case.numbers.find("place/tail left/pressure_coefficient").unwrap();
    assert_eq!(case.numbers.value(place), -0.05);
    assert!(case.layouts.is_empty());
}

#[test]
fn with_a_passage_goes_what_is_said_of_it() {
    // its tape, its cut, the warm air drawn from it, and the table of its chamber
    let text = with(
        r#"[[passage]]
name = "side pocket"
from = "outside"
to = "pocket"
element = [{ kind = "wall-inlet", area = "9 cm2" }]

[chamber.pocket]
skin_conductance = "1 W/K"

[[layout]]
name = "bare"
remove = ["left exit", "oil cooler", "side pocket"]"#,
    );
    let case = read(&text, "bare");
    assert!(case.numbers.find("condition/hairpin/taped/oil cooler").is_none());
    assert!(case.numbers.find("size/cut/left exit").is_none());
    assert!(case.numbers.find("size/least_area/oil cooler").is_none());
    assert!(case.numbers.find("passage/scoop/ram-inlet/recirculation/share").is_none());
    assert!(case.chamber("pocket").is_none());
    assert!(case.size.is_some());
    // nothing is left to size
    let text = with("[[layout]]\nname = \"none\"\nremove = [\"left exit\", \"right exit\", \"oil cooler\"]");
    assert!(read(&text, "none").size.is_none());
    assert_eq!(plain(&faults(&text), &text), "");
}

#[test]
fn faults_that_only_a_layout_has() {
    for (from, to, code, at, says) in [
        (
            r#"{ "passage/left exit/exit/area" = "320 cm2" }"#,
            r#"{ "passage/left exit/exit/area" = "-320 cm2" }"#,
            "out-of-range",
            r#""-320 cm2""#,
            "in the layout \"one exit\": passage/left exit/exit/area is -320 cm2",
        ),
        (
            r#"{ "passage/left exit/exit/area" = "320 cm2" }"#,
            r#"{ "passage/left exist/exit/area" = "320 cm2" }"#,
            "address-unknown",
            r#""passage/left exist/exit/area""#,
            "in the layout \"one exit\": the case has no passage/left exist/exit/area",
        ),
        (
            r#"{ "passage/left exit/exit/area" = "320 cm2" }"#,
            r#"{ "part/heads/limt" = "200 degC" }"#,
            "unknown-key",
            r#""part/heads/limt""#,
            "in the layout \"one exit\": part/heads has no key limt",
        ),
        (
            r#"{ "passage/left exit/exit/area" = "320 cm2" }"#,
            r#"{ "condition/straight/tapd/left exit" = "20 %" }"#,
            "unknown-key",
            r#""condition/straight/tapd/left exit""#,
            "in the layout \"one exit\": condition/straight has no key tapd",
        ),
        (
            r#"{ "passage/left exit/exit/area" = "320 cm2" }"#,
            r#"{ "passage/right exit/exit/area" = "320 cm2" }"#,
            "address-unknown",
            r#""passage/right exit/exit/area""#,
            "nothing is called \"right exit\"",
        ),
        (
            r#"set = { "passage/left exit/exit/area" = "320 cm2" }"#,
            "set = 3",
            "table-wanted",
            "3",
            "layout/one exit/set is a bare number",
        ),
        (
            r#"{ kind = "ram-inlet", area = "60 cm2" }"#,
            r#"{ kind = "ram-inlet", area = "60" }"#,
            "unit-missing",
            r#""60""#,
            "in the layout \"cooler in a box\": `60` has no unit",
        ),
        (
            r#"element = [{ kind = "exit", area = "120 cm2" }]"#,
            r#"element = [{ kind = "exit" }]"#,
            "size-missing",
            r#"{ kind = "exit" }"#,
            "in the layout \"cooler in a box\": passage/box exit/exit",
        ),
        (
            "name = \"box exit\"\nfrom = \"cooler box\"",
            "name = \"box exit\"\nfrom = \"coler box\"",
            "",
            "",
            "",
        ),
    ] {
        let text = edited(from, to);
        if code.is_empty() {
            // a slip in a chamber's name splits it: both halves still have a way outside
            assert_eq!(plain(&faults(&text), &text), "");
            continue;
        }
        let fault = sole(&text);
        assert_eq!((fault.code, underlined(&fault, &text).as_str()), (code, at), "{}", fault.message);
        assert!(fault.message.starts_with(says) || fault.message.contains(says), "{}", fault.message);
    }
}

#[test]
fn a_layout_that_closes_a_chamber() {
    let text = with(
        "[[layout]]\nname = \"sealed\"\nremove = [\"scoop\", \"oil cooler\", \"left exit\", \"right exit\", \"seams\"]",
    );
    let found = faults(&text);
    let [fault] = &found[..] else { panic!("{}", plain(&found, &text)) };
    assert_eq!(fault.code, "chamber-closed");
    assert!(
        fault.message.starts_with("in the layout \"sealed\": no passage joins the chambers"),
        "{}",
        fault.message
    );
}

#[test]
fn faults_of_the_case_are_told_once_and_beside_those_of_layouts() {
    let text = edited("displacement = \"870 cm3\"", "displacement = 870");
    assert_eq!(sole(&text).code, "unit-missing");
    let text = text.replace(r#"{ kind = "ram-inlet", area = "60 cm2" }"#, r#"{ kind = "ram-inlet" }"#);
    let codes: Vec<&str> = faults(&text).iter().map(|fault| fault.code).collect();
    assert_eq!(codes, ["unit-missing", "size-missing"], "{}", plain(&faults(&text), &text));
}
