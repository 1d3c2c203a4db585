//! The charts of the exits: inlets and margins against exit area and against pressure, and the map.

use super::charts::{Axis, Curve, Level, LineChart, MapChart, Marker, MarkerKind, Overlay, Panel};
use super::curves::{CAUTION, subtitle};
use super::text::{doubt, words};
use crate::case::tables::SWEEP_WORD;
use crate::point::result::ByName;
use crate::study::document::Report;
use crate::study::exits::result::{Exits, Hole, Map, PressureTrade};
use crate::study::size::result::{Sizes, SizesColumn};

/// Lowest margin drawn (K): what is hotter still is hopeless all the same.
const LOWEST_DRAWN: f64 = -100.0;
/// Lines of the map below and at the limit (K).
const BELOW: [f64; 5] = [-200.0, -100.0, -50.0, -20.0, -10.0];

fn title(report: &Report, what: &str) -> String {
    format!("{what}: {}", report.title.as_deref().unwrap_or("untitled case"))
}

fn axis(label: &str, unit: &str) -> Axis {
    Axis { label: label.into(), unit_note: unit.into(), range: None }
}

fn curve(name: &str, points: Vec<(f64, Option<f64>)>) -> Curve {
    Curve { name: name.into(), points, emphasis: false }
}

/// A panel of margins, cut off where they are hopeless.
fn margins(curves: Vec<Curve>, markers: Vec<Marker>) -> Panel {
    let values = curves.iter().flat_map(|c| &c.points).filter_map(|p| p.1);
    let (low, high) = values.fold((0.0_f64, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
    let range = (low < LOWEST_DRAWN).then_some((LOWEST_DRAWN, 1.05 * high.max(20.0)));
    Panel {
        y: Axis { label: "Below the limit by".into(), unit_note: "K, inlets as drawn".into(), range },
        curves,
        limit: Some((0.0, "limit".into())),
        markers,
        ..Panel::default()
    }
}

/// Said where no cut is worth making.
const DO_NOT_CUT: &str = "do not cut here";

/// Inlets needed and margins against exit area; where no inlets will do, and beyond the largest exits that will do, shaded. In `detail` the
/// bay's pressure and the drag as well.
pub fn against_area(report: &Report, exits: &Exits, detail: bool) -> LineChart {
    let cm2 = |area: f64| 1e4 * area;
    // each with its place among all parts
    let parts: Vec<(usize, &str)> = report.conditions.first().map_or(Vec::new(), |c| {
        let limited = c.parts.iter().enumerate().filter(|(_, part)| part.has_limit());
        limited.map(|(index, part)| (index, part.name.as_str())).collect()
    });
    let need = exits.points.iter().map(|p| (cm2(p.exit_area_m2), p.inlet_area_m2.map(cm2))).collect();
    let kelvin = |index: usize| {
        exits.course.iter().map(|s| (cm2(s.exit_area), s.kelvin.get(index).copied())).collect()
    };
    let mut need_marks = Vec::new();
    if let Some((knee, inlets)) = exits.knee_m2.zip(exits.inlet_area_at_knee_m2) {
        let inlets = cm2(inlets);
        need_marks.push(Marker {
            x: cm2(knee),
            y: inlets,
            label: format!("knee: {:.0} cm² of inlets with {:.0} of exits", inlets, cm2(knee)),
            kind: MarkerKind::Note,
        });
    }
    let drawn = &exits.as_drawn;
    let margin_marks = vec![Marker {
        x: cm2(drawn.exit_area_m2),
        y: drawn.least_temperature_margin_K.max(LOWEST_DRAWN),
        label: format!("as drawn: {} K", words::signed(drawn.least_temperature_margin_K)),
        kind: MarkerKind::Condition,
    }];
    let mut panels = vec![Panel {
        y: axis("Inlets then needed", "cm², re-sized to the margins asked for"),
        curves: vec![curve("inlets", need)],
        markers: need_marks,
        ..Panel::default()
    }];
    let margin_curves = parts.iter().map(|(index, name)| curve(name, kelvin(*index))).collect::<Vec<_>>();
    panels.push(margins(margin_curves, margin_marks));
    if detail {
        panels.extend(behind(exits));
    }
    let mut marks = vec![(cm2(drawn.exit_area_m2), "as drawn".to_string())];
    let names = [
        (exits.smallest_safe_m2, "smallest that will do"),
        (exits.knee_m2, "knee"),
        (exits.largest_safe_m2, "largest that will do"),
        (exits.pointless_m2, "nothing gained beyond"),
    ];
    marks.extend(names.into_iter().filter_map(|(area, name)| Some((cm2(area?), name.to_string()))));
    let count = panels.len() as f64;
    let range = ends(exits).map(|(low, high)| (cm2(low), cm2(high)));
    let mut x = axis("All exits that change, scaled together", "cm²");
    x.range = range;
    LineChart {
        title: title(report, "Behind the exit size"),
        subtitle: subtitle(report),
        x,
        x_marks: marks,
        shaded: range.map_or(Vec::new(), |range| not_to_be_cut(exits, range)),
        panels,
        footnotes: vec![
            format!(
                "Steady state in {}; for each part the least margin of these. Shaded: no inlets within their bounds reach the margins asked for.",
                words::list(&exits.conditions)
            ),
            CAUTION.to_string(),
        ],
        size: Some((900.0, 190.0 + if detail { 165.0 } else { 185.0 } * count)),
        ..LineChart::default()
    }
}

/// The exit areas between which the chart runs (m²): those looked at, within their bounds.
fn ends(exits: &Exits) -> Option<(f64, f64)> {
    let looked = || exits.points.iter().map(|p| p.exit_area_m2).chain([exits.as_drawn.exit_area_m2]);
    let (low, high) = looked().fold((f64::INFINITY, 0.0_f64), |(low, high), a| (low.min(a), high.max(a)));
    let drawn = exits.as_drawn.exit_area_m2;
    let low = exits.least_m2.map_or(low, |least| low.max(least.min(drawn)));
    let high = exits.most_m2.map_or(high, |most| high.min(most.max(drawn)));
    (high > low).then_some((low, high))
}

/// Stretches of exit area (cm²) within which no inlets reach the margins asked for.
fn not_to_be_cut(exits: &Exits, range: (f64, f64)) -> Vec<(f64, f64, String)> {
    if exits.smallest_safe_m2.is_none() {
        return vec![(range.0, range.1, DO_NOT_CUT.to_string())];
    }
    let below = exits.smallest_safe_m2.map(|safe| (range.0, 1e4 * safe));
    let above = exits.largest_safe_m2.map(|safe| (1e4 * safe, range.1));
    let stretch = |(from, to): (f64, f64)| (to > from).then(|| (from, to, DO_NOT_CUT.to_string()));
    [below, above].into_iter().flatten().filter_map(stretch).collect()
}

/// What lies behind the margins: the bay's pressure and the drag.
fn behind(exits: &Exits) -> Vec<Panel> {
    let cm2 = |area: f64| 1e4 * area;
    let pressure =
        |index: usize| exits.course.iter().map(|s| (cm2(s.exit_area), s.bay[index].map(|b| b.0))).collect();
    let of_bay = exits.bay.as_ref().map(|bay| Panel {
        y: axis(&format!("Pressure in {bay}"), "Pa, inlets as drawn"),
        curves: exits
            .conditions
            .iter()
            .enumerate()
            .filter(|(_, name)| *name != SWEEP_WORD)
            .map(|(i, name)| curve(name, pressure(i)))
            .collect(),
        ..Panel::default()
    });
    let drag = exits.course.iter().map(|s| (cm2(s.exit_area), Some(s.drag))).collect();
    let of_drag = Panel {
        y: axis(
            "Cooling drag",
            &format!("N in {}, air through the car only, inlets as drawn", exits.drag_at),
        ),
        curves: vec![curve("drag", drag)],
        ..Panel::default()
    };
    of_bay.into_iter().chain([of_drag]).collect()
}

/// The same against the pressure at one place.
pub fn against_pressure(report: &Report, exits: &Exits, place: &PressureTrade) -> LineChart {
    let points = &place.points;
    let of = |value: &dyn Fn(&crate::study::exits::result::PressurePoint) -> Option<f64>| {
        points.iter().map(|p| (p.pressure_coefficient, value(p))).collect::<Vec<_>>()
    };
    let mut marks = vec![(place.pressure_coefficient, "of the case".to_string())];
    if let Some(keep) = place.keep_at_or_below.filter(|keep| (keep - place.pressure_coefficient).abs() > 2e-3)
    {
        marks.push((keep, "keep at or below".to_string()));
    }
    let mut kelvin =
        margins(vec![curve("worst part", of(&|p| Some(p.least_temperature_margin_K)))], Vec::new());
    kelvin.y.unit_note = "K, openings unchanged".into();
    let mut panels = vec![
        Panel {
            y: axis("Inlets then needed", "cm², exits unchanged"),
            curves: vec![curve("inlets", of(&|p| p.inlet_area_m2.map(|area| 1e4 * area)))],
            ..Panel::default()
        },
        kelvin,
    ];
    if let Some(bay) = &exits.bay {
        panels.push(Panel {
            y: axis(&format!("Pressure in {bay}"), "Pa, in the worst condition"),
            curves: vec![curve(bay, of(&|p| p.bay_pressure_Pa))],
            ..Panel::default()
        });
    }
    let sizes = if place.sizes_as_drawn { "as drawn" } else { "of the knee" };
    LineChart {
        title: title(report, "The pressure where the exits lie"),
        subtitle: subtitle(report),
        x: axis(&format!("Pressure coefficient at {}", words::list(&place.exits)), "suction is negative"),
        x_marks: marks,
        panels,
        footnotes: vec![
            format!("With the openings {sizes}, {:.0} cm² of exits in all.", 1e4 * place.exit_area_m2),
            format!("{}.", place.sentence),
            CAUTION.to_string(),
        ],
        size: Some((900.0, 640.0)),
        ..LineChart::default()
    }
}

/// A set of sizes as it stands on the map: all exits and all inlets that change, together (m²).
fn on_map(exits: &Exits, areas: &ByName<f64>) -> Option<(f64, f64)> {
    let total = |holes: &[Hole]| -> Option<f64> {
        holes.iter().map(|hole| Some(areas.get(&hole.name)? * hole.count as f64)).sum()
    };
    Some((total(&exits.exits)?, total(&exits.inlets)?))
}

/// The sizes that are marked on the map besides those drawn: of the knee, or as `size` finds them, what to cut first and what
/// holds.
fn marked(exits: &Exits, sizes: Option<&Sizes>) -> Vec<(String, (f64, f64))> {
    let mut list = Vec::new();
    let Some(sizes) = sizes else {
        let knee = exits.knee_m2.zip(exits.inlet_area_at_knee_m2);
        return knee.map(|at| ("as sized (the knee)".to_string(), at)).into_iter().collect();
    };
    list.extend(on_map(exits, &sizes.areas_m2).map(|at| ("as sized".to_string(), at)));
    for column in sizes.columns.iter().filter(|column| column.column != SizesColumn::ValuesTaken) {
        let name = match column.column {
            SizesColumn::CutFirst => "cut first: hardly a car needs less".to_string(),
            _ => format!("holds {}", doubt::how_often(column.all_hold)),
        };
        list.extend(on_map(exits, &column.areas_m2).map(|at| (name, at)));
    }
    list
}

/// Whether any opening has another share of all inlets or all exits, as sized, than the one drawn.
fn shared_otherwise(exits: &Exits, sizes: &Sizes) -> bool {
    let differs = |holes: &[Hole]| {
        let grown = holes.iter().filter_map(|hole| Some(sizes.areas_m2.get(&hole.name)? / hole.area_m2));
        let (least, most) = grown.fold((f64::INFINITY, 0.0), |(l, m): (f64, f64), by| (l.min(by), m.max(by)));
        most > 1.02 * least
    };
    differs(&exits.exits) || differs(&exits.inlets)
}

/// Margin over inlet and exit area; `sizes` where they are known.
pub fn map(report: &Report, exits: &Exits, map: &Map, sizes: Option<&Sizes>) -> MapChart {
    let cm2 = |areas: &[f64]| areas.iter().map(|area| 1e4 * area).collect::<Vec<_>>();
    let values = &map.least_temperature_margin_K;
    let all = values.iter().flatten().flatten();
    let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(*v), h.max(*v)));
    let step = [2.0, 5.0, 10.0, 20.0, 50.0].into_iter().find(|s| high / s <= 7.0).unwrap_or(100.0);
    let above = (1..8).map(|i| f64::from(i) * step);
    let wanted = BELOW.into_iter().chain(std::iter::once(0.0)).chain(above);
    let levels = wanted.filter(|value| *value > low && *value < high).map(|value| Level {
        value,
        label: match value {
            0.0 => "at the limit".to_string(),
            _ => format!("{} K", words::whole(value)),
        },
        emphasis: value == 0.0,
    });
    let asked = Overlay {
        values: map.left.clone(),
        level: Level { value: 0.0, label: "margins asked for".into(), emphasis: true },
    };
    let drawn = &exits.as_drawn;
    let label = format!(
        "as drawn: {:.0} cm² in, {:.0} cm² out, {} K",
        1e4 * map.as_drawn_m2.0,
        1e4 * map.as_drawn_m2.1,
        words::signed(drawn.least_temperature_margin_K)
    );
    let mut markers = vec![Marker {
        x: 1e4 * map.as_drawn_m2.1,
        y: 1e4 * map.as_drawn_m2.0,
        label,
        kind: MarkerKind::Condition,
    }];
    markers.extend(marked(exits, sizes).into_iter().map(|(name, (out, into))| Marker {
        x: 1e4 * out,
        y: 1e4 * into,
        label: format!("{name}: {:.0} cm² in, {:.0} cm² out", 1e4 * into, 1e4 * out),
        kind: MarkerKind::Note,
    }));
    let inlets: Vec<&str> = exits.inlets.iter().map(|hole| hole.name.as_str()).collect();
    let outlets: Vec<&str> = exits.exits.iter().map(|hole| hole.name.as_str()).collect();
    let mut footnotes = vec![format!(
        "Lines of equal margin: how far the worst part stays below its limit, in the worst of {}. Lighter is better. Each opening keeps its share of the whole.",
        words::list(&exits.conditions)
    )];
    if sizes.is_some_and(|sizes| shared_otherwise(exits, sizes)) {
        footnotes.push(
            "As sized, what to cut first and what holds share their areas otherwise than drawn: the margin beneath these dots is not theirs."
                .into(),
        );
    }
    if exits.inlets_from_size && !map.left.iter().flatten().flatten().any(|left| *left >= 0.0) {
        footnotes.push(
            "The margins asked for are reached nowhere on this map, on which each opening keeps its share; other shares were not tried for it."
                .into(),
        );
    }
    footnotes.push(CAUTION.to_string());
    MapChart {
        title: title(report, "Margin over inlets and exits"),
        subtitle: subtitle(report),
        what: "Least distance of any part to its limit (K)".into(),
        x: axis(&format!("Exits: {}", words::list(&outlets)), "cm², scaled together"),
        y: axis(&format!("Inlets: {}", words::list(&inlets)), "cm², scaled together"),
        xs: cm2(&map.exit_area_m2),
        ys: cm2(&map.inlet_area_m2),
        values: values.clone(),
        levels: levels.collect(),
        overlays: if exits.inlets_from_size { vec![asked] } else { Vec::new() },
        markers,
        footnotes,
        size: None,
    }
}
