//! The reference of the case file, written from the tables of keys that read it.

use slowcorner::case::tables::{SECTIONS, TOP, TableForm, TableSection};
use slowcorner::element::{ElementKind, KINDS};
use slowcorner::keys::units::aliases;
use slowcorner::keys::{Assumed, Key, Kind, ValueShape, rules};
use slowcorner::output::explain::{accepted, kind_of, left_out, value_of};
use slowcorner::output::terms::{TERMS, WordEntry};
use slowcorner::readings::tables as r;
use std::fmt::Write;

/// Every table and every kind of element with its keys, as Markdown.
pub fn tables() -> String {
    let mut text = sections(TOP, SECTIONS);
    for kind in KINDS {
        let _ = write!(
            text,
            "\n### Element `{}`\n\n{}\n\nHolds: {}\n\nSource: {}.\n\n```toml\n{}\n```\n\n",
            kind.name,
            kind.summary,
            kind.range,
            kind.source.trim_end_matches('.'),
            kind.example
        );
        rows(&mut text, kind.keys);
    }
    text
}

/// Every table of the readings file with its keys, as Markdown.
pub fn readings() -> String {
    sections(r::TOP, r::SECTIONS)
}

fn sections(top: &[Key], sections: &[TableSection]) -> String {
    let mut text = String::from("### Top of the file\n\n");
    rows(&mut text, top);
    for section in sections {
        let heading = match section.form {
            TableForm::One => format!("[{}]", section.name),
            TableForm::Named => format!("[{}.NAME]", section.name),
            TableForm::List => format!("[[{}]]", section.name),
        };
        let _ = write!(text, "\n### `{heading}`\n\n{}.\n\n", capital(section.help));
        rows(&mut text, section.keys);
    }
    text
}

/// The page of a kind of element, as Markdown: the words written beside it, with what its table says.
///
/// `figure` is the address of its figure.
pub fn page(kind: &ElementKind, figure: Option<&str>) -> String {
    let mut keys = String::new();
    rows(&mut keys, kind.keys);
    let mut text = format!("# `{}`\n", kind.name);
    let mut rest = kind.words.trim_end();
    while let Some(section) = rest.strip_prefix("## ") {
        let (section, after) = section
            .split_once("\n## ")
            .map_or((section, ""), |(section, _)| (section, &rest["## ".len() + section.len() + 1..]));
        let (heading, body) = section.split_once('\n').unwrap_or((section, ""));
        let added = match heading.trim() {
            "What it stands for" => format!("{}\n\n```toml\n{}\n```\n", kind.summary, kind.example),
            "What to measure" => keys.clone(),
            "How it is reckoned" => {
                figure.map_or(String::new(), |address| format!("![{}]({address})\n", kind.name))
            }
            "Where it holds" => format!("{}\n", kind.range),
            "Sources" => format!("{}.\n", capital(kind.source.trim_end_matches('.'))),
            _ => String::new(),
        };
        let gap = if added.is_empty() { "" } else { "\n" };
        let _ = write!(text, "\n## {}\n\n{}\n{gap}{added}", heading.trim(), body.trim());
        rest = after;
    }
    text
}

/// Every kind of quantity with its units and their other spellings, as Markdown.
pub fn units() -> String {
    let mut text = String::from("| quantity | as in | units | also read as |\n| --- | --- | --- | --- |\n");
    for kind in Kind::ALL {
        let units = aliases(kind);
        let written: Vec<String> = units.iter().map(|unit| format!("`{}`", unit.written)).collect();
        let also: Vec<String> =
            units.iter().flat_map(|unit| unit.also).map(|word| format!("`{word}`")).collect();
        let or = |list: Vec<String>| if list.is_empty() { "–".to_string() } else { list.join(" ") };
        let _ = writeln!(text, "| {} | `{}` | {} | {} |", kind.name(), kind.example(), or(written), or(also));
    }
    text
}

fn rows(text: &mut String, keys: &[Key]) {
    text.push_str("| key | value | if left out | accepted | what it is |\n| --- | --- | --- | --- | --- |\n");
    for key in keys {
        let _ = writeln!(
            text,
            "| `{}` | {} | {} | {} | {} |",
            key.name,
            shape(key),
            required(key),
            accepted(key),
            key.help.replace('|', "\\|")
        );
        if let ValueShape::Table(inner) | ValueShape::Tables(inner) = key.shape {
            for inner_key in inner.iter().filter(|_| key.name != "day" && key.name != "passage") {
                let _ = writeln!(
                    text,
                    "| `{}/{}` | {} | {} | {} | {} |",
                    key.name,
                    inner_key.name,
                    shape(inner_key),
                    required(inner_key),
                    accepted(inner_key),
                    inner_key.help.replace('|', "\\|")
                );
            }
        }
    }
    rule_rows(text, keys);
    word_rows(text, keys);
}

/// What holds between a table's keys.
fn rule_rows(text: &mut String, keys: &[Key]) {
    let said = rules::in_words(keys);
    if !said.is_empty() {
        let _ = writeln!(text, "\nBetween keys: {}.", said.join("; "));
    }
}

/// What the words of a table's keys stand for.
fn word_rows(text: &mut String, keys: &[Key]) {
    let words = || keys.iter().flat_map(|key| key.words.iter().map(move |usual| (key, usual)));
    if words().next().is_none() {
        return;
    }
    text.push_str("\nWords that stand for what is usual, always listed as assumed:\n\n| key | word | value | band | source |\n| --- | --- | --- | --- | --- |\n");
    for (key, usual) in words() {
        let kind = kind_of(key).unwrap_or(Kind::Ratio);
        let Assumed { value, low, high, source } = usual.assumed;
        let (value, low, high) = (kind.show(value), kind.show(low), kind.show(high));
        let _ = writeln!(
            text,
            "| `{}` | `\"{}\"` | {value} | {low} to {high} | {source} |",
            key.name, usual.word
        );
    }
}

fn shape(key: &Key) -> String {
    let words: Vec<String> = key.words.iter().map(|usual| format!("`\"{}\"`", usual.word)).collect();
    let or_word = if words.is_empty() { String::new() } else { format!(", or {}", words.join(", ")) };
    value_of(key).replace("off, as set,", "`off`, `as set`,") + &or_word
}

fn required(key: &Key) -> String {
    left_out(key).replace("required", "**required**")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// docs/words.md.
pub fn words() -> String {
    let mut page = String::from(
        "# Words\n\nOne name for one thing, on every screen, picture and page. Keys of the case file and of `--json` keep theirs \
         ([case-file.md](case-file.md), [result.md](result.md)).\n\n| word | what it stands for | not |\n| --- | --- | --- |\n",
    );
    for WordEntry { word, means, not } in TERMS {
        let _ = writeln!(page, "| {word} | {means} | {} |", not.join(", "));
    }
    page
}
