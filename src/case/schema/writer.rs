//! Tables of keys as a JSON schema: what one value, or the keys of one table, can tell.

use super::numbers;
use crate::case::limits::{LONGEST_NAME, LONGEST_TEXT, NAMES};
use crate::case::tables::{TableForm, TableSection};
use crate::element::{ElementKind, KINDS, Role};
use crate::keys::figures::sentence;
use crate::keys::{Key, Kind, Need, Range, Rule, Usual, ValueShape, rules};
use serde_json::{Map, Value, json};

/// A name that an address can hold, without a character that nobody sees.
const NAME: &str = r"^(?!\s)(?![\s\S]*[\u0000-\u001F\u007F-\u009F\u00AD\u034F\u061C\u115F\u1160\u17B4\u17B5\u180E\u200B\u200E\u200F\u2028-\u202E\u2060-\u2064\u2066-\u2069\uFEFF])[^/]*[^/\s]$";
/// A text without such a character; line ends and tabs are seen.
const TEXT: &str = r"^[^\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F-\u009F\u00AD\u034F\u061C\u115F\u1160\u17B4\u17B5\u180E\u200B\u200E\u200F\u2028-\u202E\u2060-\u2064\u2066-\u2069\uFEFF]*$";

/// Writes tables of keys as a schema, and keeps what several of them refer to.
#[derive(Default)]
pub struct SchemaWriter {
    defs: Map<String, Value>,
}

impl SchemaWriter {
    /// The keys at the top of a file, and its tables.
    pub fn sections(&mut self, top: &[Key], sections: &[TableSection]) -> Value {
        let mut properties = self.properties(top);
        for section in sections {
            properties.insert(section.name.to_string(), self.section(section));
        }
        Value::Object(properties)
    }

    /// Keeps what others refer to.
    pub fn keep(&mut self, name: &str, definition: Value) {
        self.defs.insert(name.to_string(), definition);
    }

    /// A text of the length of a name.
    pub fn any_name() -> Value {
        json!({ "type": "string", "pattern": TEXT, "maxLength": LONGEST_NAME })
    }

