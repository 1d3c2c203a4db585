//! Gathers what is seen, so that one thing is said once.

use super::words;
use crate::case::Warning;

/// One thing seen, in the file or in one condition.
#[derive(Clone, Debug)]
pub(super) struct Finding {
    pub code: &'static str,
    /// The address it belongs to.
    pub place: Option<String>,
    /// What was seen, with the number that shows it.
    pub seen: String,
    /// What to do about it.
    pub what_to_do: String,
    /// How bad it is; of several conditions the largest is quoted.
    pub size: f64,
}

#[derive(Debug)]
struct FindingEntry {
    worst: Finding,
    worst_in: Option<String>,
    conditions: Vec<String>,
}

/// Everything seen so far, once per code and address.
#[derive(Debug, Default)]
pub(super) struct Findings {
    entries: Vec<FindingEntry>,
}

impl Findings {
    /// Takes up something that shows in the file.
    pub fn in_file(&mut self, finding: Finding) {
        self.take(None, finding);
    }

    /// Takes up something that shows in a condition.
    pub fn in_condition(&mut self, condition: &str, finding: Finding) {
        self.take(Some(condition), finding);
    }

    fn take(&mut self, condition: Option<&str>, finding: Finding) {
        let known =
            self.entries.iter_mut().find(|e| e.worst.code == finding.code && e.worst.place == finding.place);
        let Some(entry) = known else {
            self.entries.push(FindingEntry {
                worst: finding,
                worst_in: condition.map(str::to_string),
                conditions: condition.map(str::to_string).into_iter().collect(),
            });
            return;
        };
        let known = |condition: &&str| entry.conditions.iter().any(|known| known == condition);
        if let Some(condition) = condition.filter(|condition| !known(condition)) {
            entry.conditions.push(condition.to_string());
        }
        if finding.size > entry.worst.size {
            entry.worst = finding;
            entry.worst_in = condition.map(str::to_string);
        }
    }

    /// The warnings, in the order in which they were first seen.
    pub fn into_warnings(self) -> Vec<Warning> {
        let tell = |entry: FindingEntry| {
            let all = words::names(entry.conditions.iter().map(String::as_str));
            let seen_in = match (&entry.conditions[..], &entry.worst_in) {
                ([], _) => String::new(),
                ([_, _, ..], Some(worst)) => format!(" (in {all}; worst in {})", words::name(worst)),
                _ => format!(" (in {all})"),
            };
            Warning {
                code: entry.worst.code,
                message: format!("{}{seen_in}; {}", entry.worst.seen, entry.worst.what_to_do),
                place: entry.worst.place,
            }
        };
        self.entries.into_iter().map(tell).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn finding(place: &str, size: f64) -> Finding {
        Finding {
            code: "inlet-spills",
            place: Some(place.to_string()),
            seen: format!("{size}"),
            what_to_do: "close it".to_string(),
            size,
        }
    }

    #[test]
    fn one_thing_is_said_once_with_its_worst_figure() {
        let mut gathered = Findings::default();
        gathered.in_condition("queue", finding("a", 2.0));
        gathered.in_condition("hairpin", finding("a", 5.0));
        gathered.in_condition("straight", finding("b", 1.0));
        gathered.in_condition("straight", finding("a", 3.0));
        gathered.in_file(finding("c", 7.0));
        let said: Vec<String> = gathered.into_warnings().into_iter().map(|w| w.message).collect();
        assert_eq!(
            said,
            [
                "5 (in queue, hairpin, straight; worst in hairpin); close it",
                "1 (in straight); close it",
                "7; close it",
            ],
        );
    }
}
