//! Keeps the pages of docs/ current and their examples sound.
//!
//! `SLOWCORNER_WRITE_DOCS=1 cargo test --test docs` writes the reference, the pages of the
//! elements with their figures, the units and the wrong entries anew.

mod pages;
mod run_slips;
mod runs;
mod slips;
mod wrong_entries;

use slowcorner::output::reference;
use std::path::{Path, PathBuf};

const BEGIN: &str = "<!-- begin: written from the tables of keys -->\n";
const END: &str = "<!-- end -->\n";

fn page(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn read(name: &str) -> String {
    std::fs::read_to_string(page(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Holds a page against what it should be, or writes it.
fn keep(name: &str, current: &str) {
    if std::env::var_os("SLOWCORNER_WRITE_DOCS").is_some() {
        std::fs::write(page(name), current).unwrap_or_else(|error| panic!("{name}: {error}"));
        return;
    }
    assert!(current == read(name), "{name} is out of date: see the head of this test");
}

#[test]
fn the_reference_is_that_of_the_tables() {
    let text = read("docs/case-file.md");
    let (before, rest) = text.split_once(BEGIN).expect("the beginning is marked");
    let (_, after) = rest.split_once(END).expect("the end is marked");
    let current = format!("{before}{BEGIN}{}{END}{after}", reference::tables());
    keep("docs/case-file.md", &current);
}

#[test]
fn example_cases_of_the_pages_are_accepted() {
    let text = read("docs/case-file.md");
    let mut found = 0;
    for block in text.split("```toml\n").skip(1) {
        let example = block.split("```").next().unwrap_or_default();
        if !example.starts_with("format = 1") {
            continue;
        }
        let loaded = slowcorner::case::load(example, &[]).unwrap_or_else(|faults| panic!("{faults:?}"));
        slowcorner::point::Model::new(&loaded.case).unwrap_or_else(|faults| panic!("{faults:?}"));
        found += 1;
    }
    assert_eq!(found, 1);
}

#[test]
fn pages_link_to_files_that_are_there() {
    for name in [
        "README.md",
        "DEVELOPERS.md",
        "docs/commands.md",
        "docs/trap.md",
        "docs/words.md",
        "docs/case-file.md",
        "docs/model.md",
        "docs/limits.md",
        "docs/result.md",
        "docs/measuring.md",
        "docs/recorded-runs.md",
        "docs/stints.md",
        "docs/layouts.md",
        "docs/units.md",
        "docs/wrong-entries.md",
        "docs/elements/README.md",
        "docs/elements/fan.md",
    ] {
        let text = read(name);
        let folder = page(name).parent().expect("a folder").to_path_buf();
        for piece in text.split("](").skip(1) {
            let target = piece.split(')').next().unwrap_or_default();
            if target.starts_with("http") || target.starts_with('#') {
                continue;
            }
            assert!(folder.join(target).exists(), "{name} links to {target}");
        }
    }
}