    /// The schema of a file.
    pub fn whole(mut self, title: &str, description: &str, properties: Value, required: &[&str]) -> Value {
        self.keep("name", json!({ "type": "string", "pattern": NAME, "maxLength": LONGEST_NAME }));
        json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": title,
            "description": description,
            "type": "object",
            "properties": properties,
            "required": required,
            "additionalProperties": false,
            "$defs": self.defs,
        })
    }

    fn section(&mut self, section: &TableSection) -> Value {
        let mut table = self.table(section.keys);
        table["description"] = json!(told(section.help));
        match section.form {
            TableForm::One => table,
            TableForm::Named => json!({
                "description": sentence(section.help),
                "type": "object",
                "propertyNames": refer("name"),
                "additionalProperties": table,
            }),
            TableForm::List => {
                if let Some(name) = table["properties"].get_mut("name") {
                    name["$ref"] = json!("#/$defs/name");
                }
                let least = usize::from(section.name == "passage");
                one_or_several(table, least)
            }
        }
    }

    pub(super) fn element(&mut self, kind: &ElementKind) -> Value {
        let mut table = self.table(kind.keys);
        table["description"] = json!(kind.summary);
        table["properties"]["kind"]["const"] = json!(kind.name);
        table["properties"]["name"]["$ref"] = json!("#/$defs/name");
        table
    }

    fn table(&mut self, keys: &[Key]) -> Value {
        let required: Vec<&str> =
            keys.iter().filter(|key| matches!(key.need, Need::Required)).map(|key| key.name).collect();
        let mut table = json!({
            "type": "object",
            "properties": self.properties(keys),
            "required": required,
            "additionalProperties": false,
        });
        for rule in rules::of_table(keys) {
            match rule {
                Rule::OneOf(_) | Rule::OneWay(_) | Rule::Without(..) => {
                    for (first, second) in rules::apart(keys, rule) {
                        push_rule(&mut table, json!({ "not": { "required": [first, second] } }));
                    }
                }
                Rule::AtLeastOne(group) => {
                    push_rule(&mut table, json!({ "anyOf": required_each(group.iter().copied()) }));
                }
                Rule::AtLeastOneSet(sets) => {
                    let sets: Vec<Value> = sets.iter().map(|set| json!({ "required": set })).collect();
                    push_rule(&mut table, json!({ "anyOf": sets }));
                }
                Rule::Together(group) => {
                    for name in group {
                        let others: Vec<&&str> = group.iter().filter(|other| other != &name).collect();
                        table["dependentRequired"][*name] = json!(others);
                    }
                }
                Rule::Needs(name, others) => table["dependentRequired"][name] = json!(others),
                Rule::NeedsOneOf(name, others) => {
                    let mut ways = vec![json!({ "not": { "required": [name] } })];
                    ways.extend(required_each(others.iter().copied()));
                    push_rule(&mut table, json!({ "anyOf": ways }));
                }
                Rule::ReplacedBy(_) | Rule::OnlyWith(_) | Rule::OnRequest => {}
                Rule::Instead(_) | Rule::Told(..) => {}
            }
        }
        table
    }

    fn properties(&mut self, keys: &[Key]) -> Map<String, Value> {
        keys.iter().map(|key| (key.name.to_string(), self.key(key))).collect()
    }

    fn key(&mut self, key: &Key) -> Value {
        let mut value = match &key.shape {
            ValueShape::Number(kind) => self.number(*kind, key.range),
            ValueShape::Either(kinds) => {
                let mut each: Vec<Value> = kinds.iter().map(|kind| self.number(*kind, key.range)).collect();
                each.push(json!({ "const": "" }));
                json!({ "anyOf": each })
            }
            ValueShape::Numbers(kind) => {
                json!({ "type": "array", "items": self.number(*kind, key.range), "minItems": 1 })
            }
            ValueShape::Pairs(x, y) => self.pairs(*x, *y, key.range),
            ValueShape::NumberOrPairs(x, kind) => {
                json!({ "anyOf": [self.number(*kind, key.range), self.pairs(*x, *kind, key.range)] })
            }
            ValueShape::Text => {
                let longest = if NAMES.contains(&key.name) { LONGEST_NAME } else { LONGEST_TEXT };
                json!({ "type": "string", "pattern": TEXT, "maxLength": longest })
            }
            ValueShape::Name(_) => json!({ "type": "string", "maxLength": LONGEST_NAME }),
            ValueShape::Flag => json!({ "type": "boolean" }),
            ValueShape::Word(words) => json!({ "enum": words }),
            ValueShape::Names(_) => one_or_several(json!({ "type": "string" }), 0),
            ValueShape::Groups => groups(),
            ValueShape::NameLists(_) => json!({
                "type": "object",
                "additionalProperties": one_or_several(json!({ "type": "string" }), 0),
            }),
            ValueShape::Table(keys) => self.table(keys),
            ValueShape::Tables(keys) => {
                let table = self.table(keys);
                one_or_several(table, 1)
            }
            ValueShape::Map(kind, _) => self.map(*kind, None, key.range),
            ValueShape::NumberOrMap(kind, other, _) => {
                let one = self.either(*kind, *other, key.range);
                json!({ "anyOf": [one, self.map(*kind, *other, key.range)] })
            }
            ValueShape::Settings => json!({ "type": "object" }),
            ValueShape::Fans => {
                let words = json!({ "enum": ["off", "as set"] });
                let speed = self.either(Kind::RotationalSpeed, None, Range::NOT_NEGATIVE);
                json!({ "anyOf": [words, {
                    "type": "object",
                    "additionalProperties": { "anyOf": [words, speed] },
                }] })
            }
            ValueShape::Elements => elements(),
        };
        if !key.words.is_empty() {
            value = or_word(value, key.words);
        }
        if key.name == "format" {
            value = json!({ "const": 1 });
        }
        if matches!((&key.shape, key.need), (ValueShape::Map(..), Need::Required)) {
            value["minProperties"] = json!(1);
        }
        value["description"] = json!(told(key.help));
        if let (Need::Default(assumed), ValueShape::Number(kind)) = (key.need, &key.shape) {
            value["default"] = written(*kind, assumed.value);
        }
        value
    }

    fn pairs(&mut self, x: Kind, y: Kind, range: Range) -> Value {
        let pair = [self.number(x, Range::NOT_NEGATIVE), self.number(y, range)];
        json!({
            "type": "array",
            "items": { "type": "array", "prefixItems": pair, "minItems": 2, "maxItems": 2 },
            "minItems": 2,
        })
    }

    fn map(&mut self, kind: Kind, other: Option<Kind>, range: Range) -> Value {
        json!({ "type": "object", "additionalProperties": self.either(kind, other, range) })
    }

    /// Keeps a definition, and says how to refer to it.
    fn define(&mut self, name: &str, definition: Value) -> Value {
        self.defs.entry(name).or_insert(definition);
        refer(name)
    }

    /// A number of one kind, or of another that its unit tells apart.
    fn either(&mut self, kind: Kind, other: Option<Kind>, range: Range) -> Value {
        let one = self.number(kind, range);
        match other {
            Some(other) => json!({ "anyOf": [one, self.number(other, Range::ANY)] }),
            None => one,
        }
    }

    fn number(&mut self, kind: Kind, range: Range) -> Value {
        let named = json!({ "type": "string", "pattern": numbers::pattern(kind) });
        let text = self.define(bare(kind), named);
        let text = match numbers::sign(range, kind) {
            Some((name, pattern)) => {
                let sign = self.define(name, json!({ "pattern": pattern }));
                json!({ "allOf": [text, sign] })
            }
            None => text,
        };
        if !kind.is_plain() {
            return text;
        }
        let mut number = json!({ "type": if kind == Kind::Count { "integer" } else { "number" } });
        if range.low.is_finite() {
            number[if range.open_below { "exclusiveMinimum" } else { "minimum" }] = json!(range.low);
        } else if kind == Kind::Count {
            number["minimum"] = json!(1);
        }
        if range.high.is_finite() {
            number["maximum"] = json!(range.high);
        }
        json!({ "anyOf": [number, text] })
    }
}

