//! What a file that is no TOML probably meant to say: slips of people who write no programs.

use super::diagnostic::{Diagnostic, FaultPlace};
use super::syntax_line as line_slips;
use std::ops::Range;

/// Faults of syntax shown in one run; what follows the first ones is mostly their echo.
const SHOWN: usize = 6;

/// One fault that the parser found.
pub(super) struct SyntaxFault {
    /// Where, in bytes.
    pub span: Range<usize>,
    /// The parser's words.
    pub message: String,
}

/// The faults of a source as its writer understands them.
pub(super) fn faults(source: &str, found: &[SyntaxFault]) -> Vec<Diagnostic> {
    if let Some(fault) = no_case_at_all(source) {
        return vec![fault];
    }
    let mut faults: Vec<Diagnostic> = Vec::new();
    let mut told_to = 0;
    let mut more = 0;
    for error in found {
        let at = error.span.start.min(source.len());
        // a line that cannot be read spoils what stands behind it in the line, an open bracket what stands below it
        if at < told_to {
            continue;
        }
        if faults.len() == SHOWN {
            more += 1;
            told_to = end_of_line(source, at);
            continue;
        }
        let (fault, until) = match open_bracket(source, at) {
            Some(open) => open,
            None => (of_line(source, error, at), end_of_line(source, at)),
        };
        told_to = until;
        faults.push(fault);
    }
    if more > 0
        && let Some(last) = faults.last_mut()
    {
        let lines = if more == 1 { "one more line" } else { "more lines" };
        last.what_to_do =
            format!("{}; {lines} ({more}) cannot be read either: mend these first", last.what_to_do);
    }
    faults
}

/// The end of the line in which a byte lies.
fn end_of_line(source: &str, at: usize) -> usize {
    source.as_bytes()[at..]
        .iter()
        .position(|byte| *byte == b'\n')
        .map_or(source.len() + 1, |end| at + end + 1)
}

fn of_line(source: &str, error: &SyntaxFault, at: usize) -> Diagnostic {
    let mut from = at;
    while !source.is_char_boundary(from) {
        from -= 1;
    }
    let start = source[..from].rfind('\n').map_or(0, |newline| newline + 1);
    let end = (end_of_line(source, at) - 1).min(source.len());
    let line = source[start..end].trim_end_matches('\r');
    match line_slips::slip(line, from - start, &error.message) {
        Some(slip) => Diagnostic::new(
            slip.code,
            slip.message,
            FaultPlace::Span(start + slip.span.start..start + slip.span.end),
            slip.what_to_do,
        ),
        None => Diagnostic::new(
            "not-toml",
            format!("this is not TOML: {}", error.message.trim()),
            FaultPlace::Span(error.span.clone()),
            "look for a missing quote, bracket or comma here or just before",
        ),
    }
}

/// A bracket or brace above that nobody closed, where the line of a fault begins anew with a key or a heading; and where
/// what it spoils ends.
fn open_bracket(source: &str, at: usize) -> Option<(Diagnostic, usize)> {
    let mut from = at;
    while !source.is_char_boundary(from) {
        from -= 1;
    }
    let start = source[..from].rfind('\n').map_or(0, |newline| newline + 1);
    let line = source[start..].lines().next().unwrap_or("");
    let heading =
        line.trim_start().starts_with('[') && !line.trim_start().starts_with("[\"") && !line.contains(',');
    let key = line_slips::begins_with_key(line);
    if !(heading || key) {
        return None;
    }
    let open = opened(&source[..start])?;
    // what lies within two tables' headings was meant as one list
    let until = source[start..]
        .match_indices("\n[")
        .map(|(next, _)| start + next + 1)
        .next()
        .filter(|_| !heading)
        .unwrap_or(if heading { end_of_line(source, start) } else { source.len() + 1 });
    let (line_number, sign) = (source[..open].matches('\n').count() + 1, &source[open..=open]);
    let fault = Diagnostic::new(
        "bracket-open",
        format!("the {sign} that opens here, in line {line_number}, is never closed"),
        FaultPlace::Span(open..open + 1),
        format!("write {} where the list or table ends", if sign == "[" { "]" } else { "}" }),
    );
    Some((fault, until))
}

/// The innermost bracket of a value that is open at the end of a text, which ends with a line.
fn opened(text: &str) -> Option<usize> {
    let mut open: Vec<usize> = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let is_heading = open.is_empty() && line.trim_start().starts_with('[');
        if !is_heading {
            let mut quote = None;
            let mut escaped = false;
            for (index, c) in line.char_indices() {
                match (quote, c) {
                    (Some('"'), '\\') if !escaped => {
                        escaped = true;
                        continue;
                    }
                    (Some(sign), c) if c == sign && !escaped => quote = None,
                    (None, '"' | '\'') => quote = Some(c),
                    (None, '#') => break,
                    (None, '[' | '{') => open.push(offset + index),
                    (None, ']' | '}') => {
                        open.pop();
                    }
                    _ => {}
                }
                escaped = false;
            }
        }
        offset += line.len();
    }
    open.first().copied()
}

