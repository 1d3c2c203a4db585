//! The pages of runs in time and of layouts: their examples are accepted, the table of headings is that of the reader.

use super::{keep, read};
use slowcorner::study::lap::record::{COLUMNS, NamedColumns, read as read_run};
use std::fmt::Write;

const BEGIN: &str = "<!-- begin: headings -->\n";
const END: &str = "<!-- end -->\n";

fn blocks<'t>(text: &'t str, language: &str) -> Vec<&'t str> {
    let begin = format!("```{language}\n");
    text.split(begin.as_str()).skip(1).filter_map(|rest| rest.split("```").next()).collect()
}

#[test]
fn the_table_of_headings_is_that_of_the_reader() {
    let text = read("docs/recorded-runs.md");
    let (before, rest) = text.split_once(BEGIN).expect("the beginning is marked");
    let (_, after) = rest.split_once(END).expect("the end is marked");
    let mut table = String::from("| read as | headings |\n| --- | --- |\n");
    for known in &COLUMNS {
        let _ = writeln!(table, "| {} | {} |", known.word, known.names.join(", "));
    }
    keep("docs/recorded-runs.md", &format!("{before}{BEGIN}{table}{END}{after}"));
}

#[test]
fn the_file_to_copy_is_read() {
    let text = read("docs/recorded-runs.md");
    let [file] = &blocks(&text, "csv")[..] else { panic!("one file to copy") };
    let measured = vec![("heads".to_string(), "CHT 2".to_string())];
    let run = read_run(file.as_bytes(), &NamedColumns { measured, ..NamedColumns::default() });
    let run = run.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(run.time, [0.0, 0.5, 1.0, 1.5, 2.0]);
    assert!(run.rpm.is_some() && run.load.is_some() && run.measured[0].kelvin[0] == 141.0 + 273.15);
}

#[test]
fn examples_of_stints_and_layouts_are_accepted() {
    let starter = read("src/cli/start/electric.toml");
    for page in ["docs/stints.md", "docs/layouts.md", "docs/recorded-runs.md"] {
        let text = read(page);
        let examples = blocks(&text, "toml");
        assert!(examples.len() > 1, "{page}");
        for example in examples {
            let case = slowcorner::case::load(&format!("{starter}\n{example}"), &[]);
            if let Err(faults) = case {
                panic!("{page}: {faults}\n{example}");
            }
        }
    }
}
