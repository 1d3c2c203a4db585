//! The chart of a run in time: temperatures above, road speed below.

use super::charts::{Axis, BadSide, Curve, LineChart, Marker, MarkerKind, Panel};
use super::curves::{CAUTION, subtitle};
use super::text::words::{self, sentence};
use crate::study::document::Report;
use crate::study::lap::result::Stint;

/// Points of the picture's width for each column into which a long course is gathered.
const COLUMN: f64 = 2.0;
/// Width of the picture where none is asked for (points).
const WIDTH: f64 = 900.0;

/// Temperatures of parts and chambers over time, their limits, the hottest moment; the speed under it.
pub fn temperatures(report: &Report, stint: &Stint, width: Option<f64>) -> LineChart {
    let width = width.unwrap_or(WIDTH);
    let columns = (width / COLUMN) as usize;
    let curve = |name: &str, values: &[f32]| Curve {
        name: name.to_string(),
        points: gathered(&stint.course.time, values, columns),
        emphasis: false,
    };
    // what was measured lies over what was found
    let measured = |name: &str| {
        let of = stint.measured.iter().filter(move |measured| measured.of == name);
        of.map(|measured| Curve {
            name: "measured".to_string(),
            points: gathered(&measured.time, &measured.celsius, columns),
            emphasis: false,
        })
        .collect::<Vec<_>>()
    };
    let mut panels = Vec::new();
    // a panel for each part that is near its own limit tells more than one with all limits in it
    for (index, (name, over)) in stint.parts.iter().enumerate() {
        let Some(values) = stint.course.parts.get(index) else { continue };
        let margin = over.temperature_margin_K;
        let (hottest, by) = (words::celsius(over.peak_C), words::whole(margin.abs()));
        let label = match margin {
            f64::INFINITY => format!("hottest {hottest}"),
            under if under >= 0.0 => format!("hottest {hottest}, {by} K under"),
            _ => format!("hottest {hottest}, {by} K over"),
        };
        let hottest = Marker { x: over.peak_at_s, y: over.peak_C, label, kind: MarkerKind::Note };
        let passed = passed(stint, values, over.limit_C);
        panels.push(Panel {
            y: Axis { label: sentence(name), unit_note: "°C".into(), range: None },
            curves: std::iter::once(curve(name, values)).chain(measured(name)).collect(),
            limit: over.limit_C.is_finite().then(|| (over.limit_C, "limit".into())),
            bad_side: BadSide::Above,
            markers: passed.into_iter().chain([hottest]).collect(),
            ..Panel::default()
        });
    }
    if !stint.chambers.0.is_empty() {
        let limits: Vec<(f64, String)> = stint
            .chambers
            .iter()
            .filter_map(|(name, over)| {
                over.limit_C.map(|limit| {
                    (limit, over.limit_for.clone().unwrap_or_else(|| format!("limit of {name}")))
                })
            })
            .collect();
        panels.push(Panel {
            y: Axis { label: "Air".into(), unit_note: "°C".into(), range: None },
            curves: stint
                .chambers
                .iter()
                .zip(&stint.course.chambers)
                .flat_map(|((name, _), values)| std::iter::once(curve(name, values)).chain(measured(name)))
                .collect(),
            limit: limits.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)),
            bad_side: BadSide::Above,
            ..Panel::default()
        });
    }
    let kmh: Vec<f32> = stint.course.speed.iter().map(|speed| speed * 3.6).collect();
    panels.push(Panel {
        y: Axis { label: "Road speed".into(), unit_note: "km/h".into(), range: None },
        curves: vec![curve("speed", &kmh)],
        ..Panel::default()
    });
    LineChart {
        title: format!("{} in time: {}", sentence(&stint.name), report.title.as_deref().unwrap_or("untitled case")),
        subtitle: subtitle(report),
        x: Axis { label: "Time".into(), unit_note: "min:s".into(), range: None },
        x_marks: marks(stint),
        clock: true,
        size: Some((width, 150.0 + 120.0 * panels.len() as f64)),
        panels,
        footnotes: vec![
            "Parts by their heat capacities, the air quasi-steady through the whole network at every moment; limits are those for the mean.".to_string(),
            CAUTION.to_string(),
        ],
        ..LineChart::default()
    }
}

