//! The table of keys of what a fit to readings found.

use crate::keys::{Key, Kind, Range, ReferenceTarget, ValueShape};

/// Readings files.
pub const READINGS: Key = Key::must(
    "readings",
    ValueShape::Names(ReferenceTarget::Address),
    "the files of readings that the case was fitted to",
);
/// Their digests.
pub const READINGS_SHA256: Key = Key::must(
    "readings_sha256",
    ValueShape::Names(ReferenceTarget::Address),
    "their SHA-256, so that none is taken twice",
);
/// The case before.
pub const CASE_SHA256: Key =
    Key::open("case_sha256", ValueShape::Text, "SHA-256 of the case as it was before it was fitted");
/// Readings.
pub const TOOK: Key = Key::open(
    "took",
    ValueShape::Names(ReferenceTarget::Address),
    "the readings that set its values, so that none is taken twice",
);
/// The model's own error.
pub const MODEL_ERROR: Key = Key::required(
    "model_error",
    Kind::TemperatureDifference,
    Range::between(1.0, 100.0),
    "what the model itself may be off by at a part, 9 times in 10 within",
);
/// Addresses with the band from before.
pub const NUMBERS: Key = Key::open(
    "numbers",
    ValueShape::NameLists(ReferenceTarget::Address),
    "the addresses of the guess; of each the value and both ends of its band before, and the value now",
);
/// Those that lie the opposite way.
pub const OPPOSITE: Key = Key::open(
    "opposite",
    ValueShape::Names(ReferenceTarget::Address),
    "those of them that are low where the first is high",
);
/// A part whose own error it is.
pub const ERROR_OF: Key = Key::open(
    "error_of",
    ValueShape::Name(ReferenceTarget::Part),
    "instead of numbers: the part of which it is the model's own error",
);
/// Middle.
pub const MEAN: Key = Key::required(
    "mean",
    Kind::Ratio,
    Range::ANY,
    "where its middle lies now, in normal scores of the band before",
);
/// A row of the factor.
pub const FACTOR: Key = Key::must(
    "factor",
    ValueShape::Numbers(Kind::Ratio),
    "its row of the lower triangle L: the covariance of the normal scores is L Lᵀ",
);
/// `[[fitted.guess]]`.
pub const FITTED_GUESS: Key = Key::open(
    "guess",
    ValueShape::Tables(&[NUMBERS, OPPOSITE, ERROR_OF, MEAN, FACTOR]),
    "what is known of the guesses together, one table each",
);
/// What was read.
pub const READ_WHAT: Key = Key::must("what", ValueShape::Text, "what was read");
/// When.
pub const READ_TEST: Key = Key::must("test", ValueShape::Text, "in which test");
/// In which unit.
pub const READ_UNIT: Key =
    Key::must("unit", ValueShape::Word(&["degC", "Pa", "share"]), "the unit of the numbers beside it");
/// What it showed.
pub const READ_SHOWN: Key = Key::must(
    "read",
    ValueShape::Numbers(Kind::Ratio),
    "what it showed, and both ends of where that may lie; an open end stands as what it showed",
);
/// Expected before.
pub const READ_BEFORE: Key = Key::must(
    "before",
    ValueShape::Numbers(Kind::Ratio),
    "low end, middle and high end of what was expected before anything was read",
);
/// Expected after.
pub const READ_AFTER: Key =
    Key::must("after", ValueShape::Numbers(Kind::Ratio), "the same once all was read");
/// How it fits.
pub const READ_SAID: Key =
    Key::must("said", ValueShape::Text, "how it fits to what all others lead to expect");
/// `[[fitted.reading]]`.
pub const FITTED_READING: Key = Key::open(
    "reading",
    ValueShape::Tables(&[READ_WHAT, READ_TEST, READ_UNIT, READ_SHOWN, READ_BEFORE, READ_AFTER, READ_SAID]),
    "what was read and what was reckoned, one table each, for the report",
);
/// `[fitted]`.
pub const FITTED: &[Key] =
    &[READINGS, READINGS_SHA256, CASE_SHA256, TOOK, MODEL_ERROR, FITTED_GUESS, FITTED_READING];
