//! Chambers that one letter tells apart: a slip there splits the bay in two.

use super::gather::{Finding, Findings};
use super::words;
use crate::case::Case;

/// Looks at the chambers' names.
pub(super) fn look(case: &Case, gathered: &mut Findings) {
    let chambers: Vec<&str> = case.chambers.iter().map(|chamber| chamber.name.as_str()).collect();
    let named = |name: &str| {
        case.passages.iter().map(|p| usize::from(p.from == name) + usize::from(p.to == name)).sum::<usize>()
    };
    for (index, name) in chambers.iter().enumerate() {
        for word in ["outside", "engine"] {
            if alike(name, word) {
                gathered.in_file(Finding {
                    code: "chamber-names-alike",
                    place: Some(format!("chamber/{name}")),
                    seen: format!(
                        "{name:?}, named by {}, is a chamber of its own, and all but spelt {word:?}",
                        words::count(named(name), "passage")
                    ),
                    what_to_do: format!("write {word:?} if that is meant, or give the chamber another name"),
                    size: 1.0,
                });
            }
        }
        for other in &chambers[..index] {
            if !alike(name, other) {
                continue;
            }
            // the one that is named less often is more likely the slip
            let (slip, meant) = if named(name) <= named(other) { (name, other) } else { (other, name) };
            gathered.in_file(Finding {
                code: "chamber-names-alike",
                place: Some(format!("chamber/{slip}")),
                seen: format!(
                    "the chambers {slip:?} ({}) and {meant:?} ({}) are two spaces whose names hardly differ",
                    words::count(named(slip), "passage"),
                    words::count(named(meant), "passage")
                ),
                what_to_do: format!("write {meant:?} in both places if one space is meant, or rename one"),
                size: 1.0,
            });
        }
    }
}

/// Letters and digits alone, in small letters.
fn folded(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Whether two different names differ by case, spacing or one letter. Digits and letters that
/// stand alone ("bay 2", "bay L") are meant to tell names apart.
fn alike(one: &str, other: &str) -> bool {
    if one == other {
        return false;
    }
    let (a, b) = (folded(one), folded(other));
    if a == b {
        return true;
    }
    let without_digits = |name: &str| name.chars().filter(|c| !c.is_numeric()).collect::<String>();
    let long_words = |name: &str| {
        let words = name.split(|c: char| !c.is_alphanumeric()).filter(|word| word.chars().count() > 1);
        folded(&words.collect::<String>())
    };
    let on_purpose = without_digits(&a) == without_digits(&b) || long_words(one) == long_words(other);
    let short = a.chars().count().max(b.chars().count()) < 3;
    !on_purpose && !short && strsim::osa_distance(&a, &b) == 1
}

#[cfg(test)]
mod tests {
    use super::alike;

    #[test]
    fn a_slip_is_told_from_a_name_on_purpose() {
        for (one, other) in
            [("bay", "Bay"), ("bay", "bey"), ("bay", "bays"), ("engine bay", "engine-bay"), ("bay", "bya")]
        {
            assert!(alike(one, other) && alike(other, one), "{one} {other}");
        }
        for (one, other) in [
            ("bay", "bay"),
            ("bay 1", "bay 2"),
            ("bay", "bay 2"),
            ("bay L", "bay R"),
            ("bay", "bay L"),
            ("a", "b"),
            ("upper bay", "lower bay"),
            ("plenum", "bay"),
        ] {
            assert!(!alike(one, other) && !alike(other, one), "{one} {other}");
        }
    }
}
