//! The addresses on which two cases differ.

use super::{QUARRY, STUBBLE, read};
use slowcorner::case::load;
use slowcorner::study::changes::{Difference, differences, table_of};

fn between(before: &str, after: &str) -> Vec<(String, Option<String>, Option<String>)> {
    let tell = |d: Difference| (d.address, d.before, d.after);
    differences(&read(before).case, &read(after).case).into_iter().map(tell).collect()
}

fn one(address: &str, before: Option<&str>, after: Option<&str>) -> (String, Option<String>, Option<String>) {
    (address.to_string(), before.map(str::to_string), after.map(str::to_string))
}

#[test]
fn a_case_differs_from_itself_in_nothing() {
    for text in [QUARRY, STUBBLE] {
        assert_eq!(between(text, text), []);
    }
}

#[test]
fn other_words_for_the_same_value_are_no_difference() {
    let same = QUARRY
        .replace("speed = \"41 km/h\"", "speed = \"11.388888888888888888 m/s\"")
        .replace("area = \"100 cm2\", place = \"tail\"", "area = \"0.01 m2\", place = \"tail\"")
        .replace("title = \"Quarry sprinter", "title = \"Another name for the sprinter")
        // the default, written down
        .replace("load = \"34 %\"\n\n[[condition]]", "load = \"34 %\"\nclear_air = 1.0\n\n[[condition]]");
    assert_ne!(same, QUARRY);
    assert_eq!(between(QUARRY, &same), []);
}

#[test]
fn every_kind_of_value_that_differs_is_told_once_at_its_address() {
    let changed = QUARRY
        .replace("pressure_coefficient = -0.15", "pressure_coefficient = -0.05")
        .replace("run = \"1.7 m\"", "run = \"2.2 m\"")
        .replace("gears = [2.76, 1.84", "gears = [2.76, 1.9")
        .replace("oil = \"4.3 % ± 1 %\"", "oil = \"4.8 % ± 1 %\"")
        .replace("clear_air = 0.75\n", "")
        .replace(
            "area = \"52 cm2\", place = \"flank\", edge = \"rounded\"",
            "area = \"52 cm2\", place = \"flank\", edge = \"sharp\"",
        );
    let found = between(QUARRY, &changed);
    assert_eq!(
        found,
        [
            one("drive/gears", Some("[2.76, 1.84, 1.31, 0.97]"), Some("[2.76, 1.9, 1.31, 0.97]")),
            one("engine/heat/oil", Some("4.3 % (3.3 % to 5.3 %)"), Some("4.8 % (3.8 % to 5.8 %)")),
            // several openings stand at each place; its numbers are told once
            one("place/flank/boundary_layer/run", Some("1.7 m"), Some("2.2 m")),
            one("place/tail/pressure_coefficient", Some("-0.15"), Some("-0.05")),
            one("passage/oil cooler/ram-inlet/edge", Some("rounded"), Some("sharp")),
            one("condition/following/clear_air", Some("75 %"), Some("100 % (default)")),
        ]
    );
}

#[test]
fn what_was_added_or_taken_away_is_told_value_by_value() {
    let (begin, rest) = QUARRY.split_once("[[passage]]\nname = \"seams\"").expect("seams");
    let (_, end) = rest.split_once("[[condition]]").expect("a condition");
    let without = format!("{begin}[[condition]]{end}");
    let gone = between(QUARRY, &without);
    let addresses: Vec<&str> = gone.iter().map(|d| d.0.as_str()).collect();
    assert_eq!(
        addresses,
        [
            "passage/seams/from",
            "passage/seams/to",
            "passage/seams/leak/kind",
            "passage/seams/leak/share_of_inlets"
        ]
    );
    assert!(gone.iter().all(|d| d.1.is_some() && d.2.is_none()));
    let added = between(&without, QUARRY);
    assert!(added.iter().all(|d| d.1.is_none() && d.2.is_some()) && added.len() == gone.len());
}

#[test]
fn an_address_belongs_to_its_table() {
    for (address, table) in [
        ("place/tail left/pressure_coefficient", "place/tail left"),
        ("passage/oil cooler/core/conductance", "passage/oil cooler"),
        ("condition/hairpin/day/temperature", "condition/hairpin"),
        ("engine/heat/oil", "engine"),
        ("size/most_area/other", "size"),
        ("drive/gears", "drive"),
    ] {
        assert_eq!(table_of(address), table);
    }
}

#[test]
fn what_is_set_on_the_command_line_counts_as_written() {
    let set = [("place/tail/pressure_coefficient".to_string(), "0.02".to_string())];
    let after = load(QUARRY, &set).unwrap_or_else(|faults| panic!("{faults}"));
    let found = differences(&read(QUARRY).case, &after.case);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].table(), "place/tail");
    assert_eq!(found[0].after.as_deref(), Some("0.02"));
}
