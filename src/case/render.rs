//! Faults as the builder reads them: the line, the text underlined, what to do.
//!
//! ```text
//! fault: unit-missing
//!   `260` has no unit; a pressure is wanted here
//!   tail.toml, line 12, column 17
//!
//!     pressure_drop = 260
//!                     ‾‾‾ of the oil cooler
//!
//!   What to do: Write a pressure with its unit, for example "260 Pa".
//! ```

use super::diagnostic::{Diagnostic, FaultPlace};
use super::limits::steers;
use anstyle::{AnsiColor, Style};
use std::ops::Range;

/// Character cells of source shown on a line.
const WIDEST: usize = 100;
/// Cells kept before the underlined text where a long line is cut.
const LEAD: usize = 40;
/// Bytes of a line looked at on either side of the beginning of the underlined text.
const NEIGHBOURHOOD: usize = 1000;
/// Characters shown of a line of a message, which may repeat what stands in the file.
const LONGEST_LINE: usize = 2000;

const CODE: Style = AnsiColor::Magenta.on_default().bold();
const MARK: Style = AnsiColor::Magenta.on_default();
const HEADING: Style = Style::new().bold();
const QUIET: Style = Style::new().dimmed();

/// The faults of a case as text for a terminal. Styles stand in it as ANSI sequences, to be
/// stripped by whoever prints it elsewhere; nothing from the file gets through as a sequence.
pub fn render(diagnostics: &[Diagnostic], file_name: &str, source: &str) -> String {
    let mut text = String::new();
    if diagnostics.is_empty() {
        return text;
    }
    for fault in diagnostics {
        one(&mut text, fault, file_name, source);
    }
    let count = diagnostics.len();
    let faults = if count == 1 { "fault" } else { "faults" };
    text.push_str(&format!("{HEADING}{count} {faults}{HEADING:#}; nothing was written\n"));
    text
}

/// Line and column of a byte of the source, both counted from one, the column in characters.
pub fn line_and_column(source: &str, offset: usize) -> (usize, usize) {
    let before = &source[..boundary(source, offset)];
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    // A byte order mark is no character that anyone sees.
    let column = before[start..].trim_start_matches('\u{FEFF}').chars().count() + 1;
    (before.matches('\n').count() + 1, column)
}

fn one(text: &mut String, fault: &Diagnostic, file_name: &str, source: &str) {
    let file_name = harmless(file_name);
    text.push_str(&format!("{CODE}fault: {}{CODE:#}\n", fault.code));
    text.push_str(&indented(&fault.message));
    match &fault.place {
        FaultPlace::Whole => text.push_str(&format!("  {QUIET}{file_name}{QUIET:#}\n")),
        FaultPlace::Span(span) => {
            let (line, column) = line_and_column(source, span.start);
            text.push_str(&format!("  {QUIET}{file_name}, line {line}, column {column}{QUIET:#}\n"));
            snippet(text, source, span.clone());
        }
        FaultPlace::Override { address, text: value } => {
            text.push_str(&format!("  {QUIET}on the command line{QUIET:#}\n"));
            let written = format!("--set {address}={value}");
            let start = written.len() - value.len();
            snippet(text, &written, start..written.len());
        }
        FaultPlace::Address { address, text: value, part } => {
            text.push_str(&format!("  {QUIET}on the command line{QUIET:#}\n"));
            let sign = "--set ";
            let equals = if value.is_empty() { "" } else { "=" };
            let written = format!("{sign}{address}{equals}{value}");
            snippet(text, &written, sign.len() + part.start..sign.len() + part.end);
        }
    }
    if !fault.what_to_do.is_empty() {
        let what = indented(&format!("What to do: {}", fault.what_to_do));
        text.push_str(&what.replacen("What to do:", &format!("{HEADING}What to do:{HEADING:#}"), 1));
    }
    text.push('\n');
}

