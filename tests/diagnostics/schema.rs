//! The JSON schema of the case file against the reader: what a schema can express, both refuse.

use crate::diagnostics::support::{BASE, faults};
use jsonschema::Validator;
use proptest::prelude::*;
use serde_json::{Value, json};
use slowcorner::case::schema::schema;
use slowcorner::keys::Kind;
use slowcorner::keys::measure::parse_text;
use std::sync::LazyLock;

static SCHEMA: LazyLock<Value> = LazyLock::new(schema);
static VALIDATOR: LazyLock<Validator> =
    LazyLock::new(|| jsonschema::draft202012::new(&SCHEMA).expect("the schema is a schema"));

/// Faults that one value, or the keys of one table, show by themselves.
const EXPRESSIBLE: &[&str] = &[
    "count-not-whole",
    "decimal-comma",
    "fan-curve-or-wheel",
    "fan-diameter-missing",
    "fan-drive",
    "fan-reference-idle",
    "fan-wheel-missing",
    "fins-incomplete",
    "flag-wanted",
    "format-missing",
    "format-unknown",
    "free-empty",
    "gear-or-rpm",
    "hidden-character",
    "hose-without-radius",
    "vanes-missing",
    "gears-missing",
    "key-missing",
    "kind-missing",
    "leg-turns-twice",
    "length-or-angle",
    "list-wanted",
    "limit-missing",
    "mass-and-material",
    "name-empty",
    "name-too-long",
    "name-with-slash",
    "name-with-space-around",
    "number-unreadable",
    "number-wanted",
    "opening-unnamed",
    "pair-wanted",
    "passage-empty",
    "passage-missing",
    "peak-power-incomplete",
    "power-missing",
    "power-points",
    "recovery-points",
    "said-twice",
    "size-incomplete",
    "size-missing",
    "spread-negative",
    "stint-empty",
    "surface-missing",
    "table-empty",
    "table-missing",
    "table-wanted",
    "text-too-long",
    "text-wanted",
    "unit-ambiguous",
    "unit-missing",
    "unit-of-another-kind",
    "unit-unknown",
    "unknown-key",
    "unknown-kind",
    "unknown-table",
    "unknown-word",
];

/// Faults that show in one value only sometimes.
const SOMETIMES: &[&str] = &[
    "number-not-finite",
    "out-of-range",
    "spread-unreadable",
    "element-out-of-order",
    "name-reserved",
    "layer-missing",
    "strokes-unknown",
];

/// A case as JSON; none where it is no TOML.
fn as_json(text: &str) -> Option<Value> {
    fn convert(value: toml::Value) -> Value {
        match value {
            toml::Value::String(text) => json!(text),
            toml::Value::Integer(number) => json!(number),
            toml::Value::Float(number) => json!(number),
            toml::Value::Boolean(flag) => json!(flag),
            toml::Value::Datetime(time) => json!({ "datetime": time.to_string() }),
            toml::Value::Array(list) => list.into_iter().map(convert).collect(),
            toml::Value::Table(table) => {
                Value::Object(table.into_iter().map(|(key, value)| (key, convert(value))).collect())
            }
        }
    }
    let table: toml::Table = text.parse().ok()?;
    Some(convert(toml::Value::Table(table)))
}

fn complaints(text: &str) -> Option<Vec<String>> {
    let case = as_json(text)?;
    Some(VALIDATOR.iter_errors(&case).map(|error| format!("{}: {error}", error.instance_path())).collect())
}

/// What the schema gets wrong about a text, held against the faults that the reader finds.
pub fn disagreement(text: &str, codes: &[&str]) -> Option<String> {
    let complaints = complaints(text)?;
    let refused = !complaints.is_empty();
    if codes.iter().any(|code| EXPRESSIBLE.contains(code)) {
        return (!refused).then(|| format!("the schema accepts what is refused for {codes:?}"));
    }
    let known = codes.iter().any(|code| SOMETIMES.contains(code));
    (refused && !known).then(|| format!("the schema refuses, the reader says {codes:?}: {complaints:#?}"))
}

#[test]
fn it_is_a_schema_of_draft_2020_12() {
    assert_eq!(SCHEMA["$schema"], "https://json-schema.org/draft/2020-12/schema");
    jsonschema::meta::validate(&SCHEMA).unwrap();
}

