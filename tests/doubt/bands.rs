//! The bands of defaults against the accepted ranges of their keys.

use slowcorner::case::tables::SECTIONS;
use slowcorner::element::KINDS;
use slowcorner::keys::{Assumed, Key, Kind, Need, Range, ValueShape};

/// Every key of the case file that takes a number, tables within tables included.
fn keys() -> Vec<(String, &'static Key)> {
    fn walk(at: &str, keys: &'static [Key], found: &mut Vec<(String, &'static Key)>) {
        for key in keys {
            let name = format!("{at}/{}", key.name);
            if let ValueShape::Table(inner) | ValueShape::Tables(inner) = &key.shape {
                walk(&name, inner, found);
            }
            found.push((name, key));
        }
    }
    let mut found = Vec::new();
    SECTIONS.iter().for_each(|section| walk(section.name, section.keys, &mut found));
    KINDS.iter().for_each(|kind| walk(kind.name, kind.keys, &mut found));
    found
}

fn defaults(key: &Key) -> Vec<Assumed> {
    let words = key.words.iter().map(|word| word.assumed);
    let own = match key.need {
        Need::Default(assumed) => Some(assumed),
        _ => None,
    };
    let cooled = key.cooled_by.iter().map(|(_, assumed)| *assumed);
    own.into_iter().chain(words).chain(cooled).collect()
}

fn kind(key: &Key) -> Option<Kind> {
    match key.shape {
        ValueShape::Number(kind)
        | ValueShape::Numbers(kind)
        | ValueShape::Map(kind, _)
        | ValueShape::NumberOrMap(kind, ..) => Some(kind),
        ValueShape::NumberOrPairs(_, kind) | ValueShape::Pairs(_, kind) => Some(kind),
        _ => None,
    }
}

/// Nothing is less than nothing, no share more than the whole.
fn is_physical(key: &Key, bound: f64) -> bool {
    bound == 0.0 || (bound == 1.0 && kind(key) == Some(Kind::Share))
}

/// A band that ends where the key's range ends would be cut short on that side: half of what lies beyond it could
/// not be written down by a builder who measured it.
#[test]
fn no_default_band_reaches_the_end_of_what_is_accepted() {
    let mut seen = 0;
    let mut short = Vec::new();
    for (name, key) in keys() {
        for assumed in defaults(key) {
            let Range { low, high, .. } = key.range;
            assert!(low <= assumed.low && assumed.low <= assumed.value, "{name}");
            assert!(assumed.value <= assumed.high && assumed.high <= high, "{name}");
            if assumed.low == assumed.high {
                continue;
            }
            seen += 1;
            let ends = [(assumed.low, low), (assumed.high, high)];
            if ends.into_iter().any(|(end, bound)| end == bound && !is_physical(key, bound)) {
                short.push(format!("{name}: {} to {} of {low} to {high}", assumed.low, assumed.high));
            }
        }
    }
    assert!(seen > 40, "the walk misses defaults: {seen}");
    assert!(short.is_empty(), "{}", short.join("\n"));
}
