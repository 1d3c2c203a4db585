//! A result with everything that goes with it: the case, its defaults, its warnings.

use super::result::{DefaultUsed, Named, Program, Report, Setting};
use crate::case::{Case, Warning, tables as t};
use crate::keys::Origin;

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
        program: Program { name: env!("CARGO_PKG_NAME"), version: env!("CARGO_PKG_VERSION") },
        set: set
            .iter()
            .map(|(address, value)| Setting { address: address.clone(), value: value.clone() })
            .collect(),
        warnings,
        defaults: defaults(case),
        conditions: Vec::new(),
        doubt: None,
        shares: Vec::new(),
        readings: Vec::new(),
        next: None,
        ranked: None,
        everywhere_doubt: None,
        unwritten: Vec::new(),
        ram_over_fan: Vec::new(),
        stand_off: Vec::new(),
        sudden_changes: Vec::new(),
        worst: Named(Vec::new()),
        everywhere: Vec::new(),
        everywhere_within: None,
        stints: Vec::new(),
        sizes: None,
        sweep: None,
        why: None,
        exits: None,
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
