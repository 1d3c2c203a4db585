//! Lines, columns and styles.

use anstyle::{AnsiColor, Color, Style};
use std::fmt::Write;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

/// Columns of the page where nothing else is said.
pub const WIDTH: usize = 100;
const NARROWEST_PAGE: usize = 60;
static COLUMNS: AtomicUsize = AtomicUsize::new(WIDTH);

/// Takes the columns of the page from here on, between 60 and 100.
pub fn set_width(columns: usize) {
    COLUMNS.store(columns.clamp(NARROWEST_PAGE, WIDTH), Relaxed);
}

/// Columns of the page.
pub(super) fn width() -> usize {
    COLUMNS.load(Relaxed)
}
/// Blanks between two columns.
pub(super) const GAP_OF_COLUMNS: usize = 3;
/// The same where the page is narrow.
const NARROW_GAP: usize = 2;
/// The narrowest that a wrapped column may become.
const NARROWEST: usize = 10;
/// A blank at which no line is broken; on the page it is a plain one.
pub(super) const KEPT: char = '\u{a0}';
/// Units that stay on the line of their figure.
const UNITS: [&str; 17] = [
    "K", "°C", "%", "Pa", "cm²", "mm", "m", "km/h", "m/s", "rpm", "kg/s", "g/s", "kW", "W", "N", "W/K",
    "kg/m³",
];

/// What stands out.
pub(super) const STRONG: Style = Style::new().bold();
pub(super) const MISSED: Style = Style::new().bold().fg_color(Some(Color::Ansi(AnsiColor::Red)));
/// What may be passed over.
pub(super) const QUIET: Style = Style::new().dimmed();
/// Plain text.
pub(super) const PLAIN: Style = Style::new();

/// A text in a style.
pub(super) fn styled(style: Style, text: &str) -> String {
    if style == PLAIN || text.is_empty() { text.to_string() } else { format!("{style}{text}{style:#}") }
}

/// Breaks a text into lines of at most `width` characters, between words where that can be done.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![String::new()];
    let mut used = 0;
    for mut word in words(text) {
        loop {
            let blank = usize::from(used > 0);
            if used + blank + word.len() <= width {
                push(&mut lines, blank, &word);
                used += blank + word.len();
                break;
            }
            if used > 0 {
                lines.push(String::new());
                used = 0;
                continue;
            }
            // a word longer than a line: broken where the line ends
            let rest = word.split_off(width);
            push(&mut lines, 0, &word);
            lines.push(String::new());
            word = rest;
        }
    }
    lines
}

/// The words of a text, a figure and its unit as one.
fn words(text: &str) -> Vec<Vec<char>> {
    let mut words: Vec<Vec<char>> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        match words.last_mut() {
            Some(figure) if UNITS.contains(&bare) && figure.last().is_some_and(char::is_ascii_digit) => {
                figure.push(KEPT);
                figure.extend(word.chars());
            }
            _ => words.push(word.chars().collect()),
        }
    }
    words
}

fn push(lines: &mut [String], blanks: usize, word: &[char]) {
    if let Some(line) = lines.last_mut() {
        line.extend(std::iter::repeat_n(' ', blanks));
        line.extend(word.iter().map(|letter| if *letter == KEPT { ' ' } else { *letter }));
    }
}

/// A text under a mark: the first line behind the mark, the others below it.
pub(super) fn item(out: &mut String, indent: usize, mark: &str, text: &str) {
    let hang = indent + mark.chars().count();
    for (index, line) in wrap(text, width() - hang).iter().enumerate() {
        let start = if index == 0 { format!("{:indent$}{mark}", "") } else { " ".repeat(hang) };
        let _ = writeln!(out, "{start}{line}");
    }
}

pub(super) fn paragraph(out: &mut String, style: Style, text: &str) {
    for line in wrap(text, width()) {
        let _ = writeln!(out, "{}", styled(style, &line));
    }
}

/// A heading with a line of air above it.
pub(super) fn heading(out: &mut String, text: &str) {
    out.push('\n');
    paragraph(out, STRONG, text);
}

/// A cell of a table.
#[derive(Clone, Debug, Default)]
pub(super) struct TextCell {
    text: String,
    style: Style,
}

impl TextCell {
    /// A cell in a style.
    pub(super) fn new(style: Style, text: impl Into<String>) -> TextCell {
        TextCell { text: text.into(), style }
    }
}

impl<T: Into<String>> From<T> for TextCell {
    fn from(text: T) -> TextCell {
        TextCell::new(PLAIN, text)
    }
}

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TextColumn {
    /// Words.
    Left,
    /// Figures.
    Right,
    /// Words that are broken into lines where room is short.
    Wrapped,
}

/// Columns that a table takes.
fn used(gap: usize, widths: &[usize]) -> usize {
    widths.iter().sum::<usize>() + gap * widths.len().saturating_sub(1)
}

/// A row of a table.
#[derive(Debug)]
enum TextRow {
    Cells(Vec<TextCell>),
    Title(TextCell),
    Space,
}