/// A file of another sort, told as a whole.
fn no_case_at_all(source: &str) -> Option<Diagnostic> {
    let lines = || source.lines().map(str::trim).filter(|line| !line.is_empty()).take(200);
    let written = || lines().filter(|line| !line.starts_with('#'));
    let first = source.trim_start_matches('\u{feff}').trim_start();
    let is_key = |line: &str| line_slips::begins_with_key(line) || line.starts_with('[');
    let (keys, all) = (written().filter(|line| is_key(line)).count(), written().count());
    let parted = |sign: char| written().take(20).filter(|line| line.matches(sign).count() > 0).count();
    let most = [',', ';', '\t'].into_iter().map(parted).max().unwrap_or(0);
    let colons = written().filter(|line| line_slips::colon(line).is_some()).count();
    let (what, way_out) = if first.starts_with('{') {
        (
            "JSON, as programs write it",
            "a case file is text of lines such as final_drive = 4.45 under headings such as [drive]; make one with: slowcorner start car.toml --fan driven",
        )
    } else if first.starts_with('<') {
        (
            "a web page, or a file of an office or drawing program",
            "save the case itself as plain text, not the page that shows it",
        )
    } else if first.starts_with("%PDF") {
        ("a PDF", "name the case file itself, which is plain text")
    } else if keys == 0 && most >= all.min(20) && all > 1 {
        (
            "a table, as a logger or a spreadsheet writes it",
            "a recorded run goes into the case: [[stint]] with trace = \"run.csv\"; name the case file here",
        )
    } else if keys == 0 && colons == all && all > 1 {
        (
            "a list of notes with colons",
            "write key = value, as in final_drive = 4.45, under headings such as [drive]; make a first case with: slowcorner start car.toml --fan driven",
        )
    } else if keys == 0 {
        (
            "text without a single key = value",
            "name the case file itself, or make a first one with: slowcorner start car.toml --fan driven",
        )
    } else {
        return None;
    };
    Some(Diagnostic::new(
        "not-a-case",
        format!("this is no case file: it looks like {what}"),
        FaultPlace::Whole,
        way_out,
    ))
}

/// What bytes that are no UTF-8 are, and what to do about it.
pub fn of_bytes(bytes: &[u8]) -> (&'static str, String, String) {
    let begins = |magic: &[u8]| bytes.starts_with(magic);
    let zeros = bytes.iter().take(2000).filter(|byte| **byte == 0).count();
    let controls = bytes.iter().take(2000).filter(|byte| **byte < 9 || (14..32).contains(*byte)).count();
    let looked_at = bytes.len().clamp(1, 2000);
    let wide = begins(&[0xff, 0xfe])
        || begins(&[0xfe, 0xff])
        || (zeros * 3 > looked_at && zeros * 3 < 2 * looked_at);
    let plain = "name the case file itself, which is plain text".to_string();
    let kind = [
        (&b"PK\x03\x04"[..], "a spreadsheet, a document of an office program or a ZIP archive"),
        (b"\x89PNG", "a picture"),
        (b"\xff\xd8\xff", "a picture"),
        (b"GIF8", "a picture"),
        (b"%PDF", "a PDF"),
        (b"\xd0\xcf\x11\xe0", "a document of an office program"),
        (b"\x1f\x8b", "a packed archive"),
    ];
    if let Some((_, kind)) = kind.iter().find(|(magic, _)| begins(magic)) {
        return ("not-a-case", format!("it is {kind}, and no plain text"), plain);
    }
    if wide {
        return (
            "case-encoding",
            "it is saved as UTF-16, which some editors call Unicode".to_string(),
            "save it again as UTF-8 (in the editor's \"save as\", under encoding)".to_string(),
        );
    }
    if zeros > 0 || controls * 20 > looked_at {
        return (
            "not-a-case",
            "it is no text, but a file that some program wrote for itself".to_string(),
            plain,
        );
    }
    let at = std::str::from_utf8(bytes).err().map_or(0, |error| error.valid_up_to());
    let line = bytes[..at].iter().filter(|byte| **byte == b'\n').count() + 1;
    (
        "case-encoding",
        format!(
            "line {line} holds a letter in an older encoding (Windows-1252, Latin 1 or the like), which is not UTF-8"
        ),
        "save it again as UTF-8 (in the editor's \"save as\", under encoding)".to_string(),
    )
}

/// Lists in which decimal commas were read as commas between numbers: `[2,76, 1,84]`.
pub(super) fn decimal_commas(source: &str, span: &Range<usize>) -> Option<Diagnostic> {
    let text = source.get(span.clone())?;
    let inner = text.strip_prefix('[')?.strip_suffix(']')?;
    if inner.contains(['[', '{', '"', '\'', '#', '.']) {
        return None;
    }
    let pieces: Vec<&str> = inner.split(", ").map(str::trim).collect();
    let decimal = |piece: &&str| {
        piece.split_once(',').is_some_and(|(whole, part)| {
            let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
            digits(whole.trim_start_matches(['-', '+'])) && digits(part)
        })
    };
    (pieces.len() > 1 && pieces.iter().all(decimal)).then(|| {
        let meant: Vec<String> = pieces.iter().map(|piece| piece.replace(',', ".")).collect();
        Diagnostic::new(
            "decimal-comma",
            format!("the commas of these {} decimals would part {} numbers", pieces.len(), 2 * pieces.len()),
            FaultPlace::Span(span.clone()),
            format!("write decimals with a point: [{}]", meant.join(", ")),
        )
    })
}
