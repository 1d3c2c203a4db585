//! The case file as a tree of spanned nodes, before anything is known of its meaning.

use super::diagnostic::{Diagnostic, FaultPlace};
use super::syntax;
use crate::keys::SourceLocation;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Largest case file that is read (bytes).
pub const LARGEST: u64 = 1 << 20;

/// A value with its place in the file.
#[derive(Clone, Debug)]
pub struct Node {
    /// Bytes it takes up in the file.
    pub span: Range<usize>,
    /// Address and text of the override that put it here, if one did.
    pub set: Option<(String, String)>,
    /// The value.
    pub tree: Tree,
}

/// What a node is.
#[derive(Clone, Debug)]
pub enum Tree {
    Text(String),
    /// A bare number.
    Number(f64),
    /// `true` or `false`.
    Flag(bool),
    List(Vec<Node>),
    /// A table, in the order of the file.
    Table(Vec<TableEntry>),
    /// Something no case file holds: a date.
    Other,
}

#[derive(Clone, Debug)]
pub struct TableEntry {
    /// The key as written.
    pub key: String,
    /// Bytes it takes up.
    pub key_span: Range<usize>,
    /// What stands behind it.
    pub value: Node,
}

impl TableEntry {
    /// Where a fault in its key is shown.
    pub fn key_place(&self) -> FaultPlace {
        match &self.value.set {
            Some((address, text)) => FaultPlace::of_word(address, text, Some(&self.key)),
            None => FaultPlace::Span(self.key_span.clone()),
        }
    }

    /// Where its key comes in the file; last where an override put it there.
    pub fn position(&self) -> usize {
        if self.value.set.is_some() { usize::MAX } else { self.key_span.start }
    }
}

impl Node {
    /// Where it comes in the file; last where an override put it there.
    pub fn position(&self) -> usize {
        if self.set.is_some() { usize::MAX } else { self.span.start }
    }

    /// An empty table without a place of its own.
    pub fn empty_table() -> Node {
        Node { span: 0..0, set: None, tree: Tree::Table(Vec::new()) }
    }

    /// Where a fault in it is shown.
    pub fn place(&self) -> FaultPlace {
        match &self.set {
            Some((address, text)) => FaultPlace::Override { address: address.clone(), text: text.clone() },
            None => FaultPlace::Span(self.span.clone()),
        }
    }

    /// The same, for what is kept of it.
    pub fn written(&self) -> SourceLocation {
        match &self.set {
            Some((address, text)) => {
                SourceLocation::Override { address: address.clone(), text: text.clone() }
            }
            None => SourceLocation::File(self.span.clone()),
        }
    }

    /// Its entries, if it is a table.
    pub fn entries(&self) -> &[TableEntry] {
        match &self.tree {
            Tree::Table(entries) => entries,
            _ => &[],
        }
    }

    /// The value behind a key.
    pub fn get(&self, key: &str) -> Option<&Node> {
        self.entries().iter().find(|entry| entry.key == key).map(|entry| &entry.value)
    }

    /// Its members, one alone counting as a list of one.
    pub fn members(&self) -> &[Node] {
        match &self.tree {
            Tree::List(members) => members,
            _ => std::slice::from_ref(self),
        }
    }

    pub fn text(&self) -> Option<&str> {
        match &self.tree {
            Tree::Text(text) => Some(text),
            _ => None,
        }
    }

    /// What it is, in words.
    pub fn in_words(&self) -> &'static str {
        match self.tree {
            Tree::Text(_) => "text",
            Tree::Number(_) => "a bare number",
            Tree::Flag(_) => "true or false",
            Tree::List(_) => "a list",
            Tree::Table(_) => "a table",
            Tree::Other => "a date",
        }
    }

    /// Marks it, and all it holds, as put here by an override.
    pub fn mark(&mut self, address: &str, text: &str) {
        self.set = Some((address.to_string(), text.to_string()));
        match &mut self.tree {
            Tree::List(members) => members.iter_mut().for_each(|m| m.mark(address, text)),
            Tree::Table(entries) => entries.iter_mut().for_each(|e| e.value.mark(address, text)),
            _ => {}
        }
    }
}

