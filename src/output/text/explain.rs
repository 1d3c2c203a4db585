//! An element, a table of the file or a word, explained.

use super::layout::{
    PLAIN, QUIET, STRONG, TextCell, TextColumn, TextTable, heading, item, paragraph, styled, wrap,
};
use super::short::Depth;
use crate::output::explain::{Explains, Explanation, KeyExplained};
use std::fmt::Write;

/// Headings of an element's page that stand on the short screen.
const IN_SHORT: [&str; 1] = ["What to measure"];

/// The page of one thing.
pub fn explain(found: &Explanation, written: &[String], depth: Depth) -> String {
    let mut out = String::new();
    paragraph(&mut out, STRONG, &title(found));
    paragraph(&mut out, PLAIN, &sentence(found.summary));
    let all = depth != Depth::Short;
    let examples = found.examples.iter().take(if all { usize::MAX } else { 1 });
    for example in examples {
        let _ = writeln!(out, "\n  {example}");
    }
    keys(&mut out, &found.keys, all);
    for rule in &found.between_keys {
        item(&mut out, 0, "Between keys: ", &format!("{rule}."));
    }
    if !found.usual.is_empty() {
        heading(&mut out, "Words that stand for what is usual, always listed as assumed");
    }
    for usual in &found.usual {
        let text = format!(
            "{} = \"{}\": {}, {} to {} ({})",
            usual.key, usual.word, usual.value, usual.low, usual.high, usual.source
        );
        item(&mut out, 0, "- ", &text);
    }
    for section in found.page.iter().filter(|section| all || IN_SHORT.contains(&section.heading)) {
        heading(&mut out, section.heading);
        body(&mut out, &section.text);
        match section.heading {
            "Where it holds" => paragraph(&mut out, PLAIN, &sentence(found.holds)),
            "Sources" => paragraph(&mut out, PLAIN, &sentence(found.source)),
            _ => {}
        }
    }
    if found.explains == Explains::Element {
        out.push('\n');
        for file in written {
            item(&mut out, 0, "Written  ", file);
        }
        if !all {
            let more = "How it is reckoned, where it holds, sources, what is accepted: --detail. Its figure: --into FOLDER";
            paragraph(&mut out, QUIET, more);
        }
    }
    out
}

/// Everything that can be explained, each in a line.
pub fn explained(all: &[Explanation]) -> String {
    let mut out = String::new();
    paragraph(&mut out, STRONG, "What slowcorner explain NAME tells of");
    for (what, said) in [
        (Explains::Element, "Kinds of element"),
        (Explains::Table, "Tables of the case file and of the readings file"),
        (Explains::Word, "Words"),
    ] {
        heading(&mut out, said);
        let mut table = TextTable::new(vec![
            (TextColumn::Left, "name".into()),
            (TextColumn::Wrapped, "what it stands for".into()),
        ]);
        for found in all.iter().filter(|found| found.explains == what) {
            let first = found.summary.split_once(". ").map_or(found.summary, |(first, _)| first);
            table.row(vec![TextCell::new(STRONG, found.name), first.trim_end_matches('.').into()]);
        }
        table.write(&mut out);
    }
    out
}

fn title(found: &Explanation) -> String {
    let also = found.also.join(", ");
    match (found.explains, also.is_empty()) {
        (Explains::Element, true) => format!("Element {}", found.name),
        (Explains::Element, false) => format!("Element {} (also called {also})", found.name),
        (Explains::Word, false) => format!("{} (not: {also})", found.name),
        (Explains::Word, true) => found.name.to_string(),
        _ => found.written.clone().unwrap_or_else(|| found.name.to_string()),
    }
}

fn sentence(text: &str) -> String {
    let text = text.replace('`', "");
    let mut letters = text.trim_end_matches('.').chars();
    let first = letters.next().map_or(String::new(), |first| first.to_uppercase().collect());
    if text.is_empty() { String::new() } else { format!("{first}{}.", letters.as_str()) }
}

fn keys(out: &mut String, keys: &[KeyExplained], all: bool) {
    if keys.is_empty() {
        return;
    }
    out.push('\n');
    for key in keys {
        let left_out = match key.if_left_out.as_str() {
            "required" => "required".to_string(),
            "–" => String::new(),
            taken => format!("left out: {taken}"),
        };
        let accepted =
            if all && key.accepted != "–" { format!("accepted: {}", key.accepted) } else { String::new() };
        let facts: Vec<String> =
            [key.value.clone(), left_out, accepted].into_iter().filter(|fact| !fact.is_empty()).collect();
        item(out, 0, &format!("{:<22} ", key.key), &key.what.replace('`', ""));
        for line in wrap(&facts.join("; "), super::layout::width() - 23) {
            let _ = writeln!(out, "{:23}{}", "", styled(QUIET, &line));
        }
    }
}

/// The text below a heading: paragraphs, rows of tables, and formulas as they stand.
fn body(out: &mut String, text: &str) {
    for (index, block) in text.split("\n\n").enumerate() {
        if index > 0 {
            out.push('\n');
        }
        if block.starts_with('|') {
            for row in block.lines().filter(|row| !row.starts_with("| ---")) {
                let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
                item(out, 2, "", &cells.join(" · "));
            }
        } else if block.starts_with("    ") {
            let _ = writeln!(out, "{block}");
        } else {
            paragraph(out, PLAIN, &block.replace('\n', " "));
        }
    }
}