/// The line on which a span begins, with what is in the span underlined.
fn snippet(text: &mut String, source: &str, span: Range<usize>) {
    let from = boundary(source, span.start);
    let to = boundary(source, span.end).max(from);
    let start = source[..from].rfind('\n').map_or(0, |newline| newline + 1);
    let end = source[from..].find('\n').map_or(source.len(), |newline| from + newline);
    let line = source[start..end].trim_end_matches('\r');
    if line.trim().is_empty() {
        return text.push('\n');
    }
    // Positions in the line, whatever the span reaches beyond it.
    let (from, to) = ((from - start).min(line.len()), (to - start).min(line.len()));
    let further = source[start + to..boundary(source, span.end).max(start + to)].trim_end();
    let further = further.matches('\n').count();

    // Of a line without end, as in a file that is no text, only the neighbourhood is looked at.
    let near = boundary(line, from.saturating_sub(NEIGHBOURHOOD));
    let line = &line[near..boundary(line, from + NEIGHBOURHOOD)];
    let (from, to) = (from - near, to - near);
    let cells: Vec<(usize, String)> = line.char_indices().map(|(at, c)| (at, shown(c))).collect();
    // First and last cell shown: the whole line if it fits, else from a little before the mark.
    let marked = cells.iter().position(|(at, _)| *at >= from).unwrap_or(cells.len());
    let first = if width_of(&cells) <= WIDEST { 0 } else { back(&cells, marked) };
    let mut shown_line = String::new();
    let (mut before, mut under, mut room) = (0, 0, WIDEST);
    if first > 0 || near > 0 {
        shown_line.push('…');
        before += 1;
    }
    let mut cut = false;
    for (at, cell) in &cells[first..] {
        let width = width(cell);
        if width > room {
            cut = true;
            break;
        }
        room -= width;
        shown_line.push_str(cell);
        if *at < from {
            before += width;
        } else if *at < to {
            under += width;
        }
    }
    if cut {
        shown_line.push('…');
    }
    let mark = "‾".repeat(under.max(1));
    let more = match further {
        0 => String::new(),
        1 => "(and the next line)".to_string(),
        lines => format!("(and the next {lines} lines)"),
    };
    let marks = format!("{}{MARK}{mark} {}", " ".repeat(before), more);
    text.push_str(&format!("\n    {}\n    {}{MARK:#}\n\n", shown_line.trim_end(), marks.trim_end()));
}

/// The cell with which a cut line begins: [`LEAD`] cells before the marked one.
fn back(cells: &[(usize, String)], marked: usize) -> usize {
    let mut room = LEAD;
    let mut first = marked;
    while first > 0 && width(&cells[first - 1].1) <= room {
        first -= 1;
        room -= width(&cells[first].1);
    }
    first
}

fn width_of(cells: &[(usize, String)]) -> usize {
    cells.iter().map(|(_, cell)| width(cell)).sum()
}

/// Cells that a text takes on a terminal; near enough for keys and names in any script.
fn width(text: &str) -> usize {
    text.chars()
        .map(|c| match u32::from(c) {
            0x300..=0x36F | 0x200B..=0x200D | 0x20D0..=0x20FF | 0xFE00..=0xFE0F | 0xFEFF => 0,
            0x1100..=0x115F
            | 0x2E80..=0xA4CF
            | 0xAC00..=0xD7A3
            | 0xF900..=0xFAFF
            | 0xFE30..=0xFE6F
            | 0xFF00..=0xFF60
            | 0xFFE0..=0xFFE6
            | 0x1F300..=0x1FAFF
            | 0x20000..=0x3FFFD => 2,
            _ => 1,
        })
        .sum()
}

/// A character of the file as it may be sent to a terminal.
fn shown(c: char) -> String {
    match c {
        '\t' => "    ".to_string(),
        '\u{FEFF}' => String::new(),
        _ if steers(c) => '\u{FFFD}'.to_string(),
        _ => c.to_string(),
    }
}

/// Text of one line from elsewhere as it may be sent to a terminal.
pub fn harmless(text: &str) -> String {
    text.chars().map(shown).collect()
}

/// Text two cells in, line by line; nobody reads a line without end.
fn indented(text: &str) -> String {
    let line = |line: &str| {
        let cut = line.char_indices().nth(LONGEST_LINE).map(|(at, _)| &line[..at]);
        let more = if cut.is_some() { "…" } else { "" };
        format!("  {}{more}\n", harmless(cut.unwrap_or(line)))
    };
    text.lines().map(line).collect()
}

