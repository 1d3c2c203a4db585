//! What every chart has around its plots: headings, axes, key and footnotes.

use super::axis::Axis;
use super::scale::{Scale, Ticks};
use super::theme;
use crate::output::scene::drawing::{Anchor, Scene, TextLook};
use crate::output::scene::font;
use crate::output::scene::geometry::{Point, Rect};

/// Width and height of a chart that asks for none.
pub(super) const USUAL: (f64, f64) = (900.0, 540.0);
/// No picture is narrower: names and numbers need this much.
const NARROWEST: f64 = 360.0;
/// Blank edge of the picture.
pub(super) const EDGE: f64 = 16.0;
/// Radius of the disc behind a number.
pub(super) const NUMBER_RADIUS: f64 = 7.5;

/// Width and least height asked for, made sound.
pub(super) fn size(asked: Option<(f64, f64)>, usual: (f64, f64)) -> (f64, f64) {
    let (width, height) =
        asked.filter(|(width, height)| width.is_finite() && height.is_finite()).unwrap_or(usual);
    (width.max(NARROWEST).ceil(), height.max(0.0).ceil())
}

/// A picture that takes the height it needs, begun: what is drawn so far, the footer to end it with, and where its content
/// begins.
pub(super) fn begun(
    (title, subtitle): (&str, &str),
    description: String,
    footnotes: &[String],
    width: Option<f64>,
) -> (Scene, Footer, f64) {
    let (width, _) = size(width.map(|width| (width, 0.0)), (USUAL.0, 0.0));
    let mut scene = Scene { width, height: 0.0, title: title.to_string(), description, items: Vec::new() };
    let top = heading(&mut scene, title, subtitle);
    (scene, Footer::new(&[], footnotes, width), top)
}

/// Title and subtitle; returns where the rest may begin.
pub(super) fn heading(scene: &mut Scene, title: &str, subtitle: &str) -> f64 {
    let room = scene.width - 2.0 * EDGE;
    let mut top = 13.0;
    for (text, look) in [(title, theme::TITLE), (subtitle, theme::SUBTITLE)] {
        top = scene.block(&look.wrap(text, room), EDGE, top, Anchor::Start, look);
    }
    top + 9.0
}

/// The words above a plot: what its height stands for, and a note at the right if there is one.
#[derive(Debug, Clone)]
pub(super) struct Header {
    label: Vec<String>,
    unit: Vec<String>,
    unit_beside: bool,
    note: Vec<String>,
    note_beside: bool,
}

impl Header {
    pub(super) fn new(axis: &Axis, note: &str, room: f64) -> Self {
        let label = theme::AXIS_LABEL.wrap(&axis.label, room);
        let unit = theme::AXIS_UNIT.wrap(&axis.unit_note, room);
        let note = theme::MARK.wrap(note, room);
        let label_width = widest(&label, theme::AXIS_LABEL);
        let unit_width = widest(&unit, theme::AXIS_UNIT);
        let unit_beside = label.len() <= 1 && unit.len() <= 1 && label_width + 6.0 + unit_width <= room;
        let used = if unit_beside { label_width + 6.0 + unit_width } else { room };
        let note_width = widest(&note, theme::MARK);
        Self {
            note_beside: note.len() == 1 && used + 24.0 + note_width <= room,
            label,
            unit,
            unit_beside,
            note,
        }
    }

    pub(super) fn height(&self) -> f64 {
        let line = theme::AXIS_LABEL.line_height();
        let words = if self.unit_beside {
            self.label.len().max(self.unit.len())
        } else {
            self.label.len() + self.unit.len()
        };
        let notes = if self.note_beside && words > 0 { 0 } else { self.note.len() };
        words as f64 * line + notes as f64 * theme::MARK.line_height() + 7.0
    }

    pub(super) fn draw(&self, scene: &mut Scene, left: f64, right: f64, top: f64) {
        let below = scene.block(&self.label, left, top, Anchor::Start, theme::AXIS_LABEL);
        let shift = if self.label.is_empty() { 0.0 } else { widest(&self.label, theme::AXIS_LABEL) + 6.0 };
        let below = if self.unit_beside {
            scene.block(&self.unit, left + shift, top, Anchor::Start, theme::AXIS_UNIT).max(below)
        } else {
            scene.block(&self.unit, left, below, Anchor::Start, theme::AXIS_UNIT)
        };
        let top = if self.note_beside { top } else { below };
        scene.block(&self.note, right, top, Anchor::End, theme::MARK);
    }
}

