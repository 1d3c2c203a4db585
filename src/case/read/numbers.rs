//! Reads one number: with its unit, its accepted range, or a word for what is usual.

use super::{Reader, in_words};
use crate::case::diagnostic::Diagnostic;
use crate::case::document::{Node, Tree};
use crate::keys::measure::{Measure, MeasureError, Spread, parse_number, parse_text};
use crate::keys::{Assumed, Fact, Key, Kind, NumberId, Origin, Range, Usual};

/// What is looked for in one number.
pub(super) struct Wanted {
    pub(super) kind: Kind,
    /// A second kind that the unit tells apart.
    pub(super) other: Option<Kind>,
    pub(super) range: Range,
    pub(super) words: &'static [Usual],
    pub(super) help: &'static str,
}

impl Wanted {
    pub(super) fn of(key: &Key, kind: Kind) -> Wanted {
        Wanted { kind, other: None, range: key.range, words: key.words, help: key.help }
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
        range,
        origin: Origin::Assumed(assumed.source),
        help,
    }
}

impl Reader<'_> {
    /// Reads a number; where a second kind is possible, the unit decides. A word that stands for
    /// what is usual counts as assumed.
    pub(super) fn number(&mut self, node: &Node, wanted: &Wanted, address: &str) -> Option<NumberId> {
        let Wanted { kind, other, range, words, help } = *wanted;
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
                        "check the value and its unit",
                    );
                    return None;
                }
                Some(self.numbers.add(Fact {
                    address: address.to_string(),
                    kind,
                    value: measure.value,
                    spread: measure.spread,
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
}
