//! What a fit to readings found, as the fitted case carries it: the band of each guess before, and the joint result in
//! normal scores of these.

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace};
use super::{Warning, tables as t};
use crate::keys::measure::parse_text;
use crate::keys::{Key, NumberId, Numbers, Origin, Slot, SourceLocation, Spread, Values, View};
use crate::numerics::normal;
use crate::numerics::two_piece::TwoPiece;

/// How near a value must be to the one that was fitted to be still that (share of itself).
const THE_SAME: f64 = 1e-5;

/// What a fit found.
#[derive(Clone, Debug, Default)]
pub struct FittedRecord {
    /// What the model itself may be off by at a part (K), 9 times in 10 within.
    pub model_error: f64,
    /// The guesses, in the order of the factor.
    pub guesses: Vec<FittedGuess>,
    /// What was read.
    pub readings: Vec<FittedReading>,
}

/// A reading, with what was to be expected of it (°C, Pa or a share).
#[derive(Clone, Debug, PartialEq)]
pub struct FittedReading {
    /// What was read.
    pub what: String,
    /// In which test.
    pub test: String,
    /// "°C", "Pa" or "share".
    pub unit: &'static str,
    /// What it showed, and both ends of where that may lie.
    pub read: [f64; 3],
    /// Low end, middle and high end of what was expected before anything was read.
    pub before: [f64; 3],
    /// The same once all was read.
    pub after: [f64; 3],
    /// How it fits to the others.
    pub said: String,
}

#[derive(Clone, Debug)]
pub struct FittedGuess {
    /// Its addresses, and whether each lies the opposite way.
    pub addresses: Vec<(String, bool)>,
    /// The part of which it is the model's own error instead.
    pub error_of: Option<String>,
    /// Middle, in normal scores.
    pub mean: f64,
    /// Row of the lower factor of the covariance.
    pub factor: Vec<f64>,
}

/// The list of texts behind a key.
pub fn texts<'v>(values: &'v Values, key: &Key) -> &'v [String] {
    match values.slot(key) {
        Slot::Names(names) => names,
        _ => &[],
    }
}

/// What `[fitted]` says, and what of it no longer holds: a number that was changed since, or set for a run, is a guess as
/// its line says it. Numbers that hold get the band that is left of them.
pub(super) fn read(
    values: &Values,
    numbers: &mut Numbers,
    faults: &mut Diagnostics,
) -> (FittedRecord, Vec<Warning>) {
    let mut warnings = Vec::new();
    let model_error = View { values, numbers }.required(&t::MODEL_ERROR);
    let tables = values.tables(&t::FITTED_GUESS).to_vec();
    let mut guesses = Vec::new();
    for (row, table) in tables.iter().enumerate() {
        let view = View { values: table, numbers };
        let (mean, factor) = (view.required(&t::MEAN), view.list(&t::FACTOR));
        if factor.len() != row + 1 {
            let message = format!(
                "{} has {} numbers in its row of the factor; {} are wanted",
                table.address,
                factor.len(),
                row + 1
            );
            unreadable(faults, message, table.place_of(&t::FACTOR));
            continue;
        }
        let error_of = table.text(&t::ERROR_OF).map(str::to_string);
        let spread = factor.iter().map(|x| x * x).sum::<f64>().sqrt();
        let mut guess = FittedGuess { addresses: Vec::new(), error_of, mean, factor };
        for (address, words) in table.lists(&t::NUMBERS) {
            let turned = texts(table, &t::OPPOSITE).contains(address);
            let Some(id) = numbers.find(address) else { continue };
            let fact = numbers.fact(id);
            let read: Vec<f64> = words
                .iter()
                .filter_map(|(word, _)| parse_text(word, fact.kind).ok())
                .map(|m| m.value)
                .collect();
            let [was, low, high, now] = read[..] else {
                let message = format!(
                    "{} does not say value and band of {address} before, and its value now",
                    table.address
                );
                unreadable(faults, message, table.place_of(&t::NUMBERS));
                continue;
            };
            if !holds(numbers, id, now) {
                if !matches!(fact.origin, Origin::Written(SourceLocation::Override { .. })) {
                    warnings.push(Warning {
                        code: "fitted-value-changed",
                        message: format!("{address} is {} here and was fitted as {}: it counts as its line says, and no longer hangs together with the others; fit again, or write the old value", fact.kind.show(fact.value), fact.kind.show(now)),
                        place: Some(address.clone()),
                    });
                }
                continue;
            }
            let before = TwoPiece::of_band(was, low, high).within(fact.range.low, fact.range.high);
            let Some(before) = before else {
                unreadable(
                    faults,
                    format!("the band of {address} before lies beyond what is accepted"),
                    table.place_of(&t::NUMBERS),
                );
                continue;
            };
            let sign = if turned { -1.0 } else { 1.0 };
            let end =
                |z: f64| before.quantile(normal::below(sign * mean + z * spread).clamp(1e-12, 1.0 - 1e-12));
            let left = Spread::Between { low: end(-normal::NINE_IN_TEN), high: end(normal::NINE_IN_TEN) };
            numbers.refit(id, left, [was, low, high]);
            guess.addresses.push((address.clone(), turned));
        }
        guesses.push(guess);
    }
    let readings = readings(values, numbers, faults);
    (FittedRecord { model_error, guesses, readings }, warnings)
}

/// What was read, as it was kept.
fn readings(values: &Values, numbers: &Numbers, faults: &mut Diagnostics) -> Vec<FittedReading> {
    let mut all = Vec::new();
    for table in values.tables(&t::FITTED_READING) {
        let view = View { values: table, numbers };
        let text = |key: &Key| table.text(key).unwrap_or_default().to_string();
        let mut three = |key: &Key| -> Option<[f64; 3]> {
            let found = <[f64; 3]>::try_from(view.list(key)).ok();
            if found.is_none() {
                let message = format!("{} does not have three numbers", table.address_of(key));
                unreadable(faults, message, table.place_of(key));
            }
            found
        };
        let (read, before, after) = (three(&t::READ_SHOWN), three(&t::READ_BEFORE), three(&t::READ_AFTER));
        let (Some(read), Some(before), Some(after)) = (read, before, after) else { continue };
        all.push(FittedReading {
            what: text(&t::READ_WHAT),
            test: text(&t::READ_TEST),
            unit: match table.text(&t::READ_UNIT) {
                Some("Pa") => "Pa",
                Some("share") => "share",
                _ => "°C",
            },
            read,
            before,
            after,
            said: text(&t::READ_SAID),
        });
    }
    all
}

/// Whether a number still has the value that was fitted.
fn holds(numbers: &Numbers, id: NumberId, now: f64) -> bool {
    let fact = numbers.fact(id);
    let own = matches!(fact.origin, Origin::Written(SourceLocation::File(_)));
    own && (fact.value - now).abs() <= THE_SAME * now.abs().max(1e-9)
}

fn unreadable(faults: &mut Diagnostics, message: String, place: SourceLocation) {
    let way_out =
        "leave [fitted] as slowcorner wrote it, or take it out whole: the bands are then those of the lines";
    faults.push(Diagnostic::new("fitted-unreadable", message, FaultPlace::from(place), way_out));
}
