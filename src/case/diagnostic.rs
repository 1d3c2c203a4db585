//! What is wrong with a case file, in words, and where.
//!
//! All faults of a file are gathered in one run and shown together, in the order in which they
//! stand in the file.

use crate::keys::measure::MeasureError;
use std::fmt;
use std::ops::Range;

/// One fault of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnostic {
    /// What kind of fault it is, in words; scripts may rely on it.
    pub code: &'static str,
    /// What is wrong.
    pub message: String,
    /// Where it stands.
    pub place: FaultPlace,
    /// What the builder can do about it.
    pub what_to_do: String,
}

impl Diagnostic {
    /// A fault.
    pub fn new(
        code: &'static str,
        message: impl Into<String>,
        place: FaultPlace,
        what_to_do: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic { code, message: message.into(), place, what_to_do: what_to_do.into() }
    }

    /// The fault of a number that cannot be read.
    pub fn of_measure(error: MeasureError, place: FaultPlace) -> Diagnostic {
        Diagnostic::new(error.code, error.message, place, error.what_to_do)
    }
}

/// Where a fault stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FaultPlace {
    /// In the file, at these bytes.
    Span(Range<usize>),
    /// In a value set on the command line.
    Override {
        /// The address that was to be set.
        address: String,
        /// The text it was to be set to.
        text: String,
    },
    /// In an address on the command line, at these bytes of it.
    Address {
        /// The address that was to be set.
        address: String,
        /// The text it was to be set to.
        text: String,
        /// The part of the address that is wrong.
        part: Range<usize>,
    },
    /// In the file as a whole.
    Whole,
}

impl FaultPlace {
    /// A word of an address on the command line, or all of it.
    pub fn of_word(address: &str, text: &str, word: Option<&str>) -> FaultPlace {
        let mut from = 0;
        let found = word.and_then(|word| {
            address.split('/').find_map(|segment| {
                let at = from + (segment.len() - segment.trim_start().len());
                from += segment.len() + 1;
                (segment.trim() == word).then(|| at..at + word.len())
            })
        });
        let part = found.unwrap_or(0..address.len());
        FaultPlace::Address { address: address.to_string(), text: text.to_string(), part }
    }

    /// The file as a whole first, then down the file, then the command line.
    fn rank(&self) -> (u8, usize, usize) {
        match self {
            FaultPlace::Whole => (0, 0, 0),
            FaultPlace::Span(span) => (1, span.start, span.end),
            FaultPlace::Override { .. } | FaultPlace::Address { .. } => (2, 0, 0),
        }
    }
}

/// The faults of a case, in the order of their places.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
}

impl Diagnostics {
    /// No faults yet.
    pub fn new() -> Diagnostics {
        Diagnostics::default()
    }

    /// Adds a fault in its place. Of faults with the same code and message at the same place the
    /// first is kept; two keys that a table lacks are two faults.
    pub fn push(&mut self, fault: Diagnostic) {
        let rank = fault.place.rank();
        let start = self.list.partition_point(|known| known.place.rank() < rank);
        let end = self.list.partition_point(|known| known.place.rank() <= rank);
        let known = self.list[start..end].iter().any(|known| {
            known.code == fault.code && known.place == fault.place && known.message == fault.message
        });
        if !known {
            self.list.insert(end, fault);
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// The faults in the order of their places.
    pub fn list(&self) -> &[Diagnostic] {
        &self.list
    }

    /// `value` if there is no fault, else the faults.
    ///
    /// # Errors
    /// The faults, if there are any.
    pub fn unless_faulty<T>(self, value: T) -> Result<T, Diagnostics> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }
}

impl Extend<Diagnostic> for Diagnostics {
    fn extend<I: IntoIterator<Item = Diagnostic>>(&mut self, faults: I) {
        for fault in faults {
            self.push(fault);
        }
    }
}

impl IntoIterator for Diagnostics {
    type Item = Diagnostic;
    type IntoIter = std::vec::IntoIter<Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}

impl From<Diagnostic> for Diagnostics {
    fn from(fault: Diagnostic) -> Diagnostics {
        Diagnostics { list: vec![fault] }
    }
}

impl fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.list.iter().enumerate() {
            let gap = if index == 0 { "" } else { "\n" };
            write!(f, "{gap}{}: {}", fault.code, fault.message)?;
        }
        Ok(())
    }
}

impl std::error::Error for Diagnostics {}

