//! Lays a band chart out and draws its bands.

use super::chart::BandChart;
use super::labels;
use super::ribbon::Ribbon;
use super::stack::{self, BandStack};
use crate::output::charts::axis::{axis_name, from_to};
use crate::output::charts::frame::{self, EDGE, Footer, Header};
use crate::output::charts::picture::Picture;
use crate::output::charts::scale::{self, Scale, Ticks};
use crate::output::charts::theme;
use crate::output::scene::drawing::{Anchor, Scene};
use crate::output::scene::error::ChartError;
use crate::output::scene::geometry::{Point, Rect};
use crate::output::scene::hatch;

/// The plot is no lower than this.
const LOWEST_PLOT: f64 = 220.0;

impl Picture for BandChart {
    fn scene(&self) -> Result<Scene, ChartError> {
        draw(self).checked()
    }
}

/// The finished picture.
fn draw(chart: &BandChart) -> Scene {
    let stack = stack::stack(chart);
    let size = frame::size(chart.size, frame::USUAL);
    let mut scene = Scene {
        width: size.0,
        height: size.1,
        title: chart.title.clone(),
        description: description(chart, &stack),
        items: Vec::new(),
    };
    let top = frame::heading(&mut scene, &chart.title, &chart.subtitle);
    let notes = footnotes(chart, &stack);
    let names = labels::names(&stack, size.0, chart.x.range.is_some());

    let y_range = y_range(chart, &stack);
    let x_range = scale::asked(chart.x.range).unwrap_or_else(|| {
        let (low, high) = scale::span(stack.places.iter().map(|place| place.x)).unwrap_or((0.0, 1.0));
        scale::widened(low, high)
    });
    let y_ticks = if stack.slices.is_empty() {
        Ticks::default()
    } else {
        sizes_only(scale::ticks(y_range.0, y_range.1, 9.0), y_range)
    };
    let left = EDGE + (frame::widest(&y_ticks.labels, theme::TICK) + 9.0).max(34.0);
    let right = size.0 - EDGE - labels::room_for(&names).max(30.0);
    let header = Header::new(&chart.y, "", right - EDGE);
    let x_ticks =
        if stack.slices.is_empty() { Ticks::default() } else { frame::x_ticks(x_range, right - left) };
    let below = |footer: f64| frame::x_words_height(&chart.x, size.0, right - left) + footer + 13.0;

    let place = |footer: f64| {
        let plot_top = top + header.height();
        let least = labels::height_of(&names).max(LOWEST_PLOT);
        let height = (size.1 - below(footer) - plot_top).max(least).floor();
        let rect = Rect::new(left, plot_top, right - left, height);
        let y = Scale::new(y_range, rect.bottom, rect.top);
        let x = Scale::new(x_range, left, right);
        let ribbons = ribbons(&stack, &rect, &x, &y);
        let corners = labels::corner_notes(chart, &rect, &y);
        let words = labels::place(&stack, &ribbons, &names, &rect, &corners);
        (rect, x, y, ribbons, corners, words)
    };
    let footer_for = |words: &labels::BandWords| Footer::new(&words.key(&stack), &notes, size.0);
    let mut footer_height = Footer::new(&[], &notes, size.0).height();
    let (mut rect, mut x, mut y, mut bands, mut corners, mut words) = place(footer_height);
    // Names that found no room in or beside their band become numbers; the key for them takes height from the plot, which can
    // squeeze out further names, so this is done until it settles.
    for _ in 0..4 {
        let needed = footer_for(&words).height();
        if needed == footer_height {
            break;
        }
        footer_height = needed;
        (rect, x, y, bands, corners, words) = place(footer_height);
    }
    let footer = footer_for(&words);
    scene.height = scene.height.max((rect.bottom + below(footer.height())).ceil());

    header.draw(&mut scene, EDGE, right, top);
    frame::y_axis(&mut scene, &rect, &y_ticks, &y);
    draw_bands(&mut scene, &stack, &bands);
    let nought = y.at(0.0).clamp(rect.top, rect.bottom);
    scene.line((rect.left, nought), (rect.right, nought), theme::INK, 1.6);
    frame::x_line(&mut scene, &rect, &x_ticks, &x);
    labels::draw(&mut scene, &stack, &names, &words, &rect, &corners);
    if stack.slices.is_empty() {
        let look = theme::SUBTITLE;
        let (words, half) = ("No values to draw.", look.line_height() / 2.0);
        let places = [0.25, 0.75, 0.4, 0.6].map(|share| (rect.centre().0, rect.top + share * rect.height()));
        let clear = |place: &(f64, f64)| {
            let box_of_words = Rect::centred(*place, look.width(words), 2.0 * half);
            !corners.iter().any(|(corner, _)| corner.grown(3.0).overlaps(&box_of_words))
        };
        if let Some(place) = places.into_iter().find(clear) {
            scene.block(&[words.to_owned()], place.0, place.1 - half, Anchor::Middle, look);
        }
    }
    let foot = frame::x_words(&mut scene, &rect, &x_ticks, &x, &chart.x);
    footer.draw(&mut scene, foot);
    scene
}

