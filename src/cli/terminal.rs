//! What goes to the terminal: nothing that steers it but our own colours, and no failed write unnoticed.

use super::Failure;
use crate::case::limits::steers;
use std::io::{ErrorKind, Write};

/// Writes text to standard output; a reader that has gone away is no fault, anything else is told.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = anstream::stdout();
    // line ends are kept apart from the text, so that an empty result is an empty line
    match writeln!(out, "{}", steered_by_us(text.trim_end())).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => Err(Failure::Unsaid(format!(
            "standard output took only a part of the answer: {error}\nWhat to do: make room there, or send it elsewhere"
        ))),
        _ => Ok(()),
    }
}

/// Writes JSON to standard output. What would steer a terminal stands in strings alone, and is escaped there.
pub(super) fn print_json(text: &str) -> Result<(), Failure> {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\n' => escaped.push(c),
            // all of them lie in the first plane, where one escape of four digits is enough
            c if steers(c) => escaped.push_str(&format!("\\u{:04x}", u32::from(c))),
            c => escaped.push(c),
        }
    }
    print(&escaped)
}

/// Writes text to standard error; where that cannot be written there is nobody left to tell.
pub(super) fn complain(text: &str) {
    let _ = writeln!(anstream::stderr(), "{}", steered_by_us(text.trim_end()));
}

/// Text in which only line ends, tabs and colours are left of what steers a terminal.
fn steered_by_us(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        match c {
            '\n' | '\t' => safe.push(c),
            '\r' if text[at + 1..].starts_with('\n') => {}
            '\u{1b}' if is_colour(&text[at + 1..]) => safe.push(c),
            c if steers(c) => safe.push('\u{FFFD}'),
            c => safe.push(c),
        }
    }
    safe
}

/// Whether what follows an escape is a colour: `[`, digits and semicolons, `m`.
fn is_colour(rest: &str) -> bool {
    let digits =
        rest.strip_prefix('[').map(|rest| rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == ';'));
    digits.is_some_and(|rest| rest.starts_with('m'))
}