/// Width of the widest of some lines.
pub(super) fn widest(lines: &[String], look: TextLook) -> f64 {
    lines.iter().map(|line| look.width(line)).fold(0.0, f64::max)
}

/// Level lines through a plot with their values at its left.
pub(super) fn y_axis(scene: &mut Scene, plot: &Rect, ticks: &Ticks, scale: &Scale) {
    for (value, label) in ticks.values.iter().zip(&ticks.labels) {
        let y = scale.at(*value);
        let colour = if *value == 0.0 { theme::AXIS } else { theme::GRID };
        scene.line((plot.left, y), (plot.right, y), colour, 0.8);
        let baseline = y + 0.365 * theme::TICK.size;
        scene.text((plot.left - 7.0, baseline), Anchor::End, theme::TICK, label);
    }
}

/// Line along the foot of a plot, with short marks at the ticks.
pub(super) fn x_line(scene: &mut Scene, plot: &Rect, ticks: &Ticks, scale: &Scale) {
    scene.line((plot.left, plot.bottom), (plot.right, plot.bottom), theme::AXIS, 1.0);
    for value in &ticks.values {
        let x = scale.at(*value);
        scene.line((x, plot.bottom), (x, plot.bottom + 4.0), theme::AXIS, 1.0);
    }
}

/// Values and label under the lowest plot; returns the lower edge.
pub(super) fn x_words(scene: &mut Scene, plot: &Rect, ticks: &Ticks, scale: &Scale, axis: &Axis) -> f64 {
    let baseline = plot.bottom + 5.0 + font::baseline(theme::TICK.size, theme::TICK.line_height());
    for (value, label) in ticks.values.iter().zip(&ticks.labels) {
        scene.text((scale.at(*value), baseline), Anchor::Middle, theme::TICK, label);
    }
    let mut top = plot.bottom + 5.0 + theme::TICK.line_height() + 3.0;
    let (label, unit) = (font::clean(&axis.label), font::clean(&axis.unit_note));
    let gap = if label.is_empty() { 0.0 } else { 6.0 };
    let label_width = theme::AXIS_LABEL.width(&label);
    let whole = label_width + gap + theme::AXIS_UNIT.width(&unit);
    if whole <= plot.width() {
        let left = plot.centre().0 - whole / 2.0;
        let baseline = top + font::baseline(12.0, theme::AXIS_LABEL.line_height());
        scene.text((left, baseline), Anchor::Start, theme::AXIS_LABEL, &label);
        scene.text((left + label_width + gap, baseline), Anchor::Start, theme::AXIS_UNIT, &unit);
        return top + x_label_height(axis, scene.width, plot.width());
    }
    for (text, look) in [(&label, theme::AXIS_LABEL), (&unit, theme::AXIS_UNIT)] {
        let lines = look.wrap(text, scene.width - 2.0 * EDGE);
        top = scene.block(&lines, scene.width / 2.0, top, Anchor::Middle, look);
    }
    top
}

/// Height of what [`x_words`] writes.
pub(super) fn x_words_height(axis: &Axis, picture: f64, plot: f64) -> f64 {
    5.0 + theme::TICK.line_height() + 3.0 + x_label_height(axis, picture, plot)
}

fn x_label_height(axis: &Axis, picture: f64, plot: f64) -> f64 {
    let line = theme::AXIS_LABEL.line_height();
    if axis.label.is_empty() && axis.unit_note.is_empty() {
        return 0.0;
    }
    let whole = theme::AXIS_LABEL.width(&axis.label) + 6.0 + theme::AXIS_UNIT.width(&axis.unit_note);
    if whole <= plot {
        return line;
    }
    let room = picture - 2.0 * EDGE;
    let lines =
        theme::AXIS_LABEL.wrap(&axis.label, room).len() + theme::AXIS_UNIT.wrap(&axis.unit_note, room).len();
    lines as f64 * line
}

/// Key of numbers and footnotes, laid out for a width.
#[derive(Debug, Clone, Default)]
pub(super) struct Footer {
    /// Number, its place, its lines of text.
    entries: Vec<(usize, Point, Vec<String>)>,
    key_height: f64,
    notes: Vec<Vec<String>>,
}