fn footnotes(chart: &BandChart, stack: &BandStack) -> Vec<String> {
    let mut notes = chart.footnotes.clone();
    if !stack.merged.is_empty() {
        notes.push(format!("Other, each under 2 % of the tallest stack: {}.", stack.merged.join(", ")));
    }
    if !stack.missing.is_empty() {
        notes.push(format!("No values to draw: {}.", stack.missing.join(", ")));
    }
    notes
}

/// Both halves to one scale, each as tall as its stack needs.
fn y_range(chart: &BandChart, stack: &BandStack) -> (f64, f64) {
    if let Some((low, high)) = scale::asked(chart.y.range) {
        return (low.min(0.0), high.max(0.0));
    }
    let (up, down) = (stack.up.min(1e250), stack.down.min(1e250));
    if up + down <= 0.0 {
        return (-1.0, 1.0);
    }
    scale::rounded_near(-down * 1.02, up * 1.02, 9.0)
}

/// The lower half counts what is taken: sizes, not negative numbers.
fn sizes_only(ticks: Ticks, range: (f64, f64)) -> Ticks {
    let most = range.0.abs().max(range.1.abs());
    let upper = scale::ticks(0.0, most, (most / ticks.step.max(f64::MIN_POSITIVE)).max(1.0));
    let labels = ticks
        .values
        .iter()
        .zip(&ticks.labels)
        .map(|(value, label)| {
            let near = |other: &&f64| (**other - value.abs()).abs() < 1e-6 * ticks.step;
            let twin = upper.values.iter().position(|other| near(&other));
            twin.map_or_else(|| label.trim_start_matches('−').to_owned(), |i| upper.labels[i].clone())
        })
        .collect();
    Ticks { labels, ..ticks }
}

/// The bands on the picture: for each slice the stretches without a gap, cut to the plot.
fn ribbons(stack: &BandStack, rect: &Rect, x: &Scale, y: &Scale) -> Vec<Vec<Ribbon>> {
    stack
        .slices
        .iter()
        .map(|slice| {
            let mut out = Vec::new();
            for edges in [&slice.own, &slice.other] {
                let mut ribbon = Ribbon::default();
                for (place, edge) in stack.places.iter().zip(edges) {
                    match edge {
                        Some((inner, outer)) => {
                            let level = |value: f64| y.at(value).clamp(rect.top, rect.bottom);
                            ribbon.push(x.at(place.x), level(*inner), level(*outer));
                        }
                        None => out.push(std::mem::take(&mut ribbon)),
                    }
                }
                out.push(ribbon);
            }
            out.iter()
                .filter_map(|ribbon| ribbon.cut(rect.left, rect.right))
                .flat_map(|ribbon| ribbon.thick_parts())
                .collect()
        })
        .collect()
}

fn draw_bands(scene: &mut Scene, stack: &BandStack, bands: &[Vec<Ribbon>]) {
    for (slice, ribbons) in stack.slices.iter().zip(bands) {
        let look = theme::band(slice.order, slice.loss);
        for ribbon in ribbons {
            let outline: Vec<Point> = ribbon.outline();
            scene.fill(outline.clone(), look.ground);
            hatch::draw(scene, &outline, look.hatch, look.line);
        }
    }
    // Edges after all fills, so that no fill covers half of a neighbour's edge.
    for (slice, ribbons) in stack.slices.iter().zip(bands) {
        let look = theme::band(slice.order, slice.loss);
        for ribbon in ribbons {
            let mut edge = ribbon.outline();
            edge.extend(edge.first().copied());
            scene.stroke(edge, look.line, 1.0, &[]);
        }
    }
}

/// What it shows, in words, for readers who do not see it.
fn description(chart: &BandChart, stack: &BandStack) -> String {
    let mut parts = vec!["Chart of stacked bands.".to_owned()];
    if let (Some(first), Some(last)) = (stack.places.first(), stack.places.last()) {
        parts.push(format!("Across: {}, {}.", axis_name(&chart.x), from_to(first.x, last.x)));
    }
    parts.push(format!("Upwards and downwards from nought: {}.", axis_name(&chart.y)));
    for slice in &stack.slices {
        let side = if slice.loss { "below" } else { "above" };
        if let Some((low, high)) = scale::span(slice.values.iter().flatten().copied()) {
            parts.push(format!("{side} nought, {}: {}.", slice.name, from_to(low, high)));
        }
    }
    parts.join(" ")
}
