//! What was left out of the case, and what was taken in its place.

use super::layout::{QUIET, TextColumn, TextTable, heading, item, paragraph};
use super::words;
use crate::study::document::DefaultUsed;

/// So many addresses are named in one row; the rest are counted.
const NAMED: usize = 3;

/// A default taken at several addresses.
struct DefaultTaken<'r> {
    key: &'r str,
    first: &'r DefaultUsed,
    places: Vec<&'r str>,
}

/// The defaults that are guesses: those with a band. The others are counted. `sources` adds where
/// each is from.
pub(super) fn write(out: &mut String, defaults: &[DefaultUsed], sources: bool) {
    if defaults.is_empty() {
        return;
    }
    let (guesses, settled): (Vec<&DefaultUsed>, Vec<&DefaultUsed>) =
        defaults.iter().partition(|taken| taken.low != taken.high);
    heading(out, "What the case leaves open");
    if !guesses.is_empty() {
        table(&guesses, sources).write(out);
    }
    if sources && !guesses.is_empty() {
        heading(out, "How to measure what was assumed");
        for taken in gather(&guesses) {
            let how = taken.first.measure.rsplit_once("; ").map_or(taken.first.measure, |(_, how)| how);
            item(out, 2, "", &format!("{}: {how}", taken.in_words()));
        }
    }
    let mut foot: Vec<String> = Vec::new();
    if !settled.is_empty() {
        let and = if guesses.is_empty() { "" } else { "and " };
        foot.push(format!("{and}{} of one value, counts and the like: --json", settled.len()));
    }
    if !guesses.is_empty() && !sources {
        foot.push("where each is from, and how to measure it: --all".to_string());
    }
    paragraph(out, QUIET, &foot.join("; "));
}

fn table(guesses: &[&DefaultUsed], sources: bool) -> TextTable {
    let mut columns = vec![
        (TextColumn::Wrapped, "key, and where".to_string()),
        (TextColumn::Right, "taken".to_string()),
        (TextColumn::Left, "probable band".to_string()),
    ];
    if sources {
        columns.push((TextColumn::Wrapped, "from".to_string()));
    }
    let mut table = TextTable::new(columns);
    for taken in gather(guesses) {
        let first = taken.first;
        let (value, band) = value_and_band(&first.value, &first.low, &first.high);
        let mut row = vec![taken.in_words().into(), value.into(), band.into()];
        if sources {
            row.push(words::on_paper(&taken.first.source).into());
        }
        table.row(row);
    }
    table
}

/// Value and band, with the unit once where they share it.
pub(in crate::output) fn value_and_band(value: &str, low: &str, high: &str) -> (String, String) {
    let paper = [value, low, high].map(words::on_paper);
    let [value, low, high] = paper.each_ref().map(|text| text.split_once(' ').unwrap_or((text, "")));
    if value.1 == high.1 && low.1 == high.1 {
        let unit = if high.1.is_empty() { String::new() } else { format!(" {}", high.1) };
        return (value.0.to_string(), format!("{} to {}{unit}", low.0, high.0));
    }
    (paper[0].clone(), format!("{} to {}", paper[1], paper[2]))
}

fn gather<'r>(guesses: &[&'r DefaultUsed]) -> Vec<DefaultTaken<'r>> {
    let mut all: Vec<DefaultTaken<'r>> = Vec::new();
    for guess in guesses {
        let (place, key) = guess.key.rsplit_once('/').unwrap_or(("", &guess.key));
        let place = place.split_once('/').map_or(place, |(_, rest)| rest);
        let same = |taken: &&mut DefaultTaken| {
            let first = taken.first;
            taken.key == key
                && (&first.value, &first.low, &first.high, &first.source)
                    == (&guess.value, &guess.low, &guess.high, &guess.source)
        };
        match all.iter_mut().find(same) {
            Some(taken) => taken.places.push(place),
            None => all.push(DefaultTaken { key, first: guess, places: vec![place] }),
        }
    }
    all
}

impl DefaultTaken<'_> {
    /// "discharge of left exit/exit, right exit/exit".
    fn in_words(&self) -> String {
        let places: Vec<String> = self
            .places
            .iter()
            .take(NAMED)
            .filter(|place| !place.is_empty())
            .map(|place| words::name(place))
            .collect();
        let more = self.places.len().saturating_sub(NAMED);
        let key = self.key.replace('_', " ");
        match (places.as_slice(), more) {
            ([], _) => key,
            (places, 0) => format!("{key}: {}", words::list(places)),
            (places, more) => format!("{key}: {} and {more} more", places.join(", ")),
        }
    }
}
