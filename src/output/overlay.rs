//! The charts of a comparison: layouts laid over one another, against road speed.

use super::charts::{Axis, BarCell, Cap, CellChart, CellRow, LineChart, Marker, MarkerKind, Panel};
use super::curves::{CAUTION, curve, gear_changes, subtitle};
use super::text::words::{self, load_of};
use crate::study::compare::result::{Comparison, LayoutResult};
use crate::study::document::Report;
use crate::study::sweep::result::Sweep;

/// Highest flow margin drawn, in %: beyond it a part has more than twice the air it needs.
const MOST_DRAWN: f64 = 100.0;

/// Bars are drawn from so many kelvins over the limit to so many below it.
const DRAWN_K: (f64, f64) = (-60.0, 60.0);

/// The least margin of every layout in every condition, as bars.
pub fn bars(report: &Report, comparison: &Comparison) -> CellChart {
    let first = comparison.compare.iter().find_map(|compared| compared.answer.as_ref());
    let columns: Vec<(String, String)> = first.map_or(Vec::new(), |answer| {
        let told = |at: &crate::study::compare::result::LayoutInCondition| {
            let how = if at.speed_m_s > 0.1 { words::speed(at.speed_m_s) } else { "standing".to_string() };
            let counts = if at.counts { "" } else { ", does not count" };
            (at.name.clone(), format!("{how}{counts}"))
        };
        answer.conditions.iter().map(told).collect()
    });
    let rows = comparison.compare.iter().map(|compared| {
        let cells = columns.iter().map(|(name, _)| {
            let at = compared.answer.as_ref()?.conditions.iter().find(|at| at.name == *name)?;
            let parts = at.parts.iter().filter(|part| part.has_limit());
            let least = parts.min_by(|a, b| a.temperature_margin_K.total_cmp(&b.temperature_margin_K))?;
            let value = least.temperature_margin_K;
            let label = if value < -0.5 {
                format!("{} over {}", least.name, words::whole(-value))
            } else {
                format!("{} {}", least.name, words::signed(value.max(0.0)))
            };
            Some(BarCell { value, label, emphasis: value < -0.5 })
        });
        CellRow { name: compared.layout.clone(), cells: cells.collect() }
    });
    let rows: Vec<CellRow> = rows.collect();
    let values = || rows.iter().flat_map(|row| &row.cells).flatten().map(|cell| cell.value);
    let (low, high) = values().fold((0.0, 20.0_f64), |(low, high): (f64, f64), v| (low.min(v), high.max(v)));
    let sized = if comparison.sized { ", each with its openings as sized" } else { "" };
    CellChart {
        title: format!("Layouts compared{sized}: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        what: "Least margin of any part in each condition, K: right of the line below its limit, left of it over".into(),
        columns,
        rows,
        range: (low.max(DRAWN_K.0), high.min(DRAWN_K.1)),
        footnotes: vec![
            format!("All bars to one scale; one that ends in a point goes on beyond {} K.", words::whole(DRAWN_K.1)),
            CAUTION.to_string(),
        ],
        width: None,
    }
}

/// Each layout with its answer and its sweep.
fn swept(comparison: &Comparison) -> Vec<(&str, &LayoutResult, &Sweep)> {
    let answers = comparison.compare.iter().filter_map(|compared| {
        let answer = compared.answer.as_ref()?;
        Some((compared.layout.as_str(), answer, answer.sweep.as_ref()?))
    });
    answers.collect()
}

fn lowest_mark(layout: &str, sweep: &Sweep, part: &str) -> Option<Marker> {
    let low = sweep.lowest.get(part)?;
    let (x, y) = (low.speed_m_s * 3.6, low.temperature_margin_K);
    let kelvins = words::signed(y);
    Some(Marker {
        x,
        y,
        label: format!("{layout}: {part} {kelvins} K at {x:.0} km/h in gear {}", low.gear),
        kind: MarkerKind::Lowest,
    })
}

/// The part of a sweep with the fewest kelvins left.
fn worst_part(sweep: &Sweep) -> Option<&str> {
    let least =
        sweep.lowest.iter().min_by(|a, b| a.1.temperature_margin_K.total_cmp(&b.1.temperature_margin_K));
    least.map(|(name, _)| name)
}

fn chart(report: &Report, comparison: &Comparison, what: &str, panels: Vec<Panel>) -> LineChart {
    let sized = if comparison.sized { ", each with its openings as sized" } else { "" };
    let load =
        swept(comparison).first().map_or(String::new(), |(_, _, sweep)| format!(" at {}", load_of(sweep)));
    let mut footnotes = vec![format!(
        "Steady state at each speed{load}, in the lowest gear that keeps the engine within its range; a curve is broken where gears change."
    )];
    let missing: Vec<&str> = (comparison.compare.iter())
        .filter(|c| c.answer.as_ref().is_none_or(|answer| answer.sweep.is_none()))
        .map(|c| c.layout.as_str())
        .collect();
    if !missing.is_empty() {
        footnotes.push(format!("Not drawn, since it could not be solved: {}.", missing.join(", ")));
    }
    footnotes.push(CAUTION.to_string());
    // where all change gear alike, the gears are named
    let mut gears = swept(comparison).into_iter().map(|(_, _, sweep)| gear_changes(sweep));
    let first = gears.next().unwrap_or_default();
    let marks = if gears.all(|other| other == first) { first } else { Vec::new() };
    LineChart {
        title: format!("{what}{sized}: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        x: Axis { label: "Road speed".into(), unit_note: "km/h".into(), range: None },
        x_marks: marks,
        panels,
        footnotes,
        ..LineChart::default()
    }
}

fn kelvins(label: String) -> Panel {
    Panel {
        y: Axis { label, unit_note: "K".into(), range: None },
        limit: Some((0.0, "limit".into())),
        ..Panel::default()
    }
}

/// The worst part of each layout: kelvins above, air below.
pub fn worst(report: &Report, comparison: &Comparison) -> LineChart {
    let mut kelvin = kelvins("Below the limit by, the worst part of each layout".into());
    let mut air = Panel {
        y: Axis { label: "Air over what is needed".into(), unit_note: "%".into(), range: None },
        limit: Some((0.0, "just enough".into())),
        cap: Some(Cap { value: MOST_DRAWN, note: "more than twice".into() }),
        ..Panel::default()
    };
    for (layout, _, sweep) in swept(comparison) {
        let Some(part) = worst_part(sweep) else { continue };
        let name = format!("{layout}: {part}");
        kelvin.curves.push(curve(name.clone(), sweep, part, &|at| Some(at.temperature_margin_K)));
        kelvin.markers.extend(lowest_mark(layout, sweep, part));
        air.curves.push(curve(name, sweep, part, &|at| at.flow_margin.map(|margin| 100.0 * margin)));
    }
    chart(report, comparison, "Layouts compared, the worst part of each", vec![kelvin, air])
}

/// Every part, one panel each, all layouts in it.
pub fn parts(report: &Report, comparison: &Comparison) -> LineChart {
    let mut names: Vec<&str> = Vec::new();
    for (_, _, sweep) in swept(comparison) {
        names.extend(
            sweep.lowest.iter().map(|(name, _)| name).filter(|n| !names.contains(n)).collect::<Vec<_>>(),
        );
    }
    let panel = |part: &&str| {
        let mut panel = kelvins(format!("{} below the limit by", super::text::words::sentence(part)));
        for (layout, _, sweep) in swept(comparison) {
            panel.curves.push(curve(layout.to_string(), sweep, part, &|at| Some(at.temperature_margin_K)));
        }
        panel
    };
    chart(report, comparison, "Layouts compared, part by part", names.iter().map(panel).collect())
}