/// Where a part first passes its limit: the moment, the lap or the condition.
fn passed(stint: &Stint, values: &[f32], limit: f64) -> Option<Marker> {
    let time = &stint.course.time;
    let first = values.iter().position(|celsius| f64::from(*celsius) > limit)?;
    let (at, here) = (*time.get(first)?, f64::from(values[first]));
    // between two points of the course the temperature runs straight
    let at = match first.checked_sub(1) {
        Some(before) => {
            let (from, below) = (time[before], f64::from(values[before]));
            from + (at - from) * (limit - below) / (here - below)
        }
        None => at,
    };
    let step = stint.steps.iter().find(|step| at <= step.until_s).or(stint.steps.last())?;
    let laps = stint.steps.iter().any(|step| step.lap > 1);
    let place = match &step.condition {
        _ if laps => format!(", lap {}", step.lap),
        Some(condition) => format!(", {}", words::name(condition)),
        None => String::new(),
    };
    Some(Marker { x: at, y: limit, label: format!("limit passed{place}"), kind: MarkerKind::Condition })
}

/// Where steps begin, named by their conditions as long as they are few; where laps begin, if there are not
/// many.
fn marks(stint: &Stint) -> Vec<(f64, String)> {
    let begins = std::iter::once(0.0).chain(stint.steps.iter().map(|step| step.until_s));
    let few = stint.steps.len() <= 12;
    let steps = stint.steps.iter().zip(begins);
    steps
        .filter_map(|(step, at)| match (&step.condition, few) {
            (Some(condition), true) => Some((at, condition.clone())),
            (None, true) if stint.steps.len() > 1 => Some((at, format!("lap {}", step.lap))),
            _ => None,
        })
        .collect()
}

/// A course as points: all of them where they are few, else the least and the highest of each column of
/// the picture, so that no peak is lost.
fn gathered(time: &[f64], values: &[f32], columns: usize) -> Vec<(f64, Option<f64>)> {
    let point = |i: usize| (time[i], Some(f64::from(values[i])));
    let count = time.len().min(values.len());
    if count <= 4 * columns {
        return (0..count).map(point).collect();
    }
    let (first, last) = (time[0], time[count - 1]);
    let column = |i: usize| ((time[i] - first) / (last - first) * columns as f64) as usize;
    let mut points = Vec::new();
    let mut begin = 0;
    while begin < count {
        let here = column(begin);
        let (mut end, mut low, mut high) = (begin, begin, begin);
        while end < count && column(end) == here {
            if values[end] < values[low] {
                low = end;
            }
            if values[end] > values[high] {
                high = end;
            }
            end += 1;
        }
        let mut kept = [begin, low, high, end - 1];
        kept.sort_unstable();
        let mut before = None;
        for i in kept {
            if before != Some(i) {
                points.push(point(i));
                before = Some(i);
            }
        }
        begin = end;
    }
    points
}

#[cfg(test)]
mod tests {
    use super::gathered;

    #[test]
    fn a_long_course_keeps_its_peaks() {
        let time: Vec<f64> = (0..100_000).map(f64::from).collect();
        let mut values = vec![20.0_f32; 100_000];
        values[54_321] = 90.0;
        values[77_777] = -3.0;
        let points = gathered(&time, &values, 1200);
        assert!(points.len() < 6000);
        assert!(points.contains(&(54_321.0, Some(90.0))) && points.contains(&(77_777.0, Some(-3.0))));
        assert!(points.windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert_eq!((points[0].0, points[points.len() - 1].0), (0.0, 99_999.0));
    }
}