/// Reads a document; the faults are those of its syntax.
pub fn read(source: &str) -> Result<Node, Vec<Diagnostic>> {
    if source.trim_start_matches('\u{feff}').trim().is_empty() {
        return Err(vec![Diagnostic::new(
            "case-empty",
            "the case file is empty",
            FaultPlace::Whole,
            "begin with format = 1 and the tables [engine], [engine.heat], [part.…] and [[passage]]",
        )]);
    }
    let (table, errors) = DeTable::parse_recoverable(source);
    if errors.is_empty() {
        let tree = table_node(&table);
        let mut commas = Vec::new();
        decimal_commas(source, &tree, &mut commas);
        return if commas.is_empty() { Ok(tree) } else { Err(commas) };
    }
    let twice = |error: &toml::de::Error| error.message().contains("duplicate key");
    let start = |error: &toml::de::Error| error.span().map_or(0, |span| span.start.min(source.len()));
    // a table written twice repeats keys too; the table is the fault
    let headers: Vec<usize> =
        errors.iter().filter(|e| twice(e)).map(start).filter(|at| is_header(source, *at)).collect();
    let follows =
        |error: &toml::de::Error| {
            let at = start(error);
            twice(error)
                && !is_header(source, at)
                && headers.iter().rev().find(|header| **header < at).is_some_and(|header| {
                    !source.as_bytes()[*header..at].windows(2).any(|pair| pair == b"\n[")
                })
        };
    let span = |error: &toml::de::Error| {
        let span = error.span().unwrap_or(0..0);
        let end = span.end.min(source.len());
        span.start.min(end)..end
    };
    let unreadable: Vec<syntax::SyntaxFault> = errors
        .iter()
        .filter(|error| !twice(error))
        .map(|error| syntax::SyntaxFault { span: span(error), message: error.message().to_string() })
        .collect();
    if !unreadable.is_empty() {
        // names that seem to be used twice are mostly the echo of what could not be read
        return Err(syntax::faults(source, &unreadable));
    }
    let faults = errors.iter().filter(|error| !follows(error)).map(|error| {
        Diagnostic::new(
            "name-used-twice",
            "this name is used twice in one table",
            FaultPlace::Span(span(error)),
            "rename one of the two, or take it out",
        )
    });
    Err(faults.collect())
}

/// Lists of a document in which decimal commas were taken for commas between numbers.
fn decimal_commas(source: &str, node: &Node, faults: &mut Vec<Diagnostic>) {
    match &node.tree {
        Tree::List(members) if members.iter().all(|member| matches!(member.tree, Tree::Number(_))) => {
            faults.extend(syntax::decimal_commas(source, &node.span));
        }
        Tree::List(members) => members.iter().for_each(|member| decimal_commas(source, member, faults)),
        Tree::Table(entries) => {
            entries.iter().for_each(|entry| decimal_commas(source, &entry.value, faults));
        }
        _ => {}
    }
}

/// Whether a byte lies in the line of a table's header.
fn is_header(source: &str, at: usize) -> bool {
    let before = source.as_bytes().get(..at).unwrap_or_default();
    let line = before.iter().rposition(|byte| *byte == b'\n').map_or(0, |newline| newline + 1);
    before[line..].trim_ascii_start().starts_with(b"[")
}

/// Reads one value, as an override gives it.
pub fn read_value(text: &str) -> Option<Node> {
    let value = DeValue::parse(text).ok()?;
    Some(node(&value))
}

fn table_node(table: &Spanned<DeTable>) -> Node {
    let mut entries: Vec<TableEntry> = table
        .get_ref()
        .iter()
        .map(|(key, value)| TableEntry {
            key: key.get_ref().to_string(),
            key_span: key.span(),
            value: node(value),
        })
        .collect();
    entries.sort_by_key(|entry| entry.key_span.start);
    Node { span: table.span(), set: None, tree: Tree::Table(entries) }
}

fn node(value: &Spanned<DeValue>) -> Node {
    let span = value.span();
    let tree = match value.get_ref() {
        DeValue::String(text) => Tree::Text(text.to_string()),
        DeValue::Integer(number) => match i64::from_str_radix(number.as_str(), number.radix()) {
            Ok(number) => Tree::Number(number as f64),
            Err(_) => number.as_str().parse().map_or(Tree::Other, Tree::Number),
        },
        DeValue::Float(number) => number.as_str().parse().map_or(Tree::Other, Tree::Number),
        DeValue::Boolean(flag) => Tree::Flag(*flag),
        DeValue::Datetime(_) => Tree::Other,
        DeValue::Array(members) => Tree::List(members.iter().map(node).collect()),
        DeValue::Table(table) => {
            return table_node(&Spanned::new(span, table.clone()));
        }
    };
    Node { span, set: None, tree }
}
