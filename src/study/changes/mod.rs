//! What changed between two cases: which addresses differ, which margins moved and by which of them, and
//! which openings still do.

mod differences;
mod openings;
pub mod result;

pub use differences::{Difference, differences, table_of};

use crate::case::document::Node;
use crate::case::substitute::substitute;
use crate::case::{Case, Diagnostics, Loaded};
use crate::point::budget::{self, Budget, seconds};
use crate::point::conditions;
use crate::point::model::Model;
use crate::point::result::{Condition, PartResult};
use rayon::prelude::*;
use result::{Changes, MarginMoved, NamedThing, TableMover, Unmatched};

/// Kelvins that count as no move.
const STAYS: f64 = 0.05;
/// Tables that no margin of a condition hangs on.
const APART: &[&str] = &["size", "sweep", "stint", "layout"];

/// Compares a newer case with an older one. `progress` is told the share that is done.
///
/// # Errors
/// In words, where one of the two cannot be solved.
pub fn changes(old: &Loaded, new: &Loaded, progress: &(dyn Fn(f64) + Sync)) -> Result<Changes, String> {
    changes_within(old, new, Budget::seconds(seconds::CHANGES), progress)
}

/// The same within a budget; what would be too much is left out and told.
///
/// # Errors
/// As [`changes`].
pub fn changes_within(
    old: &Loaded,
    new: &Loaded,
    budget: Budget,
    progress: &(dyn Fn(f64) + Sync),
) -> Result<Changes, String> {
    let (before, work) = solve(&old.case).map_err(|error| format!("the older case: {error}"))?;
    let (after, _) = solve(&new.case).map_err(|error| format!("the newer case: {error}"))?;
    let differs = differences(&old.case, &new.case);
    progress(0.2);
    let mut trouble = Vec::new();
    let moves = movers((old, new), &differs, budget.share(0.3).times(work), &mut trouble);
    progress(0.6);
    let openings = openings::fates(&old.case, &new.case, budget.share(0.4), &mut trouble);
    let mut margins: Vec<MarginMoved> = both(&before, &after)
        .filter(|(_, was, is)| was.has_limit() && is.has_limit())
        .map(|(condition, was, is)| {
            let moved = is.temperature_margin_K - was.temperature_margin_K;
            let mut because: Vec<TableMover> = moves
                .iter()
                .filter_map(|step| {
                    let there = part_in(&step.conditions, &condition.name, &was.name)?;
                    let moved = there.temperature_margin_K - was.temperature_margin_K;
                    let mover = TableMover {
                        table: step.table.clone(),
                        addresses: step.addresses.clone(),
                        moved_K: moved,
                    };
                    (moved.abs() >= STAYS).then_some(mover)
                })
                .collect();
            because.sort_by(|a, b| b.moved_K.abs().total_cmp(&a.moved_K.abs()));
            MarginMoved {
                part: was.name.clone(),
                condition: condition.name.clone(),
                temperature_margin_before_K: was.temperature_margin_K,
                temperature_margin_after_K: is.temperature_margin_K,
                moved_K: moved,
                flow_margin_before: was.flow_margin,
                margin_was: was.margin_is,
                flow_margin_after: is.flow_margin,
                margin_is: is.margin_is,
                together_K: moved - because.iter().map(|mover| mover.moved_K).sum::<f64>(),
                because,
            }
        })
        .collect();
    margins.sort_by(|a, b| b.moved_K.abs().total_cmp(&a.moved_K.abs()));
    Ok(Changes { unmatched: unmatched(&old.case, &new.case), differs, margins, openings, trouble })
}

fn in_words(faults: &Diagnostics) -> String {
    let list: Vec<&str> = faults.list().iter().map(|fault| fault.message.as_str()).collect();
    list.join("; ")
}

/// The conditions of a case, and the work that they took.
fn solve(case: &Case) -> Result<(Vec<Condition>, u64), String> {
    let model = Model::new(case).map_err(|faults| in_words(&faults))?;
    let found = conditions::solved_within(case, &model, Budget::seconds(seconds::CHECK));
    match found.unsolved.first() {
        Some(first) => Err(first.to_string()),
        None => Ok((found.conditions, found.work + budget::making(case))),
    }
}

fn part_in<'c>(conditions: &'c [Condition], condition: &str, part: &str) -> Option<&'c PartResult> {
    let condition = conditions.iter().find(|known| known.name == condition)?;
    condition.parts.iter().find(|known| known.name == part)
}