/// A table: a head line over a rule, columns apart by blanks alone.
#[derive(Debug)]
pub(super) struct TextTable {
    columns: Vec<TextColumn>,
    head: Vec<TextCell>,
    rows: Vec<TextRow>,
}

impl TextTable {
    /// A table with the heads of its columns.
    pub(super) fn new(columns: Vec<(TextColumn, String)>) -> TextTable {
        let (columns, head): (Vec<TextColumn>, Vec<String>) = columns.into_iter().unzip();
        TextTable {
            columns,
            head: head.into_iter().map(|text| TextCell::new(QUIET, text)).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row.
    pub(super) fn row(&mut self, cells: Vec<TextCell>) {
        self.rows.push(TextRow::Cells(cells));
    }

    /// Adds a line that runs over all columns and stands over the rows that follow.
    pub(super) fn title(&mut self, title: TextCell) {
        self.rows.push(TextRow::Title(title));
    }

    /// Leaves a line empty.
    pub(super) fn space(&mut self) {
        self.rows.push(TextRow::Space);
    }

    /// Blanks between columns, and their widths: where the page is narrow words are broken into lines, then columns move
    /// together.
    fn widths(&self) -> (usize, Vec<usize>) {
        let mut widths = vec![0; self.columns.len()];
        let rows = self.rows.iter().filter_map(|row| match row {
            TextRow::Cells(cells) => Some(cells),
            TextRow::Title(_) | TextRow::Space => None,
        });
        for row in std::iter::once(&self.head).chain(rows) {
            for (width, cell) in widths.iter_mut().zip(row) {
                let longest = cell.text.split('\n').map(|line| line.chars().count()).max();
                *width = longest.unwrap_or(0).max(*width);
            }
        }
        for gap in [GAP_OF_COLUMNS, NARROW_GAP] {
            while used(gap, &widths) > width() {
                let widest = (0..widths.len())
                    .filter(|i| self.columns[*i] == TextColumn::Wrapped && widths[*i] > NARROWEST)
                    .max_by_key(|i| widths[*i]);
                match widest {
                    Some(widest) => widths[widest] -= 1,
                    None => break,
                }
            }
            if used(gap, &widths) <= width() {
                return (gap, widths);
            }
        }
        (NARROW_GAP, widths)
    }

    /// The table as lines. What is too wide for the page is written as several tables, each with the first column.
    pub(super) fn write(&self, out: &mut String) {
        let (gap, widths) = self.widths();
        let fitting = (2..=widths.len()).rev().find(|count| used(gap, &widths[..*count]) <= width());
        let count = fitting.unwrap_or(2).min(widths.len());
        if count < widths.len() {
            self.columns_only(&(0..count).collect::<Vec<_>>()).write(out);
            out.push('\n');
            let rest: Vec<usize> = std::iter::once(0).chain(count..widths.len()).collect();
            self.columns_only(&rest).write(out);
            return;
        }
        self.line(out, &self.head, gap, &widths);
        let _ = writeln!(out, "{}", styled(QUIET, &"─".repeat(used(gap, &widths))));
        for row in &self.rows {
            match row {
                TextRow::Cells(cells) => self.line(out, cells, gap, &widths),
                TextRow::Title(cell) => paragraph(out, cell.style, &cell.text),
                TextRow::Space => out.push('\n'),
            }
        }
    }

    /// Some of its columns as a table.
    fn columns_only(&self, columns: &[usize]) -> TextTable {
        let pick = |cells: &[TextCell]| columns.iter().filter_map(|i| cells.get(*i).cloned()).collect();
        let rows = self.rows.iter().map(|row| match row {
            TextRow::Cells(cells) => TextRow::Cells(pick(cells)),
            TextRow::Title(cell) => TextRow::Title(cell.clone()),
            TextRow::Space => TextRow::Space,
        });
        TextTable {
            columns: columns.iter().map(|i| self.columns[*i]).collect(),
            head: pick(&self.head),
            rows: rows.collect(),
        }
    }

    fn line(&self, out: &mut String, row: &[TextCell], gap: usize, widths: &[usize]) {
        let cells: Vec<Vec<String>> = row
            .iter()
            .zip(widths)
            .map(|(cell, width)| cell.text.split('\n').flat_map(|line| wrap(line, *width)).collect())
            .collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(1);
        for index in 0..height {
            let mut line = String::new();
            // blanks wait until something follows, so that no line ends in them
            let mut blanks = 0;
            for (column, lines) in cells.iter().enumerate() {
                let text = lines.get(index).map_or("", String::as_str);
                let room = widths[column] - text.chars().count().min(widths[column]);
                let (before, after) =
                    if self.columns[column] == TextColumn::Right { (room, 0) } else { (0, room) };
                blanks += before;
                if !text.is_empty() {
                    line.push_str(&" ".repeat(blanks));
                    line.push_str(&styled(row[column].style, text));
                    blanks = 0;
                }
                blanks += after + gap;
            }
            let _ = writeln!(out, "{line}");
        }
    }
}
