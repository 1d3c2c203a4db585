//! Addresses on which two cases differ.

use super::layout::{STRONG, item, styled};
use super::words;
use crate::study::changes::{Difference, table_of};
use std::fmt::Write;

/// The differences of one case from another, under its name; what was added or taken away as a whole is
/// told in one line.
pub(super) fn write(out: &mut String, name: &str, differences: &[Difference]) {
    let _ = writeln!(out, "  {}", styled(STRONG, name));
    if differences.is_empty() {
        item(out, 4, "", "nothing: it is reckoned as the base case is");
    }
    for line in lines(differences) {
        item(out, 4, "", &words::on_paper(&line));
    }
}

/// A line for each address, or for each table and element that is new or gone as a whole.
pub(in crate::output) fn lines(differences: &[Difference]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut at = 0;
    while at < differences.len() {
        let first = &differences[at];
        let whole = whole(differences, first);
        let count = match &whole {
            Some(stem) => {
                differences[at..].iter().take_while(|d| d.address.starts_with(&format!("{stem}/"))).count()
            }
            None => 1,
        };
        lines.push(match whole {
            Some(stem) if count > 1 => told_whole(&stem, &differences[at..at + count]),
            _ => told(first),
        });
        at += count.max(1);
    }
    lines
}

fn told(difference: &Difference) -> String {
    let address = &difference.address;
    match (&difference.before, &difference.after) {
        (Some(before), Some(after)) => format!("{address}: {before} → {after}"),
        (None, Some(after)) => format!("{address}: added, {after}"),
        (Some(before), None) => format!("{address}: gone, was {before}"),
        (None, None) => address.clone(),
    }
}

/// The table or element that is new, or gone, as a whole, where an address belongs to one.
fn whole(differences: &[Difference], first: &Difference) -> Option<String> {
    let (added, gone) = (first.before.is_none(), first.after.is_none());
    if added == gone {
        return None;
    }
    let table = table_of(&first.address).to_string();
    let element = first.address.rsplit_once('/').map(|(stem, _)| stem.to_string());
    // a table is whole where the key that every such table must have changed sides
    let must = |stem: &str| {
        ["kind", "from", "limit", "speed", "step", "leg"].iter().any(|key| {
            differences.iter().any(|d| {
                d.address == format!("{stem}/{key}")
                    && d.before.is_none() == added
                    && d.after.is_none() == gone
            })
        })
    };
    std::iter::once(table).chain(element).find(|stem| must(stem))
}

fn told_whole(stem: &str, differences: &[Difference]) -> String {
    let added = differences.iter().all(|d| d.before.is_none());
    let says: Vec<String> = differences
        .iter()
        .map(|d| {
            let key = d.address.strip_prefix(stem).unwrap_or(&d.address).trim_start_matches('/');
            format!("{key} {}", d.after.as_ref().or(d.before.as_ref()).map_or("", String::as_str))
        })
        .collect();
    format!("{stem}: {} ({})", if added { "added" } else { "gone" }, says.join(", "))
}