/// A number, or one of the words for what is usual; in a map of numbers, behind each name.
fn or_word(mut value: Value, words: &[Usual]) -> Value {
    let words: Vec<&str> = words.iter().map(|usual| usual.word).collect();
    match value.get_mut("additionalProperties") {
        Some(inner) => {
            *inner = json!({ "anyOf": [*inner, { "enum": words }] });
            value
        }
        None => json!({ "anyOf": [value, { "enum": words }] }),
    }
}

pub(super) fn refer(name: &str) -> Value {
    json!({ "$ref": format!("#/$defs/{}", name.replace(' ', "%20")) })
}

/// A kind of quantity without its article.
fn bare(kind: Kind) -> &'static str {
    kind.name().split_once(' ').map_or(kind.name(), |(_, name)| name)
}

/// A default as it would be written in the file.
fn written(kind: Kind, value: f64) -> Value {
    if kind.is_plain() { json!(value) } else { json!(kind.show(value)) }
}

/// A list of something; one alone may stand for a list of one.
fn one_or_several(one: Value, least: usize) -> Value {
    json!({ "anyOf": [one, { "type": "array", "items": one, "minItems": least }] })
}

fn groups() -> Value {
    let opening = json!({
        "anyOf": [
            { "type": "string" },
            {
                "type": "object",
                "properties": { "passage": { "type": "string" }, "element": { "type": "string" } },
                "required": ["passage"],
                "additionalProperties": false,
            },
        ],
    });
    let group = json!({ "anyOf": [opening, { "type": "array", "items": opening, "minItems": 1 }] });
    json!({ "type": "array", "items": group, "minItems": 1 })
}

/// A passage's chain: what takes air in stands first in it.
fn elements() -> Value {
    let inlets: Vec<&str> =
        KINDS.iter().filter(|kind| kind.role == Role::Inlet).map(|kind| kind.name).collect();
    let element = refer("element");
    let behind = json!({
        "allOf": [element, { "not": { "properties": { "kind": { "enum": inlets } }, "required": ["kind"] } }],
    });
    let chain = json!({ "type": "array", "prefixItems": [element], "items": behind, "minItems": 1 });
    json!({ "anyOf": [element, chain] })
}

pub(super) fn element_name(kind: &ElementKind) -> String {
    format!("element {}", kind.name)
}

fn required_each<'a>(names: impl Iterator<Item = &'a str>) -> Vec<Value> {
    names.map(|name| json!({ "required": [name] })).collect()
}

fn push_rule(table: &mut Value, rule: Value) {
    match table.get_mut("allOf").and_then(Value::as_array_mut) {
        Some(rules) => rules.push(rule),
        None => table["allOf"] = json!([rule]),
    }
}

fn told(help: &str) -> String {
    format!("{}.", sentence(help))
}
