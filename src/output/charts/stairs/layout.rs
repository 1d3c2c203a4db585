//! Lays staircases out: a row for each way, a column for each step.

use super::chart::{Stair, StairChart, Stairway};
use crate::output::charts::frame::{self, EDGE};
use crate::output::charts::picture::Picture;
use crate::output::charts::scale::{number, spoken};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::{Point, Rect};
use crate::output::scene::hatch::{self, Hatch};

/// Height of the row whose values reach farthest, of all rows together, and of the lowest row.
const HIGHEST: f64 = 180.0;
const TOGETHER: f64 = 280.0;
const LOWEST: f64 = 16.0;
/// Narrowest and widest column.
const NARROW: f64 = 54.0;
const WIDE: f64 = 112.0;
/// Above and below a staircase, where figures may stand.
const ROOM: f64 = 15.0;
/// Between two rows.
const BETWEEN: f64 = 14.0;
const LINE: f64 = 2.2;
/// Share of the plain ground's ink.
const GROUND: f64 = 0.10;
/// The same of a place.
const PLACE: f64 = 0.30;
const LOUD: Hatch = Hatch::Lines { degrees: 45.0, apart: 6.0 };

impl Picture for StairChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

/// How far the levels of a way reach down and up, nought among them.
fn reach(way: &Stairway) -> (f64, f64) {
    let levels = std::iter::once(way.from.1).chain(way.steps.iter().map(|step| step.to));
    levels.filter(|level| level.is_finite()).fold((0.0, 0.0), |(low, high), at| (at.min(low), at.max(high)))
}

fn draw(chart: &StairChart) -> Scene {
    let (mut scene, footer, mut top) =
        frame::begun((&chart.title, &chart.subtitle), description(chart), &chart.footnotes, chart.width);
    let width = scene.width;
    if chart.ways.is_empty() {
        top = scene.block(&["Nothing to draw.".to_owned()], EDGE, top, Anchor::Start, theme::LABEL);
    }
    let spans = || chart.ways.iter().map(reach).map(|(low, high)| high - low);
    let most = spans().fold(0.0, f64::max);
    let per_unit = if most > 0.0 { (HIGHEST / most).min(TOGETHER / spans().sum::<f64>()) } else { 1.0 };
    let fits = ((width - 2.0 * EDGE) / NARROW) as usize;
    let columns = chart.ways.iter().map(|way| way.steps.len() + 1).max().unwrap_or(1).min(fits) as f64;
    let column = ((width - 2.0 * EDGE) / columns).clamp(NARROW, WIDE);
    for way in chart.ways.iter().flat_map(|way| folded(way, fits)) {
        top = row(&mut scene, chart, &way, top, column, per_unit) + BETWEEN;
    }
    if !chart.ways.is_empty() {
        top -= BETWEEN;
    }
    footer.ended(scene, top)
}

/// A way in as many rows as it needs where so many columns fit: each goes on from the last step of the one above.
fn folded(way: &Stairway, fits: usize) -> Vec<Stairway> {
    let mut rows: Vec<Stairway> = Vec::new();
    let mut from = way.from.clone();
    for steps in way.steps.chunks(fits.saturating_sub(1).max(1)) {
        let first = rows.is_empty();
        let name = if first { way.name.clone() } else { String::new() };
        let note = if first { way.note.clone() } else { String::new() };
        rows.push(Stairway { name, note, loud: way.loud, from, steps: steps.to_vec() });
        from = steps.last().map_or_else(|| way.from.clone(), |last| (last.name.clone(), last.to));
    }
    if rows.is_empty() { vec![way.clone()] } else { rows }
}

