//! The JSON schema of the readings file, from the tables of keys that read it.

use super::tables::{SECTIONS, TOP};
use crate::case::schema::SchemaWriter;
use serde_json::Value;

/// The schema, draft 2020-12.
pub fn schema() -> Value {
    let mut writer = SchemaWriter::default();
    let mut properties = writer.sections(TOP, SECTIONS);
    // what a test is called is no part of an address
    for form in ["/test/anyOf/0/properties/name", "/test/anyOf/1/items/properties/name"] {
        if let Some(name) = properties.pointer_mut(form) {
            *name = SchemaWriter::any_name();
        }
    }
    writer.whole(
        "slowcorner readings file, format 1",
        "What was read off a car on the bench and on the track.",
        properties,
        &["format", "test"],
    )
}
