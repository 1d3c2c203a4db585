//! What the program knows of a kind of element, of a table of the files, or of a word of its own.

use super::terms::TERMS;
use crate::case::tables::{SECTIONS, TableForm, TableSection};
use crate::element::{ElementKind, KINDS};
use crate::keys::word::words;
use crate::keys::{Assumed, Key, Kind, Need, Range, ValueShape, rules};
use crate::readings::tables as readings;
use serde::Serialize;

words! {
    /// What can be explained.
    pub enum Explains {
        /// A kind of element.
        Element = "element",
        /// A table of the case file or of the readings file.
        Table = "table",
        /// A word of the program's own.
        Word = "word",
    }
}

/// Something explained.
#[derive(Clone, Debug, Serialize)]
pub struct Explanation {
    /// What it is.
    pub explains: Explains,
    pub name: &'static str,
    /// How a table is written.
    pub written: Option<String>,
    /// What builders call it first; of a word what is not said for it.
    pub also: &'static [&'static str],
    /// What it stands for.
    pub summary: &'static str,
    /// Examples, one of each form.
    pub examples: Vec<&'static str>,
    /// The page of an element, heading by heading.
    pub page: Vec<PageSection>,
    pub keys: Vec<KeyExplained>,
    /// What holds between its keys.
    pub between_keys: Vec<String>,
    /// Words that stand for what is usual.
    pub usual: Vec<UsualExplained>,
    /// Where the law holds.
    pub holds: &'static str,
    /// Where the law comes from.
    pub source: &'static str,
}

