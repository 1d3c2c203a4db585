//! The charts of a sweep: margin against speed, and the pressure budget.

use super::charts::{
    Axis, BandChart, Cap, ChartBand, Curve, LineChart, Marker, MarkerKind, Panel, RangeBand,
};
use super::terms;
use super::text::words::{self, load_of, sentence};
use crate::point::result::Condition;
use crate::study::document::Report;
use crate::study::sweep::result::{Lowest, Sweep, SweepPart, SweepPoint};
use std::collections::BTreeMap;

/// Highest flow margin drawn, in %: beyond it a part has more than twice the air it needs.
const MOST_DRAWN: f64 = 100.0;

/// Width of the chart with bands, its height beside the panels, and that of a panel (points).
const WIDTH: f64 = 900.0;
const FRAME: f64 = 200.0;
const PANEL: f64 = 170.0;

/// Margin against road speed, in kelvins, on one panel: a curve for each part, its lowest point, the conditions by name,
/// and the band of the part that keeps least.
pub fn margins(report: &Report, sweep: &Sweep) -> LineChart {
    let curves = kelvins(sweep);
    let lowest =
        sweep.lowest.iter().map(|(name, low)| Marker { label: String::new(), ..lowest_mark(name, low) });
    let driven = report.conditions.iter().filter(|condition| condition.speed_m_s > 0.0);
    let named = driven.filter_map(|condition| {
        let mark = condition_mark(condition, None)?;
        Some(Marker { label: condition.name.clone(), ..mark })
    });
    let spreads: Vec<RangeBand> =
        curves.iter().enumerate().map(|(place, curve)| least_band(sweep, place, &curve.name)).collect();
    let banded = spreads.iter().any(|spread| spread.points.iter().any(|(_, band)| band.is_some()));
    let panel = Panel {
        y: Axis { label: "Below the limit by".into(), unit_note: "K".into(), range: None },
        limit: Some((0.0, "limit".into())),
        markers: named.chain(lowest).collect(),
        spreads: if banded { spreads } else { Vec::new() },
        curves,
        ..Panel::default()
    };
    let mut footnotes = vec![format!(
        "At {}, in the lowest gear that keeps the engine within its range. Dots: conditions, by the part that keeps least; triangles: the lowest of each part.",
        load_of(sweep)
    )];
    if banded {
        footnotes
            .push("Shaded: where the least margin lies 9 times in 10, with what is guessed.".to_string());
    }
    whole(report, sweep, vec![panel], None, footnotes)
}

/// The band of a part at the speeds at which it keeps least, and at those beside them: where another takes over, both are
/// shaded, and no speed is left without.
fn least_band(sweep: &Sweep, place: usize, name: &str) -> RangeBand {
    // cars are drawn at some of the speeds only
    let banded = |point: &&SweepPoint| point.parts.iter().any(|(_, part)| part.margin_band_K.is_some());
    let drawn: Vec<&SweepPoint> = sweep.points.iter().filter(banded).collect();
    let is_least = |point: &SweepPoint| {
        let limited = point.parts.0.iter().filter(|(_, part)| part.margin_band_K.is_some());
        let least = limited.min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
        least.is_some_and(|(least, _)| least == name)
    };
    let mut points = Vec::new();
    let mut gear = None;
    for (index, point) in drawn.iter().enumerate() {
        let speed = point.speed_m_s * 3.6;
        if gear.replace(point.gear).is_some_and(|before| before != point.gear) {
            points.push((speed, None));
        }
        let Some(band) = point.parts.get(name).and_then(|part| part.margin_band_K) else { continue };
        let around = &drawn[index.saturating_sub(1)..(index + 2).min(drawn.len())];
        let shaded = around.iter().any(|other| other.gear == point.gear && is_least(other));
        points.push((speed, shaded.then_some((band.p05, band.p95))));
    }
    RangeBand { curve: place, points }
}

/// A curve over the speeds of a sweep; broken where the gear changes, which is a jump and not a slope.
pub(super) fn curve(
    name: String,
    sweep: &Sweep,
    part: &str,
    value: &dyn Fn(&SweepPart) -> Option<f64>,
) -> Curve {
    let mut points = Vec::new();
    let mut gear = None;
    for point in &sweep.points {
        let x = point.speed_m_s * 3.6;
        if gear.is_some_and(|gear| gear != point.gear) {
            points.push((x, None));
        }
        gear = Some(point.gear);
        points.push((x, point.parts.get(part).and_then(value)));
    }
    Curve { name, points, emphasis: false }
}

/// A curve of some value for each part with a limit.
fn curves_of(sweep: &Sweep, value: &dyn Fn(&SweepPart) -> Option<f64>) -> Vec<Curve> {
    sweep.lowest.iter().map(|(name, _)| curve(name.to_string(), sweep, name, value)).collect()
}

