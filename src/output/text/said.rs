//! A page in words, before it is laid out: the same on the terminal, on paper and in the report.

use super::layout::{MISSED, PLAIN, QUIET, STRONG, item, paragraph, styled};
use std::fmt::Write;

/// Room for the word before what is said of it (characters).
const WORD: usize = 9;
/// Indent of that word.
const INDENT: usize = 3;

/// One thing that is said.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::output) enum Said {
    /// A paragraph.
    Plain(String),
    /// What must not be passed over.
    Alarm(String),
    /// A heading with air above it.
    Heading(String),
    /// A word, and what is said of it.
    Row(&'static str, String),
    /// What may be passed over.
    Quiet(String),
}

/// All of it as text for a terminal.
pub(super) fn as_text(out: &mut String, said: &[Said]) {
    for each in said {
        match each {
            Said::Plain(text) => paragraph(out, PLAIN, text),
            Said::Alarm(text) => paragraph(out, MISSED, text),
            Said::Heading(text) => {
                let _ = writeln!(out, "\n{}", styled(STRONG, text));
            }
            Said::Row("", text) => item(out, INDENT, "", text),
            Said::Row(word, text) => item(out, 0, &format!("{:INDENT$}{word:<WORD$}", ""), text),
            Said::Quiet(text) => {
                out.push('\n');
                paragraph(out, QUIET, text);
            }
        }
    }
}
