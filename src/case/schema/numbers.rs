//! How a number of the case file may be written, as a regular expression of ECMA-262.
//!
//! The same grammar as `keys::measure` reads, spelt out from the table of units: every spelling, without
//! regard to case where one unit alone fits, with the signs that are read as none where they are
//! usual. Narrower than the reader in one thing: a word is not torn apart (`centi metre`).

use crate::keys::units::{aliases, normalise};
use crate::keys::{Kind, Range};
use std::collections::BTreeSet;

/// Signs that a unit may hold without being another one; see [`normalise`].
const GAP: &str = r"[\s^·⋅∙×*().]*";

/// A number without its unit.
const NUMBER: &str = r"[+\-−]?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-−]?\d+)?";
/// The half width of a band.
const COUNTED: &str = r"\+?(?:\d+\.?\d*|\.\d+)(?:[eE][+\-−]?\d+)?";

/// The sign that an accepted range leaves a number, as a name and a pattern. A range from one end to
/// another is held by its middle, a temperature is written from another zero: neither tells by its sign.
pub(super) fn sign(range: Range, kind: Kind) -> Option<(&'static str, &'static str)> {
    if kind == Kind::Temperature || kind == Kind::Count || range.low < 0.0 {
        None
    } else if range.low > 0.0 || range.open_below {
        Some((
            "above zero",
            r"^(?:[\s\S]*\.\.|(?!\s*[\-−])(?!\s*\+?(?:0+\.?0*|\.0+)(?:[eE][+\-−]?\d+)?(?![\d.eE])))",
        ))
    } else {
        Some(("not negative", r"^(?:[\s\S]*\.\.|(?!\s*[\-−]))"))
    }
}

/// The pattern of a number of a kind of quantity, with or without its spread.
pub(super) fn pattern(kind: Kind) -> String {
    let (half, to) = (r"\s*(?:±|\+/-|\+-)\s*", r"\s*\.\.\s*");
    let unit = units(kind);
    // one value, value ± half width, or from one end to the other; one unit at the end serves both
    let ways = match kind {
        Kind::Count => return r"^\s*\+?0*[1-9]\d*(?:\.0*)?\s*$".to_string(),
        Kind::Ratio => {
            let per_cent = units(Kind::Share);
            format!("{NUMBER}(?:{half}{COUNTED}(?:{per_cent})?|{to}{NUMBER})?")
        }
        Kind::Share => format!(
            "{NUMBER}(?:{half}{COUNTED}|{to}{NUMBER})?|{NUMBER}(?:(?:{unit})?(?:{half}{COUNTED}|{to}{NUMBER}))?{unit}"
        ),
        Kind::Temperature => {
            let difference = units(kind.difference());
            format!(
                "{NUMBER}(?:(?:{unit})?{to}{NUMBER})?{unit}|{NUMBER}(?:{unit})?{half}{COUNTED}{difference}"
            )
        }
        _ => {
            let per_cent = units(Kind::Share);
            let clock = if kind == Kind::Time { r"|\d+(?::[0-5]?\d){1,2}(?:\.\d*)?" } else { "" };
            format!(
                "{NUMBER}(?:(?:{unit})?(?:{half}{COUNTED}|{to}{NUMBER}))?{unit}|{NUMBER}{unit}{half}{COUNTED}{per_cent}{clock}"
            )
        }
    };
    format!(r"^(?![\s\S]*\.\.\.)\s*(?:{ways})\s*$")
}

/// Any unit of a kind; nothing where it has none.
fn units(kind: Kind) -> String {
    let all: Vec<String> = aliases(kind)
        .iter()
        .flat_map(|unit| {
            std::iter::once(normalise(unit.written)).chain(unit.also.iter().map(|word| (*word).to_string()))
        })
        .collect();
    if all.is_empty() {
        return String::new();
    }
    // a spelling that stands for another unit in other capitals is read as it stands
    let owner = |word: &str| {
        aliases(kind).iter().position(|unit| normalise(unit.written) == word || unit.also.contains(&word))
    };
    let alone = |word: &String| {
        let low = word.to_lowercase();
        all.iter().filter(|other| other.to_lowercase() == low).all(|other| owner(other) == owner(word))
    };
    let patterns: BTreeSet<String> = all.iter().map(|word| spelling(word, alone(word))).collect();
    let patterns: Vec<String> = patterns.into_iter().collect();
    format!("{GAP}(?:{}){GAP}", patterns.join("|"))
}

/// A unit's spelling in normal form, with every sign that is read as one of its letters.
fn spelling(normal: &str, without_case: bool) -> String {
    let mut rest = normal;
    let mut letters: Vec<String> = Vec::new();
    while let Some(letter) = rest.chars().next() {
        if parts(normal, normal.len() - rest.len()) {
            letters.push(GAP.to_string());
        }
        if let Some(after) = rest.strip_prefix("deg") {
            let scale = after.chars().next().filter(|c| matches!(c, 'C' | 'F'));
            letters.push(match scale {
                Some(scale) => {
                    let sign = if scale == 'C' { '℃' } else { '℉' };
                    let word = word_of("deg", without_case);
                    format!("(?:(?:{word}|[°º˚]){GAP}{}|{sign})", one(scale, without_case))
                }
                None => format!("(?:{}|[°º˚])", word_of("deg", without_case)),
            });
            rest = &after[scale.map_or(0, char::len_utf8)..];
            continue;
        }
        letters.push(one(letter, without_case));
        rest = &rest[letter.len_utf8()..];
    }
    letters.concat()
}

fn word_of(word: &str, without_case: bool) -> String {
    word.chars().map(|letter| one(letter, without_case)).collect()
}

/// Whether a space, a dot or a bracket may stand in a unit's spelling behind its first `at` bytes: anywhere
/// in one made of several, in a word alone between its parts (`sq in`, `in H2O`).
fn parts(normal: &str, at: usize) -> bool {
    let (before, after) = normal.split_at(at);
    let word = normal.chars().all(char::is_alphabetic);
    let joint = before.ends_with(char::is_lowercase) && after.starts_with(char::is_uppercase);
    let first = ["sq", "square", "cu", "us", "uk", "imp"].contains(&before);
    !before.is_empty() && (!word || joint || first || ["wc", "wg", "ws"].contains(&after))
}

/// One letter, with every sign that is read as it.
fn one(letter: char, without_case: bool) -> String {
    let mut signs: BTreeSet<char> = BTreeSet::from([letter]);
    if without_case {
        signs.extend(letter.to_lowercase().chain(letter.to_uppercase()));
    }
    for (sign, read_as) in [
        ('¹', '1'),
        ('²', '2'),
        ('₂', '2'),
        ('³', '3'),
        ('⁻', '-'),
        ('−', '-'),
        ('⁄', '/'),
        ('∕', '/'),
        ('µ', 'u'),
        ('μ', 'u'),
        ('％', '%'),
        ('\u{212A}', 'K'),
    ] {
        if signs.contains(&read_as) {
            signs.insert(sign);
        }
    }
    let escaped: String = signs
        .iter()
        .map(
            |sign| {
                if matches!(sign, '-' | ']' | '\\' | '^') { format!("\\{sign}") } else { sign.to_string() }
            },
        )
        .collect();
    if signs.len() == 1 && letter.is_alphanumeric() { escaped } else { format!("[{escaped}]") }
}