fn kelvins(sweep: &Sweep) -> Vec<Curve> {
    curves_of(sweep, &|part| Some(part.temperature_margin_K))
}

/// The same part by part, each with its band, and air over need below.
pub fn margins_in_detail(report: &Report, sweep: &Sweep) -> LineChart {
    let kelvin = kelvins(sweep);
    let parts = kelvin.len();
    let percent = curves_of(sweep, &|part| part.flow_margin.map(|margin| 100.0 * margin));
    let mut kelvin_marks = Vec::new();
    let mut percent_marks = Vec::new();
    let banded = sweep.points.iter().any(|point| point.parts.iter().any(|(_, p)| p.margin_band_K.is_some()));
    for (name, low) in sweep.lowest.iter() {
        let x = low.speed_m_s * 3.6;
        kelvin_marks.push(lowest_mark(name, low));
        if let Some(margin) = low.flow_margin.filter(|margin| 100.0 * margin < MOST_DRAWN) {
            percent_marks.push(Marker {
                x,
                y: 100.0 * margin,
                label: format!("{name} hottest: {} % at {x:.0} km/h", words::signed(100.0 * margin)),
                kind: MarkerKind::Lowest,
            });
        }
    }
    let mut footnotes = vec![
        format!(
            "Steady state at each speed at {}, in the lowest gear that keeps the engine within its range; a curve is broken where gears change.",
            load_of(sweep)
        ),
        "A flow margin is broken where more of the air that comes is no use, or where none is needed."
            .to_string(),
    ];
    if banded {
        footnotes.push(
            "Shaded: where each margin lies 9 times in 10 with every guess drawn from its band; the curve is that of the values taken."
                .to_string(),
        );
    }
    let mut panels = match banded {
        true => one_each(report, sweep, kelvin),
        false => vec![Panel {
            y: Axis { label: "Below the limit by".into(), unit_note: "K".into(), range: None },
            curves: kelvin,
            limit: Some((0.0, "limit".into())),
            markers: kelvin_marks.into_iter().chain(conditions(report, None)).collect(),
            ..Panel::default()
        }],
    };
    panels.push(Panel {
        y: Axis { label: "Air over what is needed".into(), unit_note: "%".into(), range: None },
        curves: percent,
        limit: Some((0.0, "just enough".into())),
        markers: percent_marks,
        cap: Some(Cap { value: MOST_DRAWN, note: "more than twice".into() }),
        ..Panel::default()
    });
    let size = banded.then_some((WIDTH, FRAME + PANEL * (parts as f64 + 1.0)));
    whole(report, sweep, panels, size, footnotes)
}

/// The chart round its panels.
fn whole(
    report: &Report,
    sweep: &Sweep,
    panels: Vec<Panel>,
    size: Option<(f64, f64)>,
    mut footnotes: Vec<String>,
) -> LineChart {
    if !sweep.unsolved_m_s.is_empty() {
        footnotes.push(format!(
            "No steady state was found at {} speeds; they are left out.",
            sweep.unsolved_m_s.len()
        ));
    }
    footnotes.push(CAUTION.to_string());
    LineChart {
        title: format!(
            "Margin against road speed{}: {}",
            if report.sizes.is_some() { ", openings as sized" } else { "" },
            report.title.as_deref().unwrap_or("untitled case")
        ),
        subtitle: subtitle(report),
        x: Axis { label: "Road speed".into(), unit_note: "km/h".into(), range: None },
        x_marks: gear_changes(sweep),
        panels,
        size,
        footnotes,
        ..LineChart::default()
    }
}

/// The lowest point of a part.
fn lowest_mark(name: &str, low: &Lowest) -> Marker {
    let x = low.speed_m_s * 3.6;
    Marker {
        x,
        y: low.temperature_margin_K,
        label: format!(
            "{name} lowest: {} K at {x:.0} km/h in gear {}",
            words::signed(low.temperature_margin_K),
            low.gear
        ),
        kind: MarkerKind::Lowest,
    }
}

/// The conditions of the case by speed: of one part, or of the part that keeps least in each.
fn conditions(report: &Report, part: Option<&str>) -> Vec<Marker> {
    report.conditions.iter().filter_map(|condition| condition_mark(condition, part)).collect()
}

fn condition_mark(condition: &Condition, part: Option<&str>) -> Option<Marker> {
    let parts = condition.parts.iter().filter(|p| part.is_none_or(|name| p.name == name));
    let least = parts.min_by(|a, b| a.temperature_margin_K.total_cmp(&b.temperature_margin_K))?;
    let (margin, load) = (least.temperature_margin_K, 100.0 * condition.load);
    let name = part.map_or(format!("{} ", least.name), |_| String::new());
    Some(Marker {
        x: condition.speed_m_s * 3.6,
        y: margin,
        label: format!("{} ({load:.0} % load): {name}{} K", condition.name, words::signed(margin)),
        kind: MarkerKind::Condition,
    })
}

