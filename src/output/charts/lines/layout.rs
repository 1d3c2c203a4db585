//! Lays a line chart out: where the plots stand, and what is drawn in which order.

use super::chart::LineChart;
use super::model::{self, Prepared};
use super::plot::LinePlot;
use super::{curves, description, ground, markers, names};
use crate::output::charts::frame::{self, EDGE, Footer, Header};
use crate::output::charts::picture::Picture;
use crate::output::charts::scale::{self, Scale, Ticks};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::Rect;
use crate::output::scene::place;

/// Extra height of a chart for each panel after the first.
const PANEL_HEIGHT: f64 = 200.0;
/// No plot is lower than this.
const LOWEST_PLOT: f64 = 130.0;
/// Between the foot of one plot and the words above the next.
const BETWEEN: f64 = 14.0;
/// Between the names of marked places and the plot: half a number of the axis may stand up into it.
const MARK_GAP: f64 = 6.0;

/// The names of places along the horizontal axis, in rows so that none overlap.
struct MarkNames {
    /// Place, left end and upper edge relative to the lowest edge of all rows, and lines.
    names: Vec<(f64, f64, f64, Vec<String>)>,
    height: f64,
}

impl Picture for LineChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

/// The finished picture.
fn draw(chart: &LineChart) -> Scene {
    let panels: Vec<Prepared<'_>> = chart.panels.iter().map(model::prepare).collect();
    let further = panels.len().saturating_sub(1) as f64;
    let usual = (frame::USUAL.0, frame::USUAL.1 + PANEL_HEIGHT * further);
    let size = frame::size(chart.size, usual);
    let x_range = model::x_range(chart, &panels);

    let mut scene = Scene {
        width: size.0,
        height: size.1,
        title: chart.title.clone(),
        description: description::of_lines(chart, &panels, x_range),
        items: Vec::new(),
    };
    let top = frame::heading(&mut scene, &chart.title, &chart.subtitle);
    let mut notes = chart.footnotes.clone();
    notes.extend(model::owed_notes(&panels, x_range));

    let plain = Footer::new(&[], &notes, size.0);
    let mut plots = place_plots(chart, panels, x_range, size, top, &plain);
    let marks = mark_names(chart, &plots, size.0);
    stack(&mut plots.list, size.1 - plots.below, top, &marks);
    // Words beside the points where they fit; in crowded plots numbers, and the words in a key, for which all give up height,
    // which may crowd others.
    let mut crowded = vec![false; plots.list.len()];
    let mut footer = plain;
    let mut height_of_footer = footer.height();
    while markers::mark_crowded(&plots.list, &mut crowded) {
        footer = Footer::new(&markers::key(&plots.list, &crowded), &notes, size.0);
        plots.below += footer.height() - height_of_footer;
        height_of_footer = footer.height();
        stack(&mut plots.list, size.1 - plots.below, top, &marks);
    }
    let markers = markers::placed(&plots.list, &crowded);
    let bottom = plots.list.last().map_or(top, |plot| plot.rect.bottom);
    scene.height = scene.height.max((bottom + plots.below).ceil());

    for (index, plot) in plots.list.iter().enumerate() {
        frame::y_axis(&mut scene, &plot.rect, &plot.ticks, &plot.y);
        ground::shaded(&mut scene, plot);
        draw_marks(&mut scene, plot, (index == 0).then_some(&marks));
        let header_top = plot.rect.top - plot.header.height() - if index == 0 { marks.height } else { 0.0 };
        plot.header.draw(&mut scene, EDGE, plot.rect.right, header_top);
        curves::draw(&mut scene, plot);
        frame::x_line(&mut scene, &plot.rect, &plots.x_ticks, &plot.x);
        markers::draw(&mut scene, &markers[index]);
        curves::draw_names(&mut scene, plot);
    }
    let foot = match plots.list.last() {
        Some(plot) => frame::x_words(&mut scene, &plot.rect, &plots.x_ticks, &plot.x, &chart.x),
        None => {
            let words = ["Nothing to draw.".to_owned()];
            scene.block(&words, EDGE, top, Anchor::Start, theme::LABEL)
        }
    };
    footer.draw(&mut scene, foot);
    scene
}

struct Plots<'a> {
    list: Vec<LinePlot<'a>>,
    x_ticks: Ticks,
    /// Height of everything under the lowest plot.
    below: f64,
}

