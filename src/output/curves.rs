//! The charts of a sweep: margin against speed, and the pressure budget.

use super::charts::{Axis, Band, BandChart, Cap, Curve, LineChart, Marker, MarkerKind, Panel};
use crate::study::result::{Report, Sweep, SweepPart, SweepPoint};
use std::collections::BTreeMap;

/// Highest flow margin drawn, in %: beyond it a part has more than twice the air it needs.
const MOST_DRAWN: f64 = 100.0;

/// Margin against road speed: kelvin above, air below.
pub fn margins(report: &Report, sweep: &Sweep) -> LineChart {
    let speed = |point: &SweepPoint| point.speed_m_s * 3.6;
    let names: Vec<&str> = sweep.lowest.iter().map(|(name, _)| name).collect();
    let curve = |name: &str, value: &dyn Fn(&SweepPart) -> Option<f64>| Curve {
        name: name.to_string(),
        points: sweep
            .points
            .iter()
            .enumerate()
            .flat_map(|(index, point)| {
                let here = (speed(point), point.parts.get(name).and_then(value));
                // a change of gear is a jump, not a slope
                let shifted = index > 0 && sweep.points[index - 1].gear != point.gear;
                let gap = shifted.then(|| (speed(point), None));
                gap.into_iter().chain(std::iter::once(here))
            })
            .collect(),
        emphasis: false,
    };
    let kelvin = names.iter().map(|name| curve(name, &|part| Some(part.temperature_margin_K))).collect();
    let percent = names.iter().map(|name| curve(name, &|part| part.flow_margin.map(|m| 100.0 * m))).collect();
    let mut kelvin_marks = Vec::new();
    let mut percent_marks = Vec::new();
    for (name, low) in sweep.lowest.iter() {
        let x = low.speed_m_s * 3.6;
        kelvin_marks.push(Marker {
            x,
            y: low.temperature_margin_K,
            label: format!(
                "{name} lowest: {:+.0} K at {x:.0} km/h in gear {}",
                low.temperature_margin_K, low.gear
            ),
            kind: MarkerKind::Lowest,
        });
        if let Some(margin) = low.flow_margin.filter(|margin| 100.0 * margin < MOST_DRAWN) {
            percent_marks.push(Marker {
                x,
                y: 100.0 * margin,
                label: format!("{name} lowest: {:+.0} % at {x:.0} km/h", 100.0 * margin),
                kind: MarkerKind::Lowest,
            });
        }
    }
    for condition in &report.conditions {
        let least = condition
            .parts
            .iter()
            .min_by(|a, b| a.temperature_margin_K.total_cmp(&b.temperature_margin_K))
            .map(|part| (part.name.as_str(), part.temperature_margin_K));
        if let Some((name, margin)) = least {
            kelvin_marks.push(Marker {
                x: condition.speed_m_s * 3.6,
                y: margin,
                label: format!(
                    "{} ({:.0} % load): {name} {margin:+.0} K",
                    condition.name,
                    100.0 * condition.load
                ),
                kind: MarkerKind::Condition,
            });
        }
    }
    let mut footnotes = vec![
        format!(
            "Steady state at each speed at {}, in the lowest gear that keeps the engine within its range; a curve is broken where gears change.",
            if sweep.load >= 1.0 {
                "full load".to_string()
            } else {
                format!("{:.0} % load", 100.0 * sweep.load)
            }
        ),
        "A flow margin is broken where no amount of air would do, or where none is needed.".to_string(),
    ];
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
        panels: vec![
            Panel {
                y: Axis { label: "Below the limit by".into(), unit_note: "K".into(), range: None },
                curves: kelvin,
                limit: Some((0.0, "limit".into())),
                markers: kelvin_marks,
                ..Panel::default()
            },
            Panel {
                y: Axis { label: "Air over what is needed".into(), unit_note: "%".into(), range: None },
                curves: percent,
                limit: Some((0.0, "just enough".into())),
                markers: percent_marks,
                cap: Some(Cap { value: MOST_DRAWN, note: "more than twice".into() }),
                ..Panel::default()
            },
        ],
        footnotes,
        size: None,
    }
}

/// What ram, suction and fan give and what each kind of element takes, against road speed.
pub fn pressures(report: &Report, sweep: &Sweep) -> BandChart {
    let bands = |of: &dyn Fn(&SweepPoint) -> &BTreeMap<&'static str, f64>| -> Vec<Band> {
        let mut names: Vec<&str> = Vec::new();
        for point in &sweep.points {
            names.extend(of(point).keys().filter(|name| !names.contains(*name)).copied().collect::<Vec<_>>());
        }
        names
            .iter()
            .map(|name| Band {
                name: name.to_string(),
                points: sweep
                    .points
                    .iter()
                    .map(|point| (point.speed_m_s * 3.6, Some(of(point).get(name).copied().unwrap_or(0.0))))
                    .collect(),
            })
            .collect()
    };
    BandChart {
        title: format!("Pressure budget: {}", report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        x: Axis { label: "Road speed".into(), unit_note: "km/h".into(), range: None },
        y: Axis { label: "Total pressure".into(), unit_note: "Pa, mean of all cooling air".into(), range: None },
        gives: bands(&|point| &point.gives_Pa),
        takes: bands(&|point| &point.takes_Pa),
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