/// A panel of kelvins for each part, with its band: bands over one another could not be told apart.
fn one_each(report: &Report, sweep: &Sweep, curves: Vec<Curve>) -> Vec<Panel> {
    let panel = |(place, curve): (usize, Curve)| {
        let name = curve.name.clone();
        let mut points = Vec::new();
        let mut gear = None;
        for point in &sweep.points {
            let band = point.parts.get(&name).and_then(|part| part.margin_band_K);
            let speed = point.speed_m_s * 3.6;
            if gear.replace(point.gear).is_some_and(|before| before != point.gear) {
                points.push((speed, None));
            }
            points.extend(band.map(|band| (speed, Some((band.p05, band.p95)))));
        }
        // the curve keeps the colour and pattern that it has among the others
        let before = vec![Curve::default(); place];
        Panel {
            y: Axis {
                label: format!("{} below the limit by", sentence(&name)),
                unit_note: "K".into(),
                range: None,
            },
            curves: before.into_iter().chain([curve]).collect(),
            limit: Some((0.0, "limit".into())),
            markers: sweep
                .lowest
                .get(&name)
                .map(|low| lowest_mark(&name, low))
                .into_iter()
                .chain(conditions(report, Some(&name)))
                .collect(),
            spreads: vec![RangeBand { curve: place, points }],
            ..Panel::default()
        }
    };
    // a store of heat without a limit has no margin to draw
    let has_margin =
        |(_, curve): &(usize, Curve)| curve.points.iter().any(|(_, y)| y.is_some_and(f64::is_finite));
    curves.into_iter().enumerate().filter(has_margin).map(panel).collect()
}

/// A band for each thing that gives or takes pressure.
fn bands<Name: Copy + Ord + Into<&'static str>>(
    sweep: &Sweep,
    of: impl Fn(&SweepPoint) -> &BTreeMap<Name, f64>,
) -> Vec<ChartBand> {
    let mut names: Vec<Name> = Vec::new();
    for point in &sweep.points {
        names.extend(of(point).keys().filter(|name| !names.contains(*name)).copied().collect::<Vec<_>>());
    }
    let points = |name: &Name| {
        let of_point = |point: &SweepPoint| of(point).get(name).copied().unwrap_or(0.0);
        sweep.points.iter().map(|point| (point.speed_m_s * 3.6, Some(of_point(point)))).collect()
    };
    let band =
        |name: &Name| ChartBand { name: terms::of((*name).into()).replace('-', " "), points: points(name) };
    names.iter().map(band).collect()
}

/// What ram, suction and fan give and what each kind of element takes, against road speed.
pub fn pressures(report: &Report, sweep: &Sweep) -> BandChart {
    BandChart {
        title: format!("Pressure budget: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        x: Axis { label: "Road speed".into(), unit_note: "km/h".into(), range: None },
        y: Axis { label: "Total pressure".into(), unit_note: "Pa, mean of all cooling air".into(), range: None },
        gives: bands(sweep, |point| &point.gives_Pa),
        takes: bands(sweep, |point| &point.takes_Pa),
        gives_note: "what drives the air".into(),
        takes_note: "what takes the pressure".into(),
        footnotes: vec![
            "Each push and loss is weighted with the air it acts on, over all air that comes in; both halves are equal.".into(),
        ],
        size: None,
    }
}

/// The caution that goes with every margin.
pub const CAUTION: &str = "An estimate: it does not replace temperature gauges, the engine maker's limits, the sporting rules or a competent engineer's judgement.";

/// Whose chart it is: revision, date, author, case.
pub(super) fn subtitle(report: &Report) -> String {
    let mut words: Vec<String> = Vec::new();
    words.extend(report.revision.iter().map(|revision| format!("revision {revision}")));
    words.extend(report.date.clone());
    words.extend(report.author.clone());
    words.push(format!("case {}", report.case_sha256.get(..8).unwrap_or(&report.case_sha256)));
    if !report.set.is_empty() {
        let set: Vec<String> = report.set.iter().map(|s| format!("{} = {}", s.address, s.value)).collect();
        words.push(format!("with {}", set.join(", ")));
    }
    words.join(", ")
}

/// The speeds at which a gear begins.
pub(super) fn gear_changes(sweep: &Sweep) -> Vec<(f64, String)> {
    let mut marks = Vec::new();
    let mut gear = None;
    for point in &sweep.points {
        if gear != Some(point.gear) {
            marks.push((point.speed_m_s * 3.6, format!("gear {}", point.gear)));
            gear = Some(point.gear);
        }
    }
    marks
}
