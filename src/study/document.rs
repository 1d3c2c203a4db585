//! All that one run has to say of a case, in the shape in which `--json` gives it: SI units, the unit in the key.

use crate::case::{Case, Warning, tables as t};
use crate::keys::Origin;
use crate::point::result::{ByName, Condition, Setting, Worst};
use crate::study::size::result::Sizes;
use crate::study::sweep::result::Sweep;
use serde::Serialize;

/// Everything that one run has to say of a case.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Report {
    /// Grammar of the case file.
    pub format: u32,
    /// Title of the case.
    pub title: Option<String>,
    /// State of the design.
    pub revision: Option<String>,
    /// Date, author and remarks of the case.
    pub date: Option<String>,
    /// Who wrote the case.
    pub author: Option<String>,
    /// SHA-256 of the case file's bytes.
    pub case_sha256: String,
    pub program: Program,
    /// What was set on the command line.
    pub set: Vec<Setting>,
    pub warnings: Vec<Warning>,
    /// Defaults that were used.
    pub defaults: Vec<DefaultUsed>,
    /// Limits of parts as they were typed, beside what is left for the mean.
    #[serde(skip)]
    pub limits: Vec<LimitTyped>,
    /// Solved conditions.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub conditions: Vec<Condition>,
    /// Whether the sweep finds anything between the conditions.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<crate::study::sweep::between::Between>,
    /// How much of the answer rests on guesses.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<crate::draws::doubt::Doubt>,
    /// What each guess is worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub shares: Vec<crate::study::doubt::shares::Worth>,
    /// What could be read off the car, and what that is worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<crate::study::doubt::worth::ReadingWorth>,
    /// The next best reading, and the next best two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub next: Option<crate::study::doubt::worth::Next>,
    /// By which margin guesses and readings are ranked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ranked: Option<crate::study::doubt::shares::Ranked>,
    /// What is usual, nobody wrote down, and would cost kelvins.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub unwritten: Vec<crate::study::check::offers::Offer>,
    /// For each fan, the road speed from which the ram before it pushes more than it does.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ram_over_fan: Vec<crate::study::check::ram_over_fan::RamOverFan>,
    /// What ten millimetres more between skin and inlet are worth.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stand_off: Vec<crate::study::check::stand_off::StandOff>,
    /// The dearest sudden changes of area that nobody wrote, and what would help.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub sudden_changes: Vec<crate::study::check::sudden::SuddenChange>,
    /// What to do next: changes that were tried, by what they win for the part that is worst off.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub advice: Vec<crate::study::check::advice::NextStep>,
    /// Worst condition of each part that has a limit; none where no condition is told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worst: Option<ByName<Worst>>,
    /// Worst point of each part over speed, gear, load, clear air and day.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub everywhere: Vec<crate::study::everywhere::result::WorstPoint>,
    /// How much of that rests on guesses: the same cars at all of these points.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub everywhere_doubt: Option<crate::draws::doubt::Doubt>,
    /// What was searched for them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub everywhere_within: Option<crate::study::everywhere::result::Within>,
    /// Stints that were run.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stints: Vec<crate::study::lap::result::Stint>,
    /// Sizes found.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sizes: Option<Sizes>,
    /// Margin against speed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sweep: Option<Sweep>,
    /// Where a number came from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<crate::study::why::result::Why>,
    /// The trade behind an exit size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exits: Option<crate::study::exits::result::Exits>,
}

/// A limit as it was typed.
#[derive(Clone, Debug)]
#[allow(non_snake_case)]
pub struct LimitTyped {
    pub part: String,
    /// As it was typed, with its unit.
    pub typed: String,
    /// What is taken off for the hottest (K).
    pub off_K: f64,
    /// What is left for the mean (°C).
    pub mean_C: f64,
}

/// Name and version of the program.
#[derive(Clone, Debug, Serialize)]
pub struct Program {
    pub name: &'static str,
    pub version: &'static str,
}

impl Default for Program {
    fn default() -> Program {
        Program { name: env!("CARGO_PKG_NAME"), version: env!("CARGO_PKG_VERSION") }
    }
}

/// A default that was used.
#[derive(Clone, Debug, Serialize)]
pub struct DefaultUsed {
    /// Its address.
    pub key: String,
    /// The value taken.
    pub value: String,
    /// Low end of the probable band.
    pub low: String,
    /// High end.
    pub high: String,
    /// Where both are from.
    pub source: String,
    /// What it stands for and how to measure it.
    pub measure: &'static str,
}

/// A report on a case, with nothing solved yet.
pub fn report(case: &Case, sha256: String, set: &[(String, String)], warnings: Vec<Warning>) -> Report {
    let text = |key: &crate::keys::Key| case.top.text(key).map(str::to_string);
    Report {
        format: 1,
        title: text(&t::TITLE),
        revision: text(&t::REVISION),
        date: text(&t::DATE),
        author: text(&t::AUTHOR),
        case_sha256: sha256,
        set: set
            .iter()
            .map(|(address, value)| Setting { address: address.clone(), value: value.clone() })
            .collect(),
        warnings,
        defaults: defaults(case),
        ..Report::default()
    }
}

/// Every default that a case uses.
pub fn defaults(case: &Case) -> Vec<DefaultUsed> {
    let mut list: Vec<DefaultUsed> = Vec::new();
    for fact in case.numbers.facts() {
        let Origin::Assumed(source) = fact.origin else { continue };
        let spread = fact.spread.as_ref();
        list.push(DefaultUsed {
            key: fact.address.clone(),
            value: fact.kind.show(fact.value),
            low: fact.kind.show(spread.map_or(fact.value, |s| s.low(fact.value))),
            high: fact.kind.show(spread.map_or(fact.value, |s| s.high(fact.value))),
            source: source.to_string(),
            measure: fact.help,
        });
    }
    list
}