/// Every part in every condition that both cases have.
fn both<'c>(
    before: &'c [Condition],
    after: &'c [Condition],
) -> impl Iterator<Item = (&'c Condition, &'c PartResult, &'c PartResult)> {
    before.iter().flat_map(move |condition| {
        let parts = condition.parts.iter();
        parts.filter_map(move |was| part_in(after, &condition.name, &was.name).map(|is| (condition, was, is)))
    })
}

/// The older case with one table of the newer, solved.
struct SolvedChange {
    table: String,
    addresses: Vec<String>,
    conditions: Vec<Condition>,
}

/// A table that differs.
struct ChangedTable<'d> {
    table: &'d str,
    addresses: Vec<String>,
    /// Whether only one of the two cases has it.
    whole: bool,
}

fn changed_tables(differs: &[Difference]) -> Vec<ChangedTable<'_>> {
    let mut tables: Vec<ChangedTable> = Vec::new();
    for difference in differs {
        let table = difference.table();
        if APART.contains(&table.split('/').next().unwrap_or(table)) {
            continue;
        }
        let one_sided = difference.before.is_none() || difference.after.is_none();
        let address = difference.address.clone();
        match tables.iter_mut().find(|known| known.table == table) {
            Some(known) => {
                known.addresses.push(address);
                known.whole &= one_sided;
            }
            None => tables.push(ChangedTable { table, addresses: vec![address], whole: one_sided }),
        }
    }
    tables
}

/// Puts every table that differs into the older case on its own; those that only make sense together, as a
/// passage and the new place that it names, all at once.
fn movers(
    (old, new): (&Loaded, &Loaded),
    differs: &[Difference],
    most: usize,
    trouble: &mut Vec<String>,
) -> Vec<SolvedChange> {
    let stands = |names: &[&str]| -> Result<Vec<Condition>, String> {
        let mut document: Node = old.document.clone();
        for name in names {
            document = substitute(&document, &new.document, name);
        }
        let mut faults = Diagnostics::new();
        let case = Case::read(&document, &mut faults).ok_or_else(|| in_words(&faults))?;
        solve(&case).map(|(conditions, _)| conditions)
    };
    let mut tables = changed_tables(differs);
    if most < tables.len() {
        trouble.push(format!(
            "the case is so large that of {} tables that differ {most} were tried on their own",
            tables.len()
        ));
        tables.truncate(most);
    }
    let alone: Vec<Result<Vec<Condition>, String>> =
        tables.par_iter().map(|changed| stands(&[changed.table])).collect();
    let tied = alone.iter().any(Result::is_err);
    let mut steps = Vec::new();
    let mut together: Vec<ChangedTable> = Vec::new();
    for (changed, outcome) in tables.into_iter().zip(alone) {
        match outcome {
            // what is new, or gone, may be what the others name
            Ok(conditions) if !(tied && changed.whole) => {
                let (table, addresses) = (changed.table.to_string(), changed.addresses);
                steps.push(SolvedChange { table, addresses, conditions });
            }
            _ => together.push(changed),
        }
    }
    if together.is_empty() {
        return steps;
    }
    let names: Vec<&str> = together.iter().map(|changed| changed.table).collect();
    match stands(&names) {
        Ok(conditions) => steps.push(SolvedChange {
            table: names.join(" with "),
            addresses: together.into_iter().flat_map(|changed| changed.addresses).collect(),
            conditions,
        }),
        Err(why) => trouble.push(format!(
            "what these alone move cannot be told, since the older case does not stand with them: {} ({why})",
            names.join(", ")
        )),
    }
    steps
}

fn unmatched(old: &Case, new: &Case) -> Vec<Unmatched> {
    let names = |case: &Case| -> Vec<(NamedThing, String)> {
        let named = |what, list: &[crate::case::Named]| {
            list.iter().map(|named| (what, named.name.clone())).collect::<Vec<_>>()
        };
        let mut all = named(NamedThing::Part, &case.parts);
        all.extend(named(NamedThing::Condition, &case.conditions));
        all.extend(case.passages.iter().map(|passage| (NamedThing::Passage, passage.name.clone())));
        all.extend(named(NamedThing::Chamber, &case.chambers));
        all
    };
    let (before, after) = (names(old), names(new));
    let only = |these: &[(NamedThing, String)], those: &[(NamedThing, String)], added: bool| {
        let missing = these.iter().filter(|name| !those.contains(name));
        missing.map(|(what, name)| Unmatched { what: *what, name: name.clone(), added }).collect::<Vec<_>>()
    };
    [only(&before, &after, false), only(&after, &before, true)].concat()
}