/// The end of the source, or the nearest beginning of a character at or before an offset.
fn boundary(source: &str, offset: usize) -> usize {
    let mut at = offset.min(source.len());
    while !source.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use anstream::adapter::strip_str;
    use proptest::prelude::*;

    const SOURCE: &str = "format = 1\r\n\r\n[engine.heat]\r\n\theads = \"110 %\"\r\n";

    fn plain(faults: &[Diagnostic], source: &str) -> String {
        strip_str(&render(faults, "tail.toml", source)).to_string()
    }

    fn fault(place: FaultPlace) -> Diagnostic {
        Diagnostic::new("heat-shares-over-one", "the shares come to 1.1", place, "Lower one.")
    }

    fn span_of(source: &str, text: &str) -> FaultPlace {
        let start = source.find(text).unwrap();
        FaultPlace::Span(start..start + text.len())
    }

    #[test]
    fn a_fault_with_its_line_underlined() {
        let fault = fault(span_of(SOURCE, "\"110 %\""));
        assert_eq!(
            plain(&[fault], SOURCE),
            "fault: heat-shares-over-one
  the shares come to 1.1
  tail.toml, line 4, column 10

        heads = \"110 %\"
                ‾‾‾‾‾‾‾

  What to do: Lower one.

1 fault; nothing was written
"
        );
    }

    #[test]
    fn faults_of_the_command_line_and_of_the_whole_file() {
        let set = FaultPlace::Override { address: "part/heads/limit".into(), text: "20 Pa".into() };
        assert_eq!(
            plain(&[fault(FaultPlace::Whole), fault(set)], SOURCE),
            "fault: heat-shares-over-one
  the shares come to 1.1
  tail.toml
  What to do: Lower one.

fault: heat-shares-over-one
  the shares come to 1.1
  on the command line

    --set part/heads/limit=20 Pa
                           ‾‾‾‾‾

  What to do: Lower one.

2 faults; nothing was written
"
        );
    }

    #[test]
    fn columns_count_characters_and_wide_ones_are_underlined_whole() {
        let source = "name = \"größe\" # 排気\nx = 5 µm, 排気";
        let text = plain(&[fault(span_of(source, "排気\n"))], source);
        assert!(text.contains("line 1, column 18\n"), "{text}");
        // 17 characters before the mark, four cells under two wide characters.
        assert!(text.contains(&format!("\n    {}‾‾‾‾\n", " ".repeat(17))), "{text}");
        assert_eq!(line_and_column("\u{FEFF}x", 3), (1, 1));
    }

    #[test]
    fn a_span_over_several_lines_shows_the_first() {
        let source = "power = [\n  1,\n  2,\n]\nx = 1";
        let text = plain(&[fault(FaultPlace::Span(8..21))], source);
        assert!(text.contains("    power = [\n            ‾ (and the next 3 lines)\n"), "{text}");
    }

    #[test]
    fn long_lines_are_cut_about_the_mark() {
        let source = format!("a = \"{}HERE{}\"", "x".repeat(5000), "y".repeat(5000));
        let text = plain(&[fault(span_of(&source, "HERE"))], &source);
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines[4], format!("    …{}HERE{}…", "x".repeat(40), "y".repeat(56)));
        assert_eq!(lines[5], format!("    {}‾‾‾‾", " ".repeat(41)));
        let text = plain(&[fault(FaultPlace::Span(0..source.len()))], &source);
        assert!(text.lines().all(|line| line.chars().count() <= 106));
    }

    #[test]
    fn a_file_that_is_one_endless_line() {
        let source = "é\u{0}".repeat(1_000_000);
        let faults = vec![fault(FaultPlace::Span(1_500_000..1_500_003)); 20];
        let text = plain(&faults, &source);
        assert!(text.contains("line 1, column 1000001\n"));
        assert!(text.len() < 20_000);
        assert_eq!(plain(&[], &source), "");
    }

    #[test]
    fn nothing_in_the_file_steers_the_terminal() {
        let source = "x = \"\u{1b}[31m\u{7}\u{202e}\"\u{0}";
        let mut fault = fault(FaultPlace::Span(4..5));
        fault.message = format!("`{source}` is odd\nin two ways");
        let text = plain(&[fault], source);
        assert!(!text.contains(['\u{1b}', '\u{7}', '\u{202e}', '\u{0}']), "{text:?}");
        assert!(text.contains("is odd\n  in two ways\n"), "{text}");
    }

    #[test]
    fn an_empty_file_and_spans_beyond_the_end() {
        assert!(plain(&[fault(FaultPlace::Span(0..0))], "").contains("line 1, column 1\n"));
        let text = plain(&[fault(FaultPlace::Span(90..99))], "x = 1");
        assert!(text.contains("line 1, column 6\n\n    x = 1\n         ‾\n"), "{text}");
        // A span that is turned round, or begins within a character, is no reason to fail.
        let (three, two) = (3, 2);
        assert!(plain(&[fault(FaultPlace::Span(three..two))], "ééé").contains("column 2\n"));
    }

    proptest! {
        #[test]
        fn any_source_and_span_are_borne(
            source in "(\\PC|\n|\r|\t|\u{0}|é|排){0,60}", start in 0usize..200, end in 0usize..200,
        ) {
            let text = plain(&[fault(FaultPlace::Span(start..end))], &source);
            prop_assert!(text.starts_with("fault: heat-shares-over-one\n"));
            prop_assert!(text.contains("What to do: Lower one.\n"));
        }
    }
}
