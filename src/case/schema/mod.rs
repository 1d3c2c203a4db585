//! The JSON schema of the case file, from the tables of keys that read it.
//!
//! For editors and other programs: a case as JSON (TOML read as the same tables, lists, texts and
//! numbers) is held against it. It tells what one value, or the keys of one table, can tell. What
//! takes more than that stays with the program: names that nothing defines, the order of a passage,
//! sums of shares, areas that do not fit.

mod numbers;
mod writer;

pub use writer::SchemaWriter;

use crate::case::tables::{SECTIONS, TOP};
use crate::element::KINDS;
use serde_json::{Value, json};
use writer::{element_name, refer};

/// The schema, draft 2020-12.
pub fn schema() -> Value {
    let mut writer = SchemaWriter::default();
    let properties = writer.sections(TOP, SECTIONS);
    for kind in KINDS {
        let table = writer.element(kind);
        writer.keep(&element_name(kind), table);
    }
    writer.keep("element", any_element());
    writer.whole(
        "slowcorner case file, format 1",
        "The openings, passages, engine and conditions of a car whose air-cooled engine is enclosed.",
        properties,
        &["format", "engine", "passage"],
    )
}

/// An element of any kind, held against the table of its own.
fn any_element() -> Value {
    let kinds: Vec<&str> = KINDS.iter().map(|kind| kind.name).collect();
    let tables: Vec<Value> = KINDS
        .iter()
        .map(|kind| {
            json!({
                "if": { "properties": { "kind": { "const": kind.name } }, "required": ["kind"] },
                "then": refer(&element_name(kind)),
            })
        })
        .collect();
    json!({
        "type": "object",
        "properties": { "kind": { "enum": kinds } },
        "required": ["kind"],
        "allOf": tables,
    })
}