/// A heading of a page with what stands below it.
#[derive(Clone, Debug, Serialize)]
pub struct PageSection {
    pub heading: &'static str,
    pub text: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct KeyExplained {
    /// The key; that of a table within with a slash.
    pub key: String,
    /// What may stand behind it.
    pub value: String,
    /// What is taken where it is left out; "required" or "–".
    pub if_left_out: String,
    /// What is accepted; "–" where everything is.
    pub accepted: String,
    /// What it is, and how to measure it.
    pub what: &'static str,
}

/// A word that stands for what is usual.
#[derive(Clone, Debug, Serialize)]
pub struct UsualExplained {
    pub key: &'static str,
    pub word: &'static str,
    /// The value taken.
    pub value: String,
    /// Low end of its band.
    pub low: String,
    /// High end of its band.
    pub high: String,
    /// Where both come from.
    pub source: &'static str,
}

/// Everything that can be explained.
pub fn all() -> impl Iterator<Item = Explanation> {
    let tables = SECTIONS.iter().map(|section| of_table(section, ""));
    let readings = readings::SECTIONS.iter().map(|section| of_table(section, "readings/"));
    KINDS.iter().map(|kind| of_element(kind)).chain(tables).chain(readings).chain(of_words())
}

/// The explanation of a name, or of a word that builders try first for it.
pub fn of(name: &str) -> Option<Explanation> {
    let is = |other: &str| name.trim().eq_ignore_ascii_case(other);
    let known = all().find(|found| is(found.name));
    known.or_else(|| KINDS.iter().find(|kind| kind.is_also(name.trim())).map(|kind| of_element(kind)))
}

fn of_element(kind: &ElementKind) -> Explanation {
    let mut page = Vec::new();
    let mut rest = kind.words.trim_end();
    while let Some(section) = rest.strip_prefix("## ") {
        let end = section.find("\n## ").map_or(section.len(), |end| end + 1);
        let (heading, body) = section[..end].split_once('\n').unwrap_or((section, ""));
        page.push(PageSection { heading: heading.trim(), text: plain(body) });
        rest = &section[end..];
    }
    Explanation {
        explains: Explains::Element,
        also: kind.also,
        examples: [&[kind.example][..], kind.further_examples].concat(),
        page,
        holds: kind.range,
        source: kind.source,
        ..with_keys(kind.name, kind.summary, kind.keys)
    }
}

fn of_table(section: &'static TableSection, file: &str) -> Explanation {
    let name = section.name;
    let written = match section.form {
        TableForm::One => format!("[{name}]"),
        TableForm::Named => format!("[{name}.NAME]"),
        TableForm::List => format!("[[{name}]]"),
    };
    let written = if file.is_empty() { written } else { format!("{written} of the readings file") };
    Explanation { written: Some(written), ..with_keys(name, section.help, section.keys) }
}

fn of_words() -> impl Iterator<Item = Explanation> {
    TERMS.iter().map(|term| Explanation {
        explains: Explains::Word,
        also: term.not,
        ..with_keys(term.word, term.means, &[])
    })
}

fn with_keys(name: &'static str, summary: &'static str, keys: &[Key]) -> Explanation {
    let usual =
        keys.iter().flat_map(|key| key.words.iter().map(move |usual| (key, usual))).map(|(key, usual)| {
            let kind = kind_of(key).unwrap_or(Kind::Ratio);
            let (value, low, high) =
                (kind.show(usual.assumed.value), kind.show(usual.assumed.low), kind.show(usual.assumed.high));
            UsualExplained { key: key.name, word: usual.word, value, low, high, source: usual.assumed.source }
        });
    Explanation {
        explains: Explains::Table,
        name,
        written: None,
        also: &[],
        summary,
        examples: Vec::new(),
        page: Vec::new(),
        keys: keys.iter().flat_map(of_key).collect(),
        between_keys: rules::in_words(keys).iter().map(|rule| plain(rule)).collect(),
        usual: usual.collect(),
        holds: "",
        source: "",
    }
}

/// A key, with those of the table behind it.
fn of_key(key: &Key) -> Vec<KeyExplained> {
    let one = |key: &Key, name: String| KeyExplained {
        key: name,
        value: key.words.iter().fold(value_of(key), |text, usual| format!("{text}, or \"{}\"", usual.word)),
        if_left_out: left_out(key),
        accepted: accepted(key),
        what: key.help,
    };
    let mut found = vec![one(key, key.name.to_string())];
    if let ValueShape::Table(inner) | ValueShape::Tables(inner) = key.shape {
        // these two are explained under names of their own
        let inner = inner.iter().filter(|_| key.name != "day" && key.name != "passage");
        found.extend(inner.map(|inner| one(inner, format!("{}/{}", key.name, inner.name))));
    }
    found
}

/// A text of a page without its signs for pictures, links and code.
fn plain(text: &str) -> String {
    let (mut lines, mut formula) = (Vec::new(), false);
    for line in text.trim().lines().filter(|line| !line.starts_with("![")) {
        match (line.starts_with("```"), formula) {
            (true, _) => formula = !formula,
            (false, true) => lines.push(format!("    {line}")),
            (false, false) => lines.push(line.replace('`', "")),
        }
    }
    let text = lines.join("\n").replace("**", "");
    let mut told = String::new();
    let mut rest = text.as_str();
    while let Some((before, link)) = rest.split_once('[') {
        let parts =
            link.split_once("](").and_then(|(said, address)| Some((said, address.split_once(')')?.1)));
        told.push_str(before);
        rest = match parts {
            Some((said, after)) if !said.contains('\n') || !said.contains('[') => {
                told.push_str(said);
                after
            }
            _ => {
                told.push('[');
                link
            }
        };
    }
    told + rest
}

/// What may stand behind a key, its usual words aside.
pub fn value_of(key: &Key) -> String {
    match &key.shape {
        ValueShape::Number(kind) => number(*kind),
        ValueShape::Either(kinds) => {
            let each: Vec<String> = kinds.iter().map(|kind| number(*kind)).collect();
            each.join("; or ")
        }
        ValueShape::Numbers(kind) => format!("list: {}", number(*kind)),
        ValueShape::Pairs(x, y) => format!("list of pairs: {}, {}", number(*x), number(*y)),
        ValueShape::NumberOrPairs(Kind::Ratio, kind) => format!("{}, or a list of pairs", number(*kind)),
        ValueShape::NumberOrPairs(x, kind) => {
            format!("{}, or a list of pairs: {}, {}", number(*kind), number(*x), number(*kind))
        }
        ValueShape::Text => "text".into(),
        ValueShape::Flag => "true or false".into(),
        ValueShape::Word(words) => words.join(", "),
        ValueShape::Name(_) => "a name".into(),
        ValueShape::Names(_) => "names".into(),
        ValueShape::Groups => "names, lists of names".into(),
        ValueShape::NameLists(_) => "table of lists of names".into(),
        ValueShape::Table(_) => "table".into(),
        ValueShape::Tables(_) => "table, or list of tables".into(),
        ValueShape::Map(kind, _) => format!("names: {}", number(*kind)),
        ValueShape::NumberOrMap(kind, other, _) => {
            let other = other.map_or(String::new(), |other| format!(" or {}", number(other)));
            format!("{}{other}, or by name", number(*kind))
        }
        ValueShape::Settings => "addresses with values".into(),
        ValueShape::Fans => "off, as set, or a table by passage of these and rotational speeds".into(),
        ValueShape::Elements => "list of elements".into(),
    }
}

fn number(kind: Kind) -> String {
    format!("{}, as {}", kind.name(), kind.example())
}

/// What is taken where it is left out.
pub fn left_out(key: &Key) -> String {
    match key.need {
        Need::Required => "required".into(),
        Need::Optional => "–".into(),
        Need::Default(assumed) => {
            let kind = match key.shape {
                ValueShape::Number(kind) => kind,
                _ => Kind::Ratio,
            };
            let cooled = key
                .cooled_by
                .iter()
                .map(|(element, own)| format!("; cooled by {element}: {}", taken(kind, own)));
            std::iter::once(taken(kind, &assumed)).chain(cooled).collect()
        }
    }
}

/// A value with its band and where it comes from.
fn taken(kind: Kind, assumed: &Assumed) -> String {
    let value = kind.show(assumed.value);
    if assumed.low == assumed.high {
        format!("{value} ({})", assumed.source)
    } else {
        format!("{value}; {} to {} ({})", kind.show(assumed.low), kind.show(assumed.high), assumed.source)
    }
}

/// Its kind of quantity; none where it holds no number.
pub fn kind_of(key: &Key) -> Option<Kind> {
    match key.shape {
        ValueShape::Number(kind)
        | ValueShape::Numbers(kind)
        | ValueShape::Map(kind, _)
        | ValueShape::NumberOrMap(kind, _, _)
        | ValueShape::NumberOrPairs(_, kind)
        | ValueShape::Pairs(_, kind) => Some(kind),
        _ => None,
    }
}

pub fn accepted(key: &Key) -> String {
    let Some(kind) = kind_of(key) else { return "–".into() };
    if key.range == Range::ANY { "–".into() } else { key.range.in_words(kind) }
}
