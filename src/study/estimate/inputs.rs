//! What an estimate is told, read by the rules of the case file, and what it takes for the rest.

use super::tables::{self as t, KEYS, REPLACED};
use crate::case::diagnostic::did_you_mean;
use crate::case::tables::ALTITUDE;
use crate::engine::tables as engine;
use crate::keys::Kind;
use crate::keys::measure::Measure;
use crate::keys::measure::parse_text;
use crate::keys::table::{Key, Need, ValueShape};

/// A fault in what an estimate is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// What kind of fault it is, in words.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// The key concerned.
    pub key: String,
    /// The text it was given.
    pub text: String,
    /// A way out.
    pub what_to_do: String,
}

/// One value of an estimate: as given, or as assumed.
#[derive(Clone, Debug)]
pub struct EstimateValue {
    pub key: &'static Key,
    /// The value taken, canonical unit.
    pub likely: f64,
    /// Low end of its band; the value itself where it has none.
    pub low: f64,
    /// High end of its band.
    pub high: f64,
    /// Whether it was given.
    pub given: bool,
    /// Where value and band come from.
    pub source: &'static str,
}

impl EstimateValue {
    /// The kind of quantity.
    pub fn kind(&self) -> Kind {
        kind_of(self.key)
    }

    /// Whether it has a band.
    pub fn is_guess(&self) -> bool {
        self.low < self.high
    }
}

/// Everything an estimate works from.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// In the order of the table; keys that are neither given nor assumed are left out.
    pub values: Vec<EstimateValue>,
}

fn kind_of(key: &Key) -> Kind {
    match key.shape {
        ValueShape::Number(kind) => kind,
        _ => Kind::Ratio,
    }
}

impl Inputs {
    /// Reads what is given: keys with the text of their values.
    ///
    /// # Errors
    /// All faults at once: an unknown key or one given twice, a value that cannot be read or lies
    /// beyond its range, no power, values that contradict one another.
    pub fn read(given: &[(String, String)]) -> Result<Inputs, Vec<Fault>> {
        let mut faults = Vec::new();
        let mut read: Vec<(&'static Key, &str, Measure)> = Vec::new();
        for (name, text) in given {
            let fault = |code, message: String, what_to_do: String| Fault {
                code,
                message,
                key: name.clone(),
                text: text.clone(),
                what_to_do,
            };
            let Some(key) = find(name) else {
                let near = did_you_mean(name, KEYS.iter().map(|key| key.name));
                let hint = near.map_or(String::new(), |near| format!("did you mean {near}? "));
                let known: Vec<&str> = KEYS.iter().map(|key| key.name).collect();
                let message = format!("an estimate knows no {name}");
                faults.push(fault("key-unknown", message, format!("{hint}Known: {}", known.join(", "))));
                continue;
            };
            if read.iter().any(|(known, ..)| known.name == key.name) {
                let message = format!("{} is given twice", key.name);
                faults.push(fault("given-twice", message, "give it once".into()));
                continue;
            }
            match parse_text(text, kind_of(key)) {
                Err(error) => faults.push(fault(error.code, error.message, error.what_to_do)),
                Ok(measure) => match beyond(key, &measure) {
                    Some(message) => {
                        let way_out = format!("check the number and its unit: {}", key.help);
                        faults.push(fault("out-of-range", message, way_out));
                    }
                    None => read.push((key, text, measure)),
                },
            }
        }
        if !given.iter().any(|(name, _)| find(name).is_some_and(|key| key.name == t::POWER.name)) {
            faults.push(Fault {
                code: "power-missing",
                message: "an estimate begins with the engine's power".into(),
                key: t::POWER.name.into(),
                text: String::new(),
                what_to_do: "give for example --power \"30 kW\"".into(),
            });
        }
        faults.extend(contradictions(&read));
        if !faults.is_empty() {
            return Err(faults);
        }
        let has = |name: &str| read.iter().any(|(key, ..)| key.name == name);
        let values = KEYS.iter().filter(|key| is_used(key, &has)).filter_map(|key| {
            let told = read.iter().find(|(known, ..)| known.name == key.name);
            match (told, key.need) {
                (Some((_, _, measure)), _) => Some(EstimateValue {
                    key,
                    likely: measure.value,
                    low: measure.low(),
                    high: measure.high(),
                    given: true,
                    source: "given",
                }),
                (None, Need::Default(taken)) => Some(EstimateValue {
                    key,
                    likely: taken.value,
                    // where the place is not told, it is sea level; not a guess of the engine's heat
                    low: if key.name == ALTITUDE.name { taken.value } else { taken.low },
                    high: if key.name == ALTITUDE.name { taken.value } else { taken.high },
                    given: false,
                    source: taken.source,
                }),
                (None, _) => None,
            }
        });
        let inputs = Inputs { values: values.collect() };
        let faults = beyond_sense(&inputs, given);
        if faults.is_empty() { Ok(inputs) } else { Err(faults) }
    }

    /// The value of a key, where it is given or assumed.
    pub fn get(&self, key: &Key) -> Option<&EstimateValue> {
        self.values.iter().find(|value| value.key.name == key.name)
    }

    fn likely(&self, key: &Key) -> f64 {
        self.get(key).map_or(f64::NAN, |value| value.likely)
    }
}

fn find(name: &str) -> Option<&'static Key> {
    let name = name.trim().replace([' ', '-'], "_").to_lowercase();
    KEYS.iter().find(|key| key.name == name)
}

