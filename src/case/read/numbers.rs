//! Reads one number: with its unit, its accepted range, or a word for what is usual.

use super::{CaseReader, in_words};
use crate::case::diagnostic::Diagnostic;
use crate::case::document::{Node, Tree};
use crate::keys::measure::{Measure, MeasureError, Spread, parse_number, parse_text};
use crate::keys::{Assumed, Fact, Key, Kind, NumberId, Origin, Range, ReferenceTarget, Slot, Usual};

/// What is looked for in one number.
pub(super) struct NumberWanted {
    pub(super) kind: Kind,
    /// A second kind that the unit tells apart.
    pub(super) other: Option<Kind>,
    pub(super) range: Range,
    pub(super) words: &'static [Usual],
    pub(super) help: &'static str,
}

impl NumberWanted {
    pub(super) fn of(key: &Key, kind: Kind) -> NumberWanted {
        NumberWanted { kind, other: None, range: key.range, words: key.words, help: key.help }
    }
}

/// A number that nobody wrote.
pub(super) fn assumed_fact(
    address: String,
    kind: Kind,
    range: Range,
    assumed: &Assumed,
    help: &'static str,
) -> Fact {
    Fact {
        address,
        kind,
        value: assumed.value,
        spread: Some(Spread::Between { low: assumed.low, high: assumed.high }),
        before: None,
        range,
        origin: Origin::Assumed(assumed.source),
        help,
    }
}

/// What a temperature beyond sense would be in °F or K, where that makes sense.
fn other_scale(kind: Kind, measure: &Measure, range: &Range, text: Option<&str>) -> String {
    let fahrenheit = text.is_some_and(|text| text.to_lowercase().contains('f'));
    if kind != Kind::Temperature || fahrenheit {
        return String::new();
    }
    let celsius = measure.value - 273.15;
    let in_fahrenheit = (celsius - 32.0) / 1.8 + 273.15;
    let readings = [("degF", in_fahrenheit), ("K", celsius)];
    let fitting = readings.iter().filter(|(_, kelvin)| range.accepts(*kelvin));
    let words: Vec<String> = fitting
        .map(|(unit, kelvin)| {
            format!(
                "{} {unit} would be {:.0} degC",
                crate::keys::kind::short_number((celsius * 10.0).round() / 10.0),
                kelvin - 273.15
            )
        })
        .collect();
    if words.is_empty() { String::new() } else { format!(": {}", words.join(", ")) }
}

/// Highest speed of a fan (rev/min).
const MOST_FAN_SPEED: f64 = 60_000.0;