/// One way; returns its lower edge.
fn row(scene: &mut Scene, chart: &StairChart, way: &Stairway, top: f64, column: f64, per_unit: f64) -> f64 {
    let room = scene.width - 2.0 * EDGE;
    let name = theme::STRONG_LABEL.wrap(&way.name, room);
    let look = if way.loud { theme::STRONG_LABEL } else { theme::MARK };
    let beside = EDGE + frame::widest(&name, theme::STRONG_LABEL) + 10.0;
    let fits = name.len() == 1 && beside + look.width(&way.note) <= scene.width - EDGE;
    let mut below = scene.block(&name, EDGE, top, Anchor::Start, theme::STRONG_LABEL);
    if fits {
        scene.block(&look.wrap(&way.note, room), beside, top, Anchor::Start, look);
    } else {
        below = scene.block(&look.wrap(&way.note, room), EDGE, below, Anchor::Start, look);
    }
    let top = below;
    let (low, high) = reach(way);
    let height = ((high - low) * per_unit).max(LOWEST);
    let nought = top + ROOM + high * per_unit;
    let y = |level: f64| nought - level * per_unit;
    let at = |index: usize| EDGE + column * index as f64;
    let right = at(way.steps.len() + 1);
    // the ground under the treads, places darker
    let levels: Vec<f64> = std::iter::once(way.from.1).chain(way.steps.iter().map(|step| step.to)).collect();
    for (index, level) in levels.iter().enumerate() {
        let tread =
            Rect { left: at(index), right: at(index + 1), top: y(level.max(0.0)), bottom: y(level.min(0.0)) };
        let step = index.checked_sub(1).map(|before| &way.steps[before]);
        if step.is_some_and(|step| step.loud) {
            scene.glaze(tread.corners(), theme::LOUD, 0.8);
            hatch::draw(scene, &tread.corners(), LOUD, theme::INK);
        } else {
            scene.glaze(
                tread.corners(),
                theme::INK,
                if step.is_none_or(|step| step.place) { PLACE } else { GROUND },
            );
        }
    }
    scene.line((EDGE, nought), (right, nought), theme::AXIS, 0.8);
    let mut stairs: Vec<Point> = Vec::new();
    for (index, level) in levels.iter().enumerate() {
        stairs.extend([(at(index), y(*level)), (at(index + 1), y(*level))]);
    }
    scene.stroke(stairs, theme::INK, LINE, &[]);
    // the level of each place, and what each step takes or gives
    let figure = |level: f64| format!("{} {}", number(level.round(), 0), chart.unit);
    let foot = top + ROOM + height.max((high - low) * per_unit) + if low < 0.0 { ROOM } else { 4.0 };
    let mut lowest = foot;
    let losses = way.steps.iter().zip(&levels).filter(|(step, _)| !step.place);
    let worst = losses.map(|(step, before)| before - step.to).fold(0.0, f64::max);
    let all = std::iter::once((way.from.0.as_str(), None)).chain(
        way.steps.iter().zip(&levels).map(|(step, before)| (step.name.as_str(), Some((step, *before)))),
    );
    for (index, (name, step)) in all.enumerate() {
        let middle = at(index) + column / 2.0;
        let (says, look) = match step {
            None => (figure(way.from.1), theme::STRONG_LABEL),
            Some((step, _)) if step.place => (figure(step.to), theme::STRONG_LABEL),
            Some((step, before)) => {
                let change = (step.to - before).round();
                let sign = if change > 0.0 { "+" } else { "" };
                let most = before - step.to >= worst && worst > 0.0;
                (
                    format!("{sign}{}", number(change, 0)),
                    if most { theme::STRONG_LABEL } else { theme::LABEL },
                )
            }
        };
        let level = levels[index];
        let above = y(level.max(0.0)) - ROOM - 1.0;
        scene.block(&[says], middle, above, Anchor::Middle, look);
        let words = theme::MARK.wrap(name, column - 4.0);
        let end = scene.block(&words, middle, foot, Anchor::Middle, theme::MARK);
        lowest = lowest.max(end);
    }
    lowest
}

fn description(chart: &StairChart) -> String {
    let mut parts = vec![format!("{} ({}) along each way.", chart.what, chart.unit)];
    for way in &chart.ways {
        let told: Vec<String> =
            way.steps.iter().map(|Stair { name, to, .. }| format!("{name} to {}", spoken(*to))).collect();
        let note = if way.note.is_empty() { String::new() } else { format!(" ({})", way.note) };
        let (from, level) = &way.from;
        parts.push(format!("{}{note}: from {from} at {}, {}.", way.name, spoken(*level), told.join(", ")));
    }
    parts.join(" ")
}
