//! Keeps the pages of docs/ current and their examples sound.
//!
//! `SLOWCORNER_WRITE_DOCS=1 cargo test --test program docs::` writes the reference, the pages of the
//! elements with their figures, the units and the wrong entries anew.

mod examples;
mod pages;
mod reference;
mod run_slips;
mod runs;
mod slips;
mod wrong_entries;
mod wrong_readings;

use slowcorner::case::tables::TableSection;
use slowcorner::keys::{Key, ValueShape};
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
fn the_reference_of_readings_is_that_of_the_tables() {
    let text = read("docs/readings.md");
    let (before, rest) = text.split_once(BEGIN).expect("the beginning is marked");
    let (_, after) = rest.split_once(END).expect("the end is marked");
    keep("docs/readings.md", &format!("{before}{BEGIN}{}{END}{after}", reference::readings()));
}

#[test]
fn the_readings_of_the_page_are_accepted() {
    let case = slowcorner::case::load(&read("cases/quarry-sprinter.toml"), &[]).expect("a sound case");
    let text = read("docs/readings.md");
    let example =
        text.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next()).expect("an example");
    let readings =
        slowcorner::readings::file::load(example, &case).unwrap_or_else(|faults| panic!("{faults:#?}"));
    assert!(readings.tests.len() >= 3, "the example shows what there is");
    // every fault of the file stands on the page with its code
    let sources =
        ["blower", "file", "scenes", "shown", "target"].map(|name| read(&format!("src/readings/{name}.rs")));
    let quoted = sources.iter().flat_map(|source| source.split('"'));
    let is_code = |word: &&str| {
        word.contains('-')
            && word.chars().all(|c| c.is_ascii_lowercase() || c == '-')
            && !word.starts_with('-')
    };
    let codes: Vec<&str> = quoted.filter(is_code).filter(|word| *word != "u-tube").collect();
    assert!(codes.len() > 15, "{codes:?}");
    for code in codes {
        assert!(text.contains(&format!("`{code}`")), "docs/readings.md does not tell of {code}");
    }
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
        "docs/readings.md",
        "docs/fit.md",
        "docs/layouts.md",
        "docs/units.md",
        "docs/wrong-entries.md",
        "docs/wrong-readings.md",
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

#[test]
fn no_two_names_of_keys_are_found_by_the_same_number() {
    fn gather(keys: &[Key], found: &mut std::collections::BTreeMap<u32, &'static str>) {
        for key in keys {
            let before = found.insert(key.id, key.name);
            assert!(
                before.is_none_or(|before| before == key.name),
                "{} and {}",
                key.name,
                before.unwrap_or("")
            );
            if let ValueShape::Table(keys) | ValueShape::Tables(keys) = key.shape {
                gather(keys, found);
            }
        }
    }
    let mut found = std::collections::BTreeMap::new();
    let of_sections = |sections: &'static [TableSection]| sections.iter().map(|section| section.keys);
    let kinds = slowcorner::element::KINDS.iter().map(|kind| kind.keys);
    let readings = slowcorner::readings::tables::SECTIONS;
    let tables = [slowcorner::case::tables::TOP, slowcorner::readings::tables::TOP].into_iter();
    let tables = tables.chain(of_sections(slowcorner::case::tables::SECTIONS)).chain(of_sections(readings));
    tables.chain(kinds).for_each(|keys| gather(keys, &mut found));
    assert!(found.len() > 200, "{}", found.len());
    // published: FNV-1a of 32 bits of "a" is e40c292c and of "foobar" bf9cf968 (Fowler, Noll & Vo, test suite, from memory)
    assert_eq!(Key::open("a", ValueShape::Text, "").id, 0xe40c_292c);
    assert_eq!(Key::open("foobar", ValueShape::Text, "").id, 0xbf9c_f968);
}
