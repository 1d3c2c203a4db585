//! Stacks bands on one another: a shared grid of places, small bands merged, each band on the side its sign puts it.

use super::chart::{BandChart, ChartBand};
use crate::output::charts::scale::{drawable, runs};
use crate::output::scene::font;

/// A band smaller than this part of the tallest stack everywhere is drawn with the other small ones.
const SMALL: f64 = 0.02;
/// Name of the small ones together.
const OTHER: &str = "other";

/// A place along the axis; at a step there are two, seen from the left and from the right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisPlace {
    pub x: f64,
    pub from_left: bool,
}

/// One band of the finished stack.
#[derive(Debug, Clone)]
pub struct Slice {
    pub name: String,
    pub loss: bool,
    /// Place among its kind, from nought outwards, for its looks.
    pub order: usize,
    /// Value at each place; `None` where any band has none.
    pub values: Vec<Option<f64>>,
    /// Inner and outer edge at each place, upwards positive, where the band lies on its own side and where on the other.
    pub own: Vec<Option<(f64, f64)>>,
    pub other: Vec<Option<(f64, f64)>>,
}

/// The stack of a chart.
#[derive(Debug, Clone, Default)]
pub struct BandStack {
    pub places: Vec<AxisPlace>,
    pub slices: Vec<Slice>,
    /// Height of the upper and depth of the lower stack at their greatest.
    pub up: f64,
    pub down: f64,
    /// Names of the bands drawn together as "other".
    pub merged: Vec<String>,
    /// Names of bands without any value.
    pub missing: Vec<String>,
}

/// A band's points in order, each run on its own, and the span they cover.
struct BandPath {
    points: Vec<(f64, Option<f64>)>,
    first: f64,
    last: f64,
}

impl BandPath {
    fn new(band: &ChartBand) -> Option<Self> {
        let mut points: Vec<(f64, Option<f64>)> =
            band.points.iter().filter_map(|(x, y)| Some((drawable(*x)?, y.and_then(drawable)))).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (first, last) = (points.first()?.0, points.last()?.0);
        Some(Self { points, first, last })
    }

    /// Value at a place. `whole` is the span of all bands: only within it does a band begin or end with a step.
    fn at(&self, place: AxisPlace, whole: (f64, f64)) -> Option<f64> {
        let x = place.x;
        let before = x < self.first || (x == self.first && place.from_left && x > whole.0);
        let after = x > self.last || (x == self.last && !place.from_left && x < whole.1);
        if before || after {
            return Some(0.0);
        }
        let (next, here) = if place.from_left {
            let next = self.points.partition_point(|point| point.0 < x);
            (next, self.points.get(next))
        } else {
            let next = self.points.partition_point(|point| point.0 <= x);
            (next, next.checked_sub(1).and_then(|i| self.points.get(i)))
        };
        match here {
            Some((at, value)) if *at == x => *value,
            _ => {
                let (a, b) = (self.points.get(next.checked_sub(1)?)?, self.points.get(next)?);
                let share = (x - a.0) / (b.0 - a.0);
                Some(a.1? + share * (b.1? - a.1?))
            }
        }
    }
}

/// Stacks a chart's bands.
pub fn stack(chart: &BandChart) -> BandStack {
    let mut out = BandStack::default();
    let mut bands: Vec<(bool, String, BandPath)> = Vec::new();
    let sides = [(false, &chart.gives), (true, &chart.takes)];
    for (loss, band) in sides.iter().flat_map(|(loss, bands)| bands.iter().map(move |b| (*loss, b))) {
        let name = font::clean(&band.name);
        match BandPath::new(band) {
            Some(course) if !runs(&band.points).is_empty() => bands.push((loss, name, course)),
            _ => out.missing.push(name),
        }
    }
    let whole = bands.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (_, _, course)| {
        (low.min(course.first), high.max(course.last))
    });
    if bands.is_empty() {
        return out;
    }
    out.places = grid(bands.iter().map(|(_, _, course)| course), whole);
    let all: Vec<Vec<Option<f64>>> = bands
        .iter()
        .map(|(_, _, course)| out.places.iter().map(|place| course.at(*place, whole)).collect())
        .collect();
    let known: Vec<bool> =
        (0..out.places.len()).map(|i| all.iter().all(|values| values[i].is_some())).collect();
    let mut found: Vec<(bool, String, Vec<Option<f64>>)> = bands
        .into_iter()
        .zip(all)
        .map(|((loss, name, _), values)| {
            let values = values.iter().zip(&known).map(|(v, known)| v.filter(|_| *known)).collect();
            (loss, name, values)
        })
        .collect();
    merge(&mut out, &mut found);
    pile(&mut out, found);
    out
}

