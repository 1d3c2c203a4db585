//! What one line that is no TOML probably meant.

use std::ops::Range;

/// A slip in a line.
pub(super) struct Slip {
    pub code: &'static str,
    pub message: String,
    /// Bytes of the line.
    pub span: Range<usize>,
    pub what_to_do: String,
}

/// Quotes that word processors and messages put in the place of plain ones.
const TYPOGRAPHIC: &[char] =
    &['“', '”', '„', '‟', '″', '«', '»', '‹', '›', '‘', '’', '‚', '‛', '′', '`', '´', '＂', '＇'];
/// Words for yes and no that are not those of the file.
const YES: &[&str] = &["yes", "on", "y", "ja", "oui", "si", "True", "TRUE", "Yes", "YES", "ON", "On"];
const NO: &[&str] = &["no", "off", "n", "nein", "non", "False", "FALSE", "No", "NO", "OFF", "Off"];

/// The slip in a line in which the parser stopped at a byte.
pub(super) fn slip(line: &str, at: usize, message: &str) -> Option<Slip> {
    typographic(line)
        .or_else(|| backslash(line, at, message))
        .or_else(|| remark(line, at))
        .or_else(|| heading(line))
        .or_else(|| key(line))
        .or_else(|| open_quote(line, at, message))
        .or_else(|| value(line, at))
}

/// Whether a line begins with a key and its sign.
pub(super) fn begins_with_key(line: &str) -> bool {
    let Some((key, _)) = line.split_once('=') else { return false };
    let key = key.trim();
    !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || " _-.\"'/".contains(c))
}

/// Key and value of a line that parts them with a colon.
pub(super) fn colon(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once(':')?;
    let word = |c: char| c.is_alphanumeric() || " _-".contains(c);
    let plain = !key.trim().is_empty() && key.chars().all(word) && !value.trim().is_empty();
    plain.then(|| (key.trim(), value.trim()))
}

/// The line without its text in plain quotes and its remark, as bytes that stand where they stood.
fn bare(line: &str) -> String {
    let mut quote = None;
    let mut out = String::with_capacity(line.len());
    let blank = |c: char| " ".repeat(c.len_utf8());
    for c in line.chars() {
        match (quote, c) {
            (Some(sign), c) => {
                if c == sign {
                    quote = None;
                }
                out.push_str(&blank(c));
            }
            (None, '"' | '\'') => {
                quote = Some(c);
                out.push_str(&blank(c));
            }
            (None, '#') => break,
            (None, c) => out.push(c),
        }
    }
    out
}

fn typographic(line: &str) -> Option<Slip> {
    let bare = bare(line);
    let first = bare.find(TYPOGRAPHIC)?;
    let (from, sign) = bare[first..].char_indices().next().map(|(_, c)| (first + c.len_utf8(), c))?;
    let close = bare[from..].find(TYPOGRAPHIC).map(|end| from + end);
    let end = close.map_or(from, |end| end + bare[end..].chars().next().map_or(0, char::len_utf8));
    let text = close.map_or("266 mm", |end| line[from..end].trim());
    Some(Slip {
        code: "typographic-quotes",
        message: format!(
            "{sign} is no plain quote: word processors and messages put such signs in its place"
        ),
        span: first..end,
        what_to_do: format!(
            "write plain quotes: \"{text}\"; an editor for plain text leaves them as they are"
        ),
    })
}

fn backslash(line: &str, at: usize, message: &str) -> Option<Slip> {
    if !(message.contains("escape") || message.contains("unicode")) {
        return None;
    }
    let from = line[..at.min(line.len())].rfind('"')?;
    let end = line[from + 1..].find('"').map_or(line.len(), |end| from + 1 + end + 1);
    let text = line[from..end].trim_matches('"');
    Some(Slip {
        code: "backslash-in-text",
        message: "a backslash between double quotes begins a special sign, and this one is none".to_string(),
        span: from..end,
        what_to_do: format!("write / in paths: \"{}\", or single quotes: '{text}'", text.replace('\\', "/")),
    })
}

fn remark(line: &str, at: usize) -> Option<Slip> {
    let bare = bare(line);
    let sign =
        ["//", "/*", "--", "<!--", ";"].iter().filter_map(|sign| Some((bare.find(sign)?, *sign))).min()?;
    let (from, sign) = sign;
    let rest = line[from + sign.len()..].trim();
    if sign == ";" && rest.is_empty() {
        return Some(Slip {
            code: "semicolon",
            message: "a line ends without a semicolon".to_string(),
            span: from..from + 1,
            what_to_do: "take it out".to_string(),
        });
    }
    // a minus sign twice is no remark where numbers are
    (from + 2 >= at.min(from + 2) && !rest.starts_with(|c: char| c.is_ascii_digit())).then(|| Slip {
        code: "remark-sign",
        message: format!("{sign} does not begin a remark"),
        span: from..from + sign.len(),
        what_to_do: "begin the remark with #".to_string(),
    })
}