impl CaseReader<'_> {
    /// Reads a number; where a second kind is possible, the unit decides. A word that stands for
    /// what is usual counts as assumed.
    pub(super) fn number(&mut self, node: &Node, wanted: &NumberWanted, address: &str) -> Option<NumberId> {
        let NumberWanted { kind, other, range, words, help } = *wanted;
        let text = node.text().map(str::trim);
        if let Some(Usual { assumed, .. }) = words.iter().find(|usual| text == Some(usual.word)) {
            return Some(self.numbers.add(assumed_fact(address.to_string(), kind, range, assumed, help)));
        }
        let read = |kind: Kind| -> Result<Measure, MeasureError> {
            match &node.tree {
                Tree::Text(text) => parse_text(text, kind),
                Tree::Number(number) => parse_number(*number, kind),
                _ => Err(MeasureError {
                    code: "number-wanted",
                    message: format!("{address} is {}; {} is wanted here", node.in_words(), kind.name()),
                    what_to_do: format!("write {}", kind.example()),
                }),
            }
        };
        if let (Some(other), Tree::Number(number)) = (other, &node.tree)
            && number.abs() >= 1.0
        {
            let written = crate::keys::kind::short_number(*number);
            let (one, two) = (kind.with_unit(&written), other.with_unit(&written));
            let message = format!("`{written}` could be {one} or {two} here");
            self.fault("unit-missing", message, node.place(), format!("write \"{one}\" or \"{two}\""));
            return None;
        }
        let mut found = read(kind).map(|measure| (measure, kind));
        if let (Err(_), Some(other), Tree::Text(_)) = (&found, other, &node.tree)
            && let Ok(measure) = read(other)
        {
            found = Ok((measure, other));
        }
        match found {
            Ok((measure, kind)) => {
                let checked = if other == Some(kind) { Range::ANY } else { range };
                if !checked.accepts(measure.value) {
                    self.fault(
                        "out-of-range",
                        format!(
                            "{} is {}; accepted: {}",
                            in_words(address),
                            kind.show(measure.value),
                            checked.in_words(kind)
                        ),
                        node.place(),
                        format!(
                            "check the value and its unit{}",
                            other_scale(kind, &measure, &checked, text)
                        ),
                    );
                    return None;
                }
                Some(self.numbers.add(Fact {
                    address: address.to_string(),
                    kind,
                    value: measure.value,
                    spread: measure.spread,
                    before: None,
                    range: checked,
                    origin: Origin::Written(node.written()),
                    help,
                }))
            }
            Err(mut error) => {
                if !words.is_empty() && text.is_some() {
                    let words: Vec<&str> = words.iter().map(|usual| usual.word).collect();
                    error.what_to_do = format!(
                        "{}; or a word for what is usual: {}",
                        error.what_to_do.trim_end_matches('.'),
                        words.join(", ")
                    );
                }
                self.faults.push(Diagnostic::of_measure(error, node.place()));
                None
            }
        }
    }

    /// Reads a number of one of several kinds; an empty text is one that is still to come.
    pub(super) fn either(&mut self, node: &Node, key: &Key, kinds: &[Kind], address: &str) -> Slot {
        let text = node.text().map(str::trim);
        if text == Some("") {
            return Slot::Absent;
        }
        let fits = |kind: &&Kind| text.is_some_and(|text| parse_text(text, **kind).is_ok());
        if let Some(kind) = kinds.iter().find(fits) {
            return self
                .number(node, &NumberWanted::of(key, *kind), address)
                .map_or(Slot::Absent, Slot::Number);
        }
        let examples: Vec<&str> = kinds.iter().map(|kind| kind.example()).collect();
        let names: Vec<&str> = kinds.iter().map(|kind| kind.name()).collect();
        let what = text.map_or(node.in_words().to_string(), |text| format!("{text:?}"));
        self.fault(
            "number-unreadable",
            format!("{} is {what}; {} is wanted here", in_words(address), names.join(" or ")),
            node.place(),
            format!("write it with its unit, as {}", examples.join(" or ")),
        );
        Slot::Absent
    }

    /// What fans do: for all under the name `*`, or by passage; `off`, `as set`, or a speed in rev/min.
    pub(super) fn fans(&mut self, node: &Node, address: &str) -> Vec<(String, String)> {
        match &node.tree {
            Tree::Table(entries) => {
                let mut told = Vec::new();
                for entry in entries {
                    self.check_name(&entry.key, ReferenceTarget::Passage, entry.key_place());
                    let address = format!("{address}/{}", entry.key);
                    told.extend(self.fan(&entry.value, &address, true).map(|word| (entry.key.clone(), word)));
                }
                told
            }
            _ => self.fan(node, address, false).map(|word| ("*".to_string(), word)).into_iter().collect(),
        }
    }

    fn fan(&mut self, node: &Node, address: &str, or_speed: bool) -> Option<String> {
        let text = node.text().map(str::trim);
        if let Some(word) = text.filter(|text| matches!(*text, "off" | "as set")) {
            return Some(word.to_string());
        }
        let speed = text.map(|text| parse_text(text, Kind::RotationalSpeed));
        if let Some(Ok(speed)) = speed
            && or_speed
            && (0.0..=MOST_FAN_SPEED).contains(&speed.value)
        {
            return Some(if speed.value > 0.0 { format!("{}", speed.value) } else { "off".to_string() });
        }
        let (what, way_out) = if or_speed {
            ("off, as set or a speed", "write \"off\", \"as set\", or a speed such as \"2400 rpm\"")
        } else {
            (
                "off or as set",
                "write fans = \"off\" or \"as set\"; a speed stands behind its passage: { \"cooler fan\" = \"2400 rpm\" }",
            )
        };
        let shown = text.map_or(node.in_words().to_string(), |text| format!("{text:?}"));
        self.fault("unknown-word", format!("{address} is {shown}; {what} is wanted"), node.place(), way_out);
        None
    }
}