/// The candidate that was probably meant by a word, if one is near enough.
///
/// Case, spaces, hyphens and underscores make no difference. Near enough is one slip of the pen
/// in three letters, or a beginning of three letters or more; among several the one with the
/// fewest slips, then the most alike (Jaro and Winkler), then the first.
pub fn did_you_mean<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = folded(word);
    let length = word.chars().count();
    // Nothing so long is a misspelt key, and the comparison grows with the square of the length.
    if length == 0 || length > 64 {
        return None;
    }
    let mut best: Option<(usize, f64, &'a str)> = None;
    for candidate in candidates {
        let other = folded(candidate);
        let slips = strsim::damerau_levenshtein(&word, &other);
        let begun = length >= 3 && other.starts_with(&word);
        if slips > length / 3 && !begun {
            continue;
        }
        let alike = strsim::jaro_winkler(&word, &other);
        let better = best.is_none_or(|(fewest, most, _)| slips < fewest || (slips == fewest && alike > most));
        if better {
            best = Some((slips, alike, candidate));
        }
    }
    best.map(|(_, _, candidate)| candidate)
}

fn folded(word: &str) -> String {
    word.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_'))
        .flat_map(char::to_lowercase)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const KEYS: [&str; 14] = [
        "area",
        "width",
        "height",
        "diameter",
        "recovery",
        "edge",
        "edge_radius",
        "entry_loss",
        "pressure_coefficient",
        "pressure_drop",
        "pressure_exponent",
        "conductance",
        "conductance_exponent",
        "conductivity",
    ];

    #[test]
    fn near_words() {
        for (word, wanted) in [
            ("aera", Some("area")),
            ("heigth", Some("height")),
            ("Entry Loss", Some("entry_loss")),
            ("entry-loss", Some("entry_loss")),
            ("pressure_coeficient", Some("pressure_coefficient")),
            ("pressure_coeff", Some("pressure_coefficient")),
            ("conductanse", Some("conductance")),
            ("conductivty", Some("conductivity")),
            ("diam", Some("diameter")),
            ("edge-radus", Some("edge_radius")),
            ("cd", None),
            ("k", None),
            ("", None),
            ("_", None),
            ("colour", None),
            ("throttle", None),
        ] {
            assert_eq!(did_you_mean(word, KEYS), wanted, "{word}");
        }
        assert_eq!(did_you_mean("head", ["Heads", "barrels"]), Some("Heads"));
        assert_eq!(did_you_mean("tail right", ["tail left", "tail-right"]), Some("tail-right"));
        assert_eq!(did_you_mean(&"area".repeat(1000), KEYS), None);
        assert_eq!(did_you_mean("area", []), None);
    }

    fn at(start: usize, code: &'static str) -> Diagnostic {
        Diagnostic::new(code, "wrong", FaultPlace::Span(start..start + 4), "mend it")
    }

    #[test]
    fn faults_stand_in_the_order_of_the_file_and_once_each() {
        let set = FaultPlace::Override { address: "engine/power".to_string(), text: "x".to_string() };
        let mut faults = Diagnostics::new();
        faults.push(Diagnostic::new("unit-missing", "no unit", set.clone(), ""));
        faults.push(at(40, "key-unknown"));
        faults.push(at(7, "unit-missing"));
        faults.push(Diagnostic::new("table-missing", "no [engine]", FaultPlace::Whole, ""));
        faults.push(Diagnostic::new("table-missing", "no [day]", FaultPlace::Whole, ""));
        faults.push(at(40, "key-unknown"));
        faults.push(at(40, "name-twice"));
        let found: Vec<_> = faults.list().iter().map(|fault| (fault.code, fault.place.clone())).collect();
        assert_eq!(
            found,
            [
                ("table-missing", FaultPlace::Whole),
                ("table-missing", FaultPlace::Whole),
                ("unit-missing", FaultPlace::Span(7..11)),
                ("key-unknown", FaultPlace::Span(40..44)),
                ("name-twice", FaultPlace::Span(40..44)),
                ("unit-missing", set),
            ],
        );
        assert_eq!(faults.list().len(), 6);
        assert!(faults.to_string().starts_with("table-missing: no [engine]\n"));
        assert_eq!(faults.clone().unless_faulty(1), Err(faults));
        assert_eq!(Diagnostics::new().unless_faulty(1), Ok(1));
    }

    proptest! {
        #[test]
        fn a_word_is_its_own_nearest(index in 0..KEYS.len(), upper: bool) {
            let word = KEYS[index];
            let written = if upper { word.to_uppercase() } else { word.replace('_', " ") };
            prop_assert_eq!(did_you_mean(&written, KEYS), Some(word));
        }

        #[test]
        fn any_word_is_borne(word in "\\PC*") {
            let _ = did_you_mean(&word, KEYS);
        }

        #[test]
        fn places_stay_sorted(starts in prop::collection::vec(0usize..50, 0..40)) {
            let mut faults = Diagnostics::new();
            faults.extend(starts.iter().map(|start| at(*start, "key-unknown")));
            let ranks: Vec<_> = faults.list().iter().map(|fault| fault.place.rank()).collect();
            prop_assert!(ranks.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }
}
