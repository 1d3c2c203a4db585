//! Pages that are written by the program: elements, figures, units.

use super::{keep, read, reference};
use slowcorner::element::KINDS;
use slowcorner::output::charts::Picture;
use slowcorner::output::figures;

/// The headings of a page, in their order.
const HEADINGS: [&str; 6] = [
    "What it stands for",
    "What to measure",
    "How it is reckoned",
    "Where it holds",
    "What it was checked against",
    "Sources",
];

#[test]
fn every_element_has_its_page_and_figure() {
    let mut list =
        String::from("# Elements\n\nThe links of a passage, in the order of their list in the program.\n\n");
    let mut drawn = 0;
    for kind in KINDS {
        let words = kind.words;
        let headings: Vec<&str> = words.lines().filter_map(|line| line.strip_prefix("## ")).collect();
        assert_eq!(headings, HEADINGS, "{}", kind.name);
        let mut figure = None;
        for (name, draw) in kind.figures {
            let chart = figures::chart(draw().expect("a figure"));
            let svg = chart.svg().unwrap_or_else(|error| panic!("{} {name}: {error}", kind.name));
            let file = format!("figures/{}.svg", [kind.name, name].join("-").trim_end_matches('-'));
            keep(&format!("docs/{file}"), &svg);
            if name.is_empty() {
                drawn += 1;
                figure = Some(format!("../{file}"));
            } else {
                assert!(
                    words.contains(&format!("](../{file})")),
                    "the page of {} does not show {file}",
                    kind.name
                );
            }
        }
        let page = reference::page(kind, figure.as_deref());
        let written: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("## ")).collect();
        assert_eq!(written, HEADINGS, "{}", kind.name);
        for (name, what) in [("its example", kind.example), ("its source", &kind.source[1..20])] {
            assert!(page.contains(what), "the page of {} lacks {name}", kind.name);
        }
        keep(&format!("docs/elements/{}.md", kind.name), &page);
        let first = kind.summary.split_once(". ").map_or(kind.summary, |(first, _)| first);
        list += &format!("- [`{0}`]({0}.md): {1}\n", kind.name, first.trim_end_matches('.'));
    }
    assert!(drawn >= 10, "only {drawn} figures");
    keep("docs/elements/README.md", &list);
}

#[test]
fn the_words_are_those_of_the_program() {
    keep("docs/words.md", &reference::words());
}

#[test]
fn every_unit_stands_on_its_page() {
    let page = read("docs/units.md");
    let (head, _) = page.split_once("| quantity").expect("a table");
    let table = reference::units();
    for unit in ["`mmH2O`", "`PS`", "`degF`", "`gal/min`"] {
        assert!(table.contains(unit), "no {unit}");
    }
    keep("docs/units.md", &format!("{head}{table}"));
}

/// Every value that the program may assume within a band says what it is and, behind a semicolon, how to measure it.
#[test]
fn whatever_is_assumed_says_how_to_measure_it() {
    use slowcorner::case::tables::SECTIONS;
    use slowcorner::element::KINDS;
    use slowcorner::keys::{Key, Need, ValueShape};
    fn walk(keys: &'static [Key], place: &str, silent: &mut Vec<String>, seen: &mut usize) {
        for key in keys {
            if let Need::Default(assumed) = key.need
                && assumed.low < assumed.high
            {
                *seen += 1;
                let how = key.help.rsplit_once("; ").map_or("", |(_, how)| how);
                if how.len() < 8 {
                    silent.push(format!("{place}/{}: {}", key.name, key.help));
                }
            }
            if let ValueShape::Table(inner) | ValueShape::Tables(inner) = key.shape {
                walk(inner, &format!("{place}/{}", key.name), silent, seen);
            }
        }
    }
    let (mut silent, mut seen) = (Vec::new(), 0);
    for section in SECTIONS {
        walk(section.keys, section.name, &mut silent, &mut seen);
    }
    for kind in KINDS {
        walk(kind.keys, kind.name, &mut silent, &mut seen);
    }
    assert!(seen > 40, "{seen}");
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}
