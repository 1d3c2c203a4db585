//! The chart of what decides: what knowing each guess, and each reading, would leave of the band.

use super::charts::{Axis, Bar, BarChart};
use super::curves::{CAUTION, subtitle};
use super::text::{address, words};
use crate::study::document::Report;
use crate::study::doubt::left::BandLeft;
use crate::study::doubt::shares::Ranked;

/// Bars at most.
const BARS: usize = 14;
/// What is worth less than this (K) decides nothing.
pub(super) const NEXT_TO_NOTHING: f64 = 0.5;

/// A guess or a reading as it is ranked.
#[derive(Clone, Copy, Debug)]
pub(super) enum Ranks<'r> {
    Guess(&'r crate::study::doubt::shares::Worth),
    /// A reading, or several.
    Reading(&'r crate::study::doubt::worth::ReadingWorth),
}

impl Ranks<'_> {
    pub fn left(&self) -> &BandLeft {
        match self {
            Ranks::Guess(worth) => &worth.left,
            Ranks::Reading(worth) => &worth.left,
        }
    }

    pub fn name(&self) -> String {
        match self {
            Ranks::Guess(worth) => match worth.input.addresses.len() {
                1 => worth.address.clone(),
                more => format!("{} and {} more", worth.address, more - 1),
            },
            Ranks::Reading(worth) => worth.reading.clone(),
        }
    }
}

impl Ranks<'_> {
    /// The same in words.
    pub fn told(&self) -> String {
        match self {
            Ranks::Guess(worth) => {
                let more = match worth.input.addresses.len() {
                    1 => String::new(),
                    more => format!(" and {} more", more - 1),
                };
                format!("{}{more}", address::in_words(&worth.address))
            }
            Ranks::Reading(worth) => worth.reading.clone(),
        }
    }
}

/// Guesses and readings in one list, the one worth most first, each reading at its best moment; whether each cannot be told from the first of those that
/// it stands among.
pub(super) fn ranked(report: &Report) -> Vec<(Ranks<'_>, bool)> {
    let guesses = report.shares.iter().map(Ranks::Guess);
    let mut all: Vec<Ranks> = guesses.chain(report.readings.iter().map(Ranks::Reading)).collect();
    all.retain(|each| each.left().worth_K >= NEXT_TO_NOTHING);
    all.sort_by(|a, b| b.left().worth_K.total_cmp(&a.left().worth_K));
    let mut known: Vec<&str> = Vec::new();
    all.retain(|each| match each {
        Ranks::Guess(_) => true,
        Ranks::Reading(worth) => {
            let new = !known.contains(&worth.what.as_str());
            known.push(&worth.what);
            new
        }
    });
    let mut first: Option<BandLeft> = None;
    all.into_iter()
        .map(|each| {
            let here = *each.left();
            let equal = first.is_some_and(|first| here.worth_to_K >= first.worth_from_K);
            if !equal {
                first = Some(here);
            }
            (each, equal)
        })
        .collect()
}

/// The ranking as bars.
pub fn chart(report: &Report, ranked_by: &Ranked) -> BarChart {
    let half = ranked_by.half_band_K;
    let bar = |(each, _): &(Ranks, bool)| {
        let left = each.left();
        Bar {
            name: each.told(),
            value: left.leaves_K,
            between: Some((half - left.worth_to_K, half - left.worth_from_K)),
            label: format!("± {} K", words::whole(left.leaves_K)),
            hatched: matches!(each, Ranks::Reading(_)),
        }
    };
    let of: Vec<String> = ranked_by
        .of
        .iter()
        .take(4)
        .map(|of| format!("{} in {}", of.part, words::name(&of.condition)))
        .collect();
    let more = ranked_by.of.len().saturating_sub(of.len());
    let rest = if more > 0 { format!(" and {more} more") } else { String::new() };
    BarChart {
        title: format!("What to measure first: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        x: Axis {
            label: "Half the band that would be left".into(),
            unit_note: "K, on the average over what it may turn out to be".into(),
            range: None,
        },
        bars: ranked(report).iter().take(BARS).map(bar).collect(),
        against: Some((half, format!("± {} K now", words::whole(half)))),
        footnotes: vec![
            format!("The band is that of the least margin of {}{rest}: 9 times in 10 within.", words::list(&of)),
            "Plain: a guess, were it known. Hatched: a reading, with the error of its instrument. Thin lines: how sure the length is, 9 times in 10."
                .to_string(),
            CAUTION.to_string(),
        ],
        width: None,
    }
}