fn heading(line: &str) -> Option<Slip> {
    let trimmed = line.trim();
    if !trimmed.starts_with('[') || trimmed.contains('=') {
        return None;
    }
    let inner = trimmed.trim_start_matches('[').trim_end_matches(']').trim();
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-');
    let (table, name) = inner.split_once('.').unwrap_or((inner, ""));
    let quoted = name.starts_with(['"', '\'']);
    let from = line.find('[').unwrap_or(0);
    let span = from..line.trim_end().len();
    if !quoted && !name.is_empty() && !name.chars().all(|c| plain(c) || c == '.') {
        return Some(Slip {
            code: "heading-unreadable",
            message: format!("the name {name} has a space or a letter that needs quotes in a heading"),
            span,
            what_to_do: format!("write [{table}.\"{name}\"]"),
        });
    }
    let (open, close) = (trimmed.matches('[').count(), trimmed.matches(']').count());
    (open != close).then(|| Slip {
        code: "heading-unreadable",
        message: "the brackets of this heading do not pair".to_string(),
        span,
        what_to_do: "write [drive] for a table that stands once, [[passage]] for one of several".to_string(),
    })
}

fn key(line: &str) -> Option<Slip> {
    let bare = bare(line);
    let indent = line.len() - line.trim_start().len();
    let Some(equals) = bare.find('=') else {
        let (key, value) = colon(line)?;
        return Some(Slip {
            code: "colon-for-equals",
            message: "a key and its value are parted by =".to_string(),
            span: indent..line.find(':').unwrap_or(indent) + 1,
            what_to_do: format!("write {} = {}", joined(key), quoted(value)),
        });
    };
    let key = line[..equals].trim();
    if key.is_empty() || bare[..equals].contains(['{', '[', ',']) || key.contains(['"', '\'']) {
        return None;
    }
    if bare[..equals].trim_end().ends_with(':') {
        return Some(Slip {
            code: "colon-for-equals",
            message: "a key and its value are parted by = alone".to_string(),
            span: indent..equals + 1,
            what_to_do: format!("write {} =", joined(key.trim_end_matches(':').trim())),
        });
    }
    let fits = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.');
    (!key.chars().all(fits)).then(|| Slip {
        code: "key-unreadable",
        message: format!("{key} cannot be a key: keys are one word of the letters a to z, digits and _"),
        span: indent..indent + key.len(),
        what_to_do: match key.is_ascii() {
            true => format!("write {}", joined(key)),
            false => "write the key as docs/case-file.md has it; a name with such letters stands in quotes"
                .to_string(),
        },
    })
}

fn joined(key: &str) -> String {
    key.split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join("_")
        .to_lowercase()
}

/// A value as it should be written: numbers and true and false as they are, all else in quotes.
fn quoted(value: &str) -> String {
    let value = value.trim_end_matches([',', ';']).trim().trim_matches('"');
    let plain = value.parse::<f64>().is_ok()
        || matches!(value, "true" | "false")
        || value.starts_with(['[', '{', '\'']);
    if plain { value.to_string() } else { format!("\"{value}\"") }
}

fn open_quote(line: &str, at: usize, message: &str) -> Option<Slip> {
    let count = |sign: char| line.split('#').next().unwrap_or(line).matches(sign).count();
    if count('"') % 2 == 0 || !(message.contains("string") || message.contains("quote")) {
        return None;
    }
    // the quote that nobody closes begins the text in which the parser stopped; one that nobody opened stands behind it
    let before = line[..at.min(line.len())].matches('"').count();
    let from = line[..at.min(line.len())].rfind('"').filter(|_| before % 2 == 1);
    let (from, message, what_to_do) = match from {
        Some(from) => {
            let text = line[from + 1..].split(['#', ',', '}', ']']).next().unwrap_or("").trim();
            (from, "the text that begins here has no closing quote in its line", format!("write \"{text}\""))
        }
        None => {
            let text = line[at.min(line.len())..].split('"').next().unwrap_or("").trim();
            (at, "the quote that closes this text has none that opens it", format!("write \"{text}\""))
        }
    };
    Some(Slip {
        code: "quote-open",
        message: message.to_string(),
        span: from..line.trim_end().len().max(from),
        what_to_do,
    })
}

