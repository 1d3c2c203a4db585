//! Lays a chart of readings out: names at the left, bands and marks along a common axis, words at the right.

use super::chart::{ReadChart, ReadGroup, ReadRow};
use crate::output::charts::frame::{self, EDGE};
use crate::output::charts::picture::Picture;
use crate::output::charts::rows::RowWords;
use crate::output::charts::scale::{Scale, drawable, spoken};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::Rect;

/// Widest part of the picture that names may take.
const NAMES: f64 = 0.36;
/// Least height of a row; of the band before, of the band after; half that of the marks at the ends of a reading.
const ROW: f64 = 30.0;
const BEFORE: f64 = 17.0;
const AFTER: f64 = 8.0;
const MARK: f64 = 5.0;
/// Radius of the disc that is what was read.
const DISC: f64 = 4.2;
/// Between groups.
const APART: f64 = 12.0;
/// Share of the span that is left free at either end of an axis.
const ROOM: f64 = 0.03;

/// A reading with its words laid out.
struct LaidReading<'r> {
    row: &'r ReadRow,
    words: RowWords,
}

impl Picture for ReadChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

fn draw(chart: &ReadChart) -> Scene {
    let (mut scene, footer, top) =
        frame::begun((&chart.title, &chart.subtitle), description(chart), &chart.footnotes, chart.width);
    let width = scene.width;
    let groups: Vec<(&ReadGroup, Vec<LaidReading>)> =
        chart.groups.iter().map(|group| (group, rows(group, width))).collect();
    let all = || groups.iter().flat_map(|(_, rows)| rows);
    if all().next().is_none() {
        let foot = scene.block(&["Nothing to draw.".to_owned()], EDGE, top, Anchor::Start, theme::LABEL);
        return footer.ended(scene, foot);
    }
    let (left, right) = RowWords::between(all().map(|row| &row.words), width);
    let mut top = top + 4.0;
    for (group, rows) in groups.iter().filter(|(_, rows)| !rows.is_empty()) {
        let plot = Rect::new(left, top, right - left, rows.iter().map(|row| row.words.height).sum());
        top = self::group(&mut scene, &plot, rows, group) + APART;
    }
    footer.ended(scene, top - APART)
}

/// One group; returns its lower edge.
fn group(scene: &mut Scene, plot: &Rect, rows: &[LaidReading], group: &ReadGroup) -> f64 {
    let numbers = rows.iter().flat_map(|row| {
        let ends = row.row.between.into_iter().flatten();
        row.row.before.into_iter().chain(row.row.after).chain(ends).chain([row.row.read])
    });
    let (low, high) =
        numbers.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
    let room = ROOM * (high - low).max(1.0);
    let x = Scale::new((low - room, high + room), plot.left, plot.right);
    let ticks = frame::x_ticks((x.low, x.high), plot.width());
    for value in &ticks.values {
        scene.line((x.at(*value), plot.top), (x.at(*value), plot.bottom), theme::GRID, 0.8);
    }
    let mut top = plot.top;
    for row in rows {
        draw_row(scene, row, top + row.words.height / 2.0, plot, &x);
        top += row.words.height;
    }
    scene.line((plot.left, plot.top), (plot.left, plot.bottom), theme::AXIS, 1.0);
    frame::x_line(scene, plot, &ticks, &x);
    frame::x_words(scene, plot, &ticks, &x, &group.x)
}

fn rows<'g>(group: &'g ReadGroup, width: f64) -> Vec<LaidReading<'g>> {
    let sound = |row: &&ReadRow| {
        row.before.iter().chain(&row.after).chain([&row.read]).all(|number| drawable(*number).is_some())
    };
    let laid_out = |row: &'g ReadRow| LaidReading {
        row,
        words: RowWords::new(&row.name, &row.label, width, NAMES, ROW),
    };
    group.rows.iter().filter(sound).map(laid_out).collect()
}

fn draw_row(scene: &mut Scene, row: &LaidReading, centre: f64, plot: &Rect, x: &Scale) {
    let (colour, _) = theme::curve(0);
    let band = |ends: &[f64; 3], height: f64| {
        let (low, high) = (x.at(ends[0]), x.at(ends[2]));
        Rect::new(low, centre - height / 2.0, (high - low).max(0.5), height)
    };
    let before = band(&row.row.before, BEFORE).corners();
    scene.glaze(before.clone(), colour, 0.16);
    scene.stroke(before.iter().chain(before.first()).copied().collect(), colour, 0.8, &[3.0, 2.0]);
    let after = band(&row.row.after, AFTER).corners();
    scene.glaze(after.clone(), colour, 0.6);
    scene.stroke(after.iter().chain(after.first()).copied().collect(), colour, 0.8, &[]);
    // an open end goes to the edge, without a mark
    let [low, high] = row.row.between;
    let ends = [low.map_or(plot.left, |low| x.at(low)), high.map_or(plot.right, |high| x.at(high))];
    scene.line((ends[0], centre), (ends[1], centre), theme::INK, 1.2);
    for (_, at) in [low, high].iter().zip(ends).filter(|(end, _)| end.is_some()) {
        scene.line((at, centre - MARK), (at, centre + MARK), theme::INK, 1.2);
    }
    scene.dot((x.at(row.row.read), centre), DISC, theme::INK);
    scene.dot((x.at(row.row.read), centre), DISC - 1.4, theme::PAPER);
    row.words.write(scene, centre, (plot.left, plot.right));
}

fn description(chart: &ReadChart) -> String {
    let mut parts = vec!["Readings against what was reckoned.".to_string()];
    for group in &chart.groups {
        parts.push(format!("{} ({}):", group.x.label, group.x.unit_note));
        for row in &group.rows {
            parts.push(format!(
                "{}: read {}, expected {} to {} before, {} to {} after.",
                row.name,
                spoken(row.read),
                spoken(row.before[0]),
                spoken(row.before[2]),
                spoken(row.after[0]),
                spoken(row.after[2])
            ));
        }
    }
    parts.join(" ")
}