impl Footer {
    pub(super) fn new(key: &[(usize, String)], footnotes: &[String], width: f64) -> Self {
        let room = width - 2.0 * EDGE;
        let indent = 2.0 * NUMBER_RADIUS + 6.0;
        let line = theme::LABEL.line_height().max(2.0 * NUMBER_RADIUS + 3.0);
        let mut footer = Self::default();
        let (mut x, mut y, mut row) = (0.0, 0.0, 0.0_f64);
        for (number, text) in key {
            let lines = theme::LABEL.wrap(text, room - indent);
            let wide = indent + widest(&lines, theme::LABEL);
            if x > 0.0 && x + wide > room {
                (x, y, row) = (0.0, y + row, 0.0);
            }
            row = row.max(line + (lines.len().max(1) - 1) as f64 * theme::LABEL.line_height());
            footer.entries.push((*number, (x, y), lines));
            x += wide + 22.0;
        }
        footer.key_height = y + row;
        footer.notes = footnotes
            .iter()
            .map(|note| theme::FOOTNOTE.wrap(note, room))
            .filter(|lines| !lines.is_empty())
            .collect();
        footer
    }

    pub(super) fn height(&self) -> f64 {
        let lines: usize = self.notes.iter().map(Vec::len).sum();
        let notes = lines as f64 * theme::FOOTNOTE.line_height() + self.notes.len() as f64 * 3.0;
        let gap = |height: f64| if height > 0.0 { 9.0 } else { 0.0 };
        gap(self.key_height) + self.key_height + gap(notes) + notes
    }

    /// A picture of the height that its content takes, with the footer below `top`.
    pub(super) fn ended(&self, mut scene: Scene, top: f64) -> Scene {
        self.draw(&mut scene, top);
        scene.height = (top + self.height() + EDGE).ceil();
        scene
    }

    pub(super) fn draw(&self, scene: &mut Scene, top: f64) {
        let mut top = top;
        if !self.entries.is_empty() {
            top += 9.0;
            let line = theme::LABEL.line_height().max(2.0 * NUMBER_RADIUS + 3.0);
            for (number, at, lines) in &self.entries {
                let centre = (EDGE + at.0 + NUMBER_RADIUS, top + at.1 + line / 2.0);
                number_disc(scene, centre, *number);
                let text_top = centre.1 - theme::LABEL.line_height() / 2.0;
                scene.block(lines, centre.0 + NUMBER_RADIUS + 6.0, text_top, Anchor::Start, theme::LABEL);
            }
            top += self.key_height;
        }
        if !self.notes.is_empty() {
            top += 9.0;
        }
        for lines in &self.notes {
            top = scene.block(lines, EDGE, top, Anchor::Start, theme::FOOTNOTE) + 3.0;
        }
    }
}

/// A number in a ring, on the plot and in the key alike.
pub(super) fn number_disc(scene: &mut Scene, centre: Point, number: usize) {
    scene.dot(centre, NUMBER_RADIUS, theme::INK);
    scene.dot(centre, NUMBER_RADIUS - 1.1, theme::PAPER);
    let at = (centre.0, centre.1 + 0.365 * theme::NUMBER.size);
    scene.text(at, Anchor::Middle, theme::NUMBER, &number.to_string());
}

/// Whole minutes and seconds along a horizontal axis of seconds.
pub(super) fn clock_ticks(range: (f64, f64), width: f64) -> Ticks {
    super::scale::clock_ticks(range.0, range.1, (width / 60.0).clamp(2.0, 14.0))
}

/// Round values along a horizontal axis, as many as fit without touching.
pub(super) fn x_ticks(range: (f64, f64), width: f64) -> Ticks {
    let mut wanted = (width / 60.0).clamp(2.0, 14.0);
    loop {
        let ticks = super::scale::ticks(range.0, range.1, wanted);
        let scale = Scale::new(range, 0.0, width);
        let clear = ticks.values.windows(2).zip(ticks.labels.windows(2)).all(|(values, labels)| {
            let half = (theme::TICK.width(&labels[0]) + theme::TICK.width(&labels[1])) / 2.0;
            scale.at(values[1]) - scale.at(values[0]) > half + 10.0
        });
        if clear || wanted <= 1.0 {
            return ticks;
        }
        wanted = (wanted * 0.7).max(1.0);
    }
}
