//! A sound case of an invented car, and what an edit of it brings to light.

use anstream::adapter::strip_str;
use slowcorner::case::render::render;
use slowcorner::case::{Diagnostic, FaultPlace, Loaded, load};

/// A sound case that uses every table of the file. The car is invented.
pub const BASE: &str = include_str!("base.toml");

/// The base case with one piece of text replaced; the piece must stand there once.
pub fn edited(from: &str, to: &str) -> String {
    assert_eq!(BASE.matches(from).count(), 1, "{from:?} must stand once in the base case");
    BASE.replacen(from, to, 1)
}

/// The base case with a piece of text added at its end.
pub fn with(more: &str) -> String {
    format!("{BASE}{more}\n")
}

/// Addresses with the texts they are set to.
pub fn settings(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
    pairs.iter().map(|(address, text)| (address.to_string(), text.to_string())).collect()
}

/// The base case with addresses set, which must be sound.
pub fn set(pairs: &[(&str, &str)]) -> Loaded {
    match load(BASE, &settings(pairs)) {
        Ok(loaded) => loaded,
        Err(faults) => panic!("{pairs:?} is refused:\n{}", plain(faults.list(), BASE)),
    }
}

/// A number of the base case with addresses set.
pub fn number(pairs: &[(&str, &str)], address: &str) -> f64 {
    let case = set(pairs).case;
    let id = case.numbers.find(address).unwrap_or_else(|| panic!("no number at {address}"));
    case.numbers.value(id)
}

/// All faults of a text with addresses set.
pub fn faults_with(text: &str, pairs: &[(&str, &str)]) -> Vec<Diagnostic> {
    match load(text, &settings(pairs)) {
        Ok(_) => Vec::new(),
        Err(faults) => faults.list().to_vec(),
    }
}

/// All faults of a text.
pub fn faults(text: &str) -> Vec<Diagnostic> {
    faults_with(text, &[])
}

/// The faults as a builder reads them, without styles.
pub fn plain(faults: &[Diagnostic], text: &str) -> String {
    strip_str(&render(faults, "car.toml", text)).to_string()
}

/// The one fault of a text.
pub fn sole(text: &str) -> Diagnostic {
    sole_with(text, &[])
}

/// The one fault of a text with addresses set.
pub fn sole_with(text: &str, pairs: &[(&str, &str)]) -> Diagnostic {
    let found = faults_with(text, pairs);
    let [fault] = &found[..] else {
        panic!("one fault was expected:\n{}", plain(&found, text));
    };
    assert!(!fault.what_to_do.trim().is_empty(), "{} names no way out", fault.code);
    fault.clone()
}

/// What a fault underlines; `--set ADDRESS=TEXT` for one of the command line.
pub fn underlined(fault: &Diagnostic, text: &str) -> String {
    match &fault.place {
        FaultPlace::Span(span) => text[span.clone()].to_string(),
        FaultPlace::Override { address, text } => format!("--set {address}={text}"),
        FaultPlace::Address { address, part, .. } => address[part.clone()].to_string(),
        FaultPlace::Whole => String::new(),
    }
}

/// Line and column of a byte, both from one, the column in characters.
pub fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let line = text[..at].split('\n').count();
    let column = text[..at].rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    (line, column)
}

/// An edit of the base case, and the one fault that it must raise.
pub struct Edit {
    /// The text to be replaced, and what by; an empty one stands for the end of the file.
    pub edit: (&'static str, &'static str),
    /// The fault's code.
    pub code: &'static str,
    /// The text it underlines: the first such within the edit, else the only one in the case.
    pub at: &'static str,
    /// Words of its message.
    pub says: &'static str,
}

/// Short for [`Edit`].
pub const fn edit(
    from: &'static str,
    to: &'static str,
    code: &'static str,
    at: &'static str,
    says: &'static str,
) -> Edit {
    Edit { edit: (from, to), code, at, says }
}

/// Holds every edit against its fault, and tells all that differ at once; what the builder reads is
/// kept as a snapshot of that name.
pub fn hold(name: &str, edits: &[Edit]) {
    let mut wrong = Vec::new();
    let mut read = String::new();
    for Edit { edit: (from, to), code, at, says } in edits {
        let text = if from.is_empty() { with(to) } else { edited(from, to) };
        let found = faults(&text);
        read += &format!("---- {from:?} -> {to:?}\n{}\n", plain(&found, &text));
        let codes: Vec<&str> = found.iter().map(|fault| fault.code).collect();
        let complaint =
            crate::diagnostics::schema::disagreement(&text, &codes).or_else(|| match &found[..] {
                [fault] => {
                    let begin = if from.is_empty() { BASE.len() } else { BASE.find(from).unwrap_or(0) };
                    let start = text[begin..begin + to.len()].find(at).map(|offset| begin + offset);
                    complaint(fault, &text, (code, at, says), start)
                }
                _ => Some(format!("{} faults where one was expected", found.len())),
            });
        if let Some(complaint) = complaint {
            wrong.push(format!("{from:?} -> {to:?}\n  {complaint}\n{}", plain(&found, &text)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n----\n"));
    insta::with_settings!({ prepend_module_to_snapshot => false, omit_expression => true }, {
        insta::assert_snapshot!(name, read);
    });
}

fn complaint(
    fault: &Diagnostic,
    text: &str,
    (code, at, says): (&str, &str, &str),
    start: Option<usize>,
) -> Option<String> {
    if fault.code != code {
        return Some(format!("code {:?}, not {code:?}", fault.code));
    }
    if !fault.message.contains(says) {
        return Some(format!("the message does not say {says:?}"));
    }
    if fault.what_to_do.trim().is_empty() {
        return Some("no way out".to_string());
    }
    if underlined(fault, text) != at {
        return Some(format!("underlines {:?}, not {at:?}", underlined(fault, text)));
    }
    let rendered = plain(std::slice::from_ref(fault), text);
    if at.is_empty() {
        let whole = rendered.contains("  car.toml\n");
        return (!whole).then(|| "it is not shown as one of the whole file".to_string());
    }
    let starts: Vec<usize> = text.match_indices(at).map(|(start, _)| start).collect();
    let start = match (start, &starts[..]) {
        (Some(start), _) => start,
        (None, [start]) => *start,
        _ => return Some(format!("{at:?} does not stand in the case once")),
    };
    let (line, column) = line_and_column(text, start);
    let place = format!("  car.toml, line {line}, column {column}\n");
    (!rendered.contains(&place)).then(|| format!("it is not shown at line {line}, column {column}"))
}