/// Settles widths and ranges; heights come from [`stack`].
fn place_plots<'a>(
    chart: &LineChart,
    panels: Vec<Prepared<'a>>,
    x_range: (f64, f64),
    size: (f64, f64),
    top: f64,
    footer: &Footer,
) -> Plots<'a> {
    let count = panels.len().max(1) as f64;
    let height = (size.1 - top - 60.0 - footer.height()) / count - 35.0;
    let wanted = (height.max(LOWEST_PLOT) / 42.0).clamp(2.0, 9.0);
    let mut left = 34.0_f64;
    let mut right = 30.0_f64;
    let mut list = Vec::new();
    for mut data in panels {
        if !data.fixed {
            let (low, high) = data.range;
            let (floor, ceiling) = scale::rounded_near(low, high, wanted);
            data.range = (floor, if data.cap.is_some() { high } else { ceiling });
        }
        let ticks = if data.empty && data.panel.limit.is_none() && !data.fixed {
            Ticks::default()
        } else {
            scale::ticks(data.range.0, data.range.1, wanted)
        };
        left = left.max(frame::widest(&ticks.labels, theme::TICK) + 9.0);
        let ends = names::names(&data, size.0);
        right = right.max(names::room_for(&ends));
        let unplaced = Rect::new(0.0, 0.0, 1.0, 1.0);
        list.push(LinePlot {
            x: Scale::new(x_range, 0.0, 1.0),
            y: Scale::new(data.range, 1.0, 0.0),
            header: Header::new(&data.panel.y, "", 1.0),
            data,
            rect: unplaced,
            ticks,
            names: ends,
            marks: Vec::new(),
            shaded: Vec::new(),
        });
    }
    let (left, right) = (EDGE + left, size.0 - EDGE - right);
    for plot in &mut list {
        plot.rect = Rect::new(left, 0.0, right - left, 1.0);
        plot.x = Scale::new(x_range, left, right);
        let places = chart.x_marks.iter().map(|(x, _)| *x);
        plot.marks = places.filter(|x| x.is_finite() && plot.x.covers(*x)).map(|x| plot.x.at(x)).collect();
        let stretch = |(from, to, name): &(f64, f64, String)| {
            let (from, to) = (plot.x.at(*from).max(left), plot.x.at(*to).min(right));
            (to > from).then(|| (from, to, name.clone()))
        };
        plot.shaded = chart.shaded.iter().filter_map(stretch).collect();
        let note = match (&plot.data.panel.cap, plot.data.cap) {
            (Some(cap), Some(_)) => format!("▲ {}", cap.note),
            _ => String::new(),
        };
        plot.header = Header::new(&plot.data.panel.y, &note, right - EDGE);
    }
    let any = list.iter().any(|plot| !plot.data.empty) || chart.x.range.is_some();
    let x_ticks = match any {
        true if chart.clock => frame::clock_ticks(x_range, right - left),
        true => frame::x_ticks(x_range, right - left),
        false => Ticks::default(),
    };
    Plots {
        list,
        x_ticks,
        below: frame::x_words_height(&chart.x, size.0, right - left) + footer.height() + 13.0,
    }
}

/// Shares the height down to `bottom` among the plots; past it where names need more.
fn stack(plots: &mut [LinePlot<'_>], bottom: f64, top: f64, marks: &MarkNames) {
    let words: f64 = plots.iter().map(|plot| plot.header.height()).sum();
    let gaps = BETWEEN * plots.len().saturating_sub(1) as f64;
    let share = (bottom - top - words - gaps - marks.height) / plots.len().max(1) as f64;
    let mut y = top + marks.height;
    for plot in plots {
        y += plot.header.height();
        let least = names::height_of(&plot.names).max(LOWEST_PLOT);
        let height = share.max(least).floor();
        plot.rect = Rect::new(plot.rect.left, y, plot.rect.width(), height);
        plot.y = Scale::new(plot.data.range, plot.rect.bottom, plot.rect.top);
        y = plot.rect.bottom + BETWEEN;
    }
}

fn mark_names(chart: &LineChart, plots: &Plots<'_>, width: f64) -> MarkNames {
    let Some(plot) = plots.list.first() else {
        return MarkNames { names: Vec::new(), height: 0.0 };
    };
    let look = theme::MARK;
    let limit = (plot.rect.width() * 0.4).max(60.0);
    let mut found: Vec<(f64, f64, Vec<String>)> = chart
        .x_marks
        .iter()
        .filter(|(x, _)| x.is_finite() && plot.x.covers(*x))
        .map(|(x, name)| {
            let lines = look.wrap(name, limit);
            let half = frame::widest(&lines, look) / 2.0;
            let place = plot.x.at(*x);
            let left = (place - half).clamp(EDGE, (width - EDGE - 2.0 * half).max(EDGE));
            (place, left, lines)
        })
        .filter(|(_, _, lines)| !lines.is_empty())
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    let ends: Vec<(f64, f64)> =
        found.iter().map(|(_, left, lines)| (*left, left + frame::widest(lines, look))).collect();
    let rows = place::rows(&ends, 9.0);
    let mut heights = vec![0.0_f64; rows.iter().map(|row| row + 1).max().unwrap_or(0)];
    for (row, (_, _, lines)) in rows.iter().zip(&found) {
        heights[*row] = heights[*row].max(lines.len() as f64 * look.line_height());
    }
    let names = found
        .into_iter()
        .zip(&rows)
        .map(|((place, left, lines), row)| (place, left, heights[..=*row].iter().sum::<f64>(), lines))
        .collect();
    let height = heights.iter().sum::<f64>();
    MarkNames { names, height: if height > 0.0 { height + MARK_GAP } else { 0.0 } }
}

/// Light lines at the marked places; at the topmost plot they reach up to their names.
fn draw_marks(scene: &mut Scene, plot: &LinePlot<'_>, names: Option<&MarkNames>) {
    for &x in &plot.marks {
        scene.line((x, plot.rect.top), (x, plot.rect.bottom), theme::MARK_LINE, 1.0);
    }
    let names = names.map_or(&[][..], |marks| &marks.names);
    for (place, _, up, _) in names {
        let above = plot.rect.top - MARK_GAP - up;
        scene.line((*place, above), (*place, plot.rect.top), theme::MARK_LINE, 1.0);
    }
    for (_, left, up, lines) in names {
        let top = plot.rect.top - MARK_GAP - up;
        let height = lines.len() as f64 * theme::MARK.line_height();
        let under = Rect::new(*left, top, frame::widest(lines, theme::MARK), height).grown(2.0);
        scene.fill(under.corners(), theme::PAPER);
        scene.block(lines, *left, top, Anchor::Start, theme::MARK);
    }
}