/// What is wrong with a value and the ends of its band, if anything is.
fn beyond(key: &Key, measure: &Measure) -> Option<String> {
    let kind = kind_of(key);
    [measure.value, measure.low(), measure.high()].into_iter().find(|value| !key.range.accepts(*value)).map(
        |value| {
            let accepted = key.range.in_words(kind);
            format!("{} is {}; {accepted} is accepted", key.name.replace('_', " "), kind.show(value))
        },
    )
}

/// Keys given although another that is given takes their place.
fn contradictions(read: &[(&'static Key, &str, Measure)]) -> Vec<Fault> {
    let text = |name: &str| read.iter().find(|(key, ..)| key.name == name).map(|(_, text, _)| *text);
    let both = REPLACED.iter().filter_map(|(name, by)| Some((*name, *by, text(name)?, text(by)?)));
    both.map(|(name, by, own, _)| Fault {
        code: "one-of-two",
        message: format!("{name} has no effect where {by} is given"),
        key: name.into(),
        text: own.into(),
        what_to_do: format!("leave out {name} or {by}"),
    })
    .collect()
}

fn is_used(key: &Key, has: &impl Fn(&str) -> bool) -> bool {
    let replaced = REPLACED.iter().any(|(name, by)| *name == key.name && has(by));
    let idle = key.name == engine::VOLUMETRIC_EFFICIENCY.name && !has(t::DISPLACEMENT.name);
    !replaced && !idle
}

/// Values that each could be true, but not together.
fn beyond_sense(inputs: &Inputs, given: &[(String, String)]) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut fault = |key: &Key, message: String, what_to_do: &str| {
        let told = given.iter().find(|(name, _)| find(name).is_some_and(|known| known.name == key.name));
        faults.push(Fault {
            code: "values-contradict",
            message,
            key: key.name.into(),
            text: told.map_or(String::new(), |(_, text)| text.clone()),
            what_to_do: what_to_do.into(),
        });
    };
    let (slow, fast) = (inputs.likely(&t::SLOW), inputs.likely(&t::FAST));
    if slow > fast {
        let show = |speed| Kind::Speed.show(speed);
        let message = format!("the slow corner at {} is faster than {}", show(slow), show(fast));
        fault(&t::SLOW, message, "give --slow the slowest corner and --fast the straight");
    }
    let used = inputs.likely(&engine::BRAKE_EFFICIENCY)
        + inputs.likely(&t::HEAT_SHARE)
        + inputs.likely(&t::REST_SHARE);
    if used > 1.0 {
        let message = format!("work and heat add up to {:.0} % of the fuel's heat", used * 100.0);
        fault(&t::HEAT_SHARE, message, "lower heat_share, rest_share or brake_efficiency");
    }
    let air = inputs.likely(&t::AIR_TEMPERATURE);
    for (limit, above_mean) in [
        (&t::HEADS_LIMIT, inputs.likely(&t::HOTTEST_ABOVE_MEAN)),
        (&t::BARRELS_LIMIT, inputs.likely(&t::HOTTEST_ABOVE_MEAN)),
        (&t::OIL_LIMIT, 0.0),
    ] {
        // the stream brings a kelvin or two of its own at speed
        if inputs.get(limit).is_some_and(|value| value.likely - above_mean < air + 10.0) {
            let show = |kelvin| Kind::Temperature.show(kelvin);
            let name = limit.name.replace('_', " ");
            let message = format!(
                "the {name} of {} leaves less than 10 K over the air's {}",
                show(inputs.likely(limit)),
                show(air)
            );
            fault(limit, message, "check the limit and the air's temperature");
        }
    }
    let strokes = inputs.likely(&engine::STROKES);
    if strokes != 2.0 && strokes != 4.0 {
        fault(&engine::STROKES, format!("an engine of {strokes:.0} strokes"), "give 2 or 4");
    }
    faults
}
