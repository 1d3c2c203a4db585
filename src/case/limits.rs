//! How long names and texts may be, and which characters they may hold.

use super::diagnostic::{Diagnostic, Diagnostics, FaultPlace};
use super::document::{Node, Tree};

/// Longest name of anything, and longest key (characters).
pub const LONGEST_NAME: usize = 100;
/// Longest address, which is names in a row (characters).
const LONGEST_ADDRESS: usize = 5 * LONGEST_NAME;
/// Longest text (characters).
pub const LONGEST_TEXT: usize = 4000;

/// Characters of a text that are shown where it is too long to be shown whole.
const SHOWN: usize = 40;

/// Keys whose text is the name of something.
pub const NAMES: [&str; 3] = ["name", "from", "to"];

/// Whether a character steers a terminal, or turns the direction of writing and so makes a line look like another.
pub fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Whether a character takes no room on a line, so that two names that look alike differ; not those that join the letters of a
/// script, or the pieces of a picture.
fn has_no_width(c: char) -> bool {
    matches!(
        c,
        '\u{00AD}'
            | '\u{034F}'
            | '\u{115F}'
            | '\u{1160}'
            | '\u{17B4}'
            | '\u{17B5}'
            | '\u{180E}'
            | '\u{200B}'
            | '\u{2060}'..='\u{2064}' | '\u{FEFF}'
    )
}

/// What a text may be.
#[derive(Clone, Copy)]
struct Limit {
    what: &'static str,
    code: &'static str,
    longest: usize,
    /// Whether it may run over several lines.
    lines: bool,
}

const NAME: Limit = Limit { what: "name", code: "name-too-long", longest: LONGEST_NAME, lines: false };
const KEY: Limit = Limit { what: "key", ..NAME };
const ADDRESS: Limit =
    Limit { what: "address", code: "address-too-long", longest: LONGEST_ADDRESS, lines: false };
const TEXT: Limit = Limit { what: "text", code: "text-too-long", longest: LONGEST_TEXT, lines: true };

/// Faults names and texts of a document that are too long, and characters that nobody sees.
pub(crate) fn check(document: &Node, faults: &mut Diagnostics) {
    walk(document, "", faults);
}

fn walk(node: &Node, key: &str, faults: &mut Diagnostics) {
    match &node.tree {
        Tree::Text(text) => {
            let limit = if NAMES.contains(&key) { NAME } else { TEXT };
            one(text, limit, node.place(), faults);
        }
        Tree::List(members) => members.iter().for_each(|member| walk(member, key, faults)),
        Tree::Table(entries) => {
            for entry in entries {
                one(&entry.key, if key == "set" { ADDRESS } else { KEY }, entry.key_place(), faults);
                walk(&entry.value, &entry.key, faults);
            }
        }
        Tree::Number(_) | Tree::Flag(_) | Tree::Other => {}
    }
}

fn one(text: &str, limit: Limit, place: FaultPlace, faults: &mut Diagnostics) {
    let length = text.chars().count();
    if length > limit.longest {
        let begins: String = text.chars().take(SHOWN).collect();
        let message = format!(
            "a {} of {length} characters; at most {} are read (it begins {begins:?})",
            limit.what, limit.longest
        );
        let way_out = match limit.lines {
            true => "shorten it; a long story belongs in a file of its own beside the case",
            false => "shorten it; `about` at the head of the file has room for more",
        };
        faults.push(Diagnostic::new(limit.code, message, place.clone(), way_out));
    }
    let line_end = |c: char| limit.lines && matches!(c, '\n' | '\r' | '\t');
    let found = text.chars().enumerate().find(|(_, c)| (steers(*c) || has_no_width(*c)) && !line_end(*c));
    if let Some((at, c)) = found {
        let what = match c {
            _ if c.is_control() => "a control character",
            _ if has_no_width(c) => "which takes no room",
            _ => "which turns the direction of writing",
        };
        let message = format!(
            "character {} of this {} is one that nobody sees: U+{:04X}, {what}",
            at + 1,
            limit.what,
            u32::from(c)
        );
        let way_out =
            "delete it, or type the text anew: such characters come along when text is copied from elsewhere";
        faults.push(Diagnostic::new("hidden-character", message, place, way_out));
    }
}