/// The value in which the parser stopped, without the marks around it.
fn value_at(line: &str, at: usize) -> Option<(usize, &str)> {
    let bare = bare(line);
    let at = at.min(bare.len());
    let begin = bare[..at].rfind(['=', '[', '{'])? + 1;
    // a decimal comma parts nothing: the value begins behind a comma only where a space follows it
    let begin = bare[begin..at].rfind(", ").map_or(begin, |comma| begin + comma + 2);
    let rest = &bare[begin..];
    let end = rest
        .char_indices()
        .find(|(i, c)| {
            matches!(c, ']' | '}') || (*c == ',' && !rest[i + 1..].starts_with(|d: char| d.is_ascii_digit()))
        })
        .map_or(rest.len(), |(i, _)| i);
    let text = rest[..end].trim();
    let from = begin + (rest.len() - rest.trim_start().len());
    (!text.is_empty()).then(|| (from, &line[from..from + text.len()]))
}

fn value(line: &str, at: usize) -> Option<Slip> {
    let (from, text) = value_at(line, at)?;
    let span = from..from + text.len();
    let slip = |code, message: String, what_to_do: String| {
        Some(Slip { code, message, span: span.clone(), what_to_do })
    };
    if let Some(list) = bare_list(line) {
        return Some(list);
    }
    if text.contains('=') {
        return slip(
            "comma-missing",
            "what stands in braces is parted by commas".to_string(),
            format!("write a comma before {}", text.split('=').next().unwrap_or(text).trim()),
        );
    }
    if YES.contains(&text) || NO.contains(&text) {
        let meant = if YES.contains(&text) { "true" } else { "false" };
        return slip(
            "flag-wanted",
            format!("{text} is neither true nor false"),
            format!("write {meant}, without quotes and in small letters"),
        );
    }
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+')))
        .unwrap_or(text.len());
    let (number, rest) = (&text[..end], text[end..].trim());
    if number.is_empty() {
        let word = text.chars().next().is_some_and(char::is_alphabetic);
        return if word {
            slip("quotes-missing", "text stands in quotes".to_string(), format!("write \"{text}\""))
        } else {
            None
        };
    }
    let pointed = number.replace(',', ".");
    if let Some((above, below)) = text.split_once('/')
        && let (Ok(above), Ok(below)) = (above.trim().parse::<f64>(), below.trim().parse::<f64>())
        && below != 0.0
    {
        let quotient = crate::keys::kind::short_number(above / below);
        return slip(
            "number-unreadable",
            "nothing is worked out in the file".to_string(),
            format!("write the quotient: {quotient}"),
        );
    }
    if rest.starts_with(':') {
        return slip(
            "number-unreadable",
            format!("{text} is two numbers"),
            format!("write the quotient alone: {pointed}"),
        );
    }
    if number.contains(',') {
        let meant = if rest.is_empty() { pointed } else { format!("\"{pointed} {rest}\"") };
        return slip(
            "decimal-comma",
            format!("{number} has a comma in its number"),
            format!("write decimals with a point, and nothing between thousands: {meant}"),
        );
    }
    if !rest.is_empty() {
        return slip(
            "quotes-missing",
            "a value with a unit stands in quotes".to_string(),
            format!("write \"{number} {rest}\""),
        );
    }
    let value = number.parse::<f64>().ok()?;
    slip(
        "number-unreadable",
        format!("{number} is not written as numbers are here"),
        format!("write {}", plain_number(value, number)),
    )
}

/// Several values without square brackets around them.
fn bare_list(line: &str) -> Option<Slip> {
    let bare = bare(line);
    let from = bare.find('=')? + 1;
    let value = bare[from..].trim();
    let round = value.starts_with('(') && value.ends_with(')');
    let numbers = value.split(", ").map(str::trim);
    let several = numbers.clone().count() > 1 && numbers.clone().all(|number| number.parse::<f64>().is_ok());
    if !(round || several) {
        return None;
    }
    let start = from + (bare[from..].len() - bare[from..].trim_start().len());
    let inner = line[start..start + value.len()].trim_matches(['(', ')']);
    Some(Slip {
        code: "list-wanted",
        message: "several values stand in square brackets".to_string(),
        span: start..start + value.len(),
        what_to_do: format!("write [{inner}]"),
    })
}

/// A number with a digit on either side of its point and no zeros before it.
fn plain_number(value: f64, written: &str) -> String {
    let places = written.split_once('.').map_or(0, |(_, part)| part.len());
    format!("{value:.places$}")
}