/// Every place where any band bends, steps or changes sign.
fn grid<'a>(courses: impl Iterator<Item = &'a BandPath>, whole: (f64, f64)) -> Vec<AxisPlace> {
    let mut xs: Vec<f64> = Vec::new();
    let mut steps: Vec<f64> = Vec::new();
    for course in courses {
        steps.extend([course.first, course.last].iter().filter(|x| **x > whole.0 && **x < whole.1));
        xs.extend(course.points.iter().map(|point| point.0));
        for pair in course.points.windows(2) {
            let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
            if x0 == x1 || y0.is_none() != y1.is_none() {
                steps.extend([x0, x1].iter().filter(|x| **x > whole.0 && **x < whole.1));
            }
            if let (Some(a), Some(b)) = (y0, y1)
                && a * b < 0.0
            {
                let crossing = x0 + (x1 - x0) * (a / (a - b));
                xs.push(crossing.clamp(x0, x1));
            }
        }
    }
    xs.sort_by(f64::total_cmp);
    xs.dedup();
    steps.sort_by(f64::total_cmp);
    xs.into_iter()
        .flat_map(|x| {
            let step = steps.binary_search_by(|other| other.total_cmp(&x)).is_ok();
            // The far left is seen from the right and everything else from the left, unless it is a step and both are.
            let left = step || x > whole.0;
            let right = step || x <= whole.0;
            let one = left.then_some(AxisPlace { x, from_left: true });
            let two = right.then_some(AxisPlace { x, from_left: false });
            one.into_iter().chain(two)
        })
        .collect()
}

/// Draws the small bands of each side together, and drops bands that are nought throughout.
fn merge(out: &mut BandStack, found: &mut Vec<(bool, String, Vec<Option<f64>>)>) {
    let total = |sign: f64| {
        (0..out.places.len())
            .map(|i| {
                found
                    .iter()
                    .filter_map(|(loss, _, values)| Some(values[i]? * if *loss { -1.0 } else { 1.0 }))
                    .map(|value| (value * sign).max(0.0))
                    .sum::<f64>()
            })
            .fold(0.0, f64::max)
    };
    let tallest = total(1.0).max(total(-1.0));
    let size = |values: &[Option<f64>]| values.iter().flatten().fold(0.0_f64, |most, v| most.max(v.abs()));
    found.retain(|(_, _, values)| size(values) > 0.0);
    for side in [false, true] {
        let small =
            |band: &(bool, String, Vec<Option<f64>>)| band.0 == side && size(&band.2) < SMALL * tallest;
        if found.iter().filter(|band| small(band)).count() < 2 {
            continue;
        }
        let (few, kept): (Vec<_>, Vec<_>) = std::mem::take(found).into_iter().partition(small);
        *found = kept;
        let mut sum = few[0].2.clone();
        for (_, _, values) in &few[1..] {
            for (total, value) in sum.iter_mut().zip(values) {
                *total = total.and_then(|total| Some(total + (*value)?));
            }
        }
        out.merged.extend(few.into_iter().map(|(_, name, _)| name));
        found.push((side, OTHER.to_owned(), sum));
    }
    // Stable: sources stay before losses, each in the order given, "other" last.
    found.sort_by_key(|(loss, _, _)| *loss);
}

fn pile(out: &mut BandStack, found: Vec<(bool, String, Vec<Option<f64>>)>) {
    let count = out.places.len();
    let (mut up, mut down) = (vec![0.0; count], vec![0.0; count]);
    let mut orders = [0, 0];
    let mut slices: Vec<Slice> = found
        .into_iter()
        .map(|(loss, name, values)| {
            let order = orders[usize::from(loss)];
            orders[usize::from(loss)] += 1;
            Slice { name, loss, order, own: vec![None; count], other: vec![None; count], values }
        })
        .collect();
    // Bands on their own side first, next to nought; visitors from the other side outside them.
    for visiting in [false, true] {
        for slice in &mut slices {
            let upwards = slice.loss == visiting;
            let sums = if upwards { &mut up } else { &mut down };
            let sign = if upwards { 1.0 } else { -1.0 };
            let edges = if visiting { &mut slice.other } else { &mut slice.own };
            for (i, sum) in sums.iter_mut().enumerate() {
                let Some(value) = slice.values[i] else { continue };
                let part = if visiting { -value } else { value }.max(0.0);
                edges[i] = Some((sign * *sum, sign * (*sum + part)));
                *sum += part;
            }
        }
    }
    out.up = up.iter().copied().fold(0.0, f64::max);
    out.down = down.iter().copied().fold(0.0, f64::max);
    out.slices = slices;
}