#[test]
fn it_accepts_every_sound_case() {
    let mut texts = vec![BASE.to_string()];
    for folder in ["cases", "src/cli/start", "tests/sizing", "tests/network", "tests/network/cases"] {
        let Ok(files) = std::fs::read_dir(folder) else { continue };
        let paths = files.filter_map(|file| file.ok().map(|file| file.path()));
        texts.extend(
            paths
                .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
                .filter_map(|path| std::fs::read_to_string(path).ok())
                .filter(|text| text.contains("format = 1")),
        );
    }
    assert!(texts.len() >= 7, "{} cases were found", texts.len());
    for text in texts {
        assert!(faults(&text).is_empty());
        assert_eq!(complaints(&text), Some(Vec::new()));
    }
}

#[test]
fn it_accepts_every_example_of_an_element() {
    let kinds = slowcorner::element::KINDS.iter();
    let examples = kinds.flat_map(|kind| std::iter::once(&kind.example).chain(kind.further_examples));
    for example in examples {
        let element: toml::Table =
            format!("element = {}", example.trim().trim_end_matches(',')).parse().unwrap();
        let element = serde_json::to_value(&element["element"]).unwrap();
        let part = json!({
            "$schema": SCHEMA["$schema"], "$defs": SCHEMA["$defs"], "$ref": "#/$defs/element",
        });
        let validator = jsonschema::draft202012::new(&part).unwrap();
        let found: Vec<String> = validator.iter_errors(&element).map(|error| error.to_string()).collect();
        assert!(found.is_empty(), "{example}: {found:?}");
    }
}

#[test]
fn words_tried_first_and_bare_numbers_are_refused() {
    for (more, wanted) in [
        ("[sweep]\nfrom = 20\nto = \"90 km/h\"", false),
        ("[sweep]\nfrom = \"20 km/h\"\nto = \"90 km/h\"", true),
        ("[sweep]\nfrom = \"-20 km/h\"\nto = \"90 km/h\"", false),
        ("[sweep]\nfrom = \"12 mph\"\nto = \"25..30 m/s\"", true),
        ("[sweep]\nfrom = \"20 km / h\"\nto = \"90 KM/H ± 10 %\"", true),
        ("[sweep]\nfrom = \"20 km/h\"\nto = \"90 km\"", false),
        ("[sweep]\nthrottle = 1.0", false),
    ] {
        let base = without_sweep();
        let found = complaints(&format!("{base}\n{more}\n")).unwrap();
        assert_eq!(found.is_empty(), wanted, "{more}: {found:?}");
        assert_eq!(faults(&format!("{base}\n{more}\n")).is_empty(), wanted, "{more}");
    }
}

fn without_sweep() -> String {
    let start = BASE.find("[sweep]").unwrap();
    let end = start + BASE[start + 1..].find("\n[").unwrap() + 1;
    format!("{}{}", &BASE[..start], &BASE[end..])
}

/// Kinds with a definition of their own for either sign, and what holds a text against it.
static KINDS: LazyLock<Vec<(Kind, Validator)>> = LazyLock::new(|| {
    let definition = |kind: Kind| {
        let name = kind.name().split_once(' ').map_or("", |(_, name)| name);
        SCHEMA["$defs"].get(name).map(|found| (kind, jsonschema::draft202012::new(found).unwrap()))
    };
    Kind::ALL.into_iter().filter_map(definition).collect()
});

#[test]
fn most_kinds_have_a_definition_for_either_sign() {
    assert!(KINDS.len() >= 7, "{}", KINDS.len());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(3000))]
    #[test]
    fn numbers_are_read_alike(
        parts in prop::collection::vec(
            prop::sample::select(vec![
                "1", "20", "0.5", "-", "±", "..", "+-", " ± ", "e3", ".", " ", "%", "degC", "°C", "K", "mm", "km/h",
                "cm", "²", "Pa", "in H2O", "kPa", ",", "−", "m/s", "degF", "inHg", "MM", "bar",
            ]),
            1..7,
        ),
        index in 0..KINDS.len(),
    ) {
        let (kind, validator) = &KINDS[index];
        let text = parts.concat();
        let matches = validator.is_valid(&json!(text));
        match parse_text(&text, *kind) {
            Ok(_) => prop_assert!(matches, "the schema refuses {text:?} as {kind:?}"),
            Err(error) => {
                let beyond = [
                    "number-not-finite", "below-absolute-zero", "spread-upside-down", "spread-unreadable",
                ];
                prop_assert!(!matches || beyond.contains(&error.code), "it accepts {text:?} as {kind:?}: {}", error.code);
            }
        }
    }
}
