//! Guesses tied to one another: addresses that are there, have a band and are tied one way.

use crate::diagnostics::support::{BASE, faults, plain, sole, underlined, with};

fn tied(body: &str) -> String {
    with(&format!("\n[[tied]]\n{body}\n"))
}

const SOUND: &str = r#"values = ["part/barrels/hottest_above_mean", "part/heads/source_temperature"]
opposite = ["engine/friction_pressure"]"#;

#[test]
fn a_sound_table_of_ties() {
    let text = tied(SOUND);
    assert_eq!(plain(&faults(&text), &text), "");
}

#[test]
fn ties_that_make_no_sense() {
    for (body, code, at, way_out) in [
        (r#"values = ["part/barrels/hottest_above_mean"]"#, "tied-alone", "", "name two or more"),
        (
            r#"values = ["part/barrels/hottest_above_means", "part/heads/source_temperature"]"#,
            "tied-unknown",
            "hottest_above_means",
            "did you mean part/barrels/hottest_above_mean?",
        ),
        (
            r#"values = ["part/barrels/hottest_above_mean", "part/heads/limit"]"#,
            "tied-without-band",
            "part/heads/limit",
            "208",
        ),
        // what the day is by default is a convention, no guess
        (
            r#"values = ["part/barrels/hottest_above_mean", "day/over_track"]"#,
            "tied-without-band",
            "day/over_track",
            "how sure you are",
        ),
        (
            "values = [\"part/barrels/hottest_above_mean\", \"part/heads/source_temperature\"]\nopposite = [\"part/heads/source_temperature\"]",
            "tied-both-ways",
            "part/heads/source_temperature",
            "one of the lists",
        ),
        (
            r#"opposite = ["part/barrels/hottest_above_mean", "part/heads/source_temperature"]"#,
            "key-missing",
            "",
            "values",
        ),
        (
            r#"values = ["part/barrels/hottest_above_mean", "part/heads/source_temperature"]
together = true"#,
            "unknown-key",
            "together",
            "",
        ),
    ] {
        let text = tied(body);
        let fault = sole(&text);
        assert_eq!(fault.code, code, "{}", plain(std::slice::from_ref(&fault), &text));
        assert!(underlined(&fault, &text).contains(at), "{body}: {:?}", underlined(&fault, &text));
        assert!(fault.what_to_do.contains(way_out), "{body}: {}", fault.what_to_do);
    }
}

/// Two tables that contradict one another through a third number.
#[test]
fn ties_that_contradict_one_another_across_tables() {
    let text = with(
        r#"
[[tied]]
values = ["part/barrels/hottest_above_mean", "part/heads/source_temperature"]
[[tied]]
values = ["part/heads/source_temperature", "engine/friction_pressure"]
[[tied]]
values = ["part/barrels/hottest_above_mean"]
opposite = ["engine/friction_pressure"]"#,
    );
    assert_eq!(sole(&text).code, "tied-both-ways");
}

/// What a layout takes away is tied no more there, and what one brings may be tied.
#[test]
fn layouts_may_lack_or_bring_what_is_tied() {
    let text = format!(
        r#"{BASE}
[[layout]]
name = "no leak of its own"
remove = ["seams"]
[[layout]]
name = "a vent"
[[layout.passage]]
name = "vent"
from = "bay"
to = "outside"
element = [{{ kind = "exit", area = "20 cm2" }}]
[[tied]]
values = ["passage/seams/leak/discharge", "passage/left exit/exit/discharge", "passage/vent/exit/discharge"]
"#
    );
    assert_eq!(plain(&faults(&text), &text), "");
}
